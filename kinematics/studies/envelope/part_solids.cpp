#include "kinematics/studies/envelope/part_solids.h"

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
        const head::Model& model = head_.model();
        for (std::size_t i = 0; i < model.parts().size(); ++i) {
            const head::Part& part = model.parts()[i];
            out_.push_back({{static_cast<int>(i)}, part.path, part.words, part.label, {}, {}, true});
            add_shape(out_.back(), part);
        }
        for (const Solid& solid : d_.solids) add_scene_solid(solid);
        std::erase_if(out_, [](const PartSolids& p) { return p.capsules.empty() && p.others.empty(); });
        return std::move(out_);
    }

private:
    void add_shape(PartSolids& out, const head::Part& part) {
        const auto i = static_cast<std::size_t>(part.index);
        using enum head::Role;
        switch (part.role) {
            case shaft:
                out.capsules = {{{0, 0, p_.ground}, {0, 0, p_.top}, p_.shaft}};
                return;
            case frame:
            case servo:
            case guide:
            case driver:
            case blade:
                return;  // no parts of the model, or without a shape of their own
            case horn:
                return add_arm(out, {d_.servos[i].horn_mm, 0, 0}, head::horn_stud(d_, i));
            case inner_ring:
                return add_inner_ring(out);
            case outer_ring:
                return add_outer_ring(out);
            case hub:
                return add_circle(out.capsules, {0, 0, d_.rotor.hub_height_mm},
                                  1.6 * p_.shaft - 0.5 * p_.hub_half_height, p_.hub_half_height, plain_sides);
            case grip:
                return add_grip(out, d_, i, p_);
            case lever:
                for (std::size_t b = 0; b < d_.levers[i].balls_mm.size(); ++b) {
                    const Vec3 stud = d_.levers[i].studs.empty() ? Vec3::UnitZ() : d_.levers[i].studs[b].normalized();
                    add_arm(out, d_.levers[i].balls_mm[b], stud);
                }
                return;
            case slider:
                for (const Vec3& ball : d_.sliders[i].balls_mm) add_arm(out, ball, Vec3::UnitZ());
                return;
            case lower_link:
            case upper_link:
            case other_link:
                return add_link(out, head_.model().rod(part.rod).made);
        }
    }
    /// A link's ball stands off its arm by its stud; the arm itself lies behind.
    void add_arm(PartSolids& out, const Vec3& ball, const Vec3& stud) const {
        const Vec3 behind = -2.0 * p_.ball * stud;
        out.capsules.push_back({behind, behind + ball, horn_of_ball * p_.ball});
    }
    void add_inner_ring(PartSolids& inner) const {
        const auto& ring = d_.swashplate;
        add_plate(inner.capsules, ring.inner_balls, 1, p_.inner_base, p_.inner_height, p_.plate, 2 * p_.ball);
        if (!ring.guided || !ring.tilts) return;
        const head::Polar& guide = ring.guide_pin;
        inner.capsules.push_back({head::inner_ring_point({p_.inner_base, guide.angle_deg, guide.height_mm}),
                                  head::inner_ring_point(guide), 0.7 * p_.ball});
    }
    void add_outer_ring(PartSolids& outer) const {
        const auto& ring = d_.swashplate;
        add_plate(outer.capsules, ring.outer_balls, spin_sign(d_.rotor.direction), p_.outer_base, p_.outer_height,
                  p_.plate, 2 * p_.ball);
        for (const head::Polar& pin : ring.driver_pins)
            outer.capsules.push_back({head::outer_ring_point(d_, {p_.outer_base, pin.angle_deg, p_.outer_height}),
                                      head::outer_ring_point(d_, pin), 0.75 * p_.ball});
    }
    void add_scene_solid(const Solid& solid) {
        const std::string path = solid.part == "hub"          ? "rotor"
                                 : solid.part == "inner_ring" ? "swashplate.inner_balls"
                                 : solid.part == "outer_ring" ? "swashplate.outer_balls"
                                                              : solid.part;
        const auto part = std::ranges::find(out_, path, &PartSolids::path);
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
        "its boss, {} {:.1f} mm, grip {:.1f} mm, ring {:.1f} mm, pitch arm {:.1f} mm. Measure where a gap is close.",
        2 * p.shaft, shank_of_boss, d.levers.empty() ? "horn" : "horn or lever", 2 * horn_of_ball * p.ball, 2 * p.grip,
        p.plate, 2 * arm_of_ball * p.ball);
}

}  // namespace swashwright::studies
