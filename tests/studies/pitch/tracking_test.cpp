#include "kinematics/studies/pitch/tracking.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/mean.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using testing::demo;
using ::testing::HasSubstr;

Tracking tracked(const head::Description& d, const head::Sticks& sticks = {}) {
    const auto head = head::Head::build(d);
    EXPECT_TRUE(head);
    auto t = tracking(*head, sticks);
    EXPECT_TRUE(t) << (t ? "" : t.error().message);
    return t ? *t : Tracking{};
}

double spread_with(const Tracking& t, const std::vector<double>& step_mm, const std::vector<int>& steps,
                   double& shift) {
    std::vector<double> now = t.mean_deg;
    shift = 0;
    for (std::size_t k = 0; k < now.size(); ++k) {
        const double by = t.settings[k].deg_per_mm * step_mm[k] * steps[k];
        now[k] += by;
        shift += by / static_cast<double>(now.size());
    }
    const auto [low, high] = std::ranges::minmax_element(now);
    return *high - *low;
}

TEST(Tracking, FindsNothingToDoWhereAllBladesAreAlike) {
    const Tracking t = tracked(demo("two_blade_600.toml"));
    EXPECT_LT(t.split_deg, 1e-9);
    for (const LinkSetting& s : t.settings) EXPECT_EQ(s.steps, 0);
    EXPECT_EQ(answer(t, demo("two_blade_600.toml")).tone, Tone::calm);
}

TEST(Tracking, TurnsBothLinksOfATwoBladeHeadHalfTheDifferenceEach) {
    head::Description d = demo("two_blade_600.toml");
    d.upper_links[1].error_mm = 0.4;  // two half turns of M2: one on each side brings them together
    const Tracking t = tracked(d, {.collective = 0.3, .aileron = 0.5, .elevator = -0.2});
    ASSERT_EQ(t.pairs.size(), 1U);
    // One link 0.4 mm long on an arm of 26 mm: 0.4 / 26 rad = 0.88 deg, more by the cosine of the pitch.
    EXPECT_NEAR(t.pairs[0].mean_deg, 0.88, 0.03);
    EXPECT_GE(std::abs(t.pairs[0].largest_deg), std::abs(t.pairs[0].mean_deg));
    EXPECT_EQ(t.settings[0].steps, 1);
    EXPECT_EQ(t.settings[1].steps, -1);
    EXPECT_LT(t.split_after_deg, 0.02);
    EXPECT_LT(std::abs(t.mean_shift_deg), 0.02);
    EXPECT_THAT(answer(t, d).text, HasSubstr(mean_words(mean(t.mean_deg), mean(t.after_deg))));
    EXPECT_EQ(mean_words(0.344, 0.336), "the mean pitch stays at +0.34 deg");
    EXPECT_EQ(mean_words(0.344, -0.12), "the mean pitch goes from +0.34 to -0.12 deg");
    ASSERT_TRUE(t.pairs[0].tip_mm);
    EXPECT_NEAR(*t.pairs[0].tip_mm, t.flap->tip_mm_per_deg * t.pairs[0].mean_deg, 1e-12);
}

TEST(Tracking, SetsATurnbuckleByFlats) {
    head::Description d = demo("two_blade_600.toml");
    for (head::Link& link : d.upper_links) link.rod = head::Rod::turnbuckle;
    EXPECT_DOUBLE_EQ(link_step(d.upper_links[0]).mm, 0.8 / 6);  // M2 has 0.40 mm a turn (ISO 261), both ends, six flats
    d.upper_links[0].error_mm = -0.40;
    const Tracking t = tracked(d);
    EXPECT_EQ(t.settings[0].steps - t.settings[1].steps, 3);
    EXPECT_LT(t.split_after_deg, 0.01);
}

TEST(Tracking, ExactChangesBringTheBladesTogetherWithoutMovingTheMean) {
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        head::Description d = testing::random_head(seed);
        const head::Sticks sticks{.collective = 0.4, .aileron = 0.2, .elevator = 0};
        const Tracking t = tracked(d, sticks);
        for (std::size_t k = 0; k < t.settings.size(); ++k) d.upper_links[k].length_mm += t.settings[k].exact_mm;
        const Tracking then = tracked(d, sticks);
        // First order; second order of a change of 1 mm on an arm of 20 mm is 0.5 (1/20)^2 rad = 0.07 deg at most.
        EXPECT_LT(then.split_deg, 0.1 + 0.05 * t.split_deg) << seed;
    }
}

TEST(Tracking, IsNeverWorseThanRoundingEachLinkAloneAndSometimesMuchBetter) {
    int better = 0, cases = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const head::Description d = testing::random_head(seed);
        const Tracking t = tracked(d);
        std::vector<double> step;
        std::vector<int> alone, together;
        for (std::size_t k = 0; k < t.settings.size(); ++k) {
            step.push_back(link_step(d.upper_links[k]).mm);
            alone.push_back(static_cast<int>(std::lround(t.settings[k].exact_mm / step[k])));
            together.push_back(t.settings[k].steps);
        }
        double shift_alone = 0, shift = 0;
        const double split_alone = spread_with(t, step, alone, shift_alone);
        const double cost_alone = split_alone + 0.2 * std::abs(shift_alone);
        const double split = spread_with(t, step, together, shift);
        const double cost = split + 0.2 * std::abs(shift);
        EXPECT_LE(cost, cost_alone + 1e-6) << seed;
        ++cases;
        better += split < 0.7 * split_alone;
    }
    EXPECT_GT(better, cases / 10);
}

TEST(Tracking, ComparesBladesAtTheSamePlaceOnTheDisc) {
    // Cyclic swings every pitch by several degrees; compared at one place the blades differ by the long link, and by
    // the little that the ring hunts on its single driver pin.
    head::Description d = demo("three_blade_700.toml");
    d.upper_links[2].error_mm += 0.2;
    const Tracking t = tracked(d, {.collective = 0, .aileron = 1, .elevator = 0});
    ASSERT_EQ(t.pairs.size(), 3U);
    EXPECT_LT(std::abs(t.pairs[0].largest_deg), 0.3);
    EXPECT_NEAR(t.pairs[1].largest_deg, t.pairs[1].mean_deg, 0.3);
}

TEST(Tracking, SaysWhereTheThreadWouldNotHold) {
    head::Description d = testing::demo("two_blade_600.toml");
    d.upper_links[0].length_mm -= 0.8;  // to be turned out by some steps
    const auto told = [&] { return answer(*tracking(*head::Head::build(d), {}), d).text; };
    EXPECT_EQ(told().find("thread"), std::string::npos);
    // Two diameters of 2 mm are wanted in each end; as it is there are 4.1, and any step out takes some.
    d.upper_links[0].rod_length_mm = d.upper_links[0].length_mm - 22 + 2 * 4.1;
    EXPECT_NE(told().find("But upper link 1: its rod would have 3.9 mm of thread in each end"), std::string::npos)
        << told();
}

}  // namespace
}  // namespace swashwright::studies
