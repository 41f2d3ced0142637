// What the ledger has no room for: every other number, name and choice of a part, unfolded below its section.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "viewer/panels/ledger/ledger_rows.h"

namespace swashwright::panels {

struct State;

/// Which parts a head has: with another of these, the ledger's rows are others.
struct PartCounts {
    int blades = 0;
    std::size_t driver_pins = 0;
    std::vector<std::string> servos;  // names, and how their pivots are written

    bool operator==(const PartCounts&) const = default;
};
PartCounts counts_of(const head::Description& description);

struct PartForm {
    std::string refused;           // the field whose last value was refused; empty: none
    std::string why;               // what the scene rules say of it
    std::uint64_t refused_at = 0;  // the document's revision: with another, the refusal is over
    std::string assumed;           // of the blade or arm that was added or taken away last
    PartCounts counts;             // of the head that the ledger's rows were made for
    bool as_opened_fits = false;   // the head as it was opened has the same rows
};

/// The fold below a section and, where it is open, the form of the part that is chosen in it.
void draw_more(State& state, Section& section);
/// Why the last value was refused, if it was one of a field whose name begins so.
void draw_refusal(State& state, const std::string& name_begins);

}  // namespace swashwright::panels
