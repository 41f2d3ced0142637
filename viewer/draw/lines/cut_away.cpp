#include "viewer/draw/lines/cut_away.h"

#include <algorithm>
#include <limits>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/inventory.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/ball_ends.h"

namespace swashwright::draw {
namespace {

constexpr double nowhere = std::numeric_limits<double>::quiet_NaN();

/// A part stands nowhere once what it is placed by is no number.
void take_away_link(const head::Description& d, const Part& link, head::Skeleton& s) {
    const auto ends = head::ends_of(d, link);
    if (!ends) return;
    const Vec3* ball = head::ball_place(s, (*ends)[0]);
    if (ball == nullptr) return;
    const auto clear = [ball](std::vector<Vec3>& places) {
        for (Vec3& place : places)
            if (&place == ball) place.setConstant(nowhere);
    };
    for (auto* places : {&s.horn_balls, &s.inner_balls, &s.outer_balls, &s.grip_balls, &s.fixed_balls}) clear(*places);
    for (auto* lists : {&s.lever_balls, &s.slider_balls})
        for (auto& places : *lists) clear(places);
}

}  // namespace

bool uncut(const Part& part) {
    return part.role == Role::shaft || part.role == Role::horn || part.role == Role::blade || is_link(part.role);
}

Frames frames_short_of(const Plane& plane, const head::Description& description, const head::Pose& pose,
                       double exaggeration) {
    head::Description d = description;
    head::Pose left = pose;
    constexpr double in_plane_mm = 0.5;  // a part that lies in the plane is shown
    const auto beyond = [&](const Vec3& at) { return plane.height_of(at) > in_plane_mm; };
    for (const Part& link : head::links_of(d))
        if (const auto length = length_of(link, description, pose); length && beyond((length->a + length->b) / 2))
            take_away_link(d, link, left.skeleton);
    for (std::size_t j = 0; j < left.skeleton.horns.size(); ++j) {
        const auto length = length_of({Role::horn, static_cast<int>(j)}, description, pose);
        if (length && beyond((length->a + length->b) / 2)) left.skeleton.horns[j].origin.setConstant(nowhere);
    }
    const Proportions p = proportions_of(d);
    const double out = head::spin_sign(d.rotor.direction) * p.stub_end;
    for (std::size_t k = 0; k < std::min(d.grips.size(), left.skeleton.grips.size()); ++k)
        if (beyond(left.skeleton.grips[k] * Vec3(0, 0, out))) d.grips[k].pitch_offset_deg = nowhere;
    return {d, left, exaggeration};
}

}  // namespace swashwright::draw
