// A linkage compiled for lanes: what the kernels read. Plain numbers only and no function, so that a kernel compiled
// for one kind of machine shares no code with the rest of the program.
//
// A lane memory is a row of slots, each as many numbers side by side as the kernel is wide: one a lane. All that is
// called a slot here is the place of the first of them, counted in slots. A point takes three, a placement twelve: the
// three axes, then the origin. Of joints a revolute takes two (cosine, sine), a prismatic one, a ball four (w, x, y,
// z), slide-and-ball five (slide, then the ball's four).
#pragma once

#include <cstdint>

namespace swashwright::linkage {

inline constexpr int lanes = 8;                 // of a workspace, whatever the kernel's width
inline constexpr int most_lane_unknowns = 8;    // of a block
inline constexpr int most_lane_circles = 8;     // of one rotation that several closures share
inline constexpr double most_lane_angle = 1e5;  // rad, of an input: beyond it the reduction of angles loses digits

enum class LaneJoint { fixed, revolute, prismatic, ball, slide_and_ball };

struct LaneInput {
    int value = 0, good_value = 0, joint = 0;
    bool turns = true;
};

/// A point on a driven body of which only points are asked (`Plan::Crank`): still + c along + s across.
struct LaneCrankPoint {
    std::uint64_t inputs = 0;
    int point = 0, joint = 0, still = 0;  // still, along, across follow each other
};

/// A point or direction and where it stands in its body.
struct LaneRider {
    int out = 0, local = 0;
};

struct LaneBody {
    LaneJoint joint = LaneJoint::fixed;
    bool own_frame = true;  // the joint frame must be worked out from the parent's placement; else `frame` stands
    bool level_frame = false;
    bool rides_in_block = false;
    int parent = 0, joint_frame = 0;   // a placement in the ground's frame; one in the parent's
    int frame = 0, place = 0, at = 0;  // joint frame and body in the ground's frame; the joint
    int first_rider = 0, last_rider = 0, first_plane = 0, last_plane = 0;
    int motion = 0, parent_motion = 0;  // twelve slots each: see lane_shared.inc
    std::uint64_t inputs = 0;
};

enum class LaneRowKind { link, slot, coincidence };

struct LaneRow {
    LaneRowKind kind = LaneRowKind::link;
    int component = 0;
    int a = 0, b = 0, normal = 0;        // points; direction
    int length = 0, inverse_length = 0;  // slots
};

struct LaneTerm {
    int row = 0, column = 0, anchor = 0, body = 0;
    double sign = 1;
};

/// A closure of one turning body as a circle, see `Circle` in rows.h.
struct LaneCircle {
    enum class Kind { link, point_turns, plane_turns } kind = Kind::link;
    int arm = 0;             // riding point in the body, or of a plane the point through which it goes
    int other = 0;           // standing point: of a link, or against a turning plane
    int normal = 0;          // of a slot: where the plane stands in the ground's frame, where it turns in its body
    int constant = 0;        // of a link: (arm^2 - length^2) / 2
    int inverse_length = 0;  // of a link
};

enum class LaneBlockKind { leaf, single, single_shared, one_body, square, shared };

struct LaneBlock {
    LaneBlockKind kind = LaneBlockKind::single;
    std::uint64_t inputs = 0;
    int unknowns = 1, exact = 0;  // rows that are exact come first
    double branch = 1;
    double least_slope = 0;  // at neutral a determinant, or a single closure's slope, must be above it: rank
    int first_joint = 0, last_joint = 0;    // into `joints`
    int first_body = 0, last_body = 0;      // into `block_bodies`
    int first_root = 0, last_root = 0;      // into `block_bodies`
    int first_row = 0, last_row = 0;        // into `rows`; of one body: four
    int first_term = 0, last_term = 0;      // into `terms`
    int first_circle = 0, last_circle = 0;  // into `circles`
    int still[4] = {}, riding[4] = {};      // of one body
    double as_angle[most_lane_unknowns] = {};
};

struct LaneBlockJoint {
    int body = 0, column = 0, unknowns = 0;
};

/// A joint kept to go back to, and where: `count` slots.
struct LaneKept {
    int from = 0, to = 0, count = 0;
};

struct LaneCode {
    const LaneInput* inputs;
    int input_count;
    const LaneCrankPoint* crank_points;
    int crank_point_count;
    const LaneBody* bodies;
    const int* driven_bodies;
    int driven_body_count;
    const int* crank_bodies;  // placed when asked for, as the bodies of leaves
    int crank_body_count;
    const int* all_bodies;  // parents first
    int all_body_count;
    const LaneRider* riders;
    const LaneRow* rows;
    const LaneTerm* terms;
    const LaneCircle* circles;
    const LaneBlockJoint* joints;
    const int* block_bodies;
    const LaneBlock* blocks;
    int block_count;
    const LaneKept* kept;
    int kept_count;
    int residual;  // slot: the largest closure error of the blocks that the last solve did, mm
    double tolerance;
    int neutral_side;  // slots: of each body two, cosine and sine of where a turning joint was sought at neutral
};

/// What a kernel keeps of the lanes that it does at once.
struct LaneGroup {
    std::uint64_t stale = ~std::uint64_t{0};  // inputs changed since each block was solved, or all
    long newton_steps = 0;                    // of each lane, counted together
};

/// One width of lanes, compiled for one kind of machine. `memory` is that of one group of `width` lanes, aligned to 64
/// bytes.
struct LaneKernel {
    const char* name;
    int width;
    /// Moves the lanes to inputs[i * lanes + lane], rad or mm. Returns the lanes that did not close, one bit each: what
    /// they hold is then no pose. At neutral also those that stand at a dead point or on the side of one on which the
    /// planner would not have looked.
    unsigned (*solve)(const LaneCode&, double* memory, LaneGroup&, const double* inputs, bool at_neutral);
    /// Places what a solve leaves to be asked for; and every body from its joint.
    void (*settle)(const LaneCode&, double* memory);
    void (*place_all)(const LaneCode&, double* memory);
    /// Angles in (-pi, pi] of (c, s), rad, `count` of them, a multiple of `width`; aligned as memory.
    void (*angles)(const double* c, const double* s, double* out, int count);
};

// One to each object file.
extern const LaneKernel narrow_lane_kernel;  // any machine
extern const LaneKernel wide_lane_kernel;    // x86 with AVX2 and FMA
extern const LaneKernel widest_lane_kernel;  // x86 with AVX-512

}  // namespace swashwright::linkage
