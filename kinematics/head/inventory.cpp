#include "kinematics/head/inventory.h"

#include <fmt/format.h>

namespace swashwright::head {
namespace {

template <class Descriptions>
auto& list_of(Descriptions& d, Role kind) {
    return kind == Role::lower_link ? d.lower_links : kind == Role::upper_link ? d.upper_links : d.links;
}

template <class Descriptions>
auto* one_of(Descriptions& d, const PartName& part) {
    auto* links = is_link(part.role) ? &list_of(d, part.role) : nullptr;
    const auto i = static_cast<std::size_t>(part.index);
    return links != nullptr && part.index >= 0 && i < links->size() ? &(*links)[i] : nullptr;
}

}  // namespace

std::size_t count_of(const Description& d, Role role) {
    switch (role) {
        case Role::lower_link:
        case Role::upper_link:
        case Role::other_link:
            return list_of(d, role).size();
        case Role::servo:
        case Role::horn:
            return d.servos.size();
        case Role::grip:
        case Role::blade:
            return d.grips.size();
        case Role::lever:
            return d.levers.size();
        case Role::slider:
            return d.sliders.size();
        default:
            return 1;
    }
}

std::vector<PartName> links_of(const Description& d) {
    std::vector<PartName> out;
    for (const Role kind : {Role::lower_link, Role::upper_link, Role::other_link})
        for (int i = 0; i < static_cast<int>(count_of(d, kind)); ++i) out.push_back({kind, i});
    return out;
}

const std::vector<Link>& links_of(const Description& description, Role kind) {
    return list_of(description, kind);
}
std::vector<Link>& links_of(Description& description, Role kind) {
    return list_of(description, kind);
}

const Link* link_of(const Description& description, const PartName& part) {
    return one_of(description, part);
}
Link* link_of(Description& description, const PartName& part) {
    return one_of(description, part);
}

std::optional<std::array<BallName, 2>> ends_of(const Description& description, const PartName& link) {
    using enum BallName::Of;
    const Link* made = link_of(description, link);
    if (made == nullptr) return std::nullopt;
    if (made->ends || link.role == Role::other_link) return made->ends;
    if (link.role == Role::lower_link) return std::array{BallName{servo, link.index}, BallName{inner_ball, link.index}};
    return std::array{BallName{outer_ball, link.index}, BallName{grip, link.index}};
}

const char* link_kind_words(Role kind) {
    return kind == Role::lower_link ? "lower link" : kind == Role::upper_link ? "upper link" : "link";
}

std::string link_words(const Description& description, const PartName& link) {
    const Link* made = link_of(description, link);
    return made != nullptr && !made->name.empty() ? made->name
                                                  : fmt::format("{} {}", link_kind_words(link.role), link.index + 1);
}

PartName part_of(const Carrier& carrier) {
    using enum Carrier::On;
    switch (carrier.on) {
        case frame:
            return {Role::frame, 0};
        case inner_ring:
            return {Role::inner_ring, 0};
        case outer_ring:
            return {Role::outer_ring, 0};
        case hub:
            return {Role::hub, 0};
        case grip:
            return {Role::grip, carrier.index};
        case lever:
            return {Role::lever, carrier.index};
        case slider:
            break;
    }
    return {Role::slider, carrier.index};
}

std::optional<PartName> part_of(const Description& d, const BallName& ball) {
    using enum BallName::Of;
    const auto has = [&](const auto& list, int index) {
        return index >= 0 && static_cast<std::size_t>(index) < list.size();
    };
    const auto i = static_cast<std::size_t>(ball.index);
    switch (ball.of) {
        case servo:
            return has(d.servos, ball.index) ? std::optional(PartName{Role::horn, ball.index}) : std::nullopt;
        case inner_ball:
            return has(d.swashplate.inner_balls, ball.index) ? std::optional(PartName{Role::inner_ring}) : std::nullopt;
        case outer_ball:
            return has(d.swashplate.outer_balls, ball.index) ? std::optional(PartName{Role::outer_ring}) : std::nullopt;
        case grip:
            return has(d.grips, ball.index) ? std::optional(PartName{Role::grip, ball.index}) : std::nullopt;
        case lever:
            if (!has(d.levers, ball.index) || !has(d.levers[i].balls_mm, ball.ball)) return std::nullopt;
            return PartName{Role::lever, ball.index};
        case slider:
            if (!has(d.sliders, ball.index) || !has(d.sliders[i].balls_mm, ball.ball)) return std::nullopt;
            return PartName{Role::slider, ball.index};
        case fixed_ball:
            break;
    }
    return has(d.fixed_balls, ball.index) ? std::optional(part_of(d.fixed_balls[i].on)) : std::nullopt;
}

}  // namespace swashwright::head
