#include "kinematics/head/build.h"

#include <fmt/format.h>

#include <cmath>

namespace swashwright::head {

using linkage::Joint;

double hub_angle(const Description& description, double azimuth_deg) {
    return pi + spin_sign(description.rotor.direction) * azimuth_deg * degree;
}

double mixing_angle(const Description& d, std::size_t servo) {
    const double azimuth_deg = d.servos[servo].mixer_azimuth_deg.value_or(d.swashplate.inner_balls[servo].angle_deg);
    return (azimuth_deg + d.mixing.phase_deg) * degree;
}

std::array<double, 3> mixing_weights(const Description& description, std::size_t servo) {
    const Servo& s = description.servos[servo];
    const double angle = mixing_angle(description, servo);
    return {s.collective_weight.value_or(1.0), s.aileron_weight.value_or(std::sin(angle)),
            s.elevator_weight.value_or(-std::cos(angle))};
}

double tilt_forward_deg(const Vec3& n) {
    return angle_of(n.z(), n.x()) / degree;
}
double tilt_right_deg(const Vec3& n) {
    return angle_of(n.z(), -n.y()) / degree;
}

double ahead_angle(const Description& description, double ahead_deg) {
    return spin_sign(description.rotor.direction) * ahead_deg * degree;
}

Vec3 inner_ring_point(const Polar& place) {
    const double angle = place.angle_deg * degree;
    return {place.radius_mm * std::cos(angle), place.radius_mm * std::sin(angle), place.height_mm};
}

Vec3 outer_ring_point(const Description& description, const Polar& place) {
    const double angle = ahead_angle(description, place.angle_deg);
    return {place.radius_mm * std::cos(angle), place.radius_mm * std::sin(angle), place.height_mm};
}

Vec3 shaft_axis(const Servo& servo) {
    return servo.axis.normalized();
}

Vec3 horn_zero(const Servo& servo) {
    const Vec3 axis = shaft_axis(servo);
    return (servo.horn_zero - servo.horn_zero.dot(axis) * axis).normalized();
}

double rise(const Servo& servo, double angle_deg) {
    const Vec3 u = horn_zero(servo), v = shaft_axis(servo).cross(u);
    const double angle = angle_deg * degree;
    return std::cos(angle) * v.z() - std::sin(angle) * u.z();
}

int raise_sign(const Servo& servo) {
    return servo.raise.value_or(rise(servo, servo.neutral_deg + servo.trim_deg) < 0 ? -1 : 1);
}

Placement grip_frame(const Description& description, int blade) {
    const double s = spin_sign(description.rotor.direction);
    const double position = ahead_angle(description, 360.0 * blade / description.rotor.blades);
    const double cone = description.rotor.precone_deg * degree;
    const Vec3 out(std::cos(position), std::sin(position), 0);
    const Vec3 lead = s * Vec3(-std::sin(position), std::cos(position), 0);
    const Vec3 up = -std::sin(cone) * out + std::cos(cone) * Vec3::UnitZ();
    Placement frame;
    frame.turn << lead, up, lead.cross(up);
    frame.origin = {0, 0, description.rotor.hub_height_mm};
    return frame;
}

namespace {

Placement servo_frame(const Servo& servo) {
    Placement frame;
    const Vec3 u = horn_zero(servo), k = shaft_axis(servo);
    frame.turn << u, k.cross(u), k;
    frame.origin = pivot_point(servo.pivot_mm);
    return frame;
}

Vec3 plane_normal(double angle) {
    return {-std::sin(angle), std::cos(angle), 0};
}

/// Servos, both rings and the hub.
void add_bodies(const Description& d, Assembly& out) {
    auto& linkage = out.linkage;
    const auto ground = linkage::Description::ground;
    for (const Servo& servo : d.servos)
        out.parts.horns.push_back(
            linkage.add_body({.name = "horn of servo " + servo.name,
                              .parent = ground,
                              .joint_frame = servo_frame(servo),
                              .joint = Joint::revolute,
                              .input = true,
                              .neutral = {.angle = (servo.neutral_deg + servo.trim_deg) * degree}}));
    out.parts.inner_ring = linkage.add_body({.name = "inner ring",
                                             .parent = ground,
                                             .joint_frame = {},
                                             .joint = Joint::slide_and_ball,
                                             .neutral = {.slide = d.swashplate.neutral_height_mm}});
    out.parts.outer_ring = linkage.add_body({.name = "outer ring",
                                             .parent = out.parts.inner_ring,
                                             .joint_frame = {},
                                             .joint = Joint::revolute,
                                             .neutral = {.angle = pi}});
    out.parts.hub = linkage.add_body({.name = "hub",
                                      .parent = ground,
                                      .joint_frame = {},
                                      .joint = Joint::revolute,
                                      .input = true,
                                      .neutral = {.angle = pi}});
    for (int k = 0; k < d.rotor.blades; ++k)
        out.parts.grips.push_back(linkage.add_body({.name = fmt::format("grip {}", k + 1),
                                                    .parent = out.parts.hub,
                                                    .joint_frame = grip_frame(d, k),
                                                    .joint = Joint::revolute,
                                                    .neutral = {}}));
}

void add_lower_side(const Description& d, Assembly& out) {
    auto& linkage = out.linkage;
    const auto ground = linkage::Description::ground;
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        out.parts.horn_balls.push_back(linkage.add_anchor(out.parts.horns[j], {d.servos[j].horn_mm, 0, 0}));
        out.parts.inner_balls.push_back(
            linkage.add_anchor(out.parts.inner_ring, inner_ring_point(d.swashplate.inner_balls[j])));
        out.parts.lower_links.push_back(linkage.add_link(fmt::format("lower link {}", j + 1), out.parts.horn_balls[j],
                                                         out.parts.inner_balls[j], d.lower_links[j].actual_mm()));
    }
    const Polar& pin = d.swashplate.guide_pin;
    out.parts.guide_pin = linkage.add_anchor(out.parts.inner_ring, inner_ring_point(pin));
    const auto shaft = linkage.add_anchor(ground, Vec3::Zero());
    out.parts.guide_slot = linkage.add_slot("guide pin", out.parts.guide_pin, shaft,
                                            plane_normal((pin.angle_deg + d.swashplate.guide_turn_deg) * degree));
}

void add_upper_side(const Description& d, Assembly& out) {
    auto& linkage = out.linkage;
    const auto shaft = linkage.add_anchor(out.parts.hub, Vec3::Zero());
    const auto& pins = d.swashplate.driver_pins;
    for (std::size_t i = 0; i < pins.size(); ++i) {
        out.parts.driver_pins.push_back(linkage.add_anchor(out.parts.outer_ring, outer_ring_point(d, pins[i])));
        const double plane = ahead_angle(d, pins[i].angle_deg + d.swashplate.driver_turn_deg);
        // More than one driver pin is one equation too many: they yield last of all and share what is left.
        out.parts.driver_slots.push_back(
            linkage.add_slot(pins.size() > 1 ? fmt::format("driver pin {}", i + 1) : "driver pin",
                             out.parts.driver_pins[i], shaft, plane_normal(plane), pins.size() > 1 ? 2 : 0));
    }
    const double s = spin_sign(d.rotor.direction);
    for (int k = 0; k < d.rotor.blades; ++k) {
        const PitchArm& arm = d.grips[k].pitch_arm;
        out.parts.outer_balls.push_back(
            linkage.add_anchor(out.parts.outer_ring, outer_ring_point(d, d.swashplate.outer_balls[k])));
        out.parts.grip_balls.push_back(
            linkage.add_anchor(out.parts.grips[k], {arm.lead_mm, arm.up_mm, s * arm.along_mm}));
        out.parts.upper_links.push_back(linkage.add_link(fmt::format("upper link {}", k + 1), out.parts.outer_balls[k],
                                                         out.parts.grip_balls[k], d.upper_links[k].actual_mm()));
    }
}

bool finite(const Polar& p) {
    return std::isfinite(p.radius_mm) && std::isfinite(p.angle_deg) && std::isfinite(p.height_mm);
}

bool finite(const Servo& s) {
    double sum = s.horn_mm + s.neutral_deg + s.trim_deg + s.mixer_azimuth_deg.value_or(0) +
                 s.collective_weight.value_or(0) + s.aileron_weight.value_or(0) + s.elevator_weight.value_or(0);
    return std::isfinite(sum) && pivot_point(s.pivot_mm).allFinite() && s.axis.allFinite() && s.horn_zero.allFinite();
}

std::string check_counts(const Description& d) {
    const auto blades = static_cast<std::size_t>(std::max(0, d.rotor.blades));
    if (d.rotor.blades < 2 || d.rotor.blades > 6)
        return fmt::format("a head has 2 to 6 blades, found {}", d.rotor.blades);
    if (d.servos.size() != 3) return fmt::format("three servos are expected, found {}", d.servos.size());
    const auto need = [](const char* what, std::size_t found, std::size_t wanted, const char* each) {
        return found == wanted ? std::string{}
                               : fmt::format("{} {} expected, one for each {}; found {}", wanted, what, each, found);
    };
    for (const auto& complaint :
         {need("inner balls", d.swashplate.inner_balls.size(), d.servos.size(), "servo"),
          need("lower links", d.lower_links.size(), d.servos.size(), "servo"),
          need("outer balls", d.swashplate.outer_balls.size(), blades, "blade"),
          need("upper links", d.upper_links.size(), blades, "blade"), need("grips", d.grips.size(), blades, "blade")})
        if (!complaint.empty()) return complaint;
    if (d.swashplate.driver_pins.empty())
        return "at least one driver pin is expected: nothing else turns the outer ring";
    return {};
}

std::string check_servo(const Servo& servo) {
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
    if (!servo.raise && std::abs(rise(servo, servo.neutral_deg + servo.trim_deg)) < 0.1)
        return fmt::format(
            "servo {}: at neutral the horn stands nearly upright, so which way raises its ball cannot be told; "
            "add raise = 1 or raise = -1",
            servo.name);
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
    for (const auto* links : {&d.lower_links, &d.upper_links})
        for (std::size_t i = 0; i < links->size(); ++i) {
            const Link& link = (*links)[i];
            const double sum = link.thread_pitch_mm + link.play_mm + link.boss_mm[0] + link.boss_mm[1] +
                               link.end_length_mm[0] + link.end_length_mm[1] + link.ball_mm[0] + link.ball_mm[1] +
                               link.end_twist_deg + link.rod_mm;
            for (std::size_t e = 0; e < 2; ++e)
                if (link.tilt_limit_deg ? !((*link.tilt_limit_deg)[e] > 0)
                                        : !(std::hypot(link.socket_mm[e], link.neck_mm[e]) < link.ball_mm[e]))
                    return fmt::format(
                        "{} link {}: an end cannot tilt: socket_mm and neck_mm are too large for ball_mm, or "
                        "tilt_limit_deg is not above 0",
                        links == &d.lower_links ? "lower" : "upper", i + 1);
            if (!std::isfinite(sum) || !(link.thread_pitch_mm > 0) || link.play_mm < 0)
                return fmt::format(
                    "{} link {}: thread_pitch_mm must be above 0, play_mm not below it, and all sizes finite",
                    links == &d.lower_links ? "lower" : "upper", i + 1);
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
    if (ring.tilt_limit_deg && !(*ring.tilt_limit_deg > 0)) return "swashplate: tilt_limit_deg must be above 0";
    const Blade& blade = d.blade;
    for (const auto& size : {blade.chord_mm, blade.mass_g, blade.bolt_mm})
        if (size && (!(*size > 0) || !std::isfinite(*size)))
            return "blade: chord_mm, mass_g and bolt_mm must be above 0";
    if (!std::isfinite(blade.flap_hinge_mm + blade.flap_stiffness_nm)) return "blade: a number is not finite";
    return {};
}

}  // namespace

std::string check(const Description& d) {
    if (auto complaint = check_counts(d); !complaint.empty()) return complaint;
    for (const Servo& servo : d.servos)
        if (auto complaint = check_servo(servo); !complaint.empty()) return complaint;
    bool all = std::isfinite(d.rotor.hub_height_mm + d.rotor.precone_deg + d.swashplate.neutral_height_mm +
                             d.swashplate.guide_turn_deg + d.swashplate.driver_turn_deg + d.mixing.collective_deg +
                             d.mixing.cyclic_deg + d.mixing.phase_deg) &&
               finite(d.swashplate.guide_pin);
    for (const auto* balls : {&d.swashplate.inner_balls, &d.swashplate.outer_balls, &d.swashplate.driver_pins})
        for (const Polar& ball : *balls) all = all && finite(ball);
    for (const Grip& grip : d.grips)
        all = all && std::isfinite(grip.pitch_arm.along_mm + grip.pitch_arm.lead_mm + grip.pitch_arm.up_mm +
                                   grip.pitch_offset_deg);
    if (!all) return "a number of the head is not finite";
    for (const auto* links : {&d.lower_links, &d.upper_links})
        for (std::size_t i = 0; i < links->size(); ++i)
            if (const double length = (*links)[i].actual_mm(); !(length > 0) || !std::isfinite(length))
                return fmt::format("{} link {}: length_mm plus error_mm must be above 0, found {}",
                                   links == &d.lower_links ? "lower" : "upper", i + 1, length);
    return check_making(d);
}

Assembly assemble(const Description& description) {
    Assembly out;
    add_bodies(description, out);
    add_lower_side(description, out);
    add_upper_side(description, out);
    return out;
}

}  // namespace swashwright::head
