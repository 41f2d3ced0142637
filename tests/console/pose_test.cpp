// `swashwright pose` as a shell sees it: exit codes, standard output, standard error.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <vector>

#include "tests/console/program.h"
#include "tests/support/demo_head.h"

namespace swashwright {
namespace {

using nlohmann::ordered_json;
using ::testing::HasSubstr;
using ::testing::Not;
using testing::Outcome;
using testing::run_program;

Outcome pose(const std::string& arguments, const std::string& scene = testing::two_blade_file) {
    return run_program("pose '" + scene + "' " + arguments);
}

ordered_json posed(const std::string& arguments, const std::string& scene = testing::two_blade_file) {
    const Outcome outcome = pose(arguments + " --json", scene);
    EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
    return ordered_json::parse(outcome.out, nullptr, false);
}

std::vector<std::string> keys(const ordered_json& object) {
    std::vector<std::string> names;
    for (const auto& [name, value] : object.items()) names.push_back(name);
    return names;
}

/// The two-blade demo with the first occurrence of `old` replaced.
std::string changed_scene(const std::string& name, const std::string& old, const std::string& replacement) {
    std::string text = testing::file_text(testing::two_blade_file);
    const std::size_t at = text.find(old);
    EXPECT_NE(at, std::string::npos) << old;
    return testing::temporary_file(name, text.replace(at, old.size(), replacement));
}

TEST(PoseVerb, prints_the_agreed_keys_in_the_agreed_order) {
    const ordered_json all = posed("--collective 0.5");
    EXPECT_EQ(keys(all), (std::vector<std::string>{"servos", "swashplate", "blades", "residual_mm"}));
    ASSERT_EQ(all["servos"].size(), 3u);
    EXPECT_EQ(keys(all["servos"][0]), (std::vector<std::string>{"name", "angle_deg"}));
    EXPECT_EQ(all["servos"][0]["name"], "left");
    EXPECT_EQ(keys(all["swashplate"]), (std::vector<std::string>{"height_mm", "tilt_deg", "lowest_azimuth_deg"}));
    ASSERT_EQ(all["blades"].size(), 2u);
    EXPECT_EQ(keys(all["blades"][0]), (std::vector<std::string>{"pitch_deg"}));
    EXPECT_LT(all["residual_mm"].get<double>(), 1e-10);
}

TEST(PoseVerb, prints_nothing_else_to_standard_output_with_json) {
    const Outcome outcome = pose("--collective 0.5 --json");
    EXPECT_TRUE(ordered_json::accept(outcome.out));
    EXPECT_EQ(outcome.err, "");
}

TEST(PoseVerb, notes_sticks_that_the_transmitter_does_not_let_through) {
    const Outcome corner = pose("--collective -1 --aileron -1 --elevator 1 --json");
    EXPECT_EQ(corner.exit_code, 0);
    EXPECT_TRUE(ordered_json::accept(corner.out));
    EXPECT_THAT(corner.err,
                HasSubstr("note: solved all the same, though the scene's transmitter lets less through: the "
                          "cyclic stick in a circle;"));
    const std::string square = changed_scene("square.toml", "phase_deg", "cyclic_stick = \"square\"\nphase_deg");
    const Outcome let = pose("--collective -1 --aileron -1 --elevator 1 --json", square);
    EXPECT_EQ(let.out, corner.out);
    EXPECT_EQ(let.err, "");
    EXPECT_THAT(run_program("play '" + testing::two_blade_file + "' --aileron 1 --elevator -1 --json").err,
                HasSubstr("note: worked out all the same"));
    EXPECT_EQ(pose("--collective 1 --aileron 0.71 --elevator 0.71 --json").err, "");  // as reach prints the edge
}

TEST(PoseVerb, prints_twelve_digits_or_more_wherever_there_are_that_many) {
    const Outcome outcome = pose("--collective 0.5 --aileron 0.3 --elevator -0.2 --azimuth 33 --json");
    for (const char* key : {"\"height_mm\": ", "\"tilt_deg\": ", "\"lowest_azimuth_deg\": ", "\"pitch_deg\": "}) {
        const std::size_t at = outcome.out.find(key) + std::string(key).size();
        const std::string number = outcome.out.substr(at, outcome.out.find_first_of(",\n", at) - at);
        EXPECT_GE(number.size(), 13u) << key << number;
    }
}

// The expected values come from the independent solver that tests/data/reference/README.md tells about.
TEST(PoseVerb, agrees_with_the_reference_poses) {
    const auto reference = nlohmann::json::parse(testing::file_text(SWASHWRIGHT_TEST_DATA "/reference/poses.json"));
    for (const auto& head : reference["heads"]) {
        const std::string scene = SWASHWRIGHT_TEST_DATA "/reference/" + head["scene"].get<std::string>();
        const auto& expected = head["poses"].back();
        const auto arguments = [&](const char* key) {
            return " --" + std::string(key).substr(0, std::string(key).find('_')) + " " + expected[key].dump();
        };
        const std::string azimuth = arguments("azimuth_deg");
        std::string horns = " --horns ";
        for (const auto& angle : expected["horns_deg"]) horns += angle.dump() + ",";
        horns.pop_back();
        for (const std::string& inputs :
             {arguments("collective") + arguments("aileron") + arguments("elevator"), horns}) {
            const ordered_json found = posed(inputs + azimuth, scene);
            for (std::size_t j = 0; j < 3; ++j)
                EXPECT_NEAR(found["servos"][j]["angle_deg"].get<double>(), expected["horns_deg"][j].get<double>(),
                            1e-9);
            EXPECT_NEAR(found["swashplate"]["height_mm"].get<double>(), expected["height_mm"].get<double>(), 1e-8);
            EXPECT_NEAR(found["swashplate"]["tilt_deg"].get<double>(), expected["tilt_deg"].get<double>(), 1e-8);
            for (std::size_t k = 0; k < expected["pitch_deg"].size(); ++k)
                EXPECT_NEAR(found["blades"][k]["pitch_deg"].get<double>(), expected["pitch_deg"][k].get<double>(), 1e-8)
                    << scene << inputs << azimuth;
        }
    }
}

TEST(PoseVerb, finds_every_demo_level_and_flat_at_neutral_and_pitched_by_eleven_degrees_at_full_stick) {
    for (const char* name : {"two_blade_600", "three_blade_700", "small_two_blade_250"}) {
        const std::string scene = std::string(SWASHWRIGHT_SCENES "/") + name + ".toml";
        const ordered_json neutral = posed("", scene), up = posed("--collective 1", scene);
        EXPECT_LT(neutral["swashplate"]["tilt_deg"].get<double>(), 1e-9) << name;
        for (const auto& blade : neutral["blades"]) EXPECT_NEAR(blade["pitch_deg"].get<double>(), 0, 1e-9) << name;
        for (const auto& blade : up["blades"]) EXPECT_NEAR(blade["pitch_deg"].get<double>(), 11.3, 0.4) << name;
    }
}

TEST(PoseVerb, takes_negative_numbers_in_every_spelling) {
    const ordered_json down = posed("--collective -1");
    EXPECT_EQ(posed("--collective=-1"), down);
    EXPECT_EQ(posed("--collective -1.0e0 --aileron -0 --elevator +0"), down);
    EXPECT_EQ(posed("--horns -19,-19,-19")["blades"].size(), 2u);
    EXPECT_DOUBLE_EQ(posed("--horns -5,3,2")["servos"][0]["angle_deg"].get<double>(), -5);
    EXPECT_DOUBLE_EQ(posed("--horns=-5,3,2")["servos"][1]["angle_deg"].get<double>(), 3);
    EXPECT_LT(posed("--collective -.5")["blades"][0]["pitch_deg"].get<double>(), 0);
}

TEST(PoseVerb, refuses_bad_usage_with_code_2_and_a_reason) {
    const std::vector<std::pair<std::string, std::string>> cases{
        {"--collective 1.0001", "--collective: expected a number from -1 to 1, found 1.0001"},
        {"--aileron -1.5", "--aileron: expected a number from -1 to 1, found -1.5"},
        {"--elevator nan", "--elevator: expected a number from -1 to 1, found nan"},
        {"--collective inf", "found inf"},
        {"--collective 0,5", "found 0,5"},
        {"--collective ''", "--collective"},
        {"--azimuth nan", "--azimuth: expected a number from -3600 to 3600, found nan"},
        {"--azimuth -inf", "found -inf"},
        {"--azimuth 1e999", "found 1e999"},
        {"--azimuth 90deg", "found 90deg"},
        {"--azimuth", "--azimuth"},
        {"--horns 1,2", "--horns: expected 3 angles, one for each servo, found 2"},
        {"--horns 1,2,3,4", "found 4"},
        {"--horns 1,nan,3", "--horns: expected angles from -3600 to 3600 with commas between, found 1,nan,3"},
        {"--horns 1,,3", "found 1,,3"},
        {"--horns 1,2,", "found 1,2,"},
        {"--colective 1", "--colective"},
        {"--collective 1 --collective 0", "--collective"},
        {"spare", "spare"},
    };
    for (const auto& [arguments, reason] : cases) {
        const Outcome outcome = pose(arguments + " --json");
        EXPECT_EQ(outcome.exit_code, 2) << arguments;
        EXPECT_EQ(outcome.out, "") << arguments;
        EXPECT_THAT(outcome.err, HasSubstr(reason)) << arguments;
    }
    EXPECT_EQ(run_program("pose").exit_code, 2);
}

TEST(PoseVerb, refuses_a_bad_scene_with_code_2_and_every_mistake) {
    const std::string broken = SWASHWRIGHT_TEST_DATA "/broken/38_many_mistakes.toml";
    const Outcome outcome = pose("--json", broken);
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_EQ(outcome.out, "");
    EXPECT_THAT(outcome.err, HasSubstr(broken + ":5:13: [rotor] direction"));
    EXPECT_THAT(outcome.err, HasSubstr(broken + ":60:1: [mixing]"));
    EXPECT_EQ(pose("--json", "/nowhere.toml").exit_code, 2);
    EXPECT_EQ(pose("--json", "/").exit_code, 2);
}

TEST(PoseVerb, refuses_a_scene_that_does_not_close_at_neutral_at_the_link_that_is_at_fault) {
    const std::string scene = changed_scene("short.toml", "length_mm = 61.0", "length_mm = 21.0");
    const Outcome outcome = pose("--json", scene);
    EXPECT_EQ(outcome.exit_code, 1);
    EXPECT_EQ(outcome.out, "");
    EXPECT_THAT(outcome.err, HasSubstr(scene + ":90:13: upper link 1 is "));
    EXPECT_THAT(outcome.err, HasSubstr("found 21"));
}

TEST(PoseVerb, gives_code_1_with_link_and_shortfall_where_the_linkage_cannot_be_assembled) {
    const Outcome outcome = pose("--horns 60,-60,60 --json", SWASHWRIGHT_SCENES "/small_two_blade_250.toml");
    EXPECT_EQ(outcome.exit_code, 1);
    EXPECT_EQ(outcome.out, "");
    EXPECT_THAT(outcome.err, ::testing::ContainsRegex(
                                 "balls that upper link [12] joins are [0-9.]+ mm too (far apart|close together)"));
}

TEST(PoseVerb, warns_beyond_travel_and_solves_all_the_same) {
    const Outcome outcome = pose("--horns 46,0,0 --json");
    EXPECT_EQ(outcome.exit_code, 0);
    EXPECT_DOUBLE_EQ(ordered_json::parse(outcome.out)["servos"][0]["angle_deg"].get<double>(), 46);
    EXPECT_THAT(outcome.err, HasSubstr("warning: beyond travel"));
    EXPECT_THAT(outcome.err, HasSubstr("left"));
    EXPECT_THAT(outcome.err, Not(HasSubstr("servo right")));
}

TEST(PoseVerb, adds_trim_and_neutral_to_the_command) {
    const std::string scene = changed_scene("trim.toml", "neutral_deg = 0.0", "neutral_deg = 2.0\ntrim_deg = 0.5");
    EXPECT_DOUBLE_EQ(posed("", scene)["servos"][0]["angle_deg"].get<double>(), 2.5);
    EXPECT_DOUBLE_EQ(posed("--horns 1,0,0", scene)["servos"][0]["angle_deg"].get<double>(), 1);
}

TEST(PoseVerb, poses_the_head_with_other_numbers_for_this_run) {
    const std::string before = testing::file_text(testing::two_blade_file);
    const ordered_json faulty = posed("--with 'upper_link[2].error_mm=0.3' --with 'servo[1].trim_deg=+1e0'");
    EXPECT_GT(faulty["blades"][1]["pitch_deg"].get<double>(), faulty["blades"][0]["pitch_deg"].get<double>() + 0.5);
    EXPECT_DOUBLE_EQ(faulty["servos"][0]["angle_deg"].get<double>(), 1);
    EXPECT_EQ(testing::file_text(testing::two_blade_file), before);
    const std::string out = pose("--with 'upper_link[2].error_mm=0.3'").out;
    EXPECT_THAT(out, HasSubstr("With upper link 2, error 0.3 mm."));
    EXPECT_THAT(out, HasSubstr("Blade 2 takes 0.67 deg more pitch than blade 1"));
}

TEST(PoseVerb, refuses_a_number_that_no_scene_could_have) {
    for (const char* change :
         {"upper_link[3].error_mm=0.3", "foo=1", "upper_link[2].error_mm",
          "upper_link[2].error_mm=", "upper_link[2].error_mm=nan", "upper_link[2].error_mm=1e9", "=", ""}) {
        const Outcome outcome = pose(std::string("--with '") + change + "'");
        EXPECT_EQ(outcome.exit_code, 2) << change;
        EXPECT_EQ(outcome.out, "") << change;
        EXPECT_THAT(outcome.err, HasSubstr("--with")) << change;
    }
    const Outcome opens = pose("--with 'upper_link[1].length_mm=20'");
    EXPECT_NE(opens.exit_code, 0);
    EXPECT_THAT(opens.err, HasSubstr("upper link 1 is "));
}

TEST(PoseVerb, warns_on_the_table_where_up_stick_lowers_pitch) {
    const std::string scene = changed_scene("sign.toml", "collective_deg = 19.0", "collective_deg = -19.0");
    const Outcome outcome = pose("", scene);
    EXPECT_EQ(outcome.exit_code, 0);
    EXPECT_THAT(outcome.out, HasSubstr("Up stick lowers the pitch"));
    EXPECT_EQ(pose("").err, "");
    EXPECT_EQ(pose("", SWASHWRIGHT_SCENES "/small_two_blade_250.toml").err, "");
}

TEST(PoseVerb, prints_a_table_of_a_hundred_columns_at_most_with_units) {
    const Outcome outcome = pose("--collective 0.5 --aileron -0.3 --azimuth 33");
    EXPECT_EQ(outcome.exit_code, 0);
    for (const char* text : {"  deg", "mm above the scene's zero", "leading edge up +", "blade 2", "rear"})
        EXPECT_THAT(outcome.out, HasSubstr(text));
    std::istringstream lines(outcome.out);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 100u) << line;
}

TEST(Program, tells_its_version_and_its_verbs) {
    const Outcome version = run_program("--version"), help = run_program("--help");
    EXPECT_EQ(version.exit_code, 0);
    EXPECT_EQ(version.out, "swashwright " SWASHWRIGHT_VERSION "\n");
    EXPECT_EQ(help.exit_code, 0);
    EXPECT_THAT(help.out, HasSubstr("pose"));
    EXPECT_EQ(run_program("pose --help").exit_code, 0);
}

TEST(Program, refuses_what_is_no_verb_or_option_with_code_2) {
    const Outcome verb = run_program("poes '" + testing::two_blade_file + "'"), option = run_program("--bogus");
    EXPECT_EQ(verb.exit_code, 2);
    EXPECT_THAT(verb.err, HasSubstr("poes is no verb"));
    EXPECT_EQ(option.exit_code, 2);
    EXPECT_THAT(option.err, HasSubstr("--bogus"));
}

}  // namespace
}  // namespace swashwright
