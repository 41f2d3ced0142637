// swashwright_bench [--repeats N]: the same sweep of poses by every solver, one table. See README.md beside this file.
#include <sched.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string_view>

#include "kinematics/scene/scene.h"
#include "tests/bench/contest.h"
#include "tests/support/allocations.h"

namespace swashwright::bench {
namespace {

/// Stays on the processor on which it runs now. False where the system does not allow it.
bool pin_to_one_core() {
    const int here = sched_getcpu();
    if (here < 0) return false;
    cpu_set_t set;
    CPU_ZERO(&set);
    CPU_SET(here, &set);
    return sched_setaffinity(0, sizeof set, &set) == 0;
}

/// Collective in 11 steps, cyclic to and fro over the grid so that each place is a step from the one before.
Sweep make_sweep(const head::Head& head) {
    Sweep sweep;
    for (int c = -5; c <= 5; ++c) {
        for (int y = -4; y <= 4; ++y) {
            for (int i = -4; i <= 4; ++i) {
                const int x = (y + c) % 2 ? -i : i;
                if (x * x + y * y > 16) continue;
                const auto horns = head.horn_angles_deg({c / 5.0, x / 4.0, y / 4.0});
                sweep.horns.push_back({horns[0], horns[1], horns[2]});
            }
        }
    }
    for (int i = 0; i < 72; ++i) sweep.azimuths.push_back(5.0 * i);
    return sweep;
}

struct Result {
    std::vector<double> ns_per_pose;
    Tally tally;
    double worst_residual_mm = 0, worst_difference = 0;
    long not_closed = 0;
    long allocations = 0;

    /// Of the fastest run: whatever else a machine does can only make a run slower.
    double least_ns() const { return *std::min_element(ns_per_pose.begin(), ns_per_pose.end()); }
};

double difference(const Reading& a, const Reading& b) {
    return std::max({std::abs(a.height_mm - b.height_mm), std::abs(a.tilt_forward_deg - b.tilt_forward_deg),
                     std::abs(a.tilt_right_deg - b.tilt_right_deg), std::abs(a.pitch_deg[0] - b.pitch_deg[0]),
                     std::abs(a.pitch_deg[1] - b.pitch_deg[1])});
}

/// Every pose once, untimed: residuals, and how far each row is from the first one.
void check(const std::vector<Row>& rows, const Sweep& sweep, std::vector<Result>& results) {
    for (std::size_t a = 0; a < sweep.azimuths.size(); ++a) {
        for (const auto& horns : sweep.horns) {
            Reading first;
            for (std::size_t i = 0; i < rows.size(); ++i) {
                if (a % rows[i].every_azimuth) continue;
                Reading reading;
                double residual = 0;
                if (!rows[i].check(horns, sweep.azimuths[a], reading, residual)) {
                    ++results[i].not_closed;
                    continue;
                }
                results[i].worst_residual_mm = std::max(results[i].worst_residual_mm, residual);
                if (i == 0) first = reading;
                results[i].worst_difference = std::max(results[i].worst_difference, difference(reading, first));
            }
        }
    }
}

void time_once(const Row& row, Result& result) {
    const long allocated = testing::allocations();
    const std::clock_t start = std::clock();  // of this process alone: others share the machine
    result.tally = row.run();
    const double took_ns = 1e9 / CLOCKS_PER_SEC * double(std::clock() - start);
    result.allocations = testing::allocations() - allocated;
    result.ns_per_pose.push_back(took_ns / double(result.tally.poses));
}

/// Speed over the speed of the named row; empty where that row is not there.
std::string ratio(const std::vector<Row>& rows, const std::vector<Result>& results, std::size_t i,
                  std::string_view name, std::string_view rule) {
    for (std::size_t j = 0; j < rows.size(); ++j) {
        if (rows[j].name != name || rows[j].rule != rule) continue;
        const double times = results[j].least_ns() / results[i].least_ns();
        return times < 10 ? fmt::format("{:.2f}", times) : fmt::format("{:.0f}", times);
    }
    return "";
}

void print(const std::vector<Row>& rows, const std::vector<Result>& results, const Sweep& sweep) {
    fmt::print("{:<28} {:<18} {:>10} {:>9} {:>7} {:>9} {:>9} {:>7} {:>8} {:>8} {:>8} {:>8} {:>8}\n", "", "", "", "",
               "Newton", "worst", "apart", "allo-", "x MuJoCo", "x MuJoCo", "x Simb.", "x closed", "x one at");
    fmt::print("{:<28} {:<18} {:>10} {:>9} {:>7} {:>9} {:>9} {:>7} {:>8} {:>8} {:>8} {:>8} {:>8}\n", "solver", "rule",
               "poses/s", "ns/pose", "/pose", "mm", "mm, deg", "cations", "its Jac.", "kin.only", "kin.only", "form",
               "a time");
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Row& row = rows[i];
        const Result& result = results[i];
        const double ns = result.least_ns();
        const auto times = [&](std::string_view name, std::string_view rule) {
            return ratio(rows, results, i, name, rule);
        };
        fmt::print("{:<28} {:<18} {:>10.0f} {:>9.1f} {:>7.2f} {:>9.1e} {:>9.1e} {:>7} {:>8} {:>8} {:>8} {:>8} {:>8}\n",
                   row.name, row.rule, 1e9 / ns, ns, double(result.tally.newton_steps) / double(result.tally.poses),
                   result.worst_residual_mm, result.worst_difference,
                   row.counts_allocations ? std::to_string(result.allocations) : "",
                   times("MuJoCo, its Jacobian", "afresh"), times("MuJoCo, kinematics only", "afresh"),
                   times("Simbody, kinematics only", "afresh"), times("closed form", row.rule),
                   times("Swashwright", row.rule));
    }
    fmt::print("\n");
    for (std::size_t i = 0; i < rows.size(); ++i) {
        fmt::print("{}, {}: {}.", rows[i].name, rows[i].rule, rows[i].note);
        if (rows[i].every_azimuth > 1) {
            fmt::print(" Timed on every {}th azimuth: {} poses.", rows[i].every_azimuth,
                       sweep.poses() / std::size_t(rows[i].every_azimuth));
        }
        if (results[i].not_closed || results[i].tally.failed) {
            fmt::print(" {} poses did not close.", std::max(results[i].not_closed, results[i].tally.failed));
        }
        fmt::print("\n");
    }
    fmt::print("\nSwashwright with the azimuth innermost: {:.2f} times its own afresh rate.\n",
               results[0].least_ns() / results[1].least_ns());
    for (std::size_t i = 2; i + 1 < rows.size(); ++i) {  // each way at once stands before the same one by one
        if (!rows[i].name.starts_with("with slopes")) continue;
        fmt::print("A pose {} costs {:.2f} poses; one by one, {:.1f}: {:.1f} times as much.\n", rows[i].name,
                   results[i].least_ns() / results[1].least_ns(), results[i + 1].least_ns() / results[1].least_ns(),
                   results[i + 1].least_ns() / results[i].least_ns());
    }
}

using Contest = std::vector<Row> (*)(const head::Head&, const Sweep&);

int run(const head::Description& description, Contest contest, int repeats) {
    const auto head = head::Head::build(description);
    if (!head || head->neutral_failure()) {
        fmt::print(stderr, "{} does not close: {}\n", description.name,
                   head ? head->neutral_failure()->message : head.error().message);
        return 1;
    }
    const Sweep sweep = make_sweep(*head);
    fmt::print("{}: {} poses a sweep, {} stick positions x {} azimuths. Fastest of {} interleaved runs.\n\n",
               description.name, sweep.poses(), sweep.horns.size(), sweep.azimuths.size(), repeats);

    const std::vector<Row> rows = contest(*head, sweep);
    std::vector<Result> results(rows.size());
    check(rows, sweep, results);
    for (const Row& row : rows) row.run();  // warm
    for (int i = 0; i < repeats; ++i) {
        for (std::size_t j = 0; j < rows.size(); ++j) time_once(rows[j], results[j]);
    }
    print(rows, results, sweep);
    return 0;
}

}  // namespace
}  // namespace swashwright::bench

int main(int argc, char** argv) {
    int repeats = 11;
    if (argc == 3 && std::string_view(argv[1]) == "--repeats") repeats = std::max(1, std::atoi(argv[2]));
    using namespace swashwright;
    const auto bar = scene::load(SWASHWRIGHT_TEST_DATA "/linkages/stabiliser_bar_01.toml");
    if (!bar) {
        fmt::print(stderr, "{}\n", bar.error().text());
        return 1;
    }
    fmt::print("One thread, {}.\n", bench::pin_to_one_core() ? "held on one core" : "not held on one core");
    const int plain = bench::run(bench::bench_head(), bench::contest, repeats);
    fmt::print("\n");
    return std::max(plain, bench::run(bar->head, bench::contest_of_a_linkage, repeats));
}
