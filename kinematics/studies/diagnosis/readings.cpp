#include "kinematics/studies/diagnosis/readings.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/solver.h"

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

/// Its rate along the motion that the solver's last slopes left in the workspace. No fault moves a ball on its ring.
double ring_height_rate(head::Solver& solver, const RingHeightReading& at, const head::Slopes& slopes) {
    const auto& ws = solver.workspace();
    const linkage::BodyId ring = solver.head().parts().inner_ring;
    const Vec3 spin = ws.spin[ring.index];
    if (at.ball) {
        const Vec3 arm = inner_ball(solver, *at.ball) - Vec3(0, 0, solver.height_mm());
        return slopes.height_mm + spin.cross(arm).z();
    }
    const Vec3 n = solver.ring_normal(), dn = spin.cross(n);
    const double a = at.azimuth_deg * degree;
    const Vec3 out(std::cos(a), std::sin(a), 0);
    return slopes.height_mm - at.radius_mm * (dn.dot(out) / n.z() - n.dot(out) * dn.z() / (n.z() * n.z()));
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

/// Poses the head at one reading and fills its row.
class Rows {
public:
    Rows(const head::Head& head, std::span<const Fault> faults) : solver_(head) {
        if (faults.empty()) return;
        const auto all = head::numbers(head.description());
        for (const Fault& fault : faults) rates_.push_back(rates(fault, head.description(), all));
    }

    template <class Value, class Rate>
    bool fill(Expected& out, Eigen::Index row, const head::Sticks& sticks, double azimuth_deg, double uncertainty,
              const Value& value, const Rate& rate) {
        if (!solver_.pose(sticks, azimuth_deg) || !solver_.linearise()) return false;
        out.value[row] = value(solver_) / uncertainty;
        for (std::size_t f = 0; f < rates_.size(); ++f) {
            double sum = 0;
            for (const auto& [parameter, speed] : rates_[f]) {
                solver_.slopes_by(parameter, slopes_, sticks);
                sum += speed * rate(solver_, slopes_);
            }
            out.slopes(row, static_cast<Eigen::Index>(f)) = sum / uncertainty;
        }
        return true;
    }

private:
    head::Solver solver_;
    head::Slopes slopes_;
    std::vector<std::vector<std::pair<head::Number, double>>> rates_;
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
    return {};
}

std::optional<Expected> expected(const head::Head& head, const Readings& readings, std::span<const Fault> faults) {
    const auto count = static_cast<Eigen::Index>(readings.size());
    Expected out{Eigen::VectorXd(count), Eigen::MatrixXd::Zero(count, static_cast<Eigen::Index>(faults.size()))};
    Rows rows(head, faults);
    Eigen::Index row = 0;
    for (const PitchReading& r : readings.pitch)
        if (!rows.fill(
                out, row++, r.sticks, r.azimuth_deg, r.uncertainty_deg,
                [&](head::Solver& s) { return s.pitch_deg(r.blade); },
                [&](head::Solver&, const head::Slopes& slopes) {
                    return slopes.pitch_deg[static_cast<std::size_t>(r.blade)];
                }))
            return std::nullopt;
    for (const RingHeightReading& r : readings.ring_height)
        if (!rows.fill(
                out, row++, r.sticks, 0, r.uncertainty_mm, [&](head::Solver& s) { return ring_height(s, r); },
                [&](head::Solver& s, const head::Slopes& slopes) { return ring_height_rate(s, r, slopes); }))
            return std::nullopt;
    return out;
}

Eigen::VectorXd observed(const Readings& readings) {
    Eigen::VectorXd out(static_cast<Eigen::Index>(readings.size()));
    Eigen::Index row = 0;
    for (const PitchReading& r : readings.pitch) out[row++] = r.reading_deg / r.uncertainty_deg;
    for (const RingHeightReading& r : readings.ring_height) out[row++] = r.reading_mm / r.uncertainty_mm;
    return out;
}

}  // namespace swashwright::studies
