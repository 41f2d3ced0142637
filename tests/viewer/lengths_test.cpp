// Lengths in inches: one inch is 25.4 mm exactly (international yard and pound agreement, 1959).
#include "viewer/panels/base/lengths.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace swashwright::panels {
namespace {

using ::testing::Optional;

TEST(Lengths, AreShownInMillimetresOrInInchesWithFourDecimals) {
    EXPECT_EQ(length_text(12.5, false), "12.50 mm");
    EXPECT_EQ(length_text(12.5, true), "0.4921 in");
    EXPECT_EQ(length_text(25.4, true), "1.0000 in");
    EXPECT_EQ(length_number(-0.001, false), "0.00");
    EXPECT_EQ(length_number(-0.001, true), "0.0000");
    EXPECT_EQ(in_reading_unit("horn mm", true), "horn in");
    EXPECT_EQ(in_reading_unit("horn mm", false), "horn mm");
    EXPECT_EQ(in_reading_unit("length", true), "length");
}

TEST(Lengths, AreTypedWithAUnitOrWithoutInTheOneThatIsRead) {
    EXPECT_THAT(typed_length("12.5", false), Optional(12.5));
    EXPECT_THAT(typed_length("1", true), Optional(25.4));
    EXPECT_THAT(typed_length("0.5 in", false), Optional(12.7));
    EXPECT_THAT(typed_length("0.5in", false), Optional(12.7));
    EXPECT_THAT(typed_length("0,5\"", false), Optional(12.7));
    EXPECT_THAT(typed_length("0.5 inch", true), Optional(12.7));
    EXPECT_THAT(typed_length("12.5 mm", true), Optional(12.5));
    for (const char* none : {"", "mm", "in", "12 cm", "twelve", "1e999", "1 2"})
        EXPECT_EQ(typed_length(none, false), std::nullopt) << none;
    EXPECT_THAT(typed_number(" +3,5 "), Optional(3.5));
    EXPECT_EQ(typed_number("3.5 mm"), std::nullopt);
}

TEST(Lengths, OfASentenceAreReadInInchesAndNothingElseIs) {
    const auto in = [](const char* text) { return lengths_read(text, true); };
    EXPECT_EQ(in("Blade 2 takes 0.67 deg more: upper link 2 is 0.30 mm too long."),
              "Blade 2 takes 0.67 deg more: upper link 2 is 0.0118 in too long.");
    EXPECT_EQ(in("lower link 1, 25.40 mm"), "lower link 1, 1.0000 in");
    EXPECT_EQ(in("25.40, 12.70 and 50.80 mm"), "1.0000, 0.5000 and 2.0000 in");
    EXPECT_EQ(in("length from 35.40 to 35.62 mm; error 0.00 mm"), "length from 1.3937 to 1.4024 in; error 0.0000 in");
    EXPECT_EQ(in("usual 254 to 508 mm"), "usual 10.0000 to 20.0000 in");
    EXPECT_EQ(in("-0.254 mm (+/- 2.54 mm)"), "-0.0100 in (+/- 0.1000 in)");
    for (const char* same : {"19.1 N mm at the horn of servo 1", "2 deg", "mm", " mm", "3 mm/deg", "2 mmHg", ""})
        EXPECT_EQ(in(same), same);
    EXPECT_EQ(lengths_read("0.30 mm", false), "0.30 mm");
}

}  // namespace
}  // namespace swashwright::panels
