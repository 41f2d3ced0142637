#include "kinematics/studies/envelope/grid.h"

#include <utility>

#include "kinematics/studies/envelope/rigid_motion.h"

namespace swashwright::studies {

Grid::Grid(const Chart& chart) : chart_(chart) {
    std::size_t count = 1;
    for (std::size_t w = chart.ways(); w-- > 0;) {
        counts_[w] = chart.cuts(w).size() - 1;
        strides_[w] = count;
        count *= counts_[w];
    }
    nodes_.resize(count);
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

void Grid::fill(const head::Model& model, Probe& probe, std::size_t slice) {
    probe.reset();
    for (std::size_t node = slice * strides_[0]; node < (slice + 1) * strides_[0]; ++node) {
        if (!probe.move(chart_, middle(node))) continue;
        auto filled = std::make_unique<Node>(Node{*probe.moment().ws, probe.moment()});
        filled->moment.ws = &filled->stands;
        keep_parts(model, filled->moment);
        nodes_[node] = std::move(filled);
    }
}

}  // namespace swashwright::studies
