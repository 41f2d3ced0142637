// Rows of the table that pose eight at once.

#include <benchmark/benchmark.h>

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/lane_solver.h"
#include "tests/bench/contest.h"

namespace swashwright::bench {
namespace {

using head::lanes;
using head::LaneValues;

/// What a pose gave, all lanes of each reading together.
struct LaneReading {
    LaneValues height_mm, tilt_forward_deg, tilt_right_deg, pitch_deg[2];
};

void read(const head::LaneSolver& solver, LaneReading& out) {
    out = {solver.height_mm(),
           solver.tilt_forward_deg(),
           solver.tilt_right_deg(),
           {solver.pitch_deg(0), solver.pitch_deg(1)}};
}

/// Sticks `place` of each lane's stretch of the sweep: `stretch` that follow each other, so that each lane goes a step
/// at a time. The last lane's run out; it then stays. How many lanes have one.
int take(const Sweep& sweep, std::size_t stretch, std::size_t place, std::array<LaneValues, 3>& horns) {
    int used = 0;
    for (int lane = 0; lane < lanes; ++lane) {
        const std::size_t wanted = static_cast<std::size_t>(lane) * stretch + place, last = sweep.horns.size() - 1;
        used += wanted <= last;
        for (std::size_t j = 0; j < 3; ++j) horns[j][lane] = sweep.horns[std::min(wanted, last)][j];
    }
    return used;
}

void count(Tally& tally, const LaneReading& reading, int used, linkage::LaneSet closed) {
    for (int lane = 0; lane < used; ++lane)
        tally.checksum += reading.height_mm[lane] + reading.tilt_forward_deg[lane] + reading.tilt_right_deg[lane] +
                          reading.pitch_deg[0][lane] + reading.pitch_deg[1][lane];
    tally.poses += used;
    for (int lane = 0; lane < used; ++lane) tally.failed += !(closed >> lane & 1U);
}

Row lane_row(const head::Head& head, const Sweep& sweep, const linkage::LaneKernel& kernel, bool afresh) {
    Row row;
    row.name = fmt::format("lanes, {}", kernel.name);
    row.rule = afresh ? "afresh" : "azimuth innermost";
    row.note = afresh ? "each lane an eighth of the stick positions, every block solved at every pose"
                      : "eight stick positions at once, their rings solved once for all azimuths";
    row.counts_allocations = true;
    const auto solver = std::make_shared<head::LaneSolver>(*head::LaneSolver::make(head, kernel));
    row.check = [solver](const std::array<double, 3>& horns, double azimuth, Reading& out, double& residual) {
        std::array<LaneValues, 3> all;
        for (std::size_t j = 0; j < 3; ++j) all[j].of.fill(horns[j]);
        LaneValues azimuths;
        azimuths.of.fill(azimuth);
        solver->forget();  // so that the residual is of every block
        if (solver->pose_horns(all, azimuths) != linkage::all_lanes) return false;
        LaneReading reading;
        read(*solver, reading);
        out = {reading.height_mm[5],
               reading.tilt_forward_deg[5],
               reading.tilt_right_deg[5],
               {reading.pitch_deg[0][5], reading.pitch_deg[1][5]}};
        residual = solver->residual_mm()[5];
        return true;
    };
    row.run = [solver, &sweep, afresh] {
        Tally tally;
        LaneReading reading;
        std::array<LaneValues, 3> horns;
        LaneValues azimuths;
        const std::size_t stretch = (sweep.horns.size() + lanes - 1) / lanes;
        const long before = solver->newton_steps();
        const auto pose = [&](double azimuth, int used) {
            azimuths.of.fill(azimuth);
            if (afresh) solver->forget();
            const linkage::LaneSet closed = solver->pose_horns(horns, azimuths);
            read(*solver, reading);
            benchmark::DoNotOptimize(reading);
            count(tally, reading, used, closed);
        };
        if (afresh) {
            for (const double azimuth : sweep.azimuths)
                for (std::size_t i = 0; i < stretch; ++i) pose(azimuth, take(sweep, stretch, i, horns));
        } else {
            for (std::size_t i = 0; i < stretch; ++i) {
                const int used = take(sweep, stretch, i, horns);
                for (const double azimuth : sweep.azimuths) pose(azimuth, used);
            }
        }
        tally.newton_steps = solver->newton_steps() - before;
        return tally;
    };
    return row;
}

}  // namespace

std::vector<Row> lane_rows(const head::Head& head, const Sweep& sweep) {
    std::vector<Row> rows;
    if (!head::LaneSolver::make(head)) return rows;
    for (const linkage::LaneKernel* kernel : linkage::lane_kernels())
        for (const bool afresh : {true, false}) rows.push_back(lane_row(head, sweep, *kernel, afresh));
    return rows;
}

}  // namespace swashwright::bench
