#include "kinematics/studies/sentence.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

/// The sentence of a demo head after a change to it.
Sentence said(const std::function<void(head::Description&)>& spoil, const head::Sticks& sticks = {},
              const char* scene = "two_blade_600.toml") {
    head::Description description = testing::demo(scene);
    spoil(description);
    const auto head = head::Head::build(description);
    EXPECT_TRUE(head) << (head ? "" : head.error().message);
    return head ? sentence(*head, sticks, 0) : Sentence{};
}

void nothing(head::Description&) {}

/// The first number in a text with two decimals.
double number_in(const std::string& text) {
    std::smatch found;
    return std::regex_search(text, found, std::regex(R"(\d+\.\d\d)")) ? std::stod(found.str()) : NAN;
}

TEST(Sentence, NamesTheUpperLinkThatSplitsTheBlades) {
    const Sentence s = said([](auto& d) { d.upper_links[1].error_mm = 0.3; });
    EXPECT_EQ(s.tone, Tone::notice);
    EXPECT_THAT(s.text, ::testing::MatchesRegex(
                            "Blade 2 takes 0\\.[0-9]+ deg more pitch than blade 1: upper link 2 is 0.30 mm long\\."));
    // A lever: at zero pitch the link is nearly square to the arm, so the angle is error / lead (26 mm in this scene).
    // The link leans a little, which the lever rule leaves out: 3 %.
    EXPECT_NEAR(number_in(s.text), 0.3 / 26.0 / degree, 0.03 * 0.66);
}

TEST(Sentence, SpeaksOfTheBladeWhoseLinkIsWrong) {
    EXPECT_THAT(said([](auto& d) { d.upper_links[0].error_mm = -0.3; }).text,
                ::testing::MatchesRegex("Blade 1 takes .* less pitch than blade 2: upper link 1 is 0.30 mm short\\."));
    EXPECT_THAT(said([](auto& d) { d.upper_links[1].error_mm = 0.2; }, {}, "three_blade_700.toml").text,
                ::testing::MatchesRegex("Blade 2 takes .* pitch than the others: upper link 2 is 0.20 mm long\\."));
}

// pitch_deg_per_mm is by an independent solver (see tests/data/reference/README.md).
TEST(Sentence, GivesTheSplitThatAnIndependentSolverGives) {
    std::ifstream file(SWASHWRIGHT_TEST_DATA "/reference/poses.json");
    const auto poses = nlohmann::json::parse(file);
    int compared = 0;
    for (const auto& entry : poses["heads"]) {
        head::Description description =
            testing::loaded(SWASHWRIGHT_TEST_DATA "/reference/" + entry["scene"].get<std::string>());
        if (description.rotor.blades != 2) continue;
        const auto& pose = entry["poses"][0];
        ASSERT_EQ(pose["collective"].get<double>(), 0.0);
        const auto split = [&] {
            const auto curve = turn_curve(*head::Head::build(description), {});
            EXPECT_TRUE(curve);
            return curve->blades[1].mean_deg - curve->blades[0].mean_deg;
        };
        const double before = split();
        description.upper_links[1].error_mm = 0.1;
        const double expected = 0.1 * pose["pitch_deg_per_mm"]["upper 2"][1].get<double>();
        // The reference is at one azimuth of a ring that is a degree or so from level, the split a mean over the turn.
        EXPECT_NEAR(split() - before, expected, 0.02 * std::abs(expected)) << entry["scene"];
        ++compared;
    }
    EXPECT_GE(compared, 3);
}

TEST(Sentence, NamesTwoLinksThatShareTheSplit) {
    const Sentence s = said([](auto& d) {
        d.upper_links[0].error_mm = -0.15;
        d.upper_links[1].error_mm = 0.2;
    });
    EXPECT_THAT(s.text, HasSubstr("upper link 2 is 0.20 mm long, and upper link 1 is 0.15 mm short."));
}

TEST(Sentence, DoesNotBlameALinkThatDoesNotSplit) {
    const Sentence s = said([](auto& d) {
        d.lower_links[0].error_mm = 0.5;  // tilts the ring for both blades alike
        d.grips[1].pitch_offset_deg = 0.4;
    });
    EXPECT_THAT(
        s.text,
        HasSubstr(
            "Blade 2 takes 0.40 deg more pitch than blade 1: grip 2 has 0.40 deg more pitch offset than grip 1."));
    EXPECT_THAT(s.text, Not(HasSubstr("lower link")));
}

TEST(Sentence, NamesDifferencesThatAreNoErrors) {
    EXPECT_THAT(said([](auto& d) { d.upper_links[1].length_mm += 0.25; }).text,
                HasSubstr("upper link 2 is set 0.25 mm longer than upper link 1."));
    EXPECT_THAT(said([](auto& d) { d.swashplate.outer_balls[2].height_mm -= 0.3; }, {}, "three_blade_700.toml").text,
                HasSubstr("outer ball 3 stands 0.30 mm lower on the ring than the others."));
}

TEST(Sentence, AdmitsThatNoSinglePartExplainsTheSplit) {
    const Sentence s = said(
        [](auto& d) {
            d.upper_links[0].error_mm = 0.2;
            d.grips[0].pitch_offset_deg = 0.3;
            d.grips[1].pitch_arm.lead_mm += 0.8;
            d.upper_links[2].length_mm -= 0.2;
        },
        {.collective = 0.8}, "three_blade_700.toml");
    EXPECT_THAT(s.text, HasSubstr("no single part explains it; the largest share, "));
}

TEST(Sentence, SaysWhichLinkCannotReachAndWhatToDo) {
    const Sentence s = said([](auto& d) { d.upper_links[1].length_mm = 30; });
    EXPECT_EQ(s.tone, Tone::trouble);
    EXPECT_THAT(s.text, StartsWith("Upper link 2 is "));
    EXPECT_THAT(s.text, HasSubstr("mm too short to reach"));
    EXPECT_THAT(s.text, HasSubstr("Lengthen it by "));
    EXPECT_THAT(said([](auto& d) { d.upper_links[0].length_mm = 160; }).text, HasSubstr("Shorten it by "));
}

TEST(Sentence, WarnsWhenUpStickLowersPitch) {
    const auto other_sign = [](auto& d) { d.mixing.collective_deg = -d.mixing.collective_deg; };
    const Sentence s = said(other_sign);
    EXPECT_EQ(s.tone, Tone::notice);
    EXPECT_THAT(s.text, StartsWith("Up stick lowers the pitch, because collective_deg makes it lower the ring."));
    EXPECT_THAT(said(other_sign, {}, "small_two_blade_250.toml").text, HasSubstr("a rising ring lowers the pitch"));
    EXPECT_THAT(said(nothing, {}, "small_two_blade_250.toml").text, Not(HasSubstr("Up stick lowers")));
}

TEST(Sentence, NamesTheServoThatIsPastItsTravel) {
    const Sentence s = said([](auto& d) { d.servos[0].travel_deg = {-10, 10}; }, {.collective = 1});
    EXPECT_EQ(s.tone, Tone::notice);
    EXPECT_THAT(s.text, StartsWith("Past the end of servo travel, servo left: horn at "));
}

TEST(Sentence, NamesTheLowerLinkThatTiltsTheRing) {
    const Sentence s = said([](auto& d) { d.lower_links[2].error_mm = 0.8; });
    EXPECT_THAT(s.text,
                ::testing::MatchesRegex("The ring leans [0-9.]+ deg with the cyclic stick centred, lowest towards the "
                                        "nose: lower link 3 is 0.80 mm long\\."));
}

TEST(Sentence, NamesWhatElseTiltsTheRing) {
    EXPECT_THAT(said([](auto& d) { d.lower_links[0].length_mm = 35.4; }).text,
                HasSubstr("lower link 1 is set 0.40 mm longer than the others."));
    EXPECT_THAT(said([](auto& d) { d.servos[1].trim_deg = 2; }).text, HasSubstr("servo right has 2.00 deg of trim."));
    EXPECT_THAT(said([](auto& d) { d.swashplate.guide_pin.radius_mm = 30; }).text, StartsWith("Sticks centred"));
}

TEST(Sentence, TellsWhatTheSticksDo) {
    EXPECT_EQ(said(nothing).text, "Sticks centred: both blades take 0.00 deg of pitch, the ring at 45.00 mm.");
    EXPECT_THAT(
        said(nothing, {.collective = 0.5}).text,
        ::testing::MatchesRegex("Up stick raises the ring [0-9.]+ mm: both blades take \\+[0-9.]+ deg of pitch\\."));
    const Sentence right = said(nothing, {.aileron = 0.5});
    EXPECT_EQ(right.tone, Tone::calm);
    EXPECT_THAT(right.text, StartsWith("Right stick tilts the ring "));
    EXPECT_THAT(right.text, HasSubstr("lowest towards the right"));
    EXPECT_THAT(said(nothing, {.elevator = 0.5}).text, HasSubstr("lowest towards the nose"));
}

TEST(Sentence, PutsPlacesIntoWords) {
    EXPECT_EQ(place_in_words(0), "the nose");
    EXPECT_EQ(place_in_words(90), "the left");
    EXPECT_EQ(place_in_words(-90), "the right");
    EXPECT_EQ(place_in_words(180), "the tail");
    EXPECT_EQ(place_in_words(-179.9), "the tail");
    EXPECT_EQ(place_in_words(-20), "the nose");
    EXPECT_EQ(place_in_words(-40), "the nose on the right");
}

}  // namespace
}  // namespace swashwright::studies
