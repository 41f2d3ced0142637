// What a measured head says in words.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/studies/measured/measured.h"
#include "tests/support/measured_by_hand.h"

namespace swashwright::studies {
namespace {

using ::testing::Contains;
using ::testing::EndsWith;
using testing::hand_demo;
using ::testing::HasSubstr;
using ::testing::StartsWith;

Answer said(const MeasuredHead& readings) {
    const auto found = measured_head(readings);
    EXPECT_TRUE(found) << found.error();
    return found ? answer(*found, readings.layout) : Answer{};
}

std::vector<std::string> doubts_of(const MeasuredHead& readings) {
    return doubts(*measured_head(readings), readings.layout);
}

TEST(MeasuredHeadAnswer, CountsReadingsAndNamesTheFarthestLink) {
    MeasuredHead readings = testing::hand_readings(hand_demo("two_blade_600.toml"));
    readings.taken[{Taking::upper_link, 1}].mm += 0.8;
    const Answer a = said(readings);
    EXPECT_THAT(a.text, StartsWith(std::to_string(readings.taken.size()) + " readings make the head, "));
    EXPECT_THAT(a.text, HasSubstr("pitch at mid stick is known to 0."));
    EXPECT_THAT(a.text, HasSubstr("Of the links, upper link 2 is farthest from level ring and zero pitch: 0.8"));
    EXPECT_THAT(a.text, HasSubstr(" mm too long (± "));
    for (const Table& table : a.tables)
        for (const auto& row : table.rows) EXPECT_EQ(row.size(), table.columns.size()) << table.key;
    readings.taken[{Taking::upper_link, 1}].mm -= 1.6;
    EXPECT_THAT(said(readings).text, HasSubstr(" mm too short (± "));
}

TEST(MeasuredHeadAnswer, OfNoReadingIsAllAssumption) {
    const Answer a = said(MeasuredHead{});
    EXPECT_THAT(a.text, StartsWith("0 readings make the head"));
    EXPECT_THAT(a.text, EndsWith("No link was measured: all are as long as a level ring and zero pitch need them."));
    EXPECT_EQ(a.tone, Tone::notice);
    for (const Table& table : a.tables)
        if (table.key == "links") {
            for (const auto& row : table.rows) EXPECT_EQ(row.back(), Cell("assumption"));
        }
}

TEST(MeasuredHeadAnswer, OfOneReadingSaysThatThePitchIsNotSettled) {
    const MeasuredHead readings = testing::hand_readings(hand_demo("two_blade_600.toml"));
    Measured m = *measured_head(readings);
    m.readings = 1;
    m.pitch_sd_deg = 72.48;
    const std::string text = answer(m, readings.layout).text;
    EXPECT_THAT(text, StartsWith("1 reading makes the head, "));
    EXPECT_THAT(text, HasSubstr("; one reading does not settle the pitch at mid stick. "));
}

TEST(MeasuredHeadAnswer, AnUnusualReadingIsDoubtedWithItsUsualSize) {
    MeasuredHead readings = testing::hand_readings(hand_demo("two_blade_600.toml"));
    readings.taken[{Taking::tip, 0}].mm *= 10;  // a decimal slipped
    EXPECT_THAT(doubts_of(readings), Contains(HasSubstr("is outside the usual ")));
    EXPECT_THAT(doubts_of(readings), Contains(EndsWith(": look at unit, sign and decimal.")));
}

TEST(MeasuredHeadAnswer, ReadingsThatAreAllAlikeInQuestionAreListed) {
    Measured m = *measured_head(testing::hand_readings(hand_demo("two_blade_600.toml")));
    Contradiction two;
    two.places = {{Taking::inner_span, 0}, {Taking::outer_span, 0}, {Taking::arm_span, 0}};
    two.off_mm = {0.5, -0.5, 0.25};
    two.times = 4.2;
    m.contradictions = {two};
    EXPECT_THAT(doubts(m, hand_demo("two_blade_600.toml").layout),
                Contains(::testing::AllOf(
                    StartsWith("One of these readings is off: \"over inner balls 1 and 2\" (+0.50 mm), "),
                    HasSubstr(" (-0.50 mm) or \""),
                    EndsWith(" mm), 4 times what such readings usually differ by. Measure them again."))));
}

TEST(MeasuredHeadAnswer, AHeadThatDoesNotCloseIsTrouble) {
    MeasuredHead readings = testing::hand_readings(hand_demo("two_blade_600.toml"));
    readings.taken[{Taking::upper_link, 0}].mm = 25;
    const Answer a = said(readings);
    EXPECT_EQ(a.tone, Tone::trouble);
    EXPECT_EQ(a.tables[0].key, "doubts");
    EXPECT_THAT(std::get<std::string>(a.tables[0].rows[0][0]),
                StartsWith("With these numbers the linkage does not close: "));
    EXPECT_THAT(std::get<std::string>(a.tables[0].rows[0][0]), HasSubstr("pper link 1"));
}

}  // namespace
}  // namespace swashwright::studies
