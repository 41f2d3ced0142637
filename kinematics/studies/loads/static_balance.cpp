#include "kinematics/studies/loads/static_balance.h"

#include <algorithm>
#include <cmath>

#include "kinematics/studies/joints/closure_rows.h"

namespace swashwright::studies {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double least_share = 1e-9;     // of a pivot, for rank
constexpr double rigid_mm_per_n = 1e-7;  // gives way by less: nothing does

Index at(std::size_t i) {
    return static_cast<Index>(i);
}

/// What every equation gives way by for each N in every other, mm: links along themselves, servos at their horns.
MatrixXd compliance(const linkage::Description& d, const std::vector<Equation>& equations, const MatrixXd& by_horns,
                    const Give& give) {
    MatrixXd out = by_horns * by_horns.transpose() * (degree / give.servo_nmm_per_deg);
    if (!give.link_n_per_mm) return out;
    for (std::size_t r = 0; r < equations.size(); ++r)
        if (d.closures()[static_cast<std::size_t>(equations[r].closure)].kind == linkage::ClosureKind::link)
            out(at(r), at(r)) += 1 / *give.link_n_per_mm;
    return out;
}

/// Forces that hold each other, `ways`, added to `force` so that the energy is least.
void share(const MatrixXd& ways, const MatrixXd& gives, VectorXd& force) {
    if (ways.cols() == 0) return;
    const Eigen::SelfAdjointEigenSolver<MatrixXd> solved(ways.transpose() * gives * ways);
    const VectorXd strain = gives * force;
    for (Index k = 0; k < ways.cols(); ++k) {
        if (solved.eigenvalues()[k] <= rigid_mm_per_n) continue;
        const VectorXd way = ways * solved.eigenvectors().col(k);
        force -= way.dot(strain) / solved.eigenvalues()[k] * way;
    }
}

}  // namespace

bool StaticBalance::shares(const head::Head& head) {
    const linkage::Workspace ws(head.plan());
    const std::size_t drivers = std::max<std::size_t>(1, head.parts().driver_slots.size());
    return static_cast<int>(equations_of(head.plan(), ws, {}).size() - (drivers - 1)) > Columns(head).joints();
}

std::optional<Balance> StaticBalance::at(const linkage::Workspace& ws, std::span<const double> grip_nmm) const {
    const linkage::Plan& plan = head_.plan();
    const Columns columns(head_);
    const std::vector<Equation> equations = equations_of(plan, ws, {});
    const MatrixXd all = derivatives(plan, ws, columns, equations);
    const MatrixXd by_joints = all.leftCols(columns.joints()), by_horns = all.rightCols(columns.horns());
    const Index rows = by_joints.rows(), unknowns = by_joints.cols();
    Eigen::ColPivHouseholderQR<MatrixXd> qr(by_joints);
    qr.setThreshold(least_share);
    if (qr.rank() < unknowns) return std::nullopt;

    const std::vector<linkage::BodyId>& grips = head_.parts().grips;
    VectorXd load = VectorXd::Zero(unknowns);
    for (std::size_t k = 0; k < grips.size(); ++k) load[columns.of(grips[k].index)] = grip_nmm[k];

    // The least forces that hold the load, then what shares it as the springs do.
    const MatrixXd q = qr.householderQ() * MatrixXd::Identity(rows, rows);
    const auto upper = qr.matrixR().topRows(unknowns).triangularView<Eigen::Upper>();
    const VectorXd turned = qr.colsPermutation().transpose() * load;
    VectorXd force = q.leftCols(unknowns) * upper.transpose().solve(turned);
    const MatrixXd gives = compliance(plan.description(), equations, by_horns, give_);
    share(q.rightCols(rows - unknowns), gives, force);
    const VectorXd moved = qr.solve(gives * force);

    Balance out;
    out.force_n.assign(plan.description().closures().size(), 0.0);
    for (std::size_t r = 0; r < equations.size(); ++r) {
        const auto i = static_cast<std::size_t>(equations[r].closure);
        const bool link = plan.description().closures()[i].kind == linkage::ClosureKind::link;
        out.force_n[i] = link ? force[static_cast<Index>(r)] : std::hypot(out.force_n[i], force[static_cast<Index>(r)]);
    }
    const VectorXd horns = by_horns.transpose() * force;
    out.horn_nmm.assign(horns.begin(), horns.end());
    for (const linkage::BodyId lever : head_.parts().levers) {
        const int column = columns.of(lever.index);
        out.lever_nmm.push_back(column < 0 ? 0.0 : by_joints.col(column).cwiseProduct(force).cwiseMax(0.0).sum());
    }
    for (const linkage::BodyId grip : grips) out.give_deg.push_back(moved[columns.of(grip.index)] / degree);
    return out;
}

}  // namespace swashwright::studies
