// What the envelope says of its worst values, held against millions of poses.
//   envelope_by_force HEADS POSES [clearance]     random plain heads, each with one of five envelopes of the sticks
//   envelope_by_force SCENE POSES [clearance]     one head of any kind
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <string_view>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/envelope/reach.h"
#include "tests/support/worst_by_force.h"

int main(int count, char** arguments) {
    using namespace swashwright;
    if (count < 3) {
        fmt::print(stderr, "envelope_by_force HEADS|SCENE POSES [clearance]\n");
        return 2;
    }
    const bool clearance = count > 3 && std::string_view(arguments[3]) == "clearance";
    const bool one = std::string_view(arguments[1]).ends_with(".toml");
    const auto head_of = [&](int seed) {
        return one ? head::Head::build(scene::load(arguments[1]).value().head).value()
                   : testing::with_envelope(testing::easy_head(static_cast<std::uint64_t>(seed)), seed);
    };
    int checks = 0, beyond = 0, unsure = 0;
    double below = 0;
    for (int seed = 1; seed <= (one ? 1 : std::atoi(arguments[1])); ++seed) {
        const head::Head head = head_of(seed);
        const studies::Checkers checkers = studies::checkers_of(head, clearance);
        const auto found = studies::envelope(head, checkers);
        if (!found || found->opens) continue;  // next to an opening nothing is bounded, and the answer says so
        const auto force = testing::worst_by_force(
            head, checkers, *found,
            {.poses = std::atoi(arguments[2]), .from = 100, .seed = static_cast<std::uint64_t>(seed)});
        for (std::size_t k = 0; k < force.size(); ++k) {
            const studies::Extreme& worst = found->worst[k];
            if (!std::isfinite(worst.margin)) continue;
            ++checks;
            unsure += worst.within > (found->checks[k].kind == studies::CheckKind::dead_point ? 0.00101 : 0.0101);
            below = std::max(below, worst.margin - force[k].margin);
            if (force[k].margin >= worst.margin - worst.within - 1e-6) continue;
            ++beyond;
            fmt::print("head {}: {} to {:.5f}, {:.5f} at most less, but {:.5f} was found\n", seed,
                       found->checks[k].words, worst.margin, worst.within, force[k].margin);
        }
    }
    fmt::print(
        "{} checks; {} beyond what is stated; {} not as near to true as is aimed at; most below a stated value: "
        "{:.5f}\n",
        checks, beyond, unsure, below);
    return beyond > 0;
}
