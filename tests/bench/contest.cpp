#include "tests/bench/contest.h"

#include <benchmark/benchmark.h>

#include <fmt/format.h>

#include "kinematics/head/all_slopes.h"
#include "kinematics/head/input_slopes.h"
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

/// A row that poses with the azimuth innermost and then asks `slopes` of the solver at each pose.
template <class Slopes>
Row ours_and(const std::string& name, const std::string& note, const head::Head& head, const Sweep& sweep, int every,
             Slopes slopes) {
    Row row = ours(name, "azimuth innermost", head);
    row.note = note;
    row.every_azimuth = every;
    const auto solver = std::make_shared<head::Solver>(head);
    row.run = [solver, &sweep, slopes, every] {
        Tally tally;
        Reading reading;
        for (const auto& horns : sweep.horns) {
            for (std::size_t a = 0; a < sweep.azimuths.size(); a += static_cast<std::size_t>(every)) {
                tally.failed += !solver->pose(horns, sweep.azimuths[a]);
                tally.newton_steps += solver->report().newton_steps;
                tally.failed += !slopes(*solver);
                read(*solver, reading);
                benchmark::DoNotOptimize(reading);
                count(tally, reading);
            }
        }
        return tally;
    };
    return row;
}

/// With the derivative of every reading by horns and azimuth: all at once, and each along its own motion.
std::vector<Row> ours_with_slopes_by_inputs(const head::Head& head, const Sweep& sweep) {
    const auto slopes = std::make_shared<head::Slopes>();
    const auto all = std::make_shared<head::InputSlopes>(head);
    const auto at_once = [=](head::Solver& solver) {
        const bool good = all->at(solver);
        for (int j = 0; j < 3; ++j) {
            all->by_horn(j, *slopes);
            benchmark::DoNotOptimize(*slopes);
        }
        all->by_azimuth(*slopes);
        benchmark::DoNotOptimize(*slopes);
        return good;
    };
    const auto one_by_one = [=](head::Solver& solver) {
        const bool good = solver.linearise();
        for (int j = 0; j < 3; ++j) {
            solver.slopes_by_horn(j, *slopes);
            benchmark::DoNotOptimize(*slopes);
        }
        solver.slopes_by_azimuth(*slopes);
        benchmark::DoNotOptimize(*slopes);
        return good;
    };
    const std::string note = "the exact derivative of all five readings by the three horns and the azimuth";
    return {ours_and("with slopes by inputs", note, head, sweep, 1, at_once),
            ours_and("by inputs, one by one", note + ", the whole motion along each", head, sweep, 1, one_by_one)};
}

/// The same by every number of the head.
std::vector<Row> ours_with_slopes_by_numbers(const head::Head& head, const Sweep& sweep) {
    const auto numbers = std::make_shared<std::vector<head::Number>>(head::numbers(head.description()));
    const auto slopes = std::make_shared<head::Slopes>();
    const auto all = std::make_shared<head::AllSlopes>(head, *numbers);
    const auto at_once = [=](head::Solver& solver) {
        const bool good = all->at(solver);
        const auto table = all->by_numbers(solver);
        benchmark::DoNotOptimize(table.data());
        benchmark::ClobberMemory();
        return good;
    };
    const auto one_by_one = [=](head::Solver& solver) {
        const bool good = solver.linearise();
        for (const head::Number& number : *numbers) {
            solver.slopes_by(number, *slopes);
            benchmark::DoNotOptimize(*slopes);
        }
        return good;
    };
    const std::string note = "the exact derivative of all five readings by every number of the head, at every pose";
    const auto count = numbers->size();
    return {ours_and(fmt::format("with slopes by {} numbers", count), note, head, sweep, 1, at_once),
            ours_and(fmt::format("by {} numbers, one by one", count), note + ", the whole motion along each", head,
                     sweep, 6, one_by_one)};
}

void add(std::vector<Row>& rows, std::vector<Row> more) {
    for (Row& row : more) rows.push_back(std::move(row));
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
    add(rows, lane_rows(head, sweep));
    add(rows, ours_with_slopes_by_inputs(head, sweep));
    add(rows, ours_with_slopes_by_numbers(head, sweep));
    rows.push_back(closed_form(head, sweep, true));
    rows.push_back(closed_form(head, sweep, false));
    add(rows, peers(head, sweep));
    return rows;
}

std::vector<Row> contest_of_a_linkage(const head::Head& head, const Sweep& sweep) {
    std::vector<Row> rows;
    rows.push_back(ours_afresh(head, sweep));
    rows.push_back(ours_turning(head, sweep));
    add(rows, lane_rows(head, sweep));
    add(rows, ours_with_slopes_by_inputs(head, sweep));
    add(rows, ours_with_slopes_by_numbers(head, sweep));
    add(rows, peers_of_a_linkage(head, sweep));
    return rows;
}

}  // namespace swashwright::bench
