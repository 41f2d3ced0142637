#include "kinematics/head/numbers.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "kinematics/head/build.h"
#include "kinematics/head/head.h"
#include "kinematics/head/inventory.h"
#include "kinematics/head/number_list.h"

namespace swashwright::head {

namespace {

using linkage::Change;
using linkage::Quantity;

using Out = std::vector<Change>;

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

/// Nothing of the linkage moves.
void no_rates(const Head&, const Sticks&, Out&) {}

/// Horn angles move with the mixing: `command(servo)` is what a servo is told more, in deg, positive raising.
template <class Command>
void command_rates(const Head& head, const Sticks& sticks, Out& out, Command command) {
    for (std::size_t j = 0; j < head.description().servos.size(); ++j) {
        const Servo& servo = head.description().servos[j];
        const double raise = head.raise_signs()[j];
        const double now_deg = raise * (head.horn_angle_deg(j, sticks) - servo.neutral_deg - servo.trim_deg);
        if (const double deg = end_share(servo, now_deg) * command(j); deg != 0)
            out.push_back({Quantity::input, static_cast<int>(j), {raise * deg * degree, 0, 0}});
    }
}

/// What one degree more of phase tells a servo.
double phase_command_deg(const Head& head, std::size_t servo, const Sticks& sticks) {
    const Description& d = head.description();
    if (d.kind == Kind::tail) return 0;
    const Servo& s = d.servos[servo];
    const double angle = mixing_angle(d, servo);
    return d.mixing.cyclic_deg * degree *
           ((s.aileron_weight ? 0 : std::cos(angle)) * sticks.aileron +
            (s.elevator_weight ? 0 : std::sin(angle)) * sticks.elevator);
}

/// The frame of a grip's carrier in the hub's, all levers at angle 0; the hub's own where it stands on the hub.
Mat3 carrier_turn(const Description& d, std::size_t blade) {
    Mat3 turn = Mat3::Identity();
    if (!d.grips[blade].lever) return turn;
    for (Carrier at{Carrier::On::lever, *d.grips[blade].lever}; at.on == Carrier::On::lever;) {
        const Lever& lever = d.levers[static_cast<std::size_t>(at.index)];
        turn = lever_frame(d, lever).turn * turn;
        at = lever.on;
    }
    return turn;
}

void add_rotor(NumberList& list) {
    list.of("rotor", NumberKind::hub_height);
    list.add(
        ".hub_height_mm", "hub height", Unit::mm, [](auto& d) -> auto& { return d.rotor.hub_height_mm; },
        [](const Head& head, const Sticks&, Out& out) {
            for (std::size_t k = 0; k < head.parts().grips.size(); ++k)
                out.push_back({Quantity::frame_origin, head.parts().grips[k].index,
                               carrier_turn(head.description(), k).transpose() * Vec3::UnitZ()});
        });
    list.of("rotor", NumberKind::precone);
    list.add(
        ".precone_deg", "precone", Unit::deg, [](auto& d) -> auto& { return d.rotor.precone_deg; },
        [](const Head& head, const Sticks&, Out& out) {
            const double s = spin_sign(head.description().rotor.direction);
            for (std::size_t k = 0; k < head.parts().grips.size(); ++k) {
                // Coning turns the frame about the trailing horizontal: out towards up.
                const Vec3 lead = grip_frame(head.description(), static_cast<int>(k)).turn.col(0);
                out.push_back({Quantity::frame_turn, head.parts().grips[k].index,
                               carrier_turn(head.description(), k).transpose() * (-s * degree * lead)});
            }
        });
}

void add_servo(NumberList& list, std::size_t j) {
    const Servo& servo = list.d.servos[j];
    const std::string part = fmt::format("servo[{}]", j + 1), label = servo_words(servo);
    const auto shift = [j](const Head& head, const Vec3& by, Out& out) {
        out.push_back({Quantity::frame_origin, head.parts().horns[j].index, by});
    };
    list.of(part, NumberKind::pivot, j);
    if (std::holds_alternative<Vec3>(servo.pivot_mm))
        list.add_point(
            ".pivot_mm", label + ", pivot",
            along_frame, [j](auto& d) -> auto& { return std::get<Vec3>(d.servos[j].pivot_mm); },
            [shift](const Head& head, int i, Out& out) { shift(head, Vec3::Unit(i), out); });
    else
        list.add_polar(
            ".pivot_mm", label + ", pivot",
            "azimuth", [j](auto& d) -> auto& { return std::get<Polar>(d.servos[j].pivot_mm); },
            [shift, j](const Head& head, int i, Out& out) {
                shift(head, place_rate(std::get<Polar>(head.description().servos[j].pivot_mm), i, 1), out);
            });
    list.of(part, NumberKind::horn_length, j);
    list.add(
        ".horn_mm", label + ", horn length", Unit::mm, [j](auto& d) -> auto& { return d.servos[j].horn_mm; },
        [j](const Head& head, const Sticks&, Out& out) {
            out.push_back({Quantity::anchor_position, head.parts().horn_balls[j].index, Vec3::UnitX()});
        });
    const auto turns = [j](const Head&, const Sticks&, Out& out) {
        out.push_back({Quantity::input, static_cast<int>(j), {degree, 0, 0}});
    };
    list.of(part, NumberKind::neutral, j);
    list.add(
        ".neutral_deg", label + ", neutral", Unit::deg, [j](auto& d) -> auto& { return d.servos[j].neutral_deg; },
        turns);
    list.of(part, NumberKind::trim, j);
    list.add(
        ".trim_deg", label + ", trim", Unit::deg, [j](auto& d) -> auto& { return d.servos[j].trim_deg; }, turns);
}

void add_inner_ring(NumberList& list) {
    const Swashplate& ring = list.d.swashplate;
    for (std::size_t j = 0; j < ring.inner_balls.size(); ++j) {
        list.of(fmt::format("swashplate.inner_balls[{}]", j + 1), NumberKind::inner_ball, j);
        list.add_polar(
            "", fmt::format("inner ball {}", j + 1),
            "azimuth", [j](auto& d) -> auto& { return d.swashplate.inner_balls[j]; },
            [j](const Head& head, int i, Out& out) {
                out.push_back({Quantity::anchor_position, head.parts().inner_balls[j].index,
                               place_rate(head.description().swashplate.inner_balls[j], i, 1)});
            });
    }
    if (!ring.guided || !ring.tilts) return;
    const auto tilt_plane = [](const Head& head, Out& out) {
        const Swashplate& s = head.description().swashplate;
        out.push_back({Quantity::slot_normal, head.parts().guide_slot.index,
                       normal_rate((s.guide_pin.angle_deg + s.guide_turn_deg) * degree, 1)});
    };
    list.of("swashplate", NumberKind::guide_place);
    list.add(
        ".guide_pin.azimuth_deg", "guide pin, azimuth", Unit::deg,
        [](auto& d) -> auto& { return d.swashplate.guide_pin.angle_deg; },
        [tilt_plane](const Head& head, const Sticks&, Out& out) {
            out.push_back({Quantity::anchor_position, head.parts().guide_pin.index,
                           place_rate(head.description().swashplate.guide_pin, 1, 1)});
            tilt_plane(head, out);
        });
    list.of("swashplate", NumberKind::guide_turn);
    list.add(
        ".guide_turn_deg", "guide, turned by", Unit::deg, [](auto& d) -> auto& { return d.swashplate.guide_turn_deg; },
        [tilt_plane](const Head& head, const Sticks&, Out& out) { tilt_plane(head, out); });
}

void add_outer_ring(NumberList& list) {
    const Swashplate& ring = list.d.swashplate;
    for (std::size_t k = 0; k < ring.outer_balls.size(); ++k) {
        list.of(fmt::format("swashplate.outer_balls[{}]", k + 1), NumberKind::outer_ball, k);
        list.add_polar(
            "", fmt::format("outer ball {}", k + 1),
            "ahead", [k](auto& d) -> auto& { return d.swashplate.outer_balls[k]; },
            [k](const Head& head, int i, Out& out) {
                const double sense = spin_sign(head.description().rotor.direction);
                out.push_back({Quantity::anchor_position, head.parts().outer_balls[k].index,
                               place_rate(head.description().swashplate.outer_balls[k], i, sense)});
            });
    }
    const auto tilt_plane = [](const Head& head, std::size_t pin, Out& out) {
        const Swashplate& s = head.description().swashplate;
        out.push_back({Quantity::slot_normal, head.parts().driver_slots[pin].index,
                       normal_rate(ahead_angle(head.description(), s.driver_pins[pin].angle_deg + s.driver_turn_deg),
                                   spin_sign(head.description().rotor.direction))});
    };
    const bool one = ring.driver_pins.size() == 1;
    for (std::size_t i = 0; i < ring.driver_pins.size(); ++i) {
        list.of(one ? "swashplate" : fmt::format("swashplate.driver_pins[{}]", i + 1), NumberKind::driver_place, i);
        list.add_polar(
            one ? ".driver_pin" : "", one ? "driver pin" : fmt::format("driver pin {}", i + 1),
            "ahead", [i](auto& d) -> auto& { return d.swashplate.driver_pins[i]; },
            [i, tilt_plane](const Head& head, int which, Out& out) {
                const double sense = spin_sign(head.description().rotor.direction);
                out.push_back({Quantity::anchor_position, head.parts().driver_pins[i].index,
                               place_rate(head.description().swashplate.driver_pins[i], which, sense)});
                if (which == 1) tilt_plane(head, i, out);
            });
    }
    if (ring.driver_pins.empty()) return;
    list.of("swashplate", NumberKind::driver_turn);
    list.add(
        ".driver_turn_deg", "driver collar, slipped by", Unit::deg,
        [](auto& d) -> auto& { return d.swashplate.driver_turn_deg; },
        [tilt_plane](const Head& head, const Sticks&, Out& out) {
            for (std::size_t i = 0; i < head.parts().driver_slots.size(); ++i) tilt_plane(head, i, out);
        });
}

/// A list of links: where the description keeps it, where its closures are, how it is called.
struct Links {
    std::vector<Link> Description::*made;
    std::vector<linkage::ClosureId> Parts::*closures;
    const char *path, *words;
    NumberKind length, error;
};

void add_links(NumberList& list, const Links& links) {
    const auto& made = list.d.*links.made;
    for (std::size_t i = 0; i < made.size(); ++i) {
        const std::string part = fmt::format("{}[{}]", links.path, i + 1);
        const std::string words = made[i].name.empty() ? fmt::format("{} {}", links.words, i + 1) : made[i].name;
        const auto rates = [i, closures = links.closures](const Head& head, const Sticks&, Out& out) {
            out.push_back({Quantity::length, (head.parts().*closures)[i].index, Vec3::UnitX()});
        };
        list.of(part, links.length, i);
        list.add(
            ".length_mm", words + ", length", Unit::mm,
            [ i, all = links.made ](auto& d) -> auto& { return (d.*all)[i].length_mm; }, rates);
        list.of(part, links.error, i);
        list.add(
            ".error_mm", words + ", error", Unit::mm,
            [ i, all = links.made ](auto& d) -> auto& { return (d.*all)[i].error_mm; }, rates);
    }
}

void add_grip(NumberList& list, std::size_t k) {
    const std::string part = fmt::format("grip[{}]", k + 1), label = fmt::format("grip {}", k + 1);
    list.of(part, NumberKind::pitch_arm, k);
    const auto one = [&](const char* key, const char* words, auto member, auto direction) {
        list.add(
            fmt::format(".pitch_arm.{}", key), fmt::format("{}, pitch-arm ball {}", label, words), Unit::mm,
            [ k, member ](auto& d) -> auto& { return d.grips[k].pitch_arm.*member; },
            [k, direction](const Head& head, const Sticks&, Out& out) {
                out.push_back({Quantity::anchor_position, head.parts().grip_balls[k].index,
                               direction(spin_sign(head.description().rotor.direction))});
            });
    };
    one("along_mm", "along", &PitchArm::along_mm, [](double s) { return Vec3(0, 0, s); });
    one("lead_mm", "lead", &PitchArm::lead_mm, [](double) { return Vec3(1, 0, 0); });
    one("up_mm", "up", &PitchArm::up_mm, [](double) { return Vec3(0, 1, 0); });
    list.of(part, NumberKind::pitch_offset, k);
    list.add(
        ".pitch_offset_deg", fmt::format("blade {}, pitch offset", k + 1),
        Unit::deg, [k](auto& d) -> auto& { return d.grips[k].pitch_offset_deg; }, no_rates);
}

void add_mixing(NumberList& list) {
    const auto travel = [&](const char* key, const char* words, auto member, auto share) {
        list.of("mixing", NumberKind::travel);
        list.add(
            key, words, Unit::deg, [member](auto& d) -> auto& { return d.mixing.*member; },
            [share](const Head& head, const Sticks& sticks, Out& out) {
                command_rates(head, sticks, out,
                              [&](std::size_t j) { return share(mixing_weights(head.description(), j), sticks); });
            });
    };
    if (list.d.kind == Kind::tail)
        return travel(".rudder_deg", "horn travel at full rudder", &Mixing::rudder_deg,
                      [](const StickGains& w, const Sticks& s) { return w[3] * s.rudder; });
    travel(".collective_deg", "horn travel at full collective", &Mixing::collective_deg,
           [](const StickGains& w, const Sticks& s) { return w[0] * s.collective; });
    travel(".cyclic_deg", "horn travel at full cyclic", &Mixing::cyclic_deg,
           [](const StickGains& w, const Sticks& s) { return w[1] * s.aileron + w[2] * s.elevator; });
    list.of("mixing", NumberKind::phase);
    list.add(
        ".phase_deg", "phase", Unit::deg, [](auto& d) -> auto& { return d.mixing.phase_deg; },
        [](const Head& head, const Sticks& sticks, Out& out) {
            command_rates(head, sticks, out, [&](std::size_t j) { return phase_command_deg(head, j, sticks); });
        });
}

}  // namespace

/// Common practice, no source: see `Number::usual_tolerance`.
double usual_tolerance(NumberKind kind, Unit unit) {
    switch (kind) {
        case NumberKind::lower_length:
        case NumberKind::upper_length:
        case NumberKind::other_length:
        case NumberKind::horn_length:
            return 0.1;
        case NumberKind::pivot:
            return 0.2;
        case NumberKind::lever_pivot:
        case NumberKind::slider_place:
        case NumberKind::hub_height:
            return 0.2;
        case NumberKind::neutral:
            return 0.5;
        case NumberKind::travel:
        case NumberKind::phase:
            return 0;
        default:
            return unit == Unit::mm ? 0.05 : 0.2;
    }
}

const char* words_of(Unit unit) {
    return unit == Unit::mm ? "mm" : unit == Unit::deg ? "deg" : "";
}

bool is_length(NumberKind kind) {
    return kind == NumberKind::lower_length || kind == NumberKind::upper_length || kind == NumberKind::other_length;
}
bool is_error(NumberKind kind) {
    return kind == NumberKind::lower_error || kind == NumberKind::upper_error || kind == NumberKind::other_error;
}

std::vector<Number> numbers(const Description& description) {
    NumberList list(description);
    add_rotor(list);
    for (std::size_t j = 0; j < description.servos.size(); ++j) add_servo(list, j);
    add_inner_ring(list);
    add_outer_ring(list);
    add_links(list, {&Description::lower_links, &Parts::lower_links, "lower_link", "lower link",
                     NumberKind::lower_length, NumberKind::lower_error});
    add_links(list, {&Description::upper_links, &Parts::upper_links, "upper_link", "upper link",
                     NumberKind::upper_length, NumberKind::upper_error});
    for (std::size_t k = 0; k < description.grips.size(); ++k) add_grip(list, k);
    for (std::size_t i = 0; i < description.levers.size(); ++i) add_lever(list, i);
    for (std::size_t i = 0; i < description.sliders.size(); ++i) add_slider(list, i);
    for (std::size_t i = 0; i < description.fixed_balls.size(); ++i) add_fixed_ball(list, i);
    add_links(list,
              {&Description::links, &Parts::links, "link", "link", NumberKind::other_length, NumberKind::other_error});
    add_mixing(list);
    return std::move(list.all);
}

const Number* find_number(const std::vector<Number>& numbers, const std::string& path) {
    const auto found = std::ranges::find(numbers, path, &Number::path);
    return found == numbers.end() ? nullptr : &*found;
}

std::optional<Number> number_at(const Description& description, const std::string& path) {
    const auto all = numbers(description);
    const Number* found = find_number(all, path);
    return found ? std::optional(*found) : std::nullopt;
}

const Link* link_of(const Description& description, const Number& number) {
    return is_length(number.kind) ? link_of(description, *part_of(number.part)) : nullptr;
}

Description mixer_kept(const Head& head) {
    Description d = head.description();
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        Servo& servo = d.servos[j];
        servo.raise = head.raise_signs()[j] < 0 ? -1 : 1;
        if (!servo.mixer_azimuth_deg && j < d.swashplate.inner_balls.size())
            servo.mixer_azimuth_deg = d.swashplate.inner_balls[j].angle_deg;
    }
    return d;
}

}  // namespace swashwright::head
