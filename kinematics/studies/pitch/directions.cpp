#include "kinematics/studies/pitch/directions.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/studies/answer/main_stick.h"

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
    out.reverse = head.raise_signs()[servo] * s.pulse_deg_per_us < 0;
    return out;
}

bool measured(const head::Servo& servo) {
    return servo.pulse_deg_per_us != head::Servo{}.pulse_deg_per_us;
}

/// Alike servos turn the same way for a longer pulse: those that must turn the other way to raise the ring need the
/// channel the other way.
void tell_opposites(const Head& head, Directions& out) {
    const auto& raise = head.raise_signs();
    for (std::size_t j = 0; j < out.servos.size(); ++j)
        for (std::size_t other = 0; other < out.servos.size(); ++other)
            if (raise[j] * raise[other] < 0) out.servos[j].opposite_to.push_back(other);
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
        failure.message =
            fmt::format("with full {} {}; ask for less travel: reach says how much", stick, failure.message);
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
    tell_opposites(head, out);
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
    if (const auto best = with_best_phase(head, lag_deg)) {
        if (const auto then = gauge_place(*best, false, lag_deg)) {
            out.phase_deg = best->description().mixing.phase_deg;
            out.aileron_then = *then;
        }
    }
    return out;
}

}  // namespace swashwright::studies
