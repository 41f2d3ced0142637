// What may be changed and how far; where a change shows at the bench.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "kinematics/studies/lengths/problem.h"

namespace swashwright::studies {

using head::Description;
using head::NumberKind;

namespace {

std::vector<FreeNumber> free_where(const Description& d, auto&& wanted) {
    std::vector<FreeNumber> out;
    for (const head::Number& p : head::numbers(d))
        if (wanted(p)) out.push_back(free_number(d, p));
    return out;
}

}  // namespace

FreeNumber free_number(const Description& d, const head::Number& p) {
    const double now = head::value(d, p);
    if (link_of(d, p)) return {p, std::max(now - 10, 1.0), now + 10};
    if (p.kind == NumberKind::neutral) return {p, now - 30, now + 30};
    if (p.kind == NumberKind::horn_length) {
        const auto& holes = d.servos[static_cast<std::size_t>(p.index)].horn_holes_mm;
        return holes.empty() ? FreeNumber{p, now, now}
                             : FreeNumber{p, std::ranges::min(holes), std::ranges::max(holes)};
    }
    const double room = p.unit == head::Unit::mm ? 5 : 10;
    return {p, now - room, now + room};
}

std::vector<FreeNumber> free_links(const Description& d) {
    return free_where(d, [&](const head::Number& p) { return link_of(d, p) != nullptr; });
}
std::vector<FreeNumber> free_neutrals(const Description& d) {
    return free_where(d, [](const head::Number& p) { return p.kind == NumberKind::neutral; });
}
std::vector<FreeNumber> free_horns(const Description& d) {
    return free_where(d, [&](const head::Number& p) {
        return p.kind == NumberKind::horn_length && !d.servos[static_cast<std::size_t>(p.index)].horn_holes_mm.empty();
    });
}

LinkForms link_forms(const head::Link& link, double centre_mm) {
    const double boss = (link.boss_mm[0] + link.boss_mm[1]) / 2;
    return {centre_mm, centre_mm - boss, centre_mm + boss, centre_mm - link.end_length_mm[0] - link.end_length_mm[1]};
}

HornMove horn_move(const head::Servo& servo, double change_deg) {
    const double tooth = 360.0 / servo.spline_teeth;
    const int teeth = static_cast<int>(std::lround(change_deg / tooth));
    return {teeth, change_deg - teeth * tooth};
}

Centring centring(const head::Servo& servo, int arms, double change_deg) {
    const double tooth = 360.0 / servo.spline_teeth;
    Centring out{360.0 / std::lcm(arms, servo.spline_teeth), 0, 0, std::numeric_limits<double>::infinity()};
    for (int arm = 0; arm < arms; ++arm) {
        const double turn = std::remainder(change_deg - 360.0 * arm / arms, 360.0);
        const int teeth = static_cast<int>(std::lround(turn / tooth));
        const double left = turn - teeth * tooth;
        if (std::abs(left) < std::abs(out.left_deg) - 1e-9) out = {out.step_deg, arm, teeth, left};
    }
    return out;
}

Bounds bounds_of(const LengthsRequest& request) {
    Bounds out{Eigen::VectorXd(static_cast<Eigen::Index>(request.free.size())),
               Eigen::VectorXd(static_cast<Eigen::Index>(request.free.size()))};
    for (std::size_t i = 0; i < request.free.size(); ++i) {
        out.least[static_cast<Eigen::Index>(i)] = request.free[i].least;
        out.most[static_cast<Eigen::Index>(i)] = request.free[i].most;
    }
    return out;
}

}  // namespace swashwright::studies
