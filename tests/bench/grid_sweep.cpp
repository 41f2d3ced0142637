#include "tests/bench/grid_sweep.h"

#include <algorithm>
#include <limits>
#include <numeric>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/envelope/polar.h"
#include "kinematics/studies/envelope/probe.h"
#include "kinematics/studies/envelope/search.h"
#include "kinematics/studies/envelope/share_out.h"

namespace swashwright::bench {

using namespace studies;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr int starts = 3;           // cells from which a check's extreme is sought
constexpr double disc_step = 1e-3;  // to which the largest cyclic is found

class GridSweep {
public:
    GridSweep(const head::Head& head, const Checkers& checkers, const EnvelopeOptions& options)
        : options_(options), workers_(workers_for(options.workers)) {
        for (int w = 0; w < workers_; ++w) probes_.emplace_back(head, checkers);
        out_.kind = head.description().kind;
        out_.mixing = head.description().mixing;
        out_.hands = hands_of(head);
        hand_places_ = hand_places(out_.hands);
        const bool tail = out_.kind == head::Kind::tail;
        if (tail) options_.cyclic_steps = options_.directions = 1;
        // The corners of a square are where its extremes are: they must be among the directions.
        if (!tail && out_.mixing.cyclic_stick == head::CyclicStick::square)
            options_.directions = (options_.directions + 7) / 8 * 8;
        const Probe& probe = probes_.front();
        for (std::size_t i = 0; i < probe.size(); ++i) out_.checks.push_back(probe.check(i));
        for (int i = 0; i <= options.collective_steps; ++i)
            out_.collective.push_back(2.0 * i / options.collective_steps - 1);
        for (int i = 0; i <= options_.cyclic_steps; ++i)
            out_.cyclic.push_back(static_cast<double>(i) / options_.cyclic_steps);
        const std::size_t cells = out_.collective.size() * out_.cyclic.size();
        out_.cells.assign(out_.checks.size(), std::vector<Extreme>(cells, {0, infinite, {}}));
        opens_.resize(cells);
        steps_ = {2.0 / options.collective_steps, 1.0 / options_.cyclic_steps, 360.0 / options_.directions,
                  360.0 / options.azimuths};
        for (const Hand& hand : out_.hands) steps_.hand_deg.push_back((hand.most_deg - hand.least_deg) / 4);
    }

    head::Result<Envelope> run() {
        share_out(workers_, out_.collective.size(), options_.stop,
                  [this](std::size_t w, std::size_t i) { sweep(probes_[w], i), done(out_.collective.size(), 0, 50); });
        worst_of_cells();
        if (options_.refine) {
            share_out(workers_, out_.checks.size(), options_.stop, [this](std::size_t w, std::size_t k) {
                refine(probes_[w], k), done(out_.checks.size(), 50, 35);
            });
            if (out_.kind == head::Kind::main) out_.discs.resize(out_.collective.size());
            share_out(workers_, out_.discs.size(), options_.stop, [this](std::size_t w, std::size_t i) {
                out_.discs[i] = largest(probes_[w], i), done(out_.discs.size(), 85, 15);
            });
        }
        if (options_.stop.stop_requested()) return tl::unexpected(head::Failure{"stopped", {}});
        for (const Probe& probe : probes_) out_.poses += probe.poses;
        return std::move(out_);
    }

private:
    std::size_t cell(std::size_t c, std::size_t r) const { return c * out_.cyclic.size() + r; }

    /// Part of the work is done: `parts` of this stage make `share` percent, from `base`.
    void done(std::size_t parts, int base, int share) {
        const std::size_t now = ++parts_done_;
        if (now == parts) parts_done_ = 0;
        if (options_.percent)
            *options_.percent = base + static_cast<int>(static_cast<std::size_t>(share) * now / parts);
    }

    /// Visits the places of the sweep at one collective and cyclic distance, until it is stopped.
    void all_round(double collective, double cyclic, int directions, const auto& visit) const {
        for (const auto& hand_deg : hand_places_)
            for (int d = 0; d < directions && !options_.stop.stop_requested(); ++d)
                for (int a = 0; a < options_.azimuths; ++a)
                    visit(Point{collective, cyclic, 360.0 * d / directions, 360.0 * a / options_.azimuths, hand_deg}
                              .place(out_));
    }

    void sweep(Probe& probe, std::size_t c) {
        probe.reset();
        for (std::size_t r = 0; r < out_.cyclic.size() && out_.inside(c, r); ++r) {
            const double cyclic = std::min(out_.cyclic[r], most_out(out_, out_.collective[c]));
            all_round(out_.collective[c], cyclic, r == 0 ? 1 : options_.directions,
                      [&](const Place& place) { see(probe, cell(c, r), place); });
        }
    }

    void see(Probe& probe, std::size_t at, const Place& place) {
        if (!probe.go(place)) {
            if (!opens_[at]) opens_[at] = place;
            return;
        }
        for (std::size_t k = 0; k < out_.checks.size(); ++k) keep_least(probe, k, place, out_.cells[k][at]);
    }

    void keep_least(Probe& probe, std::size_t k, const Place& place, Extreme& least) const {
        if (const auto value = probe.value(k))
            if (const double margin = out_.checks[k].margin(*value); margin < least.margin)
                least = {*value, margin, place};
    }

    void worst_of_cells() {
        for (const auto& cells : out_.cells)
            out_.worst.push_back(*std::ranges::min_element(cells, {}, &Extreme::margin));
    }

    void refine(Probe& probe, std::size_t k) {
        std::vector<std::size_t> order(opens_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::ranges::stable_sort(order, {}, [&](std::size_t at) { return out_.cells[k][at].margin; });
        Search search(probe, k, out_, false);
        for (std::size_t n = 0; n < starts && n < order.size(); ++n) {
            const Extreme& start = out_.cells[k][order[n]];
            if (start.margin == infinite) break;
            probe.reset();
            if (const auto found = search.from(point_of(start.place, out_), steps_);
                found && found->margin < out_.worst[k].margin)
                out_.worst[k] = *found;
        }
    }

    /// Least margin of check `k` at one collective and cyclic distance, sought from where a neighbouring cell has it.
    bool keeps(Probe& probe, std::size_t k, double collective, double cyclic, const Place& near) {
        Point start = point_of(near, out_);
        start.collective = collective;
        start.cyclic = cyclic;
        probe.reset();
        const auto found = Search(probe, k, out_, true).from(start, steps_);
        return found && found->margin >= 0;
    }

    /// A check that fails somewhere round one collective and cyclic distance, and where.
    std::optional<std::pair<std::size_t, Place>> failing(Probe& probe, double collective, double cyclic) {
        std::vector<Extreme> least(out_.checks.size(), {0, infinite, {}});
        probe.reset();
        all_round(collective, cyclic, options_.directions, [&](const Place& place) {
            if (!probe.go(place)) return;
            for (std::size_t k = 0; k < least.size(); ++k) keep_least(probe, k, place, least[k]);
        });
        for (std::size_t k = 0; k < least.size(); ++k)
            if (least[k].margin < 2 * out_.checks[k].close && !keeps(probe, k, collective, cyclic, least[k].place))
                return std::pair(k, least[k].place);
        return std::nullopt;
    }

    Disc largest(Probe& probe, std::size_t c) {
        const double collective = out_.collective[c];
        double most = head::most_cyclic_out(out_.mixing, collective);
        Disc disc;
        if (most < 0) return disc;
        const auto end = [&](std::optional<std::size_t> check, double cyclic) {
            most = cyclic;
            disc = {cyclic, check, !check};
        };
        const auto halve = [](auto&& holds, double low, double high) {
            while (high - low > disc_step) (holds((low + high) / 2) ? low : high) = (low + high) / 2;
            return low;
        };
        disc.cyclic = most;
        for (std::size_t r = 0; r < out_.cyclic.size() && out_.inside(c, r); ++r)
            if (const auto& place = opens_[cell(c, r)]) {
                if (r == 0) return {{}, {}, true};
                const auto closes = [&](double cyclic) {
                    Point p = point_of(*place, out_);
                    p.cyclic = cyclic;
                    probe.reset();
                    return probe.go(p.place(out_));
                };
                end({}, halve(closes, out_.cyclic[r - 1], std::min(out_.cyclic[r], most)));
                break;
            }
        for (std::size_t k = 0; k < out_.checks.size(); ++k)
            for (std::size_t r = 0; r < out_.cyclic.size() && out_.inside(c, r); ++r) {
                const double kept_to = r == 0 ? 0 : out_.cyclic[r - 1], cyclic = std::min(out_.cyclic[r], most);
                if (kept_to >= most) break;
                const Extreme& here = out_.cells[k][cell(c, r)];
                if (here.margin == infinite) break;
                // Between the sweep's places a margin can be a little less than the least that was seen.
                if (here.margin >= 2 * out_.checks[k].close) continue;
                const auto kept = [&](double x) { return keeps(probe, k, collective, x, here.place); };
                if (here.margin >= 0 && kept(cyclic)) continue;
                if (r == 0) return {{}, k, false};
                end(k, halve(kept, kept_to, cyclic));
                break;
            }
        // Where the sweep saw the least margin need not be where it is least at the disc's edge.
        while (disc.cyclic && disc.check && *disc.cyclic > disc_step && !options_.stop.stop_requested()) {
            const auto fails = failing(probe, collective, most);
            if (!fails) break;
            const auto kept = [&](double x) { return keeps(probe, fails->first, collective, x, fails->second); };
            end(fails->first, halve(kept, 0, most - disc_step));
        }
        return disc;
    }

    EnvelopeOptions options_;
    int workers_;
    std::vector<Probe> probes_;
    Envelope out_;
    std::vector<std::optional<Place>> opens_;  // of each cell, one place where a loop does not close
    Point steps_;
    std::vector<std::vector<double>> hand_places_;
    std::atomic<std::size_t> parts_done_ = 0;
};

}  // namespace

head::Result<Envelope> grid_sweep(const head::Head& head, const Checkers& checkers, const EnvelopeOptions& options) {
    return GridSweep(head, checkers, options).run();
}

}  // namespace swashwright::bench
