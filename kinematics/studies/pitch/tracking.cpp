#include "kinematics/studies/pitch/tracking.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/pitch/turn_curve.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {
namespace {

constexpr int samples = 72;
constexpr double shift_counts = 0.2;  // a trim takes out a shift of the mean, nothing but a link takes out a split
constexpr int reach = 1;              // steps tried beyond the two whole numbers round the exact one

double split(const std::vector<double>& values) {
    const auto [low, high] = std::ranges::minmax_element(values);
    return *high - *low;
}

std::vector<double> means(const TurnCurve& curve) {
    std::vector<double> out;
    for (const BladeTurn& blade : curve.blades) out.push_back(blade.mean_deg);
    return out;
}

/// Mean over a turn of each blade's pitch by its own upper link, deg per mm; exact at every sample.
std::optional<std::vector<double>> mean_slopes(const head::Head& head, const head::Sticks& sticks) {
    std::vector<head::Number> errors;
    for (const head::Number& number : head::numbers(head.description()))
        if (number.kind == head::NumberKind::upper_error) errors.push_back(number);
    const auto turn = turn_slopes(head, sticks, errors, turn_azimuths(samples));
    if (!turn) return std::nullopt;
    const Eigen::VectorXd own = turn->mean_slopes().diagonal();
    return std::vector<double>(own.begin(), own.end());
}

BladePair compare(const TurnCurve& curve, int first, int second) {
    const auto& a = curve.blades[static_cast<std::size_t>(first)];
    const auto& b = curve.blades[static_cast<std::size_t>(second)];
    BladePair out{first, second, b.mean_deg - a.mean_deg, 0, 0, {}};
    const std::size_t count = curve.azimuth_deg.size(), apart = count / curve.blades.size();
    for (std::size_t i = 0; i < count; ++i) {  // i: the place on the disc; a blade is there when blade 1 is behind it
        const auto when = [&](int blade) { return (i + count - static_cast<std::size_t>(blade) * apart) % count; };
        const double difference = b.pitch_deg[when(second)] - a.pitch_deg[when(first)];
        if (std::abs(difference) > std::abs(out.largest_deg) + 1e-9) {
            out.largest_deg = difference;
            out.largest_at_deg = curve.azimuth_deg[i];
        }
    }
    return out;
}

/// Tries every combination of whole steps near the exact changes.
class Roundings {
public:
    Roundings(const std::vector<double>& mean_deg, const std::vector<LinkSetting>& settings,
              const std::vector<double>& step_mm)
        : mean_deg_(mean_deg),
          settings_(settings),
          step_mm_(step_mm),
          target_(mean(mean_deg)),
          steps_(mean_deg.size(), 0) {
        // Doing nothing comes first, so that links are turned only where it gains something.
        best_steps_ = steps_;
        best_ = cost();
    }

    std::vector<int> search() {
        from(0);
        return best_steps_;
    }

private:
    double cost() const {
        std::vector<double> now = mean_deg_;
        int turned = 0;
        for (std::size_t k = 0; k < now.size(); ++k) {
            now[k] += settings_[k].deg_per_mm * step_mm_[k] * steps_[k];
            turned += std::abs(steps_[k]);
        }
        return split(now) + shift_counts * std::abs(mean(now) - target_) + 1e-9 * turned;
    }
    void from(std::size_t k) {
        if (k == steps_.size()) {
            if (const double c = cost(); c < best_) best_ = c, best_steps_ = steps_;
            return;
        }
        const int low = static_cast<int>(std::floor(settings_[k].exact_mm / step_mm_[k]));
        for (steps_[k] = low - reach; steps_[k] <= low + 1 + reach; ++steps_[k]) from(k + 1);
    }

    const std::vector<double>& mean_deg_;
    const std::vector<LinkSetting>& settings_;
    const std::vector<double>& step_mm_;
    double target_, best_ = 0;
    std::vector<int> steps_, best_steps_;
};

head::PartName upper_link(std::size_t blade) {
    return {head::Role::upper_link, static_cast<int>(blade)};
}

/// Upper link k ends at blade k's arm.
bool has_own_links(const head::Description& d) {
    const auto blades = head::count_of(d, head::Role::blade);
    if (head::count_of(d, head::Role::upper_link) != blades) return false;
    for (std::size_t k = 0; k < blades; ++k)
        if ((*ends_of(d, upper_link(k)))[1] != head::arm_ball(k)) return false;
    return true;
}

head::Failure dead_point() {
    return {
        "a blade stands at a dead point somewhere in the turn: its link has no hold on it; bring the pitch nearer zero",
        {}};
}

}  // namespace

head::Result<Tracking> tracking(const head::Head& head, const head::Sticks& sticks) {
    const std::size_t links = head::count_of(head.description(), head::Role::upper_link);
    const int blades = head.description().rotor.blades;
    if (static_cast<int>(links) != blades)
        return tl::unexpected(head::Failure{
            fmt::format(
                "tracking turns the upper link of each blade, and this head has {} upper links for {} blades; ask "
                "sensitivity what moves them",
                links, blades),
            {}});
    const auto curve = turn_curve(head, sticks, samples);
    if (!curve) return tl::unexpected(curve.error());
    Tracking out{sticks, means(*curve), {}, {}, {}, curve->split_deg(), 0, 0, blade_numbers(head.description()), {}};
    out.flap = flap(out.blade, head.description().rotor.head_speed_rpm);
    for (int i = 0; i < blades; ++i)
        for (int j = i + 1; j < blades; ++j) {
            out.pairs.push_back(compare(*curve, i, j));
            if (out.flap) out.pairs.back().tip_mm = out.flap->tip_mm_per_deg * out.pairs.back().mean_deg;
        }
    if (!has_own_links(head.description())) {
        out.after_deg = out.mean_deg;
        out.split_after_deg = out.split_deg;
        return out;
    }
    const auto slopes = mean_slopes(head, sticks);
    if (!slopes) return tl::unexpected(dead_point());
    const double target = mean(out.mean_deg);
    std::vector<double> step_mm;
    for (std::size_t k = 0; k < out.mean_deg.size(); ++k) {
        if (!(std::abs((*slopes)[k]) > 1e-3)) return tl::unexpected(dead_point());
        out.settings.push_back({upper_link(k), (target - out.mean_deg[k]) / (*slopes)[k], 0, 0, (*slopes)[k]});
        step_mm.push_back(link_step(*link_of(head.description(), upper_link(k))).mm);
    }
    const std::vector<int> steps = Roundings(out.mean_deg, out.settings, step_mm).search();
    head::Description set = head.description();
    for (std::size_t k = 0; k < steps.size(); ++k) {
        out.settings[k].steps = steps[k];
        out.settings[k].change_mm = steps[k] * step_mm[k];
        link_of(set, upper_link(k))->length_mm += out.settings[k].change_mm;
    }
    const auto after = head::Head::build(set);
    if (!after) return tl::unexpected(after.error());
    const auto turned = turn_curve(*after, sticks, samples);
    if (!turned) return tl::unexpected(turned.error());
    out.after_deg = means(*turned);
    out.split_after_deg = turned->split_deg();
    out.mean_shift_deg = mean(out.after_deg) - target;
    return out;
}

}  // namespace swashwright::studies
