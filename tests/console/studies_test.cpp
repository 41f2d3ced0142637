// Every study's verb as a shell sees it, on every demo head.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/console/program.h"

namespace swashwright {
namespace {

using nlohmann::ordered_json;
using testing::run_program;

struct Verb {
    std::string name, options;
};

void PrintTo(const Verb& verb, std::ostream* out) {
    *out << verb.name;
}

std::vector<std::string> demos() {
    std::vector<std::string> out;
    for (const auto& file : std::filesystem::directory_iterator(SWASHWRIGHT_SCENES))
        if (file.path().extension() == ".toml") out.push_back(file.path().string());
    std::ranges::sort(out);
    return out;
}

/// What a verb cannot answer of a demo, and the words in which it says so.
struct Lacking {
    std::string verb, option, scene, says;
};
const Lacking lacking[] = {
    {"range", "--want-collective", "tail_600.toml", "found for a main rotor's collective and cyclic"},
    {"tracking", "", "hinged_links_450.toml", "this head has 0 upper links for 2 blades"},
    {"power", "", "tail_600.toml", "this is a tail"},
    {"stiff", "upper_link[1]", "hinged_links_450.toml", "expected a link of this head"},
};

class StudyVerb : public ::testing::TestWithParam<Verb> {
protected:
    /// The demos of which the verb has an answer; of the others it must say why not.
    std::vector<std::string> answered() const {
        std::vector<std::string> out;
        for (const std::string& scene : demos()) {
            const auto* none = std::ranges::find_if(lacking, [&](const Lacking& l) {
                return GetParam().name == l.verb && GetParam().options.find(l.option) != std::string::npos &&
                       scene.ends_with(l.scene);
            });
            if (none == std::end(lacking)) {
                out.push_back(scene);
                continue;
            }
            const auto outcome = run_program(command(scene, ""));
            EXPECT_NE(outcome.exit_code, 0) << scene;
            EXPECT_THAT(outcome.err, ::testing::HasSubstr(none->says)) << scene;
        }
        return out;
    }

    std::string command(const std::string& scene, const std::string& form) const {
        return GetParam().name + " '" + scene + "' " + GetParam().options + " " + form;
    }
};

/// Characters of UTF-8 text.
std::size_t length(const std::string& line) {
    return static_cast<std::size_t>(std::ranges::count_if(line, [](char c) { return (c & 0xC0) != 0x80; }));
}

TEST_P(StudyVerb, fits_a_hundred_columns) {
    for (const std::string& scene : answered()) {
        const auto outcome = run_program(command(scene, ""));
        ASSERT_EQ(outcome.exit_code, 0) << scene << outcome.err;
        std::istringstream lines(outcome.out);
        for (std::string line; std::getline(lines, line);) EXPECT_LE(length(line), 100U) << line;
    }
}

TEST_P(StudyVerb, gives_json_and_csv_of_the_same_tables) {
    for (const std::string& scene : answered()) {
        const auto outcome = run_program(command(scene, "--json"));
        ASSERT_EQ(outcome.exit_code, 0) << scene << outcome.err;
        const auto json = ordered_json::parse(outcome.out);
        EXPECT_EQ(json["study"], GetParam().name);
        EXPECT_FALSE(json["answer"].get<std::string>().empty());
        EXPECT_TRUE(json.contains("notes"));
        const auto csv = run_program(command(scene, "--csv"));
        EXPECT_EQ(csv.exit_code, 0);
        for (const auto& [key, rows] : json["tables"].items()) {
            if (rows.empty()) continue;
            std::string head;
            for (const auto& [column, cell] : rows[0].items()) head += (head.empty() ? "" : ",") + column;
            EXPECT_THAT(csv.out, ::testing::HasSubstr(head)) << key;
        }
    }
}

TEST(StudyVerbs, refuse_a_stick_out_of_range) {
    for (const char* verb : {"range", "sensitivity", "tolerance", "tracking", "play", "stiff", "folded"})
        EXPECT_EQ(run_program(verb + (" '" + demos().front() + "' --collective 7")).exit_code, 2) << verb;
}

TEST(StudyVerbs, refuse_a_split_of_nothing) {
    const auto outcome = run_program("tolerance '" + demos().front() + "' --split 0");
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_THAT(outcome.err, ::testing::HasSubstr("--split: expected a number from 0.001 to 90, found 0"));
}

INSTANTIATE_TEST_SUITE_P(Verbs, StudyVerb,
                         ::testing::Values(Verb{"range", ""}, Verb{"range", "--want-collective 10 --want-cyclic 5"},
                                           Verb{"directions", ""}, Verb{"lengths", ""}, Verb{"sensitivity", ""},
                                           Verb{"tolerance", "--samples 500"}, Verb{"tracking", ""}, Verb{"play", ""},
                                           Verb{"stiff", "--link upper_link[1]=15"}, Verb{"fight", "--link 50"},
                                           Verb{"loads", "--speed 1500 --coning 2"},
                                           Verb{"power", "--mass 3 --engine 1200"},
                                           Verb{"reach", "--without-clearance"}, Verb{"folded", "--seen 2"}));

}  // namespace
}  // namespace swashwright
