// The set-up step by step, followed by hands that do what is said on a head that is not as its scene has it: afterwards
// the poses of the real head must be what the steps promise.
#include "kinematics/studies/bench/bench_steps.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/face.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/pitch/ring_seen.h"
#include "kinematics/studies/pitch/tracking.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::AnyOf;
using ::testing::HasSubstr;
using ::testing::Not;

/// What a builder with perfect tools reads on the real head where the step asks for a number.
double read_on(const Description& real, const BenchStep& step) {
    const Head head = Head::build(real).value();
    if (step.tool == BenchTool::calliper) {
        const auto j = static_cast<std::size_t>(step.reading->key[7] - '1');  // "height 2, round 1"
        const auto pose = head.pose(head::Sticks{}, 0);
        return pose->skeleton.inner_balls[j].z() + inner_ball_mm(head, j) / 2 - face_height_mm(real);
    }
    const auto blade = head::part_of(step.part)->index;
    return head.pose(step.sticks, step.azimuth_deg)->pitch_deg[static_cast<std::size_t>(blade)];
}

struct Followed {
    Description real;
    BenchReadings read;
    int turned = 0;
};

/// Does step after step: reads, types, turns.
Followed follow(const Head& open, Description real) {
    Followed out{std::move(real), {}, 0};
    std::vector<BenchStep> steps = bench_steps(open).value();
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const BenchStep step = steps[i];
        if (step.turn) {
            head::link_of(out.real, step.turn->link)->error_mm += step.turn->change_mm;
            ++out.turned;
        }
        if (!step.reading) continue;
        out.read[step.reading->key] = read_on(out.real, step);
        steps = bench_steps(open, out.read).value();
    }
    return out;
}

/// Half of what one step of any of these links does, in deg of ring lean or of pitch; a little more for rounding
/// together.
double half_step_mm(const std::vector<head::Link>& links) {
    double out = 0;
    for (const head::Link& link : links) out = std::max(out, link_step(link).mm / 2);
    return out;
}

void expect_set_up(const Head& open, const Followed& done) {
    const Head real = Head::build(done.real).value();
    const auto pose = real.pose(head::Sticks{}, 0);
    ASSERT_TRUE(pose);
    const Description& d = open.description();
    double radius = 1e9;
    for (const head::Polar& ball : d.swashplate.inner_balls) radius = std::min(radius, ball.radius_mm);
    // Each link off by half a step at most on a ring that it holds at its radius: two of them may stand opposite.
    EXPECT_LT(pose->tilt_deg, 2.5 * half_step_mm(d.lower_links) / radius / degree);
    const auto track = tracking(open, head::Sticks{});
    ASSERT_TRUE(track);
    // Rounded each alone, no blade is off by more than half a step: a split of one step at most, a mean of half of one.
    // Rounded together they are at least as good as that, a mean counting a fifth of a split.
    double step = 0, mean = 0, low = 1e9, high = -1e9;
    for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k) {
        const double azimuth = -360.0 * static_cast<double>(k) / static_cast<double>(pose->pitch_deg.size());
        const double pitch = real.pose(head::Sticks{}, azimuth)->pitch_deg[k];
        step = std::max(step, link_step(d.upper_links[k]).mm * std::abs(track->settings[k].deg_per_mm));
        mean += pitch / static_cast<double>(pose->pitch_deg.size());
        low = std::min(low, pitch), high = std::max(high, pitch);
    }
    EXPECT_LT(high - low + 0.2 * std::abs(mean), 1.15 * step);
    EXPECT_LT(std::max(high, -low), 1.1 * step);
}

TEST(BenchSteps, LeadARandomHeadWithWrongLinksToLevelAndZero) {
    std::mt19937_64 bits(2211);
    std::uniform_real_distribution<double> off(-1.2, 1.2);
    int heads = 0, turned = 0;
    for (int n = 0; n < 24; ++n) {
        const Description d = testing::random_head(bits);
        const auto open = Head::build(d);
        if (!open || open->neutral_failure() || !levelled(*open) || !tracking(*open, head::Sticks{})) continue;
        Description real = d;
        for (auto& link : real.lower_links) link.error_mm += off(bits);
        for (auto& link : real.upper_links) link.error_mm += off(bits);
        const auto built = Head::build(real);
        if (!built || built->neutral_failure() || !built->pose({.collective = 1}, 0) ||
            !built->pose({.collective = -1}, 0))
            continue;
        ++heads;
        SCOPED_TRACE(n);
        const Followed done = follow(*open, real);
        turned += done.turned;
        expect_set_up(*open, done);
    }
    EXPECT_GE(heads, 12);
    EXPECT_GE(turned, heads);
}

TEST(BenchSteps, StandStillBeforeANumberThatIsTyped) {
    const Head open = testing::demo_head("two_blade_600.toml");
    const auto before = bench_steps(open).value();
    for (std::size_t i = 0; i < before.size(); ++i) {
        if (!before[i].reading) continue;
        const auto after = bench_steps(open, {{before[i].reading->key, before[i].reading->wanted + 0.9}}).value();
        for (std::size_t k = 0; k <= i; ++k) EXPECT_EQ(after[k].say, before[k].say);
    }
}

TEST(BenchSteps, OfAHeadWithAWrongLinkTurnItWithoutAnyReading) {
    Description d = testing::demo("two_blade_600.toml");
    d.upper_links[1].error_mm = 0.6;
    const auto steps = bench_steps(Head::build(d).value()).value();
    std::string said;
    for (const BenchStep& step : steps)
        if (step.turn) said += step.say;
    EXPECT_THAT(said, HasSubstr("Make upper link 2 shorter by "));
    EXPECT_THAT(said, Not(HasSubstr("link 1")));
}

// A half turn more or less leaves as much: the smaller, as the other answers of the same head have it.
TEST(BenchSteps, TurnNoFurtherThanTracking) {
    for (const double error : {0.1, 0.3, -0.3, 0.5}) {
        Description d = testing::demo("two_blade_600.toml");
        d.upper_links[1].error_mm = error;
        const auto track = tracking(Head::build(d).value(), head::Sticks{}).value();
        const auto steps = bench_steps(Head::build(d).value()).value();
        int turned = 0;
        for (const BenchStep& step : steps)
            if (step.turn) turned += step.turn->steps;
        EXPECT_EQ(std::abs(turned), static_cast<int>(std::ceil(std::abs(error) / 0.2 - 0.5 - 1e-9))) << error;
        EXPECT_LE(std::abs(turned), std::abs(track.settings[1].steps) + std::abs(track.settings[0].steps)) << error;
    }
}

TEST(BenchSteps, SayWhereNothingWasMeasured) {
    const Head open = testing::demo_head("two_blade_600.toml");
    const auto said_of = [&](const BenchReadings& read, const std::string& stage) {
        std::string said;
        const auto steps = bench_steps(open, read).value();
        for (const BenchStep& step : steps)
            if (step.stage == stage && !step.reading) said += step.say + " " + step.more;
        return said;
    };
    for (const char* stage : {"Level ring", "Zero pitch"}) {
        EXPECT_THAT(said_of({}, stage), HasSubstr("By the open head's numbers"));
        EXPECT_THAT(said_of({}, stage), HasSubstr("othing was measured"));
        BenchReadings all;
        const auto asked = bench_steps(open).value();
        for (const BenchStep& step : asked)
            if (step.reading) all[step.reading->key] = step.reading->wanted;
        EXPECT_THAT(said_of(all, stage), Not(HasSubstr("measured")));
        EXPECT_THAT(said_of(all, stage), Not(HasSubstr("open head's numbers")));
    }
    Description wrong = open.description();
    wrong.upper_links[1].error_mm = 0.6;
    bool turned = false;
    const auto of_wrong = bench_steps(Head::build(wrong).value()).value();
    for (const BenchStep& step : of_wrong)
        if (step.turn) {
            turned = true;
            EXPECT_THAT(step.more, HasSubstr("nothing was measured"));
        }
    EXPECT_TRUE(turned);
    // One blade read, the other left out: no word of every blade.
    const std::string some = said_of({{"Sticks centred, blade 1, round 1", 0.0}}, "Zero pitch");
    EXPECT_THAT(some, HasSubstr("Every blade that was read"));
}

TEST(BenchSteps, OfASoundHeadTurnNothing) {
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"}) {
        const auto steps = bench_steps(testing::demo_head(file)).value();
        int read = 0;
        for (const BenchStep& step : steps) {
            EXPECT_FALSE(step.turn) << file << ": " << step.say;
            read += step.reading.has_value();
        }
        // Heights of three inner balls, every blade at zero, both ends, every blade at the end.
        EXPECT_EQ(read, 5 + 2 * testing::demo(file).rotor.blades) << file;
    }
}

/// The last word of the stage: instruction that reads nothing.
std::string zero_said(const Head& open, const BenchReadings& read) {
    std::string out;
    const auto steps = bench_steps(open, read).value();
    for (const BenchStep& step : steps)
        if (step.stage == "Zero pitch" && !step.reading) out = step.say;
    return out;
}

TEST(BenchSteps, ReadAgainOnceLinksWereTurned) {
    const Head open = testing::demo_head("two_blade_600.toml");
    const auto asked = bench_steps(open).value();
    BenchReadings read;
    for (const BenchStep& step : asked)
        if (step.reading && step.stage == "Zero pitch") read[step.reading->key] = 1.5;
    const auto steps = bench_steps(open, read).value();
    int turns = 0, again = 0;
    for (const BenchStep& step : steps) {
        turns += step.turn.has_value();
        again += step.say.starts_with("Once more");
    }
    EXPECT_EQ(turns, 2);
    EXPECT_EQ(again, 2);
    // Typed anew, nearly right: that stage is over.
    for (const BenchStep& step : steps)
        if (step.reading && step.say.starts_with("Once more")) read[step.reading->key] = 0.05;
    EXPECT_EQ(zero_said(open, read), "Every blade is at zero.");
}

// Half a turn makes nearly a degree there.
TEST(BenchSteps, SayAtZeroOnlyOfBladesThatAre) {
    const Head open = testing::demo_head("small_two_blade_250.toml");
    const auto round_1 = [&](double first, double second) {
        return zero_said(open,
                         {{"Sticks centred, blade 1, round 1", first}, {"Sticks centred, blade 2, round 1", second}});
    };
    EXPECT_EQ(round_1(0.1, -0.1), "Every blade is at zero.");
    EXPECT_EQ(round_1(0.45, 0.45), "Every blade is as near to zero as half turns allow: 0.45 deg off, 0.00 deg apart.");
    // 0.9 deg apart is what half a turn of one link takes out.
    EXPECT_THAT(round_1(0.45, -0.45), AnyOf(HasSubstr("by half a turn."), HasSubstr("link 2")));
    EXPECT_THAT(round_1(0.45, -0.45), Not(HasSubstr("at zero")));
    EXPECT_THAT(zero_said(open, {{"Sticks centred, blade 1, round 1", 0.45}}),
                HasSubstr("Every blade that was read is as near to zero as half turns allow: 0.45 deg off."));
}

TEST(BenchSteps, TakeASlipForNoReading) {
    const Head open = testing::demo_head("two_blade_600.toml");
    const auto all_2 = bench_steps(open).value();
    for (const BenchStep& step : all_2) {
        if (!step.reading) continue;
        EXPECT_EQ(bench_slip(*step.reading, step.reading->wanted), "");
        EXPECT_THAT(bench_slip(*step.reading, step.reading->wanted + 40), HasSubstr("Read again"));
        const auto with = bench_steps(open, {{step.reading->key, step.reading->wanted + 40}}).value();
        EXPECT_EQ(with.size(), bench_steps(open).value().size());
    }
}

TEST(BenchSteps, SayWhyThereAreNone) {
    const auto tail = bench_steps(testing::demo_head("tail_600.toml"));
    ASSERT_FALSE(tail);
    EXPECT_THAT(tail.error().message, HasSubstr("tail"));
    Description d = testing::demo("two_blade_600.toml");
    d.upper_links[0].length_mm = 20;
    const auto open = bench_steps(Head::build(d).value());
    ASSERT_FALSE(open);
    EXPECT_THAT(open.error().message, HasSubstr("too short"));
}

}  // namespace
}  // namespace swashwright::studies
