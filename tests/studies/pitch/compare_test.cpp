#include "kinematics/studies/pitch/compare.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/head/build.h"
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
    ASSERT_EQ(found.sticks.size(), 5U);  // centred, down, up, right, forward
    // By the head itself: nothing here may differ from a pose.
    const auto pose = head::Head::build(after)->pose(head::Sticks{}, 0);
    EXPECT_NEAR(found.sticks[0].after_deg[1], pose->pitch_deg[1], 1e-9);
    EXPECT_NEAR(found.sticks[0].before_deg[1], 0, 1e-9);
    const Answer said = answer(found, "first", "second");
    EXPECT_THAT(said.text, HasSubstr("One number differs: upper link 2"));
    EXPECT_THAT(said.text, HasSubstr("blade 2, +0."));
    EXPECT_THAT(said.text,
                ::testing::AnyOf(HasSubstr("deg, at low collective."), HasSubstr("deg, at full collective.")));
    EXPECT_EQ(said.tables[1].rows.size(), 5 * 4U);  // of each place two blades, height, tilt
}

// What moves something and stands in no list of numbers is not "the same".
TEST(Comparison, TellsWhatDiffersBesidesTheNumbers) {
    const head::Description before = demo("two_blade_600.toml");
    const auto after = [&](const auto& change) {
        head::Description d = before;
        change(d);
        return d;
    };
    const std::string right = head::servo_words(before.servos[1]);
    const std::vector<std::pair<head::Description, std::string>> cases{
        {after([](auto& d) { d.servos[1].aileron_weight = 0.5; }), right + ", aileron weight"},
        {after([](auto& d) { d.servos[1].elevator_weight = 0.9; }), right + ", elevator weight"},
        {after([](auto& d) { d.servos[1].collective_weight = 0.5; }), right + ", collective weight"},
        {after([](auto& d) { d.servos[1].raise = -head::raise_sign(d.servos[1]); }), right + ", which way"},
        {after([](auto& d) {
             d.rotor.direction = d.rotor.direction == head::Direction::clockwise ? head::Direction::anticlockwise
                                                                                 : head::Direction::clockwise;
         }),
         "the way the rotor turns"}};
    for (const auto& [head, words] : cases) {
        const Answer said = answer(compare(before, head), "before", "after");
        EXPECT_THAT(said.text, HasSubstr("One thing differs: " + words)) << words;
        EXPECT_EQ(said.tone, Tone::notice);
        EXPECT_TRUE(said.tables[0].rows.empty());
        EXPECT_FALSE(said.tables[1].rows.empty());
        // As posed: the greatest change of any blade's pitch at the places that are compared.
        EXPECT_THAT(said.text, ::testing::AnyOf(HasSubstr("Largest change of mean pitch: blade"),
                                                HasSubstr("Within a turn pitch changes by up to")));
        EXPECT_THAT(answer(compare(head, head), "before", "after").text, HasSubstr("the same")) << words;
    }
    // Less aileron on both sides: little in the mean, which cyclic cancels in, and a lean that is not the same.
    const Comparison weights = compare(before, after([](auto& d) {
                                           d.servos[0].aileron_weight = 0.6;
                                           d.servos[1].aileron_weight = -0.6;
                                       }));
    EXPECT_THAT(answer(weights, "a", "b").text, HasSubstr("2 things differ: "));
    EXPECT_THAT(answer(weights, "a", "b").text, HasSubstr("Within a turn pitch changes by up to"));
    EXPECT_THAT(answer(weights, "a", "b").text, HasSubstr("full right aileron."));
    const StickChange& aileron = weights.sticks[3];
    EXPECT_EQ(aileron.sticks, (head::Sticks{.aileron = 1}));
    EXPECT_GT(std::abs(aileron.after_tilt_deg - aileron.before_tilt_deg), 0.5);
    // Beside numbers.
    head::Description both = cases[0].first;
    both.upper_links[0].error_mm = 0.2;
    EXPECT_THAT(answer(compare(before, both), "a", "b").text,
                HasSubstr("One number differs: upper link 1, error. Also: " + right + ", aileron weight."));
}

TEST(Comparison, NamesAndSizesOfBallsAreNoDifference) {
    const head::Description before = demo("two_blade_600.toml");
    head::Description after = before;
    after.name = "Another";
    after.upper_links[0].ball_mm = {3, 3};
    const Answer said = answer(compare(before, after), "a", "b");
    EXPECT_THAT(said.text, HasSubstr("the same"));
    EXPECT_EQ(said.tone, Tone::calm);
    EXPECT_THAT(said.notes.back(), HasSubstr("not names, ball sizes or limits"));
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
    EXPECT_THAT(answer(compare(after, after), "a", "b").text, HasSubstr("the same"));
}

}  // namespace
}  // namespace swashwright::studies
