// Eight poses of one linkage at once, or eight linkages of one make: each lane is a pose that starts from the one that
// the lane had before, by the same equations, steps and rules of trust as solve.h.
//
//   LaneWorkspace ws(plan, lane_plan);        // every lane at neutral
//   ws.inputs[i][lane] = ...;                 // rad or mm
//   LaneSet closed = solve_lanes(plan, lane_plan, ws);
//
// What a lane gives depends on nothing but its own inputs and where it stood. It is what `solve` gives within rounding
// (1e-12 mm and rad where no residual falls on the very edge of the tolerance); kernels for other machines differ among
// each other as much. A lane that does not close in one go is handed to `solve`, alone, from where it stood.
#pragma once

#include <array>
#include <memory>
#include <span>
#include <utility>
#include <vector>

#include "kinematics/linkage/lane_plan.h"
#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// One number for each lane.
struct alignas(64) LaneValues {
    std::array<double, lanes> of{};
    double& operator[](int lane) { return of[static_cast<std::size_t>(lane)]; }
    double operator[](int lane) const { return of[static_cast<std::size_t>(lane)]; }
    bool operator==(const LaneValues&) const = default;
};

/// Bit i: lane i.
using LaneSet = unsigned;
inline constexpr LaneSet all_lanes = (1U << lanes) - 1;

/// Those that this machine can run, the fastest first; never empty, and the same from run to run.
std::span<const LaneKernel* const> lane_kernels();

/// Holds no pointer to its plans: every call gives those that it was made for. One per thread.
class LaneWorkspace {
public:
    /// Every lane at neutral, with the plan's own numbers.
    LaneWorkspace(const Plan& plan, const LanePlan& lane_plan, const LaneKernel& kernel = *lane_kernels().front());

    std::vector<LaneValues> inputs;  // in the order of Plan::inputs; wanted of the next solve

    const LaneKernel& kernel() const { return *kernel_; }
    long newton_steps() const;  // so far, of each lane

    // The solver's own.
    double* group(int index) { return const_cast<double*>(std::as_const(*this).group(index)); }
    const double* group(int index) const {
        return memory_.data()->of.data() + static_cast<long>(index) * slots_ * kernel_->width;
    }
    double& at(int slot, int lane) {
        return group(lane / kernel_->width)[slot * kernel_->width + lane % kernel_->width];
    }
    double at(int slot, int lane) const {
        return group(lane / kernel_->width)[slot * kernel_->width + lane % kernel_->width];
    }
    int groups() const { return lanes / kernel_->width; }
    std::array<LaneGroup, lanes> state{};  // of each group
    bool unsettled = false;
    std::vector<LaneValues> neutral_inputs;  // of each lane's own numbers
    std::unique_ptr<Workspace> alone;        // for lanes that are solved alone; made when first needed
    std::vector<double> alone_inputs;
    long solved_alone = 0;  // so many so far

private:
    std::vector<LaneValues> memory_;
    const LaneKernel* kernel_;
    int slots_;
};

/// Moves every lane to its inputs (finite). The lanes that closed; the others stay at the last pose that did. Lanes
/// from `used` on do as lane `used - 1`. Not after `load_lane`: a lane that does not close here is solved alone with
/// the plan's own numbers; see `move_lanes`.
LaneSet solve_lanes(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws, int used = lanes);
/// Every lane back to neutral.
void reset_lanes(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws);
/// The next solve does every block anew. For benchmarks.
void forget(LaneWorkspace& ws);

// Readings.

/// A revolute's angle in (-pi, pi], rad.
LaneValues lane_angles(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body);
/// The angle of each (c, s), of any length but 0, rad.
LaneValues lane_angles(const LaneWorkspace& ws, const LaneValues& c, const LaneValues& s);
/// A slide, mm.
LaneValues lane_slides(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body);
/// Column `axis` of a body's rotation that stands: of one that others depend on, or after `settle_lanes`.
std::array<LaneValues, 3> lane_axes(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body, int axis);
/// Largest closure error of the blocks that the last solve did anew, mm.
LaneValues lane_residuals(const LanePlan& lane_plan, const LaneWorkspace& ws);
/// Places what was left: driven bodies and those on which nothing depends. Then a body or a point in one lane.
void settle_lanes(const LanePlan& lane_plan, LaneWorkspace& ws);
Placement lane_placement(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body, int lane);
Vec3 lane_point(const LanePlan& lane_plan, const LaneWorkspace& ws, AnchorId anchor, int lane);

// Linkages of one make: other numbers, the same parts.

/// Gives one lane the numbers of `description`, which must have the same bodies, anchors and closures as the plan's;
/// the lane must then be started. False where a number differs on which the plan was built, as a joint frame that was
/// its parent's own: the lane keeps what it had.
bool load_lane(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws, int lane,
               const Description& description);
/// Closes the lanes at their neutral inputs from the plan's own neutral pose, whatever came before. A lane that closes
/// stands where `Plan::make` would have put it; one that does not, or stands near a dead point, must be planned alone.
LaneSet start_lanes(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws);
/// As `solve_lanes`, but no lane is solved alone: where one does not close it holds no pose until it is started anew.
LaneSet move_lanes(const LanePlan& lane_plan, LaneWorkspace& ws);

}  // namespace swashwright::linkage
