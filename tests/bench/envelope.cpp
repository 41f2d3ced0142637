// How long the whole stick envelope of a head takes, and where the time goes: ratios within one run.
//   envelope_bench SCENE
#include <fmt/format.h>

#include <chrono>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/envelope/probe.h"
#include "kinematics/studies/envelope/reach.h"

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
    for (const bool clearance : {false, true}) {
        std::size_t poses = 0;
        const double time = seconds([&] {
            if (const auto found = studies::reach(*head, {.clearance = clearance})) poses = found->envelope.poses;
        });
        fmt::print("whole envelope {} clearance: {:.3f} s, {} poses, {:.0f} poses/s on all cores\n",
                   clearance ? "with" : "without", time, poses, static_cast<double>(poses) / time);
    }
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
