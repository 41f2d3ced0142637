// `measured` with readings of a head whose arrangement a scene lends: tails, four servos, levers.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/console/every_verb.h"

namespace swashwright::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

json told(const std::string& arguments) {
    const Outcome outcome = run_program(arguments + " --json");
    EXPECT_EQ(outcome.exit_code, 0) << arguments << "\n" << outcome.err;
    return json::parse(outcome.out, nullptr, false);
}

std::string linkage(const char* name) {
    return SWASHWRIGHT_TEST_DATA "/linkages/" + std::string(name) + ".toml";
}

/// Readings of every place of a scene, what the scene gives and `more` at one of them.
std::string readings_of(const std::string& scene, const std::string& place = "", double more = 0) {
    std::string text = fmt::format("format = 1\nscene = \"{}\"\nnumbers = \"known\"\n", scene);
    const json answer = told("measured '" + scene + "' --list");
    for (const json& row : answer["tables"]["places"])
        text += fmt::format("[[reading]]\nplace = \"{}\"\nmm = {}\n", row["key"].get<std::string>(),
                            row["scene_mm"].get<double>() + (row["key"] == place ? more : 0));
    return text;
}

TEST(MeasuredVerb, measures_tails_four_servos_and_levers) {
    const TemporaryFolder folder("places");
    const std::vector<std::array<std::string, 3>> heads{
        {"tail_01", "lever[1].ball[2] to pivot", "tail bellcrank, ball 2 to pivot"},
        {"four_servos_01", "inner_ball[1] to inner_ball[3]", "inner ring, ball 1 to ball 3"},
        {"bellcrank_01", "lever[1].pivot to shaft", "frame, pivot of "},
        {"stabiliser_bar_01", "upper_link[1]", "ball to ball"}};
    for (const auto& [name, place, words] : heads) {
        const std::string scene = linkage(name.c_str()), made = folder / (name + ".toml");
        const std::string right = folder.put("right.toml", readings_of(scene));
        const json sound = told("measured '" + right + "' --out '" + made + "'");
        EXPECT_THAT(sound["answer"].get<std::string>(), HasSubstr("none contradicts the others")) << name;
        for (const json& number : sound["tables"]["numbers"])
            EXPECT_NEAR(number["scene"].get<double>(), number["value"].get<double>(), 1e-6) << name << number["path"];
        EXPECT_EQ(run_program("pose '" + made + "'").exit_code, 0) << name;
        const std::string wrong = folder.put("wrong.toml", readings_of(scene, place, 10));
        const std::string doubted = told("measured '" + wrong + "'")["answer"];
        EXPECT_THAT(doubted, HasSubstr(" Take again: ")) << name;
        EXPECT_THAT(doubted, HasSubstr(words)) << name;
    }
}

TEST(MeasuredVerb, lists_the_places_of_a_scene_and_of_readings_on_it) {
    const std::string readings = SWASHWRIGHT_SCENES "/readings/two_blade_600.places.toml";
    EXPECT_EQ(run_program("measured --list '" + readings + "'").out, run_program("measured --list " + usual_scene).out);
    EXPECT_THAT(run_program("measured --list " + usual_scene).out, HasSubstr("inner_ball[1] to shaft"));
    EXPECT_EQ(run_program("measured --list /nowhere.toml").exit_code, 2);
    EXPECT_EQ(run_program("measured --list " + usual_scene + " --out x.toml").exit_code, 2);
}

TEST(MeasuredVerb, names_mistakes_and_writes_over_nothing_that_was_read) {
    const TemporaryFolder folder("wrong");
    const std::string scene = folder.put("head.toml", file_text(SWASHWRIGHT_SCENES "/two_blade_600.toml"));
    const std::string text = "format = 1\nscene = \"head.toml\"\n[[reading]]\nplace = \"upper_link[2]\"\nmm = 61\n";
    const std::string readings = folder.put("readings.toml", text);
    for (const std::string& out : {scene, readings}) {
        const Outcome outcome = run_program("measured '" + readings + "' --out '" + out + "'");
        EXPECT_EQ(outcome.exit_code, 2);
        EXPECT_THAT(outcome.err, HasSubstr("which was read"));
    }
    EXPECT_EQ(file_text(readings), text);
    folder.put("readings.toml", text + "[[reading]]\nplace = \"uper_link[1]\"\nmm = 61\n");
    const Outcome outcome = run_program("measured '" + readings + "'");
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_EQ(outcome.out, "");
    EXPECT_THAT(outcome.err, HasSubstr("readings.toml:7:9: [[reading]] 2 place: this head has no place"));
    EXPECT_THAT(outcome.err, HasSubstr("did you mean \"upper_link[1]\""));
}

TEST(MeasuredVerb, ends_with_1_where_the_measured_head_does_not_close) {
    const TemporaryFolder folder("short");
    const std::string readings = folder.put(
        "readings.toml", "format = 1\nscene = \"" SWASHWRIGHT_SCENES
                         "/two_blade_600.toml\"\nreading = [{ place = \"upper_link[1]\", mm = 90 }, { place = "
                         "\"grip[1].ball to feathering axis\", mm = 14 }, { place = \"ring height\", mm = 45 }]\n");
    const Outcome outcome = run_program("measured '" + readings + "'");
    EXPECT_EQ(outcome.exit_code, 1) << outcome.out;
    EXPECT_THAT(outcome.err, HasSubstr("upper link 1 is "));
    EXPECT_THAT(outcome.out, HasSubstr("With these numbers the linkage does not close"));
}

}  // namespace
}  // namespace swashwright::testing
