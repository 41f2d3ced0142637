// Scratch for solving one linkage: where everything stands. One per thread; reused from pose to pose.
#pragma once

#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

#include "kinematics/linkage/plan.h"

namespace swashwright::linkage {

/// What a solve did.
struct Report {
    bool closed = false;
    double residual_mm = 0;  // largest closure error of rows that must close
    int newton_steps = 0;    // over all blocks and path steps
    int path_steps = 0;      // 1 if the pose was reached in one go
    int failed_block = -1;   // index into Plan::blocks
};

/// Holds no pointer to its plan: every call gives the plan that it was made for.
class Workspace {
public:
    /// At neutral.
    explicit Workspace(const Plan& plan);

    const Placement& placement(BodyId body) const { return bodies[body.index]; }  // in the ground's frame
    const Vec3& point(AnchorId anchor) const { return anchors[anchor.index]; }    // in the ground's frame
    /// A revolute's angle in (-pi, pi], rad; a prismatic's or slide's position, mm.
    double angle(BodyId body) const { return angle_of(joints[body.index].c, joints[body.index].s); }
    double slide(BodyId body) const { return joints[body.index].slide; }

    // The solver's own.
    std::vector<JointState> joints;
    std::vector<Placement> frames;  // joint frames in the ground's frame
    std::vector<Placement> bodies;
    std::vector<Vec3> anchors;
    std::vector<Vec3> normals;      // of each closure that is a slot
    std::vector<double> inputs;     // those the joints stand at
    bool leaves_unsettled = false;  // they wait to be placed, see `settle`
    bool cranks_unsettled = false;
    std::uint64_t stale = ~std::uint64_t{0};  // inputs changed since each block was solved, or all
    // The last pose that closed, to start from.
    std::vector<JointState> good_joints;
    std::vector<double> good_inputs;
    // Scratch of the path and of differentiation: sized once.
    std::vector<double> path_from, path_to, path_here;
    std::vector<JointState> path_joints;
    std::vector<Vec3> spin, drift, frame_spin, frame_drift, anchor_drift, normal_drift;  // first-order motion
    std::vector<double> rates;  // of the joints, four places a body
};

}  // namespace swashwright::linkage
