// What a fault changes: the description, and how fast which of its numbers move with the size.
#include <fmt/format.h>

#include <array>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/head/head.h"
#include "kinematics/head/inventory.h"
#include "kinematics/studies/diagnosis/faults.h"

namespace swashwright::studies {
namespace {

using head::Description;

/// Each in the other's place: the places keep their names and balls.
void swap_rods(head::Link& a, head::Link& b) {
    std::swap(a, b);
    std::swap(a.name, b.name);
    std::swap(a.ends, b.ends);
}

void turn_about(Description& d, int stick) {
    if (stick == 0) d.mixing.collective_deg *= -1;
    if (stick == 3) d.mixing.rudder_deg *= -1;
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        const head::StickGains weights = head::mixing_weights(d, j);
        if (stick == 1) d.servos[j].aileron_weight = -weights[1];
        if (stick == 2) d.servos[j].elevator_weight = -weights[2];
    }
}

/// A shaft that is bent just above the ring: the hub leans about the ring's tilt centre, with all that it carries, and
/// turns with the rotor. The servos hold the ring, so against the hub the ring leans the other way by as much: the
/// balls of the outer ring, about the tilt centre. That is exact while the ring is level; tilted by t as well, the two
/// turns in the other order differ by a turn about the shaft (the driver's matter) and by less than (lean x t) / 2 of
/// tilt. Towards blade 1 its ball comes up, x -> z; ahead of it the leading side comes up.
head::Polar leant(const head::Polar& ball, int towards, double deg) {
    const double a = ball.angle_deg * degree, c = std::cos(deg * degree), s = std::sin(deg * degree);
    std::array<double, 2> at{ball.radius_mm * std::cos(a), ball.radius_mm * std::sin(a)};  // over blade 1, ahead
    double& side = at[static_cast<std::size_t>(towards)];
    const double up = s * side + c * ball.height_mm;
    side = c * side - s * ball.height_mm;
    const double turned = std::remainder(std::atan2(at[1], at[0]) - a, 2 * pi);  // few degrees: no jump by a turn
    return {std::hypot(at[0], at[1]), ball.angle_deg + turned / degree, up};
}

/// Pitch of a blade against the frame more than against the hub, for each degree of the hub's lean: what a gauge reads
/// that knows the level and not the hub. Leaning ahead of a blade lowers its leading edge.
double against_frame(const Description& d, int blade, int towards) {
    const double ahead = 2 * pi * blade / d.rotor.blades;
    return towards == 0 ? std::sin(ahead) : -std::cos(ahead);
}

void bend_shaft(Description& d, const Fault& fault, double deg) {
    for (head::Polar& ball : d.swashplate.outer_balls) ball = leant(ball, fault.index, deg);
    for (int k = 0; fault.against_frame && k < d.rotor.blades; ++k)
        d.grips[static_cast<std::size_t>(k)].pitch_offset_deg += deg * against_frame(d, k, fault.index);
}

/// About the feathering axis, leading edge up.
head::PitchArm turned(const head::PitchArm& arm, double deg) {
    const double c = std::cos(deg * degree), s = std::sin(deg * degree);
    return {arm.along_mm, c * arm.lead_mm - s * arm.up_mm, s * arm.lead_mm + c * arm.up_mm};
}

using Rates = std::vector<std::pair<head::Number, double>>;

class Collected {
public:
    explicit Collected(const std::vector<head::Number>& all) : all_(all) {}
    void by(const std::string& path, double rate) {
        if (const head::Number* number = head::find_number(all_, path)) out.emplace_back(*number, rate);
    }
    Rates out;

private:
    const std::vector<head::Number>& all_;
};

/// How `leant` moves the balls, per degree.
void lean_rates(const Fault& fault, const Description& d, Collected& found) {
    for (std::size_t k = 0; k < d.swashplate.outer_balls.size(); ++k) {
        const head::Polar& ball = d.swashplate.outer_balls[k];
        const double a = ball.angle_deg * degree, c = std::cos(a), s = std::sin(a);
        const double out = fault.index == 0 ? c : s, ahead = fault.index == 0 ? -s : c;  // of the side that comes up
        const std::string path = fmt::format("swashplate.outer_balls[{}]", k + 1);
        found.by(path + ".radius_mm", -ball.height_mm * out * degree);
        if (ball.radius_mm > 0) found.by(path + ".ahead_deg", -ball.height_mm * ahead / ball.radius_mm);
        found.by(path + ".height_mm", ball.radius_mm * out * degree);
    }
    for (int k = 0; fault.against_frame && k < d.rotor.blades; ++k)
        found.by(fmt::format("grip[{}].pitch_offset_deg", k + 1), against_frame(d, k, fault.index));
}

/// One end of a servo's travel: it moves the horn where the sticks command that end.
head::Number end_point(const Fault& fault) {
    const auto j = static_cast<std::size_t>(fault.index), end = static_cast<std::size_t>(fault.other);
    head::Number out;
    out.path = fmt::format("servo[{}].end_share[{}]", j + 1, end + 1);
    out.label = fault.words;
    out.unit = head::Unit::none;
    out.kind = head::NumberKind::travel;
    out.index = fault.index;
    out.part = fault.part;
    out.at = [j, end](Description& d) -> double& { return d.servos[j].end_share[end]; };
    out.value = [j, end](const Description& d) { return d.servos[j].end_share[end]; };
    out.rates = [j, end](const head::Head& head, const head::Sticks& sticks, std::vector<linkage::Change>& changes) {
        const head::StickGains& gain = head.stick_gains_deg(static_cast<int>(j));
        const double deg = gain[0] * sticks.collective + gain[1] * sticks.aileron + gain[2] * sticks.elevator +
                           gain[3] * sticks.rudder;
        if ((deg * head.raise_signs()[j] > 0) == (end == 1))
            changes.push_back({linkage::Quantity::input, static_cast<int>(j), {deg * degree, 0, 0}});
    };
    return out;
}

}  // namespace

void apply(const Fault& fault, double size, Description& d) {
    const auto i = static_cast<std::size_t>(fault.index);
    const auto arm = [&]() -> head::PitchArm& { return d.grips[i].pitch_arm; };
    const auto link = [&](int index) { return link_of(d, {head::part_of(fault.part)->role, index}); };
    switch (fault.kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
        case FaultKind::worn_end:
            link(fault.index)->error_mm += size;
            break;
        case FaultKind::swapped_lower:
        case FaultKind::swapped_upper:
            swap_rods(*link(fault.index), *link(fault.other));
            break;
        case FaultKind::horn_tooth:
            d.servos[i].trim_deg += 360.0 * fault.teeth / d.servos[i].spline_teeth;
            break;
        case FaultKind::trim:
        case FaultKind::stripped_gear:
            d.servos[i].trim_deg += size;
            break;
        case FaultKind::servo_reversed:
            d.servos[i].raise = -head::raise_sign(d.servos[i]);
            break;
        case FaultKind::mixer_sign:
            turn_about(d, fault.index);
            break;
        case FaultKind::end_point:
            d.servos[i].end_share[static_cast<std::size_t>(fault.other)] += size / 100;
            break;
        case FaultKind::guide_turn:
            d.swashplate.guide_turn_deg += size;
            break;
        case FaultKind::driver_turn:
            d.swashplate.driver_turn_deg += size;
            break;
        case FaultKind::bent_spindle:
            arm().up_mm += size;
            break;
        case FaultKind::arm_lead:
            arm().lead_mm += size;
            break;
        case FaultKind::arm_along:
            arm().along_mm += size;
            break;
        case FaultKind::arm_turn:
            arm() = turned(arm(), size);
            break;
        case FaultKind::blade_offset:
            d.grips[i].pitch_offset_deg += size;
            break;
        case FaultKind::bent_shaft:
            bend_shaft(d, fault, size);
            break;
    }
}

std::vector<std::pair<head::Number, double>> rates(const Fault& fault, const Description& d,
                                                   const std::vector<head::Number>& all) {
    const int i = fault.index + 1;
    Collected found(all);
    switch (fault.kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
        case FaultKind::worn_end:
            found.by(fault.part + ".error_mm", 1);
            break;
        case FaultKind::trim:
        case FaultKind::stripped_gear:
            found.by(fmt::format("servo[{}].trim_deg", i), 1);
            break;
        case FaultKind::end_point:
            found.out.emplace_back(end_point(fault), 0.01);
            break;
        case FaultKind::guide_turn:
            found.by("swashplate.guide_turn_deg", 1);
            break;
        case FaultKind::driver_turn:
            found.by("swashplate.driver_turn_deg", 1);
            break;
        case FaultKind::bent_shaft:
            lean_rates(fault, d, found);
            break;
        case FaultKind::bent_spindle:
            found.by(fmt::format("grip[{}].pitch_arm.up_mm", i), 1);
            break;
        case FaultKind::arm_lead:
            found.by(fmt::format("grip[{}].pitch_arm.lead_mm", i), 1);
            break;
        case FaultKind::arm_along:
            found.by(fmt::format("grip[{}].pitch_arm.along_mm", i), 1);
            break;
        case FaultKind::arm_turn: {
            const head::PitchArm& arm = d.grips[static_cast<std::size_t>(fault.index)].pitch_arm;
            found.by(fmt::format("grip[{}].pitch_arm.lead_mm", i), -arm.up_mm * degree);
            found.by(fmt::format("grip[{}].pitch_arm.up_mm", i), arm.lead_mm * degree);
            break;
        }
        case FaultKind::blade_offset:
            found.by(fmt::format("grip[{}].pitch_offset_deg", i), 1);
            break;
        default:
            break;
    }
    return std::move(found.out);
}

}  // namespace swashwright::studies
