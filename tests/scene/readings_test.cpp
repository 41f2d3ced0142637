#include "kinematics/bench_files/readings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace swashwright::scene {
namespace {

using ::testing::HasSubstr;

constexpr const char* readings_sample = R"(format = 1
note = "invented"

[[pitch]]
blade = 2
collective = -1
azimuth_deg = 90
reading_deg = -9.8

[[pitch]]
blade = 1
elevator = 0.5
azimuth_deg = 0
reading_deg = 1.25
uncertainty_deg = 0.2

[[ring_height]]
ball = 3
reading_mm = 45.1

[[ring_height]]
azimuth_deg = 90
radius_mm = 30
aileron = 1
reading_mm = 44.0
uncertainty_mm = 0.05
)";

TEST(Readings, AreReadWithTheirDefaults) {
    const auto file = parse_readings(readings_sample, "r.toml");
    ASSERT_TRUE(file) << file.error().text();
    EXPECT_EQ(file->note, "invented");
    ASSERT_EQ(file->readings.pitch.size(), 2U);
    EXPECT_EQ(file->readings.pitch[0].blade, 1);
    EXPECT_EQ(file->readings.pitch[0].sticks.collective, -1);
    EXPECT_EQ(file->readings.pitch[0].uncertainty_deg, 0.1);
    EXPECT_EQ(file->readings.pitch[1].sticks.elevator, 0.5);
    EXPECT_EQ(file->readings.pitch[1].uncertainty_deg, 0.2);
    ASSERT_EQ(file->readings.ring_height.size(), 2U);
    EXPECT_EQ(file->readings.ring_height[0].ball, 2);
    EXPECT_FALSE(file->readings.ring_height[1].ball);
    EXPECT_EQ(file->readings.ring_height[1].radius_mm, 30);
}

TEST(Readings, ComeBackToTheLastBit) {
    auto file = parse_readings(readings_sample, "r.toml");
    ASSERT_TRUE(file);
    file->readings.pitch[0].reading_deg = -9.8 + 1.0 / 3;
    file->readings.ring_height[0].reading_mm = 1e-7 / 3;
    const auto again = parse_readings(write(*file), "again.toml");
    ASSERT_TRUE(again) << again.error().text() << write(*file);
    EXPECT_EQ(again->note, file->note);
    EXPECT_EQ(again->readings.pitch[0].reading_deg, file->readings.pitch[0].reading_deg);
    EXPECT_EQ(again->readings.ring_height[0].reading_mm, file->readings.ring_height[0].reading_mm);
    EXPECT_EQ(write(*again), write(*file));
}

TEST(Readings, NameEveryMistakeWithItsPlace) {
    const auto file = parse_readings(
        "format = 1\n[[pitch]]\nblade = 0\nazimuth_deg = 0\nreading_deg = \"ten\"\nazimut = 3\n"
        "[[ring_height]]\nball = 1\nradius_mm = 3\nreading_mm = 40\nuncertainty_mm = 0\n[[ring_height]]\nreading_mm = "
        "1\n",
        "bench.toml");
    ASSERT_FALSE(file);
    const std::string text = file.error().text();
    EXPECT_THAT(text, HasSubstr("bench.toml:3:9: [[pitch]] 1 blade: expected a whole number from 1 to 6, found 0"));
    EXPECT_THAT(text, HasSubstr("bench.toml:5:15: [[pitch]] 1 reading_deg"));
    EXPECT_THAT(text, HasSubstr("bench.toml:6:1: [[pitch]] 1: unknown key \"azimut\"; did you mean azimuth_deg?"));
    EXPECT_THAT(text, HasSubstr("bench.toml:9:13: [[ring_height]] 1 radius_mm: found beside ball"));
    EXPECT_THAT(text, HasSubstr("bench.toml:11:18: [[ring_height]] 1 uncertainty_mm"));
    EXPECT_THAT(text, HasSubstr("where on the ring is missing"));
    EXPECT_EQ(file.error().list.size(), 6U);
}

constexpr const char* before_sample = R"(format = 1

[gauge]
zeroed_on = "level"
zero_within_deg = 0
lean_within_deg = 2.5

[[pitch]]
blade = 1
azimuth_deg = 0
reading_deg = 1.5

[before.gauge]
zeroed_on = "blade"

[[before.pitch]]
blade = 1
azimuth_deg = 0
reading_deg = 0.25

[[before.ring_height]]
ball = 2
reading_mm = 45.5
)";

TEST(Readings, SayWhatTheGaugeWasZeroedOnAndWhatItReadBefore) {
    const auto file = parse_readings(before_sample, "r.toml");
    ASSERT_TRUE(file) << file.error().text();
    const studies::Gauge& gauge = file->readings.gauge;
    EXPECT_EQ(gauge.zeroed_on, studies::ZeroedOn::level);
    EXPECT_EQ(gauge.zero_within_deg, 0);
    EXPECT_EQ(gauge.lean_within_deg, 2.5);
    ASSERT_TRUE(file->readings.before);
    const studies::Readings& before = *file->readings.before;
    EXPECT_EQ(before.gauge.zeroed_on, studies::ZeroedOn::blade);
    EXPECT_EQ(before.gauge.zero_within_deg, studies::Gauge{}.zero_within_deg);
    ASSERT_EQ(before.pitch.size(), 1U);
    EXPECT_EQ(before.pitch[0].reading_deg, 0.25);
    ASSERT_EQ(before.ring_height.size(), 1U);
    EXPECT_EQ(before.ring_height[0].ball, 1);

    const auto again = parse_readings(write(*file), "again.toml");
    ASSERT_TRUE(again) << again.error().text() << write(*file);
    EXPECT_EQ(write(*again), write(*file));
    EXPECT_EQ(again->readings.gauge.zeroed_on, studies::ZeroedOn::level);
    EXPECT_EQ(again->readings.gauge.zero_within_deg, 0);
    EXPECT_EQ(again->readings.gauge.lean_within_deg, 2.5);
    ASSERT_TRUE(again->readings.before);
    EXPECT_EQ(again->readings.before->gauge.zeroed_on, studies::ZeroedOn::blade);
    EXPECT_EQ(again->readings.before->pitch.at(0).reading_deg, 0.25);
    EXPECT_EQ(again->readings.before->ring_height.at(0).reading_mm, 45.5);
}

TEST(Readings, OfAnOldFileSayNothingOfTheGaugeAndNothingIsWrittenOfIt) {
    const auto file = parse_readings(readings_sample, "r.toml");
    ASSERT_TRUE(file);
    EXPECT_FALSE(file->readings.gauge.zeroed_on);
    EXPECT_EQ(file->readings.gauge.zero_within_deg, 0.3);
    EXPECT_EQ(file->readings.gauge.lean_within_deg, 1);
    EXPECT_FALSE(file->readings.before);
    EXPECT_THAT(write(*file), ::testing::Not(HasSubstr("gauge")));
}

TEST(Readings, OfBeforeAreEnoughToBeKept) {
    const auto file =
        parse_readings("format = 1\n[[before.pitch]]\nblade = 1\nazimuth_deg = 0\nreading_deg = 1\n", "r.toml");
    ASSERT_TRUE(file) << file.error().text();
    EXPECT_EQ(file->readings.size(), 0U);
    EXPECT_EQ(file->readings.before->size(), 1U);
}

TEST(Readings, NameMistakesOfTheGaugeAndOfBeforeWithTheirPlace) {
    const auto file = parse_readings(
        "format = 1\n[gauge]\nzeroed_on = \"hub\"\nzero_within_deg = -1\nlean_within = 2\n"
        "[before]\nbefore = 1\n[[before.pitch]]\nblade = 7\nazimuth_deg = 0\nreading_deg = 0\n",
        "bench.toml");
    ASSERT_FALSE(file);
    const std::string text = file.error().text();
    EXPECT_THAT(text, HasSubstr("bench.toml:3:13: [gauge] zeroed_on: expected \"level\" or \"shaft\" or \"blade\", "
                                "found the text \"hub\""));
    EXPECT_THAT(text, HasSubstr("bench.toml:4:19: [gauge] zero_within_deg: expected one standard deviation of the "
                                "gauge's zero in degrees, 0 where it was checked, from 0 to 90, found -1"));
    EXPECT_THAT(text, HasSubstr("bench.toml:5:1: [gauge]: unknown key \"lean_within\"; did you mean lean_within_deg?"));
    EXPECT_THAT(text, HasSubstr("bench.toml:7:1: [before]: unknown key \"before\""));
    EXPECT_THAT(text,
                HasSubstr("bench.toml:9:9: [before] pitch 1 blade: expected a whole number from 1 to 6, found 7"));
    EXPECT_EQ(file.error().list.size(), 5U);
    const auto empty = parse_readings("format = 1\nbefore = {}\ngauge = 3\n", "bench.toml");
    ASSERT_FALSE(empty);
    EXPECT_THAT(empty.error().text(), HasSubstr("bench.toml:2:10: [before]: there is no reading; add one headed "
                                                "[[before.pitch]] or [[before.ring_height]]"));
    EXPECT_THAT(empty.error().text(), HasSubstr("bench.toml:3:9: gauge: expected a table headed [gauge], found 3"));
}

TEST(Readings, RefuseAnEmptyFileAndOneThatIsNotThere) {
    EXPECT_FALSE(parse_readings("format = 1\n", "r.toml"));
    EXPECT_FALSE(parse_readings("", "r.toml"));
    const auto missing = load_readings("/no/such/file.toml");
    ASSERT_FALSE(missing);
    EXPECT_THAT(missing.error().text(), HasSubstr("expected a file of readings"));
}

}  // namespace
}  // namespace swashwright::scene
