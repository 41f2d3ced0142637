// The transmitter's settings against the mixing rule by hand (sine and cosine of the inner balls' azimuths, scenes/
// README.md) and against poses of the solver.
#include "kinematics/studies/pitch/transmitter.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/servo_layout.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::HasSubstr;
using ::testing::Not;

Transmitter told(const Description& d, double full_us = 500) {
    const Head head = Head::build(d).value();
    const auto found = transmitter(head, full_us), again = transmitter(head, full_us);
    EXPECT_TRUE(found && again) << (found ? "" : found.error().message);
    EXPECT_EQ(as_csv(answer(*found, d)), as_csv(answer(*again, d)));
    return *found;
}

std::string sentence(const Description& d) {
    return answer(told(d), d).text;
}

TEST(Transmitter, TellsTheMixByTheBallsRoundTheRing) {
    const Description d = testing::two_blades();
    EXPECT_THAT(sentence(d), HasSubstr("Three servos share the ring, 120 deg apart."));
    EXPECT_THAT(sentence(head::with_servos_at(d, {140, -140, 0})), HasSubstr("140, 80 and 140 deg apart"));
    EXPECT_THAT(sentence(head::with_servos_at(d, {90, -90, 180})), HasSubstr("90, 90 and 180 deg apart"));
    EXPECT_THAT(sentence(testing::demo("four_servos_700.toml")), HasSubstr("Four servos share the ring, 90 deg apart"));
    EXPECT_THAT(sentence(testing::demo("tail_600.toml")), HasSubstr("One servo on the rudder"));
}

TEST(Transmitter, TellsOneServoForEachStick) {
    Description d = testing::two_blades();
    for (std::size_t j = 0; j < 3; ++j) {
        d.servos[j].collective_weight = j == 2 ? 1.0 : 0.0;
        d.servos[j].aileron_weight = j == 0 ? 1.0 : 0.0;
        d.servos[j].elevator_weight = j == 1 ? 1.0 : 0.0;
    }
    EXPECT_EQ(told(d).mix, Mix::separate);
    EXPECT_THAT(sentence(d), HasSubstr("One servo for each stick"));
    EXPECT_THAT(transmitter_steps(d)[5], HasSubstr("No mix of the ring"));
    d.mixing.collective_deg = -d.mixing.collective_deg;
    EXPECT_THAT(sentence(d), HasSubstr("As the head is set up stick lowers the pitch; what is told of the channels"));
    d.mixing.collective_deg = -d.mixing.collective_deg;
    d.servos[0].elevator_weight = 0.2;
    EXPECT_EQ(told(d).mix, Mix::shared);
    EXPECT_THAT(sentence(d), HasSubstr("weights of its own"));
    Description collective_only = testing::two_blades();  // all three on one stick
    collective_only.mixing.cyclic_deg = 0;
    EXPECT_EQ(mix_of(collective_only), Mix::shared);
    for (head::Servo& servo : collective_only.servos) servo.aileron_weight = servo.elevator_weight = 0;
    EXPECT_EQ(mix_of(collective_only), Mix::shared);
}

TEST(Transmitter, SharesAreSinesAndCosinesOfTheBallsPlaces) {
    const Transmitter found = told(testing::two_blades());  // left at 60 deg, right at -60, rear at 180
    const double expected[3][3] = {{100, 86.6025, -50}, {100, -86.6025, -50}, {100, 0, 100}};
    for (std::size_t j = 0; j < 3; ++j)
        for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(*found.channels[j].share[i], expected[j][i], 1e-3);
}

TEST(Transmitter, PercentAreHornAnglesOverPulses) {
    Description d = testing::two_blades();  // 19 and 12 deg of horn, 0.1 deg for each us
    EXPECT_NEAR(told(d).sticks[0].percent, 100 * 190.0 / 500, 1e-9);
    EXPECT_NEAR(told(d).sticks[1].percent, 100 * 120.0 / 500, 1e-9);
    EXPECT_NEAR(told(d, 400).sticks[0].percent, 100 * 190.0 / 400, 1e-9);
    EXPECT_THAT(sentence(d), HasSubstr("measure it at a horn"));
    for (head::Servo& servo : d.servos) servo.pulse_deg_per_us = -0.08;
    EXPECT_NEAR(told(d).sticks[0].percent, 100 * 19 / 0.08 / 500, 1e-9);
    EXPECT_THAT(sentence(d), Not(HasSubstr("measure it at a horn")));
    // Full collective and full cyclic in a circle: 19 + 12 deg at the servo in line, either way.
    EXPECT_NEAR(told(d).channels[2].most_deg, 31, 1e-6);
    EXPECT_NEAR(told(d).channels[2].end_percent, 100 * 31 / 0.08 / 500, 1e-6);
    d.servos[1].trim_deg = 20;
    EXPECT_NEAR(told(d).channels[1].end_percent, 100 * 51 / 0.08 / 500, 1e-6);
    EXPECT_THAT(sentence(d), HasSubstr("right needs 128 % at its end"));
}

TEST(Transmitter, ChannelsRunAgainstEachOtherAsTheHornsRaiseTheirBalls) {
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml", "four_servos_700.toml"}) {
        const Description d = testing::demo(file);
        const Head head = Head::build(d).value();
        const auto raises = [&](std::size_t servo) {
            std::vector<double> horns = head.horn_angles_deg({});
            const double before = head.pose(horns, 0)->skeleton.horn_balls[servo].z();
            horns[servo] += 1;
            return head.pose(horns, 0)->skeleton.horn_balls[servo].z() > before;
        };
        const Transmitter found = told(d);
        for (std::size_t j = 0; j < d.servos.size(); ++j)
            EXPECT_EQ(found.channels[j].against_first, raises(j) != raises(0)) << file << j;
    }
    EXPECT_THAT(sentence(testing::two_blades()),
                HasSubstr("The channel of servo left must run opposite to those of servo right and servo rear"));
    EXPECT_THAT(sentence(testing::demo("three_blade_700.toml")), HasSubstr("All channels run the same way"));
}

TEST(Transmitter, PositionsAreThosePosed) {
    const Description d = testing::two_blades();
    const Head head = Head::build(d).value();
    int seen = 0;
    for (const StickPosition& at : told(d).positions) {
        if (at.stick != "collective") continue;
        ++seen;
        const auto pose = head.pose({at.position, 0, 0}, 0);
        EXPECT_NEAR(at.pitch_deg, pose->pitch_deg[0], 1e-3);  // a level ring: the mean over the turn
        EXPECT_NEAR(at.horn_deg, 19 * at.position, 1e-12);
        EXPECT_NEAR(at.pulse_us, 190 * at.position, 1e-9);
    }
    EXPECT_EQ(seen, 5);
}

TEST(Transmitter, BlamesTheMixNotAServoWhereATiltIsWrong) {
    Description d = testing::two_blades();
    EXPECT_EQ(answer(told(d), d).tone, Tone::calm);
    d.mixing.cyclic_deg = -d.mixing.cyclic_deg;
    EXPECT_THAT(sentence(d), HasSubstr("Aileron tilts the disc the wrong way: change the sign of its travel in the "
                                       "mix, not a servo."));
    EXPECT_THAT(sentence(d), HasSubstr("Elevator tilts"));
    d.mixing.collective_deg = -d.mixing.collective_deg;
    EXPECT_THAT(sentence(d), HasSubstr("Up stick lowers the pitch"));
    EXPECT_EQ(answer(told(d), d).tone, Tone::notice);
}

TEST(Transmitter, StepsComeInTheOrderInWhichNothingIsHurt) {
    for (const char* file : {"two_blade_600.toml", "tail_600.toml"}) {
        const auto steps = transmitter_steps(testing::demo(file));
        ASSERT_GE(steps.size(), 8U);
        EXPECT_THAT(steps[0], HasSubstr("Motor disconnected"));
        EXPECT_THAT(steps[1], HasSubstr("Horns off"));
        const auto at = [&](const char* words) {
            return std::ranges::find_if(steps, [&](const std::string& s) { return s.find(words) != s.npos; });
        };
        ASSERT_NE(at("directions tells"), steps.end());
        EXPECT_LT(at(" on at ") - steps.begin(), at("directions tells") - steps.begin());  // no horn, no turn to see
    }
    // Balls rise by horns that are on.
    const auto steps = transmitter_steps(testing::demo("two_blade_600.toml"));
    const auto at = [&](const char* start) {
        return std::ranges::find_if(steps, [&](const std::string& step) { return step.starts_with(start); });
    };
    ASSERT_NE(at("Collective stick up"), steps.end());
    EXPECT_LT(at("Horns on"), at("Collective stick up"));
}

}  // namespace
}  // namespace swashwright::studies
