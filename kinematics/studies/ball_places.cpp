#include "kinematics/studies/ball_places.h"

namespace swashwright::studies {

Vec3 ball_place(const head::Skeleton& s, const head::BallName& ball) {
    using enum head::BallName::Of;
    const auto i = static_cast<std::size_t>(ball.index), b = static_cast<std::size_t>(ball.ball);
    switch (ball.of) {
        case servo:
            return s.horn_balls[i];
        case inner_ball:
            return s.inner_balls[i];
        case outer_ball:
            return s.outer_balls[i];
        case grip:
            return s.grip_balls[i];
        case lever:
            return s.lever_balls[i][b];
        case slider:
            return s.slider_balls[i][b];
        case fixed_ball:
            break;
    }
    return s.fixed_balls[i];
}

std::optional<head::BallName> other_end(const head::Description& d, const head::BallName& ball) {
    const auto across = [&](const std::array<head::BallName, 2>& ends) -> std::optional<head::BallName> {
        if (ends[0] == ball) return ends[1];
        if (ends[1] == ball) return ends[0];
        return std::nullopt;
    };
    for (std::size_t j = 0; j < d.lower_links.size(); ++j)
        if (const auto end = across(ends_of_lower_link(d, j))) return end;
    for (std::size_t k = 0; k < d.upper_links.size(); ++k)
        if (const auto end = across(ends_of_upper_link(d, k))) return end;
    for (const head::Link& link : d.links)
        if (const auto end = link.ends ? across(*link.ends) : std::nullopt) return end;
    return std::nullopt;
}

}  // namespace swashwright::studies
