#include "kinematics/head/ball_places.h"

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

std::optional<BallName> other_end(const Description& d, const BallName& ball) {
    const auto across = [&](const std::array<BallName, 2>& ends) -> std::optional<BallName> {
        if (ends[0] == ball) return ends[1];
        if (ends[1] == ball) return ends[0];
        return std::nullopt;
    };
    for (std::size_t j = 0; j < d.lower_links.size(); ++j)
        if (const auto end = across(ends_of_lower_link(d, j))) return end;
    for (std::size_t k = 0; k < d.upper_links.size(); ++k)
        if (const auto end = across(ends_of_upper_link(d, k))) return end;
    for (const Link& link : d.links)
        if (const auto end = link.ends ? across(*link.ends) : std::nullopt) return end;
    return std::nullopt;
}

}  // namespace swashwright::head
