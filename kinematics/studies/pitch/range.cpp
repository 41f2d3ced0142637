#include "kinematics/studies/pitch/range.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/pitch/highest.h"
#include "kinematics/studies/pitch/servo_pulse.h"

namespace swashwright::studies {
namespace {

using head::Head;
using head::Result;
using head::Solver;
using head::Sticks;

constexpr double collective_positions[] = {-1, -0.5, 0, 0.5, 1};
const Sticks full_cyclic[2] = {{0, 1, 0}, {0, 0, 1}};  // aileron, elevator

Sticks at_collective(double collective, const Sticks& cyclic = {}, double share = 1) {
    return {collective, share * cyclic.aileron, share * cyclic.elevator};
}

double average(const std::vector<Harmonics>& blades, auto&& of) {
    double sum = 0;
    for (const Harmonics& blade : blades) sum += of(blade);
    return sum / static_cast<double>(blades.size());
}

double mean_of(const Harmonics& h) {
    return h.mean;
}

double swing_of(const Harmonics& h) {
    return h.first().amplitude();
}

head::Failure at(const Sticks& sticks, const head::Failure& failure) {
    head::Failure out = failure;
    out.message = sticks.rudder != 0 ? fmt::format("with rudder {:g}, {}", sticks.rudder, failure.message)
                                     : fmt::format("with collective {:g}, aileron {:g}, elevator {:g}, {}",
                                                   sticks.collective, sticks.aileron, sticks.elevator, failure.message);
    if (sticks != Sticks{} && !failure.shortfalls.empty())
        out.message += "; ask for less travel: the question on what binds says how much";
    return out;
}

Result<CollectiveRow> collective_row(const Head& head, double collective) {
    const Sticks sticks = main_stick_at(head.description(), collective);
    const auto turn = pitch_harmonics(head, sticks);
    if (!turn) return tl::unexpected(at(sticks, turn.error()));
    const auto slopes = harmonic_slopes(head, sticks, [&](Solver& solver, head::Slopes& out) {
        solver.slopes_by_stick(main_stick(head.description()), out);
    });
    if (!slopes) return tl::unexpected(at(sticks, slopes.error()));
    const auto pose = head.pose(sticks, 0);
    if (!pose) return tl::unexpected(at(sticks, pose.error()));
    CollectiveRow row{collective, pose->height_mm, {}, {}, {}};
    for (std::size_t k = 0; k < turn->size(); ++k) {
        row.mean_deg.push_back((*turn)[k].mean);
        row.slope_deg.push_back((*slopes)[k].mean);
        row.once_deg.push_back(swing_of((*turn)[k]));
    }
    return row;
}

/// What so much of full cyclic adds at mid collective.
Result<double> gain_at_mid(const Head& head, int way, double share) {
    const auto centred = pitch_harmonics(head, {});
    if (!centred) return tl::unexpected(at({}, centred.error()));
    const Sticks sticks = at_collective(0, full_cyclic[way], share);
    const auto turn = pitch_harmonics(head, sticks);
    if (!turn) return tl::unexpected(at(sticks, turn.error()));
    return swing_added(*turn, *centred);
}

/// Aileron and elevator as far as they go at three collectives, and what they do to the mean and to each other's gain.
Result<bool> look_round(const Head& head, PitchRange& out) {
    for (const double collective : {-1.0, 0.0, 1.0}) {
        const double share = std::max(0.0, head::most_cyclic_out(head.description().mixing, collective));
        const auto centred = pitch_harmonics(head, at_collective(collective));
        if (!centred) return tl::unexpected(at(at_collective(collective), centred.error()));
        Interaction interaction;
        interaction.collective = collective;
        for (int way = 0; way < 2; ++way) {
            const Sticks sticks = at_collective(collective, full_cyclic[way], share);
            auto turn = pitch_harmonics(head, sticks);
            if (!turn) return tl::unexpected(at(sticks, turn.error()));
            interaction.mean_shift_deg[way] = average(*turn, mean_of) - average(*centred, mean_of);
            interaction.gain_deg[way] = swing_added(*turn, *centred);
            const auto middle = gain_at_mid(head, way, share);
            if (!middle) return tl::unexpected(middle.error());
            if (*middle > 0) interaction.gain_change_percent[way] = 100 * (interaction.gain_deg[way] / *middle - 1);
            if (collective == 0) {
                const auto half = gain_at_mid(head, way, share / 2);
                if (!half) return tl::unexpected(half.error());
                if (*middle > 0) out.cyclic_bend_percent[way] = 100 * (2 * *half / *middle - 1);
            }
            out.cyclic.push_back({sticks, std::move(*turn)});
        }
        out.interaction.push_back(interaction);
    }
    return true;
}

/// Pulses at the ends of all sticks, and the finest step of each servo.
Result<bool> look_at_servos(const Head& head, PitchRange& out) {
    const auto& servos = head.description().servos;
    std::vector<double> together(static_cast<std::size_t>(head.description().rotor.blades), 0.0);
    for (std::size_t j = 0; j < servos.size(); ++j) {
        const head::Servo& servo = servos[j];
        const auto& gains = head.stick_gains_deg(static_cast<int>(j));
        const double reach = head::most_command_deg(head.description().mixing, gains);
        ServoEnds ends;
        ends.least_deg = servo.trim_deg - reach;
        ends.most_deg = servo.trim_deg + reach;
        const double a = pulse_us(servo, servo.neutral_deg + ends.least_deg);
        const double b = pulse_us(servo, servo.neutral_deg + ends.most_deg);
        ends.least_us = std::min(a, b);
        ends.most_us = std::max(a, b);
        ends.within_travel = ends.least_deg >= servo.travel_deg[0] && ends.most_deg <= servo.travel_deg[1];
        const auto slopes = harmonic_slopes(
            head, {}, [j](Solver& solver, head::Slopes& slope) { solver.slopes_by_horn(static_cast<int>(j), slope); });
        if (!slopes) return tl::unexpected(at({}, slopes.error()));
        const double step = std::abs(servo.pulse_deg_per_us);
        ends.step_mean_deg = std::abs(average(*slopes, mean_of)) * step;
        ends.step_once_deg = average(*slopes, swing_of) * step;
        for (std::size_t k = 0; k < together.size(); ++k)
            together[k] += (*slopes)[k].mean * std::copysign(step, is_tail(head.description()) ? gains[3] : gains[0]);
        out.servos.push_back(ends);
    }
    for (const double step : together) out.step_collective_deg = std::max(out.step_collective_deg, std::abs(step));
    return true;
}

/// Farthest from the straight line between the ends, of all blades and over the whole stick.
Result<double> bend_deg(const Head& head, const CollectiveRow& low, const CollectiveRow& high, const Going& going) {
    constexpr int intervals = 12;
    double most = 0;
    head::Failure why;
    if (going.stopped()) return tl::unexpected(was_stopped());
    for (std::size_t k = 0; k < low.mean_deg.size(); ++k) {
        going.tell(static_cast<double>(k) / static_cast<double>(low.mean_deg.size()));
        const auto astray = [&](double collective) -> std::optional<double> {
            if (going.stopped()) {
                why = was_stopped();
                return std::nullopt;
            }
            const Sticks sticks = main_stick_at(head.description(), collective);
            const auto turn = pitch_harmonics(head, sticks);
            if (!turn) {
                why = at(sticks, turn.error());
                return std::nullopt;
            }
            const double share = (collective - low.collective) / (high.collective - low.collective);
            return std::abs((*turn)[k].mean - std::lerp(low.mean_deg[k], high.mean_deg[k], share));
        };
        const auto found = highest(astray, low.collective, high.collective, intervals);
        if (!found) return tl::unexpected(why);
        most = std::max(most, found->value);
    }
    return most;
}

/// Every lever that the scene reads, at the sticks of all rows.
Result<bool> look_at_outputs(const Head& head, PitchRange& out) {
    std::vector<const head::Output*> read;
    for (const head::Output& output : head.model().outputs())
        if (output.what == head::Output::What::lever_angle) read.push_back(&output);
    if (read.empty()) return true;
    std::vector<Sticks> places;
    for (const CollectiveRow& row : out.collective) places.push_back(main_stick_at(head.description(), row.collective));
    for (const TurnRow& row : out.cyclic) places.push_back(row.sticks);
    head::Solver solver(head);
    for (const Sticks& sticks : places) {
        std::vector<std::vector<double>> samples(read.size());
        for (int i = 0; i < turn_samples; ++i) {
            if (!solver.pose(sticks, 360.0 * i / turn_samples))
                return tl::unexpected(at(sticks, {"the links do not reach all round the turn", {}}));
            for (std::size_t n = 0; n < read.size(); ++n) {
                const auto lever = head.parts().levers[static_cast<std::size_t>(read[n]->index)];
                samples[n].push_back(solver.workspace().angle(lever) / degree);
            }
        }
        for (std::size_t n = 0; n < read.size(); ++n)
            out.outputs.push_back({sticks, read[n]->words, read[n]->path, harmonics(samples[n])});
    }
    return true;
}

}  // namespace

Result<PitchRange> pitch_range(const Head& head, const Sticks& asked, const Going& going) {
    if (const head::Failure* open = head.neutral_failure()) return tl::unexpected(*open);
    PitchRange out;
    for (const double collective : collective_positions) {
        auto row = collective_row(head, collective);
        if (!row) return tl::unexpected(std::move(row.error()));
        out.collective.push_back(std::move(*row));
    }
    const auto bend = bend_deg(head, out.collective.front(), out.collective.back(), going.part(0.1, 0.7));
    if (!bend) return tl::unexpected(bend.error());
    out.collective_bend_deg = *bend;
    going.tell(0.7);
    const bool tail = is_tail(head.description());
    if (auto done = tail ? Result<bool>(true) : look_round(head, out); !done)
        return tl::unexpected(std::move(done.error()));
    if (going.stopped()) return tl::unexpected(was_stopped());
    going.tell(0.9);
    if (tail ? asked.rudder != 0 : asked.collective != 0 || asked.aileron != 0 || asked.elevator != 0) {
        auto turn = pitch_harmonics(head, asked);
        if (!turn) return tl::unexpected(at(asked, turn.error()));
        out.cyclic.push_back({asked, std::move(*turn)});
    }
    if (auto done = look_at_servos(head, out); !done) return tl::unexpected(std::move(done.error()));
    if (auto done = look_at_outputs(head, out); !done) return tl::unexpected(std::move(done.error()));
    return out;
}

}  // namespace swashwright::studies
