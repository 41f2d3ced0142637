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

TEST(Readings, RefuseAnEmptyFileAndOneThatIsNotThere) {
    EXPECT_FALSE(parse_readings("format = 1\n", "r.toml"));
    EXPECT_FALSE(parse_readings("", "r.toml"));
    const auto missing = load_readings("/no/such/file.toml");
    ASSERT_FALSE(missing);
    EXPECT_THAT(missing.error().text(), HasSubstr("expected a file of readings"));
}

}  // namespace
}  // namespace swashwright::scene
