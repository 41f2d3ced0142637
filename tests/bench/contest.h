// The rows of the benchmark's table: each solves the same sweep in its own way.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "tests/bench/bench_head.h"

namespace swashwright::bench {

/// What one pose gave, for comparing rows with each other: mm and deg.
struct Reading {
    double height_mm = 0, tilt_forward_deg = 0, tilt_right_deg = 0;
    std::array<double, 2> pitch_deg{};
};

/// What a run of the sweep counted.
struct Tally {
    long poses = 0;
    long newton_steps = 0;
    long failed = 0;
    double checksum = 0;  // of all readings, so that none is optimised away
};

struct Row {
    std::string name;
    std::string rule;       // "afresh" or "azimuth innermost"
    std::string note;       // settings, printed under the table
    int every_azimuth = 1;  // slow rows take every so many azimuths only
    std::function<Tally()> run;
    /// One pose with its residual (mm), for the untimed check. False if it did not close.
    std::function<bool(const std::array<double, 3>& horns, double azimuth, Reading&, double& residual)> check;
    bool counts_allocations = false;
};

/// All rows that this build can run. The head and the sweep must outlive them.
std::vector<Row> contest(const head::Head& head, const Sweep& sweep);

/// The same for a linkage that no row was written for: ours, and what can be built from any linkage.
std::vector<Row> contest_of_a_linkage(const head::Head& head, const Sweep& sweep);

/// Ours in lanes, by every kernel that this machine can run; empty where lanes cannot solve the head.
std::vector<Row> lane_rows(const head::Head& head, const Sweep& sweep);

/// Rows of the outside libraries; empty where a library was not there.
std::vector<Row> peers(const head::Head& head, const Sweep& sweep);
std::vector<Row> peers_of_a_linkage(const head::Head& head, const Sweep& sweep);

}  // namespace swashwright::bench
