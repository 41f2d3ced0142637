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

/// Both ends of a rod at the roll that they share.
struct SharedRoll {
    enum class Where { at_lower, at_upper, between };  // which end's socket is in line with its stud
    std::array<Rolling, 2> ends;
    std::array<double, 2> along{};  // of each stud along the rod, signed
    double x = 0, y = 0;            // the studs' parts square to the rod: their product, and their cross product
    double sine = 0, cosine = 1;    // of the way from one end's place to the other's, 0 to a quarter turn
    double sense = 1;               // in which that way grows with the turn from the lower stud to the upper
    Where where = Where::between;
    std::array<Rolling::Tilt, 2> tilt{};
    std::array<double, 2> roll{};  // of each end from its own place, rad
};

void find_ways(SharedRoll& out, const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg) {
    std::array<Vec3, 2> square;
    for (std::size_t e = 0; e < 2; ++e) {
        out.along[e] = rod.dot(studs[e]);
        square[e] = studs[e] - out.along[e] * rod;
        out.ends[e] = {std::abs(out.along[e]), square[e].norm()};
    }
    // From the roll at which the lower socket is in line with its stud to that of the upper one; sockets have no sense,
    // so half a turn more or less is the same and the way is a quarter turn at most. On it one tilt grows and the other
    // falls; any other roll has a place on it that is better for both.
    out.x = square[0].dot(square[1]), out.y = rod.dot(studs[0].cross(studs[1]));
    const double ct = std::cos(twist_deg * degree), st = std::sin(twist_deg * degree);
    const double s = out.y * ct - out.x * st, c = out.x * ct + out.y * st, both = std::hypot(s, c);
    if (both <= 1e-12) return;  // a stud along the rod: any roll will do for that end
    out.sine = std::abs(s) / both, out.cosine = std::abs(c) / both;
    out.sense = (s < 0) == (c < 0) ? 1 : -1;
}

/// Tilts at the roll of this sine and cosine from the lower end's place.
void roll_to(SharedRoll& at, double s, double c) {
    at.tilt[0] = at.ends[0].at(s, c);
    at.tilt[1] = at.ends[1].at(at.sine * c - at.cosine * s, at.cosine * c + at.sine * s);
}

/// The roll that suits one end best.
SharedRoll roll_of(std::size_t end, const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg) {
    SharedRoll out;
    find_ways(out, rod, studs, twist_deg);
    const double apart = std::atan2(out.sine, out.cosine);
    if (end == 0) {
        out.where = SharedRoll::Where::at_lower, out.roll = {0, apart};
        roll_to(out, 0, 1);
    } else {
        out.where = SharedRoll::Where::at_upper, out.roll = {apart, 0};
        roll_to(out, out.sine, out.cosine);
    }
    return out;
}

SharedRoll share_roll(const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg,
                      const std::array<double, 2>& limits_deg) {
    SharedRoll out;
    find_ways(out, rod, studs, twist_deg);
    auto &ta = out.tilt[0], &tb = out.tilt[1];
    const double sine = out.sine, cosine = out.cosine, apart = std::atan2(sine, cosine);
    const double la = limits_deg[0] * degree, lb = limits_deg[1] * degree;
    const auto look = [&](double s, double c) {
        roll_to(out, s, c);
        return ta.rad / la - tb.rad / lb;
    };
    const auto found = [&](SharedRoll::Where where, double roll) {
        out.where = where, out.roll = {roll, apart - roll};
        return out;
    };
    if (look(0, 1) >= 0) return found(SharedRoll::Where::at_lower, 0);
    const double least_a = ta.rad;
    if (look(sine, cosine) <= 0) return found(SharedRoll::Where::at_upper, apart);
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
    return found(SharedRoll::Where::between, roll);
}

/// Rates of both tilts, rad, while the rod's direction and the studs move; the shared roll's own follows from the
/// tilts' shares staying alike, or from the place at which it is held.
std::array<double, 2> tilt_rates(const SharedRoll& at, const Vec3& rod, const std::array<Vec3, 2>& studs,
                                 const std::array<double, 2>& limits_deg, const Vec3& rod_rate,
                                 const std::array<Vec3, 2>& stud_rates) {
    constexpr double nothing = 1e-12;
    std::array<double, 2> held{};  // the tilt's rate at a held roll
    std::array<double, 2> along_rate{};
    for (std::size_t e = 0; e < 2; ++e) {
        along_rate[e] = rod_rate.dot(studs[e]) + rod.dot(stud_rates[e]);
        // The cosine of the tilt is square cos(roll), and square^2 = 1 - along^2.
        const double upright = std::sin(at.tilt[e].rad);
        if (at.ends[e].square > nothing && upright > nothing)
            held[e] = at.along[e] * along_rate[e] * std::cos(at.roll[e]) / (at.ends[e].square * upright);
    }
    const double x_rate = stud_rates[0].dot(studs[1]) + studs[0].dot(stud_rates[1]) - along_rate[0] * at.along[1] -
                          at.along[0] * along_rate[1];
    const double y_rate =
        rod_rate.dot(studs[0].cross(studs[1])) + rod.dot(stud_rates[0].cross(studs[1]) + studs[0].cross(stud_rates[1]));
    const double far = at.x * at.x + at.y * at.y;
    const double apart_rate = far > nothing ? at.sense * (at.x * y_rate - at.y * x_rate) / far : 0;
    const double slope_a = at.tilt[0].slope, slope_b = at.tilt[1].slope;
    using enum SharedRoll::Where;
    if (at.where == at_lower) return {held[0], held[1] + slope_b * apart_rate};
    if (at.where == at_upper) return {held[0] + slope_a * apart_rate, held[1]};
    const double la = limits_deg[0], lb = limits_deg[1];
    const double roll_rate = ((held[1] + slope_b * apart_rate) / lb - held[0] / la) / (slope_a / la + slope_b / lb);
    return {held[0] + slope_a * roll_rate, held[1] + slope_b * (apart_rate - roll_rate)};
}

/// "the pitch arm", "bellcrank 1".
std::string where(const head::Model& model, const head::BallEnd& end) {
    const head::Part& part = model.part(end.part);
    return end.words == part.label ? part.words : "the " + end.words;
}

class BallTilt : public Checker {
public:
    explicit BallTilt(const head::Head& head) {
        for (const head::LinkRod& rod : head.model().rods()) add(head, rod);
    }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver& solver) override {
        ws_ = &solver.workspace();
        seen_ = nothing_seen;
        return true;
    }
    double value(std::size_t i) override {
        const std::size_t r = i / 2;
        if (seen_ != r) {
            const Rod& rod = rods_[r];
            tilts_ = shared_tilt_deg(direction(rod, *ws_), studs(rod, *ws_), rod.twist_deg, rod.limits_deg);
            seen_ = r;
        }
        return tilts_[i % 2];
    }
    // An end takes the larger share of its limit, or the roll is held where it suits the other end best: then this one
    // has room to spare.
    int pieces(std::size_t) const override { return 2; }
    bool larger_of_two(std::size_t) const override { return true; }
    Piece piece(const Moment& at, std::size_t i, int piece) const override {
        const Rod& rod = rods_[i / 2];
        const std::size_t end = i % 2;
        const linkage::Workspace& ws = at.stands();
        const Vec3 along = direction(rod, ws);
        const auto studs_now = studs(rod, ws);
        const bool held = piece == 1;
        const SharedRoll shared = held ? roll_of(1 - end, along, studs_now, rod.twist_deg)
                                       : share_roll(along, studs_now, rod.twist_deg, rod.limits_deg);
        using enum SharedRoll::Where;
        const std::size_t told = held || shared.where == between ? end : shared.where == at_lower ? 0 : 1;
        const double share = rod.limits_deg[end] / rod.limits_deg[told];
        const double length = (ws.point(rod.ends[1].ball) - ws.point(rod.ends[0].ball)).norm();
        Piece out;
        out.margin = checks_[i].margin(share * shared.tilt[told].rad / degree);
        for (std::size_t w = 0; w < at.ways; ++w) {
            const auto drift = [&](const head::BallEnd& ball) {
                return at.velocity(ball.body, ws.point(ball.ball), w);
            };
            const Vec3 apart = (drift(rod.ends[1]) - drift(rod.ends[0])) / length;
            std::array<Vec3, 2> stud_rates;
            for (std::size_t e = 0; e < 2; ++e) stud_rates[e] = at.of(rod.ends[e].body, w).spin.cross(studs_now[e]);
            const auto rates =
                tilt_rates(shared, along, studs_now, rod.limits_deg, apart - along.dot(apart) * along, stud_rates);
            out.slope[w] = -share * rates[told] / degree;
        }
        return out;
    }
    std::uint64_t inputs(std::size_t i) const override { return rods_[i / 2].inputs; }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<BallTilt>(*this); }

private:
    struct Rod {
        std::array<head::BallEnd, 2> ends;
        double twist_deg;
        std::array<double, 2> limits_deg;
        std::uint64_t inputs;
    };
    static constexpr std::size_t nothing_seen = ~std::size_t{0};

    static Vec3 direction(const Rod& rod, const linkage::Workspace& ws) {
        return (ws.point(rod.ends[1].ball) - ws.point(rod.ends[0].ball)).normalized();
    }
    static std::array<Vec3, 2> studs(const Rod& rod, const linkage::Workspace& ws) {
        return {ws.placement(rod.ends[0].body).turn * rod.ends[0].stud,
                ws.placement(rod.ends[1].body).turn * rod.ends[1].stud};
    }

    void add(const head::Head& head, const head::LinkRod& rod) {
        const head::Model& model = head.model();
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
        const auto inputs_of = [&](std::size_t e) { return head.plan().body(rod.ends[e].body.index).inputs; };
        rods_.push_back({rod.ends, rod.made.end_twist_deg, limits, inputs_of(0) | inputs_of(1)});
    }

    std::vector<Check> checks_;
    std::vector<Rod> rods_;
    const linkage::Workspace* ws_ = nullptr;
    std::size_t seen_ = nothing_seen;  // the rod whose tilts these are
    std::array<double, 2> tilts_{};
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
    const SharedRoll found = share_roll(rod, studs, twist_deg, limits_deg);
    return {found.tilt[0].rad / degree, found.tilt[1].rad / degree};
}

std::unique_ptr<Checker> ball_tilt_checker(const head::Head& head) {
    return std::make_unique<BallTilt>(head);
}

}  // namespace swashwright::studies
