// Any linkage on MuJoCo's kinematics and Jacobians (Todorov, Erez, Tassa: MuJoCo, 2012), for comparison only: bodies
// and joints as they stand in the description become MuJoCo's own tree (hinge, slide, ball); mj_kinematics places it,
// mj_jac says how points move with every joint, and Newton steps close the loops, because MuJoCo's equality constraints
// are soft (see mujoco_head.h). All unknowns at once: nothing of how ours finds blocks is used.
#pragma once

#include <memory>
#include <span>
#include <string>

#include "kinematics/linkage/description.h"

namespace swashwright::peers {

class MujocoLinkage {
public:
    explicit MujocoLinkage(const linkage::Description& description);
    ~MujocoLinkage();
    MujocoLinkage(MujocoLinkage&&) noexcept;

    /// As many closures as unknowns: without that there is nothing to solve in this way.
    bool determinate() const;
    /// Moves the driven joints (rad or mm, in the order of bodies), from the last pose; the first starts from the
    /// description's neutral. False if the loops were not closed.
    bool pose(std::span<const double> inputs);
    /// Of a revolute rad, of a prismatic or a slide_and_ball's slide mm; not brought into a turn.
    double joint(linkage::BodyId body) const;
    /// The body's z axis in the ground's frame.
    Vec3 z_axis(linkage::BodyId body) const;
    /// Largest closure error at the last pose, mm.
    double residual_mm() const;
    /// Newton steps since the start.
    long steps() const;
    /// One line for a report: version, way, tolerance.
    std::string settings() const;

private:
    struct Model;
    std::unique_ptr<Model> model_;
};

}  // namespace swashwright::peers
