#include "viewer/draw/solids/ball_ends.h"

#include <algorithm>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/head/studs.h"
#include "viewer/draw/solids/shapes.h"

namespace swashwright::draw {
namespace {

template <class T>
const T* at(const std::vector<T>& list, int index) {
    const auto i = static_cast<std::size_t>(index);
    return index >= 0 && i < list.size() ? &list[i] : nullptr;
}

/// What a lever or slider stands on; null for other frames.
const head::Carrier* carrier_of(const Frame& frame, const head::Description& d) {
    if (frame.ride == Ride::lever)
        if (const head::Lever* lever = at(d.levers, frame.index)) return &lever->on;
    if (frame.ride == Ride::slider)
        if (const head::Slider* slider = at(d.sliders, frame.index)) return &slider->on;
    return nullptr;
}

/// More carriers than parts are a circle, of which nothing can be told.
std::size_t most_carriers(const head::Description& d) {
    return d.levers.size() + d.sliders.size();
}

}  // namespace

Frame frame_of(const head::Carrier& carrier) {
    using enum head::Carrier::On;
    switch (carrier.on) {
        case frame:
            return {Ride::ground, 0};
        case inner_ring:
            return {Ride::inner_ring, 0};
        case outer_ring:
            return {Ride::outer_ring, 0};
        case hub:
            return {Ride::hub, 0};
        case grip:
            return {Ride::grip, carrier.index};
        case lever:
            return {Ride::lever, carrier.index};
        case slider:
            break;
    }
    return {Ride::slider, carrier.index};
}

Part part_of(const head::Carrier& carrier) {
    using enum head::Carrier::On;
    switch (carrier.on) {
        case frame:
            return {Role::frame, 0};
        case inner_ring:
            return {Role::inner_ring, 0};
        case outer_ring:
            return {Role::outer_ring, 0};
        case hub:
            return {Role::hub, 0};
        case grip:
            return {Role::grip, carrier.index};
        case lever:
            return {Role::lever, carrier.index};
        case slider:
            break;
    }
    return {Role::slider, carrier.index};
}

std::optional<std::array<head::BallName, 2>> ends_of(const Part& link, const head::Description& d) {
    const auto i = static_cast<std::size_t>(link.index);
    if (link.role == Role::lower_link && at(d.lower_links, link.index) != nullptr)
        return head::ends_of_lower_link(d, i);
    if (link.role == Role::upper_link && at(d.upper_links, link.index) != nullptr)
        return head::ends_of_upper_link(d, i);
    if (link.role == Role::other_link && at(d.links, link.index) != nullptr) return d.links[i].ends;
    return std::nullopt;
}

Vec3 lever_stud(const head::Lever& lever, std::size_t ball) {
    if (ball < lever.studs.size()) return lever.studs[ball].normalized();
    double side = 0;
    for (const Vec3& other : lever.balls_mm) side += other.z();
    return side < 0 ? Vec3(-Vec3::UnitZ()) : Vec3::UnitZ();
}

std::optional<Seat> seat_of(const head::BallName& ball, const head::Description& d) {
    const auto i = static_cast<std::size_t>(ball.index);
    using enum head::BallName::Of;
    switch (ball.of) {
        case servo:
            if (at(d.servos, ball.index) == nullptr) break;
            return Seat{{Ride::horn, ball.index}, head::horn_stud(d, i)};
        case inner_ball:
            if (at(d.swashplate.inner_balls, ball.index) == nullptr) break;
            return Seat{{Ride::inner_ring, 0}, head::inner_ring_stud(d, i)};
        case outer_ball:
            if (at(d.swashplate.outer_balls, ball.index) == nullptr) break;
            return Seat{{Ride::outer_ring, 0}, head::outer_ring_stud(d, i)};
        case grip:
            if (at(d.grips, ball.index) == nullptr) break;
            return Seat{{Ride::grip, ball.index}, head::arm_stud(d, i)};
        case lever:
            if (at(d.levers, ball.index) == nullptr || at(d.levers[i].balls_mm, ball.ball) == nullptr) break;
            return Seat{{Ride::lever, ball.index}, lever_stud(d.levers[i], static_cast<std::size_t>(ball.ball))};
        case slider:
            if (at(d.sliders, ball.index) == nullptr || at(d.sliders[i].balls_mm, ball.ball) == nullptr) break;
            return Seat{{Ride::slider, ball.index}, Vec3::UnitZ()};
        case fixed_ball:
            if (const head::FixedBall* fixed = at(d.fixed_balls, ball.index))
                return Seat{frame_of(fixed->on), head::carrier_axes(d, fixed->on, fixed->blade).col(2)};
            break;
    }
    return std::nullopt;
}

const Placement* place_of(const Frame& frame, const head::Skeleton& s) {
    static const Placement ground{};
    switch (frame.ride) {
        case Ride::ground:
            return &ground;
        case Ride::horn:
            return at(s.horns, frame.index);
        case Ride::inner_ring:
            return &s.inner_ring;
        case Ride::outer_ring:
            return &s.outer_ring;
        case Ride::hub:
            return &s.hub;
        case Ride::grip:
            return at(s.grips, frame.index);
        case Ride::lever:
            return at(s.levers, frame.index);
        case Ride::slider:
            return at(s.sliders, frame.index);
        default:
            return nullptr;
    }
}

bool goes_round(const Frame& frame, const head::Description& d) {
    const auto ball_does = [&](const head::BallName& ball) {
        const auto seat = seat_of(ball, d);
        return seat && goes_round(seat->frame, d);
    };
    const auto link_does = [&](Role kind) {
        const auto ends = ends_of({kind, frame.index}, d);
        return ends && std::ranges::any_of(*ends, ball_does);
    };
    Frame below = frame;
    for (std::size_t i = 0; i <= most_carriers(d); ++i) {
        const head::Carrier* carrier = carrier_of(below, d);
        if (carrier == nullptr) break;
        below = frame_of(*carrier);
    }
    switch (below.ride) {
        case Ride::outer_ring:
        case Ride::hub:
        case Ride::grip:
        case Ride::blade:
            return true;
        case Ride::lower_foot:
        case Ride::lower_head:
            return link_does(Role::lower_link);
        case Ride::upper_foot:
        case Ride::upper_head:
            return link_does(Role::upper_link);
        case Ride::link_foot:
        case Ride::link_head:
            return link_does(Role::other_link);
        default:
            return false;
    }
}

bool is_bar(int lever, const head::Description& d) {
    const Frame frame{Ride::lever, lever};
    const head::Lever* own = at(d.levers, lever);
    return own != nullptr && !own->reads.empty() && goes_round(frame, d) && std::abs(level_turn(frame, d)(2, 2)) < 0.7;
}

Mat3 level_turn(const Frame& frame, const head::Description& d) {
    Mat3 turn = Mat3::Identity();
    Frame below = frame;
    for (std::size_t i = 0; i <= most_carriers(d); ++i) {
        const head::Carrier* carrier = carrier_of(below, d);
        if (carrier == nullptr) break;
        if (below.ride == Ride::lever) {
            const head::Lever& lever = *at(d.levers, below.index);
            turn = head::lever_frame(d, lever).turn * turn_about_z(lever.angle_deg * degree) * turn;
        } else {
            turn = head::slider_frame(d, *at(d.sliders, below.index)).turn * turn;
        }
        below = frame_of(*carrier);
    }
    if (below.ride == Ride::grip && at(d.grips, below.index) != nullptr)
        return head::grip_frame(d, below.index).turn * turn;
    if (below.ride == Ride::horn)
        if (const head::Servo* servo = at(d.servos, below.index))
            return frame_at(Vec3::Zero(), servo->axis, servo->horn_zero).turn *
                   turn_about_z((servo->neutral_deg + servo->trim_deg) * degree) * turn;
    return turn;
}

}  // namespace swashwright::draw
