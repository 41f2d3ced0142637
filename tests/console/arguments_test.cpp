// Numbers on the command line and in files: finite, in range, decimal; and how many mistakes are told.
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "tests/console/every_verb.h"

namespace swashwright::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

/// What comes before an option that is tried, so that nothing else is missing.
std::string beginning(const std::string& verb) {
    for (const Use& use : every_use())
        if (use.verb == verb && (use.ending.empty() || use.verb == "measured")) return use.command() + " ";
    for (const Use& use : every_use())
        if (use.verb == verb) return use.command() + " --out /dev/null ";
    return {};
}

TEST(Numbers, that_are_not_finite_are_refused_by_every_option_of_every_verb) {
    int tried = 0;
    for (const std::string& verb : verbs_told())
        for (const OptionTold& option : options_told(verb)) {
            if (!option.takes.starts_with("NUMBER") && !option.takes.starts_with("DEG")) continue;
            for (const char* number : {"nan", "inf", "-inf", "1e999", "1e300", "''", "1,2,nan"}) {
                const Outcome outcome = run_program(beginning(verb) + option.name + " " + number);
                EXPECT_EQ(outcome.exit_code, 2) << verb << " " << option.name << " " << number;
                EXPECT_THAT(outcome.err, HasSubstr(option.name)) << verb;
            }
            ++tried;
        }
    EXPECT_GT(tried, 60);
    EXPECT_EQ(run_program(usual_scene + " --frames nan").exit_code, 2);
}

TEST(Counts, are_whole_and_in_range) {
    const std::vector<std::string> counts{"reach " + usual_scene + " --without-clearance --rows",
                                          "sensitivity " + usual_scene + " --rows",
                                          "tolerance " + usual_scene + " --rows",
                                          "tolerance " + usual_scene + " --seed",
                                          "tolerance " + usual_scene + " --samples",
                                          "turn " + usual_scene + " --out /dev/null --frames",
                                          "turn " + usual_scene + " --out /dev/null --width",
                                          usual_scene + " --frames"};
    for (const std::string& command : counts)
        for (const char* number : {"-1", "1.5", "1e1", "0x10", "99999999999999999999", "ten"}) {
            const Outcome outcome = run_program(command + " " + number);
            EXPECT_EQ(outcome.exit_code, 2) << command << " " << number;
            EXPECT_THAT(outcome.err, HasSubstr("expected a whole number from")) << command << " " << number;
        }
}

TEST(Counts, are_decimal) {
    const auto rows = [](const std::string& count) {
        const Outcome outcome = run_program("sensitivity " + usual_scene + " --json --rows " + count);
        return json::parse(outcome.out)["tables"]["effects"].size();
    };
    EXPECT_EQ(rows("010"), 10U);
    EXPECT_EQ(rows("+7"), 7U);
}

TEST(Mistakes, are_told_up_to_a_number_and_the_rest_counted) {
    const TemporaryFolder folder("mistakes");
    const auto told = [&](const std::string& verb, const std::string& text) {
        const Outcome outcome = run_program(verb + " '" + folder.put("long.toml", text) + "'");
        EXPECT_EQ(outcome.exit_code, 2) << verb;
        EXPECT_LT(outcome.err.size(), 20'000U) << verb;
        EXPECT_THAT(outcome.err, HasSubstr("more mistakes; correct these first")) << verb;
        return outcome.err;
    };
    std::string keys = "format = 1\n", tables = "format = 1\n", readings = "format = 1\nreading = [\n";
    for (int i = 0; keys.size() < 230'000; ++i) keys += "k" + std::to_string(i) + " = 1\n";
    while (tables.size() < 230'000) tables += "[[servo]]\na = 1\n";
    while (readings.size() < 230'000) readings += "{ what = \"x\" },\n";
    EXPECT_EQ(std::ranges::count(told("pose", keys), '\n'), 21);
    told("pose", tables);
    told("measured", readings + "]\n");
    std::string rows = "format = 1\n";
    while (rows.size() < 230'000) rows += "[[pitch]]\na = 1\n";
    told("diagnose " + usual_scene + " --readings", rows);
}

}  // namespace
}  // namespace swashwright::testing
