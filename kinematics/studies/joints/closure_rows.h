// A linkage at rest as linear algebra: what every closure's errors do as joints and horns move, at one pose. Forces
// follow by virtual work: with A the derivatives by the joints, forces f in the closures hold loads Q on the joints
// where A' f = Q, and put -B' f on the horns, B being the derivatives by those.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/linkage/workspace.h"

namespace swashwright::studies {

/// One scalar equation of a closure.
struct Equation {
    int closure = 0;
    double error_mm = 0;
    Vec3 gradient = Vec3::Zero();  // by the point of anchor b, or of a slot's anchor a
};

/// Of all closures but those in `left_out` (by index) and those that say nothing but their misfit.
std::vector<Equation> equations_of(const linkage::Plan& plan, const linkage::Workspace& ws,
                                   std::span<const int> left_out);

/// Columns of the unknown joints first, then the horns in servo order; what is held from outside has none.
class Columns {
public:
    explicit Columns(const head::Head& head);
    int of(int body) const { return of_[static_cast<std::size_t>(body)]; }
    int joints() const { return joints_; }
    int horns() const { return horns_; }

private:
    std::vector<int> of_;
    int joints_ = 0, horns_ = 0;
};

/// Of every equation by every column, mm per mm or rad.
Eigen::MatrixXd derivatives(const linkage::Plan& plan, const linkage::Workspace& ws, const Columns& columns,
                            const std::vector<Equation>& equations);
/// Columns of joints with rotations divided by a usual lever, so that all are mm per mm.
Eigen::MatrixXd in_mm(const linkage::Plan& plan, const Columns& columns, Eigen::MatrixXd by_joints);

/// How far a closure is from being met: of a link distance less length, along x; of a slot along x; of a pin its gap.
/// mm.
Vec3 gap_of(const linkage::Plan& plan, const linkage::Workspace& ws, int closure);

}  // namespace swashwright::studies
