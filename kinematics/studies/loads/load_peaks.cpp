#include "kinematics/studies/loads/load_peaks.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/pitch/harmonics.h"

namespace swashwright::studies {

namespace {

constexpr int stick_steps = 8, directions = 12;
constexpr int halvings = 10;  // of the grid's steps: a thousandth of them is left

/// A place of the grid and between: main stick, direction of full cyclic (deg; none where it is centred), azimuth.
struct Spot {
    double stick = 0, direction_deg = 0, azimuth_deg = 0;
    bool cyclic = false;
};

class Seeker {
public:
    explicit Seeker(Flying& flying) : flying_(flying), head_(flying.head()) {
        const head::Description& d = head_.description();
        links_ = head_.model().rods().size();
        best_.resize(d.servos.size() + 2 * links_ + d.levers.size() + d.grips.size());
        spots_.resize(best_.size());
    }

    void look(const Spot& spot) {
        ++places;
        const std::vector<double>* sizes = at(spot);
        if (sizes == nullptr) {
            ++open;
            return;
        }
        for (std::size_t i = 0; i < best_.size(); ++i)
            if (larger((*sizes)[i], i)) take(i, (*sizes)[i], spot);
    }

    /// Uphill from the best place of load `i` so far.
    void climb(std::size_t i) {
        if (!(best_[i].value > 0)) return;
        std::array<double, 3> steps{1.0 / stick_steps, 180.0 / directions, 180.0 / turn_samples};
        for (int halving = 0; halving < halvings; ++halving) {
            for (std::size_t way = 0; way < steps.size(); ++way)
                for (const double sign : {-1.0, 1.0}) {
                    const Spot next = moved(spots_[i], way, sign * steps[way]);
                    if (const auto* sizes = at(next); sizes != nullptr && larger((*sizes)[i], i))
                        take(i, (*sizes)[i], next);
                }
            for (double& step : steps) step /= 2;
        }
    }

    LoadPeaks peaks() const {
        const head::Description& d = head_.description();
        auto from = best_.begin();
        const auto next = [&](std::size_t count) {
            std::vector<Peak> out(from, from + static_cast<std::ptrdiff_t>(count));
            from += static_cast<std::ptrdiff_t>(count);
            return out;
        };
        LoadPeaks out;
        out.horns = next(d.servos.size());
        out.pulls = next(links_);
        out.pushes = next(links_);
        out.levers = next(d.levers.size());
        out.grips = next(d.grips.size());
        out.places = places;
        out.open = open;
        return out;
    }

    std::size_t size() const { return best_.size(); }
    long places = 0, open = 0;

private:
    /// By more than rounding, so that of places that are equal by symmetry the first stands.
    bool larger(double size, std::size_t i) const { return size > best_[i].value * (1 + 1e-9) + 1e-9; }

    Spot moved(Spot spot, std::size_t way, double by) const {
        const double end = is_tail(head_.description()) ? 1 : std::min(1.0, head_.description().mixing.combined_limit);
        if (way == 0) spot.stick = std::clamp(spot.stick + by, -end, end);
        if (way == 1) spot.direction_deg += by;
        if (way == 2) spot.azimuth_deg += by;
        return spot;
    }

    head::Sticks sticks(const Spot& spot) const {
        const head::Description& d = head_.description();
        if (!spot.cyclic) return main_stick_at(d, spot.stick);
        const double out = std::max(0.0, head::most_cyclic_out(d.mixing, spot.stick));
        return head::sticks_at(d.mixing.cyclic_stick, spot.stick, out, spot.direction_deg);
    }

    /// Sizes of all loads there.
    const std::vector<double>* at(const Spot& spot) {
        const auto balance = flying_.at(sticks(spot), spot.azimuth_deg);
        if (!balance) return nullptr;
        sizes_.clear();
        for (const double moment : balance->horn_nmm) sizes_.push_back(std::abs(moment));
        for (const double sign : {1.0, -1.0})
            for (const head::LinkRod& rod : head_.model().rods())
                sizes_.push_back(sign * balance->force_n[static_cast<std::size_t>(rod.closure.index)]);
        sizes_.insert(sizes_.end(), balance->lever_nmm.begin(), balance->lever_nmm.end());
        for (const BladeMoment& moment : flying_.moments()) sizes_.push_back(1000 * std::abs(moment.total()));
        return &sizes_;
    }

    void take(std::size_t i, double value, const Spot& spot) {
        best_[i] = {value, {sticks(spot), within_turn(spot.azimuth_deg)}};
        spots_[i] = spot;
    }
    static double within_turn(double deg) { return deg - 360 * std::floor(deg / 360); }

    Flying& flying_;
    head::Head head_;
    std::size_t links_ = 0;
    std::vector<Peak> best_;
    std::vector<Spot> spots_;
    std::vector<double> sizes_;
};

}  // namespace

LoadPeaks load_peaks(Flying& flying, const Going& going) {
    const head::Description& d = flying.head().description();
    Seeker seeker(flying);
    const Going grid = going.part(0, 0.5), between = going.part(0.5, 1);
    for (int s = 0; s <= stick_steps; ++s) {
        grid.tell(static_cast<double>(s) / stick_steps);
        const double stick = -1 + 2.0 * s / stick_steps;
        if (!is_tail(d) && head::most_cyclic_out(d.mixing, stick) < 0) continue;
        for (int w = is_tail(d) ? directions : 0; w <= directions && !going.stopped(); ++w)
            for (int a = 0; a < turn_samples; ++a)
                seeker.look({stick, 360.0 * w / directions, 360.0 * a / turn_samples, w < directions});
    }
    for (std::size_t i = 0; i < seeker.size() && !going.stopped(); ++i) {
        between.tell(static_cast<double>(i) / static_cast<double>(seeker.size()));
        seeker.climb(i);
    }
    return seeker.peaks();
}

}  // namespace swashwright::studies
