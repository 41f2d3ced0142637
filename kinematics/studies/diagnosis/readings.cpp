#include "kinematics/studies/diagnosis/readings.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/all_slopes.h"

namespace swashwright::studies {
namespace {

bool finite(const head::Sticks& s) {
    return std::isfinite(s.collective + s.aileron + s.elevator + s.rudder);
}

Vec3 inner_ball(head::Solver& solver, int ball) {
    return solver.workspace().point(solver.head().parts().ball({head::BallName::Of::inner_ball, ball}));
}

/// Height of the inner ring at the reading's place, mm.
double ring_height(head::Solver& solver, const RingHeightReading& at) {
    if (at.ball) return inner_ball(solver, *at.ball).z();
    const Vec3 n = solver.ring_normal();
    const double a = at.azimuth_deg * degree;
    return solver.height_mm() - at.radius_mm * (n.x() * std::cos(a) + n.y() * std::sin(a)) / n.z();
}

/// The same as a linear reading, for its slopes: weights of the ring's slide and spin. No fault moves a ball on its
/// ring.
linkage::Reading ring_height_terms(head::Solver& solver, const RingHeightReading& at) {
    using What = linkage::ReadingTerm::What;
    const int ring = solver.head().parts().inner_ring.index;
    linkage::Reading out{{What::rate, ring, 0, Vec3::UnitX()}, {What::spin, ring, 0, Vec3::Zero()}};
    if (at.ball) {
        const Vec3 arm = inner_ball(solver, *at.ball) - Vec3(0, 0, solver.height_mm());
        out[1].weight = arm.cross(Vec3::UnitZ());
        return out;
    }
    const Vec3 n = solver.ring_normal();
    const double a = at.azimuth_deg * degree;
    const Vec3 side(std::cos(a), std::sin(a), 0);
    const Vec3 by_normal = -at.radius_mm * (side / n.z() - n.dot(side) / (n.z() * n.z()) * Vec3::UnitZ());
    out[1].weight = n.cross(by_normal);  // the normal turns by spin x n
    return out;
}

/// Sticks that this head does not have; empty if all is well.
std::string stick_mistake(const char* what, std::size_t i, const head::Sticks& s, bool tail) {
    if (tail && (s.collective != 0 || s.aileron != 0 || s.elevator != 0))
        return fmt::format(
            "{} {} gives collective, aileron or elevator, but a tail has its rudder only; leave them out", what, i + 1);
    if (!tail && s.rudder != 0)
        return fmt::format("{} {} gives rudder, but the head is no tail; leave it out", what, i + 1);
    return {};
}

using Rates = std::vector<std::pair<head::Number, double>>;

/// Poses the head at each reading and fills the rows.
class Rows {
public:
    Rows(const head::Head& head, std::span<const Rates> rates)
        : solver_(head), slopes_(head, rates, {ring_height_terms(solver_, {})}) {}

    bool pitch(Expected& out, Eigen::Index& row, const PitchReading& at, RowsOf rows) {
        if (!stand_at(at)) return false;
        const bool all = rows == RowsOf::every_blade;
        const int first = all ? 0 : at.blade, count = all ? static_cast<int>(pitch_slopes_.rows()) : 1;
        for (int k = 0; k < count; ++k) out.value[row + k] = solver_.pitch_deg(first + k) / at.uncertainty_deg;
        out.slopes.middleRows(row, count) = pitch_slopes_.middleRows(first, count) / at.uncertainty_deg;
        row += count;
        return true;
    }

    bool height(Expected& out, Eigen::Index& row, const RingHeightReading& at) {
        stands_at_.reset();
        if (!solver_.pose(at.sticks, 0)) return false;
        slopes_.own_reading(0) = ring_height_terms(solver_, at);
        if (!slopes_.at(solver_)) return false;
        out.value[row] = ring_height(solver_, at) / at.uncertainty_mm;
        out.slopes.row(row) = slopes_.by_numbers(solver_, at.sticks).row(slopes_.own()) / at.uncertainty_mm;
        ++row;
        return true;
    }

private:
    /// Poses, with the slopes of every blade: readings of all blades at one pose follow each other.
    bool stand_at(const PitchReading& at) {
        if (stands_at_ && stands_at_->sticks == at.sticks && stands_at_->azimuth_deg == at.azimuth_deg) return true;
        stands_at_.reset();
        if (!solver_.pose(at.sticks, at.azimuth_deg) || !slopes_.at(solver_)) return false;
        pitch_slopes_ = slopes_.by_numbers(solver_, at.sticks)
                            .middleRows(head::AllSlopes::first_pitch, solver_.head().description().rotor.blades);
        stands_at_ = at;
        return true;
    }

    head::Solver solver_;
    head::AllSlopes slopes_;
    std::optional<PitchReading> stands_at_;
    Eigen::MatrixXd pitch_slopes_;  // deg, of every blade by each of the rates
};

}  // namespace

std::string mistake(const Readings& readings, const head::Description& description) {
    if (readings.size() == 0) return "there are no readings; take at least one";
    const int blades = description.rotor.blades;
    const auto balls = static_cast<int>(description.swashplate.inner_balls.size());
    for (std::size_t i = 0; i < readings.pitch.size(); ++i) {
        const PitchReading& r = readings.pitch[i];
        if (r.blade < 0 || r.blade >= blades)
            return fmt::format("pitch reading {} is of blade {}, but the head has {}; correct the blade", i + 1,
                               r.blade + 1, blades);
        if (auto wrong = stick_mistake("pitch reading", i, r.sticks, description.kind == head::Kind::tail);
            !wrong.empty())
            return wrong;
        if (!finite(r.sticks) || !std::isfinite(r.azimuth_deg + r.reading_deg) || !(r.uncertainty_deg > 0))
            return fmt::format("pitch reading {} holds a number that is not finite, or no uncertainty above zero",
                               i + 1);
    }
    for (std::size_t i = 0; i < readings.ring_height.size(); ++i) {
        const RingHeightReading& r = readings.ring_height[i];
        if (r.ball && (*r.ball < 0 || *r.ball >= balls))
            return fmt::format("ring height {} is at ball {}, but the inner ring has {}; correct the ball", i + 1,
                               *r.ball + 1, balls);
        if (auto wrong = stick_mistake("ring height", i, r.sticks, description.kind == head::Kind::tail);
            !wrong.empty())
            return wrong;
        if (!finite(r.sticks) || !std::isfinite(r.azimuth_deg + r.radius_mm + r.reading_mm) || !(r.uncertainty_mm > 0))
            return fmt::format("ring height {} holds a number that is not finite, or no uncertainty above zero", i + 1);
    }
    const Gauge& gauge = readings.gauge;
    if (!(gauge.zero_within_deg >= 0 && gauge.zero_within_deg <= 90) ||
        !(gauge.lean_within_deg >= 0 && gauge.lean_within_deg <= 90))
        return "what the gauge's zero and the shaft's lean are known within must be 0 to 90 deg";
    if (!readings.before) return {};
    std::string wrong = mistake(*readings.before, description);
    return wrong.empty() ? wrong : "from before: " + wrong;
}

std::optional<Expected> expected_along(const head::Head& head, const Readings& readings, std::span<const Rates> rates,
                                       RowsOf which) {
    const int each = which == RowsOf::every_blade ? head.description().rotor.blades : 1;
    const auto count =
        static_cast<Eigen::Index>(readings.pitch.size() * static_cast<std::size_t>(each) + readings.ring_height.size());
    Expected out{Eigen::VectorXd(count), Eigen::MatrixXd::Zero(count, static_cast<Eigen::Index>(rates.size()))};
    Rows rows(head, rates);
    Eigen::Index row = 0;
    for (const PitchReading& r : readings.pitch)
        if (!rows.pitch(out, row, r, which)) return std::nullopt;
    for (const RingHeightReading& r : readings.ring_height)
        if (!rows.height(out, row, r)) return std::nullopt;
    return out;
}

std::optional<Expected> expected(const head::Head& head, const Readings& readings, std::span<const Fault> faults,
                                 const std::vector<head::Number>& numbers, RowsOf which) {
    std::vector<Rates> by_fault;
    for (const Fault& fault : faults) by_fault.push_back(rates(fault, head.description(), numbers));
    return expected_along(head, readings, by_fault, which);
}

std::optional<Expected> expected(const head::Head& head, const Readings& readings, std::span<const Fault> faults) {
    return expected(head, readings, faults,
                    faults.empty() ? std::vector<head::Number>{} : head::numbers(head.description()));
}

Eigen::VectorXd observed(const Readings& readings) {
    Eigen::VectorXd out(static_cast<Eigen::Index>(readings.size()));
    Eigen::Index row = 0;
    for (const PitchReading& r : readings.pitch) out[row++] = r.reading_deg / r.uncertainty_deg;
    for (const RingHeightReading& r : readings.ring_height) out[row++] = r.reading_mm / r.uncertainty_mm;
    return out;
}

}  // namespace swashwright::studies
