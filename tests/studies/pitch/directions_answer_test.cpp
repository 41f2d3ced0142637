// What the first questions at the bench say in words, sentence and tables.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/studies/pitch/directions.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;
using testing::two_blades;

Answer said(const head::Description& d, double lag_deg = 90) {
    const auto questions = directions(*head::Head::build(d), lag_deg);
    EXPECT_TRUE(questions) << questions.error().message;
    return questions ? answer(*questions, d) : Answer{};
}

double number(const Cell& cell) {
    return std::get<double>(cell);
}

TEST(DirectionsAnswer, TellsChannelsAgainstEachOtherWhereNoPulseIsMeasured) {
    const Answer a = said(two_blades());
    EXPECT_EQ(a.tone, Tone::calm);
    EXPECT_EQ(a.text,
              "With servos of one kind the channel of servo left must run opposite to those of servo right and servo "
              "rear. The phase can "
              "stay at 0.0 "
              "deg.");
    EXPECT_EQ(a.tables[0].rows[0][7], Cell("right and rear"));
    EXPECT_EQ(a.tables[0].rows[3][7], Cell("left"));
    EXPECT_EQ(a.tables[0].rows[0][5], Cell());  // which way a pulse turns it nobody knows
    EXPECT_EQ(a.tables[0].rows[0][6], Cell());
    EXPECT_THAT(a.notes, Contains(HasSubstr("the sign of that stick in the mix is wrong, not a servo")));
    EXPECT_THAT(a.notes[0], HasSubstr("by 90 deg in the direction of rotation"));
    // By first-order geometry as in directions_test: atan(6 * 11 / 60 / 26) = 2.42 deg.
    EXPECT_THAT(a.notes.back(), StartsWith("For a lag of exactly 90 deg a phase of +2.4 deg"));
}

// Turned servos alike all round: every one as the others.
TEST(DirectionsAnswer, TellsThatAllChannelsRunAlikeWhereTheyMust) {
    head::Description d = two_blades();
    d.servos[0].raise = 1;
    d.servos[0].axis = -d.servos[0].axis;
    const Answer a = said(d);
    EXPECT_THAT(a.text, StartsWith("With servos of one kind all channels must run the same way."));
    EXPECT_EQ(a.tables[0].rows[0][7], Cell("none"));
}

TEST(DirectionsAnswer, SaysWhatToReverseWhereAPulseIsMeasured) {
    head::Description d = two_blades();
    d.servos[1].pulse_deg_per_us = 0.11;
    EXPECT_THAT(said(d).text, StartsWith("Reverse the channel of servo left."));
    d.servos[0].pulse_deg_per_us = -0.1;
    EXPECT_THAT(said(d).text, StartsWith("No channel needs reversing."));
}

// All servos raise their balls as they should, and the disc goes the wrong way: a sign of the mix. Done as told, and
// asked again.
TEST(DirectionsAnswer, TellsAWrongMixFromAWrongServo) {
    head::Description d = two_blades();
    d.mixing.cyclic_deg = -d.mixing.cyclic_deg;
    EXPECT_EQ(said(d).tone, Tone::notice);
    EXPECT_THAT(
        said(d).text,
        HasSubstr("servo right and servo rear. Aileron and elevator tilt the disc the wrong way: change the sign "
                  "of the cyclic travel in the mix, not a servo. The phase can stay"));
    d.mixing.cyclic_deg = -d.mixing.cyclic_deg;
    EXPECT_THAT(said(d).text, Not(HasSubstr("wrong way")));
    for (std::size_t j = 0; j < 3; ++j)  // the rule of scenes/README.md with the other sign
        d.servos[j].aileron_weight = -std::sin(d.swashplate.inner_balls[j].angle_deg * degree);
    EXPECT_THAT(said(d).text,
                HasSubstr(" Aileron tilts the disc the wrong way: change its sign in the mix, not a servo."));
    EXPECT_EQ(said(d).tone, Tone::notice);
}

/// Levers do the mixing: each servo has a stick of its own, left aileron, right elevator, rear collective.
head::Description one_servo_a_stick() {
    head::Description d = two_blades();
    for (std::size_t j = 0; j < 3; ++j) {
        d.servos[j].aileron_weight = j == 0 ? 1.0 : 0.0;
        d.servos[j].elevator_weight = j == 1 ? 1.0 : 0.0;
        d.servos[j].collective_weight = j == 2 ? 1.0 : 0.0;
    }
    return d;
}

// No mix is there to be changed: what is told of a channel holds whichever sign the scene gives its stick.
TEST(DirectionsAnswer, BlamesNoMixWhereEachStickHasAServo) {
    head::Description d = one_servo_a_stick();
    const std::string opposite = said(d).text.substr(0, said(d).text.find('.'));
    for (const double aileron : {1.0, -1.0, 1.0}) {
        d.servos[0].aileron_weight = aileron;
        const Answer a = said(d);
        EXPECT_THAT(a.text, StartsWith(opposite + "."));
        EXPECT_THAT(a.text, Not(HasSubstr("mix")));
        EXPECT_THAT(a.notes, Not(Contains(HasSubstr("in the mix"))));
        EXPECT_THAT(a.notes, Not(Contains(HasSubstr("must stay level"))));
        EXPECT_THAT(a.notes, Contains(HasSubstr("each stick moves a servo of its own")));
        const bool wrong = directions(*head::Head::build(d))->aileron.wrong_way();
        EXPECT_EQ(a.text.find("aileron tilts the disc the wrong way; what is told of the channels puts that right") !=
                      std::string::npos,
                  wrong);
    }
}

// Followed on the head: the longer pulse of the channel, reversed or not, turns the rear servo so that pitch grows.
TEST(DirectionsAnswer, ReversesTheChannelOfASticksOwnServoForItsStick) {
    for (const double pulse : {0.11, -0.11})
        for (const double collective : {19.0, -19.0}) {
            head::Description d = one_servo_a_stick();
            d.servos[2].pulse_deg_per_us = pulse;
            d.mixing.collective_deg = collective;
            const head::Head head = *head::Head::build(d);
            const bool reverse = directions(head)->servos[2].reverse;
            std::vector<double> horns = head.horn_angles_deg({});
            horns[2] += (reverse ? -1 : 1) * 50 * pulse;
            double grown = 0;
            for (const double azimuth : {0.0, 90.0, 180.0, 270.0})
                grown += head.pose(horns, azimuth)->pitch_deg[0] - head.pose(head::Sticks{}, azimuth)->pitch_deg[0];
            EXPECT_GT(grown, 1) << pulse << " " << collective;
            EXPECT_EQ(said(d).text.find("As the head is set up stick lowers the pitch") != std::string::npos,
                      collective < 0);
        }
}

// The lag is not known to 5 deg: only a phase farther off is worth a word.
TEST(DirectionsAnswer, SpeaksOfAPhaseOnlyWhereItIsFarOff) {
    head::Description d = two_blades();
    const double best = *directions(*head::Head::build(d))->phase_deg;
    for (const double off : {-6.0, -4.9, 4.9, 6.0}) {
        d.mixing.phase_deg = best + off;
        const Answer a = said(d);
        const bool far = std::abs(off) > 5;
        EXPECT_EQ(a.tone, far ? Tone::notice : Tone::calm) << off;
        EXPECT_THAT(a.text, HasSubstr(far ? "A phase of about 2 deg (now " : "The phase can stay at "));
    }
}

TEST(DirectionsAnswer, NoticesThatUpStickLowersThePitch) {
    head::Description d = two_blades();
    d.mixing.collective_deg = -19;
    EXPECT_EQ(said(d).tone, Tone::notice);
    EXPECT_THAT(said(d).text, HasSubstr(" Up stick lowers pitch: change the sign of the collective travel."));
    EXPECT_THAT(said(two_blades()).text, Not(HasSubstr("Up stick lowers")));
}

TEST(DirectionsAnswer, AdmitsThatNoPhaseHelps) {
    head::Description d = two_blades();  // weights of the servos' own: the phase moves nothing
    for (head::Servo& servo : d.servos) servo.aileron_weight = servo.elevator_weight = 0.5;
    d.servos[0].elevator_weight = d.servos[1].aileron_weight = -0.5;
    const Answer a = said(d, 45);
    EXPECT_EQ(a.tone, Tone::notice);
    EXPECT_THAT(a.text, HasSubstr("No phase setting makes elevator tilt the disc straight fore and aft."));
    EXPECT_THAT(a.notes, Not(Contains(HasSubstr("For a lag of exactly"))));
}

// A horn of 16 mm that goes from level by 19 deg lifts its ball by 16 sin 19 deg = 5.209 mm; 19 deg at a tenth of a
// degree a microsecond are 190 us.
TEST(DirectionsAnswer, TellsEveryServoAndStickAsOneSeesIt) {
    head::Description d = two_blades();
    d.servos[2].pulse_deg_per_us = 0.2;  // measured
    const Answer a = said(d);
    const Table& servos = a.tables[0];
    ASSERT_EQ(servos.rows.size(), 9U);
    ASSERT_EQ(servos.parts.size(), 9U);
    EXPECT_EQ(servos.rows[0][0], Cell("left"));
    EXPECT_EQ(servos.rows[0][1], Cell("up"));
    EXPECT_EQ(servos.rows[0][2], Cell("clockwise"));
    EXPECT_NEAR(number(servos.rows[0][3]), -19, 1e-9);
    EXPECT_NEAR(number(servos.rows[0][4]), 5.209, 5e-4);
    EXPECT_NEAR(number(servos.rows[0][5]), -190, 1e-9);
    EXPECT_EQ(servos.rows[0][6], Cell("yes"));
    EXPECT_EQ(servos.rows[3][2], Cell("anticlockwise"));  // right servo, stick up
    EXPECT_EQ(servos.rows[3][6], Cell("no"));
    EXPECT_EQ(servos.rows[7][1], Cell("right"));
    EXPECT_EQ(servos.rows[7][2], Cell("stays"));  // the rear ball stands on the line about which aileron tilts
    EXPECT_EQ(servos.parts[7], "servo[3]");
}

// Clockwise, balls a quarter turn ahead: full forward stick adds most where the blade points right, nearly (see
// directions_test), full right stick where it points to the tail.
TEST(DirectionsAnswer, TellsWhereTheBladePoints) {
    const Table gauge = said(two_blades()).tables[1];
    ASSERT_EQ(gauge.rows.size(), 2U);
    EXPECT_EQ(gauge.rows[0][2], Cell("the tail"));
    EXPECT_EQ(gauge.rows[1][2], Cell("the right"));
    for (const auto& row : gauge.rows)
        EXPECT_NEAR(number(row[5]), std::remainder(number(row[1]) - number(row[4]), 360), 1e-9);
}

}  // namespace
}  // namespace swashwright::studies
