// What must hold for every head: checked over thousands drawn at random (all invented).

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "kinematics/head/solver.h"
#include "kinematics/linkage/place.h"
#include "tests/support/random_head.h"

namespace swashwright::head {
namespace {

using swashwright::testing::Draw;
using swashwright::testing::random_head;

struct Setting {
    Sticks sticks;
    double azimuth_deg;
};

Setting random_setting(std::mt19937_64& bits) {
    Draw draw(bits);
    return {{draw.between(-1, 1), draw.between(-0.7, 0.7), draw.between(-0.7, 0.7)}, draw.between(-360, 360)};
}

/// A head that closes at neutral, or none; half of them with a second driver pin.
std::optional<Head> head_of(std::mt19937_64& bits) {
    Description description = random_head(bits);
    if (bits() % 2 == 0) {
        Polar other = description.swashplate.driver_pins[0];
        other.angle_deg += 180;
        description.swashplate.driver_pins.push_back(other);
        description.swashplate.driver_pins_as_list = true;
    }
    const auto head = Head::build(description);
    if (!head || head->neutral_failure()) return std::nullopt;
    return *head;
}

double worst_difference(const Pose& a, const Pose& b) {
    double worst = std::max({std::abs(a.height_mm - b.height_mm), std::abs(a.tilt_forward_deg - b.tilt_forward_deg),
                             std::abs(a.tilt_right_deg - b.tilt_right_deg)});
    for (std::size_t k = 0; k < a.pitch_deg.size(); ++k)
        worst = std::max(worst, std::abs(a.pitch_deg[k] - b.pitch_deg[k]));
    return worst;
}

bool finite(const Pose& pose) {
    double sum = pose.height_mm + pose.tilt_deg + pose.lowest_azimuth_deg + pose.residual_mm;
    for (const double pitch : pose.pitch_deg) sum += pitch;
    for (const double misfit : pose.driver_misfit_mm) sum += misfit;
    for (const Vec3& ball : pose.skeleton.grip_balls) sum += ball.sum();
    return std::isfinite(sum);
}

RC_GTEST_PROP(RandomHeads, CloseToTheStatedResidualAndHoldNoNaN, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    const auto head = head_of(bits);
    RC_PRE(head.has_value());
    const Setting at = random_setting(bits);
    const auto pose = head->pose(at.sticks, at.azimuth_deg);
    if (!pose) {  // out of reach: told in words, with a number that is one
        RC_ASSERT(!pose.error().message.empty());
        for (const auto& shortfall : pose.error().shortfalls) RC_ASSERT(std::isfinite(shortfall.missing_mm));
        return;
    }
    RC_ASSERT(pose->residual_mm < 1e-10);
    RC_ASSERT(finite(*pose));
}

RC_GTEST_PROP(RandomHeads, GiveTheSamePoseAfterAFullTurnAndFromAnyEarlierPose, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    const auto head = head_of(bits);
    RC_PRE(head.has_value());
    const Setting at = random_setting(bits);
    const auto pose = head->pose(at.sticks, at.azimuth_deg);
    RC_PRE(pose.has_value());
    Solver solver(*head);
    const auto same = [&] {
        // Two roads to a residual of 1e-11 mm: apart by that over the least lever, far below 1e-9 deg.
        for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
            if (std::abs(solver.pitch_deg(static_cast<int>(k)) - pose->pitch_deg[k]) > 1e-8) return false;
        return std::abs(solver.height_mm() - pose->height_mm) < 1e-9;
    };
    const auto turned = head->pose(at.sticks, at.azimuth_deg + 360);
    RC_ASSERT(turned.has_value());
    RC_ASSERT(worst_difference(*turned, *pose) < 1e-9);
    for (int i = 0; i < 3; ++i) {
        const Setting before = random_setting(bits);
        solver.pose(before.sticks, before.azimuth_deg);
        RC_ASSERT(solver.pose(at.sticks, at.azimuth_deg));
        RC_ASSERT(same());
    }
    for (int step = 1; step <= 24; ++step) RC_ASSERT(solver.pose(at.sticks, at.azimuth_deg + 15 * step));
    RC_ASSERT(same());
}

/// Horns and grips are placed late: in the end every body and point stands where its joints put it. The bound is a few
/// roundings of 200 mm.
RC_GTEST_PROP(RandomHeads, HaveEveryPartWhereItsJointsPutIt, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    const auto head = head_of(bits);
    RC_PRE(head.has_value());
    Solver solver(*head);
    for (int i = 0; i < 3; ++i) {
        const Setting at = random_setting(bits);
        solver.pose(at.sticks, at.azimuth_deg);
        const linkage::Workspace& ws = solver.workspace();
        linkage::Workspace anew(ws);
        linkage::place_all(head->plan(), anew);
        for (std::size_t b = 0; b < ws.bodies.size(); ++b) {
            RC_ASSERT((ws.bodies[b].origin - anew.bodies[b].origin).norm() < 1e-12);
            RC_ASSERT((ws.bodies[b].turn - anew.bodies[b].turn).norm() < 1e-13);
        }
        for (std::size_t a = 0; a < ws.anchors.size(); ++a) RC_ASSERT((ws.anchors[a] - anew.anchors[a]).norm() < 1e-12);
    }
}

/// y to -y.
Description mirrored(Description d) {
    d.rotor.direction = d.rotor.direction == Direction::clockwise ? Direction::anticlockwise : Direction::clockwise;
    for (Servo& servo : d.servos) {
        if (auto* point = std::get_if<Vec3>(&servo.pivot_mm))
            point->y() *= -1;
        else
            std::get<Polar>(servo.pivot_mm).angle_deg *= -1;
        servo.horn_zero.y() *= -1;
        servo.axis = Vec3(-servo.axis.x(), servo.axis.y(), -servo.axis.z());  // mirrored and negated: horn angles stay
        if (servo.aileron_weight) *servo.aileron_weight *= -1;
    }
    for (Polar& ball : d.swashplate.inner_balls) ball.angle_deg *= -1;
    d.swashplate.guide_pin.angle_deg *= -1;
    d.swashplate.guide_turn_deg *= -1;
    d.mixing.phase_deg *= -1;
    return d;
}

RC_GTEST_PROP(RandomHeads, MirroredGiveEqualPitchAtEqualAzimuth, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    const auto head = head_of(bits);
    RC_PRE(head.has_value());
    const auto mirror = Head::build(mirrored(head->description()));
    RC_ASSERT(mirror.has_value());
    const Setting at = random_setting(bits);
    const auto pose = head->pose(at.sticks, at.azimuth_deg);
    RC_PRE(pose.has_value());
    const auto other = mirror->pose({at.sticks.collective, -at.sticks.aileron, at.sticks.elevator}, at.azimuth_deg);
    RC_ASSERT(other.has_value());
    RC_ASSERT(std::abs(other->height_mm - pose->height_mm) < 1e-9);
    for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
        RC_ASSERT(std::abs(other->pitch_deg[k] - pose->pitch_deg[k]) < 1e-8);
}

/// Central difference of everything read, from poses a step to either side.
Slopes slopes_between(const Pose& low, const Pose& high, double step) {
    const auto slope = [&](auto&& read) { return (read(high) - read(low)) / (2 * step); };
    Slopes out;
    out.height_mm = slope([](const Pose& p) { return p.height_mm; });
    out.tilt_forward_deg = slope([](const Pose& p) { return p.tilt_forward_deg; });
    out.tilt_right_deg = slope([](const Pose& p) { return p.tilt_right_deg; });
    for (std::size_t k = 0; k < low.pitch_deg.size(); ++k)
        out.pitch_deg.push_back((high.pitch_deg[k] - low.pitch_deg[k]) / (2 * step));
    return out;
}

/// The same by a number of the description, the transmitter as it was set up. None where a neighbour does not close.
std::optional<Slopes> difference(const Description& description, const Number& parameter, const Setting& at,
                                 double step) {
    std::optional<Pose> sides[2];
    for (const int side : {0, 1}) {
        Description moved = mixer_kept(*Head::build(description));
        value(moved, parameter) += side ? step : -step;
        const auto head = Head::build(moved);
        if (!head || head->neutral_failure()) return std::nullopt;
        auto pose = head->pose(at.sticks, at.azimuth_deg);
        if (!pose) return std::nullopt;
        sides[side] = *pose;
    }
    return slopes_between(*sides[0], *sides[1], step);
}

bool agree(const Slopes& exact, const Slopes& differenced) {
    // A step of 1e-4 (mm, deg) on arms of 10 mm and more: truncation about (1e-4/10)^2 of the value, rounding
    // 1e-12/1e-4.
    const auto close = [](double a, double b) { return std::abs(a - b) < 1e-6 + 1e-6 * std::abs(b); };
    bool all = close(exact.height_mm, differenced.height_mm) &&
               close(exact.tilt_forward_deg, differenced.tilt_forward_deg) &&
               close(exact.tilt_right_deg, differenced.tilt_right_deg);
    for (std::size_t k = 0; k < exact.pitch_deg.size(); ++k)
        all = all && close(exact.pitch_deg[k], differenced.pitch_deg[k]);
    return all;
}

RC_GTEST_PROP(RandomHeads, DerivativesByEveryNumberEqualCentralDifferences, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    const auto head = head_of(bits);
    RC_PRE(head.has_value());
    const Setting at = random_setting(bits);
    Solver solver(*head);
    RC_PRE(solver.pose(at.sticks, at.azimuth_deg));
    RC_PRE(solver.linearise());
    Slopes exact;
    const auto all = numbers(head->description());
    for (int i = 0; i < 6; ++i) {  // six of them a head: all kinds come up over the heads
        const Number& parameter = all[bits() % all.size()];
        const auto differenced = difference(head->description(), parameter, at, 1e-4);
        if (!differenced) continue;
        solver.slopes_by(parameter, exact, at.sticks);
        if (!agree(exact, *differenced)) RC_FAIL(parameter.path);
    }
}

RC_GTEST_PROP(RandomHeads, DerivativesByHornsSticksAndAzimuthEqualCentralDifferences, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    const auto head = head_of(bits);
    RC_PRE(head.has_value());
    const Setting at = random_setting(bits);
    Solver solver(*head);
    RC_PRE(solver.pose(at.sticks, at.azimuth_deg));
    RC_PRE(solver.linearise());
    const auto compare = [&](const Slopes& exact, auto&& pose_at, double step) {
        const auto low = pose_at(-step), high = pose_at(step);
        RC_PRE(low.has_value() && high.has_value());
        RC_ASSERT(agree(exact, slopes_between(*low, *high, step)));
    };
    Slopes exact;
    solver.slopes_by_azimuth(exact);
    compare(
        exact, [&](double d) { return head->pose(at.sticks, at.azimuth_deg + d); }, 1e-3);
    solver.slopes_by_stick(Solver::Stick::aileron, exact);
    compare(
        exact,
        [&](double d) {
            return head->pose({at.sticks.collective, at.sticks.aileron + d, at.sticks.elevator}, at.azimuth_deg);
        },
        1e-5);
    solver.slopes_by_horn(1, exact);
    auto horns = head->horn_angles_deg(at.sticks);
    compare(
        exact,
        [&](double d) {
            auto moved = horns;
            moved[1] += d;
            return head->pose(moved, at.azimuth_deg);
        },
        1e-4);
}

}  // namespace
}  // namespace swashwright::head
