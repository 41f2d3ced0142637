#include "kinematics/bench_files/measured.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/measured_by_hand.h"

namespace swashwright::scene {
namespace {

using studies::Taking;
using ::testing::HasSubstr;

constexpr const char* measured_sample = R"(format = 1
name = "Sample"
note = "invented"

reading = [
    { what = "ball_diameter", mm = 4.0 },
    { what = "over_inner_balls", which = 2, mm = 49.03, uncertainty_mm = 0.1 },
    { what = "upper_link", which = 3, mm = 79.4 },
]

[layout]
blades = 3
direction = "anticlockwise"
pitch_arm = "trailing"
links = "gap"

[[layout.servo]]
name = "front"
ball_azimuth_deg = 0.0
horn_azimuth_deg = 180.0
axis = "right"

[[layout.servo]]
name = "left"
ball_azimuth_deg = 120.0
horn_azimuth_deg = -60.0
axis = "left"

[[layout.servo]]
name = "right"
ball_azimuth_deg = 240.0
horn_azimuth_deg = 60.0
axis = "right"
)";

/// The measured_sample with one text in place of another.
std::string with(const std::string& old, const std::string& text) {
    std::string out = measured_sample;
    out.replace(out.find(old), old.size(), text);
    return out;
}

TEST(MeasuredFile, IsReadWithItsDefaults) {
    const auto file = parse_measured(measured_sample, "m.toml");
    ASSERT_TRUE(file) << file.error().text();
    const auto& [layout, taken] = file->measured;
    EXPECT_EQ(layout.name, "Sample");
    EXPECT_EQ(file->note, "invented");
    EXPECT_EQ(layout.blades, 3);
    EXPECT_EQ(layout.direction, head::Direction::anticlockwise);
    EXPECT_TRUE(layout.trailing_arm);
    EXPECT_EQ(layout.outer_ahead_deg, -90);  // behind the blade, as its arm
    EXPECT_EQ(layout.servos[1].name, "left");
    EXPECT_TRUE(layout.servos[1].axis_left);
    EXPECT_FALSE(layout.servos[2].axis_left);
    ASSERT_EQ(taken.size(), 3U);
    EXPECT_EQ(taken.at({Taking::inner_span, 1}).mm, 49.03);
    EXPECT_EQ(taken.at({Taking::inner_span, 1}).sd_mm, 0.1);
    EXPECT_FALSE(taken.at({Taking::ball, 0}).sd_mm);
    EXPECT_EQ(taken.at({Taking::upper_link, 2}).mm, 79.4);
}

TEST(MeasuredFile, ComesBackToTheLastBit) {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        MeasuredFile file;
        file.measured = swashwright::testing::hand_readings(swashwright::testing::random_hand_head(seed));
        file.measured.layout.name = "a \"quoted\" name\\";
        file.measured.taken[{Taking::tip, 0}].sd_mm = 1.0 / 3;
        const auto again = parse_measured(write(file), "again.toml");
        ASSERT_TRUE(again) << again.error().text();
        EXPECT_EQ(write(*again), write(file));
        EXPECT_EQ(again->measured.layout.name, file.measured.layout.name);
        for (const auto& [place, reading] : file.measured.taken) {
            EXPECT_EQ(again->measured.taken.at(place).mm, reading.mm);
            EXPECT_EQ(again->measured.taken.at(place).sd_mm, reading.sd_mm);
        }
    }
}

TEST(MeasuredFile, MayHoldNoReadingYet) {
    const auto again = parse_measured(write(MeasuredFile{}), "again.toml");
    ASSERT_TRUE(again) << again.error().text();
    EXPECT_TRUE(again->measured.taken.empty());
}

TEST(MeasuredFile, TellsMistakesWithTheirPlace) {
    const auto told = [](const std::string& text) {
        const auto file = parse_measured(text, "m.toml");
        return file ? std::string("read") : file.error().text();
    };
    EXPECT_THAT(told(with("ball_diameter", "bal_diameter")), HasSubstr("m.toml:6:14: "));
    EXPECT_THAT(told(with("ball_diameter", "bal_diameter")),
                HasSubstr("\"bal_diameter\" is no reading; expected one of"));
    EXPECT_THAT(told(with("which = 3", "which = 4")), HasSubstr("m.toml:8:"));
    EXPECT_THAT(told(with("which = 2, ", "")), HasSubstr("which"));
    EXPECT_THAT(told(with("mm = 49.03", "mm = \"49\"")), HasSubstr("m.toml:7:"));
    EXPECT_THAT(told(with("mm = 49.03", "mm = nan")), HasSubstr("m.toml:7:"));
    EXPECT_THAT(told(with("    { what = \"upper_link\"",
                          "    { what = \"ball_diameter\", mm = 4.1 },\n    { what = \"upper_link\"")),
                HasSubstr("given twice (ball diameter)"));
    EXPECT_THAT(told(with("\"trailing\"", "\"behind\"")), HasSubstr("\"leading\" or \"trailing\""));
    EXPECT_THAT(told(with("blades = 3", "blades = 9")), HasSubstr("m.toml:12:"));
    EXPECT_THAT(told(with("axis = \"left\"", "axis = \"up\"")), HasSubstr("m.toml:27:"));
    EXPECT_THAT(told(with("mm = 4.0", "mm = 4.0, color = 1")), HasSubstr("unknown key \"color\""));
    EXPECT_THAT(told("format = 1\n"), HasSubstr("name"));
    const std::string servo_gone =
        std::string(measured_sample).substr(0, std::string(measured_sample).rfind("[[layout.servo]]"));
    EXPECT_THAT(told(servo_gone), HasSubstr("expected three servos"));
}

TEST(MeasuredFile, ThatIsNotThereIsToldAsSuch) {
    const auto missing = load_measured("/no/such/file.toml");
    ASSERT_FALSE(missing);
    EXPECT_THAT(missing.error().text(), HasSubstr("expected a file of calliper readings"));
}

TEST(MeasuredFile, GivesItsHeadItsNote) {
    MeasuredFile file;
    EXPECT_EQ(note_of_measured(file), "Made from calliper readings.");
    file.note = "Spring, new links.";
    EXPECT_EQ(note_of_measured(file), "Made from calliper readings. Spring, new links.");
}

}  // namespace
}  // namespace swashwright::scene
