#include "kinematics/studies/envelope/probe.h"

#include <algorithm>

namespace swashwright::studies {

Probe::Probe(const head::Head& head, const Checkers& checkers) : solver_(head), motion_(head.plan()) {
    for (const auto& checker : checkers) {
        for (std::size_t own = 0; own < checker->checks().size(); ++own) owners_.push_back({families_.size(), own});
        families_.push_back(checker->clone());
    }
    looks_.assign(families_.size(), Look::not_yet);
}

bool Probe::go(const Place& place) {
    ++poses;
    for (std::size_t i = 0; i < place.hand_deg.size(); ++i) solver_.set_hand(i, place.hand_deg[i]);
    std::ranges::fill(looks_, Look::not_yet);  // also where it went back: what is read lazily must be placed anew
    return solver_.pose(place.sticks, place.azimuth_deg);
}

bool Probe::looked(std::size_t family) {
    Look& look = looks_[family];
    if (look == Look::not_yet) look = families_[family]->look(solver_) ? Look::done : Look::nothing;
    return look == Look::done;
}

std::optional<double> Probe::value(std::size_t i) {
    if (!looked(owners_[i].family)) return std::nullopt;
    return families_[owners_[i].family]->value(owners_[i].own);
}

std::optional<double> Probe::value_below(std::size_t i, double enough) {
    if (!looked(owners_[i].family)) return std::nullopt;
    return families_[owners_[i].family]->value_below(owners_[i].own, enough);
}

bool Probe::move(const Chart& chart, const Ways& at) {
    if (const Place place = chart.place(at); !go(place)) {
        reset();
        if (!go(place)) {
            opening_.meet(place, solver_.head().description().mixing.cyclic_stick);
            return false;
        }
    }
    linkage::Workspace& ws = solver_.workspace();
    const linkage::Plan& plan = solver_.head().plan();
    if (!motion_.at(plan, ws)) return false;
    motion_.move_bodies(plan, ws);
    chart.rates(at, motion_.width(), rates_);
    const std::size_t bodies = ws.bodies.size();
    moment_.ws = &ws;
    moment_.ways = chart.ways();
    moment_.bodies.resize(chart.ways() * bodies);
    for (std::size_t w = 0; w < chart.ways(); ++w)
        motion_.along(&rates_[w * static_cast<std::size_t>(motion_.width())], &moment_.bodies[w * bodies]);
    return true;
}

std::optional<Piece> Probe::piece(const Chart& chart, const Ways& at, const Moment& moment, std::size_t i, int piece) {
    if (!knows_slopes(i)) return by_differences(chart, at, i);
    return family(i).piece(moment, owners_[i].own, piece);
}

std::optional<Piece> Probe::by_differences(const Chart& chart, const Ways& at, std::size_t i) {
    const auto margin = [&](const Ways& there) -> std::optional<double> {
        if (!go(chart.place(there))) return std::nullopt;
        const auto found = value(i);
        if (!found) return std::nullopt;
        return check(i).margin(*found);
    };
    constexpr double share = 1e-5;  // of a way's length
    Piece out;
    for (std::size_t w = 0; w < chart.ways(); ++w) {
        const double step = share * (chart.cuts(w).back() - chart.cuts(w).front());
        Ways more = at, less = at;
        more[w] += step, less[w] -= step;
        const auto high = margin(more), low = margin(less);
        if (!high || !low) return std::nullopt;
        out.slope[w] = (*high - *low) / (2 * step);
    }
    const auto here = margin(at);
    if (!here) return std::nullopt;
    out.margin = *here;
    return out;
}

void Probe::near_pieces(const Moment& at, std::size_t i, const Ways& half, double best, std::vector<int>& out) const {
    if (!knows_slopes(i)) return out.push_back(0);
    family(i).near_pieces(at, owners_[i].own, half, best, out);
}

}  // namespace swashwright::studies
