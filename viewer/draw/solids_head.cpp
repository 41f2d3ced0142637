// Hub, grips and blades.
#include <algorithm>
#include <array>

#include "kinematics/head/studs.h"
#include "viewer/draw/bench.h"

namespace swashwright::draw {
namespace {

/// A point by distance out along the feathering axis, forward (leading side) and up, in the grip's frame.
Vec3 at(const Bench& b, double out, double lead, double up) {
    return {lead, up, b.sense * out};
}

void add_pitch_arm(Bench& b, Part part, Frame frame, std::size_t k) {
    const Proportions& p = b.p;
    const head::PitchArm& arm = b.head.grips[k].pitch_arm;
    const Vec3 ball = at(b, arm.along_mm, arm.lead_mm, arm.up_mm), stud = head::arm_stud(b.head, k);
    const Vec3 tip = ball - 2.05 * p.ball * stud;  // where the stud is rooted
    const double root_out = std::clamp(b.sense * tip.z(), p.grip_start + 0.9 * p.grip, p.grip_end - 0.6 * p.grip);
    const Vec3 root = at(b, root_out, std::copysign(0.35 * p.grip, arm.lead_mm), 0);
    const Vec3 along = tip - root;
    Vec3 normal = along.cross(at(b, 1, 0, 0).cross(along));  // as near the feathering axis as the arm allows
    normal = along.cross(normal);                            // flat side up
    const double thickness = std::max(0.6 * p.grip, 1.7 * p.ball);
    b.add(part, frame, Tone::alloy, lever(root, tip, 0.8 * p.grip, 1.15 * p.ball, normal, thickness));
    b.add_ball(part, frame, ball, tip + 0.4 * p.ball * stud);
}

void add_grip(Bench& b, std::size_t k) {
    const Proportions& p = b.p;
    const Part part{PartKind::grip, static_cast<int>(k)};
    const Frame frame{Ride::grip, static_cast<int>(k)};
    const double g = p.grip;
    const Placement axis = frame_at(Vec3::Zero(), at(b, 1, 0, 0), at(b, 0, 0, 1));
    const std::array<Turned, 6> body{{{0.82 * g, p.grip_start},
                                      {0.82 * g, p.grip_start + 0.45 * g},
                                      {g, p.grip_start + 0.45 * g},
                                      {g, p.grip_end - 0.5 * g},
                                      {0.93 * g, p.grip_end},
                                      {0.7 * g, p.grip_end}}};
    b.add(part, frame, Tone::alloy, lathe(axis, body, 26));
    for (double side : {-1.0, 1.0}) {
        const double up = side * 0.66 * g;
        b.add(part, frame, Tone::alloy,
              lever(at(b, p.grip_end - 0.75 * g, 0, up), at(b, p.bolt_out, 0, up), 0.95 * g, 0.9 * g, at(b, 0, 0, 1),
                    0.36 * g));
    }
    b.add(part, frame, Tone::steel, rod(at(b, p.bolt_out, 0, 0.8 * g), at(b, p.bolt_out, 0, 1.16 * g), 0.46 * g, 16));
    b.add(part, frame, Tone::steel, rod(at(b, p.bolt_out, 0, -0.8 * g), at(b, p.bolt_out, 0, -1.1 * g), 0.5 * g, 6));
    add_pitch_arm(b, part, frame, k);
}

/// The blade's section at one place along it: chord, thickness and leading edge ease from the root's to the blade's.
Ring section(const Bench& b, double out) {
    const Proportions& p = b.p;
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
        ring.push_back(at(b, out, nose - x * chord, k % half == 0 ? 0.0 : up));
    }
    return ring;
}

/// A stretch of blade as a closed solid.
Mesh stretch(const Bench& b, double from, double to) {
    std::vector<Ring> rings{section(b, from)};
    const double eased = b.p.fork_end + 0.55 * b.p.chord;
    if (from < b.p.fork_end) rings.push_back(section(b, b.p.fork_end));
    for (double share : {0.2, 0.4, 0.6, 0.8, 1.0}) {
        const double out = b.p.fork_end + share * (eased - b.p.fork_end);
        if (out > from && out < to) rings.push_back(section(b, out));
    }
    rings.push_back(section(b, to));
    return skin(rings, false);
}

}  // namespace

void add_hub(Bench& b) {
    const Proportions& p = b.p;
    const Part part{PartKind::hub, 0};
    const Frame frame{Ride::hub, 0};
    const double height = b.head.rotor.hub_height_mm, precone = b.head.rotor.precone_deg * degree;
    const auto blades = b.head.grips.size();
    std::vector<Lobe> lobes;
    for (std::size_t k = 0; k < blades; ++k) {
        const double angle = b.sense * 2 * pi * static_cast<double>(k) / static_cast<double>(blades);
        lobes.push_back({angle, p.hub, 0.9 * p.shaft, p.hub * std::tan(precone)});
        const Vec3 out = around(std::cos(precone), angle, std::sin(precone)), centre(0, 0, height);
        b.add(part, frame, Tone::bright, rod(centre + 0.5 * p.hub * out, centre + p.grip_end * out, p.spindle, 18));
        b.add(part, frame, Tone::dark,
              rod(centre + 0.98 * p.hub * out, centre + (p.hub + 0.22 * p.shaft) * out, 0.78 * p.shaft, 22));
    }
    b.add(part, frame, Tone::alloy, lobed_plate(0.9 * p.shaft, 1.6 * p.shaft, height, 2 * p.hub_half_height, lobes));
    const double up = p.hub_half_height;
    b.add(part, frame, Tone::steel,
          tube(Vec3(0, 0, height + 0.98 * up), Vec3(0, 0, height + 1.35 * up), 0.9 * p.shaft, 1.3 * p.shaft));
    b.add(part, frame, Tone::alloy,
          tube(Vec3(0, 0, height - 1.7 * up), Vec3(0, 0, height - 0.98 * up), 0.9 * p.shaft, 1.35 * p.shaft));
}

void add_grips(Bench& b) {
    for (std::size_t k = 0; k < b.head.grips.size(); ++k) add_grip(b, k);
}

void add_blades(Bench& b, bool whole_blades) {
    const Proportions& p = b.p;
    const double end = whole_blades ? p.blade_end : p.stub_end;
    const double first = p.fork_end + 0.62 * p.chord;
    for (std::size_t k = 0; k < b.head.grips.size(); ++k) {
        const Part part{PartKind::blade, static_cast<int>(k)};
        const Frame frame{Ride::blade, static_cast<int>(k)};
        // As many bands as the blade's number, in the room before the stub's end.
        const auto bands = static_cast<double>(k + 1);
        const double width = std::min(0.085, 0.62 / (1.7 * bands)) * p.chord, step = 1.7 * width;
        double from = p.bolt_out - 0.7 * p.grip;
        for (std::size_t i = 0; i <= k; ++i) {
            const double at_band = first + step * static_cast<double>(i);
            b.add(part, frame, Tone::blade, stretch(b, from, at_band));
            b.add(part, frame, Tone::band, stretch(b, at_band, at_band + width));
            from = at_band + width;
        }
        b.add(part, frame, Tone::blade, stretch(b, from, end));
    }
}

}  // namespace swashwright::draw
