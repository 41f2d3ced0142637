#include "kinematics/head/ball_places.h"

#include "kinematics/head/inventory.h"

namespace swashwright::head {
namespace {

template <class T>
const T* at(const std::vector<T>& list, int index) {
    const auto i = static_cast<std::size_t>(index);
    return index >= 0 && i < list.size() ? &list[i] : nullptr;
}

const Vec3* at(const std::vector<std::vector<Vec3>>& lists, const BallName& ball) {
    const std::vector<Vec3>* list = at(lists, ball.index);
    return list != nullptr ? at(*list, ball.ball) : nullptr;
}

}  // namespace

const Vec3* ball_place(const Skeleton& s, const BallName& ball) {
    using enum BallName::Of;
    switch (ball.of) {
        case servo:
            return at(s.horn_balls, ball.index);
        case inner_ball:
            return at(s.inner_balls, ball.index);
        case outer_ball:
            return at(s.outer_balls, ball.index);
        case grip:
            return at(s.grip_balls, ball.index);
        case lever:
            return at(s.lever_balls, ball);
        case slider:
            return at(s.slider_balls, ball);
        case fixed_ball:
            break;
    }
    return at(s.fixed_balls, ball.index);
}

const Placement* place_of(const Skeleton& s, const PartName& part) {
    static const Placement ground{};
    switch (part.role) {
        case Role::frame:
            return &ground;
        case Role::horn:
            return at(s.horns, part.index);
        case Role::inner_ring:
            return &s.inner_ring;
        case Role::outer_ring:
            return &s.outer_ring;
        case Role::hub:
            return &s.hub;
        case Role::grip:
            return at(s.grips, part.index);
        case Role::lever:
            return at(s.levers, part.index);
        case Role::slider:
            return at(s.sliders, part.index);
        default:
            return nullptr;
    }
}

std::span<const Vec3> balls_on(const Skeleton& s, const PartName& part) {
    using Balls = std::span<const Vec3>;
    const auto one = [](const Vec3* ball) { return ball != nullptr ? Balls(ball, 1) : Balls(); };
    const auto all = [](const std::vector<Vec3>* balls) { return balls != nullptr ? Balls(*balls) : Balls(); };
    switch (part.role) {
        case Role::horn:
            return one(at(s.horn_balls, part.index));
        case Role::inner_ring:
            return s.inner_balls;
        case Role::outer_ring:
            return s.outer_balls;
        case Role::grip:
            return one(at(s.grip_balls, part.index));
        case Role::lever:
            return all(at(s.lever_balls, part.index));
        case Role::slider:
            return all(at(s.slider_balls, part.index));
        default:
            return {};
    }
}

std::optional<BallName> other_end(const Description& d, const BallName& ball) {
    for (const PartName& link : links_of(d)) {
        const auto ends = ends_of(d, link);
        if (ends && (*ends)[0] == ball) return (*ends)[1];
        if (ends && (*ends)[1] == ball) return (*ends)[0];
    }
    return std::nullopt;
}

}  // namespace swashwright::head
