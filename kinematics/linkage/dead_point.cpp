#include "kinematics/linkage/dead_point.h"

#include <Eigen/SVD>

#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::linkage {

namespace {

/// One motion of everything.
struct Moving {
    const Plan& plan;
    const Workspace& ws;
    const RigidRates* bodies;

    int body_of(int anchor) const { return plan.description().anchors()[static_cast<std::size_t>(anchor)].body.index; }
    Vec3 spin_of_frame(int body) const { return bodies[plan.body(body).parent].spin; }
    Vec3 drift_of_frame(int body) const { return drift(plan.body(body).parent, ws.frames[body].origin); }
    Vec3 drift_of_anchor(int anchor) const { return drift(body_of(anchor), ws.anchors[anchor]); }
    Vec3 drift(int body, const Vec3& point) const {
        return bodies[body].drift + bodies[body].spin.cross(point - ws.bodies[body].origin);
    }
};

/// Change of `row_value`'s gradient along a motion.
Vec3 gradient_rate(const Row& row, const Moving& along) {
    if (row.kind == ClosureKind::link)
        return (along.drift_of_anchor(row.b) - along.drift_of_anchor(row.a)) * row.inverse_length;
    if (row.kind == ClosureKind::slot)
        return along.bodies[along.body_of(row.b)].spin.cross(along.ws.normals[row.closure]);
    return Vec3::Zero();
}

/// Adds the change of what `add_term` adds.
void add_term_rate(const Term& term, const Moving& along, const Vec3& gradient, const Vec3& rate, double* out) {
    const Workspace& ws = along.ws;
    const Placement& frame = ws.frames[term.body];
    const Vec3 axis = frame.turn.col(2), axis_rate = along.spin_of_frame(term.body).cross(axis);
    const bool own = term.joint == Joint::slide_and_ball;  // turns about its own origin
    const Vec3 arm = ws.anchors[term.anchor] - (own ? ws.bodies[term.body].origin : frame.origin);
    const Vec3 arm_rate =
        along.drift_of_anchor(term.anchor) - (own ? along.bodies[term.body].drift : along.drift_of_frame(term.body));
    const Vec3 moment = arm.cross(gradient), moment_rate = arm_rate.cross(gradient) + arm.cross(rate);
    const double slide_rate = axis_rate.dot(gradient) + axis.dot(rate);
    double* d = out + term.column;
    switch (term.joint) {
        case Joint::fixed:
            return;
        case Joint::revolute:
            d[0] += term.sign * (axis_rate.dot(moment) + axis.dot(moment_rate));
            return;
        case Joint::prismatic:
            d[0] += term.sign * slide_rate;
            return;
        case Joint::ball:
            for (int i = 0; i < 3; ++i) d[i] += term.sign * moment_rate[i];
            return;
        case Joint::slide_and_ball:
            d[0] += term.sign * slide_rate;
            for (int i = 0; i < 3; ++i) d[1 + i] += term.sign * moment_rate[i];
            return;
    }
}

template <int Most>
using RowsOf = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor, Most, Most>;

template <int Most>
double slopes_of(const Plan& plan, const Workspace& ws, const Block& block, std::span<const RigidRates> along,
                 double* slopes) {
    using Matrix = RowsOf<Most>;
    const auto rows = static_cast<Eigen::Index>(block.rows.size());
    const auto scale = [&](Matrix& jacobian) {
        for (int k = 0; k < block.unknowns; ++k)
            if (!block.slides(k)) jacobian.col(k) /= block.lever;
    };
    Matrix jacobian = Matrix::Zero(rows, block.unknowns);
    for (const Term& term : block.terms)
        add_term(ws, term, row_value(ws, block.rows[term.row]).gradient, jacobian.row(term.row).data());
    scale(jacobian);
    const Eigen::JacobiSVD<Matrix> svd(jacobian, Eigen::ComputeFullU | Eigen::ComputeFullV);
    Eigen::Index least = 0;
    const double value = svd.singularValues().minCoeff(&least);
    const auto u = svd.matrixU().col(least), v = svd.matrixV().col(least);
    const std::size_t bodies = ws.bodies.size();
    for (std::size_t w = 0; w * bodies < along.size(); ++w) {
        const Moving moving{plan, ws, &along[w * bodies]};
        Matrix rate = Matrix::Zero(rows, block.unknowns);
        for (const Term& term : block.terms) {
            const Row& row = block.rows[term.row];
            add_term_rate(term, moving, row_value(ws, row).gradient, gradient_rate(row, moving),
                          rate.row(term.row).data());
        }
        scale(rate);
        slopes[w] = (u.transpose() * rate * v).value();
    }
    return value;
}

}  // namespace

double dead_point_slopes(const Plan& plan, const Workspace& ws, const Block& block, std::span<const RigidRates> along,
                         double* slopes) {
    constexpr int most = 6;  // up to here without a heap
    return block.unknowns <= most && block.rows.size() <= most
               ? slopes_of<most>(plan, ws, block, along, slopes)
               : slopes_of<Eigen::Dynamic>(plan, ws, block, along, slopes);
}

}  // namespace swashwright::linkage
