#include "tests/peers/loop_newton.h"

#include <cmath>

namespace swashwright::peers {

using Eigen::Vector3d;

LoopPoints::LoopPoints(const PlainHead& head)
    : horn_balls(head.horns.size()),
      inner_balls(head.horns.size()),
      outer_balls(head.grips.size()),
      grip_balls(head.grips.size()),
      hub_centre(0, 0, head.hub_height),
      grip_axes(head.grips.size()) {}

LoopNewton::LoopNewton(const PlainHead& head)
    : head_(head),
      guide_normal_(-std::sin(head.guide_plane), std::cos(head.guide_plane), 0),
      error_(head.horns.size() + 2 + head.grips.size()),
      step_(error_.size()),
      jacobian_(Eigen::MatrixXd::Zero(error_.size(), error_.size())),
      lu_(error_.size()),
      directions_(head.horns.size() + head.grips.size()) {}

double LoopNewton::measure(const LoopPoints& at) {
    const int servos = int(head_.horns.size()), blades = int(head_.grips.size());
    for (int j = 0; j < servos; ++j) {
        const Vector3d link = at.inner_balls[j] - at.horn_balls[j];
        const double length = link.norm();
        directions_[j] = link / length;
        error_[j] = length - head_.lower_lengths[j];
    }
    error_[servos] = guide_normal_.dot(at.guide_pin);
    error_[servos + 1] = at.driver_normal.dot(at.driver_pin);
    for (int k = 0; k < blades; ++k) {
        const Vector3d link = at.grip_balls[k] - at.outer_balls[k];
        const double length = link.norm();
        directions_[servos + k] = link / length;
        error_[servos + 2 + k] = length - head_.upper_lengths[k];
    }
    return error_.cwiseAbs().maxCoeff();
}

const Eigen::VectorXd& LoopNewton::step(const LoopPoints& at) {
    const int servos = int(head_.horns.size()), blades = int(head_.grips.size());
    // How a row changes as one of the ring's points moves: `gradient` is the row's change with that point.
    const auto moves_with_ring = [&](int row, const Vector3d& gradient, const Vector3d& point) {
        Vector3d moment = (point - at.ring_origin).cross(gradient);
        jacobian_(row, 0) = gradient.z();
        for (int i = 0; i < 3; ++i) jacobian_(row, 1 + i) = at.ring_axes[i].dot(moment);
        return moment;
    };
    for (int j = 0; j < servos; ++j) moves_with_ring(j, directions_[j], at.inner_balls[j]);
    moves_with_ring(servos, guide_normal_, at.guide_pin);
    const Vector3d driver = moves_with_ring(servos + 1, at.driver_normal, at.driver_pin);
    jacobian_(servos + 1, 4) = at.spin_axis.dot(driver);
    for (int k = 0; k < blades; ++k) {
        const int row = servos + 2 + k;
        const Vector3d& direction = directions_[servos + k];
        jacobian_(row, 4) = at.spin_axis.dot(moves_with_ring(row, -direction, at.outer_balls[k]));
        jacobian_(row, 5 + k) = at.grip_axes[k].dot((at.grip_balls[k] - at.hub_centre).cross(direction));
    }
    return step(jacobian_);
}

const Eigen::VectorXd& LoopNewton::step(const Eigen::MatrixXd& jacobian) {
    lu_.compute(jacobian);
    step_ = lu_.solve(-error_);
    return step_;
}

}  // namespace swashwright::peers
