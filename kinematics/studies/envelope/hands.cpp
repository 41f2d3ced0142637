#include "kinematics/studies/envelope/hands.h"

#include <utility>

namespace swashwright::studies {

std::vector<Hand> hands_of(const head::Head& head) {
    std::vector<Hand> out;
    for (const head::Parts::Hand& hand : head.parts().hands) {
        const head::Lever& lever = head.description().levers[static_cast<std::size_t>(hand.lever)];
        const head::Part& part = head.model().part(*head.model().find(head::Role::lever, hand.lever));
        out.push_back({part.path, part.words, (*lever.by_hand_deg)[0], lever.angle_deg, (*lever.by_hand_deg)[1]});
    }
    return out;
}

std::vector<std::vector<double>> hand_places(const std::vector<Hand>& hands) {
    std::vector<std::vector<double>> out{{}};
    for (const Hand& hand : hands) {
        std::vector<std::vector<double>> next;
        for (const auto& before : out)
            for (const double deg : {hand.neutral_deg, hand.least_deg, hand.most_deg}) {
                next.push_back(before);
                next.back().push_back(deg);
            }
        out = std::move(next);
    }
    return out;
}

}  // namespace swashwright::studies
