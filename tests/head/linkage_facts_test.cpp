// Facts of the trade and of textbooks about each kind of linkage, on the demo heads and on heads made for the purpose.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "tests/support/demo_head.h"

namespace swashwright::head {
namespace {

Head built(const Description& d) {
    auto head = Head::build(d);
    EXPECT_TRUE(head) << (head ? "" : head.error().message);
    return *head;
}

Pose posed(const Head& head, const Sticks& sticks, double azimuth_deg = 0, std::vector<double> hands = {}) {
    auto pose = head.pose(sticks, azimuth_deg, hands);
    EXPECT_TRUE(pose) << (pose ? "" : pose.error().message);
    return pose.value_or(Pose{});
}

// What the demos say of themselves; their lengths are written to a ten thousandth of a millimetre.
TEST(DemoLinkages, StandLevelAtTheirPitchAtMidStickAllRound) {
    for (const char* name : {"bellcranks_500", "four_servos_700", "link_held_450", "hinged_links_450",
                             "rocking_spindle_600", "stabiliser_bar_600", "tail_600"}) {
        const Head head = testing::demo_head(std::string(name) + ".toml");
        for (const double azimuth : {0.0, 65.0, 130.0, 250.0}) {
            const Pose pose = posed(head, {}, azimuth);
            EXPECT_LT(pose.tilt_deg, 1e-3) << name;
            EXPECT_NEAR(pose.height_mm, head.description().swashplate.neutral_height_mm, 1e-3) << name;
            for (const double pitch : pose.pitch_deg)
                EXPECT_NEAR(pitch, head.description().kind == Kind::tail ? 8 : 0, 1e-3) << name;
        }
    }
}

/// Rise of the ring for each millimetre by which the left horn's ball goes along its rod, all servos together.
double ring_rise_per_rod(const Head& head) {
    const Pose up = posed(head, {.collective = 1e-3}), down = posed(head, {.collective = -1e-3});
    const double rod = (up.skeleton.horn_balls[0] - down.skeleton.horn_balls[0]).norm();
    return (up.height_mm - down.height_mm) / rod;
}

// Law of the lever. Arms of 13 mm at right angles, rods level and links upright; central differences over 0.01 mm
// leave 1e-6 of the slope.
TEST(Bellcrank, EqualArmsAtRightAnglesPassASmallMotionOneToOne) {
    EXPECT_NEAR(ring_rise_per_rod(testing::demo_head("bellcranks_500.toml")), 1, 1e-6);
}

// The rod 3 mm nearer the pivot, servo and rod raised with it: 13 / 10.
TEST(Bellcrank, AHoleNearerThePivotMakesMoreOfTheSameMotion) {
    Description d = testing::demo("bellcranks_500.toml");
    for (Lever& lever : d.levers) lever.balls_mm[1] *= 10.0 / 13.0;
    for (Servo& servo : d.servos) std::get<Vec3>(servo.pivot_mm).z() += 3;
    EXPECT_NEAR(ring_rise_per_rod(built(d)), 1.3, 1e-6);
}

// The part of (e, 0, 0, 0) that no plane takes up lies along (1, -1, 1, -1): e / 4 at each link (least squares, as a
// stiff table stands on four equal legs). To first order: a link 0.2 mm long tilts the ring by 0.2 deg.
TEST(FourServos, OneLinkTooLongIsSharedByAllFourWithSignsAlternating) {
    Description d = testing::demo("four_servos_700.toml");
    for (const double error : {0.2, 0.4, -0.2}) {
        d.lower_links[1].error_mm = error;
        const Pose pose = posed(built(d), {});
        ASSERT_TRUE(pose.misfit_mm);
        EXPECT_NEAR(*pose.misfit_mm, std::abs(error) / 4, 1e-3);
        for (std::size_t j = 0; j < 4; ++j) {
            const double apart = (pose.skeleton.inner_balls[j] - pose.skeleton.horn_balls[j]).norm();
            const double misfit = apart - d.lower_links[j].length_mm - d.lower_links[j].error_mm;
            EXPECT_NEAR(misfit, (j % 2 == 1 ? -1 : 1) * error / 4, 1e-3) << j;
        }
    }
}

// A floating lever's middle pivot: y = (l2 y_ring + l1 y_bar) / (l1 + l2), the law of the lever; l1 = 9 mm to the
// ring's link, l2 = 6 mm to the bar's. The pivot is the end of the 15 mm pitch arm, the bar's ball 9 mm from its axis.
TEST(StabiliserBar, TheMixingLeverAddsWhatRingAndBarSay) {
    const Head head = testing::demo_head("stabiliser_bar_600.toml");
    const auto rises = [&](double collective, double hand) {  // of the ring, the bar's ball and the pivot of blade 1
        const Pose at = posed(head, {.collective = collective}, 0, {hand});
        const Pose rest = posed(head, {});
        return std::array{at.height_mm - rest.height_mm, 9 * std::sin(hand * degree),
                          15 * std::sin((at.pitch_deg[0] - rest.pitch_deg[0]) * degree)};
    };
    const auto law = [](double ring, double bar) { return (6 * ring + 9 * bar) / 15; };
    EXPECT_DOUBLE_EQ(law(2, 0), 0.8);  // by hand
    EXPECT_DOUBLE_EQ(law(0, 2), 1.2);
    EXPECT_DOUBLE_EQ(law(2, 1), 1.4);
    for (const auto& [collective, hand] : {std::pair{0.01, 0.0}, {0.0, 0.1}, {0.01, 0.1}, {0.02, -0.1}}) {
        const auto [ring, bar, pivot] = rises(collective, hand);
        // Hundredths of a millimetre on arms of 15 mm: second order is a thousandth of them.
        EXPECT_NEAR(pivot, law(ring, bar), 2e-3 * (std::abs(ring) + std::abs(bar)));
    }
}

/// The most by which collective alone turns the bar on its rod, deg.
double bar_turned_by_collective_deg(const Head& head) {
    double most = 0;
    for (const double collective : {-1.0, -0.5, 0.5, 1.0})
        for (const double azimuth : {0.0, 90.0, 200.0})
            most = std::max(most, std::abs(posed(head, {.collective = collective}, azimuth).lever_deg[1]));
    return most;
}

// Less than 0.1 deg on a symmetric head: what a wash-out is for (common practice, no source).
TEST(StabiliserBar, TheWashOutKeepsCollectiveFromThePaddles) {
    Description d = testing::demo("stabiliser_bar_600.toml");
    EXPECT_LT(bar_turned_by_collective_deg(built(d)), 0.1);
    d.levers[2].balls_mm[1].x() += 2;  // one arm longer than the other
    EXPECT_GT(bar_turned_by_collective_deg(built(d)), 0.1);
}

// Worked out by hand: where the line between the two balls is the axis of the tilt, both stand h sin(tilt) aside along
// the blades, to the same side, h being their height above the tilt centre. Their hinges let them go square to the
// blades only, and no turn of the ring brings both back.
TEST(HingedLinks, TwoBladesNeedPlayThatGrowsWithCyclic) {
    Description d = testing::demo("hinged_links_450.toml");
    for (const double height : {0.5, 2.0}) {
        for (std::size_t k = 0; k < 2; ++k) {
            d.levers[k].balls_mm[0].x() += d.swashplate.outer_balls[k].height_mm - height;
            d.swashplate.outer_balls[k].height_mm = height;
        }
        const Head head = built(d);
        double last = 0;
        for (const double aileron : {0.25, 0.5, 1.0}) {
            const Pose pose = posed(head, {.aileron = aileron}, 90);
            ASSERT_TRUE(pose.misfit_mm);
            // The ring's tilt axis is off the blades' line by a degree or two: 1 - cos of it.
            EXPECT_NEAR(*pose.misfit_mm, height * std::sin(pose.tilt_deg * degree), 2e-3 * height);
            EXPECT_GT(*pose.misfit_mm, 1.8 * last);
            last = *pose.misfit_mm;
        }
        EXPECT_NEAR(*posed(head, {.collective = 0.7}, 90).misfit_mm, 0, 1e-9);  // collective alone needs none
    }
}

/// A leading pitch arm of 20 mm whose ball stands 10 mm out, over a link of 40 mm that stands upright on a level ring;
/// blade 1 flaps about a hinge `out_mm` from the shaft. Plus flaps up.
Head flapping(double out_mm) {
    Description d = testing::demo("rocking_spindle_600.toml");
    d.rotor.hub_height_mm = d.swashplate.neutral_height_mm + 40;
    d.levers[0].pivot_mm = Vec3(out_mm, 0, d.rotor.hub_height_mm);
    for (std::size_t k = 0; k < 2; ++k) {
        d.grips[k].pitch_arm = {10, 20, 0};
        d.swashplate.outer_balls[k] = {std::hypot(10, 20), std::atan2(20, 10) / degree + 180.0 * double(k), 0};
        d.upper_links[k].length_mm = 40;
    }
    d.grips[1].lever.reset();
    return built(d);
}

// Pitch per flap is -K, K = tan(delta-3) (W. Johnson, Helicopter Theory; from memory), and by geometry K = (r - e) / h
// for an arm h whose ball stands r out and a flap hinge e out: 0.5, 0.3, 0, -0.3 here. At 5 deg of flap: the one angle
// at which the arm's ball is 40 mm from the ring's, found by bisection in a few lines that know nothing of this
// project.
TEST(RockingSpindle, FlappingChangesPitchByDelta3) {
    struct Case {
        double out_mm, k, at_5_deg;
    };
    for (const auto& [out, k, at_5] :
         {Case{0, 0.5, -2.50723132}, {4, 0.3, -1.50401266}, {10, 0, 0}, {16, -0.3, 1.50397147}}) {
        const Head head = flapping(out);
        const auto pitch = [&](double flap) { return posed(head, {}, 0, {flap}).pitch_deg[0]; };
        EXPECT_NEAR(pitch(0), 0, 1e-9);
        EXPECT_NEAR((pitch(0.01) - pitch(-0.01)) / 0.02, -k, 1e-6) << out;
        EXPECT_NEAR(pitch(5), at_5, 1e-7) << out;
        EXPECT_NEAR(posed(head, {}, 0, {5}).pitch_deg[1], 0, 1e-9);  // blade 2 stands on the hub
    }
}

// A pitch slider treats blades alike, at both ends and all round the turn; right and left rudder part them from the
// middle to either side (common practice, no source).
TEST(Tail, BothBladesAreAlikeFromEndToEnd) {
    const Head head = testing::demo_head("tail_600.toml");
    double last = -90;
    for (const double rudder : {-1.0, -0.4, 0.0, 0.7, 1.0}) {
        double all_round = 0;
        for (const double azimuth : {0.0, 77.0, 210.0}) {
            const Pose pose = posed(head, {.rudder = rudder}, azimuth);
            ASSERT_EQ(pose.pitch_deg.size(), 2U);
            EXPECT_NEAR(pose.pitch_deg[1], pose.pitch_deg[0], 1e-9) << rudder << " " << azimuth;
            if (azimuth == 0) all_round = pose.pitch_deg[0];
            EXPECT_NEAR(pose.pitch_deg[0], all_round, 1e-9);
        }
        EXPECT_GT(all_round, last + 1);
        last = all_round;
    }
}

}  // namespace
}  // namespace swashwright::head
