// A plain head on MuJoCo's kinematics (Todorov, Erez, Tassa: MuJoCo, 2012), for comparison only. MuJoCo's own equality
// constraints are soft (they are met by forces over time), so they cannot close a loop to 1e-10 mm; here
// mj_kinematics places the bodies and LoopNewton closes the loops on the places and joint axes that it gives.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "tests/peers/plain_head.h"

namespace swashwright::peers {

class MujocoHead {
public:
    /// Whose Jacobian the Newton steps use.
    enum class Way {
        own_jacobian,     // cross products of MuJoCo's joint axes: the fastest found
        mujoco_jacobian,  // mj_comPos and mj_jac for every point
    };

    explicit MujocoHead(const PlainHead& head, Way way = Way::own_jacobian);
    ~MujocoHead();
    MujocoHead(MujocoHead&&) noexcept;

    /// Moves to the horn angles and rotor azimuth (deg), from the last pose. False if the loops were not closed.
    bool pose(const std::vector<double>& horn_deg, double azimuth_deg, PeerPose& out);
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
