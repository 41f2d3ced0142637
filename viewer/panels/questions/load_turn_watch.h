// What servos hold around the turn in flight at the sticks as they are, worked out anew as these move.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>

#include "kinematics/studies/loads/load_turn.h"
#include "kinematics/studies/questions/values.h"

namespace swashwright::panels {

class LoadTurnWatch {
public:
    /// `revision`: of the document of which `head` is made; `values`: of the card about loads. None where the turn
    /// cannot be completed.
    const std::optional<studies::LoadTurn>& measure(const head::Head& head, std::uint64_t revision,
                                                    const head::Sticks& sticks, const studies::Values& values);

private:
    std::uint64_t revision_ = 0;
    head::Sticks sticks_;
    studies::Values values_;
    std::unique_ptr<studies::Flying> flying_;
    std::optional<studies::LoadTurn> turn_;
};

}  // namespace swashwright::panels
