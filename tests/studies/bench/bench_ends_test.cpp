// Both ends of the collective, and the blades against each other there.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/bench/bench_steps.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::HasSubstr;
using ::testing::Not;

TEST(BenchEnds, LessTravelWhereTheRangeIsTooLarge) {
    const Head open = testing::demo_head("two_blade_600.toml");
    BenchReadings read;
    double range = 0;
    const auto all_3 = bench_steps(open).value();
    for (const BenchStep& step : all_3)
        if (step.reading && step.stage == "Ends") {
            read[step.reading->key] = 1.25 * step.reading->wanted;
            range += std::abs(step.reading->wanted);
        }
    EXPECT_GT(range, 10);
    std::string said;
    const auto all_4 = bench_steps(open, read).value();
    for (const BenchStep& step : all_4)
        if (step.stage == "Ends") said += step.say + "\n";
    EXPECT_THAT(said, HasSubstr("20 % less"));
}

const BenchReading& reading_of(const std::vector<BenchStep>& steps, const std::string& key) {
    return *std::ranges::find_if(steps, [&](const BenchStep& s) {
                return s.reading && s.reading->key == key;
            })->reading;
}

// Blades at zero by the gauge: the ends are then those of a head at zero, whatever links the open one has.
TEST(BenchEnds, EndsAreOfBladesAtZeroOnceZeroWasRead) {
    const std::string end = "Collective full up, blade 1, round 1";
    const auto sound = bench_steps(testing::demo_head("two_blade_600.toml")).value();
    Description d = testing::demo("two_blade_600.toml");
    for (auto& link : d.upper_links) link.error_mm += 2;
    const Head open = Head::build(d).value();
    BenchReadings read;
    const auto asked = bench_steps(open).value();
    for (const BenchStep& step : asked)
        if (step.reading && step.stage == "Zero pitch") read[step.reading->key] = 0;
    const auto steps = bench_steps(open, read).value();
    EXPECT_NEAR(reading_of(steps, end).wanted, reading_of(sound, end).wanted, 0.5);
}

TEST(BenchEnds, ACollectiveThatRunsTheWrongWayIsTold) {
    Description d = testing::demo("two_blade_600.toml");
    d.mixing.collective_deg *= 0.5;
    const Head open = Head::build(d).value();
    BenchReadings read;
    const auto asked = bench_steps(open).value();
    for (const BenchStep& step : asked)
        if (step.reading && step.stage == "Ends") {
            ASSERT_LT(std::abs(step.reading->wanted), 7);
            read[step.reading->key] = -step.reading->wanted;
        }
    std::string said;
    const auto steps = bench_steps(open, read).value();
    for (const BenchStep& step : steps) said += step.say + "\n";
    EXPECT_THAT(said, HasSubstr("Collective runs the wrong way"));
    EXPECT_THAT(said, Not(HasSubstr("% less")));
    // Of a larger range the reading is too far off to be taken; why, is told.
    const auto full = bench_steps(testing::demo_head("two_blade_600.toml")).value();
    const BenchReading& up = reading_of(full, "Collective full up, blade 1, round 1");
    EXPECT_THAT(bench_slip(up, -up.wanted), HasSubstr("the wrong way"));
}

/// What is said of a stage beside what is to be read.
std::string said_of(const Head& open, const std::string& stage, const BenchReadings& read) {
    std::string out;
    const auto steps = bench_steps(open, read).value();
    for (const BenchStep& step : steps)
        if (step.stage == stage && !step.reading) out += step.say + " " + step.more + "\n";
    return out;
}

const std::string up_key = "Collective full up, blade 1, round 1", down_key = "Collective full down, blade 1, round 1";

TEST(BenchEnds, BothOffTheSameWayAreNoRightEnds) {
    const Head open = testing::demo_head("two_blade_600.toml");
    const auto steps = bench_steps(open).value();
    const double up = reading_of(steps, up_key).wanted, down = reading_of(steps, down_key).wanted;
    const auto said = [&](double by) { return said_of(open, "Ends", {{up_key, up + by}, {down_key, down + by}}); };
    EXPECT_THAT(said(0), HasSubstr("The ends are right."));
    EXPECT_THAT(said(2), HasSubstr("The range is right, but both ends read 2.0 deg too high."));
    EXPECT_THAT(said(-2), HasSubstr("too low"));
    for (const double by : {2.0, -2.0}) EXPECT_THAT(said(by), Not(HasSubstr("ends are right")));
}

// What whole steps left at mid stick stands at both ends, too.
TEST(BenchEnds, AreRightWhereTheyAreOffByWhatIsLeftAtMidStick) {
    const Head open = testing::demo_head("small_two_blade_250.toml");
    const auto steps = bench_steps(open).value();
    const double up = reading_of(steps, up_key).wanted, down = reading_of(steps, down_key).wanted;
    const BenchReadings ends{{up_key, up + 0.6}, {down_key, down + 0.6}};
    EXPECT_THAT(said_of(open, "Ends", ends), HasSubstr("too high"));
    BenchReadings with_zero = ends;
    for (const char* blade : {"1", "2"}) with_zero[std::string("Sticks centred, blade ") + blade + ", round 1"] = 0.45;
    EXPECT_THAT(said_of(open, "Ends", with_zero), HasSubstr("The ends are right."));
}

TEST(BenchEnds, WithoutTravelBetweenThemAreTold) {
    const Head open = testing::demo_head("two_blade_600.toml");
    for (const auto& [high, low] : {std::pair(3.0, 3.0), {1.0, 0.4}, {0.4, 1.0}}) {
        const BenchReadings read{{up_key, high}, {down_key, low}};
        const std::string said = said_of(open, "Ends", read);
        EXPECT_THAT(said, HasSubstr("Hardly any travel between the ends"));
        EXPECT_THAT(said, Not(HasSubstr("%")));
        const auto steps = bench_steps(open, read).value();
        EXPECT_EQ(std::ranges::count_if(
                      steps, [](const BenchStep& s) { return s.say.starts_with("Once more: Collective full"); }),
                  2);
    }
}

/// Readings of every blade at full collective, off what each should read.
BenchReadings at_full(const Head& open, const std::vector<double>& off) {
    const auto steps = bench_steps(open).value();
    BenchReadings out;
    for (const BenchStep& step : steps)
        if (step.reading && step.stage == "Track") out[step.reading->key] = step.reading->wanted + off[out.size()];
    return out;
}

std::string lit_in_track(const Head& open, const BenchReadings& read) {
    const auto steps = bench_steps(open, read).value();
    return steps.back().part;
}

TEST(BenchTrack, LightsTheBladeThatIsOffAndNotTheOneThatGoesFarther) {
    const Head open = testing::demo_head("three_blade_700.toml");
    EXPECT_EQ(lit_in_track(open, at_full(open, {0, 0.1, -2})), "grip[3]");
    EXPECT_EQ(lit_in_track(open, at_full(open, {2, 2.1, 0})), "grip[3]");
    EXPECT_EQ(lit_in_track(open, at_full(open, {0, 2, 0.1})), "grip[2]");
    EXPECT_THAT(said_of(open, "Track", at_full(open, {0, 0.1, -2})), HasSubstr("blade 3, which is farthest off"));
}

TEST(BenchTrack, CallsBladesAgreedOnlyWhereTheyAre) {
    const Head open = testing::demo_head("small_two_blade_250.toml");
    EXPECT_THAT(said_of(open, "Track", at_full(open, {0.1, 0})), HasSubstr("agree at the end of the stick"));
    EXPECT_THAT(said_of(open, "Track", at_full(open, {0.45, -0.45})), Not(HasSubstr("agree at the end")));
    // Of mid stick nothing is said where nobody read it.
    EXPECT_THAT(said_of(open, "Track", at_full(open, {0.45, 0})), HasSubstr("read them with the sticks centred too"));
    EXPECT_THAT(said_of(open, "Track", at_full(open, {0.45, 0})), Not(HasSubstr("as at mid stick")));
    // Read as far apart at mid stick: no part is at fault for it.
    BenchReadings as_at_zero = at_full(open, {0.5, 0.1}), agreed_there = at_full(open, {0.45, -0.45});
    as_at_zero["Sticks centred, blade 1, round 1"] = 0.45;
    as_at_zero["Sticks centred, blade 2, round 1"] = 0.1;
    for (const char* blade : {"1", "2"}) agreed_there[std::string("Sticks centred, blade ") + blade + ", round 1"] = 0;
    EXPECT_THAT(said_of(open, "Track", as_at_zero), HasSubstr("as at mid stick"));
    EXPECT_THAT(said_of(open, "Track", agreed_there), HasSubstr("no link does that"));
}

}  // namespace
}  // namespace swashwright::studies
