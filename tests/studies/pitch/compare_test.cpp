#include "kinematics/studies/pitch/compare.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/head/head.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using testing::demo;
using ::testing::HasSubstr;

TEST(Comparison, OfAHeadWithItselfFindsNothing) {
    const Comparison same = compare(demo("two_blade_600.toml"), demo("two_blade_600.toml"));
    EXPECT_TRUE(same.numbers.empty());
    for (const StickChange& s : same.sticks) EXPECT_EQ(s.before_deg, s.after_deg);
    EXPECT_THAT(answer(same, "first", "second").text, HasSubstr("the same"));
}

TEST(Comparison, TellsWhereTheSticksGoOtherwise) {
    const head::Description before = demo("two_blade_600.toml");
    head::Description after = before;
    after.mixing.cyclic_stick = head::CyclicStick::square;
    const Answer said = answer(compare(before, after), "as opened", "now");
    EXPECT_THAT(said.text, HasSubstr("lets through the cyclic stick in a circle (as opened), the cyclic stick in a "
                                     "square (now)."));
    EXPECT_EQ(said.tone, Tone::notice);
}

TEST(Comparison, NamesTheNumberAndWhatItDoes) {
    const head::Description before = demo("two_blade_600.toml");
    head::Description after = before;
    after.upper_links[1].error_mm = 0.3;
    const Comparison found = compare(before, after);
    ASSERT_EQ(found.numbers.size(), 1U);
    EXPECT_EQ(found.numbers[0].parameter.path, "upper_link[2].error_mm");
    EXPECT_EQ(*found.numbers[0].after - *found.numbers[0].before, 0.3);
    ASSERT_EQ(found.sticks.size(), 3U);  // centred, down, up
    // By the head itself: nothing here may differ from a pose.
    const auto pose = head::Head::build(after)->pose(head::Sticks{}, 0);
    EXPECT_NEAR(found.sticks[0].after_deg[1], pose->pitch_deg[1], 1e-9);
    EXPECT_NEAR(found.sticks[0].before_deg[1], 0, 1e-9);
    const Answer said = answer(found, "first", "second");
    EXPECT_THAT(said.text, HasSubstr("One number differs: upper link 2"));
    EXPECT_THAT(said.text, HasSubstr("blade 2, +0."));
}

TEST(Comparison, OfHeadsWithUnlikePartsListsWhatOneLacks) {
    const Comparison found = compare(demo("two_blade_600.toml"), demo("three_blade_700.toml"));
    const auto extra = std::ranges::find(found.numbers, "upper_link[3].length_mm",
                                         [](const NumberChange& c) { return c.parameter.path; });
    ASSERT_NE(extra, found.numbers.end());
    EXPECT_FALSE(extra->before);
    EXPECT_TRUE(extra->after);
    EXPECT_EQ(compare(demo("three_blade_700.toml"), demo("two_blade_600.toml")).numbers.size(), found.numbers.size());
}

TEST(Comparison, SaysWhereAHeadDoesNotClose) {
    const head::Description before = demo("two_blade_600.toml");
    head::Description after = before;
    after.upper_links[1].length_mm = 30;
    const Comparison found = compare(before, after);
    EXPECT_THAT(found.sticks[0].why_not, HasSubstr("pper link 2"));
    EXPECT_THAT(answer(found, "a", "b").notes[0], HasSubstr("Not compared everywhere"));
}

}  // namespace
}  // namespace swashwright::studies
