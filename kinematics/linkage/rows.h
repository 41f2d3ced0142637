// Residuals and gradients of a block's rows at the pose at which a workspace stands.
#pragma once

#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// A row's residual and its gradient by the place of one of its two points: of `b` for a link and a coincidence, of `a`
/// for a slot. By the place of the other point it is the opposite (`Term::sign`).
struct RowValue {
    double residual;  // mm; of a slot: of point a above the plane, towards the normal
    Vec3 gradient;    // mm per mm
};

/// A link's residual is (d^2 - L^2) / 2L: the same zero as d - L, equal to it to first order there, and free of roots.
inline RowValue row_value(const Workspace& ws, const Row& row) {
    const Vec3& a = ws.anchors[row.a];
    const Vec3& b = ws.anchors[row.b];
    switch (row.kind) {
        case ClosureKind::link: {
            const Vec3 span = b - a;
            return {0.5 * (span.squaredNorm() * row.inverse_length - row.length), span * row.inverse_length};
        }
        case ClosureKind::slot: {
            const Vec3& n = ws.normals[row.closure];
            return {n.dot(a - b), n};
        }
        case ClosureKind::coincidence:
            break;
    }
    return {b[row.component] - a[row.component], Vec3::Unit(row.component)};
}

/// True closure error, mm: distance minus length for a link.
inline double closure_error(const Workspace& ws, const Row& row) {
    if (row.kind != ClosureKind::link) return row_value(ws, row).residual;
    return (ws.anchors[row.b] - ws.anchors[row.a]).norm() - row.length;
}

/// Adds one term's derivatives to a row of the Jacobian: `out[column...]`, per mm and per rad about the ground's axes.
inline void add_term(const Workspace& ws, const Term& term, const Vec3& gradient, double* out) {
    const Placement& frame = ws.frames[term.body];
    double* d = out + term.column;
    switch (term.joint) {
        case Joint::fixed:
            return;
        case Joint::revolute: {
            const Vec3 arm = ws.anchors[term.anchor] - frame.origin;
            d[0] += term.sign * frame.turn.col(2).dot(arm.cross(gradient));
            return;
        }
        case Joint::prismatic:
            d[0] += term.sign * frame.turn.col(2).dot(gradient);
            return;
        case Joint::ball: {
            const Vec3 moment = term.sign * (ws.anchors[term.anchor] - frame.origin).cross(gradient);
            for (int i = 0; i < 3; ++i) d[i] += moment[i];
            return;
        }
        case Joint::slide_and_ball: {
            d[0] += term.sign * frame.turn.col(2).dot(gradient);
            const Vec3 moment = term.sign * (ws.anchors[term.anchor] - ws.bodies[term.body].origin).cross(gradient);
            for (int i = 0; i < 3; ++i) d[1 + i] += moment[i];
            return;
        }
    }
}

/// A row of a block with one unknown rotation, as a circle: the closure holds where a cos + b sin = c, and its residual
/// is scale (a cos + b sin - c), in mm for a slot, in the row's own form (see `row_value`) for a link.
struct Circle {
    double a, b, c, scale;
};
Circle circle_of(const Plan& plan, const Workspace& ws, const Block& block, int row);

/// What a link's circle is made of whatever the pose. The row must have a circle and be a link.
LinkCircle link_circle(const Plan& plan, const Block& block, int row);
/// With the link's other end at `reach` in the joint's frame, mm.
inline Circle circle_of(const LinkCircle& link, const Vec3& reach) {
    const Vec3& arm = link.arm;
    return {reach.x() * arm.x() + reach.y() * arm.y(), reach.y() * arm.x() - reach.x() * arm.y(),
            0.5 * reach.squaredNorm() + link.constant - reach.z() * arm.z(), link.scale};
}

/// Empty where the plane turns and the point stands. The row must have a circle and be a slot.
std::optional<SlotCircle> slot_circle(const Plan& plan, const Block& block, int row);
inline Circle circle_of(const SlotCircle& slot, const Workspace& ws, int body) {
    const Placement& frame = ws.frames[body];
    const Vec3 &normal = ws.normals[slot.closure], &p = slot.point, n = frame.turn.transpose() * normal;
    return {n.x() * p.x() + n.y() * p.y(), n.y() * p.x() - n.x() * p.y(),
            normal.dot(ws.anchors[slot.through] - frame.origin) - n.z() * p.z(), 1.0};
}

/// Can the block's row be written as a circle (the moving end rides on the joint's own body)?
bool has_circle(const Plan& plan, const Block& block, int row);

}  // namespace swashwright::linkage
