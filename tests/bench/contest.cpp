#include "tests/bench/contest.h"

#include <benchmark/benchmark.h>

#include <fmt/format.h>

#include "kinematics/head/solver.h"
#include "tests/bench/closed_form.h"

namespace swashwright::bench {
namespace {

void read(const head::Solver& solver, Reading& out) {
    out = {solver.height_mm(),
           solver.tilt_forward_deg(),
           solver.tilt_right_deg(),
           {solver.pitch_deg(0), solver.pitch_deg(1)}};
}

void read(const ClosedFormPose& pose, Reading& out) {
    out = {pose.height_mm, pose.tilt_forward_deg, pose.tilt_right_deg, pose.pitch_deg};
}

void count(Tally& tally, const Reading& reading) {
    tally.checksum += reading.height_mm + reading.tilt_forward_deg + reading.tilt_right_deg + reading.pitch_deg[0] +
                      reading.pitch_deg[1];
    ++tally.poses;
}

Row ours(const std::string& name, const std::string& rule, const head::Head& head) {
    Row row;
    row.name = name;
    row.rule = rule;
    row.counts_allocations = true;
    const auto solver = std::make_shared<head::Solver>(head);
    row.check = [solver](const std::array<double, 3>& horns, double azimuth, Reading& out, double& residual) {
        solver->forget();  // so that the residual is of every block
        if (!solver->pose(horns, azimuth)) return false;
        read(*solver, out);
        residual = solver->report().residual_mm;
        return true;
    };
    return row;
}

/// Poses in the order in which the azimuth is outermost and the sticks change every time, every block anew.
Row ours_afresh(const head::Head& head, const Sweep& sweep) {
    Row row = ours("Swashwright", "afresh", head);
    row.note =
        "every block solved at every pose: Newton with at least one step for the ring, the one-unknown blocks "
        "(spin, grips) wholly anew in closed form";
    const auto solver = std::make_shared<head::Solver>(head);
    row.run = [solver, &sweep] {
        Tally tally;
        Reading reading;
        for (const double azimuth : sweep.azimuths) {
            for (const auto& horns : sweep.horns) {
                solver->forget();
                tally.failed += !solver->pose(horns, azimuth);
                tally.newton_steps += solver->report().newton_steps;
                read(*solver, reading);
                benchmark::DoNotOptimize(reading);
                count(tally, reading);
            }
        }
        return tally;
    };
    return row;
}

Row ours_turning(const head::Head& head, const Sweep& sweep) {
    Row row = ours("Swashwright", "azimuth innermost", head);
    row.note = "blocks whose inputs did not change are kept, which the solver finds out by itself";
    const auto solver = std::make_shared<head::Solver>(head);
    row.run = [solver, &sweep] {
        Tally tally;
        Reading reading;
        for (const auto& horns : sweep.horns) {
            for (const double azimuth : sweep.azimuths) {
                tally.failed += !solver->pose(horns, azimuth);
                tally.newton_steps += solver->report().newton_steps;
                read(*solver, reading);
                benchmark::DoNotOptimize(reading);
                count(tally, reading);
            }
        }
        return tally;
    };
    return row;
}

/// Azimuth innermost, with the derivative of every reading by horns and azimuth, or by every number of the head.
Row ours_with_slopes(const head::Head& head, const Sweep& sweep, bool by_everything) {
    const auto parameters = std::make_shared<std::vector<head::Number>>(head::numbers(head.description()));
    Row row =
        ours(by_everything ? fmt::format("with slopes by {} numbers", parameters->size()) : "with slopes by inputs",
             "azimuth innermost", head);
    row.note = by_everything ? "the exact derivative of all five readings by every number of the head, at every pose"
                             : "the exact derivative of all five readings by the three horns and the azimuth";
    if (by_everything) row.every_azimuth = 6;
    const auto solver = std::make_shared<head::Solver>(head);
    row.run = [solver, parameters, &sweep, by_everything, every = row.every_azimuth] {
        Tally tally;
        Reading reading;
        head::Slopes slopes;
        for (const auto& horns : sweep.horns) {
            for (std::size_t a = 0; a < sweep.azimuths.size(); a += every) {
                tally.failed += !solver->pose(horns, sweep.azimuths[a]);
                tally.newton_steps += solver->report().newton_steps;
                tally.failed += !solver->linearise();
                if (by_everything) {
                    for (const head::Number& parameter : *parameters) {
                        solver->slopes_by(parameter, slopes);
                        benchmark::DoNotOptimize(slopes);
                    }
                } else {
                    for (int j = 0; j < 3; ++j) {
                        solver->slopes_by_horn(j, slopes);
                        benchmark::DoNotOptimize(slopes);
                    }
                    solver->slopes_by_azimuth(slopes);
                    benchmark::DoNotOptimize(slopes);
                }
                read(*solver, reading);
                benchmark::DoNotOptimize(reading);
                count(tally, reading);
            }
        }
        return tally;
    };
    return row;
}

Row closed_form(const head::Head& head, const Sweep& sweep, bool afresh) {
    Row row;
    row.name = "closed form";
    row.rule = afresh ? "afresh" : "azimuth innermost";
    row.note = afresh ? "written by hand for this one kind of head; steps with a kept matrix count as Newton steps"
                      : "the ring solved once for each stick position";
    row.counts_allocations = true;
    const auto solver = std::make_shared<ClosedForm>(*ClosedForm::build(head.description()));
    row.check = [solver](const std::array<double, 3>& horns, double azimuth, Reading& out, double& residual) {
        ClosedFormPose pose;
        if (!solver->pose(horns, azimuth, pose)) return false;
        read(pose, out);
        residual = solver->residual_mm();
        return true;
    };
    row.run = [solver, &sweep, afresh] {
        Tally tally;
        Reading reading;
        ClosedFormPose pose;
        const long before = solver->newton_steps();
        const auto keep = [&](bool closed) {
            tally.failed += !closed;
            read(pose, reading);
            benchmark::DoNotOptimize(reading);
            count(tally, reading);
        };
        if (afresh) {
            for (const double azimuth : sweep.azimuths) {
                for (const auto& horns : sweep.horns) keep(solver->pose(horns, azimuth, pose));
            }
        } else {
            for (const auto& horns : sweep.horns) {
                tally.failed += !solver->pose_ring(horns);
                for (const double azimuth : sweep.azimuths) keep(solver->pose_rotor(azimuth, pose));
            }
        }
        tally.newton_steps = solver->newton_steps() - before;
        return tally;
    };
    return row;
}

}  // namespace

std::vector<Row> contest(const head::Head& head, const Sweep& sweep) {
    std::vector<Row> rows;
    rows.push_back(ours_afresh(head, sweep));
    rows.push_back(ours_turning(head, sweep));
    rows.push_back(ours_with_slopes(head, sweep, false));
    rows.push_back(ours_with_slopes(head, sweep, true));
    rows.push_back(closed_form(head, sweep, true));
    rows.push_back(closed_form(head, sweep, false));
    for (Row& row : peers(head, sweep)) rows.push_back(std::move(row));
    return rows;
}

std::vector<Row> contest_of_a_linkage(const head::Head& head, const Sweep& sweep) {
    std::vector<Row> rows;
    rows.push_back(ours_afresh(head, sweep));
    rows.push_back(ours_turning(head, sweep));
    for (Row& row : peers_of_a_linkage(head, sweep)) rows.push_back(std::move(row));
    return rows;
}

}  // namespace swashwright::bench
