#include "viewer/draw/ghost.h"

#include <algorithm>

#include "kinematics/head/head.h"

namespace swashwright::draw {

head::Description nominal(head::Description description) {
    for (auto* links : {&description.lower_links, &description.upper_links})
        for (head::Link& link : *links) link.error_mm = 0;
    for (head::Grip& grip : description.grips) grip.pitch_offset_deg = 0;
    description.swashplate.guide_turn_deg = 0;
    description.swashplate.driver_turn_deg = 0;
    return description;
}

bool has_errors(const head::Description& d) {
    const auto off = [](const head::Link& link) { return link.error_mm != 0; };
    return std::ranges::any_of(d.lower_links, off) || std::ranges::any_of(d.upper_links, off) ||
           std::ranges::any_of(d.grips, [](const head::Grip& grip) { return grip.pitch_offset_deg != 0; }) ||
           d.swashplate.guide_turn_deg != 0 || d.swashplate.driver_turn_deg != 0;
}

std::shared_ptr<const Ghost> ghost_from(const head::Description& other, std::span<const double> horn_deg,
                                        double azimuth_deg) {
    const auto head = head::Head::build(other);
    if (!head || horn_deg.size() != other.servos.size()) return nullptr;
    return std::make_shared<const Ghost>(
        Ghost{std::make_shared<const head::Description>(other), head->nearest(horn_deg, azimuth_deg).pose});
}

std::shared_ptr<const Ghost> ghost_of(const head::Description& description, std::span<const double> horn_deg,
                                      double azimuth_deg) {
    return ghost_from(nominal(description), horn_deg, azimuth_deg);
}

}  // namespace swashwright::draw
