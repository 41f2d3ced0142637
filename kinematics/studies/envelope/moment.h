// How everything stands and moves at one place of the envelope: what the slopes of checks are made of.
#pragma once

#include <array>
#include <vector>

#include "kinematics/linkage/workspace.h"

namespace swashwright::studies {

/// Collective, two of the cyclic stick, azimuth, and up to four parts that a hand moves.
inline constexpr std::size_t most_ways = 8;
/// A number for each way in which a place can change (see `Chart`); those beyond the chart's are 0.
using Ways = std::array<double, most_ways>;

/// First-order motion of the linkage for a unit rate of one way; fields as in `linkage::Workspace`.
struct Motion {
    std::vector<Vec3> spin, drift, frame_spin, frame_drift, anchor_drift, normal_drift;

    void take(const linkage::Workspace& ws) {
        spin = ws.spin, drift = ws.drift;
        frame_spin = ws.frame_spin, frame_drift = ws.frame_drift;
        anchor_drift = ws.anchor_drift, normal_drift = ws.normal_drift;
    }
};

/// First-order motion of a part as a rigid body, head frame.
struct RigidMotion {
    Vec3 spin = Vec3::Zero(), drift = Vec3::Zero(), origin = Vec3::Zero();

    Vec3 of(const Vec3& point) const { return drift + spin.cross(point - origin); }
};

struct Moment {
    const linkage::Workspace* ws = nullptr;
    std::vector<Motion> by;  // of each way
    // Where the moment is asked often, by the parts of the head's model; else empty:
    std::vector<Placement> parts;
    std::vector<std::vector<RigidMotion>> parts_by;  // of each way

    const linkage::Workspace& stands() const { return *ws; }
};

/// One of the smooth functions of which the margin of a check is the least, and its slopes by the ways.
struct Piece {
    double margin = 0;
    Ways slope{};
};

}  // namespace swashwright::studies
