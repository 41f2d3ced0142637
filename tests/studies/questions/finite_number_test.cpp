// Numbers in texts.
#include "kinematics/studies/questions/finite_number.h"

#include <gtest/gtest.h>

namespace swashwright::studies {
namespace {

TEST(NamedNumber, StandsBehindAnEqualsSignWithinItsBounds) {
    const NamedNumber odd = named_number("upper_link[2]=15", 1000);
    EXPECT_EQ(odd.name, "upper_link[2]");
    EXPECT_EQ(odd.number, 15.0);
    EXPECT_EQ(named_number("a=0", 1000).number, 0.0);
    EXPECT_EQ(named_number("a=1e3", 1000).number, 1000.0);
    for (const char* none : {"a", "a=", "a=x", "a=-1", "a=1000.1", "a=nan", "a=inf", "a=1 ", ""})
        EXPECT_EQ(named_number(none, 1000).number, std::nullopt) << none;
    EXPECT_EQ(named_number("a", 1000).name, "a");
}

}  // namespace
}  // namespace swashwright::studies
