// What the ledger has no room for: every other number, name and choice of a part, unfolded below its section.
#pragma once

#include <string>
#include <vector>

#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/ledger/ledger_rows.h"

namespace swashwright::panels {

/// Which parts a head has: with another of these, the ledger's rows are others.
struct PartCounts {
    int blades = 0;
    std::size_t driver_pins = 0;
    std::vector<std::string> servos;  // names, and how their pivots are written

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

/// The fold below a section and, where it is open, the form of the part that is chosen in it.
void draw_more(Screen& screen, Bench& bench, View& view, Selection& selection, Section& section);
/// Why the last value was refused, if it was one of a field whose name begins so.
void draw_refusal(Screen& screen, const Bench& bench, const std::string& name_begins);

}  // namespace swashwright::panels
