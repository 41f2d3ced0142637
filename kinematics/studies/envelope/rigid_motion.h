// How a part stands and moves at a moment, as a rigid body.
#pragma once

#include <utility>
#include <vector>

#include "kinematics/head/model.h"
#include "kinematics/studies/envelope/moment.h"

namespace swashwright::studies {

/// Of a link, its roll about itself left out.
inline RigidMotion motion_of(const head::Model& model, head::PartId id, const Moment& at, std::size_t way) {
    if (!at.parts_by.empty()) return at.parts_by[way][static_cast<std::size_t>(id.index)];
    const head::Part& part = model.part(id);
    const linkage::Workspace& ws = at.stands();
    if (part.rod.index < 0) {
        const linkage::RigidRates& by = at.of(part.body, way);
        return {by.spin, by.drift, ws.placement(part.body).origin};
    }
    const auto& ends = model.rod(part.rod).ends;
    const Vec3 span = ws.point(ends[1].ball) - ws.point(ends[0].ball);
    const Vec3 lower = at.velocity(ends[0].body, ws.point(ends[0].ball), way);
    const Vec3 upper = at.velocity(ends[1].body, ws.point(ends[1].ball), way);
    return {span.cross(upper - lower) / span.squaredNorm(), lower, ws.point(ends[0].ball)};
}

inline Placement placement_of(const head::Model& model, head::PartId id, const Moment& at) {
    return at.parts.empty() ? model.placement(id, at.stands()) : at.parts[static_cast<std::size_t>(id.index)];
}

/// Works both out for all parts, to be asked often.
inline void keep_parts(const head::Model& model, Moment& at) {
    std::vector<Placement> parts;
    std::vector<std::vector<RigidMotion>> by(at.ways);
    for (int i = 0; i < static_cast<int>(model.parts().size()); ++i) {
        parts.push_back(model.placement({i}, at.stands()));
        for (std::size_t w = 0; w < by.size(); ++w) by[w].push_back(motion_of(model, {i}, at, w));
    }
    at.parts = std::move(parts);
    at.parts_by = std::move(by);
}

}  // namespace swashwright::studies
