// Hub, grips and blades.
#include <algorithm>
#include <array>

#include "kinematics/head/studs.h"
#include "viewer/draw/solids/solid_maker.h"

namespace swashwright::draw {
namespace {

/// A point by distance out along the feathering axis, forward (leading side) and up, in the grip's frame.
Vec3 at(const SolidMaker& m, double out, double lead, double up) {
    return {lead, up, m.sense * out};
}

/// Does a lever turn where the arm's ball would be?
bool hinged_at_arm(const SolidMaker& m, std::size_t k) {
    const head::PitchArm& arm = m.head.grips[k].pitch_arm;
    return std::ranges::any_of(m.head.levers, [&](const head::Lever& lever) {
        return lever.on == head::Carrier{head::Carrier::On::grip, static_cast<int>(k)} &&
               (lever.pivot_mm - Vec3(arm.along_mm, arm.lead_mm, arm.up_mm)).norm() < m.p.ball;
    });
}

void add_pitch_arm(SolidMaker& m, Part part, Frame frame, std::size_t k) {
    const Proportions& p = m.p;
    const head::PitchArm& arm = m.head.grips[k].pitch_arm;
    const Vec3 ball = at(m, arm.along_mm, arm.lead_mm, arm.up_mm), stud = head::arm_stud(m.head, k);
    const Vec3 tip = ball - 2.05 * p.ball * stud;  // where the stud is rooted
    const double root_out = std::clamp(m.sense * tip.z(), p.grip_start + 0.9 * p.grip, p.grip_end - 0.6 * p.grip);
    const Vec3 root = at(m, root_out, std::copysign(0.35 * p.grip, arm.lead_mm), 0);
    const Vec3 along = tip - root;
    Vec3 normal = along.cross(at(m, 1, 0, 0).cross(along));  // as near the feathering axis as the arm allows
    normal = along.cross(normal);                            // flat side up
    const double thickness = std::max(0.6 * p.grip, 1.7 * p.ball);
    m.add(part, frame, Tone::alloy, lever(root, tip, 0.8 * p.grip, 1.15 * p.ball, normal, thickness));
    // The screw that holds the arm, on its upper face.
    const Vec3 face = normal.normalized() * (normal.y() < 0 ? -thickness / 2 : thickness / 2);
    const Vec3 seat = root + 1.6 * p.grip * along.normalized() + 0.94 * face;
    m.add_screw_head(part, frame, seat, seat + 0.55 * face, 0.3 * p.grip);
    if (!hinged_at_arm(m, k)) m.add_ball(part, frame, ball, tip + 0.4 * p.ball * stud);
}

void add_grip(SolidMaker& m, std::size_t k) {
    const Proportions& p = m.p;
    const Part part{Role::grip, static_cast<int>(k)};
    const Frame frame{Ride::grip, static_cast<int>(k)};
    const double g = p.grip;
    const Placement axis = frame_at(Vec3::Zero(), at(m, 1, 0, 0), at(m, 0, 0, 1));
    const std::array<Turned, 6> body{{{0.82 * g, p.grip_start},
                                      {0.82 * g, p.grip_start + 0.45 * g},
                                      {g, p.grip_start + 0.45 * g},
                                      {g, p.grip_end - 0.5 * g},
                                      {0.93 * g, p.grip_end},
                                      {0.7 * g, p.grip_end}}};
    m.add(part, frame, Tone::alloy, lathe(axis, body, 26));
    for (double side : {-1.0, 1.0}) {
        const double up = side * 0.66 * g;
        m.add(part, frame, Tone::alloy,
              lever(at(m, p.grip_end - 0.75 * g, 0, up), at(m, p.bolt_out, 0, up), 0.95 * g, 0.9 * g, at(m, 0, 0, 1),
                    0.36 * g));
    }
    // The blade bolt: head, nut, and its shank where the blade is cut away.
    m.add_screw_head(part, frame, at(m, p.bolt_out, 0, 0.8 * g), at(m, p.bolt_out, 0, 1.2 * g), 0.46 * g);
    if (m.inside)
        m.add(part, frame, Tone::steel, rod(at(m, p.bolt_out, 0, -g), at(m, p.bolt_out, 0, 0.9 * g), 0.25 * g, 10));
    // The spindle's own screw, in the mouth of the grip.
    m.add(part, frame, Tone::steel,
          rod(at(m, p.grip_end - 0.05 * g, 0, 0), at(m, p.grip_end + 0.22 * g, 0, 0), 0.42 * g, 6));
    m.add(part, frame, Tone::steel, rod(at(m, p.bolt_out, 0, -0.8 * g), at(m, p.bolt_out, 0, -1.1 * g), 0.5 * g, 6));
    add_pitch_arm(m, part, frame, k);
}

/// The blade's section at one place along it: chord, thickness and leading edge ease from the root's to the blade's.
Ring section(const SolidMaker& m, double out) {
    const Proportions& p = m.p;
    const double root_chord = 1.7 * p.grip, root_thick = 0.9 * p.grip;
    const double begin = p.fork_end, end = p.fork_end + 0.55 * p.chord;
    const double t = std::clamp((out - begin) / (end - begin), 0.0, 1.0), ease = t * t * (3 - 2 * t);
    const double chord = root_chord + (p.chord - root_chord) * ease;
    const double thick = root_thick + (std::min(0.13 * p.chord, root_thick) - root_thick) * ease;
    const double nose = (0.5 - 0.2 * ease) * chord;  // the root is centred on the bolt, the blade trails it
    Ring ring;
    constexpr int half = 11;
    for (int k = 0; k < 2 * half; ++k) {
        // Around the section from the trailing edge over the top; cosine spacing crowds points at the nose.
        const double turn = pi * k / half, x = 0.5 * (1 + std::cos(turn));
        const double up = std::copysign(naca_half_thickness(x, thick / chord) * chord, std::sin(turn));
        ring.push_back(at(m, out, nose - x * chord, k % half == 0 ? 0.0 : up));
    }
    return ring;
}

/// A stretch of blade as a closed solid.
Mesh stretch(const SolidMaker& m, double from, double to) {
    std::vector<Ring> rings{section(m, from)};
    const double eased = m.p.fork_end + 0.55 * m.p.chord;
    if (from < m.p.fork_end) rings.push_back(section(m, m.p.fork_end));
    for (double share : {0.2, 0.4, 0.6, 0.8, 1.0}) {
        const double out = m.p.fork_end + share * (eased - m.p.fork_end);
        if (out > from && out < to) rings.push_back(section(m, out));
    }
    rings.push_back(section(m, to));
    return skin(rings, false);
}

}  // namespace

void add_hub(SolidMaker& m) {
    const Proportions& p = m.p;
    const Part part{Role::hub, 0};
    const Frame frame{Ride::hub, 0};
    const double height = m.head.rotor.hub_height_mm, precone = m.head.rotor.precone_deg * degree;
    const auto blades = m.head.grips.size();
    std::vector<Lobe> lobes;
    for (std::size_t k = 0; k < blades; ++k) {
        const double angle = m.sense * 2 * pi * static_cast<double>(k) / static_cast<double>(blades);
        lobes.push_back({angle, p.hub, 0.9 * p.shaft, p.hub * std::tan(precone)});
        const Vec3 out = around(std::cos(precone), angle, std::sin(precone)), centre(0, 0, height);
        if (!m.head.grips[k].lever)  // else the spindle rides on that lever
            m.add(part, frame, Tone::bright, rod(centre + 0.5 * p.hub * out, centre + p.grip_end * out, p.spindle, 18));
        m.add(part, frame, Tone::dark,
              rod(centre + 0.98 * p.hub * out, centre + (p.hub + 0.22 * p.shaft) * out, 0.78 * p.shaft, 22));
    }
    m.add(part, frame, Tone::alloy, lobed_plate(0.9 * p.shaft, 1.6 * p.shaft, height, 2 * p.hub_half_height, lobes));
    const double up = p.hub_half_height;
    m.add(part, frame, Tone::steel,
          tube(Vec3(0, 0, height + 0.98 * up), Vec3(0, 0, height + 1.35 * up), 0.9 * p.shaft, 1.3 * p.shaft));
    m.add(part, frame, Tone::alloy,
          tube(Vec3(0, 0, height - 1.7 * up), Vec3(0, 0, height - 0.98 * up), 0.9 * p.shaft, 1.35 * p.shaft));
    // The bolt through hub and shaft, square to blade 1: head and nut on the collar below the hub.
    const double bolt_height = height - 1.34 * up, face = 1.32 * p.shaft;
    const Vec3 seat(0, face, bolt_height), nut(0, -face, bolt_height), out(0, 0.3 * p.shaft, 0);
    m.add_screw_head(part, frame, seat, seat + out, 0.3 * p.shaft);
    m.add(part, frame, Tone::steel, rod(nut, nut - 0.7 * out, 0.32 * p.shaft, 6));
}

void add_grips(SolidMaker& m) {
    for (std::size_t k = 0; k < m.head.grips.size(); ++k) add_grip(m, k);
}

void add_blades(SolidMaker& m, bool whole_blades) {
    const Proportions& p = m.p;
    const double end = whole_blades ? p.blade_end : p.stub_end;
    const double first = p.fork_end + 0.62 * p.chord;
    for (std::size_t k = 0; k < m.head.grips.size(); ++k) {
        const Part part{Role::blade, static_cast<int>(k)};
        const Frame frame{Ride::blade, static_cast<int>(k)};
        // As many bands as the blade's number, in the room before the stub's end.
        const auto bands = static_cast<double>(k + 1);
        const double width = std::min(0.085, 0.62 / (1.7 * bands)) * p.chord, step = 1.7 * width;
        double from = p.bolt_out - 0.7 * p.grip;
        for (std::size_t i = 0; i <= k; ++i) {
            const double at_band = first + step * static_cast<double>(i);
            m.add(part, frame, Tone::blade, stretch(m, from, at_band));
            m.add(part, frame, Tone::band, stretch(m, at_band, at_band + width));
            from = at_band + width;
        }
        m.add(part, frame, Tone::blade, stretch(m, from, end));
    }
}

}  // namespace swashwright::draw
