#include "kinematics/studies/pitch/highest.h"

#include <algorithm>
#include <numbers>
#include <vector>

namespace swashwright::studies {

namespace {

/// Between `low` and `high`, where there is one hill. 24 steps leave 1e-5 of the width, and a hill is flat at its top.
std::optional<Highest> golden(const std::function<std::optional<double>(double)>& of, double low, double high) {
    constexpr double ratio = 1 / std::numbers::phi;
    constexpr int steps = 24;
    const auto look = [&](double at) -> std::optional<Highest> {
        const auto value = of(at);
        return value ? std::optional(Highest{at, *value}) : std::nullopt;
    };
    auto left = look(high - ratio * (high - low)), right = look(low + ratio * (high - low));
    for (int i = 0; i < steps && left && right; ++i) {
        if (left->value > right->value) {
            high = right->at;
            right = left;
            left = look(high - ratio * (high - low));
        } else {
            low = left->at;
            left = right;
            right = look(low + ratio * (high - low));
        }
    }
    if (!left || !right) return std::nullopt;
    return left->value > right->value ? left : right;
}

}  // namespace

std::optional<Highest> highest(const std::function<std::optional<double>(double)>& of, double from, double to,
                               int intervals) {
    std::vector<Highest> samples;
    const double step = (to - from) / intervals;
    for (int i = 0; i <= intervals; ++i) {
        const double at = from + i * step;
        const auto value = of(at);
        if (!value) return std::nullopt;
        samples.push_back({at, *value});
    }
    Highest best = *std::ranges::max_element(samples, {}, &Highest::value);
    const double seen = best.value;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const Highest& before = samples[i > 0 ? i - 1 : 0];
        const Highest& after = samples[std::min(i + 1, samples.size() - 1)];
        const double here = samples[i].value, rise = 2 * here - before.value - after.value;
        // A parabola through the three rises at most an eighth of `rise` above the middle one.
        if (here < before.value || here < after.value || here + rise < seen || rise < 1e-12) continue;
        const auto found = golden(of, before.at, after.at);
        if (!found) return std::nullopt;
        if (found->value > best.value) best = *found;
    }
    return best;
}

}  // namespace swashwright::studies
