// Where each frame of a drawing stands in a pose.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "kinematics/head/ball_places.h"
#include "viewer/draw/solids/ball_ends.h"
#include "viewer/draw/solids/shapes.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {
namespace {

/// Both ends of a link as drawn: at its true length from the lower ball towards the upper one, so that a link that
/// does not reach is seen not to reach.
void add_link(const Vec3& low, const Vec3& high, double length, const Vec3& low_stud, const Vec3& high_stud,
              std::vector<Placement>& feet, std::vector<Placement>& heads) {
    Vec3 along = high - low;
    const double apart = along.norm();
    along = apart > 1e-9 ? Vec3(along / apart) : Vec3::UnitZ();
    feet.push_back(frame_at(low, along, low_stud));
    heads.push_back(frame_at(low + along * (length > 0 ? length : apart), -along, high_stud));
}

/// Both ends of every link of one kind; a link that lacks a ball has no place.
void add_links(const head::Description& d, const head::Skeleton& s, Role kind, std::vector<Placement>& feet,
               std::vector<Placement>& heads) {
    const auto end = [&](const head::BallName& ball) -> std::optional<std::array<Vec3, 2>> {
        const auto seat = seat_of(ball, d);
        const Vec3* point = head::ball_place(s, ball);
        const Placement* carrier = seat ? place_of(seat->frame, s) : nullptr;
        if (carrier == nullptr || point == nullptr) return std::nullopt;
        return std::array<Vec3, 2>{*point, carrier->turn * seat->stud};
    };
    for (int i = 0; i < static_cast<int>(head::count_of(d, kind)); ++i) {
        const auto ends = ends_of(d, Part{kind, i});
        const auto low = ends ? end((*ends)[0]) : std::nullopt, high = ends ? end((*ends)[1]) : std::nullopt;
        if (low && high) {
            add_link((*low)[0], (*high)[0], link_of(d, Part{kind, i})->actual_mm(), (*low)[1], (*high)[1], feet, heads);
        } else {
            const Placement nowhere{Mat3::Identity(), Vec3::Constant(std::numeric_limits<double>::quiet_NaN())};
            feet.push_back(nowhere), heads.push_back(nowhere);
        }
    }
}

}  // namespace

Frames::Frames(const head::Description& d, const head::Pose& pose, double exaggeration) {
    const head::Skeleton& s = pose.skeleton;
    of_ride_.resize(static_cast<std::size_t>(Ride::link_head) + 1);
    const auto of = [&](Ride ride) -> std::vector<Placement>& { return of_ride_[static_cast<std::size_t>(ride)]; };
    of(Ride::ground) = {Placement{}};
    of(Ride::horn) = s.horns;
    of(Ride::inner_ring) = {s.inner_ring};
    of(Ride::outer_ring) = {s.outer_ring};
    of(Ride::hub) = {s.hub};
    of(Ride::grip) = s.grips;
    of(Ride::lever) = s.levers;
    of(Ride::slider) = s.sliders;

    for (const Role kind : {Role::lower_link, Role::upper_link, Role::other_link}) {
        const auto [foot, head] = ends_ride_on(kind);
        add_links(d, s, kind, of(foot), of(head));
    }
    const double mean = pose.pitch_deg.empty() ? 0
                                               : std::accumulate(pose.pitch_deg.begin(), pose.pitch_deg.end(), 0.0) /
                                                     static_cast<double>(pose.pitch_deg.size());
    const std::size_t blades = std::min({s.grips.size(), pose.pitch_deg.size(), d.grips.size()});
    for (std::size_t k = 0; k < blades; ++k) {
        const double more = d.grips[k].pitch_offset_deg + (exaggeration - 1) * (pose.pitch_deg[k] - mean);
        Placement blade = s.grips[k];
        blade.turn = blade.turn * turn_about_z(more * degree);  // about the feathering axis, leading edge up
        of(Ride::blade).push_back(blade);
    }
}

const Placement* Frames::find(const Frame& frame) const& {
    const auto& list = of_ride_[static_cast<std::size_t>(frame.ride)];
    const auto index = static_cast<std::size_t>(frame.index);
    if (frame.index < 0 || index >= list.size()) return nullptr;
    const Placement& placement = list[index];
    return placement.origin.allFinite() && placement.turn.allFinite() ? &placement : nullptr;
}

}  // namespace swashwright::draw
