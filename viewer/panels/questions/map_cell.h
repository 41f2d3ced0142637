// A place of the map of the stick envelope: what comes nearest to its limit there, and how it is shown.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>

#include "kinematics/studies/envelope/envelope.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"

namespace swashwright::panels {

/// Which collective and which way out of the cyclic stick, of the envelope's lists.
struct MapCell {
    std::size_t collective = 0, cyclic = 0;

    bool operator==(const MapCell&) const = default;
};

struct MapMark {
    MapCell at;                     // where the arrow keys stand
    std::optional<MapCell> chosen;  // pressed: told below the map
};

/// The nearest to these sticks; cells that the transmitter does not let through are given too.
MapCell cell_at(const studies::Envelope& envelope, double collective, double cyclic);
/// In two sentences: what comes nearest to its limit, by how much, and where the sticks and the rotor then stand.
std::string cell_words(const studies::Envelope& envelope, const MapCell& cell, bool inches);
/// Whether there is a place to stand at.
bool can_stand(const studies::Envelope& envelope, const MapCell& cell);
/// Lights the parts of that check and sends the camera to them; sticks and rotor stay.
void show_cell(Selection& selection, const studies::Envelope& envelope, const MapCell& cell);
/// What a chosen row of the table of checks does not say of its place: which end of the part, and where hands stand.
void complete_row(Selection& selection, const studies::Envelope& envelope);
/// Sticks, rotor and hands go where that check stands worst.
void stand_in_cell(Bench& bench, const studies::Envelope& envelope, const MapCell& cell);

}  // namespace swashwright::panels
