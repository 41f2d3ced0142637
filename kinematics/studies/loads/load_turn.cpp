#include "kinematics/studies/loads/load_turn.h"

#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {

double raising_nmm(const head::Head& head, const Balance& balance, std::size_t horn) {
    return balance.horn_nmm[horn] * head.raise_signs()[horn];
}

std::optional<LoadTurn> load_turn(Flying& flying, const head::Sticks& sticks) {
    const head::Head& head = flying.head();
    LoadTurn out{turn_azimuths(turn_samples), {}};
    out.horns_nmm.resize(head.description().servos.size());
    for (const double azimuth : out.azimuth_deg) {
        const auto balance = flying.at(sticks, azimuth);
        if (!balance) return std::nullopt;
        for (std::size_t j = 0; j < out.horns_nmm.size(); ++j)
            out.horns_nmm[j].push_back(raising_nmm(head, *balance, j));
    }
    return out;
}

}  // namespace swashwright::studies
