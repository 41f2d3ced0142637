#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/build.h"
#include "kinematics/head/check.h"
#include "kinematics/head/inventory.h"

namespace swashwright::head {

namespace {

bool finite(const Polar& p) {
    return std::isfinite(p.radius_mm) && std::isfinite(p.angle_deg) && std::isfinite(p.height_mm);
}

bool finite(const Servo& s) {
    double sum = s.horn_mm + s.neutral_deg + s.trim_deg + s.mixer_azimuth_deg.value_or(0) +
                 s.collective_weight.value_or(0) + s.aileron_weight.value_or(0) + s.elevator_weight.value_or(0);
    return std::isfinite(sum) && pivot_point(s.pivot_mm).allFinite() && s.axis.allFinite() && s.horn_zero.allFinite();
}

std::string check_counts(const Description& d) {
    if (d.rotor.blades < 2 || d.rotor.blades > 6)
        return fmt::format("a head has 2 to 6 blades, found {}", d.rotor.blades);
    if (d.servos.empty() || d.servos.size() > most_servos)
        return fmt::format("1 to {} servos are expected, found {}", most_servos, d.servos.size());
    if (d.grips.size() != static_cast<std::size_t>(d.rotor.blades))
        return fmt::format("{} grips expected, one for each blade; found {}", d.rotor.blades, d.grips.size());
    return {};
}

/// Why a ball of that name is not there; empty if it is.
std::string check_ball(const Description& d, const BallName& ball) {
    const auto within = [](int i, std::size_t count) { return i >= 0 && static_cast<std::size_t>(i) < count; };
    const auto i = static_cast<std::size_t>(ball.index);
    using enum BallName::Of;
    const bool there =
        ball.of == servo        ? within(ball.index, d.servos.size())
        : ball.of == inner_ball ? within(ball.index, d.swashplate.inner_balls.size())
        : ball.of == outer_ball ? within(ball.index, d.swashplate.outer_balls.size())
        : ball.of == grip       ? within(ball.index, d.grips.size())
        : ball.of == lever      ? within(ball.index, d.levers.size()) && within(ball.ball, d.levers[i].balls_mm.size())
        : ball.of == slider ? within(ball.index, d.sliders.size()) && within(ball.ball, d.sliders[i].balls_mm.size())
                            : within(ball.index, d.fixed_balls.size());
    return there ? std::string{} : fmt::format("there is no {}", name_of(ball));
}

std::string check_ends(const Description& d) {
    const auto bad = [&](const std::string& words, const std::array<BallName, 2>& ends) {
        for (const BallName& end : ends)
            if (auto missing = check_ball(d, end); !missing.empty())
                return fmt::format("{}: {}, to which it should go", words, missing);
        if (ends[0] == ends[1]) return fmt::format("{}: both ends are {}", words, name_of(ends[0]));
        return std::string{};
    };
    for (const PartName& link : links_of(d)) {
        const auto ends = ends_of(d, link);
        if (!ends) return fmt::format("{}: its ends are not given", link_words(d, link));
        if (auto complaint = bad(link_words(d, link), *ends); !complaint.empty()) return complaint;
    }
    for (std::size_t i = 0; i < d.pins.size(); ++i) {
        const std::string words = d.pins[i].name.empty() ? fmt::format("pin {}", i + 1) : d.pins[i].name;
        if (auto complaint = bad(words, d.pins[i].ends); !complaint.empty()) return complaint;
    }
    return {};
}

/// The part that a part stands on: a grip on its lever or the hub.
Carrier carrier_of(const Description& d, const Carrier& part) {
    const auto i = static_cast<std::size_t>(part.index);
    using enum Carrier::On;
    if (part.on == lever) return d.levers[i].on;
    if (part.on == slider) return d.sliders[i].on;
    if (part.on == grip && d.grips[i].lever) return {lever, *d.grips[i].lever};
    return part.on == grip ? Carrier{hub} : Carrier{};
}

std::string check_carrier(const Description& d, const std::string& words, const Carrier& carrier, int blade) {
    using enum Carrier::On;
    const auto count = carrier.on == grip     ? d.grips.size()
                       : carrier.on == lever  ? d.levers.size()
                       : carrier.on == slider ? d.sliders.size()
                                              : 1;
    if (carrier.index < 0 || static_cast<std::size_t>(carrier.index) >= count)
        return fmt::format("{}: there is no {} for it to stand on", words, name_of(carrier));
    if (blade < 0 || blade >= d.rotor.blades) return fmt::format("{}: there is no blade {}", words, blade + 1);
    return {};
}

/// Follows carriers down: whatever stands on itself, over others or not, never comes to an end.
std::string check_circle(const Description& d, const Carrier& part) {
    Carrier at = part;
    for (std::size_t steps = 0; steps <= d.levers.size() + d.sliders.size() + d.grips.size(); ++steps) {
        at = carrier_of(d, at);
        if (at == part) return fmt::format("{} stands on itself, over what it carries", name_of(part));
        if (at.on != Carrier::On::lever && at.on != Carrier::On::slider && at.on != Carrier::On::grip) break;
    }
    return {};
}

std::string check_frame(const std::string& words, const Vec3& at, const Vec3& axis, const Vec3& zero) {
    if (!at.allFinite() || !axis.allFinite() || !zero.allFinite() || !(axis.norm() > 0) || !(zero.norm() > 0))
        return fmt::format("{}: its place must be finite, axis and zero no zero vectors", words);
    const double lean = std::asin(std::min(1.0, std::abs(axis.normalized().dot(zero.normalized())))) / degree;
    if (lean > 0.1)
        return fmt::format("{}: zero must be perpendicular to axis within 0.1 deg, it is {:.2f} deg off", words, lean);
    return {};
}

}  // namespace

std::string check_lever(const Description& d, std::size_t i) {
    const Lever& lever = d.levers[i];
    const std::string words = lever.name.empty() ? fmt::format("lever {}", i + 1) : lever.name;
    if (auto bad = check_carrier(d, words, lever.on, lever.blade); !bad.empty()) return bad;
    if (auto bad = check_frame(words, lever.pivot_mm, lever.axis, lever.zero); !bad.empty()) return bad;
    const auto finite = [](const Vec3& v) { return v.allFinite(); };
    if (!std::isfinite(lever.angle_deg) || !std::ranges::all_of(lever.balls_mm, finite))
        return fmt::format("{}: a number is not finite", words);
    if (!lever.studs.empty() && lever.studs.size() != lever.balls_mm.size())
        return fmt::format("{}: {} studs expected, one for each ball; found {}", words, lever.balls_mm.size(),
                           lever.studs.size());
    for (const Vec3& stud : lever.studs)
        if (!(stud.norm() > 0) || !stud.allFinite())
            return fmt::format("{}: a stud's direction is zero or not finite", words);
    if (lever.by_hand_deg && !((*lever.by_hand_deg)[0] < (*lever.by_hand_deg)[1]))
        return fmt::format("{}: by_hand_deg is [least, most]", words);
    return check_circle(d, {Carrier::On::lever, static_cast<int>(i)});
}

std::string check_slider(const Description& d, std::size_t i) {
    const Slider& slider = d.sliders[i];
    const std::string words = slider.name.empty() ? fmt::format("slider {}", i + 1) : slider.name;
    if (auto bad = check_carrier(d, words, slider.on, slider.blade); !bad.empty()) return bad;
    if (auto bad = check_frame(words, slider.at_mm, slider.axis, slider.zero); !bad.empty()) return bad;
    const auto finite = [](const Vec3& v) { return v.allFinite(); };
    if (!std::isfinite(slider.place_mm) || !std::ranges::all_of(slider.balls_mm, finite))
        return fmt::format("{}: a number is not finite", words);
    return check_circle(d, {Carrier::On::slider, static_cast<int>(i)});
}

std::string check_grip(const Description& d, std::size_t k) {
    if (!d.grips[k].lever) return {};
    const std::string words = fmt::format("grip {}", k + 1);
    Carrier at{Carrier::On::lever, *d.grips[k].lever};
    if (auto bad = check_carrier(d, words, at, 0); !bad.empty()) return bad;
    for (std::size_t steps = 0; at.on == Carrier::On::lever && steps <= d.levers.size(); ++steps)
        at = d.levers[static_cast<std::size_t>(at.index)].on;
    return at.on == Carrier::On::hub
               ? std::string{}
               : fmt::format("{}: its lever must stand on the hub, or on levers of which the lowest does", words);
}

std::string check_fixed_ball(const Description& d, std::size_t i) {
    const FixedBall& fixed = d.fixed_balls[i];
    const std::string words = fmt::format("fixed ball {}", i + 1);
    return fixed.at_mm.allFinite() ? check_carrier(d, words, fixed.on, fixed.blade)
                                   : words + ": a number is not finite";
}

namespace {

std::string check_levers(const Description& d) {
    std::string bad;
    const auto try_all = [&](std::size_t count, auto&& check) {
        for (std::size_t i = 0; i < count && bad.empty(); ++i) bad = check(d, i);
    };
    try_all(d.levers.size(), check_lever);
    try_all(d.sliders.size(), check_slider);
    try_all(d.grips.size(), check_grip);
    try_all(d.fixed_balls.size(), check_fixed_ball);
    return bad.empty() ? check_ends(d) : bad;
}

std::string check_servo(const Description& d, std::size_t j) {
    const Servo& servo = d.servos[j];
    if (!finite(servo)) return fmt::format("servo {}: a number is not finite", servo.name);
    if (!(servo.horn_mm > 0))
        return fmt::format("servo {}: horn_mm must be above 0, found {}", servo.name, servo.horn_mm);
    if (!(servo.axis.norm() > 0) || !(servo.horn_zero.norm() > 0))
        return fmt::format("servo {}: axis and horn_zero must not be zero vectors", servo.name);
    const double lean =
        std::asin(std::min(1.0, std::abs(servo.axis.normalized().dot(servo.horn_zero.normalized())))) / degree;
    if (lean > 0.1)
        return fmt::format("servo {}: horn_zero must be perpendicular to axis within 0.1 deg, it is {:.2f} deg off",
                           servo.name, lean);
    if (d.kind == Kind::main && j >= d.swashplate.inner_balls.size() &&
        !(servo.collective_weight && servo.aileron_weight && servo.elevator_weight))
        return fmt::format(
            "servo {}: no inner ball has its number, so what each stick does to it cannot be told; add "
            "collective_weight, aileron_weight and elevator_weight",
            servo.name);
    if (!servo.raise && linked_straight(d, j) && std::abs(rise(servo, servo.neutral_deg + servo.trim_deg)) < 0.1)
        return fmt::format(
            "servo {}: at neutral the horn stands nearly upright, so which way raises its ball cannot be told; "
            "add raise = 1 or raise = -1",
            servo.name);
    return {};
}

bool above_zero(std::initializer_list<std::optional<double>> numbers) {
    return std::ranges::all_of(numbers, [](const auto& n) { return !n || (*n > 0 && std::isfinite(*n)); });
}

bool all_finite(std::initializer_list<std::optional<double>> numbers) {
    return std::ranges::all_of(numbers, [](const auto& n) { return std::isfinite(n.value_or(0)); });
}

/// What decides the forces in flight.
std::string check_flight(const Description& d) {
    for (const Servo& servo : d.servos) {
        const ServoRating& rating = servo.rating;
        if (!above_zero({rating.torque_ncm, rating.torque_kgcm, rating.seconds_per_60deg, rating.rated_volts}))
            return fmt::format("servo {}: torque, seconds_per_60deg and rated_volts must be above 0", servo.name);
        if (rating.torque_ncm && rating.torque_kgcm)
            return fmt::format("servo {}: torque_ncm and torque_kgcm are the same thing; give one of them", servo.name);
    }
    for (std::size_t k = 0; k < d.grips.size(); ++k)
        for (const BalanceWeight& weight : d.grips[k].weights)
            if (!above_zero({weight.mass_g}) || !all_finite({weight.along_mm, weight.lead_mm, weight.up_mm}))
                return fmt::format("grip {}: mass_g of a weight must be above 0, its place finite", k + 1);
    const Blade& blade = d.blade;
    if (!above_zero({blade.thickness_mm, blade.mass_along_mm, blade.mass_spread_mm, blade.lift_slope_per_rad}) ||
        !all_finite({blade.bolt_ahead_mm, blade.mass_ahead_mm, blade.edge_ahead_mm, blade.moment_coefficient,
                     blade.profile_drag}))
        return "blade: thickness_mm, mass_along_mm, mass_spread_mm and lift_slope_per_rad must be above 0, all finite";
    const Flight& flight = d.flight;
    if (!above_zero({flight.model_mass_kg, flight.power_w, flight.gear_efficiency}) ||
        flight.gear_efficiency.value_or(1) > 1 || !all_finite({flight.air_temperature_c, flight.air_height_m}))
        return "flight: model_mass_kg, power_w and gear_efficiency must be above 0, the last at most 1, all finite";
    return {};
}

/// What no pose depends on but studies divide by or add up.
std::string check_making(const Description& d) {
    for (const Servo& servo : d.servos) {
        if (!std::isfinite(servo.pulse_centre_us) || !std::isfinite(servo.pulse_deg_per_us) ||
            servo.pulse_deg_per_us == 0)
            return fmt::format("servo {}: pulse_centre_us and pulse_deg_per_us must be finite, the latter not 0",
                               servo.name);
        if (servo.spline_teeth < 2)
            return fmt::format("servo {}: spline_teeth must be 2 or more, found {}", servo.name, servo.spline_teeth);
        for (const double hole : servo.horn_holes_mm)
            if (!(hole > 0) || !std::isfinite(hole))
                return fmt::format("servo {}: horn_holes_mm must be above 0, found {}", servo.name, hole);
    }
    for (const PartName& part : links_of(d)) {
        const Link& link = *link_of(d, part);
        const double sum = link.thread_pitch_mm + link.play_mm + link.boss_mm[0] + link.boss_mm[1] +
                           link.end_length_mm[0] + link.end_length_mm[1] + link.ball_mm[0] + link.ball_mm[1] +
                           link.end_twist_deg + link.rod_mm;
        for (std::size_t e = 0; e < 2; ++e)
            if (link.tilt_limit_deg ? !((*link.tilt_limit_deg)[e] > 0)
                                    : !(std::hypot(link.socket_mm[e], link.neck_mm[e]) < link.ball_mm[e]))
                return fmt::format(
                    "{}: an end cannot tilt: socket_mm and neck_mm are too large for ball_mm, or tilt_limit_deg is not "
                    "above 0",
                    link_words(d, part));
        if (link.rod_length_mm && (!(*link.rod_length_mm > 0) || !std::isfinite(*link.rod_length_mm)))
            return fmt::format("{}: rod_length_mm must be above 0", link_words(d, part));
        if (!std::isfinite(sum) || !(link.thread_pitch_mm > 0) || link.play_mm < 0)
            return fmt::format("{}: thread_pitch_mm must be above 0, play_mm not below it, and all sizes finite",
                               link_words(d, part));
    }
    const auto& ring = d.swashplate;
    const auto aims = [](const Vec3& v) { return v.norm() > 0 && std::isfinite(v.norm()); };
    bool aimed = aims(ring.inner_stud) && aims(ring.outer_stud);
    for (const Servo& servo : d.servos) aimed = aimed && aims(servo.stud);
    for (const Grip& grip : d.grips) aimed = aimed && (!grip.stud || aims(*grip.stud));
    if (!aimed) return "a stud's direction is zero or not finite";
    for (const auto& range : {ring.height_stops_mm, ring.driver_reach_mm})
        if (range && !((*range)[0] < (*range)[1]))
            return "swashplate: height_stops_mm and driver_reach_mm are [least, most]";
    if (!std::isfinite(ring.lower_face_mm.value_or(0))) return "swashplate: lower_face_mm is not finite";
    if (d.measured_from && !std::isfinite(d.measured_from->height_mm)) return "measure_from: height_mm is not finite";
    if (ring.tilt_limit_deg && !(*ring.tilt_limit_deg > 0)) return "swashplate: tilt_limit_deg must be above 0";
    const Blade& blade = d.blade;
    for (const auto& size : {blade.chord_mm, blade.mass_g, blade.bolt_mm})
        if (size && (!(*size > 0) || !std::isfinite(*size)))
            return "blade: chord_mm, mass_g and bolt_mm must be above 0";
    if (!std::isfinite(blade.flap_hinge_mm + blade.flap_stiffness_nm)) return "blade: a number is not finite";
    return check_flight(d);
}

}  // namespace

std::string check(const Description& d) {
    if (auto complaint = check_counts(d); !complaint.empty()) return complaint;
    if (auto complaint = check_levers(d); !complaint.empty()) return complaint;
    for (std::size_t j = 0; j < d.servos.size(); ++j)
        if (auto complaint = check_servo(d, j); !complaint.empty()) return complaint;
    bool all = std::isfinite(d.rotor.hub_height_mm + d.rotor.precone_deg + d.swashplate.neutral_height_mm +
                             d.swashplate.guide_turn_deg + d.swashplate.driver_turn_deg + d.mixing.collective_deg +
                             d.mixing.cyclic_deg + d.mixing.phase_deg + d.mixing.rudder_deg) &&
               finite(d.swashplate.guide_pin);
    for (const auto* balls : {&d.swashplate.inner_balls, &d.swashplate.outer_balls, &d.swashplate.driver_pins})
        for (const Polar& ball : *balls) all = all && finite(ball);
    for (const Grip& grip : d.grips)
        all = all && std::isfinite(grip.pitch_arm.along_mm + grip.pitch_arm.lead_mm + grip.pitch_arm.up_mm +
                                   grip.pitch_offset_deg);
    if (!all) return "a number of the head is not finite";
    for (const PartName& link : links_of(d))
        if (const double length = link_of(d, link)->actual_mm(); !(length > 0) || !std::isfinite(length))
            return fmt::format("{}: length_mm plus error_mm must be above 0, found {}", link_words(d, link), length);
    return check_making(d);
}

}  // namespace swashwright::head
