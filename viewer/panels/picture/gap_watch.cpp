#include "viewer/panels/picture/gap_watch.h"

namespace swashwright::panels {

std::optional<studies::Gap> GapWatch::measure(const std::string& pair, const head::Head& head, std::uint64_t revision,
                                              const head::Sticks& sticks, double azimuth_deg) {
    if (pair.empty() || head.neutral_failure()) return std::nullopt;
    if (!checker_ || revision != revision_) {
        revision_ = revision;
        solver_ = std::make_unique<head::Solver>(head);
        checker_ = studies::clearance_checker(head);
    }
    if (!solver_->pose(sticks, azimuth_deg)) return std::nullopt;
    checker_->look(*solver_);
    for (std::size_t i = 0; i < checker_->checks().size(); ++i) {
        const auto& parts = checker_->checks()[i].parts;
        if (parts[0] + "|" + parts[1] == pair) return checker_->nearest(i);
    }
    return std::nullopt;
}

}  // namespace swashwright::panels
