#include "kinematics/studies/pitch/directions.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/pitch/transmitter.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using head::Result;
using head::Sticks;

const Sticks aileron_right{0, 1, 0}, elevator_forward{0, 0, 1};

ServoDirections servo_directions(const Head& head, std::size_t servo) {
    const head::Servo& s = head.description().servos[servo];
    const auto& gains = head.stick_gains_deg(static_cast<int>(servo));
    ServoDirections out;
    const double neutral = s.neutral_deg + s.trim_deg;
    const Vec3 u = head::horn_zero(s), v = head::shaft_axis(s).cross(u);
    const auto height = [&](double angle_deg) {
        return s.horn_mm * (std::cos(angle_deg * degree) * u + std::sin(angle_deg * degree) * v).z();
    };
    for (std::size_t i = 0; i < 3; ++i)
        out.turns[i] = {gains[i], gains[i] / s.pulse_deg_per_us, height(neutral + gains[i]) - height(neutral)};
    return out;
}

bool measured(const head::Servo& servo) {
    return servo.pulse_deg_per_us != head::Servo{}.pulse_deg_per_us;
}

/// The sense, 1 or -1, in which a servo must turn for its channel's plus: for a mix raising its ball; where each stick
/// has a servo of its own, doing what the stick up, right or forward should do.
double plus_sense(const Head& head, const Directions& found, std::size_t servo) {
    const double raising = head.raise_signs()[servo];
    if (mix_of(head.description()) != Mix::separate) return raising;
    const bool wrong[] = {!found.up_raises_pitch, found.aileron.wrong_way(), found.elevator.wrong_way()};
    for (std::size_t i = 0; i < 3; ++i)
        if (const double turn = found.servos[servo].turns[i].horn_deg; turn != 0)
            return (turn > 0) != wrong[i] ? 1 : -1;
    return raising;
}

/// Alike servos turn the same way for a longer pulse: those that must turn the other way need the channel the other
/// way.
void tell_senses(const Head& head, Directions& out) {
    std::vector<double> senses;
    for (std::size_t j = 0; j < out.servos.size(); ++j) senses.push_back(plus_sense(head, out, j));
    for (std::size_t j = 0; j < senses.size(); ++j) {
        out.servos[j].reverse = senses[j] * head.description().servos[j].pulse_deg_per_us < 0;
        for (std::size_t other = 0; other < senses.size(); ++other)
            if (senses[j] * senses[other] < 0) out.servos[j].opposite_to.push_back(other);
    }
}

/// First harmonic that a full stick adds, mean over the blades: all of one rotor answer the same cyclic alike.
Result<Harmonic> added_by(const Head& head, const Sticks& sticks) {
    const auto with = pitch_harmonics(head, sticks), without = pitch_harmonics(head, {});
    if (!with) return tl::unexpected(with.error());
    if (!without) return tl::unexpected(without.error());
    Harmonic out;
    for (std::size_t k = 0; k < with->size(); ++k) {
        const double each = 1.0 / static_cast<double>(with->size());
        out.cosine += each * ((*with)[k].first().cosine - (*without)[k].first().cosine);
        out.sine += each * ((*with)[k].first().sine - (*without)[k].first().sine);
    }
    return out;
}

head::Failure asking_for_less(const char* stick, head::Failure failure) {
    if (!failure.shortfalls.empty())
        failure.message = fmt::format("with full {} {}; ask for less travel: the question on what binds says how much",
                                      stick, failure.message);
    return failure;
}

/// Forward stick lifts the disc over the tail, right stick over the left side; highest pitch comes `lag` earlier.
double wanted_azimuth_deg(const Description& description, bool elevator, double lag_deg) {
    const double highest_at = elevator ? 0 : -90 * spin_sign(description.rotor.direction);
    const double azimuth = std::fmod(highest_at - lag_deg, 360.0);
    return azimuth < 0 ? azimuth + 360 : azimuth;
}

Result<GaugePlace> gauge_place(const Head& head, bool elevator, double lag_deg) {
    const Sticks& full = elevator ? elevator_forward : aileron_right;
    auto added = added_by(head, full);
    if (!added) return tl::unexpected(asking_for_less(elevator ? "elevator" : "aileron", std::move(added.error())));
    GaugePlace out;
    out.azimuth_deg = added->azimuth_of_most_deg();
    const auto with = head.pose(full, out.azimuth_deg), without = head.pose(Sticks{}, out.azimuth_deg);
    if (!with) return tl::unexpected(with.error());
    if (!without) return tl::unexpected(without.error());
    out.pitch_deg = with->pitch_deg[0] - without->pitch_deg[0];
    out.position_deg = position_deg(head.description(), out.azimuth_deg);
    out.swing_deg = added->amplitude();
    out.wanted_azimuth_deg = wanted_azimuth_deg(head.description(), elevator, lag_deg);
    out.off_deg = within_half_turn(out.azimuth_deg - out.wanted_azimuth_deg);
    return out;
}

/// How fast the azimuth of elevator's highest pitch moves with the phase setting: exact, at full stick. The pitch
/// without cyclic does not depend on the phase.
Result<double> turn_by_phase(const Head& head) {
    const auto added = added_by(head, elevator_forward);
    if (!added) return tl::unexpected(added.error());
    const auto phase = head::number_at(head.description(), "mixing.phase_deg");
    const auto slopes = harmonic_slopes(head, elevator_forward, [&](head::Solver& solver, head::Slopes& out) {
        solver.slopes_by(*phase, out, elevator_forward);
    });
    if (!slopes) return tl::unexpected(slopes.error());
    Harmonic slope;
    for (const Harmonics& h : *slopes) {
        slope.cosine += h.first().cosine / static_cast<double>(slopes->size());
        slope.sine += h.first().sine / static_cast<double>(slopes->size());
    }
    return azimuth_slope_deg(*added, slope);
}

/// Newton on the phase, a step of at most a sixth of a turn. None where the phase turns nothing: weights of the servos'
/// own.
std::optional<Head> with_best_phase(const Head& head, double lag_deg) {
    Head at = head;
    for (int step = 0; step < 30; ++step) {
        const auto place = gauge_place(at, true, lag_deg);
        const auto slope = turn_by_phase(at);
        if (!place || !slope || place->swing_deg < 1e-6) return std::nullopt;
        if (std::abs(place->off_deg) < 1e-9) return at;
        if (std::abs(*slope) < 0.1) return std::nullopt;
        Description next = at.description();
        double& phase = next.mixing.phase_deg;
        phase = within_half_turn(phase + std::clamp(-place->off_deg / *slope, -60.0, 60.0));
        const auto built = Head::build(next);
        if (!built) return std::nullopt;
        at = *built;
    }
    return std::nullopt;
}

}  // namespace

Result<Directions> directions(const Head& head, double lag_deg) {
    Directions out;
    out.lag_deg = lag_deg;
    if (is_tail(head.description())) {
        auto tail = tail_directions(head);
        if (!tail) return tl::unexpected(std::move(tail.error()));
        out.tail = std::move(*tail);
        return out;
    }
    for (std::size_t j = 0; j < head.description().servos.size(); ++j) out.servos.push_back(servo_directions(head, j));
    out.pulses_measured = std::ranges::any_of(head.description().servos, measured);
    const auto slopes = harmonic_slopes(head, {}, [](head::Solver& solver, head::Slopes& s) {
        solver.slopes_by_stick(head::Solver::Stick::collective, s);
    });
    if (!slopes) return tl::unexpected(slopes.error());
    double up = 0;
    for (const Harmonics& h : *slopes) up += h.mean;
    out.up_raises_pitch = up > 0;
    for (const bool elevator : {false, true}) {
        const auto place = gauge_place(head, elevator, lag_deg);
        if (!place) return tl::unexpected(place.error());
        (elevator ? out.elevator : out.aileron) = *place;
    }
    tell_senses(head, out);
    if (const auto best = with_best_phase(head, lag_deg)) {
        if (const auto then = gauge_place(*best, false, lag_deg)) {
            out.phase_deg = best->description().mixing.phase_deg;
            out.aileron_then = *then;
        }
    }
    return out;
}

}  // namespace swashwright::studies
