// `swashwright pose` on linkages of every kind, against poses from an independent solver:
// tests/data/linkages/README.md.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/console/program.h"

namespace swashwright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using testing::run_program;

const std::string folder = SWASHWRIGHT_TEST_DATA "/linkages/";

/// Number by number: every key that the reference has is printed, and near enough.
void expect_pose(const json& printed, const json& wanted, const std::string& file) {
    const double within = wanted.contains("misfit_mm") ? 1e-5 : 1e-7;
    EXPECT_NEAR(printed["swashplate"]["height_mm"], double(wanted["height_mm"]), within) << file;
    EXPECT_NEAR(printed["swashplate"]["tilt_deg"], double(wanted["tilt_deg"]), within) << file;
    for (std::size_t k = 0; k < wanted["pitch_deg"].size(); ++k)
        EXPECT_NEAR(printed["blades"][k]["pitch_deg"], double(wanted["pitch_deg"][k]), within) << file;
    for (std::size_t j = 0; j < wanted["horns_deg"].size(); ++j)
        EXPECT_NEAR(printed["servos"][j]["angle_deg"], double(wanted["horns_deg"][j]), 1e-9) << file;
    ASSERT_EQ(printed["parts"].size(), wanted["parts"].size()) << file;
    for (std::size_t i = 0; i < wanted["parts"].size(); ++i) {
        const json &here = printed["parts"][i], &there = wanted["parts"][i];
        const char* key = there.contains("angle_deg") ? "angle_deg" : "place_mm";
        EXPECT_EQ(here["part"], there["part"]);
        EXPECT_NEAR(here[key], double(there[key]), within) << file;
    }
    EXPECT_EQ(printed.contains("misfit_mm"), wanted.contains("misfit_mm")) << file;
    EXPECT_NEAR(printed.value("misfit_mm", 0.0), wanted.value("misfit_mm", 0.0), within) << file;
    EXPECT_LT(printed["residual_mm"], 1e-10) << file;
}

TEST(LinkagePose, prints_what_the_reference_has) {
    json data;
    std::ifstream(folder + "poses.json") >> data;
    for (const auto& linkage : data["heads"]) {
        const std::string file = linkage["scene"];
        for (const auto& wanted : linkage["poses"]) {
            std::string arguments = "pose '" + folder + file + "' --json";
            for (const char* stick : {"collective", "aileron", "elevator", "rudder"})
                if (wanted.contains(stick)) arguments += std::string(" --") + stick + " " + wanted[stick].dump();
            arguments += " --azimuth " + wanted["azimuth_deg"].dump();
            if (wanted.contains("hand"))
                for (const auto& [part, angle] : wanted["hand"].items())
                    arguments += " --hand '" + part + "=" + angle.dump() + "'";
            const testing::Outcome outcome = run_program(arguments);
            ASSERT_EQ(outcome.exit_code, 0) << outcome.err;
            expect_pose(json::parse(outcome.out), wanted, file);
        }
    }
}

TEST(LinkagePose, names_the_parts_that_a_hand_may_move) {
    const auto wrong = run_program("pose '" + folder + "rocking_spindle_01.toml' --hand 'lever[2]=3'");
    EXPECT_EQ(wrong.exit_code, 2);
    EXPECT_THAT(wrong.err, HasSubstr("--hand lever[2]=3: expected one of lever[1] and its angle, such as lever[1]=5"));
    const auto none = run_program("pose '" + folder + "four_servos_01.toml' --hand 'lever[1]=3'");
    EXPECT_EQ(none.exit_code, 2);
    EXPECT_THAT(none.err, HasSubstr("no part of this scene is moved by hand"));
    const auto far = run_program("pose '" + folder + "rocking_spindle_01.toml' --hand 'lever[1]=8'");
    EXPECT_EQ(far.exit_code, 0) << far.err;
    EXPECT_THAT(far.err, HasSubstr("beyond by_hand_deg, solved all the same: spindle at 8.0 deg"));
}

TEST(LinkagePose, tells_a_tail_by_its_rudder) {
    const auto outcome = run_program("pose '" + folder + "tail_01.toml' --rudder 0.5");
    EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, HasSubstr("Stick: rudder +0.5 (right +)"));
    EXPECT_THAT(outcome.out, HasSubstr("tail bellcrank"));
}

}  // namespace
}  // namespace swashwright
