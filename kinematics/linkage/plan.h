// How a linkage is solved: found once from its description, then shared by every workspace.
//
// A maximum matching of closures to unknowns and the strongly connected components of what it leaves give an order
// of blocks, each solved with the earlier ones known (block-triangular form: Dulmage and Mendelsohn 1958). Structure
// is not rank: four vertical links on a ring match four unknowns, yet nothing holds its rotation. So each block's
// Jacobian is also tested for rank at neutral, angles scaled by the block's mean lever.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/linkage/description.h"

namespace swashwright::linkage {

enum class BlockKind {
    single,         // one unknown, one closure: in closed form
    single_shared,  // one rotation, several closures: least squares in one angle
    square,         // as many closures as unknowns: Newton
    shared,  // more closures than unknowns: least squares over those of `Closure::priority` above 0, the others exact
};

/// One scalar equation of a block, with what its residual needs at hand.
struct Row {
    int closure = 0;
    int component = 0;           // of a coincidence
    bool least_squares = false;  // shares a misfit rather than being met exactly
    ClosureKind kind = ClosureKind::link;
    int a = 0, b = 0;  // anchors
    double length = 0, inverse_length = 0;
};

/// A joint of the block that moves one end of a row.
struct Term {
    int row = 0;
    int anchor = 0;  // the point whose motion counts
    int body = 0;    // whose joint it is
    int column = 0;  // first unknown of that joint
    Joint joint = Joint::revolute;
    /// +1: the row's residual grows as the point moves along the row's gradient (see `row_value`); -1: it shrinks.
    double sign = 1;
};

/// The rows of a block of one body side by side, for `solve_one_body`; a slot's lengths and a link's `slot` are 0.
struct OneBody {
    std::array<double, 4> x{}, y{}, z{};               // riding points in the body's frame, mm
    std::array<double, 4> inverse_length{}, length{};  // per mm, mm
    std::array<double, 4> slot{};                      // 1 for a slot
    std::array<int, 4> still{};                        // anchors at the other ends
};

/// What a link with one end on a turning body always brings to that body's circle (see `Circle` in rows.h).
struct LinkCircle {
    int other = 0;            // the anchor at its other end
    Vec3 arm = Vec3::Zero();  // the riding end in the body's frame, mm
    double constant = 0;      // (arm^2 - length^2) / 2
    double scale = 0;         // -1 / length
};

/// The same for a point that turns against a standing slot's plane.
struct SlotCircle {
    int closure = 0, through = 0;  // the slot, and the anchor through which its plane goes
    Vec3 point = Vec3::Zero();     // in the body's frame, mm
};

struct Block {
    BlockKind kind = BlockKind::square;
    std::vector<int> joints;   // bodies whose joints are the unknowns
    std::vector<int> columns;  // first unknown of each
    int unknowns = 0;
    std::vector<Row> rows;  // exact ones first
    int exact = 0;          // how many rows are exact
    std::vector<Term> terms;
    std::vector<int> bodies;       // whose placement this block settles, parents first
    std::vector<int> roots;        // those of them whose parent is settled before
    std::uint64_t inputs = 0;      // bit i: the block depends on input i
    double lever = 1;              // mean lever of the block's points about its rotations at neutral, mm
    std::vector<double> as_angle;  // of each unknown: what makes a step of it an angle; 1, or 1/lever for a slide
    /// Which of the two assemblies: sign of sine of the angle from the pole (single), of the determinant (square).
    double branch = 1;
    // Where the block has one of these shapes:
    std::optional<OneBody> one_body;
    std::optional<LinkCircle> link_circle;
    std::optional<SlotCircle> slot_circle;
    bool leaf = false;  // one unknown, and nothing else depends on where its bodies stand

    bool slides(int unknown) const { return as_angle[static_cast<std::size_t>(unknown)] != 1.0; }
};

/// Why a description cannot be solved.
struct Refusal {
    std::string message;  // one sentence: "nothing stops the inner ring from turning about its own axis"
};

/// A link that cannot span its two anchors.
struct Shortfall {
    ClosureId closure;
    double missing_mm = 0;  // least change of its length that closes the loop: + too short, - too long
};

/// Where every joint stands; the part of a workspace that can be kept and put back.
struct JointState {
    double c = 1, s = 0;           // cosine and sine of a revolute's angle
    double slide = 0;              // mm
    Quat turn = Quat::Identity();  // ball
};

class Plan {
public:
    /// Refuses a description with a joint that nothing holds, an input that is not a revolute or prismatic joint, or
    /// more than 64 inputs. One that does not close at neutral is planned all the same: see `neutral_shortfalls`.
    static tl::expected<Plan, Refusal> make(Description description);

    const Description& description() const { return description_; }
    const std::vector<Block>& blocks() const { return blocks_; }
    /// Bodies with driven joints in the order in which inputs are given.
    const std::vector<BodyId>& inputs() const { return inputs_; }
    /// Value of each input at neutral, rad or mm.
    const std::vector<double>& neutral_inputs() const { return neutral_inputs_; }
    /// Joints at neutral; at the nearest fit where neutral does not close.
    const std::vector<JointState>& neutral() const { return neutral_; }
    /// Empty if the loops close at neutral.
    const std::vector<Shortfall>& neutral_shortfalls() const { return neutral_shortfalls_; }
    /// Closures that come when everything they touch is settled: they say nothing but their misfit.
    const std::vector<ClosureId>& spare() const { return spare_; }
    /// Residual (mm) below which a closure counts as closed: 1e-11 for a linkage of up to 0.2 m, in proportion above.
    double tolerance() const { return tolerance_; }

    // What the solver reads besides, compiled for speed.
    struct BodyPlan {
        Joint joint = Joint::fixed;
        bool constant_frame = false;  // the parent is the ground
        bool rides_in_block = false;  // the parent is settled by the same block
        int parent = 0;
        Placement joint_frame;
        bool level_frame = false;             // the joint frame's axes are the ground's
        bool plain_frame = false;             // the joint frame is the parent's own
        std::uint64_t inputs = 0;             // bit i: its placement depends on input i
        int first_rider = 0, last_rider = 0;  // anchors on it
        int first_plane = 0, last_plane = 0;  // slot planes on it
    };
    /// An anchor, or a slot's normal, in its body's frame.
    struct Rider {
        int index = 0;
        Vec3 local = Vec3::Zero();
    };
    std::span<const Rider> riders(const BodyPlan& body) const {
        return {riders_.data() + body.first_rider, static_cast<std::size_t>(body.last_rider - body.first_rider)};
    }
    std::span<const Rider> planes(const BodyPlan& body) const {
        return {planes_.data() + body.first_plane, static_cast<std::size_t>(body.last_plane - body.first_plane)};
    }
    const BodyPlan& body(int index) const { return body_plans_[index]; }
    /// A driven rotation on the ground that carries points only: a servo horn. While solving, its points are placed
    /// without its body: a point is at `still + c along + s across`, c and s of the joint.
    struct Crank {
        struct Point {
            int anchor = 0;
            Vec3 still, along, across;  // in the ground's frame, mm
        };
        int body = 0;
        std::vector<Point> points;
    };
    const std::vector<Crank>& cranks() const { return cranks_; }
    /// The other bodies than the ground that inputs alone settle, parents first.
    const std::vector<int>& driven_bodies() const { return driven_bodies_; }
    /// Bodies whose joints stand where they stood: blocks that start from the last pose.
    const std::vector<int>& followed_joints() const { return followed_joints_; }

private:
    friend class Planner;
    Description description_;
    std::vector<Block> blocks_;
    std::vector<BodyPlan> body_plans_;
    std::vector<Rider> riders_, planes_;
    std::vector<Crank> cranks_;
    std::vector<int> driven_bodies_, followed_joints_;
    std::vector<BodyId> inputs_;
    std::vector<double> neutral_inputs_;
    std::vector<JointState> neutral_;
    std::vector<Shortfall> neutral_shortfalls_;
    std::vector<ClosureId> spare_;
    double tolerance_ = 1e-11;
};

}  // namespace swashwright::linkage
