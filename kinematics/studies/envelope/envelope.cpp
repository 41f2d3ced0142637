#include "kinematics/studies/envelope/envelope.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/envelope/bounding.h"
#include "kinematics/studies/envelope/clearance.h"
#include "kinematics/studies/envelope/discs.h"
#include "kinematics/studies/envelope/least.h"
#include "kinematics/studies/envelope/servo_ends.h"
#include "kinematics/studies/envelope/share_out.h"

namespace swashwright::studies {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr int polish_halvings = 3;            // of a search within a cell of the map
constexpr double polish_gap_mm = 6;           // parts pass one another quickly: what gaps the search goes on from
constexpr double polish_share = 3;            // of what counts as close: cells with more margin show no difference
constexpr double coarsely = 20;               // the first bounds are so many times as wide as the last
constexpr std::size_t azimuths_of_gaps = 32;  // parts of the rotor's turn to begin with: gaps turn quickly into others
constexpr std::size_t first_places = 400, last_places = 6000;  // looked at for each check while bounding

/// How near to true a worst value is to be.
double tolerance_of(const Check& check) {
    return check.kind == CheckKind::dead_point ? 0.001 : 0.01;
}

class Study {
public:
    Study(const head::Head& head, const Checkers& checkers, const EnvelopeOptions& options)
        : head_(head), options_(options), workers_(workers_for(options.workers)) {
        probes_.reserve(static_cast<std::size_t>(workers_));
        for (int w = 0; w < workers_; ++w) probes_.emplace_back(head, checkers);
        out_.kind = head.description().kind;
        out_.mixing = head.description().mixing;
        out_.hands = hands_of(head);
        const bool tail = out_.kind == head::Kind::tail;
        if (tail) options_.cyclic_steps = options_.directions = 1;
        // The corners of a square are where its extremes are: they must be among the directions.
        if (!tail && out_.mixing.cyclic_stick == head::CyclicStick::square)
            options_.directions = (options_.directions + 15) / 16 * 16;
        round_ = {options_.directions, options_.azimuths, hand_places(out_.hands)};
        const Probe& probe = probes_.front();
        for (std::size_t i = 0; i < probe.size(); ++i) out_.checks.push_back(probe.check(i));
        for (int i = 0; i <= options.collective_steps; ++i)
            out_.collective.push_back(2.0 * i / options.collective_steps - 1);
        for (int i = 0; i <= options_.cyclic_steps; ++i)
            out_.cyclic.push_back(static_cast<double>(i) / options_.cyclic_steps);
        const std::size_t cells = out_.collective.size() * out_.cyclic.size();
        out_.cells.assign(out_.checks.size(), std::vector<Extreme>(cells, {0, infinite, {}}));
        opens_.resize(cells);
        const double apart = options_.refine ? 2 : 1;
        steps_ = {2.0 / options.collective_steps, 1.0 / options_.cyclic_steps, apart * 360.0 / options_.directions,
                  apart * 360.0 / options.azimuths};
        for (const Hand& hand : out_.hands) steps_.hand_deg.push_back((hand.most_deg - hand.least_deg) / 4);
    }

    head::Result<Envelope> run() {
        share_out(workers_, out_.collective.size(), options_.stop,
                  [this](std::size_t w, std::size_t i) { sweep(probes_[w], i), done(out_.collective.size(), 0, 30); });
        worst_of_cells();
        for (const auto& place : opens_) out_.open.push_back(place.has_value());
        if (options_.refine) visit_ends();
        find_opening();
        tell();
        if (options_.refine) bound_worst();
        if (options_.refine && out_.kind == head::Kind::main) {
            std::vector<Disc> discs(out_.collective.size());
            const DiscFinder finder(out_, opens_, round_, steps_, options_.stop);
            share_out(workers_, discs.size(), options_.stop, [&](std::size_t w, std::size_t i) {
                discs[i] = finder.largest(probes_[w], i), done(discs.size(), 85, 15);
            });
            out_.discs = std::move(discs);
        }
        if (options_.refine) put_between_on_map();
        if (options_.stop.stop_requested()) return tl::unexpected(was_stopped());
        for (const Probe& probe : probes_) out_.poses += probe.poses;
        return std::move(out_);
    }

private:
    std::size_t cell(std::size_t c, std::size_t r) const { return c * out_.cyclic.size() + r; }

    /// Part of the work is done: `parts` of this stage make `share` percent, from `base`.
    void done(std::size_t parts, int base, int share) {
        const std::size_t now = ++parts_done_;
        if (now == parts) parts_done_ = 0;
        tell_percent(options_.percent, base + static_cast<int>(static_cast<std::size_t>(share) * now / parts));
    }

    /// What is known so far.
    void tell() const {
        if (options_.so_far && !options_.stop.stop_requested()) options_.so_far(out_);
    }

    /// Every place must close. Where a search follows, checks are asked at every other direction and azimuth, and those
    /// that the rotor does not move at its first azimuth.
    void sweep(Probe& probe, std::size_t c) {
        probe.reset();
        const int stride = options_.refine ? 2 : 1;
        for (std::size_t r = 0; r < out_.cyclic.size() && out_.inside(c, r); ++r) {
            Round round = round_;
            if (r == 0) round.directions = 1;
            const std::size_t at = cell(c, r);
            round.visit(out_, out_.collective[c], cyclic_at(c, r), options_.stop,
                        [&](const Place& place, int direction, int azimuth) {
                            if (!probe.go(place)) {
                                if (!opens_[at]) opens_[at] = place;
                                return;
                            }
                            if (direction % stride == 0 && azimuth % stride == 0) see(probe, at, place, azimuth == 0);
                        });
            if (options_.refine) polish(probe, at);
        }
    }
    /// Where collective and cyclic share a limit the farthest that servos go may lie between the sweep's collectives.
    void visit_ends() {
        const double limit = out_.mixing.combined_limit;
        if (out_.kind == head::Kind::tail || limit >= 2) return;
        Probe& probe = probes_.front();
        for (const double end : {std::min(1.0, limit), std::max(0.0, limit - 1)})
            for (const double collective : {-end, end}) {
                probe.reset();
                round_.visit(out_, collective, most_out(out_, collective), options_.stop,
                             [&](const Place& place, int, int) {
                                 if (!probe.go(place)) opening_.meet(place, out_.mixing.cyclic_stick);
                             });
            }
    }
    double cyclic_at(std::size_t c, std::size_t r) const {
        return std::min(out_.cyclic[r], most_out(out_, out_.collective[c]));
    }

    void see(Probe& probe, std::size_t at, const Place& place, bool first_azimuth) {
        for (std::size_t k = 0; k < out_.checks.size(); ++k)
            if (first_azimuth || probe.depends(k, head_.parts().hub_input))
                keep_least(probe, out_.checks[k], k, place, out_.cells[k][at]);
    }

    /// Between the sweep's places.
    void polish(Probe& probe, std::size_t at) {
        for (std::size_t k = 0; k < out_.checks.size() && !options_.stop.stop_requested(); ++k) {
            Extreme& least = out_.cells[k][at];
            const bool gap = out_.checks[k].kind == CheckKind::clearance;
            if (!(gap ? least.margin < polish_gap_mm : share_of_close(out_.checks[k], least.margin) < polish_share))
                continue;
            Search search(probe, k, out_, true, polish_halvings);
            if (const auto found = search.from(point_of(least.place, out_), steps_);
                found && found->margin < least.margin)
                least = *found;
        }
        probe.reset();
    }

    void worst_of_cells() {
        for (const auto& cells : out_.cells)
            out_.worst.push_back(*std::ranges::min_element(cells, {}, &Extreme::margin));
    }

    /// Worst values of the whole envelope, at first roughly, then finely; told after either.
    void bound_worst() {
        const bool too_many_hands = 4 + out_.hands.size() > most_ways;
        const std::vector<Hand>& hands = out_.hands;
        Grid coarse(Chart(head_, hands), head_.model(), Grid::Tells::all_else);
        std::optional<Grid> fine;  // for gaps
        if (std::ranges::count(out_.checks, CheckKind::clearance, &Check::kind) > 0)
            fine.emplace(Chart(head_, hands, azimuths_of_gaps / (hands.empty() ? 1 : 2)), head_.model(),
                         Grid::Tells::parts);
        const std::size_t slices = too_many_hands ? 0 : coarse.slices() + (fine ? fine->slices() : 0);
        share_out(workers_, slices, options_.stop, [&](std::size_t w, std::size_t i) {
            const bool first = i < coarse.slices();
            (first ? coarse : *fine).fill(probes_[w], first ? i : i - coarse.slices());
            done(slices, 30, 5);
        });
        std::vector<std::unique_ptr<Bounding>> bounds(out_.checks.size());
        share_out(workers_, bounds.size(), options_.stop, [&](std::size_t w, std::size_t k) {
            seek(probes_[w], k);
            if (out_.worst[k].within > 0 && std::isfinite(out_.worst[k].margin) && !too_many_hands) {
                const Grid& grid = out_.checks[k].kind == CheckKind::clearance ? *fine : coarse;
                bounds[k] = std::make_unique<Bounding>(grid, k, out_.worst[k], tolerance_of(out_.checks[k]));
                bound(probes_[w], k, *bounds[k], coarsely * tolerance_of(out_.checks[k]), first_places);
            }
            done(bounds.size(), 35, 25);
        });
        find_opening();
        tell();
        share_out(workers_, bounds.size(), options_.stop, [&](std::size_t w, std::size_t k) {
            if (bounds[k] && !bounds[k]->done(tolerance_of(out_.checks[k])))
                bound(probes_[w], k, *bounds[k], tolerance_of(out_.checks[k]), last_places);
            done(bounds.size(), 60, 25);
        });
        find_opening();
        tell();
    }

    /// From the worst cell downhill.
    void seek(Probe& probe, std::size_t k) {
        Extreme& worst = out_.worst[k];
        if (!std::isfinite(worst.margin)) return;
        if (probe.only_servo(k) >= 0) {
            std::vector<double> neutral;
            for (const Hand& hand : out_.hands) neutral.push_back(hand.neutral_deg);
            if (const auto proved = proved_worst(head_, probe, k, neutral)) {
                worst = *proved;
                return;
            }
        }
        if (is_lower_bound(out_.checks[k], worst.value)) {  // more is not told
            worst.value = far_mm_of(out_.checks[k]);
            worst.margin = out_.checks[k].margin(worst.value);
            return;
        }
        probe.reset();
        if (const auto found = Search(probe, k, out_, false).from(point_of(worst.place, out_), steps_);
            found && found->margin < worst.margin)
            worst = *found;
    }

    void bound(Probe& probe, std::size_t k, Bounding& bounding, double tolerance, std::size_t places) {
        bounding.go_on(probe, tolerance, places, options_.stop);
        Extreme& worst = out_.worst[k];
        if (Extreme best = bounding.best(); best.margin < worst.margin) {
            probe.reset();
            if (const auto found = Search(probe, k, out_, false).from(point_of(best.place, out_), steps_))
                if (found->margin <= best.margin) best = *found;
            probe.reset();
            if (probe.go(best.place))
                if (const auto value = probe.value(k)) worst = {*value, out_.checks[k].margin(*value), best.place};
            bounding.improve(worst);
        }
        const Extreme best = bounding.best();
        worst.within = worst.margin - (best.margin - best.within);
        put_on_map(k);
    }

    /// A worst place that lies in a cell of the map is told there too.
    void put_on_map(std::size_t k) {
        constexpr double near = 1e-6;
        const Extreme& worst = out_.worst[k];
        const Point point = point_of(worst.place, out_);
        for (std::size_t c = 0; c < out_.collective.size(); ++c)
            for (std::size_t r = 0; r < out_.cyclic.size() && out_.inside(c, r); ++r)
                if (std::abs(point.collective - out_.collective[c]) < near &&
                    std::abs(point.cyclic - cyclic_at(c, r)) < near && worst.margin < out_.cells[k][cell(c, r)].margin)
                    out_.cells[k][cell(c, r)] = {worst.value, worst.margin, worst.place};
    }

    /// A worst place between the map's cells is told in the nearest of them. Not before discs were found: they take a
    /// cell's values for those of its own sticks.
    void put_between_on_map() {
        const auto nearest_of = [](const std::vector<double>& list, double to) {
            const auto off = [to](double x) { return std::abs(x - to); };
            return static_cast<std::size_t>(std::ranges::min_element(list, {}, off) - list.begin());
        };
        for (std::size_t k = 0; k < out_.checks.size(); ++k) {
            if (!std::isfinite(out_.worst[k].margin)) continue;
            const Point point = point_of(out_.worst[k].place, out_);
            const std::size_t c = nearest_of(out_.collective, point.collective);
            std::size_t r = nearest_of(out_.cyclic, point.cyclic);
            while (r > 0 && !out_.inside(c, r)) --r;
            Extreme& here = out_.cells[k][cell(c, r)];
            if (out_.inside(c, r) && out_.worst[k].margin < here.margin) here = out_.worst[k];
        }
    }

    /// The nearest of those met so far.
    void find_opening() {
        for (const auto& place : opens_)
            if (place) opening_.meet(*place, out_.mixing.cyclic_stick);
        for (const Probe& probe : probes_) opening_.meet(probe.opening(), out_.mixing.cyclic_stick);
        out_.opens = opening_.place();
        if (!out_.opens) return;
        const auto why = head_.pose(out_.opens->sticks, out_.opens->azimuth_deg, out_.opens->hand_deg);
        out_.opens_message = why ? std::string() : why.error().message;
    }

    const head::Head& head_;
    EnvelopeOptions options_;
    int workers_;
    std::vector<Probe> probes_;
    Envelope out_;
    std::vector<std::optional<Place>> opens_;  // of each cell, one place where a loop does not close
    Opening opening_;
    Point steps_;
    Round round_;
    std::atomic<std::size_t> parts_done_ = 0;
};

}  // namespace

bool Envelope::inside(std::size_t collective_index, std::size_t cyclic_index) const {
    const double most = most_out(*this, collective[collective_index]);
    return cyclic_index == 0 ? most >= 0 : cyclic[cyclic_index - 1] < most;
}

Nearest nearest(const Envelope& envelope, std::size_t collective_index, std::size_t cyclic_index) {
    const std::size_t cell = collective_index * envelope.cyclic.size() + cyclic_index;
    if (envelope.open[cell]) return {-2, std::nullopt};
    Nearest out;
    for (std::size_t k = 0; k < envelope.checks.size(); ++k) {
        const double share = share_of_close(envelope.checks[k], envelope.cells[k][cell].margin);
        if (!out.check || share < out.share) out = {share, k};
    }
    out.share = std::clamp(out.share, -2.0, 3.0);
    return out;
}

double share_of_close(const Check& check, double margin) {
    return margin / (check.close > 0 ? check.close : 1);
}

CheckState state_of(const Check& check, double margin) {
    return margin < 0 ? CheckState::fail : margin < check.close ? CheckState::close : CheckState::pass;
}

const char* state_word(const Check& check, double margin) {
    switch (state_of(check, margin)) {
        case CheckState::fail:
            return "fail";
        case CheckState::close:
            return "close";
        case CheckState::pass:
            break;
    }
    return "pass";
}

head::Result<Envelope> envelope(const head::Head& head, const Checkers& checkers, const EnvelopeOptions& options) {
    if (head.neutral_failure()) return tl::unexpected(*head.neutral_failure());
    return Study(head, checkers, options).run();
}

}  // namespace swashwright::studies
