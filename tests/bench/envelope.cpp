// How long the whole stick envelope of a head takes, and where the time goes: ratios within one run.
//   envelope_bench SCENE
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>
#include <string>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/envelope/clearance.h"
#include "kinematics/studies/envelope/probe.h"
#include "kinematics/studies/envelope/reach.h"
#include "tests/bench/grid_sweep.h"

namespace {

using namespace swashwright;

template <class Work>
double seconds(const Work& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Seconds for each pose with all checks of the given families.
double each_pose(const head::Head& head, const studies::Checkers& families, int poses) {
    studies::Probe probe(head, families);
    return seconds([&] {
               for (int i = 0; i < poses; ++i) {
                   probe.go({{0.3, 0.5, -0.2}, 7.3 * i});
                   for (std::size_t k = 0; k < probe.size(); ++k) probe.value(k);
               }
           }) /
           poses;
}

/// Processor time of this process, s: waiting for others does not count.
double processor_s() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// The whole envelope, bounded, beside the grid of before, in one run on one thread.
void compare(const head::Head& head, bool clearance) {
    const studies::Checkers checkers = studies::checkers_of(head, clearance);
    studies::EnvelopeOptions options;
    options.workers = 1;
    const double begin = processor_s();
    const auto before = bench::grid_sweep(head, checkers, options);
    const double grid = processor_s() - begin;
    std::string told;
    const double middle = processor_s();
    options.so_far = [&](const studies::Envelope&) { told += fmt::format(" {:.3f}", processor_s() - middle); };
    const auto now = studies::envelope(head, checkers, options);
    const double bounded = processor_s() - middle;
    if (!before || !now) return;
    double within = 0, truer = 0, worse = 0;
    for (std::size_t k = 0; k < now->worst.size(); ++k) {
        if (!std::isfinite(now->worst[k].margin) || studies::is_lower_bound(now->checks[k], now->worst[k].value))
            continue;
        within = std::max(within, now->worst[k].within);
        truer = std::max(truer, before->worst[k].margin - now->worst[k].margin);
        worse = std::max(worse, now->worst[k].margin - before->worst[k].margin);
    }
    fmt::print(
        "whole envelope {} clearance: {:.3f} s of one core, {} poses; the grid {:.3f} s, {} poses: {:.1f} times\n"
        "  first told after{} s; no worst value is farther from true than {:.4f}; up to {:.4f} below the grid's, "
        "{:.4f} above\n",
        clearance ? "with" : "without", bounded, now->poses, grid, before->poses, grid / bounded, told, within, truer,
        worse);
}

}  // namespace

int main(int count, char** arguments) {
    if (count != 2) {
        fmt::print(stderr, "envelope_bench SCENE\n");
        return 2;
    }
    const auto scene = scene::load(arguments[1]);
    if (!scene) {
        fmt::print(stderr, "{}", scene.error().text());
        return 2;
    }
    const auto head = head::Head::build(scene->head);
    if (!head) return 3;
    for (const bool clearance : {false, true}) compare(*head, clearance);
    constexpr int poses = 4000;
    const double bare = each_pose(*head, {}, poses);
    const studies::Checkers all = studies::checkers_of(*head, true);
    const double whole = each_pose(*head, all, poses);
    fmt::print("one pose with every check: {:.2f} us on one core\n  {:<18}{:6.1f} %\n", 1e6 * whole, "the pose itself",
               100 * bare / whole);
    for (const auto& family : all) {
        studies::Checkers one;
        one.push_back(family->clone());
        const char* words[] = {"ball link tilt", "lever angles", "dead points", "travel", "clearance"};
        fmt::print("  {:<18}{:6.1f} %  {} checks\n",
                   family->checks().empty() ? "none" : words[static_cast<int>(family->checks().front().kind)],
                   100 * (each_pose(*head, one, poses) - bare) / whole, family->checks().size());
    }
    return 0;
}
