#include "kinematics/studies/part_solids.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/build.h"
#include "kinematics/head/proportions.h"
#include "kinematics/head/studs.h"

namespace swashwright::studies {

namespace {

using head::Description;
using head::Proportions;
using head::Solid;

/// A circle about z as a closed chain.
void add_circle(std::vector<Capsule>& out, const Vec3& centre, double radius, double section, int sides) {
    const auto at = [&](int i) {
        const double a = 2 * pi * i / sides;
        return Vec3(centre + radius * Vec3(std::cos(a), std::sin(a), 0));
    };
    for (int i = 0; i < sides; ++i) out.push_back({at(i), at(i + 1), section});
}

constexpr double horn_of_ball = 0.9, arm_of_ball = 1.15;  // radii, in radii of a link's ball
constexpr int plain_sides = 16;  // of circles that are made up: chords within 2 % of the radius

/// A user's ring: its chain's middle line stays within 0.01 mm of the circle, on either side.
void add_ring(std::vector<Capsule>& out, const Solid& ring) {
    constexpr double off = 0.01;
    const double radius = ring.diameter_mm / 2;
    const int sides = std::max(8, static_cast<int>(std::ceil(pi / std::acos((radius - off) / (radius + off)))));
    add_circle(out, ring.at, radius + off, ring.section_mm / 2, sides);
}

/// A ring's plate: a circle at its outside between the arms, and an arm to each ball, short of the link's socket.
void add_plate(std::vector<Capsule>& out, const std::vector<head::Polar>& balls, double sense, double base,
               double height, double thickness, double short_of) {
    add_circle(out, {0, 0, height}, base - thickness / 2, thickness / 2, plain_sides);
    for (const head::Polar& ball : balls) {
        const double angle_deg = sense * ball.angle_deg, reach = ball.radius_mm - short_of - thickness / 2;
        if (reach > base)
            out.push_back({head::inner_ring_point({base, angle_deg, height}),
                           head::inner_ring_point({reach, angle_deg, ball.height_mm}), thickness / 2});
    }
}

void add_link(PartSolids& part, const head::Link& link) {
    const double length = link.actual_mm();
    part.capsules = {{{0, 0, 0}, {0, 0, length}, link.rod_mm / 2}};
    for (std::size_t e = 0; e < 2; ++e) {
        // A capsule ends by its radius beyond its line.
        const double radius = shank_of_boss * link.boss_mm[e] / 2;
        const double shank = std::min(link.end_length_mm[e] - radius, length / 2);
        const double from = e == 0 ? 0 : length, way = e == 0 ? 1 : -1;
        part.capsules.push_back({{0, 0, from}, {0, 0, from + way * 0.5 * link.boss_mm[e]}, link.boss_mm[e] / 2});
        if (shank > 0) part.capsules.push_back({{0, 0, from}, {0, 0, from + way * shank}, radius});
    }
}

void add_grip(PartSolids& part, const Description& d, std::size_t k, const Proportions& p) {
    const double spin = spin_sign(d.rotor.direction);
    const auto at = [&](double out, double lead, double up) { return Vec3(lead, up, spin * out); };
    part.capsules = {{at(p.grip_start + p.grip, 0, 0), at(p.fork_end - p.grip, 0, 0), p.grip}};
    // The arm, from the grip's middle to where the ball's stud is rooted.
    const head::PitchArm& arm = d.grips[k].pitch_arm;
    const Vec3 tip = at(arm.along_mm, arm.lead_mm, arm.up_mm) - 2.0 * p.ball * head::arm_stud(d, k);
    const double root = std::clamp(arm.along_mm, p.grip_start + p.grip, p.grip_end - 0.6 * p.grip);
    part.capsules.push_back({at(root, std::copysign(0.35 * p.grip, arm.lead_mm), 0), tip, arm_of_ball * p.ball});
}

class Maker {
public:
    explicit Maker(const head::Head& head) : head_(head), d_(head.description()), p_(head::proportions_of(d_)) {}

    std::vector<PartSolids> all() {
        const head::Parts& parts = head_.parts();
        PartSolids& shaft = add(PartKind::shaft, 0, "rotor.shaft", "the shaft", {linkage::Description::ground});
        shaft.capsules = {{{0, 0, p_.ground}, {0, 0, p_.top}, p_.shaft}};
        add(PartKind::frame, 0, "frame", "the frame", {linkage::Description::ground});
        for (std::size_t j = 0; j < d_.servos.size(); ++j) {
            PartSolids& horn = add(PartKind::horn, j, fmt::format("servo[{}]", j + 1),
                                   fmt::format("the horn of servo {}", d_.servos[j].name), {parts.horns[j]});
            horn.label = "horn " + d_.servos[j].name;
            // The link's ball stands off the horn by its stud; the horn itself lies behind.
            const Vec3 behind = -2.0 * p_.ball * head::horn_stud(d_, j);
            horn.capsules = {{behind, behind + Vec3(d_.servos[j].horn_mm, 0, 0), horn_of_ball * p_.ball}};
        }
        add_rings(parts);
        PartSolids& hub = add(PartKind::hub, 0, "rotor", "the hub", {parts.hub});
        add_circle(hub.capsules, {0, 0, d_.rotor.hub_height_mm}, 1.6 * p_.shaft - 0.5 * p_.hub_half_height,
                   p_.hub_half_height, plain_sides);
        for (std::size_t k = 0; k < d_.grips.size(); ++k)
            add_grip(
                add(PartKind::grip, k, fmt::format("grip[{}]", k + 1), fmt::format("grip {}", k + 1), {parts.grips[k]}),
                d_, k, p_);
        add_links(false);
        add_links(true);
        for (const Solid& solid : d_.solids) add_users(solid);
        std::erase_if(out_, [](const PartSolids& p) { return p.capsules.empty() && p.others.empty(); });
        return std::move(out_);
    }

private:
    PartSolids& add(PartKind kind, std::size_t index, std::string path, std::string words, Carrier carrier) {
        std::string label = words.starts_with("the ") ? words.substr(4) : words;
        out_.push_back({kind,
                        static_cast<int>(index),
                        std::move(path),
                        std::move(words),
                        std::move(label),
                        carrier,
                        {},
                        {},
                        true});
        return out_.back();
    }
    void add_rings(const head::Parts& parts) {
        const auto& ring = d_.swashplate;
        PartSolids& inner =
            add(PartKind::inner_ring, 0, "swashplate.inner_balls", "the inner ring", {parts.inner_ring});
        add_plate(inner.capsules, ring.inner_balls, 1, p_.inner_base, p_.inner_height, p_.plate, 2 * p_.ball);
        const head::Polar& guide = ring.guide_pin;
        inner.capsules.push_back({head::inner_ring_point({p_.inner_base, guide.angle_deg, guide.height_mm}),
                                  head::inner_ring_point(guide), 0.7 * p_.ball});
        const double spin = spin_sign(d_.rotor.direction);
        PartSolids& outer =
            add(PartKind::outer_ring, 0, "swashplate.outer_balls", "the outer ring", {parts.outer_ring});
        add_plate(outer.capsules, ring.outer_balls, spin, p_.outer_base, p_.outer_height, p_.plate, 2 * p_.ball);
        for (const head::Polar& pin : ring.driver_pins)
            outer.capsules.push_back({head::outer_ring_point(d_, {p_.outer_base, pin.angle_deg, p_.outer_height}),
                                      head::outer_ring_point(d_, pin), 0.75 * p_.ball});
    }
    void add_links(bool upper) {
        const auto& links = upper ? d_.upper_links : d_.lower_links;
        for (std::size_t i = 0; i < links.size(); ++i)
            add_link(add(upper ? PartKind::upper_link : PartKind::lower_link, i,
                         fmt::format("{}_link[{}]", upper ? "upper" : "lower", i + 1),
                         fmt::format("{} link {}", upper ? "upper" : "lower", i + 1),
                         {linkage::Description::ground, static_cast<int>(i), upper}),
                     links[i]);
    }
    void add_users(const Solid& solid) {
        const auto part = std::ranges::find_if(out_, [&](const PartSolids& p) {
            if (solid.part == "hub") return p.kind == PartKind::hub;
            if (solid.part == "inner_ring") return p.kind == PartKind::inner_ring;
            if (solid.part == "outer_ring") return p.kind == PartKind::outer_ring;
            return p.path == solid.part;
        });
        if (part == out_.end()) return;  // the scene's reader refuses other names
        part->invented = false;
        if (solid.shape == Solid::Shape::capsule)
            part->capsules.push_back({solid.at, solid.to, solid.diameter_mm / 2});
        else if (solid.shape == Solid::Shape::ring)
            add_ring(part->capsules, solid);
        else
            part->others.push_back(solid);
    }

    const head::Head& head_;
    const Description& d_;
    Proportions p_;
    std::vector<PartSolids> out_;
};

}  // namespace

std::vector<PartSolids> part_solids(const head::Head& head) {
    return Maker(head).all();
}

std::string assumed_sizes(const Description& d) {
    const Proportions p = head::proportions_of(d);
    return fmt::format(
        "Thicknesses that no scene gives are taken from the drawing: shaft {:.1f} mm, shank of a link's end {:g} of "
        "its boss, horn {:.1f} mm, grip {:.1f} mm, ring {:.1f} mm, pitch arm {:.1f} mm. Measure where a gap is close.",
        2 * p.shaft, shank_of_boss, 2 * horn_of_ball * p.ball, 2 * p.grip, p.plate, 2 * arm_of_ball * p.ball);
}

Placement placement_of(const Carrier& carrier, const head::Parts& parts, const linkage::Workspace& ws) {
    if (carrier.link < 0) return ws.placement(carrier.body);
    const auto i = static_cast<std::size_t>(carrier.link);
    Placement out;
    out.origin = ws.point(carrier.upper ? parts.outer_balls[i] : parts.horn_balls[i]);
    const Vec3 along = (ws.point(carrier.upper ? parts.grip_balls[i] : parts.inner_balls[i]) - out.origin).normalized();
    const Vec3 across = along.unitOrthogonal();  // solids of a link are round about it
    out.turn << across, along.cross(across), along;
    return out;
}

bool joined(const PartSolids& a, const PartSolids& b) {
    const auto both = [&](PartKind x, PartKind y) {
        return (a.kind == x && b.kind == y) || (a.kind == y && b.kind == x);
    };
    const bool same_index = a.index == b.index;
    using enum PartKind;
    return both(horn, lower_link) ? same_index
           : both(upper_link, grip)
               ? same_index
               : both(inner_ring, lower_link) || both(outer_ring, upper_link) || both(inner_ring, outer_ring) ||
                     both(inner_ring, shaft) || both(outer_ring, shaft) || both(hub, shaft) || both(hub, grip) ||
                     both(grip, shaft) || both(frame, shaft) || both(frame, horn);
}

}  // namespace swashwright::studies
