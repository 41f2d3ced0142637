// What can be wrong with a head: each fault by name, as a change of its description and as exact rates.
#pragma once

#include <span>
#include <string>
#include <utility>
#include <vector>

#include "kinematics/head/numbers.h"

namespace swashwright::studies {

enum class FaultKind {
    lower_link,
    upper_link,
    other_link,  // longer than it was set, mm
    swapped_lower,
    swapped_upper,  // two links in each other's place
    horn_tooth,     // the horn some teeth round on the servo's spline
    trim,           // the servo's trim, deg in the horn angle's own sense
    guide_turn,
    driver_turn,   // a guide that is turned, a driver collar that has slipped, deg
    bent_spindle,  // the pitch-arm ball higher than drawn, mm
    arm_lead,
    arm_along,     // the pitch-arm ball farther ahead, or farther out, mm
    arm_turn,      // the pitch-arm ball turned about the feathering axis, leading edge up, deg
    blade_offset,  // the blade sits at another pitch on its grip, deg
};

inline constexpr FaultKind all_fault_kinds[] = {
    FaultKind::lower_link,    FaultKind::upper_link,   FaultKind::other_link, FaultKind::swapped_lower,
    FaultKind::swapped_upper, FaultKind::horn_tooth,   FaultKind::trim,       FaultKind::guide_turn,
    FaultKind::driver_turn,   FaultKind::bent_spindle, FaultKind::arm_lead,   FaultKind::arm_along,
    FaultKind::arm_turn,      FaultKind::blade_offset};

struct Fault {
    FaultKind kind = FaultKind::lower_link;
    int index = 0;      // of the link, servo or blade, from 0
    int other = -1;     // the link it is swapped with
    int teeth = 0;      // by which the horn is off, in the horn angle's own sense
    std::string part;   // scene path: "upper_link[2]"
    std::string words;  // as a builder says it: "upper link 2"
    std::string unit;   // of its size: "mm" or "deg"; empty where it has none

    /// Has a size to be found. The others either are or are not.
    bool sized() const { return !unit.empty(); }
    /// One standard deviation of the size before anything is read. Broad guesses; common practice, no source.
    double usual_size() const;
};

/// Every fault of these kinds that changes this head: links alike are not swapped, a horn is off by at most `teeth`.
std::vector<Fault> faults(const head::Description& description, std::span<const FaultKind> kinds = all_fault_kinds,
                          int teeth = 2);

/// Puts a fault of the given size into a head; the size does not matter where the fault has none. The transmitter knows
/// nothing of it: give a description that is `head::mixer_kept`.
void apply(const Fault& fault, double size, head::Description& description);

/// The numbers of the head that move with the fault's size, and how fast. Empty where it has none.
/// `all`: the description's `head::numbers`.
std::vector<std::pair<head::Number, double>> rates(const Fault& fault, const head::Description& description,
                                                   const std::vector<head::Number>& all);

}  // namespace swashwright::studies
