#include "kinematics/studies/joints/self_stress.h"

#include <algorithm>
#include <cmath>

#include "kinematics/studies/joints/closure_rows.h"

namespace swashwright::studies {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using linkage::ClosureKind;

constexpr double least_share = 1e-8;      // of a singular value, for rank
constexpr double rigid_mm_per_n = 1e-7;   // gives way by less: nothing does
constexpr double least_misfit_mm = 1e-9;  // rounding leaves some 1e-11

/// All f with A' f = 0, as columns of an orthonormal basis.
MatrixXd held_by_each_other(const MatrixXd& by_joints) {
    Eigen::ColPivHouseholderQR<MatrixXd> qr(by_joints);
    qr.setThreshold(least_share);
    const MatrixXd q = qr.householderQ() * MatrixXd::Identity(by_joints.rows(), by_joints.rows());
    return q.rightCols(by_joints.rows() - qr.rank());
}

}  // namespace

std::optional<SelfStress> self_stress(const head::Head& head, const linkage::Workspace& ws, const Give& give,
                                      std::span<const int> left_out) {
    const linkage::Plan& plan = head.plan();
    const auto& closures = plan.description().closures();
    const Columns columns(head);
    const std::vector<Equation> equations = equations_of(plan, ws, left_out);
    const MatrixXd all = derivatives(plan, ws, columns, equations);
    const MatrixXd by_horns = all.rightCols(columns.horns());
    const MatrixXd basis = held_by_each_other(in_mm(plan, columns, all.leftCols(columns.joints())));

    VectorXd error(static_cast<Eigen::Index>(equations.size()));
    MatrixXd gives = by_horns * by_horns.transpose() * (degree / give.servo_nmm_per_deg);  // mm for each N
    for (std::size_t r = 0; r < equations.size(); ++r) {
        const auto i = static_cast<Eigen::Index>(r);
        error[i] = equations[r].error_mm;
        if (give.link_n_per_mm && closures[static_cast<std::size_t>(equations[r].closure)].kind == ClosureKind::link)
            gives(i, i) += 1 / *give.link_n_per_mm;
    }
    if (basis.cols() == 0)
        return SelfStress{std::vector<double>(closures.size(), 0.0),
                          std::vector<double>(static_cast<std::size_t>(columns.horns()), 0.0)};
    const Eigen::SelfAdjointEigenSolver<MatrixXd> ways(basis.transpose() * gives * basis);
    VectorXd force = VectorXd::Zero(error.size());
    for (Eigen::Index k = 0; k < basis.cols(); ++k) {
        const VectorXd way = basis * ways.eigenvectors().col(k);
        const double misfit = way.dot(error);
        if (ways.eigenvalues()[k] > rigid_mm_per_n)
            force += misfit / ways.eigenvalues()[k] * way;
        else if (std::abs(misfit) > least_misfit_mm)
            return std::nullopt;
    }

    SelfStress out;
    out.force_n.assign(closures.size(), 0.0);
    for (std::size_t r = 0; r < equations.size(); ++r) {
        double& of = out.force_n[static_cast<std::size_t>(equations[r].closure)];
        const double one = force[static_cast<Eigen::Index>(r)];
        const bool link = closures[static_cast<std::size_t>(equations[r].closure)].kind == ClosureKind::link;
        of = link ? one : std::hypot(of, one);
    }
    const VectorXd moment = by_horns.transpose() * force;
    out.moment_nmm.assign(moment.begin(), moment.end());
    return out;
}

}  // namespace swashwright::studies
