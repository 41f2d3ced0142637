// A plan compiled for lanes: several poses of a linkage, or several linkages of one make, solved side by side. See
// lanes.h.
#pragma once

#include <memory>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/linkage/lane_code.h"
#include "kinematics/linkage/plan.h"

namespace swashwright::linkage {

/// What a `LanePlan` holds: the code, what its pointers point to, and where in a lane memory things stand. Slots as in
/// lane_code.h; -1 where there is none.
struct LaneTables {
    LaneCode code{};
    int slots = 0;

    std::vector<LaneInput> inputs;
    std::vector<LaneCrankPoint> crank_points;
    std::vector<LaneBody> bodies;  // by BodyId
    std::vector<int> driven_bodies, crank_bodies, all_bodies, block_bodies;
    std::vector<LaneRider> riders;
    std::vector<LaneRow> rows;
    std::vector<LaneTerm> terms;
    std::vector<LaneCircle> circles;
    std::vector<LaneBlockJoint> joints;
    std::vector<LaneBlock> blocks;
    std::vector<LaneKept> kept;

    // Of anchors and closures: where they stand in the ground's frame, and the numbers of the description.
    std::vector<int> anchor, anchor_local, normal, normal_local, length, inverse_length;
    /// What is worked out from those numbers.
    struct LinkConstant {
        int slot = 0, anchor = 0, closure = 0;
    };
    struct CrankConstant {
        int slot = 0, body = 0, anchor = 0;  // nine slots: still, along, across
    };
    std::vector<LinkConstant> link_constants;
    std::vector<CrankConstant> crank_constants;
};

/// Immutable; cheap to copy; safe to share between threads.
class LanePlan {
public:
    /// Refuses a linkage that does not close at neutral, and one in which more than eight unknowns (and, where links
    /// share a misfit, exact closures) hang together. Such a linkage is solved pose by pose.
    static tl::expected<LanePlan, Refusal> make(const Plan& plan);

    const LaneTables& tables() const { return *tables_; }

private:
    std::shared_ptr<const LaneTables> tables_;
};

}  // namespace swashwright::linkage
