// Every verb on a scene of every kind of linkage: an answer, or a sentence that says what cannot be asked of it.
#include <gmock/gmock.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/console/every_verb.h"

namespace swashwright::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

const std::string folder = SWASHWRIGHT_TEST_DATA "/linkages/";
/// Full left rudder of the scene is out of its reach by a hair; with this travel both ends close.
constexpr double travel_deg = 20, travel_of_scene_deg = 21.298817213837914;
const std::string tail = "'" + folder + "tail_01.toml' --with mixing.rudder_deg=20";

std::vector<std::string> scenes() {
    std::vector<std::string> out;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        if (entry.path().extension() == ".toml") out.push_back(entry.path().string());
    std::ranges::sort(out);
    return out;
}

bool is_tail(const std::string& scene) {
    return scene.find("tail_") != std::string::npos;
}

/// The verb's line with what suits this scene in place of readings and of the head to compare with.
std::string command(const Use& use, const std::string& scene, const std::string& readings) {
    if (use.verb == "diagnose") return "diagnose '" + scene + "' --readings '" + readings + "'";
    if (use.verb == "compare") return "compare '" + scene + "' '" + (is_tail(scene) ? scene : scenes().front()) + "'";
    return use.command(scene);
}

/// A number that is none, in a table or in JSON.
bool holds_nan(const std::string& text) {
    return std::regex_search(text, std::regex(R"((^|[^A-Za-z])-?(nan|inf|NaN|Infinity)([^A-Za-z]|$))"));
}

void expect_answer(const std::string& line) {
    const Outcome outcome = run_program(line);
    EXPECT_TRUE(outcome.exit_code == 0 || outcome.exit_code == 1) << line << "\n" << outcome.exit_code << outcome.err;
    if (outcome.exit_code == 1) {
        EXPECT_THAT(outcome.err, HasSubstr("swashwright: ")) << line;
    }
    EXPECT_FALSE(holds_nan(outcome.out)) << line << "\n" << outcome.out;
    EXPECT_FALSE(holds_nan(outcome.err)) << line << "\n" << outcome.err;
}

TEST(EveryLinkage, is_answered_by_every_verb) {
    const TemporaryFolder made("linkages");
    const std::string rows =
        "format = 1\n[[pitch]]\nblade = 1\nazimuth_deg = 0\nSTICK = 0.5\nreading_deg = 4\n"
        "[[pitch]]\nblade = 2\nazimuth_deg = 90\nreading_deg = 1\n";
    const auto readings = [&](const std::string& stick) {
        std::string text = rows;
        return made.put(stick + ".toml", text.replace(text.find("STICK"), 5, stick));
    };
    const std::string of_main = readings("collective"), of_tail = readings("rudder");
    for (const std::string& scene : scenes())
        for (const Use& use : every_use()) {
            if (use.verb == "measured") continue;  // its readings are of a head that no scene holds yet
            const std::string line = command(use, scene, is_tail(scene) ? of_tail : of_main);
            const std::string out = made / ("out" + use.ending);
            if (!use.ending.empty()) {
                expect_answer(line + " --out '" + out + "'");
                EXPECT_GT(std::filesystem::file_size(out), 200U) << line;
                std::filesystem::remove(out);
            }
            for (const std::string& form : use.forms())  // what is no number is null in JSON and would not be seen
                if (use.kinds == "text" || form != " --json") expect_answer(line + form);
        }
}

json answer(const std::string& line) {
    const Outcome outcome = run_program(line + " --json");
    EXPECT_EQ(outcome.exit_code, 0) << line << "\n" << outcome.err;
    return json::parse(outcome.out, nullptr, false);
}

/// The rudder's row that was asked for, against the independent solver's poses: tests/data/linkages/README.md.
TEST(Tail, range_has_the_pitch_that_the_reference_has) {
    json data;
    std::ifstream(folder + "poses.json") >> data;
    int looked_at = 0;
    for (const json& linkage : data["heads"]) {
        if (linkage["scene"] != "tail_01.toml") continue;
        for (const json& wanted : linkage["poses"]) {
            if (wanted["rudder"] == 0.0) continue;
            const double rudder = wanted["rudder"].get<double>() * travel_of_scene_deg / travel_deg;
            const json found = answer("range " + tail + " --rudder " + json(rudder).dump());
            for (const json& row : found["tables"]["rudder"])
                if (row["rudder"] == rudder) {
                    const auto blade = static_cast<std::size_t>(row["blade"].get<double>()) - 1;
                    EXPECT_NEAR(row["pitch_deg"], wanted["pitch_deg"][blade].get<double>(), 1e-7);
                    ++looked_at;
                }
        }
    }
    EXPECT_GE(looked_at, 4);
}

TEST(Tail, range_goes_over_the_rudder) {
    const json found = answer("range " + tail);
    std::vector<double> rudders;
    for (const json& row : found["tables"]["rudder"])
        if (row["blade"] == 1.0) rudders.push_back(row["rudder"]);
    EXPECT_THAT(rudders, ::testing::ElementsAre(-1, -0.5, 0, 0.5, 1));
    const json& servo = found["tables"]["servos"][0];  // 1500 us and 0.1 deg/us
    EXPECT_NEAR(servo["least_us"], 1500 - travel_deg / 0.1, 1e-9);
    EXPECT_NEAR(servo["most_us"], 1500 + travel_deg / 0.1, 1e-9);
    EXPECT_FALSE(found["tables"].contains("cyclic"));
    const Outcome refused = run_program("range " + tail + " --want-collective 10 --want-cyclic 5");
    EXPECT_EQ(refused.exit_code, 1);
    EXPECT_THAT(refused.err, HasSubstr("lengths --range LEFT,RIGHT"));
}

TEST(Tail, sensitivity_speaks_of_no_cyclic) {
    const json found = answer("sensitivity " + tail);
    EXPECT_THAT(found.dump(), Not(HasSubstr("cyclic")));
    EXPECT_THAT(found.dump(), Not(HasSubstr("once a turn")));
    for (const json& row : found["tables"]["effects"])
        EXPECT_TRUE(row.contains("mean_deg") && row.contains("split_deg"));
}

TEST(Tail, directions_follow_the_blades_and_leave_the_side_to_the_reader) {
    const json found = answer("directions " + tail);
    const json& blades = found["tables"]["tail_blades"];
    const auto pitch_at = [](const std::string& rudder) {
        return answer("pose " + tail + " --rudder " + rudder)["blades"][0]["pitch_deg"].get<double>();
    };
    const double change = pitch_at("1") - pitch_at("0");
    EXPECT_NEAR(blades[2]["change_deg"], change, 1e-9);  // right, blade 1
    EXPECT_EQ(blades[2]["leading_edge"], change > 0 ? "away from the boom" : "towards the boom");
    // Thrust goes to the side to which the leading edges lean, and a tail pushed left turns the nose right.
    EXPECT_THAT(found["answer"], HasSubstr(change > 0 ? "if the blades stand on the left of the boom"
                                                      : "if the blades stand on the right of the boom"));
    EXPECT_FALSE(found["tables"].contains("gauge"));
}

TEST(Tail, lengths_give_the_drawn_or_a_wanted_pitch_at_centred_rudder) {
    for (const auto& [option, words] :
         {std::pair{"", "pitch at centred rudder as drawn, "}, std::pair{" --pitch 0", "zero pitch at centred rudder"},
          std::pair{" --pitch 5", "+5.0 deg of pitch at centred rudder"}}) {
        const json found = answer("lengths " + tail + option);
        bool wished = false;
        for (const json& row : found["tables"]["wishes"]) {
            EXPECT_LT(row["exact"], 1e-6) << row;
            wished = wished || row["wish"].get<std::string>().starts_with(words);
            EXPECT_THAT(row["wish"].get<std::string>(), Not(HasSubstr("level")));
        }
        EXPECT_TRUE(wished) << found["tables"]["wishes"];
        EXPECT_EQ(found["tables"]["links"].size(), 4U);
    }
    const json ends = answer("lengths " + tail + " --wish level --range -18,22 --free others,mixing.rudder_deg");
    EXPECT_THAT(ends["tables"]["wishes"].dump(), HasSubstr("pitch -18.0 and +22.0 deg at the ends"));
}

TEST(Tail, range_says_where_an_end_does_not_close) {
    const Outcome outcome = run_program("range '" + folder + "tail_01.toml'");
    EXPECT_EQ(outcome.exit_code, 1);
    EXPECT_THAT(outcome.err,
                HasSubstr("with rudder -1, at rotor azimuth 0 deg: the balls that slider link joins are 0.02 mm too "
                          "far apart"));
}

TEST(Tail, is_told_without_collective_ring_or_level) {
    for (const char* verb : {"pose", "range", "directions", "tracking", "folded", "sensitivity", "sheet"}) {
        const std::string line = std::string(verb) + " " + tail + (std::string(verb) == "sheet" ? " --text" : "");
        const Outcome outcome = run_program(line);
        EXPECT_EQ(outcome.exit_code, 0) << line << outcome.err;
        for (const char* word : {"collective", "aileron", "elevator"})
            EXPECT_THAT(outcome.out, Not(HasSubstr(word))) << line;
    }
    const std::string told = run_program("pose " + tail).out;
    EXPECT_TRUE(std::regex_search(told, std::regex(R"(Full\s+left\s+rudder\s+gives)"))) << told;
    EXPECT_THAT(run_program("pose " + tail + " --collective 1").err, HasSubstr("moved by --rudder only"));
}

TEST(Linkage, with_links_too_many_tells_the_play_that_its_joints_need) {
    const Outcome outcome = run_program("pose '" + folder + "hinged_links_01.toml' --elevator 1");
    EXPECT_TRUE(std::regex_search(outcome.out, std::regex(R"(the\s+joints\s+need\s+0\.\d\d\s+mm\s+of\s+play\s+here)")))
        << outcome.out;
}

TEST(Linkage, shows_what_a_scene_reads_beside_the_blades) {
    const std::string scene = "'" + folder + "stabiliser_bar_01.toml'";
    const std::string table = run_program("pose " + scene + " --elevator 1").out;
    const auto blade = table.find("blade 2"), paddle = table.find("paddle pitch"), levers = table.find("Levers and");
    EXPECT_LT(blade, paddle);
    EXPECT_LT(paddle, levers);
    const json rows = answer("range " + scene)["tables"]["outputs"];
    double up = 0, cyclic = 0;
    for (const json& row : rows) {
        EXPECT_EQ(row["output"], "paddle pitch");
        if (row["collective"] == 1.0 && row["aileron"] == 0.0 && row["elevator"] == 0.0) up = row["once_deg"];
        if (row["collective"] == 0.0 && row["elevator"] == 1.0) cyclic = row["once_deg"];
    }
    EXPECT_LT(up, 1);  // wash-out keeps collective off the paddles
    EXPECT_GT(cyclic, 2);
}

}  // namespace
}  // namespace swashwright::testing
