// How everything stands and moves at one place of the envelope: what the slopes of checks are made of.
#pragma once

#include <array>
#include <vector>

#include "kinematics/head/model.h"
#include "kinematics/linkage/rigid_rates.h"
#include "kinematics/linkage/workspace.h"

namespace swashwright::studies {

/// Collective, two of the cyclic stick, azimuth, and up to four parts that a hand moves.
inline constexpr std::size_t most_ways = 8;
/// A number for each way in which a place can change (see `Chart`); those beyond the chart's are 0.
using Ways = std::array<double, most_ways>;

/// First-order motion of a part as a rigid body, head frame; `drift`: of its point at the head frame's origin.
struct RigidMotion {
    Vec3 spin = Vec3::Zero(), drift = Vec3::Zero();

    Vec3 of(const Vec3& point) const { return drift + spin.cross(point); }
};

struct Moment {
    const linkage::Workspace* ws = nullptr;
    std::size_t ways = 0;
    std::vector<linkage::RigidRates> bodies;  // of each way those of every body, one way behind another
    // Where the moment is asked often, by the parts of the head's model; else null. One part behind another, `apart`
    // places apart:
    const Placement* parts = nullptr;
    const RigidMotion* parts_by = nullptr;  // along every way
    std::size_t apart = 0;

    const linkage::Workspace& stands() const { return *ws; }
    const linkage::RigidRates& of(linkage::BodyId body, std::size_t way) const {
        return bodies[way * ws->bodies.size() + static_cast<std::size_t>(body.index)];
    }
    const Placement& part(head::PartId id) const { return parts[static_cast<std::size_t>(id.index) * apart]; }
    const RigidMotion* part_by(head::PartId id) const {
        return &parts_by[static_cast<std::size_t>(id.index) * apart * ways];
    }
    /// Of a point that rides on a body and stands at `point`.
    Vec3 velocity(linkage::BodyId body, const Vec3& point, std::size_t way) const {
        const linkage::RigidRates& by = of(body, way);
        return by.drift + by.spin.cross(point - ws->placement(body).origin);
    }
};

/// One of the smooth functions of which the margin of a check is the least, and its slopes by the ways.
struct Piece {
    double margin = 0;
    Ways slope{};
};

}  // namespace swashwright::studies
