#include "kinematics/studies/pitch/range.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "kinematics/studies/pitch/servo_pulse.h"
#include "kinematics/studies/pitch/wanted_range.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;
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

// By hand: the left ball at azimuth 60 has 19 deg of collective, 12 sin 60 of aileron and 12 cos 60 of elevator. In a
// circle cyclic comes to 12 at most, in a square to 12 (sin 60 + cos 60); a limit of 1.5 leaves half of either.
TEST(PitchRange, PulsesAtTheEndsAreThoseOfTheSticksLetThrough) {
    head::Description d = two_blades();
    const auto ends = [&](head::CyclicStick shape, double limit) {
        d.mixing.cyclic_stick = shape;
        d.mixing.combined_limit = limit;
        const auto head = head::Head::build(d);
        const auto range = pitch_range(*head);
        const auto gains = horn_gains(*head, {12, 6});
        EXPECT_TRUE(range && gains);
        EXPECT_NEAR(gains->servos[0].most_deg - gains->servos[0].least_deg,
                    2 * (gains->collective_deg + (limit - 1) * gains->cyclic_deg *
                                                     (shape == head::CyclicStick::circle ? 1 : (1 + std::sqrt(3)) / 2)),
                    1e-9);
        return range->servos[0].most_us - 1500;
    };
    ASSERT_NEAR(d.swashplate.inner_balls[0].angle_deg, 60, 1e-12);
    const double corner = 12 * (std::sqrt(3) + 1) / 2;
    EXPECT_NEAR(ends(head::CyclicStick::circle, 2), 310, 1e-9);
    EXPECT_NEAR(ends(head::CyclicStick::square, 2), 10 * (19 + corner), 1e-9);
    EXPECT_NEAR(ends(head::CyclicStick::circle, 1.5), 250, 1e-9);
    EXPECT_NEAR(ends(head::CyclicStick::square, 1.5), 10 * (19 + corner / 2), 1e-9);
    d.servos[0].travel_deg = {-33, 33};
    const auto said = [&](head::CyclicStick shape) {
        d.mixing.cyclic_stick = shape;
        d.mixing.combined_limit = 2;
        return answer(*pitch_range(*head::Head::build(d)), d).text;
    };
    EXPECT_THAT(said(head::CyclicStick::circle),
                HasSubstr("travel for all sticks, with the cyclic stick in a circle."));
    EXPECT_THAT(said(head::CyclicStick::square), HasSubstr("runs out of travel, with the cyclic stick in a square."));
}

// What the transmitter does not let through need not close: with both sticks full this head locks.
TEST(PitchRange, LooksNoFartherThanTheSticksGo) {
    head::Description d = testing::demo("binding/locks_at_full_stick.toml");
    d.mixing.combined_limit = 1.4;
    const auto range = pitch_range(*head::Head::build(d));
    ASSERT_TRUE(range) << range.error().message;
    for (const TurnRow& row : range->cyclic)
        EXPECT_LE(std::abs(row.sticks.collective) + std::hypot(row.sticks.aileron, row.sticks.elevator), 1.4 + 1e-12);
    // 0.4 of the stick against 0.4 at mid collective: what collective does to cyclic, not how much less there is of it.
    // On the demo that is a change by a few in a hundred, with the whole stick and with less.
    d = two_blades();
    d.mixing.combined_limit = 1.4;
    const auto limited = pitch_range(*head::Head::build(d));
    for (const Interaction& row : limited->interaction)
        for (const double change : row.gain_change_percent) EXPECT_LT(std::abs(change), 10);
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

/// Pitch of every blade over its own azimuth, posed from neutral at every third degree: [blade][place].
std::vector<std::vector<double>> turned(const head::Head& head, const head::Sticks& sticks) {
    const auto blades = static_cast<std::size_t>(head.description().rotor.blades);
    constexpr std::size_t places = 120;
    std::vector<std::vector<double>> out(blades, std::vector<double>(places));
    for (std::size_t i = 0; i < places; ++i) {
        const auto pose = head.pose(sticks, 3.0 * static_cast<double>(i));
        EXPECT_TRUE(pose) << pose.error().message;
        for (std::size_t k = 0; k < blades; ++k) out[k][(i + k * places / blades) % places] = pose->pitch_deg[k];
    }
    return out;
}

double mean_of(const std::vector<double>& turn) {
    double sum = 0;
    for (const double pitch : turn) sum += pitch;
    return sum / static_cast<double>(turn.size());
}

/// The swing once a turn that the sticks add to what is there without them, blades averaged: the Fourier sum of the
/// differences.
double added(const head::Head& head, const head::Sticks& sticks) {
    const auto with = turned(head, sticks), without = turned(head, {sticks.collective, 0, 0});
    double sum = 0;
    for (std::size_t k = 0; k < with.size(); ++k) {
        double cosine = 0, sine = 0;
        for (std::size_t i = 0; i < with[k].size(); ++i) {
            const double by = with[k][i] - without[k][i], azimuth = 3.0 * static_cast<double>(i) * degree;
            cosine += by * std::cos(azimuth) / 60;
            sine += by * std::sin(azimuth) / 60;
        }
        sum += std::hypot(cosine, sine);
    }
    return sum / static_cast<double>(with.size());
}

double own_swing_of(const head::Head& head) {
    double sum = 0;
    const auto turn = turned(head, {});
    for (const auto& blade : turn) sum += harmonics(blade).first().amplitude();
    return sum / static_cast<double>(turn.size());
}

std::vector<head::Description> heads_with_a_tilted_ring() {
    std::vector<head::Description> out;
    for (std::uint64_t seed = 1; seed <= 20; ++seed)
        out.push_back(testing::random_head(seed, {.most_blades = 4, .misfit_mm = 1}));
    for (const char* name : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"}) {
        out.push_back(testing::demo(name));
        out.back().lower_links[1].error_mm = 0.5;
    }
    return out;
}

// What the headlines of `range` and of wanted ends say, and what poses from neutral show: one meaning of a swing.
TEST(PitchRange, SwingsAreWhatPosesShowWithCyclicLessThoseWithout) {
    int met = 0;
    for (const head::Description& d : heads_with_a_tilted_ring()) {
        const auto head = head::Head::build(d);
        const auto range = pitch_range(*head);
        if (!range) continue;  // a random head may not reach every corner
        ++met;
        EXPECT_NEAR(range->interaction[1].gain_deg[0], added(*head, {0, 1, 0}), 1e-7);
        EXPECT_NEAR(range->interaction[1].gain_deg[1], added(*head, {0, 0, 1}), 1e-7);
        const double own = own_swing_of(*head);
        EXPECT_EQ(answer(*range, d).text.find(own_swing(own)) != std::string::npos, true) << own;
        const auto gains = horn_gains(*head, {8, 5});
        if (!gains) continue;
        head::Description set = d;
        set.mixing.collective_deg = gains->collective_deg;
        set.mixing.cyclic_deg = gains->cyclic_deg;
        const auto there = head::Head::build(set);
        EXPECT_NEAR((added(*there, {0, 1, 0}) + added(*there, {0, 0, 1})) / 2, 5, 1e-7);
        EXPECT_NEAR(gains->own_deg, own, 1e-7);
        EXPECT_NE(answer(*gains, set).text.find(own_swing(own)), std::string::npos);
        double ends[2] = {0, 0};
        for (const int end : {0, 1})
            for (const auto& blade : turned(*there, {end == 0 ? -1.0 : 1.0, 0, 0})) ends[end] += mean_of(blade);
        EXPECT_NEAR((ends[1] - ends[0]) / 2 / d.rotor.blades, 8, 1e-7);
    }
    EXPECT_GE(met, 18);
}

// Against every hundredth of the stick: half of that is 2.5e-5 of the curve's height from its top, which is under 1
// deg.
TEST(PitchRange, StraysAtMostWhatAFineGridOfSticksShows) {
    int met = 0;
    for (const head::Description& d : heads_with_a_tilted_ring()) {
        const auto head = head::Head::build(d);
        const auto range = pitch_range(*head);
        if (!range) continue;
        ++met;
        const auto blades = static_cast<std::size_t>(d.rotor.blades);
        std::vector<std::vector<double>> means(blades);
        head::Solver solver(*head);
        for (int i = 0; i <= 200; ++i) {
            std::vector<double> sum(blades, 0.0);
            for (int a = 0; a < 12; ++a) {
                ASSERT_TRUE(solver.pose(head::Sticks{0.01 * i - 1, 0, 0}, 30.0 * a));
                for (std::size_t k = 0; k < blades; ++k) sum[k] += solver.pitch_deg(static_cast<int>(k)) / 12;
            }
            for (std::size_t k = 0; k < blades; ++k) means[k].push_back(sum[k]);
        }
        double most = 0;
        for (const auto& mean : means)
            for (std::size_t i = 0; i < mean.size(); ++i)
                most = std::max(most, std::abs(mean[i] - std::lerp(mean.front(), mean.back(), double(i) / 200)));
        EXPECT_GE(range->collective_bend_deg, most - 1e-7);
        EXPECT_LE(range->collective_bend_deg, most + 1e-4);
    }
    EXPECT_GE(met, 18);
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
            return swing_added(*pitch_harmonics(*set, sticks), *pitch_harmonics(*set, {}));
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
        for (std::string line; std::getline(text, line);)
            EXPECT_LE(std::ranges::count_if(line, [](char c) { return (c & 0xC0) != 0x80; }), 100) << line;
    }
}

}  // namespace
}  // namespace swashwright::studies
