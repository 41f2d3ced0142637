#include "kinematics/studies/envelope/bounding.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

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
    if (box.other) return take_least_of_larger(box);
    const std::size_t ways = grid_.chart().ways();
    box.least = std::max(box.least, box.curve.least(box.value, box.half, ways));
    if (box.least < best_.margin - finest_)
        box.least = std::max(box.least, box.curve.close_least(box.value, box.half, ways));
}

namespace {

/// The share of one piece, the rest being the other's, that is most nearly level in a box.
double level_share(const Piece& one, const Piece& other, const Ways& half) {
    double along = 0, square = 0;
    for (std::size_t w = 0; w < most_ways; ++w) {
        const double apart = half[w] * (one.slope[w] - other.slope[w]);
        along -= half[w] * other.slope[w] * apart;
        square += apart * apart;
    }
    return square > 0 ? std::clamp(along / square, 0.0, 1.0) : 0;
}

}  // namespace

/// The larger is nowhere less than the least of either, nor than that of any share of one with the rest of the other:
/// where they cross, one such share is nearly level. One that is nowhere the larger is forgotten.
void Bounding::take_least_of_larger(Box& box) const {
    const std::size_t ways = grid_.chart().ways();
    const double one = box.curve.least(box.value, box.half, ways),
                 other = box.other->curve.least(box.other->value, box.half, ways);
    box.least = std::max({box.least, one, other});
    if (box.least < best_.margin - finest_) {
        const double share = level_share(box.value, box.other->value, box.half);
        Piece level{std::lerp(box.other->value.margin, box.value.margin, share), {}};
        for (std::size_t w = 0; w < ways; ++w)
            level.slope[w] = std::lerp(box.other->value.slope[w], box.value.slope[w], share);
        box.least = std::max(box.least,
                             Curvature::between(box.curve, box.other->curve, share).close_least(level, box.half, ways));
    }
    // What a piece can fall it can rise.
    const double most = 2 * box.value.margin - one, other_most = 2 * box.other->value.margin - other;
    if (most <= other) {
        box.piece = 1 - box.piece;
        box.value = box.other->value;
        box.curve = box.other->curve;
    }
    if (most <= other || other_most <= one) box.other.reset();
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
    double margin = value->margin;
    if (box.other) {
        const Piece other = *probe.piece(grid_.chart(), box.at, probe.moment(), check_, 1 - box.piece);
        box.other = std::make_shared<const Other>(Other{other, box.other->curve});
        margin = std::max(margin, other.margin);
    } else if (probe.larger_of_two(check_) && margin < best_.margin) {
        margin = std::max(margin, probe.piece(grid_.chart(), box.at, probe.moment(), check_, 1 - box.piece)->margin);
    }
    if (margin < best_.margin) best_ = {0, margin, grid_.chart().place(box.at), 0};
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
    if (probe.larger_of_two(check_))
        begin_larger(probe);
    else if (probe.pieces(check_) <= 2)
        for (int piece = 0; piece < probe.pieces(check_); ++piece) begin_piece(probe, piece);
    else
        begin_near_pieces(probe, stop);
}

std::optional<Bounding::Look> Bounding::look(Probe& probe, int piece) {
    Look out{std::vector<std::optional<Piece>>(grid_.size()), std::vector<Curvature>(grid_.size())};
    for (std::size_t n = 0; n < grid_.size(); ++n) {
        const Moment* moment = grid_.moment(n);
        std::optional<Piece>& value = out.values[n];
        if (Box box; moment && shrink(n, box))
            value = probe.piece(grid_.chart(), grid_.middle(n), *moment, check_, piece);
        if (value && std::isnan(value->margin)) left_ = -infinite;        // what it may be nobody knows
        if (value && !std::isfinite(value->margin)) return std::nullopt;  // no bound on this side
    }
    const Curvature of_others = std::exchange(widest_, {});
    const auto value_at = [&](std::size_t at) { return out.values[at] ? &*out.values[at] : nullptr; };
    for (std::size_t n = 0; n < grid_.size(); ++n)
        if (out.values[n]) out.curves[n] = seen_between(n, value_at);
    out.widest = widest_;
    widest_.widen(of_others);
    return out;
}

void Bounding::begin_piece(Probe& probe, int piece) {
    const auto seen = look(probe, piece);
    if (!seen) return;
    for (std::size_t n = 0; n < grid_.size(); ++n) {
        Box box{grid_.middle(n), grid_.half(n), piece, {}, seen->curves[n], -infinite, seen->values[n].has_value()};
        if (!shrink(n, box)) continue;
        if (!box.known) {
            box.curve = widest_;
            boxes_.push(box);
            continue;
        }
        box.curve.doubt_at_least(seen->widest, at_least_of_widest, grid_.chart().ways());
        box.value = *seen->values[n];
        if (box.value.margin < best_.margin) best_ = {0, box.value.margin, grid_.chart().place(box.at), 0};
        take_least(probe, box, *grid_.moment(n));
        keep(std::move(box));
    }
}

void Bounding::begin_larger(Probe& probe) {
    const std::size_t ways = grid_.chart().ways();
    const std::array looks{look(probe, 0), look(probe, 1)};
    if (!looks[0] || !looks[1]) {
        left_ = -infinite;
        return;
    }
    for (std::size_t n = 0; n < grid_.size(); ++n) {
        const auto &one = looks[0]->values[n], &other = looks[1]->values[n];
        Box box{grid_.middle(n), grid_.half(n), 0, {}, widest_, -infinite, one && other};
        if (!shrink(n, box)) continue;
        box.other = std::make_shared<const Other>(Other{{}, widest_});
        if (!box.known) {
            boxes_.push(box);
            continue;
        }
        Other second{*other, looks[1]->curves[n]};
        second.curve.doubt_at_least(looks[1]->widest, at_least_of_widest, ways);
        box.value = *one;
        box.curve = looks[0]->curves[n];
        box.curve.doubt_at_least(looks[0]->widest, at_least_of_widest, ways);
        box.other = std::make_shared<const Other>(second);
        const double margin = std::max(one->margin, other->margin);
        if (margin < best_.margin) best_ = {0, margin, grid_.chart().place(box.at), 0};
        take_least(probe, box, *grid_.moment(n));
        keep(std::move(box));
    }
}

/// Pieces that may come `finest_` below the best; the others are left, as they cannot.
void Bounding::find_near(const Probe& probe, const Moment& at, const Ways& half, std::vector<int>& out) {
    const double enough = best_.margin - finest_;
    probe.near_pieces(at, check_, half, enough, out);
    left_ = std::min(left_, enough);
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
        find_near(probe, *moment, box.half, near);
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
    find_near(probe, probe.moment(), box.half, near);
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
        const std::size_t ways = grid_.chart().ways();
        if (box.half[w] == 0 || std::abs(slope) <= box.curve.bend(w, box.half, ways)) continue;
        if (box.other) {  // both must fall to the same side
            const double also = std::copysign(1, slope) * box.other->value.slope[w];
            if (also <= box.other->curve.bend(w, box.half, ways)) continue;
        }
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
        for (std::size_t w = 0; w < ways; ++w) {
            double bend = box.curve.bend(w, box.half, ways);
            if (box.other) bend = std::max(bend, box.other->curve.bend(w, box.half, ways));
            if (const double loose = box.half[w] * bend; loose > most) most = loose, way = w;
        }
    }
    std::array<Box, 2> parts{box, box};
    std::array<Ways, 2> changes{}, others{};
    for (std::size_t p = 0; p < 2; ++p) {
        Box& part = parts[p];
        const double sense = p == 0 ? -1 : 1;
        part.half[way] /= 2;
        part.at[way] += sense * part.half[way];
        part.known = evaluate(probe, part);
        for (std::size_t i = 0; i < ways && part.known; ++i)
            changes[p][i] = sense * (part.value.slope[i] - box.value.slope[i]) / part.half[way];
        for (std::size_t i = 0; i < ways && part.known && box.other; ++i)
            others[p][i] = sense * (part.other->value.slope[i] - box.other->value.slope[i]) / part.half[way];
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
        if (part.other) {
            Other seen = *part.other;
            seen.curve.see_half(way, others[p], both ? others[1 - p] : Ways{}, ways);
            part.other = std::make_shared<const Other>(seen);
        }
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
