#include "kinematics/head/build.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/command.h"
#include "kinematics/head/inventory.h"

namespace swashwright::head {

using linkage::Joint;

double hub_angle(const Description& description, double azimuth_deg) {
    return pi + spin_sign(description.rotor.direction) * azimuth_deg * degree;
}

double mixing_angle(const Description& d, std::size_t servo) {
    const auto& balls = d.swashplate.inner_balls;
    const double own_deg = servo < balls.size() ? balls[servo].angle_deg : 0;  // else the scene gives the weights
    return (d.servos[servo].mixer_azimuth_deg.value_or(own_deg) + d.mixing.phase_deg) * degree;
}

StickGains mixing_weights(const Description& description, std::size_t servo) {
    if (description.kind == Kind::tail) return {0, 0, 0, 1};
    const Servo& s = description.servos[servo];
    const double angle = mixing_angle(description, servo);
    return {s.collective_weight.value_or(1.0), s.aileron_weight.value_or(std::sin(angle)),
            s.elevator_weight.value_or(-std::cos(angle)), 0};
}

double end_share(const Servo& servo, double command_deg) {
    return end_share(servo.end_share, command_deg);
}

bool linked_straight(const Description& description, std::size_t servo) {
    const auto joins = [&](const std::array<BallName, 2>& ends) {
        const BallName horn{BallName::Of::servo, static_cast<int>(servo)};
        return (ends[0] == horn && ends[1].of == BallName::Of::inner_ball) ||
               (ends[1] == horn && ends[0].of == BallName::Of::inner_ball);
    };
    return std::ranges::any_of(links_of(description), [&](const PartName& link) {
        const auto ends = ends_of(description, link);
        return ends && joins(*ends);
    });
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

Mat3 carrier_axes(const Description& description, const Carrier& carrier, int blade) {
    const double s = spin_sign(description.rotor.direction);
    Mat3 axes = Mat3::Identity();
    if (carrier.on == Carrier::On::hub || carrier.on == Carrier::On::outer_ring) {
        const double position = ahead_angle(description, 360.0 * blade / description.rotor.blades);
        axes << Vec3(std::cos(position), std::sin(position), 0), s * Vec3(-std::sin(position), std::cos(position), 0),
            Vec3::UnitZ();
    }
    if (carrier.on == Carrier::On::grip) axes << s * Vec3::UnitZ(), Vec3::UnitX(), Vec3::UnitY();
    return axes;
}

namespace {

/// A joint frame from its place, axis and zero direction, in the terms that `axes` say.
Placement joint_frame(const Mat3& axes, const Vec3& at, const Vec3& axis, const Vec3& zero) {
    const Vec3 z = (axes * axis).normalized(), towards = axes * zero;
    const Vec3 x = (towards - towards.dot(z) * z).normalized();
    Placement frame;
    frame.turn << x, z.cross(x), z;
    frame.origin = axes * at;
    return frame;
}

}  // namespace

Placement lever_frame(const Description& description, const Lever& lever) {
    return joint_frame(carrier_axes(description, lever.on, lever.blade), lever.pivot_mm, lever.axis, lever.zero);
}

Placement slider_frame(const Description& description, const Slider& slider) {
    return joint_frame(carrier_axes(description, slider.on, slider.blade), slider.at_mm, slider.axis, slider.zero);
}

namespace {

Placement servo_frame(const Servo& servo) {
    return joint_frame(Mat3::Identity(), pivot_point(servo.pivot_mm), servo.axis, servo.horn_zero);
}

Vec3 plane_normal(double angle) {
    return {-std::sin(angle), std::cos(angle), 0};
}

/// Bodies first, parents before what they carry; then balls; then what ties them.
class Assembler {
public:
    explicit Assembler(const Description& description) : d_(description) {}

    Assembly run() {
        add_servos_and_rings();
        add_hub_and_grips();
        for (std::size_t i = 0; i < d_.levers.size(); ++i) lever(i);
        for (std::size_t i = 0; i < d_.sliders.size(); ++i) slider(i);
        number_inputs();
        add_balls();
        add_lower_side();
        add_upper_side();
        add_others();
        return std::move(out_);
    }

private:
    linkage::BodyId turning(std::string name, linkage::BodyId parent, const Placement& frame, double angle = 0,
                            bool input = false) {
        return out_.linkage.add_body({.name = std::move(name),
                                      .parent = parent,
                                      .joint_frame = frame,
                                      .joint = Joint::revolute,
                                      .input = input,
                                      .neutral = {.angle = angle}});
    }

    void add_servos_and_rings() {
        for (const Servo& servo : d_.servos)
            p_.horns.push_back(turning("horn of servo " + servo.name, ground, servo_frame(servo),
                                       (servo.neutral_deg + servo.trim_deg) * degree, true));
        p_.inner_ring = out_.linkage.add_body({.name = d_.swashplate.tilts ? "inner ring" : "pitch slider",
                                               .parent = ground,
                                               .joint_frame = {},
                                               .joint = d_.swashplate.tilts ? Joint::slide_and_ball : Joint::prismatic,
                                               .neutral = {.slide = d_.swashplate.neutral_height_mm}});
        p_.outer_ring = turning("outer ring", p_.inner_ring, {}, pi);
    }

    void add_hub_and_grips() {
        p_.hub = turning("hub", ground, {}, pi, true);
        p_.grips.resize(d_.grips.size());
        p_.levers.resize(d_.levers.size());
        p_.sliders.resize(d_.sliders.size());
        for (std::size_t k = 0; k < d_.grips.size(); ++k) grip(k);
    }

    linkage::BodyId grip(std::size_t k) {
        if (p_.grips[k].index >= 0) return p_.grips[k];
        linkage::BodyId parent = p_.hub;
        Placement frame = grip_frame(d_, static_cast<int>(k));
        if (d_.grips[k].lever) {
            const auto on = static_cast<std::size_t>(*d_.grips[k].lever);
            parent = lever(on);
            const Placement at = on_hub(on);  // with every lever below it at its angle 0
            frame = {at.turn.transpose() * frame.turn, at.turn.transpose() * (frame.origin - at.origin)};
        }
        return p_.grips[k] = turning(fmt::format("grip {}", k + 1), parent, frame);
    }
    /// A lever's frame in the hub's, all at angle 0.
    Placement on_hub(std::size_t i) const {
        const Placement frame = lever_frame(d_, d_.levers[i]);
        if (d_.levers[i].on.on != Carrier::On::lever) return frame;
        const Placement below = on_hub(static_cast<std::size_t>(d_.levers[i].on.index));
        return {below.turn * frame.turn, below * frame.origin};
    }

    linkage::BodyId lever(std::size_t i) {
        if (p_.levers[i].index >= 0) return p_.levers[i];
        const Lever& lever = d_.levers[i];
        const linkage::BodyId parent = body_of(lever.on);
        return p_.levers[i] = turning(lever_words(i), parent, lever_frame(d_, lever), lever.angle_deg * degree,
                                      !!lever.by_hand_deg);
    }
    linkage::BodyId slider(std::size_t i) {
        if (p_.sliders[i].index >= 0) return p_.sliders[i];
        const Slider& slider = d_.sliders[i];
        const linkage::BodyId parent = body_of(slider.on);
        return p_.sliders[i] =
                   out_.linkage.add_body({.name = slider.name.empty() ? fmt::format("slider {}", i + 1) : slider.name,
                                          .parent = parent,
                                          .joint_frame = slider_frame(d_, slider),
                                          .joint = Joint::prismatic,
                                          .neutral = {.slide = slider.place_mm}});
    }
    std::string lever_words(std::size_t i) const {
        return d_.levers[i].name.empty() ? fmt::format("lever {}", i + 1) : d_.levers[i].name;
    }
    linkage::BodyId body_of(const Carrier& carrier) {
        const auto i = static_cast<std::size_t>(carrier.index);
        using enum Carrier::On;
        switch (carrier.on) {
            case frame:
                return ground;
            case inner_ring:
                return p_.inner_ring;
            case outer_ring:
                return p_.outer_ring;
            case hub:
                return p_.hub;
            case grip:
                return Assembler::grip(i);
            case lever:
                return Assembler::lever(i);
            case slider:
                break;
        }
        return Assembler::slider(i);
    }

    /// In the order of bodies: what the plan expects.
    void number_inputs() {
        int next = 0;
        const auto& bodies = out_.linkage.bodies();
        for (int b = 1; b < static_cast<int>(bodies.size()); ++b) {
            if (!bodies[b].input) continue;
            if (b == p_.hub.index) p_.hub_input = next;
            for (std::size_t i = 0; i < p_.levers.size(); ++i)
                if (p_.levers[i].index == b) p_.hands.push_back({static_cast<int>(i), next});
            ++next;
        }
    }

    linkage::AnchorId ball(linkage::BodyId body, const Vec3& at) { return out_.linkage.add_anchor(body, at); }

    void add_balls() {
        for (std::size_t j = 0; j < d_.servos.size(); ++j)
            p_.horn_balls.push_back(ball(p_.horns[j], {d_.servos[j].horn_mm, 0, 0}));
        for (const Polar& place : d_.swashplate.inner_balls)
            p_.inner_balls.push_back(ball(p_.inner_ring, inner_ring_point(place)));
        for (const Polar& place : d_.swashplate.outer_balls)
            p_.outer_balls.push_back(ball(p_.outer_ring, outer_ring_point(d_, place)));
        const double s = spin_sign(d_.rotor.direction);
        for (std::size_t k = 0; k < d_.grips.size(); ++k) {
            const PitchArm& arm = d_.grips[k].pitch_arm;
            p_.grip_balls.push_back(ball(p_.grips[k], {arm.lead_mm, arm.up_mm, s * arm.along_mm}));
        }
        for (std::size_t i = 0; i < d_.levers.size(); ++i)
            for (p_.lever_balls.emplace_back(); const Vec3& at : d_.levers[i].balls_mm)
                p_.lever_balls[i].push_back(ball(p_.levers[i], at));
        for (std::size_t i = 0; i < d_.sliders.size(); ++i)
            for (p_.slider_balls.emplace_back(); const Vec3& at : d_.sliders[i].balls_mm)
                p_.slider_balls[i].push_back(ball(p_.sliders[i], at));
        for (const FixedBall& fixed : d_.fixed_balls)
            p_.fixed_balls.push_back(ball(body_of(fixed.on), carrier_axes(d_, fixed.on, fixed.blade) * fixed.at_mm));
    }
    /// Of links and pins (see `linkage::Closure::priority`): first those that hold what does not turn with the rotor,
    /// so that a misfit of the rotating side never moves the swashplate.
    int priority_of(const std::array<BallName, 2>& ends) const {
        return rotates(p_.ball(ends[0])) || rotates(p_.ball(ends[1])) ? 2 : 1;
    }
    bool rotates(linkage::AnchorId ball) const {
        const auto& bodies = out_.linkage.bodies();
        for (int b = out_.linkage.anchors()[ball.index].body.index; b > 0; b = bodies[b].parent.index)
            if (b == p_.hub.index || b == p_.outer_ring.index) return true;
        return false;
    }
    void links(Role kind, std::vector<linkage::ClosureId>& closures) {
        for (int i = 0; i < static_cast<int>(count_of(d_, kind)); ++i) {
            const PartName link{kind, i};
            const auto ends = *ends_of(d_, link);
            closures.push_back(out_.linkage.add_link(link_words(d_, link), p_.ball(ends[0]), p_.ball(ends[1]),
                                                     link_of(d_, link)->actual_mm(), priority_of(ends)));
        }
    }

    void add_lower_side() {
        links(Role::lower_link, p_.lower_links);
        if (!d_.swashplate.guided || !d_.swashplate.tilts) return;
        const Polar& pin = d_.swashplate.guide_pin;
        p_.guide_pin = ball(p_.inner_ring, inner_ring_point(pin));
        p_.guide_slot = out_.linkage.add_slot("guide pin", p_.guide_pin, ball(ground, Vec3::Zero()),
                                              plane_normal((pin.angle_deg + d_.swashplate.guide_turn_deg) * degree));
    }

    void add_upper_side() {
        const auto& pins = d_.swashplate.driver_pins;
        const auto shaft = pins.empty() ? linkage::AnchorId{} : ball(p_.hub, Vec3::Zero());
        for (std::size_t i = 0; i < pins.size(); ++i) {
            p_.driver_pins.push_back(ball(p_.outer_ring, outer_ring_point(d_, pins[i])));
            const double plane = ahead_angle(d_, pins[i].angle_deg + d_.swashplate.driver_turn_deg);
            // More than one driver pin is one equation too many: they come last of all and share what is left.
            p_.driver_slots.push_back(
                out_.linkage.add_slot(pins.size() > 1 ? fmt::format("driver pin {}", i + 1) : "driver pin",
                                      p_.driver_pins[i], shaft, plane_normal(plane), pins.size() > 1 ? 3 : 0));
        }
        links(Role::upper_link, p_.upper_links);
    }

    void add_others() {
        links(Role::other_link, p_.links);
        for (std::size_t i = 0; i < d_.pins.size(); ++i) {
            const Pin& pin = d_.pins[i];
            p_.pins.push_back(out_.linkage.add_coincidence(pin.name.empty() ? fmt::format("pin {}", i + 1) : pin.name,
                                                           p_.ball(pin.ends[0]), p_.ball(pin.ends[1]),
                                                           priority_of(pin.ends)));
        }
    }

    static constexpr auto ground = linkage::Description::ground;
    const Description& d_;
    Assembly out_;
    Parts& p_ = out_.parts;
};

}  // namespace

linkage::AnchorId Parts::ball(const BallName& name) const {
    const auto i = static_cast<std::size_t>(name.index), b = static_cast<std::size_t>(name.ball);
    using enum BallName::Of;
    switch (name.of) {
        case servo:
            return horn_balls[i];
        case inner_ball:
            return inner_balls[i];
        case outer_ball:
            return outer_balls[i];
        case grip:
            return grip_balls[i];
        case lever:
            return lever_balls[i][b];
        case slider:
            return slider_balls[i][b];
        case fixed_ball:
            break;
    }
    return fixed_balls[i];
}

Assembly assemble(const Description& description) {
    return Assembler(description).run();
}

}  // namespace swashwright::head
