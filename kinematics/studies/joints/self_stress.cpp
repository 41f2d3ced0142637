#include "kinematics/studies/joints/self_stress.h"

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/rows.h"

namespace swashwright::studies {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using linkage::ClosureKind;

constexpr double lever_mm = 20;           // makes a rotation comparable with a slide
constexpr double least_share = 1e-8;      // of a singular value, for rank
constexpr double rigid_mm_per_n = 1e-7;   // gives way by less: nothing does
constexpr double least_misfit_mm = 1e-9;  // rounding leaves some 1e-11

/// One scalar equation of a closure.
struct Equation {
    int closure = 0;
    double error_mm = 0;
    Vec3 gradient = Vec3::Zero();  // by the point of anchor b, or of a slot's anchor a
};

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

/// Columns of the unknown joints first, then the horns in servo order; what is held from outside has none.
class Columns {
public:
    explicit Columns(const head::Head& head) : of_(head.plan().description().bodies().size(), -1) {
        const auto& bodies = head.plan().description().bodies();
        for (std::size_t b = 1; b < bodies.size(); ++b) {
            if (bodies[b].input || bodies[b].joint == linkage::Joint::fixed) continue;
            of_[b] = joints_;
            joints_ += linkage::freedoms(bodies[b].joint);
        }
        for (const linkage::BodyId horn : head.parts().horns)
            of_[static_cast<std::size_t>(horn.index)] = joints_ + horns_++;
    }
    int of(int body) const { return of_[static_cast<std::size_t>(body)]; }
    int joints() const { return joints_; }
    int horns() const { return horns_; }

private:
    std::vector<int> of_;
    int joints_ = 0, horns_ = 0;
};

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

/// Of every equation by every column, mm per mm or rad.
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

/// All f with A' f = 0, as columns of an orthonormal basis.
MatrixXd held_by_each_other(const MatrixXd& by_joints) {
    Eigen::ColPivHouseholderQR<MatrixXd> qr(by_joints);
    qr.setThreshold(least_share);
    const MatrixXd q = qr.householderQ() * MatrixXd::Identity(by_joints.rows(), by_joints.rows());
    return q.rightCols(by_joints.rows() - qr.rank());
}

MatrixXd in_mm(const linkage::Plan& plan, const Columns& columns, MatrixXd by_joints) {
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

}  // namespace

Vec3 gap_of(const linkage::Plan& plan, const linkage::Workspace& ws, int index) {
    const linkage::Closure& closure = plan.description().closures()[static_cast<std::size_t>(index)];
    const Vec3 span = ws.point(closure.b) - ws.point(closure.a);
    if (closure.kind == ClosureKind::link) return {span.norm() - closure.length, 0, 0};
    if (closure.kind == ClosureKind::slot) return {-ws.normals[static_cast<std::size_t>(index)].dot(span), 0, 0};
    return span;
}

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
