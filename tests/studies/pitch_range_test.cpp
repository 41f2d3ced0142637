#include "kinematics/studies/pitch_range.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "kinematics/studies/servo_pulse.h"
#include "kinematics/studies/wanted_range.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using testing::two_blades;

/// Pitch of the two-blade demo (invented) for pure collective by plane geometry: horns of 16 under links of 35 that
/// stand upright at neutral, a ring that stays level, an upper link of 61 that leans 11 along the blade to an arm
/// of 26.
double pitch_by_hand(double horn_deg) {
    const double a = horn_deg * degree, off = 16 * (1 - std::cos(a));
    const double ring = 10 + 16 * std::sin(a) + std::sqrt(35 * 35 - off * off);
    const auto miss = [&](double t) {
        return 11 * 11 + std::pow(26 - 26 * std::cos(t), 2) + std::pow(111 + 26 * std::sin(t) - ring - 6, 2) - 61 * 61;
    };
    double low = -1, high = 1;  // rad; the miss grows with the pitch between them
    for (int i = 0; i < 60; ++i) (miss((low + high) / 2) > 0 ? high : low) = (low + high) / 2;
    return low / degree;
}

TEST(PitchRange, OfASquareHeadMatchesPlaneGeometry) {
    const auto head = head::Head::build(two_blades());
    const auto range = pitch_range(*head);
    ASSERT_TRUE(range) << range.error().message;
    ASSERT_EQ(range->collective.size(), 5u);
    for (const CollectiveRow& row : range->collective) {
        for (const double mean : row.mean_deg) EXPECT_NEAR(mean, pitch_by_hand(19 * row.collective), 1e-9);
        const double step = 1e-3;  // deg of horn: truncation about 1e-8 of the slope
        const double slope =
            19 * (pitch_by_hand(19 * row.collective + step) - pitch_by_hand(19 * row.collective - step)) / (2 * step);
        for (const double exact : row.slope_deg) EXPECT_NEAR(exact, slope, 1e-5);
        for (const double once : row.once_deg) EXPECT_LT(once, 1e-9);  // a level ring swings nothing
    }
    // A tenth of a degree a microsecond, all three horns: a tenth of the slope per degree of horn.
    EXPECT_NEAR(range->step_collective_deg, range->collective[2].slope_deg[0] / 19 * 0.1, 1e-9);
}

TEST(PitchRange, PulsesAtTheEndsFollowFromCentreAndGain) {
    head::Description d = two_blades();
    d.servos[2].pulse_centre_us = 1520;
    d.servos[2].pulse_deg_per_us = -0.08;
    d.servos[2].trim_deg = 0.4;
    const auto range = pitch_range(*head::Head::build(d));
    ASSERT_TRUE(range) << range.error().message;
    // Rear ball, azimuth 180: 19 deg of collective, none of aileron, 12 of elevator.
    EXPECT_NEAR(range->servos[2].least_us, 1520 - (0.4 + 31) / 0.08, 1e-9);
    EXPECT_NEAR(range->servos[2].most_us, 1520 - (0.4 - 31) / 0.08, 1e-9);
    EXPECT_TRUE(range->servos[2].within_travel);
    EXPECT_NEAR(horn_deg(d.servos[2], pulse_us(d.servos[2], 7.25)), 7.25, 1e-12);
    d.servos[2].travel_deg = {-30, 45};
    EXPECT_FALSE(pitch_range(*head::Head::build(d))->servos[2].within_travel);
}

TEST(PitchRange, InteractionIsWhatSeparateSweepsShow) {
    const auto head = head::Head::build(two_blades());
    const auto range = pitch_range(*head);
    ASSERT_TRUE(range) << range.error().message;
    // By hand, one azimuth after another, from poses that start at neutral each time.
    double mean = 0, cosine = 0, sine = 0, mean_without = 0;
    for (int i = 0; i < 72; ++i) {
        const double pitch = head->pose(head::Sticks{1, 1, 0}, 5.0 * i)->pitch_deg[0];
        mean += pitch / 72;
        cosine += pitch * std::cos(5.0 * i * degree) / 36;
        sine += pitch * std::sin(5.0 * i * degree) / 36;
        mean_without += head->pose(head::Sticks{1, 0, 0}, 5.0 * i)->pitch_deg[0] / 72;
    }
    const Interaction& top = range->interaction[2];
    EXPECT_EQ(top.collective, 1);
    EXPECT_NEAR(top.mean_shift_deg[0], mean - mean_without, 1e-8);
    EXPECT_NEAR(top.gain_deg[0], std::hypot(cosine, sine), 1e-8);
    EXPECT_NEAR(top.gain_change_percent[0], 100 * (top.gain_deg[0] / range->interaction[1].gain_deg[0] - 1), 1e-12);
}

TEST(HornGains, GiveTheWantedEndsOnRandomHeads) {
    int met = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        head::Description d = testing::random_head(seed);
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head) << head.error().message;
        const double wanted = d.upper_links.size() % 2 ? 9 : -8;
        const auto gains = horn_gains(*head, {wanted, 5});
        if (!gains) {
            EXPECT_FALSE(gains.error().message.empty());
            continue;
        }
        ++met;
        d.mixing.collective_deg = gains->collective_deg;
        d.mixing.cyclic_deg = gains->cyclic_deg;
        const auto set = head::Head::build(d);
        const auto mean = [&](double collective) {
            double sum = 0;
            const auto pitch = pitch_harmonics(*set, {collective, 0, 0});
            for (const Harmonics& h : *pitch) sum += h.mean;
            return sum / d.rotor.blades;
        };
        const auto swing = [&](const head::Sticks& sticks) {
            double sum = 0;
            const auto pitch = pitch_harmonics(*set, sticks);
            for (const Harmonics& h : *pitch) sum += h.first().amplitude();
            return sum / d.rotor.blades;
        };
        EXPECT_NEAR((mean(1) - mean(-1)) / 2, wanted, 1e-7);
        EXPECT_NEAR((swing({0, 1, 0}) + swing({0, 0, 1})) / 2, 5, 1e-7);
    }
    EXPECT_GE(met, 57);
    std::printf("horn gains found for %d of 60 random heads\n", met);
}

TEST(HornGains, SayWhatIsOutOfReachAndWhatIsBeyondTravel) {
    const auto head = head::Head::build(two_blades());
    const auto far = horn_gains(*head, {60, 6});
    ASSERT_FALSE(far);
    EXPECT_NE(far.error().message.find("out of the linkage's reach"), std::string::npos) << far.error().message;
    head::Description d = two_blades();
    for (head::Servo& servo : d.servos) servo.travel_deg = {-25, 25};
    const auto gains = horn_gains(*head::Head::build(d), {12, 7});
    ASSERT_TRUE(gains) << gains.error().message;
    EXPECT_FALSE(gains->servos[0].within_travel);
    EXPECT_NEAR(gains->servos[0].collective_deg, std::abs(gains->collective_deg), 1e-12);
    EXPECT_EQ(answer(*gains, d).tone, Tone::notice);
}

TEST(PitchRange, AnswersKeepTheirColumnsAndAHundredColumnsOfText) {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const head::Description d = testing::random_head(seed);
        const auto head = head::Head::build(d);
        const auto range = pitch_range(*head, {0.2, 0.3, 0.4});
        if (!range) continue;
        const Answer a = answer(*range, d);
        for (const Table& table : a.tables) {
            for (const auto& row : table.rows) EXPECT_EQ(row.size(), table.columns.size()) << table.key;
            EXPECT_TRUE(table.parts.empty() || table.parts.size() == table.rows.size()) << table.key;
        }
        std::istringstream text(as_text(a));
        for (std::string line; std::getline(text, line);) EXPECT_LE(line.size(), 100u) << line;
    }
}

}  // namespace
}  // namespace swashwright::studies
