#include "kinematics/studies/joints/closure_rows.h"

#include <algorithm>

#include "kinematics/linkage/rows.h"

namespace swashwright::studies {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using linkage::ClosureKind;

std::vector<Equation> equations_of(const linkage::Plan& plan, const linkage::Workspace& ws,
                                   std::span<const int> left_out) {
    std::vector<Equation> out;
    const auto& closures = plan.description().closures();
    for (int i = 0; i < static_cast<int>(closures.size()); ++i) {
        if (std::ranges::find(left_out, i) != left_out.end() ||
            std::ranges::find(plan.spare(), linkage::ClosureId{i}) != plan.spare().end())
            continue;
        const linkage::Closure& closure = closures[static_cast<std::size_t>(i)];
        const Vec3 gap = gap_of(plan, ws, i);
        switch (closure.kind) {
            case ClosureKind::link:
                out.push_back({i, gap.x(), (ws.point(closure.b) - ws.point(closure.a)).normalized()});
                break;
            case ClosureKind::slot:
                out.push_back({i, gap.x(), ws.normals[static_cast<std::size_t>(i)]});
                break;
            case ClosureKind::coincidence:
                for (int k = 0; k < 3; ++k) out.push_back({i, gap[k], Vec3::Unit(k)});
        }
    }
    return out;
}

Columns::Columns(const head::Head& head) : of_(head.plan().description().bodies().size(), -1) {
    const auto& bodies = head.plan().description().bodies();
    for (std::size_t b = 1; b < bodies.size(); ++b) {
        if (bodies[b].input || bodies[b].joint == linkage::Joint::fixed) continue;
        of_[b] = joints_;
        joints_ += linkage::freedoms(bodies[b].joint);
    }
    for (const linkage::BodyId horn : head.parts().horns)
        of_[static_cast<std::size_t>(horn.index)] = joints_ + horns_++;
}

namespace {

/// Adds what every joint below `body` does to an equation, as it moves the point of `anchor`.
void add_chain(const linkage::Plan& plan, const linkage::Workspace& ws, const Columns& columns, int body, int anchor,
               double sign, const Vec3& gradient, double* out) {
    const auto& bodies = plan.description().bodies();
    for (int b = body; b > 0; b = bodies[static_cast<std::size_t>(b)].parent.index) {
        if (columns.of(b) < 0) continue;
        linkage::Term term;
        term.anchor = anchor;
        term.body = b;
        term.column = columns.of(b);
        term.joint = bodies[static_cast<std::size_t>(b)].joint;
        term.sign = sign;
        linkage::add_term(ws, term, gradient, out);
    }
}

}  // namespace

MatrixXd derivatives(const linkage::Plan& plan, const linkage::Workspace& ws, const Columns& columns,
                     const std::vector<Equation>& equations) {
    const linkage::Description& d = plan.description();
    MatrixXd out(equations.size(), columns.joints() + columns.horns());
    std::vector<double> row(static_cast<std::size_t>(out.cols()));
    for (std::size_t r = 0; r < equations.size(); ++r) {
        std::ranges::fill(row, 0.0);
        const linkage::Closure& closure = d.closures()[static_cast<std::size_t>(equations[r].closure)];
        const bool slot = closure.kind == ClosureKind::slot;
        const auto add = [&](linkage::AnchorId rides, linkage::AnchorId moves, double sign) {
            add_chain(plan, ws, columns, d.anchors()[static_cast<std::size_t>(rides.index)].body.index, moves.index,
                      sign, equations[r].gradient, row.data());
        };
        // A slot's plane that turns is as if its point turned the other way about the plane's body.
        add(closure.a, closure.a, slot ? 1 : -1);
        add(closure.b, slot ? closure.a : closure.b, slot ? -1 : 1);
        out.row(static_cast<Eigen::Index>(r)) = Eigen::Map<VectorXd>(row.data(), out.cols()).transpose();
    }
    return out;
}

MatrixXd in_mm(const linkage::Plan& plan, const Columns& columns, MatrixXd by_joints) {
    constexpr double lever_mm = 20;
    const auto& bodies = plan.description().bodies();
    for (std::size_t b = 1; b < bodies.size(); ++b) {
        const int first = columns.of(static_cast<int>(b));
        if (first < 0 || first >= columns.joints()) continue;
        const bool slides =
            bodies[b].joint == linkage::Joint::prismatic || bodies[b].joint == linkage::Joint::slide_and_ball;
        for (int k = slides ? 1 : 0; k < linkage::freedoms(bodies[b].joint); ++k) by_joints.col(first + k) /= lever_mm;
    }
    return by_joints;
}

Vec3 gap_of(const linkage::Plan& plan, const linkage::Workspace& ws, int index) {
    const linkage::Closure& closure = plan.description().closures()[static_cast<std::size_t>(index)];
    const Vec3 span = ws.point(closure.b) - ws.point(closure.a);
    if (closure.kind == ClosureKind::link) return {span.norm() - closure.length, 0, 0};
    if (closure.kind == ClosureKind::slot) return {-ws.normals[static_cast<std::size_t>(index)].dot(span), 0, 0};
    return span;
}

}  // namespace swashwright::studies
