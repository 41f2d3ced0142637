#include "kinematics/studies/ball_tilt.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/studs.h"

namespace swashwright::studies {

namespace {

constexpr double close_deg = 2;

/// Seen along the rod: how much of the stud lies square to it, and in which direction.
struct Seen {
    double square = 0;  // sine of the angle between stud and rod
    double angle = 0;   // rad, about the rod
};

Seen seen_along(const Vec3& rod, const Vec3& across, const Vec3& stud) {
    const double x = stud.dot(across), y = stud.dot(rod.cross(across));
    return {std::min(1.0, std::hypot(x, y)), std::atan2(y, x)};
}

double tilt_at(const Seen& stud, double roll_from_it) {
    return std::acos(std::min(1.0, stud.square * std::abs(std::cos(roll_from_it)))) / degree;
}

/// One end of one link: which anchor, and its stud in the frame of the body that carries it.
struct End {
    linkage::AnchorId ball;
    linkage::BodyId body;
    Vec3 stud;
};

class BallTilt : public Checker {
public:
    explicit BallTilt(const head::Head& head) {
        const head::Description& d = head.description();
        const head::Parts& p = head.parts();
        for (std::size_t j = 0; j < d.lower_links.size(); ++j)
            add(d.lower_links[j], "lower", j, {p.horn_balls[j], p.horns[j], head::horn_stud(d, j)},
                {p.inner_balls[j], p.inner_ring, head::inner_ring_stud(d, j)}, {"horn", "inner ring"});
        for (std::size_t k = 0; k < d.upper_links.size(); ++k)
            add(d.upper_links[k], "upper", k, {p.outer_balls[k], p.outer_ring, head::outer_ring_stud(d, k)},
                {p.grip_balls[k], p.grips[k], head::arm_stud(d, k)}, {"outer ring", "pitch arm"});
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
        std::array<End, 2> ends;
        double twist_deg;
        std::array<double, 2> limits_deg;
    };

    void add(const head::Link& link, const char* side, std::size_t index, const End& lower, const End& upper,
             const std::array<const char*, 2>& where) {
        const auto limits = tilt_limits_deg(link);
        for (std::size_t e = 0; e < 2; ++e) {
            const std::string part = fmt::format("{}_link[{}]", side, index + 1);
            checks_.push_back({.kind = CheckKind::ball_tilt,
                               .key = fmt::format("ball_tilt.{}.{}", part, e == 0 ? "lower_end" : "upper_end"),
                               .words = fmt::format("tilt of {} link {} at the {}", side, index + 1, where[e]),
                               .label = fmt::format("tilt, {} link {} at {}", side, index + 1, where[e]),
                               .unit = "deg",
                               .parts = {part},
                               .high = limits[e],
                               .close = close_deg});
        }
        rods_.push_back({{lower, upper}, link.end_twist_deg, limits});
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
    const Vec3 across = rod.unitOrthogonal();
    const Seen a = seen_along(rod, across, studs[0]), b = seen_along(rod, across, studs[1]);
    // From the roll at which the lower socket is in line with its stud to that of the upper one; sockets have no sense,
    // so half a turn more or less is the same. Between the two one tilt grows and the other falls; beyond, both grow.
    const double apart = std::remainder(b.angle - twist_deg * degree - a.angle, pi);
    const auto at = [&](double part) { return std::array{tilt_at(a, part * apart), tilt_at(b, (1 - part) * apart)}; };
    const auto lean = [&](const std::array<double, 2>& tilt) {
        return tilt[0] / limits_deg[0] - tilt[1] / limits_deg[1];
    };
    double low = 0, high = 1;
    auto tilt = at(low);
    double f_low = lean(tilt);
    if (f_low >= 0) return tilt;
    tilt = at(high);
    double f_high = lean(tilt);
    if (f_high <= 0) return tilt;
    for (int i = 0; i < 60 && high - low > 1e-13;
         ++i) {  // false position, the end that stays too long halved (Illinois)
        const double part = (low * f_high - high * f_low) / (f_high - f_low);
        tilt = at(part);
        const double f = lean(tilt);
        if (std::abs(f) < 1e-12) break;
        if (f < 0) {
            low = part;
            f_low = f;
            f_high /= 2;
        } else {
            high = part;
            f_high = f;
            f_low /= 2;
        }
    }
    return tilt;
}

std::unique_ptr<Checker> ball_tilt_checker(const head::Head& head) {
    return std::make_unique<BallTilt>(head);
}

}  // namespace swashwright::studies
