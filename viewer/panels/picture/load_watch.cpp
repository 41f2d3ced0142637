#include "viewer/panels/picture/load_watch.h"

#include <fmt/format.h>

#include <cmath>

namespace swashwright::panels {

namespace {

constexpr double least_n = 0.05, least_nmm = 0.5;  // less is not drawn

}  // namespace

draw::LoadMarks LoadWatch::measure(const FlownAs& flown, const head::Head& head, std::uint64_t revision,
                                   const Shown& shown) {
    if (head.neutral_failure() || !shown.hands.empty()) return {};
    if (!flying_ || revision != revision_ || !(flown == flown_)) {
        revision_ = revision;
        flown_ = flown;
        flying_ = std::make_unique<studies::Flying>(
            head, studies::usual_flight(head.description(), flown.head_speed_rpm, flown.coning_deg));
    }
    const auto balance = flying_->at(shown.sticks, shown.azimuth_deg);
    if (!balance) return {};
    draw::LoadMarks out;
    const linkage::Workspace& ws = flying_->placed();
    for (const head::LinkRod& rod : head.model().rods()) {
        const double force = balance->force_n[static_cast<std::size_t>(rod.closure.index)];
        if (std::abs(force) < least_n) continue;
        out.forces.push_back({ws.point(rod.ends[0].ball), ws.point(rod.ends[1].ball), force,
                              fmt::format("{:.1f} N {}", std::abs(force), force > 0 ? "pull" : "push"),
                              head.model().part(rod.part).label});
    }
    for (std::size_t j = 0; j < shown.pose.skeleton.horns.size(); ++j)
        if (const double moment = std::abs(balance->horn_nmm[j]); moment >= least_nmm)
            out.moments.push_back({shown.pose.skeleton.horns[j].origin, fmt::format("{:.0f} N mm", moment),
                                   head::servo_words(head.description().servos[j])});
    return out;
}

}  // namespace swashwright::panels
