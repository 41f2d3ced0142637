#include "kinematics/bench_files/lesson.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

namespace swashwright::scene {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

const std::string beside = SWASHWRIGHT_SCENES "/lessons/test.toml";  // it need not be there

const std::string sample = R"(format = 1
title = "A lesson"
order = 3
scene = "../two_blade_600.toml"
set = [{ number = "upper_link[2].error_mm", to = 0.3 }]

[[step]]
text = """
First line
goes on.

Second paragraph."""
source = """
A book,
from memory."""
view = "left"
collective = 0.5
to = { collective = 1, azimuth_deg = 90 }
lit = ["upper_link[1]", "swashplate.inner_balls"]

[[step]]
text = "Do it."
camera = { bearing_deg = 30, elevation_deg = 10, closer = 2, at = "grip[1]" }
set = [{ number = "servo[2].raise", to = -1 }]

[step.task]
words = "Turn it."
change = ["upper_link[2].length_mm"]
goals = [{ value = "split_deg", wanted = 0, within = 0.1 }]
done = "So."
way = [{ number = "upper_link[2].length_mm", to = 60.7 }, { number = "azimuth_deg", to = 90 }]
)";

TEST(Lesson, IsReadWithItsScene) {
    const auto lesson = parse_lesson(sample, beside);
    ASSERT_TRUE(lesson) << lesson.error().text();
    EXPECT_EQ(lesson->title, "A lesson");
    EXPECT_EQ(lesson->order, 3);
    EXPECT_EQ(lesson->scene.head.name, "Two blades, clockwise, 600 size");
    ASSERT_EQ(lesson->steps.size(), 2U);
    const Step& first = lesson->steps[0];
    EXPECT_EQ(first.text, "First line goes on.\n\nSecond paragraph.");
    EXPECT_EQ(first.source, "A book, from memory.");
    EXPECT_EQ(lesson->steps[1].source, "");
    ASSERT_TRUE(first.from && first.to);
    EXPECT_EQ(first.from->bearing_deg, 90);
    EXPECT_EQ(first.stance.sticks.collective, 0.5);
    EXPECT_EQ(first.to->azimuth_deg, 90);
    EXPECT_THAT(first.lit, ElementsAre("upper_link[1]", "swashplate.inner_balls"));
    const Step& second = lesson->steps[1];
    ASSERT_TRUE(second.task && second.from);
    EXPECT_EQ(second.from->closer, 2);
    EXPECT_EQ(second.task->goals[0].value, "split_deg");
    EXPECT_EQ(stance_of(*second.task, second.stance).azimuth_deg, 90);
}

TEST(Lesson, GivesEachStepItsOwnHead) {
    const auto lesson = parse_lesson(sample, beside);
    ASSERT_TRUE(lesson) << lesson.error().text();
    const head::Description first = head_of(*lesson, lesson->steps[0]);
    EXPECT_EQ(first.upper_links[1].error_mm, 0.3);
    EXPECT_FALSE(first.servos[1].raise);
    const head::Description second = head_of(*lesson, lesson->steps[1], {{"lower_link[1].length_mm", 36}});
    EXPECT_EQ(second.upper_links[1].error_mm, 0.3);
    EXPECT_EQ(second.servos[1].raise, -1);
    EXPECT_EQ(second.lower_links[0].length_mm, 36);
}

TEST(Lesson, OfATailHasItsRudderAndItsLevers) {
    const std::string text = R"(format = 1
title = "A tail"
order = 1
scene = "../tail_600.toml"

[[step]]
text = "Watch."
rudder = 0.5
to = { rudder = 1 }
camera = { bearing_deg = 30, elevation_deg = 10, closer = 2, at = "lever[1]" }
lit = ["lever[1]", "link[2]"]
claims = [{ says = "Watch", value = "rudder", wanted = -1, within = 0.1, rudder = -1 }]

[step.task]
words = "Turn it."
goals = [{ value = "rudder", wanted = -0.5, within = 0.1 }]
done = "So."
way = [{ number = "rudder", to = -0.5 }]
)";
    const auto lesson = parse_lesson(text, beside);
    ASSERT_TRUE(lesson) << lesson.error().text();
    const Step& step = lesson->steps[0];
    EXPECT_EQ(step.stance.sticks, (head::Sticks{.rudder = 0.5}));
    EXPECT_EQ(step.to->sticks, (head::Sticks{.rudder = 1}));
    EXPECT_EQ(step.claims[0].at.sticks.rudder, -1);
    EXPECT_EQ(stance_of(*step.task, step.stance).sticks.rudder, -0.5);
    EXPECT_THAT(step.lit, ElementsAre("lever[1]", "link[2]"));

    const auto wrong = [&](const std::string& part, const std::string& with) {
        std::string other = text;
        other.replace(other.find(part), part.size(), with);
        const auto read = parse_lesson(other, beside);
        return read ? "" : read.error().text();
    };
    EXPECT_THAT(wrong("rudder = 0.5", "collective = 0.5"), HasSubstr("collective"));
    EXPECT_THAT(wrong("link[2]", "link[3]"), HasSubstr("the head has no part \"link[3]\""));
    EXPECT_THAT(wrong("rudder = 0.5", "rudder = 1.5"), HasSubstr("a stick position from -1 to 1"));
}

TEST(Lesson, TellsEveryMistakeAtItsPlace) {
    const auto lesson = parse_lesson(R"(format = 1
title = "A lesson"
order = 0
scene = "../two_blade_600.toml"
set = [{ number = "upper_link[3].error_mm", to = 0.3 }]

[[step]]
text = "Look."
view = "behind"
collective = 2
lit = ["upper_link[9]"]
camra = 1

[[step]]
text = "Do it."

[step.task]
words = "Turn it."
change = ["upper_link[2].colour"]
goals = [{ value = "blade[4].pitch_deg", wanted = 0, within = 0 }]
done = "So."

[step.choice]
question = "Which?"
answers = ["This"]
right = 1
because = "So."
)",
                                     beside);
    ASSERT_FALSE(lesson);
    const std::string text = lesson.error().text();
    const auto at = [&](const std::string& place, const std::string& words) {
        const std::string here = beside + ":" + place + ":";
        const std::size_t start = text.find(here);
        ASSERT_NE(start, std::string::npos) << place << " is not in\n" << text;
        bool told = false;
        for (std::size_t i = start; i != std::string::npos; i = text.find(here, i + 1))
            told = told || text.substr(i, text.find('\n', i) - i).find(words) != std::string::npos;
        EXPECT_TRUE(told) << place << " " << words << " is not in\n" << text;
    };
    at("3:9", "a whole number from 1 to 1000");
    at("5:19", "no number \"upper_link[3].error_mm\"");
    at("9:8", "\"nose\"");
    at("10:14", "a stick position from -1 to 1");
    at("11:7", "no part \"upper_link[9]\"");
    at("12:1", "unknown key \"camra\"; did you mean camera?");
    at("19:10", "no number \"upper_link[2].colour\"");
    at("20:20", "no value \"blade[4].pitch_deg\"");
    at("20:63", "a tolerance");
    at("25:11", "2 to 4 texts");
    EXPECT_THAT(text, HasSubstr("found beside choice"));
    EXPECT_EQ(lesson.error().list.size(), 11U) << text;
}

TEST(Lesson, WithoutItsSceneSaysSo) {
    const auto lesson = parse_lesson(
        "format = 1\ntitle = \"A\"\norder = 1\nscene = \"nowhere.toml\"\n\n[[step]]\ntext = \"T\"\n", beside);
    ASSERT_FALSE(lesson);
    ASSERT_EQ(lesson.error().list.size(), 1U);
    EXPECT_EQ(lesson.error().list[0].place.line, 4);
    EXPECT_THAT(lesson.error().list[0].message, HasSubstr("cannot be read"));
}

TEST(Lesson, NeedsAStepAndATitle) {
    const auto lesson = parse_lesson("format = 1\norder = 1\nscene = \"../two_blade_600.toml\"\n", beside);
    ASSERT_FALSE(lesson);
    EXPECT_THAT(lesson.error().text(), HasSubstr("the key title is missing"));
    EXPECT_THAT(lesson.error().text(), HasSubstr("the key step is missing"));
}

/// What is told of a lesson of one step that holds these lines.
std::string told(const std::string& step, const std::string& top = "") {
    const auto lesson = parse_lesson("format = 1\ntitle = \"A\"\norder = 1\nscene = \"../two_blade_600.toml\"\n" + top +
                                         "\n[[step]]\ntext = \"T\"\n" + step,
                                     beside);
    return lesson ? "read" : lesson.error().text();
}

TEST(Lesson, RefusesAViewThatIsGivenTwice) {
    EXPECT_THAT(told("view = \"nose\"\ncamera = { bearing_deg = 30, elevation_deg = 10 }\n"),
                HasSubstr("a bearing or elevation beside view; expected only one of the two"));
    EXPECT_EQ(told("view = \"nose\"\ncamera = { closer = 2 }\n"), "read");
    EXPECT_THAT(told("camera = { bearing_deg = 30 }\n"), HasSubstr("the key elevation_deg is missing"));
}

TEST(Lesson, RefusesASenseThatIsNoSenseAndTooManySettings) {
    EXPECT_THAT(told("set = [{ number = \"servo[1].raise\", to = 2 }]\n"), HasSubstr("expected 1 or -1, found 2"));
    std::string many;
    for (int i = 0; i < 13; ++i) many += "{ number = \"upper_link[1].length_mm\", to = 60 }, ";
    EXPECT_THAT(told("", "set = [" + many + "]"), HasSubstr("expected 12 settings at most, found 13"));
}

TEST(Lesson, RefusesAStepWithoutText) {
    EXPECT_THAT(told("\n[[step]]\nview = \"nose\"\n"),
                HasSubstr("expected a text in quotation marks, found none; add it"));
}

TEST(Lesson, TheSticksOfAWayMoveTheLearnersSticks) {
    const Task task{"", {}, {}, "", {{"collective", 0.5}, {"aileron", -0.25}, {"upper_link[1].length_mm", 60}}};
    const Stance to = stance_of(task, {{0, 0, 0.75}, 30});
    EXPECT_EQ(to.sticks.collective, 0.5);
    EXPECT_EQ(to.sticks.aileron, -0.25);
    EXPECT_EQ(to.sticks.elevator, 0.75);
    EXPECT_EQ(to.azimuth_deg, 30);
}

TEST(Lesson, ThatIsNotThereIsToldAsSuch) {
    const auto missing = load_lesson("/no/such/lesson.toml");
    ASSERT_FALSE(missing);
    EXPECT_THAT(missing.error().text(), HasSubstr("expected a lesson file"));
}

}  // namespace
}  // namespace swashwright::scene
