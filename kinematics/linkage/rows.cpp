#include "kinematics/linkage/rows.h"

namespace swashwright::linkage {

namespace {

const Term* term_of(const Block& block, int row) {
    for (const Term& term : block.terms)
        if (term.row == row) return &term;
    return nullptr;
}

}  // namespace

bool has_circle(const Plan& plan, const Block& block, int row) {
    const auto& description = plan.description();
    const Closure& closure = description.closures()[block.rows[row].closure];
    const Term* term = term_of(block, row);
    if (term == nullptr || closure.kind == ClosureKind::coincidence || term->joint != Joint::revolute) return false;
    const int moving = closure.kind == ClosureKind::slot && term->sign < 0 ? closure.b.index : term->anchor;
    return description.anchors()[moving].body.index == term->body;
}

LinkCircle link_circle(const Plan& plan, const Block& block, int row) {
    const Row& link = block.rows[row];
    const int riding = term_of(block, row)->anchor;
    const Vec3& arm = plan.description().anchors()[riding].position;
    return {riding == link.a ? link.b : link.a, arm, 0.5 * (arm.squaredNorm() - link.length * link.length),
            -link.inverse_length};
}

std::optional<SlotCircle> slot_circle(const Plan& plan, const Block& block, int row) {
    if (term_of(block, row)->sign < 0) return {};
    const auto& description = plan.description();
    const int index = block.rows[row].closure;
    const Closure& closure = description.closures()[index];
    return SlotCircle{index, closure.b.index, description.anchors()[closure.a.index].position};
}

Circle circle_of(const Plan& plan, const Workspace& ws, const Block& block, int row) {
    if (block.slot_circle) return circle_of(*block.slot_circle, ws, block.joints[0]);
    const auto& description = plan.description();
    const Row& equation = block.rows[row];
    const Closure& closure = description.closures()[equation.closure];
    const Term& term = *term_of(block, row);
    const Placement& frame = ws.frames[term.body];
    const auto in_frame = [&](const Vec3& v) -> Vec3 { return frame.turn.transpose() * v; };
    if (closure.kind == ClosureKind::link) {
        const LinkCircle link = block.link_circle ? *block.link_circle : link_circle(plan, block, row);
        return circle_of(link, in_frame(ws.anchors[link.other] - frame.origin));
    }
    if (const auto slot = slot_circle(plan, block, row)) return circle_of(*slot, ws, term.body);
    const Vec3 w = in_frame(ws.anchors[closure.a.index] - frame.origin);  // the plane turns against a standing point
    const Vec3& n = closure.normal;
    return {n.x() * w.x() + n.y() * w.y(), n.x() * w.y() - n.y() * w.x(),
            n.dot(description.anchors()[closure.b.index].position) - n.z() * w.z(), 1.0};
}

}  // namespace swashwright::linkage
