#include "kinematics/studies/diagnosis/correction.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"

namespace swashwright::studies {
namespace {

using head::Description;

Correction of_link(const Fault& fault, double change_mm, const Description& d) {
    const head::Link& link = *link_of(d, *head::part_of(fault.part));
    const int steps = static_cast<int>(std::lround(change_mm / link_step(link).mm));
    return {fault.part, steps_in_words(link, steps), change_mm, turns_for(link, change_mm)};
}

/// "anticlockwise" if so, seen from where it is told.
const char* sense(bool anticlockwise) {
    return anticlockwise ? "anticlockwise" : "clockwise";
}

std::string driver_words(double size, const Description& d) {
    const bool ahead = size < 0, anticlockwise = ahead == (d.rotor.direction == head::Direction::anticlockwise);
    return fmt::format("turn the collar {:.1f} deg {} ({}, seen from above) and clamp it", std::abs(size),
                       ahead ? "ahead" : "back", sense(anticlockwise));
}

std::string end_words(const Fault& fault, double size) {
    return fmt::format("{} the end that {} its ball: both ends of a channel alike",
                       size > 0 ? fmt::format("take {:.0f} % off", size) : fmt::format("give {:.0f} % to", -size),
                       fault.other == 0 ? "lowers" : "raises");
}

/// What to do where no link is set.
std::string words_for(const Fault& fault, double size, const Description& d) {
    switch (fault.kind) {
        case FaultKind::swapped_lower:
        case FaultKind::swapped_upper:
            return "swap them back";
        case FaultKind::horn_tooth:
            return "turn the horn " + teeth_words(-fault.teeth);
        case FaultKind::trim:
            return fmt::format("move the horn {:.1f} deg {}, seen on the horn's face (sub-trim)", std::abs(size),
                               sense(size < 0));
        case FaultKind::servo_reversed:
            return "reverse its channel";
        case FaultKind::mixer_sign:
            return fmt::format("change the sign of the {} travel", stick_names[fault.index]);
        case FaultKind::end_point:
            return end_words(fault, size);
        case FaultKind::guide_turn:
            return fmt::format("turn the guide {:.1f} deg {}, seen from above; replace it if it is bent",
                               std::abs(size), sense(size < 0));
        case FaultKind::driver_turn:
            return driver_words(size, d);
        case FaultKind::bent_shaft:
            return "replace the main shaft, with new bolts; never straighten it";
        case FaultKind::bent_spindle:
            return "replace the spindle, with new bolts; no link makes up for it";
        case FaultKind::arm_lead:
        case FaultKind::arm_along:
        case FaultKind::arm_turn:
            return "replace the pitch arm, with new bolts; no link makes up for it";
        case FaultKind::blade_offset:
            return "look at blade bolt, grip and blade root; replace what is bent or worn";
        case FaultKind::stripped_gear:
            return "replace its gears, or the servo";
        case FaultKind::worn_end:
            return "fit a new ball link, and a new ball if it is worn";
        default:
            return {};
    }
}

}  // namespace

Correction correction(const Fault& fault, double size, const head::Head& head) {
    const Description& d = head.description();
    if (fault.kind == FaultKind::lower_link || fault.kind == FaultKind::upper_link ||
        fault.kind == FaultKind::other_link)
        return of_link(fault, -size, d);
    return {fault.part, words_for(fault, size, d), {}, {}};
}

}  // namespace swashwright::studies
