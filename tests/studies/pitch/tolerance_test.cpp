#include "kinematics/studies/pitch/tolerance.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>

#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

std::vector<Tolerance> only(const head::Head& head, head::NumberKind kind, double plus_minus) {
    std::vector<Tolerance> out;
    for (const head::Number& p : head::numbers(head.description()))
        if (p.kind == kind) out.push_back({p, plus_minus});
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
    const auto study = tolerance(head, {.sticks = {}, .tolerances = only(head, head::NumberKind::pitch_offset, t)});
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
        tolerance(head, {.sticks = {}, .tolerances = only(head, head::NumberKind::lower_length, 0.1), .samples = 500});
    ASSERT_TRUE(study) << study.error();
    EXPECT_GT(study->pitch_deg[0].linear, 0.05);
    EXPECT_LT(study->split_95, 1e-3);
}

// Heads whose inner balls stand elsewhere than drawn, under a transmitter that was set up for the drawing: the sampled
// spread is that of poses worked out here, ball by ball, with horn angles given directly as the sound head has them.
TEST(Tolerance, TheMixerKeepsTheAzimuthsThatItWasSetUpWith) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    const head::Sticks sticks{.collective = 0.3, .aileron = 0.7, .elevator = 0.4};
    constexpr double t = 4;
    auto all = only(head, head::NumberKind::inner_ball, t);
    std::erase_if(all, [](const Tolerance& one) { return one.number.unit != head::Unit::deg; });
    const auto horns = head.horn_angles_deg(sticks);
    for (const Tolerance& one : all) {
        const auto study = tolerance(head, {.sticks = sticks, .tolerances = {one}, .samples = 400});
        ASSERT_TRUE(study) << study.error();
        // The mean as the azimuth goes through its range: both ends, and the least and most between.
        std::vector<double> least(3, 1e9), most(3, -1e9);
        for (int i = 0; i <= 40; ++i) {
            head::Description moved = head.description();
            head::value(moved, one.number) += t * (i / 20.0 - 1);
            const auto built = head::Head::build(moved);
            ASSERT_TRUE(built);
            std::vector<double> mean(3, 0.0);
            for (int a = 0; a < 6; ++a) {
                const auto pose = built->pose(horns, 60.0 * a);
                ASSERT_TRUE(pose);
                for (std::size_t k = 0; k < 3; ++k) mean[k] += pose->pitch_deg[k] / 6;
            }
            for (std::size_t k = 0; k < 3; ++k)
                least[k] = std::min(least[k], mean[k]), most[k] = std::max(most[k], mean[k]);
        }
        for (std::size_t k = 0; k < 3; ++k) {
            // 400 draws leave the ends by about 1/400 of the range; a smooth curve is within 1/400 of its samples.
            const double slack = 0.02 * (most[k] - least[k]) + 1e-9;
            EXPECT_GE(study->pitch_deg[k].least, least[k] - slack) << one.number.path;
            EXPECT_LE(study->pitch_deg[k].most, most[k] + slack) << one.number.path;
            EXPECT_NEAR(study->pitch_deg[k].least, least[k], 3 * slack) << one.number.path;
            EXPECT_NEAR(study->pitch_deg[k].most, most[k], 3 * slack) << one.number.path;
        }
    }
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
        EXPECT_LE(study->split_95_tightened, *request.wanted_split_deg);
        EXPECT_GT(study->split_95_tightened, 0.95 * *request.wanted_split_deg);
        EXPECT_FALSE(study->held());
        EXPECT_TRUE(study->held_tightened());
        EXPECT_LT(study->shares.front().tightened, study->shares.front().tolerance.plus_minus);
        EXPECT_EQ(study->shares.back().tightened, study->shares.back().tolerance.plus_minus);
        request.wanted_split_deg = 2 * as_is->split_95;
        const auto loose = tolerance(head, request);
        ASSERT_TRUE(loose) << loose.error();
        EXPECT_TRUE(loose->held());
        for (const Share& share : loose->shares) EXPECT_EQ(share.tightened, share.tolerance.plus_minus);
    }
}

/// What 95 of 100 heads come to and how many cannot be assembled, by draws of the test's own, each posed from neutral
/// at every tenth degree.
struct Built {
    double split_95 = 0, failed = 0;  // failed: share
};

Built built(const head::Description& base, const std::vector<Tolerance>& tolerances, int heads) {
    std::mt19937_64 bits(11);
    testing::Draw draw(bits);
    std::vector<double> splits;
    for (int i = 0; i < heads; ++i) {
        head::Description d = base;
        for (const Tolerance& t : tolerances) head::value(d, t.number) += draw.between(-t.plus_minus, t.plus_minus);
        const auto head = head::Head::build(d);
        std::vector<double> mean(d.grips.size(), 0.0);
        bool closes = head.has_value();
        for (int a = 0; a < 36 && closes; ++a) {
            const auto pose = head->pose(head::Sticks{}, 10.0 * a);
            closes = pose.has_value();
            for (std::size_t k = 0; k < mean.size() && closes; ++k) mean[k] += pose->pitch_deg[k] / 36;
        }
        if (!closes) continue;
        const auto [least, most] = std::ranges::minmax_element(mean);
        splits.push_back(*most - *least);
    }
    std::ranges::sort(splits);
    return {splits[splits.size() * 95 / 100], 1 - static_cast<double>(splits.size()) / heads};
}

/// A head whose lower links are cut so badly that many cannot be assembled.
std::vector<Tolerance> wild(const head::Head& head) {
    std::vector<Tolerance> out = usual_tolerances(head.description());
    for (Tolerance& t : out)
        if (t.number.kind == head::NumberKind::upper_length) t.plus_minus = 45;
    return out;
}

// Of 2,000 draws here and 4,000 there the 95th of a smooth spread is known to about 3 % of it, a share of a third to
// sqrt(2/9 (1/2000 + 1/4000)) = 0.013; three times that.
TEST(Tolerance, HeadlineIsWhatHeadsBuiltAtRandomShowAllRoundTheTurn) {
    std::vector<head::Description> heads;
    for (const char* name : demos) heads.push_back(testing::demo(name));
    for (std::uint64_t seed = 1; seed <= 3; ++seed) heads.push_back(testing::random_head(seed, {.most_blades = 3}));
    int with_failures = 0;
    for (const head::Description& d : heads) {
        const head::Head head = head::Head::build(d).value();
        for (const auto& tolerances : {usual_tolerances(d), wild(head)}) {
            const auto study = tolerance(head, {.sticks = {}, .tolerances = tolerances, .samples = 4000});
            ASSERT_TRUE(study) << study.error();
            const Built seen = built(d, tolerances, 2000);
            EXPECT_NEAR(study->split_95 / seen.split_95, 1, 0.09) << d.name;
            EXPECT_NEAR(study->failed / 4000.0, seen.failed, 0.04) << d.name;
            EXPECT_EQ(answer(*study).text.find("cannot be assembled") != std::string::npos, study->failed > 0);
            with_failures += seen.failed > 0.05;
        }
    }
    EXPECT_GE(with_failures, 3);
}

TEST(Tolerance, NothingIsHeldThatCannotBeBuilt) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    const auto study =
        tolerance(head, {.sticks = {}, .tolerances = wild(head), .samples = 1000, .wanted_split_deg = 80});
    ASSERT_TRUE(study) << study.error();
    ASSERT_GT(study->failed, 50);
    EXPECT_FALSE(study->held());
    EXPECT_EQ(answer(*study).text.find("is held"), std::string::npos) << answer(*study).text;
    EXPECT_TRUE(study->held_tightened());  // narrower upper links can be assembled
    EXPECT_LT(study->shares.front().tightened, study->shares.front().tolerance.plus_minus);
}

TEST(Tolerance, TightensTowardsTheSplitThatIsThereAlreadyAndNoFarther) {
    head::Description d = testing::demo("two_blade_600.toml");
    d.grips[0].pitch_offset_deg += 0.3;
    const head::Head head = head::Head::build(d).value();
    ToleranceRequest request{
        .sticks = {}, .tolerances = usual_tolerances(d), .samples = 2000, .wanted_split_deg = 0.33};
    const auto above = tolerance(head, request);
    ASSERT_TRUE(above) << above.error();
    EXPECT_TRUE(above->held_tightened());
    EXPECT_GT(above->split_95_tightened, 0.32);
    request.wanted_split_deg = 0.29;
    const auto below = tolerance(head, request);
    ASSERT_TRUE(below) << below.error();
    EXPECT_FALSE(below->held_tightened());
    EXPECT_NE(answer(*below).text.find("split by 0.30 deg already"), std::string::npos) << answer(*below).text;
    for (const Share& share : below->shares) EXPECT_EQ(share.tightened, share.tolerance.plus_minus);
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
                  {.stop = stop.get_token()});
    ASSERT_FALSE(study);
    EXPECT_EQ(study.error(), "stopped");
}

TEST(Tolerance, RefusesWhatMakesNoSense) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    EXPECT_FALSE(tolerance(head, {.sticks = {}, .tolerances = {}}));
    EXPECT_FALSE(tolerance(head, {.sticks = {}, .tolerances = only(head, head::NumberKind::upper_length, -0.1)}));
    const auto nothing =
        tolerance(head, {.sticks = {}, .tolerances = usual_tolerances(head.description()), .wanted_split_deg = 0});
    ASSERT_FALSE(nothing);
    EXPECT_EQ(nothing.error(), "the split to be held must be above 0 deg: no tolerance keeps two blades exactly alike");
}

}  // namespace
}  // namespace swashwright::studies
