#include "viewer/console/numbers.h"

#include <gtest/gtest.h>

namespace swashwright::console {
namespace {

TEST(Numbers, read_plain_and_exponent_forms) {
    EXPECT_EQ(finite_number("-1"), -1);
    EXPECT_EQ(finite_number("+0.5"), 0.5);
    EXPECT_EQ(finite_number(".5"), 0.5);
    EXPECT_EQ(finite_number("-2.5e-3"), -0.0025);
}

TEST(Numbers, refuse_everything_else) {
    for (const char* text :
         {"", " 1", "1 ", "1,5", "nan", "inf", "-infinity", "1e999", "0x10", "+-1", "++1", "1mm", "-"})
        EXPECT_FALSE(finite_number(text)) << text;
}

TEST(Numbers, read_lists) {
    EXPECT_EQ(finite_numbers("-5,3,2", -5, 3), (std::vector<double>{-5, 3, 2}));
    for (const char* text : {"", ",", "1,", "1,,2", "1, 2", "1;2", "1,6", "nan,1"})
        EXPECT_FALSE(finite_numbers(text, -5, 5)) << text;
}

TEST(Numbers, read_whole_ones_in_decimal) {
    EXPECT_EQ(whole_number("010"), 10);
    EXPECT_EQ(whole_number("-3"), -3);
    EXPECT_EQ(whole_number("+3"), 3);
    for (const char* text : {"", "1.0", "1e3", "0x10", "9223372036854775808", "nan", "+-1", "1 "})
        EXPECT_FALSE(whole_number(text)) << text;
}

}  // namespace
}  // namespace swashwright::console
