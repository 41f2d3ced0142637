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
    /// `pair`: two scene paths with a bar between; `revision`: of the document of which `head` is made. None if the
    /// pair is empty or not checked, or the pose does not close.
    std::optional<studies::Gap> measure(const std::string& pair, const head::Head& head, std::uint64_t revision,
                                        const head::Sticks& sticks, double azimuth_deg);

private:
    std::uint64_t revision_ = 0;
    std::unique_ptr<head::Solver> solver_;
    std::unique_ptr<studies::ClearanceChecker> checker_;
};

}  // namespace swashwright::panels
