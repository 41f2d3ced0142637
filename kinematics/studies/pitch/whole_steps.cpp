#include "kinematics/studies/pitch/whole_steps.h"

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/mean.h"

namespace swashwright::studies {
namespace {

constexpr int reach = 1;  // steps tried beyond the two whole numbers round the exact one

/// Tries every combination of whole steps near the exact changes.
class Roundings {
public:
    Roundings(const std::vector<double>& pitch_deg, const std::vector<double>& step_deg, const StepsWanted& wanted)
        : pitch_deg_(pitch_deg), step_deg_(step_deg), wanted_(wanted), steps_(pitch_deg.size(), 0) {
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
        std::vector<double> now = pitch_deg_;
        const double each = wanted_.each_step / static_cast<double>(now.size());
        double turned = 0;
        for (std::size_t k = 0; k < now.size(); ++k) {
            now[k] += step_deg_[k] * steps_[k];
            turned += std::abs(steps_[k]) * (1e-9 + each * std::abs(step_deg_[k]));
        }
        const auto [low, high] = std::ranges::minmax_element(now);
        return *high - *low + shift_counts * std::abs(mean(now) - wanted_.mean_deg) + turned;
    }
    void from(std::size_t k) {
        if (k == steps_.size()) {
            if (const double c = cost(); c < best_) best_ = c, best_steps_ = steps_;
            return;
        }
        const int low = static_cast<int>(std::floor((wanted_.mean_deg - pitch_deg_[k]) / step_deg_[k]));
        for (steps_[k] = low - reach; steps_[k] <= low + 1 + reach; ++steps_[k]) from(k + 1);
    }

    const std::vector<double>& pitch_deg_;
    const std::vector<double>& step_deg_;
    StepsWanted wanted_;
    double best_ = 0;
    std::vector<int> steps_, best_steps_;
};

}  // namespace

std::vector<int> whole_steps(const std::vector<double>& pitch_deg, const std::vector<double>& step_deg,
                             const StepsWanted& wanted) {
    if (pitch_deg.empty()) return {};
    return Roundings(pitch_deg, step_deg, wanted).search();
}

}  // namespace swashwright::studies
