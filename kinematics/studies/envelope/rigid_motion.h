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
    const Motion& by = at.by[way];
    if (part.rod.index < 0)
        return {by.spin[part.body.index], by.drift[part.body.index], ws.placement(part.body).origin};
    const auto& ends = model.rod(part.rod).ends;
    const Vec3 span = ws.point(ends[1].ball) - ws.point(ends[0].ball);
    const Vec3 &lower = by.anchor_drift[ends[0].ball.index], &upper = by.anchor_drift[ends[1].ball.index];
    return {span.cross(upper - lower) / span.squaredNorm(), lower, ws.point(ends[0].ball)};
}

inline Placement placement_of(const head::Model& model, head::PartId id, const Moment& at) {
    return at.parts.empty() ? model.placement(id, at.stands()) : at.parts[static_cast<std::size_t>(id.index)];
}

/// Works both out for all parts, to be asked often.
inline void keep_parts(const head::Model& model, Moment& at) {
    std::vector<Placement> parts;
    std::vector<std::vector<RigidMotion>> by(at.by.size());
    for (int i = 0; i < static_cast<int>(model.parts().size()); ++i) {
        parts.push_back(model.placement({i}, at.stands()));
        for (std::size_t w = 0; w < by.size(); ++w) by[w].push_back(motion_of(model, {i}, at, w));
    }
    at.parts = std::move(parts);
    at.parts_by = std::move(by);
}

}  // namespace swashwright::studies
