// A head, compiled: servos, swashplate, levers, links and grips as one linkage, ready to be posed.
#pragma once

#include <array>
#include <memory>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/model.h"
#include "kinematics/head/pose.h"
#include "kinematics/linkage/plan.h"

namespace swashwright::head {

template <class T>
using Result = tl::expected<T, Failure>;

/// What each stick does, in this order: collective, aileron, elevator, rudder.
using StickGains = std::array<double, 4>;

/// Bodies and closures of the linkage that stand for the head's parts.
struct Parts {
    /// A lever that is moved by hand, and which input of the linkage it is.
    struct Hand {
        int lever = 0, input = 0;
    };

    std::vector<linkage::BodyId> horns, grips, levers, sliders;
    linkage::BodyId inner_ring, outer_ring, hub;
    std::vector<linkage::AnchorId> horn_balls, inner_balls, outer_balls, grip_balls, driver_pins;
    std::vector<std::vector<linkage::AnchorId>> lever_balls, slider_balls;
    std::vector<linkage::AnchorId> fixed_balls;
    linkage::AnchorId guide_pin;  // none where nothing guides the ring
    std::vector<linkage::ClosureId> lower_links, upper_links, links, pins, driver_slots;
    linkage::ClosureId guide_slot;
    int hub_input = 0;  // those of the horns come first
    std::vector<Hand> hands;

    linkage::AnchorId ball(const BallName& name) const;
};

/// The pose that comes nearest to closing, for drawing a head whose parts do not fit.
struct NearestFit {
    Pose pose;
    std::vector<Shortfall> shortfalls;  // empty if everything closes
};

/// Immutable once built; cheap to copy; safe to share between threads.
class Head {
public:
    /// Compiles a description. Fails if a count does not match, if a number is not finite or out of its range, if
    /// the linkage leaves something free or rigidly blocked, or if a servo's sense cannot be told. A head
    /// whose loop does not close at neutral is built all the same: see `neutral_failure`.
    static Result<Head> build(const Description& description);

    const Description& description() const { return *description_; }
    const linkage::Plan& plan() const { return *plan_; }
    const Parts& parts() const { return *parts_; }
    const Model& model() const { return *model_; }

    /// Why the loop does not close at neutral, or null if it closes.
    const Failure* neutral_failure() const { return neutral_failure_ ? neutral_failure_.get() : nullptr; }

    /// Horn angle (deg) that the mixing commands: neutral + trim + command; never clipped to travel.
    double horn_angle_deg(std::size_t servo, const Sticks& sticks) const;
    /// Those of all servos.
    std::vector<double> horn_angles_deg(const Sticks& sticks) const;
    /// Change of a servo's horn angle (deg) per full stick, in the horn angle's own sense.
    const StickGains& stick_gains_deg(int servo) const { return gains_[static_cast<std::size_t>(servo)]; }
    /// +1 or -1 for each servo: the sense of rotation that raises its horn ball.
    std::span<const double> raise_signs() const;
    /// A line for each servo whose horn angle is outside its travel: "servo left: horn at 48.0 deg, travel ends at 45.0
    /// deg".
    std::vector<std::string> beyond_travel(std::span<const double> horn_deg) const;

    /// The pose at rotor azimuth psi (deg), on the branch that is continuous with neutral. Each call starts from
    /// neutral, so a pose never depends on earlier calls. For sweeps use `Solver`. `hand_deg`: the angle of each lever
    /// that is moved by hand, in the order of `Parts::hands`; left out, all stand at their neutral.
    Result<Pose> pose(const Sticks& sticks, double azimuth_deg, std::span<const double> hand_deg = {}) const;
    /// The same with horn angles given directly, deg. Fails if their number is wrong or one is not finite.
    Result<Pose> pose(std::span<const double> horn_deg, double azimuth_deg,
                      std::span<const double> hand_deg = {}) const;
    /// Never fails: every loop as near to closing as it can come.
    NearestFit nearest(std::span<const double> horn_deg, double azimuth_deg,
                       std::span<const double> hand_deg = {}) const;

private:
    std::shared_ptr<const Description> description_;
    std::shared_ptr<const linkage::Plan> plan_;
    std::shared_ptr<const Parts> parts_;
    std::shared_ptr<const Model> model_;
    std::shared_ptr<const Failure> neutral_failure_;
    std::vector<double> raise_;
    std::vector<StickGains> gains_;
};

}  // namespace swashwright::head
