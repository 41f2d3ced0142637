#include "kinematics/studies/joints/play.h"

#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/head/numbers.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

/// Pitch of all blades with the links' lengths off by `by`, lower links first; the head is built anew.
std::vector<double> pitch_with(head::Description d, const std::vector<double>& by, const PlayOptions& at) {
    std::size_t i = 0;
    for (auto* links : {&d.lower_links, &d.upper_links})
        for (head::Link& link : *links) link.error_mm += by[i++];
    return head::Head::build(d)->pose(at.sticks, *at.azimuth_deg)->pitch_deg;
}

/// Draws each ball link's place within its play, even over [-p, p], and poses the head itself: no linear theory.
TEST(Play, AgreesWithBruteForceSampling) {
    for (const std::uint64_t seed : {3, 8, 21}) {
        head::Description d = testing::random_head(seed);
        for (std::size_t i = 0; i < 3; ++i) d.lower_links[i].play_mm = 0.01 * static_cast<double>(i + 1);
        PlayOptions at;
        at.sticks = {0.4, 0.3, -0.2};
        at.azimuth_deg = 50;
        const auto head = head::Head::build(d);
        const auto play = studies::play(*head, at);
        ASSERT_TRUE(play) << play.error().message;
        const auto still = head->pose(at.sticks, 50)->pitch_deg;
        std::mt19937_64 bits(seed);
        testing::Draw draw(bits);
        const int count = 4000;
        std::vector<double> squares(still.size(), 0), worst(still.size(), 0);
        for (int n = 0; n < count; ++n) {
            std::vector<double> by;
            for (const auto* links : {&d.lower_links, &d.upper_links})
                for (const head::Link& link : *links) {
                    const double p = link.play_mm;
                    by.push_back(draw.between(-p, p) + draw.between(-p, p));
                }
            const auto pitch = pitch_with(d, by, at);
            for (std::size_t k = 0; k < still.size(); ++k) {
                squares[k] += std::pow(pitch[k] - still[k], 2) / count;
                worst[k] = std::max(worst[k], std::abs(pitch[k] - still[k]));
            }
        }
        for (std::size_t k = 0; k < still.size(); ++k) {
            // Standard error of a standard deviation from 4000 draws: 1.1 %; four of them, and 0.1 % of second order.
            EXPECT_NEAR(std::sqrt(squares[k]), play->rms_deg[k], 0.046 * play->rms_deg[k]);
            EXPECT_LT(worst[k], play->worst_deg[k] * 1.01);
        }
    }
}

TEST(Play, TheWorstCaseIsReachedWhereEveryBallLinkPushesTheSameWay) {
    const head::Description d = testing::random_head(5);
    PlayOptions at;
    at.azimuth_deg = 120;
    const auto head = head::Head::build(d);
    const auto play = studies::play(*head, at);
    ASSERT_TRUE(play) << play.error().message;
    const auto still = head->pose(at.sticks, 120)->pitch_deg;
    // Every corner of the links' lengths, each by twice its play.
    const std::size_t links = 3 + d.upper_links.size();
    std::vector<double> most(still.size(), 0);
    for (unsigned corner = 0; corner < (1u << links); ++corner) {
        std::vector<double> by;
        for (std::size_t i = 0; i < links; ++i) by.push_back((corner >> i & 1 ? 2 : -2) * 0.02);
        const auto pitch = pitch_with(d, by, at);
        for (std::size_t k = 0; k < still.size(); ++k) most[k] = std::max(most[k], std::abs(pitch[k] - still[k]));
    }
    // Linear theory: second order is about (0.1 mm over an arm of 20)^2 of 57 deg, 0.002 deg at most.
    for (std::size_t k = 0; k < still.size(); ++k) EXPECT_NEAR(play->worst_deg[k], most[k], 0.003);
}

TEST(Play, SharesAddUpAndFallAndScaleWithThePlay) {
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        const auto head = head::Head::build(testing::random_head(seed));
        PlayOptions options;
        const auto play = studies::play(*head, options);
        if (!play) continue;
        double sum = 0, before = 100;
        for (const PlayShare& share : play->shares) {
            sum += share.share_percent;
            EXPECT_LE(share.share_percent, before);
            before = share.share_percent;
        }
        EXPECT_NEAR(sum, 100, 1e-9);
        options.play_mm = 0.04;  // twice the links' own
        const auto twice = studies::play(*head, options);
        for (std::size_t k = 0; k < play->rms_deg.size(); ++k) {
            EXPECT_NEAR(twice->rms_deg[k], 2 * play->rms_deg[k], 1e-12);
            EXPECT_NEAR(twice->worst_deg[k], 2 * play->worst_deg[k], 1e-12);
        }
        options.play_mm = 0;
        const auto none = studies::play(*head, options);
        EXPECT_EQ(none->rms_deg[0], 0);
        EXPECT_EQ(answer(*none, options).text, "No ball link has play, so no blade rocks.");
    }
}

}  // namespace
}  // namespace swashwright::studies
