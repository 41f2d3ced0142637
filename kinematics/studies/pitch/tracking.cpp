#include "kinematics/studies/pitch/tracking.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/pitch/turn_curve.h"
#include "kinematics/studies/pitch/turn_slopes.h"
#include "kinematics/studies/pitch/whole_steps.h"

namespace swashwright::studies {
namespace {

constexpr int samples = 72;

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
    std::vector<double> step_mm, step_deg;
    for (std::size_t k = 0; k < out.mean_deg.size(); ++k) {
        if (!(std::abs((*slopes)[k]) > 1e-3)) return tl::unexpected(dead_point());
        out.settings.push_back({upper_link(k), (target - out.mean_deg[k]) / (*slopes)[k], 0, 0, (*slopes)[k]});
        step_mm.push_back(link_step(*link_of(head.description(), upper_link(k))).mm);
        step_deg.push_back((*slopes)[k] * step_mm.back());
    }
    const std::vector<int> steps = whole_steps(out.mean_deg, step_deg, {.mean_deg = target});
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
