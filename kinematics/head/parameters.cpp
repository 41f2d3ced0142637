#include "kinematics/head/parameters.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/head/head.h"

namespace swashwright::head {

namespace {

using linkage::Change;
using linkage::Quantity;

class List {
public:
    void add(Measure measure, int index, std::string path, std::string label, Unit unit = Unit::mm) {
        all.push_back({measure, index, std::move(path), std::move(label), unit});
    }
    /// The three numbers of a place on a ring.
    void add_place(const std::array<Measure, 3>& measures, int index, const std::string& path, const std::string& label,
                   const char* angle) {
        add(measures[0], index, path + ".radius_mm", label + ", radius");
        add(measures[1], index, fmt::format("{}.{}_deg", path, angle), fmt::format("{}, {}", label, angle), Unit::deg);
        add(measures[2], index, path + ".height_mm", label + ", height");
    }
    std::vector<Parameter> all;
};

void add_servos(const Description& d, List& list) {
    for (int j = 0; j < static_cast<int>(d.servos.size()); ++j) {
        const std::string path = fmt::format("servo[{}]", j + 1), label = "servo " + d.servos[j].name;
        if (std::holds_alternative<Vec3>(d.servos[j].pivot_mm)) {
            list.add(Measure::pivot_x, j, path + ".pivot_mm[1]", label + ", pivot forward");
            list.add(Measure::pivot_y, j, path + ".pivot_mm[2]", label + ", pivot left");
            list.add(Measure::pivot_z, j, path + ".pivot_mm[3]", label + ", pivot height");
        } else {
            list.add_place({Measure::pivot_radius, Measure::pivot_azimuth, Measure::pivot_height}, j,
                           path + ".pivot_mm", label + ", pivot", "azimuth");
        }
        list.add(Measure::horn_length, j, path + ".horn_mm", label + ", horn length");
        list.add(Measure::horn_neutral, j, path + ".neutral_deg", label + ", neutral", Unit::deg);
        list.add(Measure::horn_trim, j, path + ".trim_deg", label + ", trim", Unit::deg);
    }
}

void add_swashplate(const Description& d, List& list) {
    const Swashplate& s = d.swashplate;
    for (int j = 0; j < static_cast<int>(s.inner_balls.size()); ++j)
        list.add_place({Measure::inner_ball_radius, Measure::inner_ball_azimuth, Measure::inner_ball_height}, j,
                       fmt::format("swashplate.inner_balls[{}]", j + 1), fmt::format("inner ball {}", j + 1),
                       "azimuth");
    list.add(Measure::guide_pin_azimuth, 0, "swashplate.guide_pin.azimuth_deg", "guide pin, azimuth", Unit::deg);
    list.add(Measure::guide_turn, 0, "swashplate.guide_turn_deg", "guide, turned by", Unit::deg);
    for (int k = 0; k < static_cast<int>(s.outer_balls.size()); ++k)
        list.add_place({Measure::outer_ball_radius, Measure::outer_ball_ahead, Measure::outer_ball_height}, k,
                       fmt::format("swashplate.outer_balls[{}]", k + 1), fmt::format("outer ball {}", k + 1), "ahead");
    for (int i = 0; i < static_cast<int>(s.driver_pins.size()); ++i)
        list.add_place(
            {Measure::driver_pin_radius, Measure::driver_pin_ahead, Measure::driver_pin_height}, i,
            s.driver_pins.size() > 1 ? fmt::format("swashplate.driver_pins[{}]", i + 1) : "swashplate.driver_pin",
            s.driver_pins.size() > 1 ? fmt::format("driver pin {}", i + 1) : "driver pin", "ahead");
    list.add(Measure::driver_turn, 0, "swashplate.driver_turn_deg", "driver collar, slipped by", Unit::deg);
}

void add_links_and_grips(const Description& d, List& list) {
    for (int j = 0; j < static_cast<int>(d.lower_links.size()); ++j) {
        list.add(Measure::lower_length, j, fmt::format("lower_link[{}].length_mm", j + 1),
                 fmt::format("lower link {}, length", j + 1));
        list.add(Measure::lower_error, j, fmt::format("lower_link[{}].error_mm", j + 1),
                 fmt::format("lower link {}, error", j + 1));
    }
    for (int k = 0; k < static_cast<int>(d.upper_links.size()); ++k) {
        list.add(Measure::upper_length, k, fmt::format("upper_link[{}].length_mm", k + 1),
                 fmt::format("upper link {}, length", k + 1));
        list.add(Measure::upper_error, k, fmt::format("upper_link[{}].error_mm", k + 1),
                 fmt::format("upper link {}, error", k + 1));
    }
    for (int k = 0; k < static_cast<int>(d.grips.size()); ++k) {
        const std::string path = fmt::format("grip[{}]", k + 1), label = fmt::format("grip {}", k + 1);
        list.add(Measure::arm_along, k, path + ".pitch_arm.along_mm", label + ", pitch-arm ball along");
        list.add(Measure::arm_lead, k, path + ".pitch_arm.lead_mm", label + ", pitch-arm ball lead");
        list.add(Measure::arm_up, k, path + ".pitch_arm.up_mm", label + ", pitch-arm ball up");
        list.add(Measure::pitch_offset, k, path + ".pitch_offset_deg", fmt::format("blade {}, pitch offset", k + 1),
                 Unit::deg);
    }
}

double& number(Pivot& pivot, Measure measure) {
    if (auto* point = std::get_if<Vec3>(&pivot))
        return (*point)[static_cast<int>(measure) - static_cast<int>(Measure::pivot_x)];
    Polar& polar = std::get<Polar>(pivot);
    return measure == Measure::pivot_radius    ? polar.radius_mm
           : measure == Measure::pivot_azimuth ? polar.angle_deg
                                               : polar.height_mm;
}

/// Which of a place's three numbers: radius, angle, height.
double& number(Polar& place, Measure measure, Measure first) {
    const int i = static_cast<int>(measure) - static_cast<int>(first);
    return i == 0 ? place.radius_mm : i == 1 ? place.angle_deg : place.height_mm;
}

/// Rate of a point (radius, angle, height) by one of the three; `sense` is the sense in which the angle counts.
Vec3 place_rate(const Polar& place, int which, double sense) {
    const double angle = sense * place.angle_deg * degree;
    if (which == 0) return {std::cos(angle), std::sin(angle), 0};
    if (which == 1) return Vec3(-std::sin(angle), std::cos(angle), 0) * (place.radius_mm * sense * degree);
    return Vec3::UnitZ();
}

/// Rate of a plane's normal (-sin, cos, 0) by its angle, per deg.
Vec3 normal_rate(double angle, double sense) {
    return Vec3(-std::cos(angle), -std::sin(angle), 0) * (sense * degree);
}

int offset(Measure measure, Measure first) {
    return static_cast<int>(measure) - static_cast<int>(first);
}

void pivot_rates(const Head& head, const Parameter& p, std::vector<Change>& out) {
    const int body = head.parts().horns[p.index].index;
    const Pivot& pivot = head.description().servos[p.index].pivot_mm;
    const Vec3 shift = p.measure <= Measure::pivot_z
                           ? Vec3(Vec3::Unit(offset(p.measure, Measure::pivot_x)))
                           : place_rate(std::get<Polar>(pivot), offset(p.measure, Measure::pivot_radius), 1);
    out.push_back({Quantity::frame_origin, body, shift});
}

void ring_rates(const Head& head, const Parameter& p, std::vector<Change>& out) {
    const Swashplate& s = head.description().swashplate;
    const Parts& parts = head.parts();
    const double sense = spin_sign(head.description().rotor.direction);
    const Measure m = p.measure;
    if (m <= Measure::inner_ball_height) {
        out.push_back({Quantity::anchor_position, parts.inner_balls[p.index].index,
                       place_rate(s.inner_balls[p.index], offset(m, Measure::inner_ball_radius), 1)});
    } else if (m == Measure::guide_pin_azimuth || m == Measure::guide_turn) {
        if (m == Measure::guide_pin_azimuth)
            out.push_back({Quantity::anchor_position, parts.guide_pin.index, place_rate(s.guide_pin, 1, 1)});
        out.push_back({Quantity::slot_normal, parts.guide_slot.index,
                       normal_rate((s.guide_pin.angle_deg + s.guide_turn_deg) * degree, 1)});
    } else if (m <= Measure::outer_ball_height) {
        out.push_back({Quantity::anchor_position, parts.outer_balls[p.index].index,
                       place_rate(s.outer_balls[p.index], offset(m, Measure::outer_ball_radius), sense)});
    } else {
        for (std::size_t i = 0; i < s.driver_pins.size(); ++i) {
            if (m != Measure::driver_turn && static_cast<int>(i) != p.index) continue;
            if (m != Measure::driver_turn)
                out.push_back({Quantity::anchor_position, parts.driver_pins[i].index,
                               place_rate(s.driver_pins[i], offset(m, Measure::driver_pin_radius), sense)});
            if (m == Measure::driver_turn || m == Measure::driver_pin_ahead)
                out.push_back(
                    {Quantity::slot_normal, parts.driver_slots[i].index,
                     normal_rate(ahead_angle(head.description(), s.driver_pins[i].angle_deg + s.driver_turn_deg),
                                 sense)});
        }
    }
}

void grip_rates(const Head& head, const Parameter& p, std::vector<Change>& out) {
    const double s = spin_sign(head.description().rotor.direction);
    const int ball = head.parts().grip_balls[p.index].index;
    if (p.measure == Measure::arm_along) out.push_back({Quantity::anchor_position, ball, {0, 0, s}});
    if (p.measure == Measure::arm_lead) out.push_back({Quantity::anchor_position, ball, {1, 0, 0}});
    if (p.measure == Measure::arm_up) out.push_back({Quantity::anchor_position, ball, {0, 1, 0}});
}

void hub_rates(const Head& head, const Parameter& p, std::vector<Change>& out) {
    for (std::size_t k = 0; k < head.parts().grips.size(); ++k) {
        const int body = head.parts().grips[k].index;
        if (p.measure == Measure::hub_height) {
            out.push_back({Quantity::frame_origin, body, Vec3::UnitZ()});
        } else {  // coning turns the frame about the trailing horizontal: out towards up
            const Vec3 lead = grip_frame(head.description(), static_cast<int>(k)).turn.col(0);
            const double s = spin_sign(head.description().rotor.direction);
            out.push_back({Quantity::frame_turn, body, -s * degree * lead});
        }
    }
}

/// Horn angles move with the mixing's own numbers.
void mixing_rates(const Head& head, const Parameter& p, const Sticks& sticks, std::vector<Change>& out) {
    const Description& d = head.description();
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        const Servo& servo = d.servos[j];
        const double angle = mixing_angle(d, j);
        const auto weight = mixing_weights(d, j);
        double command = 0;
        if (p.measure == Measure::collective_gain) command = weight[0] * sticks.collective;
        if (p.measure == Measure::cyclic_gain) command = weight[1] * sticks.aileron + weight[2] * sticks.elevator;
        if (p.measure == Measure::phase)
            command = d.mixing.cyclic_deg * degree *
                      ((servo.aileron_weight ? 0 : std::cos(angle)) * sticks.aileron +
                       (servo.elevator_weight ? 0 : std::sin(angle)) * sticks.elevator);
        if (command != 0)
            out.push_back({Quantity::input, static_cast<int>(j), {head.raise_signs()[j] * command * degree, 0, 0}});
    }
}

}  // namespace

std::vector<Parameter> parameters(const Description& description) {
    List list;
    list.add(Measure::hub_height, 0, "rotor.hub_height_mm", "hub height");
    list.add(Measure::precone, 0, "rotor.precone_deg", "precone", Unit::deg);
    add_servos(description, list);
    add_swashplate(description, list);
    add_links_and_grips(description, list);
    list.add(Measure::collective_gain, 0, "mixing.collective_deg", "horn travel at full collective", Unit::deg);
    list.add(Measure::cyclic_gain, 0, "mixing.cyclic_deg", "horn travel at full cyclic", Unit::deg);
    list.add(Measure::phase, 0, "mixing.phase_deg", "phase", Unit::deg);
    return list.all;
}

double& value(Description& d, const Parameter& p) {
    const auto i = static_cast<std::size_t>(p.index);
    Swashplate& s = d.swashplate;
    switch (p.measure) {
        case Measure::pivot_x:
        case Measure::pivot_y:
        case Measure::pivot_z:
        case Measure::pivot_radius:
        case Measure::pivot_azimuth:
        case Measure::pivot_height:
            return number(d.servos[i].pivot_mm, p.measure);
        case Measure::horn_length:
            return d.servos[i].horn_mm;
        case Measure::horn_neutral:
            return d.servos[i].neutral_deg;
        case Measure::horn_trim:
            return d.servos[i].trim_deg;
        case Measure::inner_ball_radius:
        case Measure::inner_ball_azimuth:
        case Measure::inner_ball_height:
            return number(s.inner_balls[i], p.measure, Measure::inner_ball_radius);
        case Measure::guide_pin_azimuth:
            return s.guide_pin.angle_deg;
        case Measure::guide_turn:
            return s.guide_turn_deg;
        case Measure::outer_ball_radius:
        case Measure::outer_ball_ahead:
        case Measure::outer_ball_height:
            return number(s.outer_balls[i], p.measure, Measure::outer_ball_radius);
        case Measure::driver_pin_radius:
        case Measure::driver_pin_ahead:
        case Measure::driver_pin_height:
            return number(s.driver_pins[i], p.measure, Measure::driver_pin_radius);
        case Measure::driver_turn:
            return s.driver_turn_deg;
        case Measure::lower_length:
            return d.lower_links[i].length_mm;
        case Measure::lower_error:
            return d.lower_links[i].error_mm;
        case Measure::upper_length:
            return d.upper_links[i].length_mm;
        case Measure::upper_error:
            return d.upper_links[i].error_mm;
        case Measure::arm_along:
            return d.grips[i].pitch_arm.along_mm;
        case Measure::arm_lead:
            return d.grips[i].pitch_arm.lead_mm;
        case Measure::arm_up:
            return d.grips[i].pitch_arm.up_mm;
        case Measure::pitch_offset:
            return d.grips[i].pitch_offset_deg;
        case Measure::hub_height:
            return d.rotor.hub_height_mm;
        case Measure::precone:
            return d.rotor.precone_deg;
        case Measure::collective_gain:
            return d.mixing.collective_deg;
        case Measure::cyclic_gain:
            return d.mixing.cyclic_deg;
        case Measure::phase:
            break;
    }
    return d.mixing.phase_deg;
}

double value(const Description& description, const Parameter& parameter) {
    return value(const_cast<Description&>(description), parameter);  // read only: the reference does not leave
}

Description mixer_kept(Description d) {
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        Servo& servo = d.servos[j];
        servo.raise = raise_sign(servo);
        if (!servo.mixer_azimuth_deg) servo.mixer_azimuth_deg = d.swashplate.inner_balls[j].angle_deg;
    }
    return d;
}

void rates(const Head& head, const Parameter& p, const Sticks& sticks, std::vector<Change>& out) {
    const Measure m = p.measure;
    const Parts& parts = head.parts();
    if (m <= Measure::pivot_height)
        pivot_rates(head, p, out);
    else if (m == Measure::horn_length)
        out.push_back({Quantity::anchor_position, parts.horn_balls[p.index].index, Vec3::UnitX()});
    else if (m == Measure::horn_neutral || m == Measure::horn_trim)
        out.push_back({Quantity::input, p.index, {degree, 0, 0}});
    else if (m <= Measure::driver_turn)
        ring_rates(head, p, out);
    else if (m <= Measure::lower_error)
        out.push_back({Quantity::length, parts.lower_links[p.index].index, Vec3::UnitX()});
    else if (m <= Measure::upper_error)
        out.push_back({Quantity::length, parts.upper_links[p.index].index, Vec3::UnitX()});
    else if (m <= Measure::pitch_offset)
        grip_rates(head, p, out);
    else if (m <= Measure::precone)
        hub_rates(head, p, out);
    else
        mixing_rates(head, p, sticks, out);
}

}  // namespace swashwright::head
