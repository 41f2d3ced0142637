// A plain head built in Simbody (Sherman, Seth, Delp: Simbody, multibody dynamics for biomedical research, 2011), for
// comparison only. Inner ring: a slider carrying a gimbal; outer ring, hub and grips: pins; links: rods; guide and
// driver pins: points in planes. Horn balls are moved on the ground, the hub is driven. Lengths are millimetres, so
// tolerances are too. Simbody's headers do not compile as C++20, hence the bare numbers.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "tests/peers/plain_head.h"

namespace swashwright::peers {

class SimbodyHead {
public:
    /// How Simbody is asked to close the loops.
    enum class Way {
        project,     // System::projectQ at position stage, from the last pose
        assemble,    // Assembler::track, from the last pose
        newton,      // Newton steps here, on Simbody's position errors and its Jacobian (calcPq)
        kinematics,  // Newton steps here (LoopNewton), on Simbody's kinematics alone, no Simbody constraints
    };

    explicit SimbodyHead(const PlainHead& head, Way way = Way::kinematics);
    ~SimbodyHead();
    SimbodyHead(SimbodyHead&&) noexcept;

    /// Moves to the horn angles and rotor azimuth (deg), from the last pose. False if the loops were not closed.
    bool pose(const std::vector<double>& horn_deg, double azimuth_deg, PeerPose& out);
    /// At the last pose, of a head that stands still: with moments on the grips (N mm, about the feathering axes,
    /// leading edge up positive), what its links and servos hold, by Simbody's equations of motion. `Way::project`
    /// only.
    PeerLoads hold(const std::vector<double>& grip_nmm);
    /// Largest closure error at the last pose, by Simbody's own account, mm.
    double residual_mm() const;
    /// Iterations since the start; 0 where Simbody does not tell.
    long steps() const;
    /// One line for a report: version, way, tolerance.
    std::string settings() const;

private:
    struct Model;
    std::unique_ptr<Model> model_;
};

}  // namespace swashwright::peers
