// The slopes of every reading by every input (servo horns, rotor) at once, for sweeps that want them at each pose.
#pragma once

#include "kinematics/head/solver.h"
#include "kinematics/linkage/input_motion.h"

namespace swashwright::head {

/// What the ring's tilts (deg) weigh its spin (rad, head frame) with, its normal being n: the normal turns by spin x n,
/// and the tilts are atan2(n.x, n.z) forward and atan2(-n.y, n.z) to the right.
struct SpinWeights {
    Vec3 forward = Vec3::Zero(), right = Vec3::Zero();
};
SpinWeights tilt_weights(const Vec3& normal);

class InputSlopes {
public:
    explicit InputSlopes(const Head& head) : head_(head), motion_(head.plan()) {}

    /// Takes the solver's present pose, which must be of the same head. False at a dead point, where no slope exists.
    /// Allocates nothing; overwrites the motion in the workspace where a misfit is shared.
    bool at(Solver& solver);
    /// By a servo's horn angle and by the rotor's azimuth, per deg.
    void by_horn(int servo, Slopes& out) const { read(servo, degree, out); }
    void by_azimuth(Slopes& out) const;

    /// For points and whole bodies: see `move_bodies` there. Inputs as the plan has them, mm and rad.
    linkage::InputMotion& motion() { return motion_; }

private:
    void read(int input, double unit, Slopes& out) const;

    Head head_;
    linkage::InputMotion motion_;
    Vec3 normal_ = Vec3::UnitZ();  // for which the weights stand
    SpinWeights tilts_ = tilt_weights(Vec3::UnitZ());
};

}  // namespace swashwright::head
