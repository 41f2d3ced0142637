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
    EXPECT_EQ(finite_numbers("-5,3,2"), (std::vector<double>{-5, 3, 2}));
    for (const char* text : {"", ",", "1,", "1,,2", "1, 2", "1;2"}) EXPECT_FALSE(finite_numbers(text)) << text;
}

}  // namespace
}  // namespace swashwright::console
