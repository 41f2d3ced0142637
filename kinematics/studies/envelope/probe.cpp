#include "kinematics/studies/envelope/probe.h"

#include <algorithm>

namespace swashwright::studies {

Probe::Probe(const head::Head& head, const Checkers& checkers) : solver_(head) {
    for (const auto& checker : checkers) {
        for (std::size_t own = 0; own < checker->checks().size(); ++own) owners_.push_back({families_.size(), own});
        families_.push_back(checker->clone());
    }
    looks_.assign(families_.size(), Look::not_yet);
}

bool Probe::go(const Place& place) {
    ++poses;
    for (std::size_t i = 0; i < place.hand_deg.size(); ++i) solver_.set_hand(i, place.hand_deg[i]);
    if (!solver_.pose(place.sticks, place.azimuth_deg)) return false;
    std::ranges::fill(looks_, Look::not_yet);
    return true;
}

std::optional<double> Probe::value(std::size_t i) {
    const Owner owner = owners_[i];
    Look& look = looks_[owner.family];
    if (look == Look::not_yet) look = families_[owner.family]->look(solver_) ? Look::done : Look::nothing;
    if (look == Look::nothing) return std::nullopt;
    return families_[owner.family]->value(owner.own);
}

}  // namespace swashwright::studies
