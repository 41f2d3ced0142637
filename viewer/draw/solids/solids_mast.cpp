// What stands on the airframe: shaft, bearing block, guide bracket, servos.
#include <algorithm>
#include <array>

#include "viewer/draw/solids/solid_maker.h"

namespace swashwright::draw {
namespace {

const Frame ground{Ride::ground, 0};

void add_guide(SolidMaker& m) {
    const auto& plate = m.head.swashplate;
    const Part part{Role::guide, 0};
    const double pin = 0.7 * m.p.ball, thickness = 0.1 * m.p.ring;
    const double azimuth = (plate.guide_pin.angle_deg + plate.guide_turn_deg) * degree;
    const double radius = plate.guide_pin.radius_mm;
    const double height = plate.neutral_height_mm + plate.guide_pin.height_mm;
    const Vec3 outwards = around(1, azimuth, 0);
    // The slot is as long as the pin may be expected to travel: with the ring, and with its tilt.
    const double half_slot = m.p.swing + 0.15 * radius + 2 * pin;
    const double half_height = half_slot + 1.8 * pin, half_width = 2.9 * pin;
    const Placement upright = frame_at(around(radius, azimuth, height), outwards, Vec3::UnitZ().cross(outwards));
    m.add(part, ground, Tone::alloy, slotted_plate(upright, half_width, half_height, 1.06 * pin, half_slot, thickness));
    const double foot = height - half_height + 0.6 * pin, post = foot - m.p.ground;
    if (post <= 0) return;
    const Vec3 middle = around(radius, azimuth, m.p.ground + post / 2);
    m.add(part, ground, Tone::alloy,
          block(frame_at(middle, Vec3::UnitZ(), outwards), Vec3(thickness / 2, 0.7 * half_width, post / 2), 0));
    m.add(part, ground, Tone::alloy,
          block(frame_at(around(radius, azimuth, m.p.ground + 0.4 * thickness), Vec3::UnitZ(), outwards),
                Vec3(1.6 * thickness, half_width, 0.4 * thickness), thickness));
}

struct ServoAxes {
    Vec3 pivot, out, body, across;  // out: from the horn into the body; body: the body's long direction
};

/// How a servo is likely to lie: its body on the side of the horn that is away from the shaft, its long side where it
/// keeps clear of the shaft, of the other servos and of the bodies at `taken`.
ServoAxes lie_of(const head::Description& d, std::size_t j, double scale, const std::vector<Vec3>& taken) {
    const head::Servo& servo = d.servos[j];
    const Vec3 pivot = head::pivot_point(servo.pivot_mm);
    const Placement horn = frame_at(pivot, servo.axis, servo.horn_zero);
    const Vec3 k = horn.turn.col(2), u = horn.turn.col(0), v = horn.turn.col(1);
    const auto from_shaft = [](const Vec3& p) { return std::hypot(p.x(), p.y()); };
    const Vec3 out = from_shaft(pivot + scale * k) > from_shaft(pivot - scale * k) + 1e-9 ? k : Vec3(-k);
    ServoAxes best{pivot, out, -u, Vec3::Zero()};
    double best_score = -1e300;
    for (const Vec3& body : {Vec3(-u), Vec3(v), Vec3(-v), u}) {
        const Vec3 centre = pivot + scale * (0.8 * out + 0.5 * body);
        double score =
            std::min(from_shaft(centre), 2 * scale) - 4 * scale * std::abs(body.z()) - 0.35 * scale * body.dot(u);
        for (std::size_t i = 0; i < d.servos.size(); ++i) {
            if (i == j) continue;
            score += std::min((centre - head::pivot_point(d.servos[i].pivot_mm)).norm(), 2 * scale) /
                     static_cast<double>(d.servos.size());
        }
        for (const Vec3& other : taken) score -= 2 * std::max(0.0, 2 * scale - (centre - other).norm());
        if (score > best_score + 1e-9) best_score = score, best.body = body;
    }
    best.across = best.out.cross(best.body);
    return best;
}

void add_servo(SolidMaker& m, std::size_t j, std::vector<Vec3>& taken) {
    const int index = static_cast<int>(j);
    const double a = m.p.horn, horn = m.head.servos[j].horn_mm, stud = 1.5 * m.p.ball;
    const double lever_thick = std::max(0.13 * a, 0.5 * m.p.ball);
    const ServoAxes lie = lie_of(m.head, j, a, taken);
    taken.push_back(lie.pivot + a * (0.8 * lie.out + 0.5 * lie.body));
    const double side = lie.out.dot(frame_at(lie.pivot, m.head.servos[j].axis, m.head.servos[j].horn_zero).turn.col(2));
    const Part body{Role::servo, index}, arm{Role::horn, index};
    const Frame rides{Ride::horn, index};

    // Horn, in its own frame: x along the horn, z along the output shaft; the body lies on `side`.
    const double plane = side * (stud + lever_thick / 2), tip = std::max(0.15 * a, 1.05 * m.p.ball);
    m.add(arm, rides, Tone::dark,
          lever(Vec3(0, 0, plane), Vec3(horn, 0, plane), 0.32 * a, tip, Vec3::UnitZ(), lever_thick));
    m.add_ball(arm, rides, Vec3(horn, 0, 0), Vec3(horn, 0, side * stud));
    m.add(arm, rides, Tone::steel, rod(Vec3(0, 0, plane), Vec3(0, 0, side * 0.55 * stud), 0.15 * a));

    // Body: output shaft near one end, lugs at a third of its depth.
    const double face = stud + lever_thick, top = face + 0.14 * a, depth = 1.35 * a;
    const auto at = [&](double along, double deep) { return Vec3(lie.pivot + lie.body * along + lie.out * deep); };
    m.add(body, ground, Tone::steel, rod(at(0, face - 0.02 * a), at(0, top + 0.05 * a), 0.24 * a, 20));
    m.add(body, ground, Tone::plastic,
          block(frame_at(at(0.5 * a, top + depth / 2), lie.out, lie.body), Vec3(0.95 * a, 0.46 * a, depth / 2),
                0.09 * a));
    for (double end : {-1.0, 1.0}) {
        const Placement lug = frame_at(at((0.5 + end * 1.055) * a, top + 0.36 * a), lie.out, lie.body);
        m.add(body, ground, Tone::plastic, block(lug, Vec3(0.225 * a, 0.36 * a, 0.06 * a), 0.12 * a));
        const double along = (0.5 + end * 1.12) * a;
        m.add(body, ground, Tone::steel, rod(at(along, top + 0.24 * a), at(along, top + 0.34 * a), 0.11 * a, 12));
    }
}

}  // namespace

void add_mast(SolidMaker& m) {
    const Proportions& p = m.p;
    const Part shaft{Role::shaft, 0}, frame{Role::frame, 0};
    // The shaft turns with the hub; it is written in the hub's frame, whose heights are the head frame's.
    const std::array<Turned, 4> profile{
        {{p.shaft, p.ground}, {p.shaft, p.top - 0.3 * p.shaft}, {0.72 * p.shaft, p.top}, {0.7 * p.shaft, p.top}}};
    m.add(shaft, {Ride::hub, 0}, Tone::bright, lathe(Placement{}, profile, 28));
    const double half = 0.55 * p.shaft;
    const Placement seat = frame_at(Vec3(0, 0, p.ground + half), Vec3::UnitZ(), Vec3::UnitX());
    m.add(frame, ground, Tone::alloy, block(seat, Vec3(2.9 * p.shaft, 2.9 * p.shaft, half), 0.7 * p.shaft));
    m.add(frame, ground, Tone::steel,
          tube(Vec3(0, 0, p.ground + 1.97 * half), Vec3(0, 0, p.ground + 2.6 * half), 0.9 * p.shaft, 1.7 * p.shaft));
    for (double x : {-2.1, 2.1}) {
        for (double y : {-2.1, 2.1}) {
            const Vec3 foot(x * p.shaft, y * p.shaft, p.ground + 2 * half);
            m.add(frame, ground, Tone::steel, rod(foot, foot + Vec3(0, 0, 0.3 * p.shaft), 0.38 * p.shaft, 10));
        }
    }
    if (m.head.swashplate.guided && m.head.swashplate.tilts) add_guide(m);
}

void add_servos(SolidMaker& m) {
    std::vector<Vec3> taken;  // middles of the bodies placed so far
    for (std::size_t j = 0; j < m.head.servos.size(); ++j) add_servo(m, j, taken);
}

}  // namespace swashwright::draw
