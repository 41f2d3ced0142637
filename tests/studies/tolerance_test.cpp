#include "kinematics/studies/tolerance.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <thread>

#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

std::vector<Tolerance> only(const head::Head& head, head::Measure measure, double plus_minus) {
    std::vector<Tolerance> out;
    for (const head::Parameter& p : head::parameters(head.description()))
        if (p.measure == measure) out.push_back({p, plus_minus});
    return out;
}

constexpr const char* demos[] = {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"};

// A standard deviation from 10,000 samples is itself known to about 1/sqrt(2 x 10,000) = 0.7 %; five times that, and 1
// % for the curvature of the real linkage.
TEST(Tolerance, LinearAndSampledSpreadAgree) {
    for (const char* name : demos) {
        SCOPED_TRACE(name);
        const head::Head head = testing::demo_head(name);
        const auto study = tolerance(head, {.sticks = {}, .tolerances = usual_tolerances(head.description())});
        ASSERT_TRUE(study) << study.error();
        EXPECT_EQ(study->failed, 0);
        for (const Spread& blade : study->pitch_deg) {
            EXPECT_NEAR(blade.sampled / blade.linear, 1, 0.045);
            EXPECT_GT(blade.sampled, 0.05);
            EXPECT_LE(blade.most - blade.nominal, blade.worst * 1.02);
        }
        EXPECT_NEAR(study->split_deg.sampled / study->split_deg.linear, 1, 0.02);  // the same draws
        EXPECT_NEAR(study->split_95 / study->split_95_linear, 1, 0.02);
    }
}

// Two blades whose offsets alone are off, evenly within t: their difference has a triangular distribution on -2t..2t,
// so that 95 of 100 are within 2t (1 - sqrt(0.05)). The density there is sqrt(0.05)/t, so the 95th of 10,000 draws is
// known to sqrt(0.05 x 0.95 / 10,000) t / sqrt(0.05) = 0.01 t; four times that.
TEST(Tolerance, OfOffsetsAloneHasAClosedForm) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    constexpr double t = 0.3;
    const auto study = tolerance(head, {.sticks = {}, .tolerances = only(head, head::Measure::pitch_offset, t)});
    ASSERT_TRUE(study) << study.error();
    EXPECT_NEAR(study->pitch_deg[0].linear, t / std::sqrt(3.0), 1e-12);
    EXPECT_NEAR(study->pitch_deg[0].worst, t, 1e-12);
    EXPECT_NEAR(study->split_deg.worst, 2 * t, 1e-9);
    EXPECT_NEAR(study->split_95, 2 * t * (1 - std::sqrt(0.05)), 0.04 * t);
    EXPECT_NEAR(study->split_95, study->split_95_linear, 1e-9);  // an offset is linear
    for (const Share& share : study->shares) {
        EXPECT_NEAR(share.of_split, 0.5, 1e-12);
        EXPECT_NEAR(share.split_deg, t / std::sqrt(3.0), 1e-12);
    }
}

TEST(Tolerance, LowerLinksDoNotSplitTheBladesOfASymmetricalHead) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    const auto study =
        tolerance(head, {.sticks = {}, .tolerances = only(head, head::Measure::lower_length, 0.1), .samples = 500});
    ASSERT_TRUE(study) << study.error();
    EXPECT_GT(study->pitch_deg[0].linear, 0.05);
    EXPECT_LT(study->split_95, 1e-3);
}

TEST(Tolerance, SameFiguresWhateverTheNumberOfWorkers) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    ToleranceRequest request{
        .sticks = {}, .tolerances = usual_tolerances(head.description()), .samples = 1000, .workers = 1};
    const auto alone = tolerance(head, request);
    request.workers = 3;
    const auto shared = tolerance(head, request);
    ASSERT_TRUE(alone && shared);
    EXPECT_EQ(alone->split_95, shared->split_95);
    EXPECT_EQ(alone->pitch_deg[2].sampled, shared->pitch_deg[2].sampled);
    request.seed = 2;
    EXPECT_NE(tolerance(head, request)->split_95, alone->split_95);
}

TEST(Tolerance, TightensOnlyWhatAWantedSplitNeeds) {
    for (const char* name : demos) {
        SCOPED_TRACE(name);
        const head::Head head = testing::demo_head(name);
        ToleranceRequest request{.sticks = {}, .tolerances = usual_tolerances(head.description()), .samples = 2000};
        const auto as_is = tolerance(head, request);
        ASSERT_TRUE(as_is);
        request.wanted_split_deg = 0.6 * as_is->split_95;
        const auto study = tolerance(head, request);
        ASSERT_TRUE(study) << study.error();
        EXPECT_LE(study->split_95_tightened, request.wanted_split_deg);
        EXPECT_GT(study->split_95_tightened, 0.95 * request.wanted_split_deg);
        EXPECT_LT(study->shares.front().tightened, study->shares.front().tolerance.plus_minus);
        EXPECT_EQ(study->shares.back().tightened, study->shares.back().tolerance.plus_minus);
        request.wanted_split_deg = 2 * as_is->split_95;
        const auto loose = tolerance(head, request);
        ASSERT_TRUE(loose) << loose.error();
        for (const Share& share : loose->shares) EXPECT_EQ(share.tightened, share.tolerance.plus_minus);
    }
}

TEST(Tolerance, TenThousandHeadsTakeASecondOrTwo) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    const auto start = std::chrono::steady_clock::now();
    ASSERT_TRUE(tolerance(head, {.sticks = {}, .tolerances = usual_tolerances(head.description())}));
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    RecordProperty("seconds", std::to_string(seconds));
    EXPECT_LT(seconds, 30);  // a guard against something gone badly wrong, on a busy machine or with sanitizers
}

TEST(Tolerance, StopsWhenAsked) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    std::stop_source stop;
    std::jthread asker([&] {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        stop.request_stop();
    });
    const auto study =
        tolerance(head, {.sticks = {}, .tolerances = usual_tolerances(head.description()), .samples = 2'000'000},
                  stop.get_token());
    ASSERT_FALSE(study);
    EXPECT_EQ(study.error(), "stopped");
}

TEST(Tolerance, RefusesWhatMakesNoSense) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    EXPECT_FALSE(tolerance(head, {.sticks = {}, .tolerances = {}}));
    EXPECT_FALSE(tolerance(head, {.sticks = {}, .tolerances = only(head, head::Measure::upper_length, -0.1)}));
}

}  // namespace
}  // namespace swashwright::studies
