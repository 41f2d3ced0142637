#include "kinematics/linkage/description.h"

#include <utility>

namespace swashwright::linkage {

int freedoms(Joint joint) {
    switch (joint) {
        case Joint::fixed:
            return 0;
        case Joint::revolute:
        case Joint::prismatic:
            return 1;
        case Joint::ball:
            return 3;
        case Joint::slide_and_ball:
            return 4;
    }
    return 0;
}

int equations(ClosureKind kind) {
    return kind == ClosureKind::coincidence ? 3 : 1;
}

Description::Description() {
    bodies_.push_back({.name = "ground", .parent = {}, .joint_frame = {}, .neutral = {}});
}

BodyId Description::add_body(Body body) {
    bodies_.push_back(std::move(body));
    return {static_cast<int>(bodies_.size()) - 1};
}

AnchorId Description::add_anchor(BodyId body, const Vec3& position) {
    anchors_.push_back({body, position});
    return {static_cast<int>(anchors_.size()) - 1};
}

ClosureId Description::add_link(std::string name, AnchorId a, AnchorId b, double length, int priority) {
    closures_.push_back(
        {.name = std::move(name), .kind = ClosureKind::link, .a = a, .b = b, .length = length, .priority = priority});
    return {static_cast<int>(closures_.size()) - 1};
}

ClosureId Description::add_slot(std::string name, AnchorId point, AnchorId plane, const Vec3& normal, int priority) {
    closures_.push_back({.name = std::move(name),
                         .kind = ClosureKind::slot,
                         .a = point,
                         .b = plane,
                         .normal = normal.normalized(),
                         .priority = priority});
    return {static_cast<int>(closures_.size()) - 1};
}

ClosureId Description::add_coincidence(std::string name, AnchorId a, AnchorId b, int priority) {
    closures_.push_back(
        {.name = std::move(name), .kind = ClosureKind::coincidence, .a = a, .b = b, .priority = priority});
    return {static_cast<int>(closures_.size()) - 1};
}

}  // namespace swashwright::linkage
