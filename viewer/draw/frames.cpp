// Where each frame of a drawing stands in a pose.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "kinematics/head/studs.h"
#include "viewer/draw/shapes.h"
#include "viewer/draw/solids.h"

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

}  // namespace

Frames::Frames(const head::Description& d, const head::Pose& pose, double exaggeration) {
    const head::Skeleton& s = pose.skeleton;
    of_ride_.resize(static_cast<std::size_t>(Ride::upper_head) + 1);
    const auto of = [&](Ride ride) -> std::vector<Placement>& { return of_ride_[static_cast<std::size_t>(ride)]; };
    of(Ride::ground) = {Placement{}};
    of(Ride::horn) = s.horns;
    of(Ride::inner_ring) = {s.inner_ring};
    of(Ride::outer_ring) = {s.outer_ring};
    of(Ride::hub) = {s.hub};
    of(Ride::grip) = s.grips;

    const std::size_t lower = std::min({s.horn_balls.size(), s.inner_balls.size(), s.horns.size(), d.lower_links.size(),
                                        d.swashplate.inner_balls.size()});
    for (std::size_t j = 0; j < lower; ++j) {
        add_link(s.horn_balls[j], s.inner_balls[j], d.lower_links[j].actual_mm(),
                 s.horns[j].turn * head::horn_stud(d, j), s.inner_ring.turn * head::inner_ring_stud(d, j),
                 of(Ride::lower_foot), of(Ride::lower_head));
    }
    const std::size_t upper = std::min({s.outer_balls.size(), s.grip_balls.size(), s.grips.size(), d.upper_links.size(),
                                        d.swashplate.outer_balls.size()});
    for (std::size_t k = 0; k < upper; ++k) {
        add_link(s.outer_balls[k], s.grip_balls[k], d.upper_links[k].actual_mm(),
                 s.outer_ring.turn * head::outer_ring_stud(d, k), s.grips[k].turn * head::arm_stud(d, k),
                 of(Ride::upper_foot), of(Ride::upper_head));
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
