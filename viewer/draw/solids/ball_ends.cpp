#include "viewer/draw/solids/ball_ends.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/build.h"
#include "kinematics/head/inventory.h"
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

/// What rides with a part's own body. Blades and link ends have frames that no part is.
constexpr std::pair<Ride, Role> rides[] = {
    {Ride::ground, Role::frame},          {Ride::horn, Role::horn},    {Ride::inner_ring, Role::inner_ring},
    {Ride::outer_ring, Role::outer_ring}, {Ride::hub, Role::hub},      {Ride::grip, Role::grip},
    {Ride::lever, Role::lever},           {Ride::slider, Role::slider}};

}  // namespace

Frame frame_of(const Part& part) {
    const auto ride = std::ranges::find(rides, part.role, &std::pair<Ride, Role>::second);
    return ride == std::end(rides) ? Frame{} : Frame{ride->first, part.index};
}

std::array<Ride, 2> ends_ride_on(Role link) {
    if (link == Role::lower_link) return {Ride::lower_foot, Ride::lower_head};
    if (link == Role::upper_link) return {Ride::upper_foot, Ride::upper_head};
    return {Ride::link_foot, Ride::link_head};
}

Vec3 lever_stud(const head::Lever& lever, std::size_t ball) {
    if (ball < lever.studs.size()) return lever.studs[ball].normalized();
    double side = 0;
    for (const Vec3& other : lever.balls_mm) side += other.z();
    return side < 0 ? Vec3(-Vec3::UnitZ()) : Vec3::UnitZ();
}

namespace {

/// Of a ball that is there.
Vec3 stud_of(const head::BallName& ball, const head::Description& d) {
    const auto i = static_cast<std::size_t>(ball.index);
    using enum head::BallName::Of;
    switch (ball.of) {
        case servo:
            return head::horn_stud(d, i);
        case inner_ball:
            return head::inner_ring_stud(d, i);
        case outer_ball:
            return head::outer_ring_stud(d, i);
        case grip:
            return head::arm_stud(d, i);
        case lever:
            return lever_stud(d.levers[i], static_cast<std::size_t>(ball.ball));
        case slider:
            return Vec3::UnitZ();
        case fixed_ball:
            break;
    }
    return head::carrier_axes(d, d.fixed_balls[i].on, d.fixed_balls[i].blade).col(2);
}

}  // namespace

std::optional<Seat> seat_of(const head::BallName& ball, const head::Description& d) {
    const auto part = part_of(d, ball);
    return part ? std::optional(Seat{frame_of(*part), stud_of(ball, d)}) : std::nullopt;
}

const Placement* place_of(const Frame& frame, const head::Skeleton& s) {
    const auto ride = std::ranges::find(rides, frame.ride, &std::pair<Ride, Role>::first);
    return ride == std::end(rides) ? nullptr : head::place_of(s, {ride->second, frame.index});
}

bool goes_round(const Frame& frame, const head::Description& d) {
    const auto ball_does = [&](const head::BallName& ball) {
        const auto seat = seat_of(ball, d);
        return seat && goes_round(seat->frame, d);
    };
    const auto link_does = [&](Role kind) {
        const auto ends = ends_of(d, Part{kind, frame.index});
        return ends && std::ranges::any_of(*ends, ball_does);
    };
    Frame below = frame;
    for (std::size_t i = 0; i <= most_carriers(d); ++i) {
        const head::Carrier* carrier = carrier_of(below, d);
        if (carrier == nullptr) break;
        below = frame_of(part_of(*carrier));
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
        below = frame_of(part_of(*carrier));
    }
    if (below.ride == Ride::grip && static_cast<std::size_t>(below.index) < head::count_of(d, Role::grip))
        return head::grip_frame(d, below.index).turn * turn;
    if (below.ride == Ride::horn)
        if (const head::Servo* servo = at(d.servos, below.index))
            return frame_at(Vec3::Zero(), servo->axis, servo->horn_zero).turn *
                   turn_about_z((servo->neutral_deg + servo->trim_deg) * degree) * turn;
    return turn;
}

}  // namespace swashwright::draw
