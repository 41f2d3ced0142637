// How a part stands and moves at a moment, as a rigid body.
#pragma once

#include "kinematics/head/model.h"
#include "kinematics/studies/envelope/moment.h"

namespace swashwright::studies {

/// Of a link, its roll about itself left out.
inline RigidMotion motion_of(const head::Model& model, head::PartId id, const Moment& at, std::size_t way) {
    if (at.parts_by) return at.part_by(id)[way];
    const head::Part& part = model.part(id);
    const linkage::Workspace& ws = at.stands();
    if (part.rod.index < 0) {
        const linkage::RigidRates& by = at.of(part.body, way);
        return {by.spin, by.drift - by.spin.cross(ws.placement(part.body).origin)};
    }
    const auto& ends = model.rod(part.rod).ends;
    const Vec3 span = ws.point(ends[1].ball) - ws.point(ends[0].ball);
    const Vec3 lower = at.velocity(ends[0].body, ws.point(ends[0].ball), way);
    const Vec3 upper = at.velocity(ends[1].body, ws.point(ends[1].ball), way);
    const Vec3 spin = span.cross(upper - lower) / span.squaredNorm();
    return {spin, lower - spin.cross(ws.point(ends[0].ball))};
}

inline Placement placement_of(const head::Model& model, head::PartId id, const Moment& at) {
    return at.parts ? at.part(id) : model.placement(id, at.stands());
}

}  // namespace swashwright::studies
