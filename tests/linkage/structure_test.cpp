#include "kinematics/linkage/structure.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace swashwright::linkage {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

TEST(Structure, ATriangularSystemIsSolvedOneByOneInOrder) {
    const Structure s = arrange({{0, 1, 2}, {0}, {0, 1}}, 3, {0, 0, 0});
    ASSERT_EQ(s.parts.size(), 3u);
    EXPECT_THAT(s.parts[0].rows, ElementsAre(1));
    EXPECT_THAT(s.parts[1].rows, ElementsAre(2));
    EXPECT_THAT(s.parts[2].rows, ElementsAre(0));
    EXPECT_THAT(s.free_columns, IsEmpty());
}

TEST(Structure, EquationsThatNeedEachOtherAreSolvedTogether) {
    const Structure s = arrange({{0, 1}, {0, 1}, {1, 2}}, 3, {0, 0, 0});
    ASSERT_EQ(s.parts.size(), 2u);
    EXPECT_THAT(s.parts[0].columns, ElementsAre(0, 1));
    EXPECT_THAT(s.parts[1].columns, ElementsAre(2));
}

TEST(Structure, WhatNothingFixesIsToldWithAllThatHangsOnIt) {
    const Structure s = arrange({{0}, {1, 2}}, 3, {0, 0});
    ASSERT_EQ(s.parts.size(), 1u);
    EXPECT_THAT(s.free_columns, ElementsAre(1, 2));
    EXPECT_THAT(s.free_rows, ElementsAre(1));
}

TEST(Structure, OneEquationTooManyWidensOnlyThePartItTouches) {
    const Structure s = arrange({{0}, {1}, {1}, {0, 1, 2}}, 3, {0, 0, 0, 0});
    ASSERT_EQ(s.parts.size(), 3u);
    EXPECT_THAT(s.parts[0].rows, ElementsAre(1, 2));
}

TEST(Structure, LaterEquationsDoNotDisturbWhatEarlierOnesFixed) {
    // Two equations of turn 2 on unknowns 0 and 1; turn 1 has fixed unknown 0 by then.
    const Structure s = arrange({{0}, {0, 1}, {0, 1}, {0}}, 2, {1, 2, 2, 2});
    ASSERT_EQ(s.parts.size(), 2u);
    EXPECT_THAT(s.parts[0].rows, ElementsAre(0));
    EXPECT_THAT(s.parts[1].rows, ElementsAre(1, 2));
    EXPECT_THAT(s.spare_rows, ElementsAre(3));
}

}  // namespace
}  // namespace swashwright::linkage
