// One head in flight, at any sticks and rotor azimuth: what turns its blades and what that puts on links and servos.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "kinematics/head/solver.h"
#include "kinematics/studies/loads/blade_moment.h"
#include "kinematics/studies/loads/static_balance.h"

namespace swashwright::studies {

struct FlyingOptions {
    double head_speed_rpm = 0;
    double density = 0;  // of the air, kg/m^3
    /// Of the blades above their precone, deg; none: by the flap balance of the hover at each collective.
    std::optional<double> coning_deg = {};
    Give give = {.servo_nmm_per_deg = 100, .link_n_per_mm = 200};  // guesses; the servos' is that of `stiff`
};
/// At the description's own air, and its head speed unless another is given.
FlyingOptions usual_flight(const head::Description& description, std::optional<double> head_speed_rpm = {},
                           std::optional<double> coning_deg = {});

class Flying {
public:
    Flying(const head::Head& head, const FlyingOptions& options);

    /// None where a loop does not close or the head stands at a dead point.
    std::optional<Balance> at(const head::Sticks& sticks, double azimuth_deg);
    /// Of the place last asked for.
    double pitch_deg(int blade) const { return solver_.pitch_deg(blade); }
    const std::vector<BladeMoment>& moments() const { return moments_; }
    const linkage::Workspace& placed() { return solver_.workspace(); }

    const LoadBlade& blade() const { return blade_; }
    const head::Head& head() const { return solver_.head(); }
    /// The air while the main stick stands there, cyclic centred; blades at no pitch where the head does not close. It
    /// stays until the next call.
    const Hover& air(const head::Sticks& sticks);
    double cone(const Hover& air) const;  // rad, precone included

private:
    head::Solver solver_;
    FlyingOptions options_;
    LoadBlade blade_;
    std::vector<MassMoments> weights_;  // of each grip
    StaticBalance balance_;
    std::map<double, Hover> airs_;  // by the main stick
    std::vector<BladeMoment> moments_;
    std::vector<double> grip_nmm_;
};

}  // namespace swashwright::studies
