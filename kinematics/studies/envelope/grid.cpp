#include "kinematics/studies/envelope/grid.h"

#include <utility>

#include "kinematics/studies/envelope/rigid_motion.h"

namespace swashwright::studies {

Grid::Grid(const Chart& chart, const head::Model& model, Tells tells) : chart_(chart), model_(model), tells_(tells) {
    std::size_t count = 1;
    for (std::size_t w = chart.ways(); w-- > 0;) {
        counts_[w] = chart.cuts(w).size() - 1;
        strides_[w] = count;
        count *= counts_[w];
    }
    moments_.resize(count), closes_.resize(count);
    if (tells == Tells::parts)
        parts_.resize(model.parts().size() * count), parts_by_.resize(parts_.size() * chart.ways());
    else
        stands_.resize(count);
    middles_.resize(count), halves_.resize(count);
    for (std::size_t node = 0; node < count; ++node)
        for (std::size_t w = 0; w < chart.ways(); ++w) {
            const double low = chart.cuts(w)[place_along(node, w)], high = chart.cuts(w)[place_along(node, w) + 1];
            middles_[node][w] = (low + high) / 2;
            halves_[node][w] = (high - low) / 2;
        }
}

std::optional<Grid::Neighbour> Grid::neighbour(std::size_t node, std::size_t way, int sense) const {
    const std::size_t i = place_along(node, way), count = counts_[way];
    const bool at_end = sense > 0 ? i + 1 == count : i == 0;
    if (count < 2 || (at_end && !chart_.comes_round(way))) return std::nullopt;
    const std::size_t next = (i + count + static_cast<std::size_t>(sense + static_cast<int>(count))) % count;
    const std::size_t to = node - i * strides_[way] + next * strides_[way];
    return Neighbour{to, halves_[node][way] + halves_[to][way]};
}

void Grid::fill(Probe& probe, std::size_t slice) {
    probe.reset();
    for (std::size_t node = slice * strides_[0]; node < (slice + 1) * strides_[0]; ++node) {
        if (!probe.move(chart_, middle(node))) continue;
        closes_[node] = 1;
        if (tells_ == Tells::parts) {
            keep_parts(probe.moment(), node);
            continue;
        }
        stands_[node] = std::make_unique<linkage::Workspace>(probe.moment().stands());
        moments_[node] = probe.moment();
        moments_[node].ws = stands_[node].get();
    }
}

void Grid::keep_parts(const Moment& from, std::size_t node) {
    Moment& to = moments_[node];
    to.ways = from.ways;
    to.apart = closes_.size();
    to.parts = &parts_[node];
    to.parts_by = &parts_by_[node * from.ways];
    for (int i = 0; i < static_cast<int>(model_.parts().size()); ++i) {
        const std::size_t at = node + static_cast<std::size_t>(i) * to.apart;
        parts_[at] = model_.placement({i}, from.stands());
        for (std::size_t w = 0; w < from.ways; ++w) parts_by_[at * from.ways + w] = motion_of(model_, {i}, from, w);
    }
}

}  // namespace swashwright::studies
