// What faults do to a head, against differences, rigid rotations and a closed form.
#include "kinematics/studies/diagnosis/faults.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "kinematics/studies/diagnosis/readings.h"
#include "tests/support/demo_head.h"
#include "tests/support/hidden_fault.h"
#include "tests/support/random_linkage.h"

namespace swashwright::studies {
namespace {

using testing::demo;
using testing::Draw;

Fault fault_of(FaultKind kind, const head::Description& d, std::size_t which = 0) {
    const FaultKind kinds[] = {kind};
    return faults(d, kinds).at(which);
}

/// With what the transmitter holds written down, as a diagnosis has it.
head::Description kept(const head::Description& d) {
    return head::mixer_kept(head::Head::build(d).value());
}

// Central differences over 2e-4 of a unit, at a size somewhere within the usual: about 1e-7 of curvature and 1e-9 of
// rounding, over uncertainties of a tenth. At sticks where a servo's command passes 0 an end point has no slope, so the
// sticks stand off the middle.
RC_GTEST_PROP(Faults, RatesAreDifferencesWhateverTheSize, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    Draw draw(bits);
    const head::Description d = kept(testing::random_head(bits));
    Readings at;
    for (int i = 0; i < 3; ++i) {
        at.pitch.push_back(testing::random_reading(draw, d.rotor.blades));
        at.pitch.back().sticks = {draw.between(-0.8, 0.8), draw.between(-0.5, 0.5), draw.between(-0.5, 0.5)};
    }
    at.ring_height.push_back({1, 0, 0, {.collective = 0.5, .aileron = 0.4, .elevator = 0}});
    auto suspects = faults(d);
    for (Fault& fault : suspects) fault.against_frame = draw.chance(0.5);
    const Fault& fault = suspects[static_cast<std::size_t>(draw.whole(0, static_cast<int>(suspects.size()) - 1))];
    RC_PRE(fault.sized() || fault.scatters());
    const double size = draw.between(-0.5, 0.5) * fault.usual_size();
    const auto with = [&](double more) {
        head::Description faulty = d;
        apply(fault, size + more, faulty);
        return head::Head::build(faulty).value();
    };
    constexpr double h = 1e-4;
    const auto here = expected(with(0), at, std::span(&fault, 1));
    const auto up = expected(with(h), at, {}), down = expected(with(-h), at, {});
    RC_PRE(here && up && down);  // within what the head can take
    const Eigen::VectorXd slope = (up->value - down->value) / (2 * h);
    RC_ASSERT((slope - here->slopes.col(0)).cwiseAbs().maxCoeff() < 3e-4);
}

TEST(Faults, EveryKindIsOfferedWhereTheHeadHasThePart) {
    const head::Description d = demo("two_blade_600.toml");
    const auto all = faults(d);
    const auto count = [&](FaultKind kind) { return std::ranges::count(all, kind, &Fault::kind); };
    EXPECT_EQ(count(FaultKind::bent_shaft), 2);
    EXPECT_EQ(count(FaultKind::stripped_gear), 3);
    EXPECT_EQ(count(FaultKind::worn_end), 5);
    EXPECT_EQ(count(FaultKind::servo_reversed), 3);
    EXPECT_EQ(count(FaultKind::mixer_sign), 3);
    EXPECT_EQ(count(FaultKind::end_point), 6);
    EXPECT_EQ(fault_of(FaultKind::end_point, d).words, "servo left: end point downwards");
    EXPECT_EQ(fault_of(FaultKind::mixer_sign, d, 1).words, "mix: aileron has the wrong sign");
    for (const head::Description& linkage : testing::linkages())
        if (linkage.kind == head::Kind::tail) {
            const auto of_tail = faults(linkage);
            EXPECT_EQ(std::ranges::count(of_tail, FaultKind::mixer_sign, &Fault::kind), 1);
            EXPECT_EQ(std::ranges::count(of_tail, FaultKind::bent_shaft, &Fault::kind), 0);  // the slider leans with it
        }
}

TEST(Faults, APartCanBeOffByMoreThanUsualButNotByMoreThanItsSizeAllows) {
    for (const char* file : {"two_blade_600.toml", "small_two_blade_250.toml"})
        for (const Fault& fault : faults(demo(file))) {
            EXPECT_GT(fault.largest(), 1.4 * fault.usual_size()) << fault.words;
            EXPECT_EQ(std::isinf(fault.largest()), fault.unit.empty()) << fault.words;
            if (fault.unit == "mm") {
                EXPECT_LE(fault.largest(), std::min(3.0, 0.2 * fault.length_mm)) << fault.words;
            }
        }
    const auto arm = [](const char* file) { return fault_of(FaultKind::arm_lead, demo(file)).largest(); };
    EXPECT_LT(arm("small_two_blade_250.toml"), arm("two_blade_600.toml"));
}

/// Pitch of a grip (rad) whose pitch-arm ball a link of this length ties to a point: the closed form of one revolute
/// joint against one distance, A cos t + B sin t = C (Hartenberg and Denavit 1964, chapter 12, from memory). `zero`:
/// the grip's frame at pitch 0. Of the two, that nearer 0.
double tied_pitch(const Placement& zero, const Vec3& ball, const Vec3& point, double length_mm) {
    const Vec3 u = zero.turn * Vec3(ball.x(), ball.y(), 0), v = zero.turn.col(2).cross(u);
    const Vec3 w = point - zero.origin - zero.turn.col(2) * ball.z();
    const double a = 2 * w.dot(u), b = 2 * w.dot(v), c = w.squaredNorm() + u.squaredNorm() - length_mm * length_mm;
    const double middle = std::atan2(b, a), off = std::acos(c / std::hypot(a, b));
    const double one = std::remainder(middle + off, 2 * pi), other = std::remainder(middle - off, 2 * pi);
    return std::abs(one) < std::abs(other) ? one : other;
}

// The hub is turned rigidly about the ring's centre and each grip solved in closed form, with the ring where the servos
// hold it. What is left: the driver, which the leaning hub takes round by some tenths of a degree with links that lean
// by some degrees (1 deg x 5 mm / 20 mm x 0.1), and lean squared. The lean itself moves pitch by about its size.
RC_GTEST_PROP(Faults, ABentShaftIsAHubThatLeansAndTurns, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    Draw draw(bits);
    testing::RandomHeadOptions options;
    options.misfit_mm = 0;
    options.guide_and_driver_turns = false;
    head::Description d = testing::random_head(bits, options);
    for (head::Link& link : d.lower_links) link.error_mm = 0;  // the ring is level
    d.rotor.precone_deg = 0;
    const auto sound = head::Head::build(d);
    RC_ASSERT(sound.has_value());
    const double azimuth = draw.between(0, 360), lean = draw.between(0.5, 1) * (draw.chance(0.5) ? 1 : -1);
    const auto pose = sound->pose(head::Sticks{}, azimuth);
    RC_ASSERT(pose.has_value());
    const double s = head::spin_sign(d.rotor.direction);
    for (const std::size_t towards : {0U, 1U}) {
        const Vec3 over_blade = pose->skeleton.hub.turn.col(0), ahead = s * Vec3::UnitZ().cross(over_blade);
        const Mat3 turn =
            Eigen::AngleAxisd(lean * degree, Vec3::UnitZ().cross(towards == 0 ? over_blade : ahead)).toRotationMatrix();
        Fault fault = fault_of(FaultKind::bent_shaft, d, towards);
        std::array<head::Description, 2> bent{d, d};
        for (const bool frame : {false, true}) {
            fault.against_frame = frame;
            apply(fault, lean, bent[frame]);
        }
        const auto by_hub = head::Head::build(bent[0])->pose(head::Sticks{}, azimuth);
        const auto by_frame = head::Head::build(bent[1])->pose(head::Sticks{}, azimuth);
        RC_ASSERT(by_hub && by_frame);
        double moved = 0;
        for (std::size_t k = 0; k < d.grips.size(); ++k) {
            const head::Grip& grip = d.grips[k];
            Placement zero = pose->skeleton.grips[k];
            zero.turn =
                zero.turn * Eigen::AngleAxisd(-(pose->pitch_deg[k] - grip.pitch_offset_deg) * degree, Vec3::UnitZ())
                                .toRotationMatrix();
            const Vec3 centre = pose->skeleton.inner_ring.origin;
            zero = {turn * zero.turn, centre + turn * (zero.origin - centre)};
            const double pitch =
                tied_pitch(zero, {grip.pitch_arm.lead_mm, grip.pitch_arm.up_mm, s * grip.pitch_arm.along_mm},
                           pose->skeleton.outer_balls[k], d.upper_links[k].actual_mm()) +
                grip.pitch_offset_deg * degree;
            RC_ASSERT(std::abs(by_hub->pitch_deg[k] - pitch / degree) < 0.03);
            const Vec3 leading = zero.turn * Vec3(std::cos(pitch), std::sin(pitch), 0);
            RC_ASSERT(std::abs(by_frame->pitch_deg[k] - std::asin(leading.z()) / degree) < 0.05);
            moved = std::max(moved, std::abs(by_hub->pitch_deg[k] - pose->pitch_deg[k]));
        }
        RC_ASSERT(moved > 0.1 || towards == 0);  // of two blades, towards one: only the pitch arm's way out acts
    }
}

// A hub that leans with the rotor shows as the same split of the blades wherever the rotor stands.
TEST(Faults, ABentShaftTurnsWithTheRotor) {
    head::Description bent = demo("three_blade_700.toml");
    const auto sound = head::Head::build(bent);
    apply(fault_of(FaultKind::bent_shaft, bent, 1), 1, bent);
    const auto head = head::Head::build(bent);
    ASSERT_TRUE(sound && head);
    std::vector<double> split;
    for (const double azimuth : {0.0, 70.0, 200.0}) {
        const auto with = head->pose(head::Sticks{}, azimuth), without = sound->pose(head::Sticks{}, azimuth);
        split.push_back(with->pitch_deg[0] - without->pitch_deg[0]);
    }
    EXPECT_GT(std::abs(split[0]), 0.5);
    EXPECT_NEAR(split[1], split[0], 0.02);
    EXPECT_NEAR(split[2], split[0], 0.02);
}

RC_GTEST_PROP(Faults, AWrongSignIsTheOtherStick, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    Draw draw(bits);
    const head::Description d = kept(testing::random_head(bits));
    const std::array<double, 3> sticks{draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1)};
    const auto sound = head::Head::build(d);
    for (std::size_t stick = 0; stick < 3; ++stick) {
        head::Description wrong = d;
        apply(fault_of(FaultKind::mixer_sign, d, stick), 0, wrong);
        auto other = sticks;
        other[stick] *= -1;
        const auto is = head::Head::build(wrong)->horn_angles_deg({sticks[0], sticks[1], sticks[2]});
        const auto as = sound->horn_angles_deg({other[0], other[1], other[2]});
        for (std::size_t j = 0; j < is.size(); ++j) RC_ASSERT(std::abs(is[j] - as[j]) < 1e-9);
    }
    const std::size_t j = static_cast<std::size_t>(draw.whole(0, 2));
    head::Description wrong = d;
    apply(fault_of(FaultKind::servo_reversed, d, j), 0, wrong);
    const head::Sticks at{sticks[0], sticks[1], sticks[2]}, opposite{-sticks[0], -sticks[1], -sticks[2]};
    RC_ASSERT(std::abs(head::Head::build(wrong)->horn_angle_deg(j, at) - sound->horn_angle_deg(j, opposite)) < 1e-9);
}

}  // namespace
}  // namespace swashwright::studies
