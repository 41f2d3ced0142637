// Posing a head in eight lanes at once: each lane goes its own way from pose to pose as a `Solver` does, and gives what
// a `Solver` gives within 1e-12 mm and deg (see linkage/lanes.h). `LaneHeads`: eight heads of one make at once.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "kinematics/head/command.h"
#include "kinematics/linkage/lanes.h"

namespace swashwright::head {

using linkage::lanes;
using linkage::LaneSet;
using linkage::LaneValues;

/// What is read of every lane.
class LaneReadings {
public:
    const Head& head() const { return head_; }

    LaneValues height_mm() const;
    std::array<LaneValues, 3> ring_normal() const;
    const LaneValues& tilt_forward_deg() const { return tilt().forward_deg; }
    const LaneValues& tilt_right_deg() const { return tilt().right_deg; }
    LaneValues pitch_deg(int blade) const;
    /// The largest closure error of what the last pose solved anew.
    LaneValues residual_mm() const;
    /// Bodies and points of one lane. Places what a pose leaves to be placed.
    Placement placement(linkage::BodyId body, int lane);
    Vec3 point(linkage::AnchorId anchor, int lane);

    long newton_steps() const { return ws_.newton_steps(); }  // so far, of each lane
    long solved_alone() const { return ws_.solved_alone; }    // poses that a `Solver` had to take over

protected:
    LaneReadings(const Head& head, linkage::LanePlan plan, const linkage::LaneKernel& kernel);

    Head head_;
    linkage::LanePlan plan_;
    linkage::LaneWorkspace ws_;
    std::vector<LaneValues> pitch_offset_deg_;

private:
    struct Tilt {
        std::array<LaneValues, 3> normal;  // the ring's, to which the angles belong
        LaneValues forward_deg, right_deg;
    };
    /// Worked out anew only when a ring has moved.
    const Tilt& tilt() const;
    mutable Tilt tilt_;
};

class LaneSolver : public LaneReadings {
public:
    /// Fails where the head does not close at neutral, or where more hangs together in it than lanes solve, as hinged
    /// links of four blades: take a `Solver`.
    static Result<LaneSolver> make(const Head& head,
                                   const linkage::LaneKernel& kernel = *linkage::lane_kernels().front());

    /// One pose a lane, from 1 to 8 of them: what they do to lanes beyond is of no concern. The lanes in which every
    /// loop closes; the others stay at their last pose that did.
    LaneSet pose(std::span<const Sticks> sticks, std::span<const double> azimuth_deg);
    /// The same sticks in every lane.
    LaneSet pose(const Sticks& sticks, std::span<const double> azimuth_deg);
    /// Horn angles in deg, one for each servo, finite.
    LaneSet pose_horns(std::span<const LaneValues> horn_deg, const LaneValues& azimuth_deg, int used = lanes);
    /// As `Solver::set_hand`, in every lane.
    void set_hand(std::size_t hand, double deg);
    /// Sticks and rotor back to neutral in every lane; hands stay.
    void reset();
    void forget() { linkage::forget(ws_); }

private:
    using LaneReadings::LaneReadings;
    void set_hub(std::span<const double> azimuth_deg);
    LaneSet solve(std::size_t used);
};

/// Other numbers in each lane, the same parts. Lanes share the sticks, through each head's own mixer.
class LaneHeads : public LaneReadings {
public:
    /// Fails as `LaneSolver::make`. Every lane holds `like`.
    static Result<LaneHeads> make(const Head& like,
                                  const linkage::LaneKernel& kernel = *linkage::lane_kernels().front());

    /// False where `description` cannot be a head, or not one that lanes can tell: then the lane keeps what it had, and
    /// `Head::build` must judge.
    bool set(int lane, const Description& description);
    /// Closes every lane at its own neutral. The lanes that do: the others, or those near a dead point there, must be
    /// built as a `Head`.
    LaneSet start();
    /// On from the last pose. The lanes that close in one go; others hold no pose until the next `start`, whatever
    /// later poses say of them.
    LaneSet pose(const Sticks& sticks, double azimuth_deg);

private:
    using LaneReadings::LaneReadings;
    std::array<std::vector<Command>, lanes> commands_;  // of each servo
    std::array<double, lanes> spin_{};
    std::optional<Sticks> sticks_;  // those for which the horns stand
};

}  // namespace swashwright::head
