#include "viewer/panels/ledger/part_facts.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/studies/answer/figures.h"
#include "viewer/draw/overlay/part_names.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/base/lengths.h"

namespace swashwright::panels {

namespace {

using head::Role;

std::string degrees(double value, int decimals = 2) {
    return studies::signed_figure(value, decimals) + "\u00b0";
}

/// Without a sign.
std::string angle(double value, int decimals = 2) {
    return studies::figure(value, decimals) + "\u00b0";
}

template <class T>
const T* at(const std::vector<T>& list, int index) {
    return index >= 0 && static_cast<std::size_t>(index) < list.size() ? &list[static_cast<std::size_t>(index)]
                                                                       : nullptr;
}

/// Gathers the facts of one part or ball.
struct Teller {
    const head::Description& d;
    const head::Pose& pose;
    bool inches;
    std::vector<Fact> facts = {};

    void tell(std::string what, std::string value) { facts.push_back({std::move(what), std::move(value)}); }
    void length(const char* what, double mm) { tell(what, length_text(mm, inches)); }
    void number(const char* what, const std::vector<double>& list, int index) {
        if (const double* value = at(list, index)) tell(what, degrees(*value));
    }

    void link(const head::Link& link) {
        length("centre to centre", link.actual_mm());
        tell("error", (link.error_mm > 0 ? "+" : "") + length_text(link.error_mm, inches));
    }
    void ring() {
        length("height", pose.height_mm);
        tell("tilt", angle(pose.tilt_deg));
        if (pose.tilt_deg >= 0.005) tell("lowest at", angle(pose.lowest_azimuth_deg, 0));
    }
    void place(const head::Polar& polar, const char* angle_name) {
        length("radius", polar.radius_mm);
        tell(angle_name, angle(polar.angle_deg));
        length("above tilt centre", polar.height_mm);
    }
    void horn(int index) {
        number("angle now", pose.horn_deg, index);
        if (const head::Servo* servo = at(d.servos, index)) length("pivot to ball", servo->horn_mm);
    }
    void servo(int index) {
        number("horn now", pose.horn_deg, index);
        const head::Servo* servo = at(d.servos, index);
        if (servo == nullptr) return;
        tell("neutral", degrees(servo->neutral_deg + servo->trim_deg));
        tell("travel", fmt::format("{} to {}", degrees(servo->travel_deg[0], 0), degrees(servo->travel_deg[1], 0)));
    }
    void arm(const head::PitchArm& arm) {
        length("arm out", arm.along_mm);
        length(arm.lead_mm < 0 ? "arm behind" : "arm ahead", std::abs(arm.lead_mm));
        length("arm up", arm.up_mm);
    }
    void driver() {
        const auto& pins = d.swashplate.driver_pins;
        for (std::size_t i = 0; i < pins.size(); ++i)
            tell(pins.size() > 1 ? fmt::format("pin {} at radius", i + 1) : "pin at radius",
                 length_text(pins[i].radius_mm, inches));
        tell("turned", degrees(d.swashplate.driver_turn_deg));
    }
    void guide() {
        length("pin at radius", d.swashplate.guide_pin.radius_mm);
        tell("azimuth", angle(d.swashplate.guide_pin.angle_deg));
        tell("turned", degrees(d.swashplate.guide_turn_deg));
    }
    void turning() {
        tell("from above", d.rotor.direction == head::Direction::clockwise ? "clockwise" : "anticlockwise");
    }
};

void tell_part(const draw::Part& part, Teller& teller) {
    const head::Description& d = teller.d;
    switch (part.role) {
        case Role::lower_link:
            if (const auto* link = at(d.lower_links, part.index)) teller.link(*link);
            break;
        case Role::upper_link:
            if (const auto* link = at(d.upper_links, part.index)) teller.link(*link);
            break;
        case Role::inner_ring:
        case Role::outer_ring:
            teller.ring();
            break;
        case Role::horn:
            teller.horn(part.index);
            break;
        case Role::servo:
            teller.servo(part.index);
            break;
        case Role::grip:
            teller.number("pitch now", teller.pose.pitch_deg, part.index);
            if (const auto* grip = at(d.grips, part.index)) teller.arm(grip->pitch_arm);
            break;
        case Role::blade:
            teller.number("pitch now", teller.pose.pitch_deg, part.index);
            teller.length("shaft to tip", d.rotor.blade_tip_mm);
            break;
        case Role::driver:
            teller.driver();
            break;
        case Role::guide:
            teller.guide();
            break;
        case Role::hub:
            teller.length("height", d.rotor.hub_height_mm);
            if (d.rotor.precone_deg != 0) teller.tell("precone", degrees(d.rotor.precone_deg));
            break;
        case Role::shaft:
            teller.turning();
            break;
        case Role::other_link:
            if (const auto* link = at(d.links, part.index)) teller.link(*link);
            break;
        case Role::lever:
            teller.number("angle now", teller.pose.lever_deg, part.index);
            break;
        case Role::slider:
            if (const auto* place = at(teller.pose.slider_mm, part.index)) teller.length("place now", *place);
            break;
        case Role::frame:
            break;
    }
}

/// The ball's name.
std::string tell_ball(const draw::Part& part, int ball, Teller& teller) {
    const head::Description& d = teller.d;
    switch (part.role) {
        case Role::inner_ring:
            if (const auto* place = at(d.swashplate.inner_balls, ball)) teller.place(*place, "azimuth");
            return fmt::format("inner ring, ball {}", ball + 1);
        case Role::outer_ring:
            if (const auto* place = at(d.swashplate.outer_balls, ball)) teller.place(*place, "ahead of blade 1");
            return fmt::format("outer ring, ball {}", ball + 1);
        case Role::horn:
            teller.horn(ball);
            return fmt::format("horn {}, ball", ball + 1);
        case Role::lever:
        case Role::slider:
            tell_part(part, teller);
            return fmt::format("{}, ball {}", draw::trade_name_of(part, d), ball + 1);
        default:
            if (const auto* grip = at(d.grips, ball)) teller.arm(grip->pitch_arm);
            return fmt::format("blade grip {}, ball", ball + 1);
    }
}

}  // namespace

Facts facts_of(const draw::Part& part, std::optional<int> ball, const head::Description& description,
               const head::Pose& pose, bool inches) {
    Teller teller{description, pose, inches};
    std::string name;
    if (ball)
        name = tell_ball(part, *ball, teller);
    else
        tell_part(part, teller), name = draw::trade_name_of(part, description);
    return {std::move(name), std::move(teller.facts)};
}

}  // namespace swashwright::panels
