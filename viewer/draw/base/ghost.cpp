#include "viewer/draw/base/ghost.h"

#include <algorithm>
#include <utility>

#include "kinematics/head/numbers.h"

namespace swashwright::draw {

namespace {

/// Numbers that are 0 on a head that is made as it was meant.
bool tells_an_error(const head::Number& number) {
    using enum head::NumberKind;
    return is_error(number.kind) || number.kind == pitch_offset || number.kind == guide_turn ||
           number.kind == driver_turn;
}

}  // namespace

head::Description nominal(head::Description description) {
    for (const head::Number& number : head::numbers(description))
        if (tells_an_error(number)) head::value(description, number) = 0;
    return description;
}

bool has_errors(const head::Description& d) {
    return std::ranges::any_of(head::numbers(d), [&](const head::Number& number) {
        return tells_an_error(number) && head::value(d, number) != 0;
    });
}

GhostHead::GhostHead(head::Head head)
    : head_(std::move(head)), description_(std::make_shared<const head::Description>(head_.description())) {}

std::optional<GhostHead> GhostHead::of(const head::Description& description) {
    auto head = head::Head::build(description);
    return head ? std::optional(GhostHead(std::move(*head))) : std::nullopt;
}

std::shared_ptr<const Ghost> GhostHead::at(std::span<const double> horn_deg, double azimuth_deg,
                                           std::span<const double> hand_deg) const {
    if (horn_deg.size() != description_->servos.size()) return nullptr;
    return std::make_shared<const Ghost>(Ghost{description_, head_.nearest(horn_deg, azimuth_deg, hand_deg).pose});
}

std::shared_ptr<const Ghost> GhostHead::at(const head::Sticks& sticks, double azimuth_deg,
                                           std::span<const double> hand_deg) const {
    if (hand_deg.size() != head_.parts().hands.size()) hand_deg = {};
    return at(head_.horn_angles_deg(sticks), azimuth_deg, hand_deg);
}

std::shared_ptr<const Ghost> ghost_of(const head::Description& description, std::span<const double> horn_deg,
                                      double azimuth_deg, std::span<const double> hand_deg) {
    const auto head = GhostHead::of(nominal(description));
    return head ? head->at(horn_deg, azimuth_deg, hand_deg) : nullptr;
}

}  // namespace swashwright::draw
