#include "kinematics/studies/measured/calliper_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <utility>

#include "kinematics/head/references.h"

namespace swashwright::studies {
namespace {

using head::BallName;
using head::Carrier;
using head::PartId;
using head::Role;

// Uncertainties as in measured_readings: a loose part 0.03 mm, over two balls 0.05 mm, between parts on the model 0.1
// mm, along an axis that is only seen 0.2 mm. Common practice, no source.
constexpr double loose = 0.03, over_balls = 0.05, on_model = 0.1, by_rule = 0.2;
constexpr double nearest_mm = 1;        // closer together no jaw goes, and a distance of 0 has no slope
constexpr std::size_t most_alike = 12;  // of spots on a part of which every pair is a place

/// Something on a part that a jaw or a rule is laid to.
struct Spot {
    std::string key, words, part;
    RoundEnd end = RoundEnd::ball;
    double end_mm = 0;
    linkage::AnchorId ball;        // a ball or pin of the part; else
    linkage::BodyId pivot;         // the pivot of what stands on it
    Mat3 axes = Mat3::Identity();  // directions in which a carrier's terms count, as columns
    bool slider = false;

    Vec3 in_part(const AtRest& at) const {
        const linkage::Description& l = at.assembly.linkage;
        return ball.index >= 0 ? l.anchors()[static_cast<std::size_t>(ball.index)].position
                               : l.bodies()[static_cast<std::size_t>(pivot.index)].joint_frame.origin;
    }
};

/// A body in the frame of one below it: horns where neutral has them, or all joints at 0.
Placement stands(const linkage::Description& l, linkage::BodyId body, linkage::BodyId in, bool neutral) {
    Placement out;
    for (int b = body.index; b != in.index && b > 0; b = l.bodies()[static_cast<std::size_t>(b)].parent.index) {
        const linkage::Body& at = l.bodies()[static_cast<std::size_t>(b)];
        if (neutral) out = {turn_about_z(at.neutral.angle) * out.turn, turn_about_z(at.neutral.angle) * out.origin};
        out = {at.joint_frame.turn * out.turn, at.joint_frame * out.origin};
    }
    return out;
}

double off_axis(const Vec3& at) {
    return std::hypot(at.x(), at.y());
}

/// A grip's point with the blade flat, in the grip's frame with the blade at angle 0.
Vec3 blade_flat(const AtRest& at, int blade, const Vec3& point) {
    const double offset = at.description.grips[static_cast<std::size_t>(blade)].pitch_offset_deg;
    return turn_about_z(-offset * degree) * point;
}

class Lister {
public:
    explicit Lister(const head::Head& head)
        : d_(head.description()), model_(head.model()), parts_(head.parts()), now_{d_, head::assemble(d_)} {
        balls_ = head::every_ball(d_);
    }

    std::vector<CalliperPlace> run() {
        alike_ = "links";
        for (const head::LinkRod& rod : model_.rods()) link(rod);
        const auto each = [&](std::initializer_list<Role> roles) {
            for (const Role role : roles)
                for (const head::Part& part : model_.parts())
                    if (part.role == role) inside(part);
        };
        each({Role::lever, Role::slider, Role::horn, Role::inner_ring, Role::outer_ring, Role::grip, Role::hub});
        across_grips();
        hub_height();
        each({Role::frame});
        alike_.clear();
        horn_balls();
        heights();
        return std::move(out_);
    }

private:
    /// Of the link that is held by it.
    double ball_diameter(linkage::AnchorId ball) const {
        for (const head::LinkRod& rod : model_.rods())
            for (std::size_t e = 0; e < 2; ++e)
                if (rod.ends[e].ball == ball) return rod.made.ball_mm[e];
        return head::Link{}.ball_mm[0];
    }

    Spot ball_spot(const BallName& name) const {
        Spot spot;
        spot.key = head::name_of(name);
        spot.ball = parts_.ball(name);
        spot.end_mm = ball_diameter(spot.ball);
        using enum BallName::Of;
        spot.words = name.of == servo || name.of == grip     ? "ball"
                     : name.of == fixed_ball                 ? fmt::format("fixed ball {}", name.index + 1)
                     : name.of == lever || name.of == slider ? fmt::format("ball {}", name.ball + 1)
                                                             : fmt::format("ball {}", name.index + 1);
        if (name.of == fixed_ball) {
            const head::FixedBall& fixed = d_.fixed_balls[static_cast<std::size_t>(name.index)];
            spot.axes = carrier_axes(d_, fixed.on, fixed.blade);
        }
        return spot;
    }
    Spot pivot_spot(const head::Part& part) const {
        Spot spot;
        spot.key = part.path + (part.role == Role::slider ? ".line" : ".pivot");
        spot.words =
            (part.role == Role::slider ? "line of " : "pivot of ") +
            (part.role == Role::horn ? head::servo_words(d_.servos[static_cast<std::size_t>(part.index)]) : part.label);
        spot.part = part.path;
        spot.end = part.role == Role::lever ? RoundEnd::pin : RoundEnd::none;
        spot.pivot = part.body;
        spot.slider = part.role == Role::slider;
        const auto i = static_cast<std::size_t>(part.index);
        if (part.role == Role::lever) spot.axes = carrier_axes(d_, d_.levers[i].on, d_.levers[i].blade);
        if (part.role == Role::slider) spot.axes = carrier_axes(d_, d_.sliders[i].on, d_.sliders[i].blade);
        return spot;
    }

    std::vector<Spot> spots_on(const head::Part& part) const {
        std::vector<Spot> out;
        const linkage::Description& l = now_.assembly.linkage;
        for (const BallName& name : balls_)
            if (l.anchors()[static_cast<std::size_t>(parts_.ball(name).index)].body == part.body)
                out.push_back(ball_spot(name));
        if (part.role == Role::outer_ring)
            for (std::size_t i = 0; i < parts_.driver_pins.size(); ++i) {
                const bool one = parts_.driver_pins.size() == 1;
                Spot pin;
                pin.key = one ? "driver_pin" : fmt::format("driver_pin[{}]", i + 1);
                pin.words = one ? "driver pin" : fmt::format("driver pin {}", i + 1);
                pin.end = RoundEnd::none;
                pin.ball = parts_.driver_pins[i];
                out.push_back(std::move(pin));
            }
        for (const head::Part& other : model_.parts())
            if ((other.role == Role::lever || other.role == Role::slider || other.role == Role::horn) &&
                other.on.index >= 0 && model_.part(other.on).body == part.body)
                out.push_back(pivot_spot(other));
        for (Spot& spot : out)
            if (spot.part.empty()) spot.part = part.path;
        return out;
    }

    CalliperPlace& add(const std::string& label, const std::string& part, std::string key, const std::string& words,
                       double sd, std::function<double(const AtRest&)> at_rest) {
        CalliperPlace place;
        place.key = std::move(key);
        place.words = label + ": " + words;
        place.part = part;
        place.group = alike_.empty() ? label : alike_;
        place.sd = sd;
        place.at_rest = std::move(at_rest);
        out_.push_back(std::move(place));
        return out_.back();
    }

    void link(const head::LinkRod& rod) {
        const head::Part& part = model_.part(rod.part);
        CalliperPlace& place =
            add(part.label, part.path, part.path, "ball to ball", loose, [c = rod.closure](const AtRest& at) {
                return at.assembly.linkage.closures()[static_cast<std::size_t>(c.index)].length;
            });
        place.ends = {RoundEnd::boss, RoundEnd::boss};
        place.end_mm = rod.made.boss_mm;
    }

    /// Everything inside one rigid part.
    void inside(const head::Part& part) {
        alike_ = part.role == Role::horn ? "horns" : part.role == Role::grip ? "grips" : "";
        const std::vector<Spot> spots = spots_on(part);
        for (const Spot& spot : spots) to_axis(part, spot);
        for (std::size_t i = 0; i < spots.size(); ++i)
            for (std::size_t j = i + 1; j < spots.size(); ++j)
                if (spots.size() <= most_alike || j - i <= 2) apart(part, spots[i], spots[j]);
        for (const Spot& spot : spots) {
            along_axis(part, spot);
            across_axis(part, spot);
        }
    }

    void to_axis(const head::Part& part, const Spot& spot) {
        const auto value = [spot](const AtRest& at) { return off_axis(spot.in_part(at)); };
        if (value(now_) < nearest_mm) return;
        const bool turns = part.role == Role::lever || part.role == Role::horn, grip = part.role == Role::grip;
        const bool line = part.role == Role::slider;
        const char* axis = turns ? "pivot" : grip ? "feathering axis" : line ? "line" : "shaft";
        const char* words = turns ? "pivot" : grip ? "the feathering axis" : line ? "its line" : "the shaft";
        CalliperPlace& place = add(part.label, spot.part, spot.key + " to " + axis, spot.words + " to " + words,
                                   spot.ball.index >= 0 ? over_balls : on_model, value);
        const RoundEnd other = part.role == Role::lever ? RoundEnd::pin
                               : turns || grip || line  ? RoundEnd::none
                                                        : RoundEnd::shaft;
        place.ends = {spot.end, other};
        place.end_mm = {spot.end_mm, 0};
    }

    void apart(const head::Part& part, const Spot& a, const Spot& b) {
        if (a.slider || b.slider) return;  // its line has no middle
        const auto value = [a, b](const AtRest& at) { return (a.in_part(at) - b.in_part(at)).norm(); };
        if (value(now_) < nearest_mm) return;
        CalliperPlace& place = add(part.label, a.part, a.key + " to " + b.key, a.words + " to " + b.words,
                                   a.ball.index >= 0 && b.ball.index >= 0 ? over_balls : on_model, value);
        place.ends = {a.end, b.end};
        place.end_mm = {a.end_mm, b.end_mm};
    }

    void along_axis(const head::Part& part, const Spot& spot) {
        if (spot.slider || part.role == Role::slider || part.role == Role::horn) return;
        const bool tail = d_.kind == head::Kind::tail;
        std::string key = "height", words;
        double sense = 1;
        switch (part.role) {
            case Role::frame:
                words = above_zero();
                break;
            case Role::hub:
                words = tail ? "out from the feathering axes" : "above the feathering axes";
                break;
            case Role::lever:
                key = "along";
                words = "along the pivot pin";
                break;
            case Role::grip:
                key = "along";
                words = "out along the blade";
                sense = head::spin_sign(d_.rotor.direction);
                break;
            default:
                words = tail ? "out from the ring's middle" : "above the ring's middle";
        }
        const bool hub = part.role == Role::hub;
        add(part.label, spot.part, spot.key + " " + key, spot.words + ", " + words, on_model, [=](const AtRest& at) {
            return sense * spot.in_part(at).z() - (hub ? at.description.rotor.hub_height_mm : 0);
        });
    }

    /// In the terms of the carrier, where they are directions that one sees.
    void across_axis(const head::Part& part, const Spot& spot) {
        const bool grip = part.role == Role::grip, pinned = spot.pivot.index >= 0 || spot.key.starts_with("fixed_ball");
        const bool ahead = part.role == Role::hub || part.role == Role::outer_ring;
        const bool still = part.role == Role::frame || part.role == Role::inner_ring;
        if (!grip && !(pinned && (ahead || still))) return;
        const std::array<const char*, 2> keys = grip    ? std::array{"lead", "up"}
                                                : ahead ? std::array{"along", "lead"}
                                                        : std::array{"forward", "left"};
        const std::array<const char*, 2> words =
            grip                          ? std::array{"ahead of the axis, blade flat", "above the axis, blade flat"}
            : ahead                       ? std::array{"along the blade", "ahead of the blade's line"}
            : d_.kind == head::Kind::tail ? std::array{"in front of the shaft", "from the shaft towards y"}
                                          : std::array{"in front of the shaft", "left of the shaft"};
        for (int i = 0; i < 2; ++i) {
            const auto k = static_cast<std::size_t>(i);
            const Vec3 direction = grip ? Vec3::Unit(i) : Vec3(spot.axes.col(i));
            add(part.label, spot.part, spot.key + " " + keys[k], spot.words + ", " + words[k],
                grip ? on_model : by_rule, [=, blade = part.index](const AtRest& at) {
                    const Vec3 point = spot.in_part(at);
                    return direction.dot(grip ? blade_flat(at, blade, point) : point);
                });
        }
    }

    /// Over the arm balls of two blades, both flat.
    void across_grips() {
        const auto ball = [](const AtRest& at, std::size_t k) {
            const head::Parts& p = at.assembly.parts;
            const linkage::Description& l = at.assembly.linkage;
            const auto anchor = static_cast<std::size_t>(p.grip_balls[k].index);
            return stands(l, p.grips[k], p.hub, false) *
                   blade_flat(at, static_cast<int>(k), l.anchors()[anchor].position);
        };
        for (std::size_t a = 0; a < d_.grips.size(); ++a)
            for (std::size_t b = a + 1; b < d_.grips.size(); ++b)
                two_balls("hub", fmt::format("grip[{}]", a + 1),
                          head::name_of({BallName::Of::grip, static_cast<int>(a)}),
                          head::name_of({BallName::Of::grip, static_cast<int>(b)}),
                          fmt::format("arm ball {} to arm ball {}, blades flat", a + 1, b + 1), over_balls,
                          {parts_.grip_balls[a], parts_.grip_balls[b]},
                          [=](const AtRest& at) { return (ball(at, a) - ball(at, b)).norm(); });
    }

    /// Horns at neutral: what the servos hold with the sticks in the middle.
    void horn_balls() {
        const auto ball = [](const AtRest& at, std::size_t j) {
            const linkage::Description& l = at.assembly.linkage;
            const auto anchor = static_cast<std::size_t>(at.assembly.parts.horn_balls[j].index);
            return stands(l, at.assembly.parts.horns[j], linkage::Description::ground, true) *
                   l.anchors()[anchor].position;
        };
        const auto name = [](std::size_t j) { return head::name_of({BallName::Of::servo, static_cast<int>(j)}); };
        const auto words = [&](std::size_t j) { return head::servo_words(d_.servos[j]); };
        const std::string group = "mid stick";
        for (std::size_t a = 0; a < d_.servos.size(); ++a) {
            const std::string part = fmt::format("servo[{}]", a + 1);
            const auto to_shaft = [=](const AtRest& at) { return off_axis(ball(at, a)); };
            if (to_shaft(now_) >= nearest_mm) {
                CalliperPlace& place = add(group, part, name(a) + " to shaft",
                                           "horn ball of " + words(a) + " to the shaft", on_model, to_shaft);
                place.ends = {RoundEnd::ball, RoundEnd::shaft};
                place.end_mm = {ball_diameter(parts_.horn_balls[a]), 0};
            }
            for (std::size_t b = a + 1; b < d_.servos.size(); ++b)
                two_balls(group, part, name(a), name(b), fmt::format("horn balls of {} and {}", words(a), words(b)),
                          on_model, {parts_.horn_balls[a], parts_.horn_balls[b]},
                          [=](const AtRest& at) { return (ball(at, a) - ball(at, b)).norm(); });
        }
    }
    void two_balls(const std::string& group, const std::string& part, const std::string& a, const std::string& b,
                   const std::string& words, double sd, const std::array<linkage::AnchorId, 2>& balls,
                   std::function<double(const AtRest&)> value) {
        if (value(now_) < nearest_mm) return;
        CalliperPlace& place = add(group, part, a + " to " + b, words, sd, std::move(value));
        place.ends = {RoundEnd::ball, RoundEnd::ball};
        place.end_mm = {ball_diameter(balls[0]), ball_diameter(balls[1])};
    }

    std::string above_zero() const { return d_.kind == head::Kind::tail ? "out from height 0" : "above height 0"; }
    void hub_height() {
        add("hub", "rotor", "feathering axes height", "feathering axes, " + above_zero(), on_model,
            [](const AtRest& at) { return at.description.rotor.hub_height_mm; });
    }
    void heights() {
        const std::string ring = model_.ring_tilts() ? "ring's middle" : "pitch slider's middle";
        const auto sliding = [&](std::string part, std::string key, const std::string& words, linkage::BodyId body,
                                 double sense, std::function<double(const AtRest&)> at_rest) {
            CalliperPlace& place =
                add("mid stick", std::move(part), std::move(key), words, on_model, std::move(at_rest));
            place.slides = body;
            place.slide_sense = sense;
        };
        const auto nothing = [](const AtRest&) { return 0.0; };
        sliding("swashplate.inner_balls", "ring height", ring + ", " + above_zero(), parts_.inner_ring, 1, nothing);
        sliding("swashplate.inner_balls", "ring to feathering axes", ring + " to the feathering axes",
                parts_.inner_ring, -1, [](const AtRest& at) { return at.description.rotor.hub_height_mm; });
        for (std::size_t i = 0; i < parts_.sliders.size(); ++i) {
            const head::Part& part = model_.part(*model_.find(Role::slider, static_cast<int>(i)));
            sliding(part.path, part.path + " place", part.label + ", along its line from place 0", parts_.sliders[i], 1,
                    nothing);
        }
    }

    const head::Description& d_;
    const head::Model& model_;
    const head::Parts& parts_;
    AtRest now_;
    std::vector<BallName> balls_;
    std::string alike_;  // the group of parts that are measured in one go; empty: each is one of its own
    std::vector<CalliperPlace> out_;
};

}  // namespace

std::vector<CalliperPlace> calliper_places(const head::Head& head) {
    return Lister(head).run();
}

}  // namespace swashwright::studies
