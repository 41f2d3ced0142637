#include "kinematics/head/hands.h"

#include <utility>

namespace swashwright::head {

std::optional<Head> with_hands(const Head& head, std::span<const double> hand_deg) {
    Description moved = head.description();
    for (std::size_t i = 0; i < hand_deg.size(); ++i)
        moved.levers[static_cast<std::size_t>(head.parts().hands[i].lever)].angle_deg = hand_deg[i];
    auto built = Head::build(moved);
    return built ? std::optional(std::move(*built)) : std::nullopt;
}

}  // namespace swashwright::head
