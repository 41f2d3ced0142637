// `swashwright diagnose` and `swashwright tracking` as a shell sees them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/console/program.h"
#include "tests/support/demo_head.h"

namespace swashwright {
namespace {

using nlohmann::ordered_json;
using ::testing::HasSubstr;
using testing::run_program;

const std::string readings = SWASHWRIGHT_SCENES "/readings/two_blade_600.toml";

TEST(Diagnose, names_the_wrong_link_of_the_demo_readings) {
    const auto outcome = run_program("diagnose '" + testing::two_blade_file + "' --readings '" + readings +
                                     "' --suspects lower-links,upper-links --json");
    ASSERT_EQ(outcome.exit_code, 0) << outcome.err;
    const auto json = ordered_json::parse(outcome.out);
    EXPECT_EQ(json["study"], "diagnose");
    const auto& first = json["tables"]["explanations"][0];
    EXPECT_EQ(first["suspect"], "lower link 3");
    EXPECT_NEAR(first["size"].get<double>(), -0.55, first["plus_minus_95"].get<double>());
    EXPECT_EQ(json["tables"]["corrections"][0]["set"], "3 half turns longer");
}

TEST(Diagnose, says_where_the_readings_are_wrong) {
    const std::string bad = testing::temporary_file(
        "readings.toml", "format = 1\n[[pitch]]\nblade = 9\nazimuth_deg = 0\nreading_deg = 0\n");
    const auto outcome = run_program("diagnose '" + testing::two_blade_file + "' --readings '" + bad + "'");
    std::remove(bad.c_str());
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_THAT(outcome.err, HasSubstr(":3:9: [[pitch]] 1 blade: expected a whole number from 1 to 2, found 9"));
    EXPECT_EQ(run_program("diagnose '" + testing::two_blade_file + "'").exit_code, 2);
    EXPECT_EQ(
        run_program("diagnose '" + testing::two_blade_file + "' --readings '" + readings + "' --suspects gremlins")
            .exit_code,
        2);
}

TEST(Diagnose, takes_what_the_gauge_was_zeroed_on_from_the_line) {
    const std::string ask = "diagnose '" + testing::two_blade_file + "' --readings '" + readings + "' --zeroed-on ";
    const auto shaft = run_program(ask + "shaft --json"), level = run_program(ask + "level --json");
    ASSERT_EQ(shaft.exit_code, 0) << shaft.err;
    ASSERT_EQ(level.exit_code, 0) << level.err;
    EXPECT_NE(shaft.out, level.out);
    EXPECT_EQ(run_program(ask + "table").exit_code, 2);
    const auto both = run_program(ask + "shaft,level");
    EXPECT_EQ(both.exit_code, 2);
    EXPECT_THAT(both.err, HasSubstr("A gauge is zeroed on one thing"));
}

TEST(Tracking, prints_pairs_and_links) {
    const auto outcome = run_program("tracking '" + testing::two_blade_file + "' --collective 0.5 --json");
    ASSERT_EQ(outcome.exit_code, 0) << outcome.err;
    const auto json = ordered_json::parse(outcome.out);
    EXPECT_EQ(json["tables"]["pairs"].size(), 1U);
    EXPECT_EQ(json["tables"]["links"].size(), 2U);
    EXPECT_THAT(json["answer"].get<std::string>(), HasSubstr("The blades agree"));
}

}  // namespace
}  // namespace swashwright
