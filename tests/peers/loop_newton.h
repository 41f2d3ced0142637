// Newton steps for closing a head's loops on somebody else's kinematics: the library says where its bodies and joint
// axes stand, this says how far the loops are from closing and how to move the joints. Shared by all peers that only
// lend their kinematics, so that they run under one rule. C++17.
#pragma once

#include <Eigen/Dense>
#include <vector>

#include "tests/peers/plain_head.h"

namespace swashwright::peers {

/// Where a head's points and joint axes stand in the head frame, as told by a library. Unknowns are counted so: ring
/// height, three ring rotations, spin of the outer ring, then one turn for each grip.
struct LoopPoints {
    explicit LoopPoints(const PlainHead& head);

    std::vector<Eigen::Vector3d> horn_balls, inner_balls, outer_balls, grip_balls;
    Eigen::Vector3d guide_pin, driver_pin;
    Eigen::Vector3d driver_normal;  // of the plane that turns with the hub
    Eigen::Vector3d ring_origin, hub_centre;
    Eigen::Vector3d ring_axes[3];  // of the ring's three rotations, each a unit vector
    Eigen::Vector3d spin_axis;
    std::vector<Eigen::Vector3d> grip_axes;
};

class LoopNewton {
public:
    explicit LoopNewton(const PlainHead& head);

    /// Closure errors at these points; returns the largest, mm.
    double measure(const LoopPoints& points);
    /// The Newton step from the points measured last: mm for the height, rad for the rest.
    const Eigen::VectorXd& step(const LoopPoints& points);
    /// The same with somebody else's Jacobian: rows are lower links, guide pin, driver pin, upper links.
    const Eigen::VectorXd& step(const Eigen::MatrixXd& jacobian);
    /// Of the links as measured last, lower ones first, from the driving to the driven end; unit vectors.
    const std::vector<Eigen::Vector3d>& directions() const { return directions_; }
    const Eigen::Vector3d& guide_normal() const { return guide_normal_; }

private:
    const PlainHead head_;
    const Eigen::Vector3d guide_normal_;
    Eigen::VectorXd error_, step_;
    Eigen::MatrixXd jacobian_;
    Eigen::PartialPivLU<Eigen::MatrixXd> lu_;
    std::vector<Eigen::Vector3d> directions_;
};

}  // namespace swashwright::peers
