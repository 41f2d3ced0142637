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

}  // namespace
}  // namespace swashwright::panels
