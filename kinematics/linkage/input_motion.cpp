#include "kinematics/linkage/input_motion.h"

#include <algorithm>

namespace swashwright::linkage {

InputMotion::InputMotion(const Plan& plan)
    : linearised_(plan),
      width_(even(static_cast<int>(plan.inputs().size()))),
      block_of_(plan.description().bodies().size(), -1),
      moved_(block_of_.size(), 1),
      anew_(block_of_.size(), 0),
      rates_anew_(plan.blocks().size(), 1),
      rates_(4 * block_of_.size() * static_cast<std::size_t>(width_)),
      spins_(3 * block_of_.size() * static_cast<std::size_t>(width_)),
      drifts_(spins_.size()) {
    for (std::size_t i = 0; i < plan.blocks().size(); ++i)
        for (const int joint : plan.blocks()[i].joints)
            block_of_[static_cast<std::size_t>(joint)] = static_cast<int>(i);
    for (std::size_t i = 0; i < plan.inputs().size(); ++i)
        rates_[static_cast<std::size_t>(4 * plan.inputs()[i].index * width_) + i] = 1;
}

bool InputMotion::at(const Plan& plan, Workspace& ws) {
    const bool taken = linearised_.at(plan, ws);
    for (std::size_t b = 0; b < moved_.size(); ++b)
        moved_[b] |= static_cast<char>(linearised_.moved(static_cast<int>(b)));
    if (!taken) return false;
    linearised_.forward(rates_.data(), width_, known_);
    for (std::size_t i = 0; i < rates_anew_.size(); ++i) rates_anew_[i] |= known_.anew[i];
    return true;
}

void InputMotion::move_bodies(const Plan& plan, const Workspace& ws) {
    with_width(width_, [&](auto w) {
        for (std::size_t b = 1; b < moved_.size(); ++b) {
            const int parent = plan.body(static_cast<int>(b)).parent;
            anew_[b] = moved_[b] || (block_of_[b] >= 0 && rates_anew_[static_cast<std::size_t>(block_of_[b])]) ||
                       (parent > 0 && anew_[static_cast<std::size_t>(parent)]);
            if (anew_[b]) move<decltype(w)::value>(plan, ws, static_cast<int>(b));
        }
    });
    std::fill(moved_.begin(), moved_.end(), 0);
    std::fill(rates_anew_.begin(), rates_anew_.end(), 0);
}

void InputMotion::along(const double* rates, RigidRates* out) const {
    with_width(width_, [&](auto w) {
        const int width = decltype(w)::value ? decltype(w)::value : width_;
        const auto sum = [&](const double* by) {
            double even = 0, odd = 0;
            for (int s = 0; s < width; s += 2) even += rates[s] * by[s], odd += rates[s + 1] * by[s + 1];
            return even + odd;
        };
        const double *spin = spins_.data(), *drift = drifts_.data();
        for (std::size_t b = 0; b < moved_.size(); ++b)
            for (int i = 0; i < 3; ++i, spin += width, drift += width) {
                out[b].spin[i] = sum(spin);
                out[b].drift[i] = sum(drift);
            }
    });
}

/// As `move_body` has it, for all inputs.
template <int W>
void InputMotion::move(const Plan& plan, const Workspace& ws, int body) {
    const int width = W ? W : width_;
    const Plan::BodyPlan& at = plan.body(body);
    const Placement& frame = ws.frames[body];
    const auto place = [&](std::vector<double>& of, int b) { return &of[static_cast<std::size_t>(3 * b * width)]; };
    const double* const parent_spin = place(spins_, at.parent);
    const double* const parent_drift = place(drifts_, at.parent);
    double *const spin = place(spins_, body), *const drift = place(drifts_, body);
    const double* const rate = &rates_[static_cast<std::size_t>(4 * body * width)];
    const bool slides = at.joint == Joint::prismatic || at.joint == Joint::slide_and_ball;
    // What carries the body's origin: what it has slid too turns with the parent.
    const Vec3 arm = (slides ? ws.bodies[body].origin : frame.origin) - ws.bodies[at.parent].origin;
    const Vec3 axis = frame.turn.col(2);
    for (int s = 0; s < width; ++s) {
        const double x = parent_spin[s], y = parent_spin[width + s], z = parent_spin[2 * width + s];
        drift[s] = parent_drift[s] + y * arm.z() - z * arm.y();
        drift[width + s] = parent_drift[width + s] + z * arm.x() - x * arm.z();
        drift[2 * width + s] = parent_drift[2 * width + s] + x * arm.y() - y * arm.x();
        spin[s] = x, spin[width + s] = y, spin[2 * width + s] = z;
    }
    for (int i = 0; i < 3; ++i) {
        if (slides) add_times<W>(drift + i * width, axis[i], rate, width);
        if (at.joint == Joint::revolute) add_times<W>(spin + i * width, axis[i], rate, width);
        if (at.joint == Joint::ball) add_times<W>(spin + i * width, 1, rate + i * width, width);
        if (at.joint == Joint::slide_and_ball) add_times<W>(spin + i * width, 1, rate + (1 + i) * width, width);
    }
}

}  // namespace swashwright::linkage
