// The gap between two parts at the pose on the screen, measured anew as the head moves.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "kinematics/studies/envelope/clearance.h"

namespace swashwright::panels {

class GapWatch {
public:
    /// Two scene paths with a bar between, as a row of a table names them; "" for none.
    void watch(std::string parts) { parts_ = std::move(parts); }
    const std::string& parts() const { return parts_; }

    /// None if nothing is watched, the pair is not checked, or the pose does not close.
    std::optional<studies::Gap> measure(const head::Head& head, std::uint64_t revision, const head::Sticks& sticks,
                                        double azimuth_deg);

private:
    std::string parts_;
    std::uint64_t revision_ = 0;
    std::unique_ptr<head::Solver> solver_;
    std::unique_ptr<studies::ClearanceChecker> checker_;
};

}  // namespace swashwright::panels
