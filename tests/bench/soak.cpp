// Millions of random poses over random heads: numbers that are not finite, residuals above the limit that were not
// reported, and poses of a warm solver that lie on another branch than those found from neutral.
//   swashwright_soak [MILLIONS]     default 10; ends with 1 if anything was found
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdlib>
#include <thread>
#include <vector>

#include "kinematics/head/solver.h"
#include "tests/support/random_head.h"

namespace {

using namespace swashwright;

constexpr int poses_a_head = 1000;
constexpr int checked_every = 20;  // against the pose from neutral, which takes several times as long
constexpr double residual_limit_mm = 1e-10;
constexpr double same_pose = 1e-7;  // mm, deg: both are solved to 1e-11 mm
struct Count {
    long posed = 0, open = 0, not_finite = 0, residual = 0, compared = 0, other_branch = 0, behind_a_hole = 0;
    double worst_residual_mm = 0;

    void add(const Count& o) {
        posed += o.posed, open += o.open, not_finite += o.not_finite, residual += o.residual, compared += o.compared;
        other_branch += o.other_branch, behind_a_hole += o.behind_a_hole;
        worst_residual_mm = std::max(worst_residual_mm, o.worst_residual_mm);
    }
};

bool finite(const head::Solver& solver, int blades) {
    bool all = std::isfinite(solver.height_mm()) && solver.ring_normal().allFinite();
    for (int b = 0; b < blades; ++b) all = all && std::isfinite(solver.pitch_deg(b));
    return all;
}

bool same(const head::Solver& solver, const head::Pose& pose) {
    bool all = std::abs(solver.height_mm() - pose.height_mm) < same_pose;
    for (std::size_t b = 0; b < pose.pitch_deg.size(); ++b)
        all =
            all && std::abs(std::remainder(solver.pitch_deg(static_cast<int>(b)) - pose.pitch_deg[b], 360)) < same_pose;
    return all;
}

/// Sticks over and beyond their range, so that some poses cannot be assembled.
Count soak(std::uint64_t seed) {
    Count count;
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    const auto head = head::Head::build(testing::random_head(bits));
    if (!head || head->neutral_failure()) return count;
    head::Solver solver(*head);
    const auto blades = static_cast<int>(head->description().upper_links.size());
    bool hole = false;  // a pose on the way could not be assembled: the warm solver may come out on its other side
    for (int i = 0; i < poses_a_head; ++i) {
        const double reach = draw.chance(0.1) ? 3 : 1;
        const head::Sticks sticks{.collective = reach * draw.between(-1, 1),
                                  .aileron = reach * draw.between(-1, 1),
                                  .elevator = reach * draw.between(-1, 1)};
        const double azimuth = draw.between(-720, 720);
        const bool closed = solver.pose(sticks, azimuth);
        ++count.posed;
        if (!finite(solver, blades)) ++count.not_finite;
        if (!closed) {
            ++count.open;
            hole = true;
            continue;
        }
        count.worst_residual_mm = std::max(count.worst_residual_mm, solver.report().residual_mm);
        if (!(solver.report().residual_mm < residual_limit_mm)) ++count.residual;
        if (i % checked_every != 0) continue;
        const auto pose = head->pose(sticks, azimuth);
        ++count.compared;
        if (pose && same(solver, *pose)) continue;
        // The way from neutral may lead through poses that cannot be assembled.
        ++(hole || !pose ? count.behind_a_hole : count.other_branch);
        solver.reset();
        hole = false;
    }
    return count;
}

}  // namespace

int main(int argc, char** argv) {
    const long heads = static_cast<long>((argc > 1 ? std::atof(argv[1]) : 10.0) * 1e6) / poses_a_head;
    std::atomic<long> next{0};
    const unsigned workers = std::max(1U, std::thread::hardware_concurrency());
    std::vector<Count> counts(workers);
    {
        std::vector<std::jthread> threads;
        for (unsigned w = 0; w < workers; ++w)
            threads.emplace_back([&, w] {
                for (long head = next++; head < heads; head = next++)
                    counts[w].add(soak(static_cast<std::uint64_t>(head)));
            });
    }
    Count all;
    for (const Count& count : counts) all.add(count);
    fmt::print("{} poses of {} heads, {} reported as not to be assembled\n", all.posed, heads, all.open);
    fmt::print("not finite: {}; residual over {} mm: {} (worst {:.1e} mm)\n", all.not_finite, residual_limit_mm,
               all.residual, all.worst_residual_mm);
    fmt::print(
        "{} compared with the pose from neutral: {} on another branch, {} behind poses that cannot be assembled\n",
        all.compared, all.other_branch, all.behind_a_hole);
    return all.not_finite + all.residual + all.other_branch > 0 ? 1 : 0;
}
