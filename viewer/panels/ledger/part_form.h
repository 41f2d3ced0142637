// What the ledger has no room for: every other number, name and choice of a part, unfolded below its section.
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/change_count.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/ledger/ledger_rows.h"
#include "viewer/panels/ledger/part_fields.h"

namespace swashwright::panels {

/// Which parts a head has: with another of these, the ledger's rows are others.
struct PartCounts {
    std::vector<int> counts;         // of each kind of part, of the balls on each, and how pivots are written
    std::vector<std::string> names;  // in the rows

    bool operator==(const PartCounts&) const = default;
};
PartCounts counts_of(const head::Description& description);

/// What the ledger keeps for itself.
struct Ledger {
    std::vector<Section> sections;
    PartCounts counts;            // of the head that the rows were made for
    bool as_opened_fits = false;  // the head as it was opened has the same rows
    bool focus = false;           // the keyboard goes to the first number in sight
};

/// Where a field is drawn: the part that it tells of and the name that tests and refusals know it by.
struct Spot {
    draw::Part part;
    std::string name;
};
/// `heads`: what each of several numbers is stands over them; not where the field above has said it.
void draw_field(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field,
                bool heads = true);
bool alike(const Field& above, const Field& field);
/// Another count of parts, as one step of undo; what was assumed is told. `builds`: see `Field::builds`. True if it was
/// made.
bool change_count(Screen& screen, Bench& bench, View& view, const std::string& name, const head::Change& change,
                  bool builds = false);
/// "lever 2": how the fields of a part are called where the part's own name may be typed over.
std::string stem_of(const head::Description& description, const draw::Part& part);

/// The fold below a section and, where it is open, the form of the part that is chosen in it.
void draw_more(Screen& screen, Bench& bench, View& view, Selection& selection, Section& section);
/// Why the last value was refused, if it was one of a field whose name begins so.
void draw_refusal(Screen& screen, const Bench& bench, const std::string& name_begins);

}  // namespace swashwright::panels
