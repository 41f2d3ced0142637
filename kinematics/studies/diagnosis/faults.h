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
    swapped_upper,   // two links in each other's place
    horn_tooth,      // the horn some teeth round on the servo's spline
    trim,            // the servo's trim, deg in the horn angle's own sense
    servo_reversed,  // the servo runs the wrong way
    mixer_sign,      // a stick's share of the mix has the wrong sign
    end_point,       // one end of a servo's travel, % more than the mix tells it
    guide_turn,
    driver_turn,   // a guide that is turned, a driver collar that has slipped, deg
    bent_spindle,  // the pitch-arm ball higher than drawn, mm
    arm_lead,
    arm_along,      // the pitch-arm ball farther ahead, or farther out, mm
    arm_turn,       // the pitch arm turned about the feathering axis, as its blade turns for more pitch, deg
    blade_offset,   // the blade sits at another pitch on its grip, deg
    bent_shaft,     // the hub leans on the bent main shaft and turns with it, deg
    stripped_gear,  // the servo stands somewhere else at every reading, deg of its horn
    worn_end,       // the link sits somewhere else in its play at every reading, mm of its length
};

inline constexpr FaultKind all_fault_kinds[] = {
    FaultKind::lower_link,    FaultKind::upper_link, FaultKind::other_link,    FaultKind::swapped_lower,
    FaultKind::swapped_upper, FaultKind::horn_tooth, FaultKind::trim,          FaultKind::servo_reversed,
    FaultKind::mixer_sign,    FaultKind::end_point,  FaultKind::guide_turn,    FaultKind::driver_turn,
    FaultKind::bent_spindle,  FaultKind::arm_lead,   FaultKind::arm_along,     FaultKind::arm_turn,
    FaultKind::blade_offset,  FaultKind::bent_shaft, FaultKind::stripped_gear, FaultKind::worn_end};

/// In the order of `head::StickGains`.
inline constexpr const char* stick_names[] = {"collective", "aileron", "elevator", "rudder"};

struct Fault {
    FaultKind kind = FaultKind::lower_link;
    int index = 0;   // of the link, servo, blade or stick (`stick_names`), from 0; of a bent shaft 0: it leans towards
                     // blade 1, 1: a quarter turn ahead of it
    int other = -1;  // the link it is swapped with; of an end point 0: the end that lowers the ring, 1: that raises it
    int teeth = 0;   // by which the horn is off, in the horn angle's own sense
    std::string part;      // scene path: "upper_link[2]"; "mixing" of a stick
    std::string words;     // as a builder says it: "upper link 2"
    std::string unit;      // of its size: "mm", "deg" or "%"; empty where it has none
    double length_mm = 0;  // of the link, or of the pitch arm: bounds what can be off
    /// Of a bent shaft: the gauge is zeroed on level or on a blade, not on the shaft or hub, so readings are against
    /// the frame. `faults` leaves it false; who knows the gauge sets it.
    bool against_frame = false;

    /// Has a size to be found. The others either are or are not, or scatter.
    bool sized() const { return !unit.empty() && !scatters(); }
    /// Off by another amount at every reading: `rates` say how one amount acts, `usual_size` is one standard deviation
    /// of the amounts. `apply` puts in one such amount. Told by reading the same place again.
    bool scatters() const { return kind == FaultKind::stripped_gear || kind == FaultKind::worn_end; }
    /// One standard deviation of the size before anything is read. Broad guesses; common practice, no source.
    double usual_size() const;
    /// Beyond this, either way, no part can be off that still runs: a larger size is no explanation. Guesses, in
    /// proportion to small links and arms; common practice, no source. Infinite for one that has no size.
    double largest() const;
};

/// Every fault of these kinds that changes this head: links alike are not swapped, a horn is off by at most `teeth`.
std::vector<Fault> faults(const head::Description& description, std::span<const FaultKind> kinds = all_fault_kinds,
                          int teeth = 2);

/// Puts a fault of the given size into a head; the size does not matter where the fault has none. The transmitter knows
/// nothing of it: give a description that is `head::mixer_kept`.
void apply(const Fault& fault, double size, head::Description& description);

/// The numbers of the head that move with the fault's size, and how fast. Empty where it has neither size nor scatter.
/// `all`: the description's `head::numbers`. An end point's number is in no scene: it has rates, and no place in `all`.
std::vector<std::pair<head::Number, double>> rates(const Fault& fault, const head::Description& description,
                                                   const std::vector<head::Number>& all);

}  // namespace swashwright::studies
