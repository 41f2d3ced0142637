// Levers with their pivots, sliders, fixed balls, and what carries them.
#include <algorithm>
#include <array>

#include "kinematics/head/build.h"
#include "viewer/draw/solids/ball_ends.h"
#include "viewer/draw/solids/solid_maker.h"

namespace swashwright::draw {
namespace {

const Frame ground{Ride::ground, 0};

/// A boss about a lever's axis and where its pin leaves it for what carries it.
struct Boss {
    double radius, thick;  // of its arms
    double low, high;      // along the axis
    double side;           // +1: the carrier is above, else -1
    double mount() const { return side > 0 ? high + 0.7 * thick : low - 0.7 * thick; }
};

/// From a part to what stands on it: a flat strut with its wide side square to `axis`.
void add_strut(SolidMaker& m, Part part, Frame frame, const Vec3& from, const Vec3& to, const Vec3& axis, double from_r,
               double to_r, double thick) {
    const Vec3 along = to - from;
    const double length = along.norm();
    if (!(length > 1e-6)) return;
    const Vec3 normal = axis - along * (axis.dot(along) / (length * length));
    if (normal.norm() > 0.5 * axis.norm())
        m.add(part, frame, Tone::alloy, lever(from, to, from_r, to_r, normal, thick));
    else
        m.add(part, frame, Tone::alloy, rod(from, to, 0.7 * to_r));
}

/// A post from the ground sheet up to a place on the frame, with a foot.
void add_post(SolidMaker& m, Part part, const Vec3& top, const Vec3& axis, double half_width, double thick) {
    const double height = top.z() - m.p.ground;
    if (!(height > thick)) return;
    const Vec3 foot(top.x(), top.y(), m.p.ground), level(axis.x(), axis.y(), 0);
    const double plate = 0.5 * thick;
    if (level.norm() > 0.3 * axis.norm()) {
        m.add(part, ground, Tone::alloy,
              block(frame_at(foot + Vec3(0, 0, height / 2), Vec3::UnitZ(), level),
                    Vec3(thick / 2, 0.8 * half_width, height / 2), 0));
        m.add(part, ground, Tone::alloy, rod(top - axis * thick / 2, top + axis * thick / 2, half_width, 20));
    } else {
        m.add(part, ground, Tone::alloy, rod(foot, top, 0.75 * half_width));
    }
    m.add(part, ground, Tone::alloy,
          block(frame_at(foot + Vec3(0, 0, plate / 2), Vec3::UnitZ(), level.norm() > 0 ? level : Vec3::UnitX()),
                Vec3(1.7 * half_width, 1.7 * half_width, plate / 2), 0.6 * half_width));
}

/// What holds a place on a part: a post on the frame, a strut from the part's own metal elsewhere. `part` is the
/// post's.
void add_mount(SolidMaker& m, Part part, const head::Carrier& on, const Vec3& at, const Vec3& axis, double radius,
               double thick) {
    const Proportions& p = m.p;
    const Vec3 level(at.x(), at.y(), 0);
    const Vec3 outwards = level.norm() > 1e-6 ? Vec3(level.normalized()) : Vec3::UnitX();
    const auto strut = [&](const Vec3& from, double from_r) {
        add_strut(m, part_of(on), frame_of(part_of(on)), from, at, axis, from_r, radius, thick);
    };
    using enum head::Carrier::On;
    switch (on.on) {
        case frame:
            add_post(m, part, at, axis, radius, thick);
            return;
        case inner_ring:
            strut(0.85 * p.inner_base * outwards + Vec3(0, 0, p.inner_height), 1.4 * radius);
            return;
        case outer_ring:
            strut(0.85 * p.outer_base * outwards + Vec3(0, 0, p.outer_height), 1.4 * radius);
            return;
        case hub: {
            if (level.norm() < 1.5 * p.shaft) return;
            const Vec3 middle(0, 0, at.z()), half(0, 0, 0.6 * p.shaft);
            m.add(part_of(on), frame_of(part_of(on)), Tone::alloy,
                  tube(middle - half, middle + half, 0.9 * p.shaft, 1.6 * p.shaft));
            strut(middle + 1.3 * p.shaft * outwards, 1.2 * radius);
            return;
        }
        case grip:
            strut(Vec3(0, 0, m.sense * std::clamp(m.sense * at.z(), p.grip_start + p.grip, p.grip_end - p.grip)),
                  1.4 * radius);
            return;
        case lever:
            if (at.norm() > 2 * radius) strut(Vec3::Zero(), 1.1 * radius);
            return;
        case slider:
            strut(Vec3(0, 0, std::clamp(at.z(), -0.5 * p.shaft, 0.5 * p.shaft)) + 1.3 * p.shaft * outwards,
                  1.2 * radius);
            return;
    }
}

/// Where a ball's stud is rooted in its arm.
Vec3 tip_of(const SolidMaker& m, const Vec3& ball, const Vec3& stud) {
    return ball - 2.05 * m.p.ball * stud;
}

/// A flat arm square to the axis, with a ball on its stud at the tip.
void add_arm(SolidMaker& m, Part part, Frame frame, const Vec3& ball, const Vec3& stud, double root, double thick) {
    const Vec3 tip = tip_of(m, ball, stud), from(0, 0, tip.z());
    if ((tip - from).norm() > 0.3 * root)
        m.add(part, frame, Tone::alloy, lever(from, tip, root, 1.15 * m.p.ball, Vec3::UnitZ(), thick));
    m.add_ball(part, frame, ball, tip);
}

/// An arm whose end is a socket round another part's ball.
void add_socket_arm(SolidMaker& m, Part part, Frame frame, const Vec3& at, const Vec3& stud) {
    const Vec3 from(0, 0, at.z()), along = at - from;
    const double r = m.p.ball, length = along.norm();
    m.add_socket(part, frame, frame_at(at, stud, along));
    if (length < 2.5 * r) return;
    const Placement axis = frame_at(at, -along, stud);
    const std::array<Turned, 4> neck{{{0.7 * r, 1.3 * r},
                                      {0.92 * r, 2.0 * r},
                                      {0.85 * r, std::min(4.4 * r, length)},
                                      {0.7 * r, std::min(4.5 * r, length)}}};
    m.add(part, frame, Tone::dark, lathe(axis, neck, 14));
    if (length > 4.5 * r) m.add(part, frame, Tone::steel, rod(from, at - along * (4.2 * r / length), 0.55 * r, 14));
}

/// The other ball of a pin in which this lever has the socket; between two levers the first named has it.
std::optional<head::BallName> socket_of(const head::Description& d, const head::BallName& ball) {
    for (const head::Pin& pin : d.pins) {
        if (pin.ends[0] == ball) return pin.ends[1];
        if (pin.ends[1] == ball && pin.ends[0].of != head::BallName::Of::lever) return pin.ends[0];
    }
    return std::nullopt;
}

/// The stud on which a socket of `frame` sits, in that frame, both parts at neutral.
Vec3 stud_seen_from(const head::Description& d, const Frame& frame, const head::BallName& ball) {
    const auto seat = seat_of(ball, d);
    if (!seat) return Vec3::UnitZ();
    return level_turn(frame, d).transpose() * (level_turn(seat->frame, d) * seat->stud);
}

bool on_shaft(const SolidMaker& m, const head::Carrier& on, const Vec3& pivot) {
    return on.on == head::Carrier::On::hub && std::hypot(pivot.x(), pivot.y()) < 1.2 * m.p.shaft;
}

/// The feathering spindle of grips that move with a lever, and the pin about which it rocks.
void add_spindle(SolidMaker& m, Part part, Frame frame, std::size_t lever) {
    const Proportions& p = m.p;
    const head::Lever& own = m.head.levers[lever];
    const Mat3 back = (level_turn(frame, m.head) * turn_about_z(-own.angle_deg * degree)).transpose();
    const Placement joint = head::lever_frame(m.head, own);
    const Vec3 centre = own.on.on == head::Carrier::On::hub
                            ? Vec3(joint.turn.transpose() * (Vec3(0, 0, m.head.rotor.hub_height_mm) - joint.origin))
                            : Vec3::Zero();
    bool any = false;
    for (std::size_t k = 0; k < m.head.grips.size(); ++k) {
        if (m.head.grips[k].lever != static_cast<int>(lever)) continue;
        const Vec3 out = m.sense * (back * head::grip_frame(m.head, static_cast<int>(k)).turn.col(2));
        const double from = std::max(0.0, -centre.dot(out));  // beside the pivot
        if (from < p.grip_end)
            m.add(part, frame, Tone::bright, rod(centre + from * out, centre + p.grip_end * out, p.spindle, 18));
        any = true;
    }
    if (!any) return;
    const double half = 2 * p.shaft;
    m.add(part, frame, Tone::bright, rod(Vec3(0, 0, -half), Vec3(0, 0, half), 0.34 * p.shaft));
    for (double side : {-1.0, 1.0})
        m.add_screw_head(part, frame, Vec3(0, 0, side * half), Vec3(0, 0, side * 1.25 * half), 0.55 * p.shaft);
}

/// A stabiliser bar: its rod lies along the axis, with a paddle at either end that is level at neutral.
void add_bar(SolidMaker& m, Part part, Frame frame) {
    const Proportions& p = m.p;
    const auto [end, span, chord] = paddles_of(p);
    const Vec3 up = level_turn(frame, m.head).transpose() * Vec3::UnitZ();
    m.add(part, frame, Tone::bright, rod(Vec3(0, 0, -end + 0.6 * span), Vec3(0, 0, end - 0.6 * span), 0.32 * p.shaft));
    for (double side : {-1.0, 1.0}) {
        // Each paddle's nose points the way its end of the bar goes.
        const Placement at = frame_at(Vec3::Zero(), Vec3(0, 0, side), m.sense * up.cross(Vec3(0, 0, side)));
        const auto section = [&, chord = chord](double out, double length) {
            Ring ring;
            constexpr int half = 9;
            for (int k = 0; k < 2 * half; ++k) {
                const double turn = pi * k / half, x = 0.5 * (1 + std::cos(turn));
                const double high = std::copysign(naca_half_thickness(x, 0.14) * length, std::sin(turn));
                ring.push_back(at * Vec3(0.1 * chord + (0.5 - x) * length, k % half == 0 ? 0.0 : high, out));
            }
            return ring;
        };
        m.add(part, frame, Tone::carbon,
              skin({section(end - span, 0.86 * chord), section(end - 0.92 * span, chord),
                    section(end - 0.08 * span, chord), section(end, 0.86 * chord)},
                   false));
        m.add(part, frame, Tone::steel,
              rod(Vec3(0, 0, side * (end - 1.14 * span)), Vec3(0, 0, side * (end - 0.98 * span)), 0.5 * p.shaft));
    }
}

Boss boss_of(const SolidMaker& m, std::size_t i) {
    const head::Lever& lever = m.head.levers[i];
    const double b = m.p.ball;
    double shortest = 1e300, sum = 0;
    Boss boss{1.6 * b, 1.15 * b, 1e300, -1e300, -1};
    for (std::size_t k = 0; k < lever.balls_mm.size(); ++k) {
        const Vec3& at = lever.balls_mm[k];
        const bool socket =
            socket_of(m.head, {head::BallName::Of::lever, static_cast<int>(i), static_cast<int>(k)}).has_value();
        const double z = socket ? at.z() : tip_of(m, at, lever_stud(lever, k)).z();
        boss.low = std::min(boss.low, z), boss.high = std::max(boss.high, z);
        if (const double out = std::hypot(at.x(), at.y()); out > b) shortest = std::min(shortest, out);
        sum += lever_stud(lever, k).z();
    }
    if (lever.balls_mm.empty()) boss.low = boss.high = 0;
    boss.low -= 0.62 * boss.thick, boss.high += 0.62 * boss.thick;
    if (shortest < 1e300) boss.radius = std::clamp(0.26 * shortest, 1.1 * b, 1.7 * b);
    boss.side = sum < 0 ? 1 : -1;  // away from the studs
    return boss;
}

void add_lever(SolidMaker& m, std::size_t i) {
    const Proportions& p = m.p;
    const head::Lever& own = m.head.levers[i];
    const int index = static_cast<int>(i);
    const Part part{Role::lever, index};
    const Frame frame{Ride::lever, index};
    const Boss boss = boss_of(m, i);
    for (std::size_t k = 0; k < own.balls_mm.size(); ++k) {
        const auto other = socket_of(m.head, {head::BallName::Of::lever, index, static_cast<int>(k)});
        if (other)
            add_socket_arm(m, part, frame, own.balls_mm[k], stud_seen_from(m.head, frame, *other));
        else
            add_arm(m, part, frame, own.balls_mm[k], lever_stud(own, k), boss.radius, boss.thick);
    }
    add_spindle(m, part, frame, i);
    const bool bar = is_bar(index, m.head);
    if (bar) add_bar(m, part, frame);
    const bool carries_grips = std::ranges::any_of(m.head.grips, [&](const head::Grip& g) { return g.lever == index; });
    if (carries_grips) return;
    const Placement joint = head::lever_frame(m.head, own);
    if (on_shaft(m, own.on, joint.origin)) {  // a block about the shaft, on a pin through it
        const Vec3 up = level_turn(frame, m.head).transpose() * Vec3::UnitZ();
        if (std::abs(up.z()) < 0.7)
            m.add(part, frame, Tone::alloy,
                  block(frame_at(Vec3::Zero(), up, Vec3::UnitZ()), Vec3(1.7, 1.9, 0.75) * p.shaft, 0.5 * p.shaft));
        m.add(part, frame, Tone::bright, rod(Vec3(0, 0, -2.1 * p.shaft), Vec3(0, 0, 2.1 * p.shaft), 0.4 * p.shaft));
        return;
    }
    const bool on_parents_axis = own.on.on == head::Carrier::On::lever && joint.origin.norm() < 1.5 * p.shaft;
    m.add(part, frame, Tone::alloy, rod(Vec3(0, 0, boss.low), Vec3(0, 0, boss.high), boss.radius, 20));
    if (bar || on_parents_axis) return;  // the bar is its own pin
    const double mount = boss.mount(), far = boss.side > 0 ? boss.low : boss.high;
    m.add(part, frame, Tone::bright,
          rod(Vec3(0, 0, far - boss.side * 0.3 * boss.thick), Vec3(0, 0, mount + boss.side * 0.75 * boss.thick),
              0.5 * boss.radius, 14));
    const bool at_arm = own.on.on == head::Carrier::On::grip;  // its pitch arm leads there
    const Vec3 at = joint * Vec3(0, 0, mount);
    if (at_arm && static_cast<std::size_t>(own.on.index) < m.head.grips.size()) {
        const head::PitchArm& arm = m.head.grips[static_cast<std::size_t>(own.on.index)].pitch_arm;
        if ((Vec3(arm.lead_mm, arm.up_mm, m.sense * arm.along_mm) - joint.origin).norm() < 3 * p.ball) return;
    }
    add_mount(m, part, own.on, at, joint.turn.col(2), boss.radius, boss.thick);
}

void add_slider(SolidMaker& m, std::size_t i) {
    const Proportions& p = m.p;
    const head::Slider& own = m.head.sliders[i];
    const int index = static_cast<int>(i);
    const Part part{Role::slider, index};
    const Frame frame{Ride::slider, index};
    const Placement joint = head::slider_frame(m.head, own);
    const bool about_shaft = own.on.on != head::Carrier::On::grip && own.on.on != head::Carrier::On::lever &&
                             own.on.on != head::Carrier::On::slider && std::abs(joint.turn(2, 2)) > 0.9 &&
                             std::hypot(joint.origin.x(), joint.origin.y()) < 0.5 * p.shaft;
    const double bore = about_shaft ? 1.06 * p.shaft : 0.75 * p.ball,
                 outer = about_shaft ? 1.75 * p.shaft : 1.6 * p.ball;
    const double half = about_shaft ? 0.85 * p.shaft : 2 * p.ball, thick = 1.15 * p.ball;
    double low = -half, high = half;
    for (const Vec3& ball : own.balls_mm) {
        const Vec3 stud = Vec3::UnitZ(), tip = tip_of(m, ball, stud);
        low = std::min(low, tip.z() - 0.6 * thick), high = std::max(high, tip.z() + 0.6 * thick);
        add_arm(m, part, frame, ball, stud, 0.9 * outer, thick);
    }
    m.add(part, frame, Tone::alloy, tube(Vec3(0, 0, low), Vec3(0, 0, high), bore, outer));
    for (const double z : {low, high})
        m.add(part, frame, Tone::steel,
              tube(Vec3(0, 0, z - 0.12 * half), Vec3(0, 0, z + 0.12 * half), bore, 1.18 * outer));
    if (about_shaft) return;
    const double reach = half + p.swing + std::abs(own.place_mm);  // the rod on which it slides stands still
    m.add(part, frame_of(part_of(own.on)), Tone::bright,
          rod(joint * Vec3(0, 0, -reach), joint * Vec3(0, 0, reach), 0.7 * p.ball));
}

void add_fixed_ball(SolidMaker& m, const head::FixedBall& fixed) {
    const Mat3 axes = head::carrier_axes(m.head, fixed.on, fixed.blade);
    const Vec3 at = axes * fixed.at_mm, stud = axes.col(2), foot = at - 2.05 * m.p.ball * stud;
    m.add_ball(part_of(fixed.on), frame_of(part_of(fixed.on)), at, foot);
    add_mount(m, part_of(fixed.on), fixed.on, foot, stud, 1.2 * m.p.ball, 1.15 * m.p.ball);
}

}  // namespace

void add_levers(SolidMaker& m) {
    for (std::size_t i = 0; i < m.head.levers.size(); ++i) add_lever(m, i);
    for (std::size_t i = 0; i < m.head.sliders.size(); ++i) add_slider(m, i);
    for (const head::FixedBall& fixed : m.head.fixed_balls) add_fixed_ball(m, fixed);
}

}  // namespace swashwright::draw
