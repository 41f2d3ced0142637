#include "kinematics/studies/pitch/tolerance_samples.h"

#include <algorithm>
#include <atomic>
#include <optional>
#include <thread>

#include "kinematics/head/lane_solver.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/answer/dice.h"
#include "kinematics/studies/pitch/harmonics.h"

namespace swashwright::studies {

namespace {

constexpr int azimuths = turn_samples;  // of each head: one that opens in part of a turn cannot be assembled

/// One sample's deviations in units of each tolerance. Seeded by its own number, so that workers may take any.
void draw_sample(std::uint64_t seed, int sample, Eigen::VectorXd& out) {
    Dice dice(seed ^ Dice(static_cast<std::uint64_t>(sample)).next());
    for (double& v : out) v = dice.between(-1, 1);
}

/// Mean pitch of each blade over a turn; false where the head cannot be posed.
bool mean_pitch(const head::Head& head, const head::Sticks& sticks, Eigen::Ref<Eigen::VectorXd> mean) {
    if (head.neutral_failure()) return false;
    head::Solver solver(head);
    mean.setZero();
    for (int a = 0; a < azimuths; ++a) {
        const double azimuth_deg = 360.0 * a / azimuths;
        if (!solver.pose(sticks, azimuth_deg)) {
            solver.reset();  // another way there may do
            if (!solver.pose(sticks, azimuth_deg)) return false;
        }
        for (Eigen::Index k = 0; k < mean.size(); ++k) mean[k] += solver.pitch_deg(static_cast<int>(k)) / azimuths;
    }
    return true;
}

/// The same of several heads in lanes, `to(lane)` a column for each. The lanes of `set` in which all poses close.
template <class Column>
head::LaneSet mean_pitch(head::LaneHeads& heads, head::LaneSet set, const head::Sticks& sticks, Column&& to) {
    set &= heads.start();
    const auto blades = static_cast<int>(heads.head().description().grips.size());
    for (int lane = 0; lane < head::lanes; ++lane)
        if (set >> lane & 1U) to(lane).setZero();
    for (int a = 0; a < azimuths && set; ++a) {
        set &= heads.pose(sticks, 360.0 * a / azimuths);
        for (int k = 0; k < blades; ++k) {
            const head::LaneValues pitch_deg = heads.pitch_deg(k);
            for (int lane = 0; lane < head::lanes; ++lane)
                if (set >> lane & 1U) to(lane)[k] += pitch_deg[lane] / azimuths;
        }
    }
    return set;
}

/// One worker: draws heads and poses them.
class Sampler {
public:
    Sampler(const head::Head& head, const head::Description& base, const ToleranceRequest& request,
            std::span<const double> plus_minus)
        : base_(base),
          request_(request),
          plus_minus_(plus_minus),
          deviation_(static_cast<Eigen::Index>(plus_minus.size())),
          drawn_(base) {
        if (auto heads = head::LaneHeads::make(head)) heads_ = std::move(*heads);
    }

    /// Samples `first` up to `last`, at most as many as there are lanes: mean pitch and the linear model's into their
    /// columns, and whether the head can be posed.
    void run(int first, int last, const Eigen::VectorXd& nominal, const Eigen::MatrixXd& slopes, Samples& out,
             std::vector<char>& good) {
        head::LaneSet set = 0;
        for (int i = first; i < last; ++i) {
            describe(i);
            out.linear.col(i) = nominal + slopes * deviation_;
            if (heads_ && heads_->set(i - first, drawn_)) set |= 1U << (i - first);
        }
        if (heads_)
            set = mean_pitch(*heads_, set, request_.sticks, [&](int lane) { return out.real.col(first + lane); });
        for (int i = first; i < last; ++i) {
            char& is_good = good[static_cast<std::size_t>(i)];
            is_good = set >> (i - first) & 1U;
            if (is_good) continue;
            describe(i);
            const auto head = head::Head::build(drawn_);
            is_good = head && mean_pitch(*head, request_.sticks, out.real.col(i));
        }
    }

private:
    void describe(int sample) {
        draw_sample(request_.seed, sample, deviation_);
        for (std::size_t p = 0; p < plus_minus_.size(); ++p) {
            const auto i = static_cast<Eigen::Index>(p);
            deviation_[i] *= plus_minus_[p];
            const head::Number& number = request_.tolerances[p].number;
            head::value(drawn_, number) = head::value(base_, number) + deviation_[i];
        }
    }

    const head::Description& base_;
    const ToleranceRequest& request_;
    std::span<const double> plus_minus_;
    Eigen::VectorXd deviation_;
    head::Description drawn_;
    std::optional<head::LaneHeads> heads_;
};

}  // namespace

Samples sampled(const head::Head& head, const head::Description& base, const ToleranceRequest& request,
                std::span<const double> plus_minus, const Eigen::VectorXd& nominal, const Eigen::MatrixXd& slopes,
                const Going& going) {
    const auto blades = nominal.size();
    Samples out{Eigen::MatrixXd(blades, request.samples), Eigen::MatrixXd(blades, request.samples), 0};
    std::vector<char> good(static_cast<std::size_t>(request.samples), 0);
    std::atomic<int> next = 0;
    const auto work = [&] {
        Sampler sampler(head, base, request, plus_minus);
        while (!going.stopped()) {
            const int first = next.fetch_add(head::lanes);
            going.tell(static_cast<double>(first) / request.samples);
            if (first >= request.samples) return;
            sampler.run(first, std::min(first + head::lanes, request.samples), nominal, slopes, out, good);
        }
    };
    {
        const int count =
            request.workers > 0 ? request.workers : static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
        std::vector<std::jthread> workers;
        for (int w = 1; w < count; ++w) workers.emplace_back(work);
        work();
    }  // joined here
    Eigen::Index kept = 0;
    for (int i = 0; i < request.samples; ++i) {
        if (!good[static_cast<std::size_t>(i)]) continue;
        out.real.col(kept) = out.real.col(i).eval();
        out.linear.col(kept++) = out.linear.col(i).eval();
    }
    out.failed = request.samples - static_cast<int>(kept);
    out.real.conservativeResize(blades, kept);
    out.linear.conservativeResize(blades, kept);
    return out;
}

}  // namespace swashwright::studies
