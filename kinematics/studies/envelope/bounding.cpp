#include "kinematics/studies/envelope/bounding.h"

#include <algorithm>
#include <cmath>
#include <memory>

namespace swashwright::studies {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double at_least_of_widest = 0.15;  // of the most that slopes were seen to change anywhere: doubt everywhere
constexpr double least_within = 0.2;         // of the tolerance: nothing is told more closely
constexpr double smallest = 1.0 / 16;  // of the first cut: boxes where the loop does not close are not cut smaller

}  // namespace

Extreme Bounding::best() const {
    Extreme out = best_;
    const double least = std::min(left_, boxes_.empty() ? infinite : boxes_.top().least);
    out.within = begun_ ? std::max(least_within * finest_, out.margin - least) : infinite;
    return out;
}

void Bounding::take_least(const Probe& probe, Box& box, const Moment& at) const {
    if (!probe.smooth(check_, box.piece)) {
        box.least = std::max(box.least, box.value.margin - probe.fall(at, check_, box.half));
        return;
    }
    const std::size_t ways = grid_.chart().ways();
    box.least = std::max(box.least, box.curve.least(box.value, box.half, ways));
    if (box.least < best_.margin - finest_)
        box.least = std::max(box.least, box.curve.close_least(box.value, box.half, ways));
}

void Bounding::keep(Box box) {
    if (box.least >= best_.margin - finest_)
        left_ = std::min(left_, box.least);
    else
        boxes_.push(std::move(box));
}

/// Finds the piece's value in the middle; false where the loop does not close.
bool Bounding::evaluate(Probe& probe, Box& box) {
    ++places_;
    if (probe.knows_slopes(check_) && !probe.move(grid_.chart(), box.at)) return false;
    const auto value = probe.piece(grid_.chart(), box.at, probe.moment(), check_, box.piece);
    if (!value || !std::isfinite(value->margin)) return false;
    box.value = *value;
    box.known = true;
    if (value->margin < best_.margin) best_ = {0, value->margin, grid_.chart().place(box.at), 0};
    return true;
}

Curvature Bounding::seen_between(std::size_t node, const std::function<const Piece*(std::size_t)>& value) {
    const std::size_t ways = grid_.chart().ways();
    const Piece here = *value(node);
    Curvature out;
    for (std::size_t j = 0; j < ways; ++j) {
        if (!depends_[j]) continue;
        std::array<std::optional<Ways>, 2> sides;
        for (const int sense : {-1, 1}) {
            const auto next = grid_.neighbour(node, j, sense);
            const Piece* there = next ? value(next->node) : nullptr;
            if (!there) continue;
            Ways& change = sides[sense < 0 ? 0 : 1].emplace();
            for (std::size_t i = 0; i < ways; ++i) change[i] = sense * (there->slope[i] - here.slope[i]) / next->apart;
        }
        if (sides[0] || sides[1])
            out.see(j, sides[0] ? *sides[0] : *sides[1], sides[1] ? *sides[1] : *sides[0], sides[0] && sides[1], ways);
    }
    out.settle(ways);
    widest_.widen(out);
    return out;
}

/// What the check does not depend on stands still: one node stands for all others along that way. False for those.
bool Bounding::shrink(std::size_t node, Box& box) const {
    for (std::size_t w = 0; w < grid_.chart().ways(); ++w) {
        if (depends_[w]) continue;
        if (grid_.place_along(node, w) != 0) return false;
        box.half[w] = 0;
    }
    return true;
}

void Bounding::begin(Probe& probe, const std::stop_token& stop) {
    begun_ = true;
    for (std::size_t w = 0; w < grid_.chart().ways(); ++w) {
        const auto input = grid_.chart().input(w);
        depends_[w] = !input || probe.depends(check_, *input);
    }
    probe.reset();
    if (probe.pieces(check_) <= 2)
        for (int piece = 0; piece < probe.pieces(check_); ++piece) begin_piece(probe, piece);
    else
        begin_near_pieces(probe, stop);
}

void Bounding::begin_piece(Probe& probe, int piece) {
    const Chart& chart = grid_.chart();
    std::vector<std::optional<Piece>> values(grid_.size());
    for (std::size_t n = 0; n < grid_.size(); ++n) {
        const Moment* moment = grid_.moment(n);
        if (Box box; moment && shrink(n, box)) values[n] = probe.piece(chart, grid_.middle(n), *moment, check_, piece);
        if (values[n] && std::isnan(values[n]->margin)) left_ = -infinite;  // what it may be nobody knows
        if (values[n] && !std::isfinite(values[n]->margin)) return;         // no bound on this side
    }
    std::vector<Curvature> curves(grid_.size());
    for (std::size_t n = 0; n < grid_.size(); ++n)
        if (values[n]) curves[n] = seen_between(n, [&](std::size_t at) { return values[at] ? &*values[at] : nullptr; });
    for (std::size_t n = 0; n < grid_.size(); ++n) {
        Box box{grid_.middle(n), grid_.half(n), piece, {}, curves[n], -infinite, values[n].has_value()};
        if (!shrink(n, box)) continue;
        if (!box.known) {
            box.curve = widest_;
            boxes_.push(box);
            continue;
        }
        box.curve.doubt_at_least(widest_, at_least_of_widest, chart.ways());
        box.value = *values[n];
        if (box.value.margin < best_.margin) best_ = {0, box.value.margin, chart.place(box.at), 0};
        take_least(probe, box, *grid_.moment(n));
        keep(std::move(box));
    }
}

void Bounding::begin_near_pieces(Probe& probe, const std::stop_token& stop) {
    const Chart& chart = grid_.chart();
    std::vector<int> near;
    std::vector<std::vector<std::unique_ptr<const Piece>>> seen(static_cast<std::size_t>(probe.pieces(check_)));
    for (std::size_t n = 0; n < grid_.size() && !stop.stop_requested(); ++n) {
        Box box{grid_.middle(n), grid_.half(n), 0, {}, {}, -infinite, false};
        if (!shrink(n, box)) continue;
        const Moment* moment = grid_.moment(n);
        if (!moment) {
            box.piece = -1;
            boxes_.push(box);
            continue;
        }
        near.clear();
        probe.near_pieces(*moment, check_, box.half, best_.margin - finest_, near);
        for (const int piece : near) {
            Box one = box;
            one.piece = piece;
            const auto value = [&](std::size_t at) {
                auto& kept = seen[static_cast<std::size_t>(piece)];
                if (kept.empty()) kept.resize(grid_.size());
                const Moment* there = grid_.moment(at);
                if (there && !kept[at])
                    kept[at] = std::make_unique<Piece>(*probe.piece(chart, grid_.middle(at), *there, check_, piece));
                return kept[at].get();
            };
            one.value = *value(n);
            one.known = true;
            if (one.value.margin < best_.margin) best_ = {0, one.value.margin, chart.place(one.at), 0};
            if (probe.smooth(check_, piece)) one.curve = seen_between(n, value);
            take_least(probe, one, *moment);
            keep(std::move(one));
        }
    }
}

std::size_t Bounding::longest(const Box& box) const {
    std::size_t out = 0;
    double most = -1;
    for (std::size_t w = 0; w < grid_.chart().ways(); ++w) {
        const auto& cuts = grid_.chart().cuts(w);
        const double share = box.half[w] / (cuts.back() - cuts.front());
        if (share > most) most = share, out = w;
    }
    return out;
}

/// A box in whose middle the loop does not close: its parts may.
void Bounding::cut_unknown(Probe& probe, const Box& box) {
    const std::size_t way = longest(box);
    const auto& cuts = grid_.chart().cuts(way);
    if (box.half[way] < smallest * (cuts.back() - cuts.front()) / static_cast<double>(2 * (cuts.size() - 1))) return;
    for (const double side : {-0.5, 0.5}) {
        Box part = box;
        part.at[way] += side * box.half[way];
        part.half[way] /= 2;
        if (part.piece < 0) {
            ++places_;
            if (probe.move(grid_.chart(), part.at))
                find_pieces(probe, part);
            else
                boxes_.push(part);
            continue;
        }
        if (evaluate(probe, part)) {
            take_least(probe, part, probe.moment());
            keep(std::move(part));
        } else {
            boxes_.push(part);
        }
    }
}

/// Every piece that counts in a box in whose middle the probe stands.
void Bounding::find_pieces(Probe& probe, const Box& box) {
    std::vector<int> near;
    probe.near_pieces(probe.moment(), check_, box.half, best_.margin - finest_, near);
    for (const int piece : near) {
        Box one = box;
        one.piece = piece;
        one.value = *probe.piece(grid_.chart(), box.at, probe.moment(), check_, piece);
        one.known = true;
        one.curve = widest_;
        take_least(probe, one, probe.moment());
        keep(std::move(one));
    }
}

/// Where slopes keep their sign over the whole box, only the side to which they fall matters.
bool Bounding::draw_to_side(Probe& probe, const Box& box) {
    if (!probe.smooth(check_, box.piece)) return false;
    Box side = box;
    bool drawn = false;
    for (std::size_t w = 0; w < grid_.chart().ways(); ++w) {
        const double slope = box.value.slope[w];
        if (box.half[w] == 0 || std::abs(slope) <= box.curve.bend(w, box.half, grid_.chart().ways())) continue;
        side.at[w] -= std::copysign(box.half[w], slope);
        side.half[w] = 0;
        drawn = true;
    }
    if (!drawn) return false;
    if (!evaluate(probe, side)) return false;
    take_least(probe, side, probe.moment());
    keep(std::move(side));
    return true;
}

void Bounding::cut(Probe& probe, const Box& box) {
    const std::size_t ways = grid_.chart().ways();
    std::size_t way = longest(box);
    if (probe.smooth(check_, box.piece)) {
        double most = 0;
        for (std::size_t w = 0; w < grid_.chart().ways(); ++w)
            if (const double loose = box.half[w] * box.curve.bend(w, box.half, grid_.chart().ways()); loose > most)
                most = loose, way = w;
    }
    std::array<Box, 2> parts{box, box};
    std::array<Ways, 2> changes{};
    for (std::size_t p = 0; p < 2; ++p) {
        Box& part = parts[p];
        const double sense = p == 0 ? -1 : 1;
        part.half[way] /= 2;
        part.at[way] += sense * part.half[way];
        part.known = evaluate(probe, part);
        for (std::size_t i = 0; i < ways && part.known; ++i)
            changes[p][i] = sense * (part.value.slope[i] - box.value.slope[i]) / part.half[way];
        // Speeds, where they are asked for, are those of this moment.
        if (part.known && !probe.smooth(check_, part.piece)) take_least(probe, part, probe.moment());
    }
    for (std::size_t p = 0; p < 2; ++p) {
        Box& part = parts[p];
        if (!part.known) {
            boxes_.push(part);
            continue;
        }
        const bool both = parts[1 - p].known;
        part.curve.see_half(way, changes[p], both ? changes[1 - p] : Ways{}, ways);
        if (probe.smooth(check_, part.piece)) take_least(probe, part, probe.moment());
        keep(std::move(part));
    }
}

void Bounding::go_on(Probe& probe, double tolerance, std::size_t most_places, const std::stop_token& stop) {
    probe.reset();
    if (!begun_) begin(probe, stop);
    const std::size_t most = places_ + most_places;
    while (!boxes_.empty() && boxes_.top().least < best_.margin - tolerance && places_ < most &&
           !stop.stop_requested()) {
        const Box box = boxes_.top();
        boxes_.pop();
        if (!box.known)
            cut_unknown(probe, box);
        else if (!draw_to_side(probe, box))
            cut(probe, box);
    }
}

}  // namespace swashwright::studies
