// Millions of random poses over random heads and linkages of every kind: numbers that are not finite, residuals above
// the limit that were not reported, and poses of a warm solver that lie on another branch than those found from
// neutral.
//   swashwright_soak [MILLIONS]     default 10; ends with 1 if anything was found
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdlib>
#include <thread>
#include <vector>

#include "kinematics/head/solver.h"
#include "tests/support/random_linkage.h"

namespace swashwright {
namespace {

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

bool finite(head::Solver& solver) {
    bool all = std::isfinite(solver.height_mm());
    const linkage::Workspace& ws = solver.workspace();
    for (const Placement& body : ws.bodies) all = all && body.origin.allFinite() && body.turn.allFinite();
    for (const Vec3& point : ws.anchors) all = all && point.allFinite();
    return all;
}

bool same(const head::Solver& solver, const head::Pose& pose) {
    bool all = std::abs(solver.height_mm() - pose.height_mm) < same_pose;
    for (std::size_t b = 0; b < pose.pitch_deg.size(); ++b)
        all =
            all && std::abs(std::remainder(solver.pitch_deg(static_cast<int>(b)) - pose.pitch_deg[b], 360)) < same_pose;
    return all;
}

/// One of those listed, every number moved a little; a plain head where `kind` is beyond their end.
head::Description drawn(const std::vector<head::Description>& linkages, std::size_t kind, std::mt19937_64& bits) {
    return kind < linkages.size() ? testing::moved_a_little(linkages[kind], bits) : testing::random_head(bits);
}

/// Each lever that is moved by hand, anywhere in its range.
std::vector<double> drawn_hands(const head::Head& head, testing::Draw& draw) {
    std::vector<double> out;
    for (const head::Parts::Hand& hand : head.parts().hands) {
        const auto& range = *head.description().levers[static_cast<std::size_t>(hand.lever)].by_hand_deg;
        out.push_back(draw.between(range[0], range[1]));
    }
    return out;
}

/// Sticks over and beyond their range, so that some poses cannot be assembled.
Count soak(const head::Description& description, std::mt19937_64& bits) {
    Count count;
    testing::Draw draw(bits);
    const auto head = head::Head::build(description);
    if (!head || head->neutral_failure()) return count;
    head::Solver solver(*head);
    bool hole = false;  // a pose on the way could not be assembled: the warm solver may come out on its other side
    for (int i = 0; i < poses_a_head; ++i) {
        const double reach = draw.chance(0.1) ? 3 : 1;
        const head::Sticks sticks{.collective = reach * draw.between(-1, 1),
                                  .aileron = reach * draw.between(-1, 1),
                                  .elevator = reach * draw.between(-1, 1),
                                  .rudder = reach * draw.between(-1, 1)};
        const std::vector<double> hands = drawn_hands(*head, draw);
        for (std::size_t h = 0; h < hands.size(); ++h) solver.set_hand(h, hands[h]);
        const double azimuth = draw.between(-720, 720);
        const bool closed = solver.pose(sticks, azimuth);
        ++count.posed;
        if (!finite(solver)) ++count.not_finite;
        if (!closed) {
            ++count.open;
            hole = true;
            continue;
        }
        count.worst_residual_mm = std::max(count.worst_residual_mm, solver.report().residual_mm);
        if (!(solver.report().residual_mm < residual_limit_mm)) ++count.residual;
        if (i % checked_every != 0) continue;
        const auto pose = head->pose(sticks, azimuth, hands);
        ++count.compared;
        if (pose && same(solver, *pose)) continue;
        // The way from neutral may lead through poses that cannot be assembled.
        ++(hole || !pose ? count.behind_a_hole : count.other_branch);
        solver.reset();
        hole = false;
    }
    return count;
}

void print(const std::string& kind, const Count& all) {
    fmt::print("{}\n  {} poses, {} reported as not to be assembled\n", kind, all.posed, all.open);
    fmt::print("  not finite: {}; residual over {} mm: {} (worst {:.1e} mm)\n", all.not_finite, residual_limit_mm,
               all.residual, all.worst_residual_mm);
    fmt::print(
        "  {} compared with the pose from neutral: {} on another branch, {} behind poses that cannot be assembled\n",
        all.compared, all.other_branch, all.behind_a_hole);
}

/// True if all is sound.
bool run(double millions) {
    const std::vector<head::Description> linkages = testing::linkages();
    const std::size_t kinds = linkages.size() + 1;
    const long heads = static_cast<long>(millions * 1e6) / poses_a_head;
    std::atomic<long> next{0};
    const unsigned workers = std::max(1U, std::thread::hardware_concurrency());
    std::vector<std::vector<Count>> counts(workers, std::vector<Count>(kinds));
    {
        std::vector<std::jthread> threads;
        for (unsigned w = 0; w < workers; ++w)
            threads.emplace_back([&, w] {
                for (long head = next++; head < heads; head = next++) {
                    const std::size_t kind = static_cast<std::size_t>(head) % kinds;
                    std::mt19937_64 bits{static_cast<std::uint64_t>(head)};
                    counts[w][kind].add(soak(drawn(linkages, kind, bits), bits));
                }
            });
    }
    bool sound = true;
    for (std::size_t kind = 0; kind < kinds; ++kind) {
        Count all;
        for (const std::vector<Count>& worker : counts) all.add(worker[kind]);
        print(kind < linkages.size() ? linkages[kind].name : "plain heads", all);
        sound = sound && all.not_finite + all.residual + all.other_branch == 0;
    }
    return sound;
}

}  // namespace
}  // namespace swashwright

int main(int argc, char** argv) {
    return swashwright::run(argc > 1 ? std::atof(argv[1]) : 10.0) ? 0 : 1;
}
