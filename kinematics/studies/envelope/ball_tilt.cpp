#include "kinematics/studies/envelope/ball_tilt.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace swashwright::studies {

namespace {

constexpr double close_deg = 2;

/// One end while the rod rolls: cos(tilt) = square cos(roll), the roll counted from where the socket is in line with
/// its stud.
struct Rolling {
    double along = 0;   // of the stud, along the rod: sine of the least tilt
    double square = 0;  // and square to it

    struct Tilt {
        double rad, slope;  // slope: by the roll
    };
    Tilt at(double sine, double cosine) const {
        // Sine of the tilt, exact also where it is small.
        const double upright = std::sqrt(along * along + square * square * sine * sine);
        return {std::atan2(upright, square * cosine), upright > 0 ? square * sine / upright : 1.0};
    }
};

/// "the pitch arm", "bellcrank 1".
std::string where(const head::Model& model, const head::BallEnd& end) {
    const head::Part& part = model.part(end.part);
    return end.words == part.label ? part.words : "the " + end.words;
}

class BallTilt : public Checker {
public:
    explicit BallTilt(const head::Head& head) {
        for (const head::LinkRod& rod : head.model().rods()) add(head.model(), rod);
        values_.resize(checks_.size());
    }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver& solver) override {
        const linkage::Workspace& ws = solver.workspace();
        for (std::size_t i = 0; i < rods_.size(); ++i) {
            const Rod& rod = rods_[i];
            const Vec3 along = (ws.point(rod.ends[1].ball) - ws.point(rod.ends[0].ball)).normalized();
            const auto tilt = shared_tilt_deg(along,
                                              {ws.placement(rod.ends[0].body).turn * rod.ends[0].stud,
                                               ws.placement(rod.ends[1].body).turn * rod.ends[1].stud},
                                              rod.twist_deg, rod.limits_deg);
            values_[2 * i] = tilt[0];
            values_[2 * i + 1] = tilt[1];
        }
        return true;
    }
    double value(std::size_t i) override { return values_[i]; }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<BallTilt>(*this); }

private:
    struct Rod {
        std::array<head::BallEnd, 2> ends;
        double twist_deg;
        std::array<double, 2> limits_deg;
    };

    void add(const head::Model& model, const head::LinkRod& rod) {
        const auto limits = tilt_limits_deg(rod.made);
        const head::Part& link = model.part(rod.part);
        for (std::size_t e = 0; e < 2; ++e) {
            const head::BallEnd& end = rod.ends[e];
            checks_.push_back({.kind = CheckKind::ball_tilt,
                               .key = fmt::format("ball_tilt.{}.{}", link.path, e == 0 ? "lower_end" : "upper_end"),
                               .words = fmt::format("tilt of {} at {}", link.words, where(model, end)),
                               .label = fmt::format("tilt, {} at {}", link.label, end.words),
                               .unit = "deg",
                               .parts = {link.path},
                               .high = limits[e],
                               .close = close_deg});
        }
        rods_.push_back({rod.ends, rod.made.end_twist_deg, limits});
    }

    std::vector<Check> checks_;
    std::vector<Rod> rods_;
    std::vector<double> values_;
};

}  // namespace

double tilt_limit_deg(double ball_mm, double socket_mm, double neck_mm) {
    return (std::acos(socket_mm / ball_mm) - std::asin(neck_mm / ball_mm)) / degree;
}

std::array<double, 2> tilt_limits_deg(const head::Link& link) {
    if (link.tilt_limit_deg) return *link.tilt_limit_deg;
    return {tilt_limit_deg(link.ball_mm[0], link.socket_mm[0], link.neck_mm[0]),
            tilt_limit_deg(link.ball_mm[1], link.socket_mm[1], link.neck_mm[1])};
}

std::array<double, 2> shared_tilt_deg(const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg,
                                      const std::array<double, 2>& limits_deg) {
    const double along_a = rod.dot(studs[0]), along_b = rod.dot(studs[1]);
    const Vec3 square_a = studs[0] - along_a * rod, square_b = studs[1] - along_b * rod;
    const Rolling a{std::abs(along_a), square_a.norm()}, b{std::abs(along_b), square_b.norm()};
    // From the roll at which the lower socket is in line with its stud to that of the upper one; sockets have no sense,
    // so half a turn more or less is the same and the way is a quarter turn at most. On it one tilt grows and the other
    // falls; any other roll has a place on it that is better for both.
    const double x = square_a.dot(square_b), y = rod.dot(studs[0].cross(studs[1]));
    const double ct = std::cos(twist_deg * degree), st = std::sin(twist_deg * degree);
    double sine = std::abs(y * ct - x * st), cosine = std::abs(x * ct + y * st);
    if (const double both = std::hypot(sine, cosine); both > 1e-12)
        sine /= both, cosine /= both;
    else
        sine = 0, cosine = 1;  // a stud along the rod: any roll will do for that end
    const double apart = std::atan2(sine, cosine);
    const double la = limits_deg[0] * degree, lb = limits_deg[1] * degree;
    Rolling::Tilt ta{}, tb{};
    const auto look = [&](double s, double c) {  // sine and cosine of the roll from the lower end's place
        ta = a.at(s, c);
        tb = b.at(sine * c - cosine * s, cosine * c + sine * s);
        return ta.rad / la - tb.rad / lb;
    };
    const auto found = [&] { return std::array{ta.rad / degree, tb.rad / degree}; };
    if (look(0, 1) >= 0) return found();
    const double least_a = ta.rad;
    if (look(sine, cosine) <= 0) return found();
    const double least_b = tb.rad;
    // Newton's method within a bracket, from where small angles, tilt^2 = least^2 + roll^2, would put it.
    const double k = la * la / (lb * lb), excess = k * (least_b * least_b + apart * apart) - least_a * least_a;
    const double root = std::sqrt(std::max(0.0, k * k * apart * apart + (1 - k) * excess));
    double low = 0, high = apart, roll = std::clamp(excess / (k * apart + root), 0.0, apart);
    for (int i = 0; i < 60; ++i) {
        const double lean = look(std::sin(roll), std::cos(roll));
        (lean < 0 ? low : high) = roll;
        const double step = -lean / (ta.slope / la + tb.slope / lb);
        if (std::abs(step) < 1e-8) {  // what is left is of second order
            ta.rad += ta.slope * step;
            tb.rad -= tb.slope * step;
            break;
        }
        roll = roll + step > low && roll + step < high ? roll + step : (low + high) / 2;
    }
    return found();
}

std::unique_ptr<Checker> ball_tilt_checker(const head::Head& head) {
    return std::make_unique<BallTilt>(head);
}

}  // namespace swashwright::studies
