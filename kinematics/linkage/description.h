// What a spatial linkage is made of: a tree of bodies with joints, points on them, and the closures that tie the
// tree into loops. A description holds numbers and names only; `Plan` finds out how to solve it.
#pragma once

#include <compare>
#include <string>
#include <vector>

#include "kinematics/linkage/geometry.h"

namespace swashwright::linkage {

struct BodyId {
    int index = -1;
    auto operator<=>(const BodyId&) const = default;
};
struct AnchorId {
    int index = -1;
    auto operator<=>(const AnchorId&) const = default;
};
struct ClosureId {
    int index = -1;
    auto operator<=>(const ClosureId&) const = default;
};

/// How a body moves against its parent. The motion is about and along the z axis of the joint frame, which is
/// fixed in the parent; at zero motion the body's frame is the joint frame.
enum class Joint {
    fixed,
    revolute,        // turns about z, right-handed
    prismatic,       // slides along z
    ball,            // turns about the origin in any way
    slide_and_ball,  // slides along z and turns about its own origin in any way
};

/// Unknowns of a joint; 3 rotations are counted for a ball.
int freedoms(Joint joint);

/// Where a joint stands. Only what the joint's kind uses is read.
struct JointPosition {
    double angle = 0;              // revolute, rad
    double slide = 0;              // prismatic, slide_and_ball, mm
    Quat turn = Quat::Identity();  // ball, slide_and_ball: the body's frame against the joint frame
};

struct Body {
    std::string name;  // as a builder calls it: "upper link 2", "inner ring"
    BodyId parent;
    Placement joint_frame;  // in the parent's frame
    Joint joint = Joint::fixed;
    bool input = false;     // the joint is driven from outside; only revolute and prismatic may be
    JointPosition neutral;  // an input's value at neutral; for an unknown, the place nearest which neutral is sought
};

/// A named point fixed in a body.
struct Anchor {
    BodyId body;
    Vec3 position = Vec3::Zero();  // in the body's frame, mm
};

enum class ClosureKind {
    link,         // the distance between anchors a and b is `length`
    slot,         // anchor a lies in the plane through anchor b with `normal` (in b's body)
    coincidence,  // anchors a and b are one point
};

struct Closure {
    std::string name;
    ClosureKind kind = ClosureKind::link;
    AnchorId a, b;
    double length = 0;            // link, mm
    Vec3 normal = Vec3::UnitZ();  // slot, unit vector in b's body
    /// Which closures are met first where there are more of them than unknowns: 0 before 1 before 2 (hierarchical least
    /// squares). Those of one number that come too many share the misfit in least squares, equally weighted; those with
    /// 0 stay exact.
    int priority = 0;
};

/// Scalar equations of a closure.
int equations(ClosureKind kind);

/// Built up once, then passed on as const. Ids count from 0 in the order of adding; body 0 is the ground.
class Description {
public:
    static constexpr BodyId ground{0};

    Description();

    BodyId add_body(Body body);
    AnchorId add_anchor(BodyId body, const Vec3& position);
    /// By default a slot is met (0) before a link (1).
    ClosureId add_link(std::string name, AnchorId a, AnchorId b, double length, int priority = 1);
    ClosureId add_slot(std::string name, AnchorId point, AnchorId plane, const Vec3& normal, int priority = 0);
    ClosureId add_coincidence(std::string name, AnchorId a, AnchorId b, int priority = 0);

    const std::vector<Body>& bodies() const { return bodies_; }
    const std::vector<Anchor>& anchors() const { return anchors_; }
    const std::vector<Closure>& closures() const { return closures_; }

private:
    std::vector<Body> bodies_;
    std::vector<Anchor> anchors_;
    std::vector<Closure> closures_;
};

}  // namespace swashwright::linkage
