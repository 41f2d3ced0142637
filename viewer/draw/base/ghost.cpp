#include "viewer/draw/base/ghost.h"

#include <algorithm>
#include <utility>

namespace swashwright::draw {

head::Description nominal(head::Description description) {
    for (auto* links : {&description.lower_links, &description.upper_links, &description.links})
        for (head::Link& link : *links) link.error_mm = 0;
    for (head::Grip& grip : description.grips) grip.pitch_offset_deg = 0;
    description.swashplate.guide_turn_deg = 0;
    description.swashplate.driver_turn_deg = 0;
    return description;
}

bool has_errors(const head::Description& d) {
    const auto off = [](const head::Link& link) { return link.error_mm != 0; };
    return std::ranges::any_of(d.lower_links, off) || std::ranges::any_of(d.upper_links, off) ||
           std::ranges::any_of(d.links, off) ||
           std::ranges::any_of(d.grips, [](const head::Grip& grip) { return grip.pitch_offset_deg != 0; }) ||
           d.swashplate.guide_turn_deg != 0 || d.swashplate.driver_turn_deg != 0;
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

std::shared_ptr<const Ghost> GhostHead::at(const head::Sticks& sticks, double azimuth_deg) const {
    return at(head_.horn_angles_deg(sticks), azimuth_deg);
}

std::shared_ptr<const Ghost> ghost_of(const head::Description& description, std::span<const double> horn_deg,
                                      double azimuth_deg, std::span<const double> hand_deg) {
    const auto head = GhostHead::of(nominal(description));
    return head ? head->at(horn_deg, azimuth_deg, hand_deg) : nullptr;
}

}  // namespace swashwright::draw
