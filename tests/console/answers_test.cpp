// The form of the answers that other programs read: keys, tables, columns and their units.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "tests/console/program.h"

namespace swashwright {
namespace {

using nlohmann::ordered_json;
using testing::run_program;

const std::string scenes = SWASHWRIGHT_SCENES "/";

struct Question {
    std::string verb, subject, options;

    std::string command() const { return verb + " '" + scenes + subject + "' " + options; }
    /// Without the paths of this machine.
    std::string title() const {
        for (const std::string option : {" --want", " --split", " --list"})
            if ((" " + options).find(option) != std::string::npos) return verb + option;
        return subject.ends_with(".places.toml") ? verb + " of a scene" : verb;
    }
};

/// Each verb that answers in tables, and each of its sets of tables.
std::vector<Question> questions() {
    const std::string head = "two_blade_600.toml";
    return {{"range", head, ""},
            {"range", head, "--want-collective 10 --want-cyclic 5"},
            {"directions", head, ""},
            {"transmitter", head, ""},
            {"ring", head, "--seen 27.1,26.9,27.0"},
            {"reach", head, "--without-clearance"},
            {"stiff", head, ""},
            {"fight", head, ""},
            {"loads", head, ""},
            {"power", head, "--engine 1500"},
            {"play", head, ""},
            {"folded", head, ""},
            {"diagnose", head, "--readings '" + scenes + "readings/two_blade_600.toml'"},
            {"practice", head, "--read blade=1 --name mixing"},
            {"tracking", head, ""},
            {"compare", head, "'" + scenes + "small_two_blade_250.toml'"},
            {"log", head, ""},
            {"lengths", head, ""},
            {"sensitivity", head, ""},
            {"tolerance", head, "--samples 100"},
            {"tolerance", head, "--samples 100 --split 0.3"},
            {"measured", "readings/two_blade_600.measured.toml", ""},
            {"measured", "readings/two_blade_600.places.toml", ""},
            {"measured", head, "--list"}};
}

ordered_json asked(const Question& question) {
    const auto outcome = run_program(question.command() + " --json");
    EXPECT_EQ(outcome.exit_code, 0) << question.command() << outcome.err;
    return ordered_json::parse(outcome.out);
}

/// The first line of each table in CSV, which is there also where a table has no rows.
std::vector<std::string> csv_heads(const Question& question) {
    const auto outcome = run_program(question.command() + " --csv");
    EXPECT_EQ(outcome.exit_code, 0) << question.command() << outcome.err;
    std::istringstream lines(outcome.out);
    std::vector<std::string> heads;
    bool head = true;
    for (std::string line; std::getline(lines, line);) {
        if (!line.empty() && line.back() == '\r') line.pop_back();
        if (head) heads.push_back(line);
        head = line.empty();
    }
    return heads;
}

/// Every question's tables and columns, a line each.
std::string all_columns() {
    std::string out;
    for (const Question& question : questions()) {
        const ordered_json json = asked(question);
        const auto heads = csv_heads(question);
        EXPECT_EQ(heads.size(), json["tables"].size()) << question.command();
        std::size_t at = 0;
        for (const auto& [table, rows] : json["tables"].items())
            out += question.title() + ", " + table + ": " + (at < heads.size() ? heads[at++] : "") + "\n";
    }
    return out;
}

// A change here is a change of what other programs read: see "Data for other programs" in viewer/console/README.md.
// Added columns are entered in the list; a column that goes or changes its meaning raises the format's number.
TEST(AnswerForm, has_the_tables_and_columns_that_are_published) {
    const std::string found = all_columns();
    EXPECT_EQ(found, testing::file_text(SWASHWRIGHT_TEST_DATA "/answer_columns.txt"));
}

TEST(AnswerForm, has_every_table_whatever_the_head) {
    // Three blades have none opposite, this head has no fault, and without the fine sweep nothing ends the cyclic
    // stick.
    const std::string other = "three_blade_700.toml", readings = testing::temporary_file("none.toml", R"(format = 1
[[pitch]]
blade = 1
azimuth_deg = 0.0
reading_deg = 0.0
)");
    for (Question question : questions()) {
        if (question.verb == "measured" || question.verb == "sensitivity") continue;  // columns of blades
        std::vector<std::string> here, there;
        for (const auto& [key, rows] : asked(question)["tables"].items()) here.push_back(key);
        question.subject = other;
        if (question.verb == "diagnose") question.options = "--readings '" + readings + "'";
        if (question.verb == "ring") question.options = "";
        if (question.verb == "compare") question.options = "'" + scenes + other + "'";
        for (const auto& [key, rows] : asked(question)["tables"].items()) there.push_back(key);
        EXPECT_EQ(here, there) << question.command();
    }
    std::remove(readings.c_str());
}

TEST(AnswerForm, says_what_was_changed_for_this_run) {
    const auto tracking =
        run_program("tracking '" + scenes + "two_blade_600.toml' --with 'upper_link[2].error_mm=0.3' --json");
    EXPECT_EQ(ordered_json::parse(tracking.out)["notes"][0], "With upper link 2, error 0.3 mm.");
}

TEST(AnswerForm, is_told_by_every_answer) {
    for (const Question& question : questions()) {
        const ordered_json json = asked(question);
        std::vector<std::string> keys;
        for (const auto& [key, value] : json.items()) keys.push_back(key);
        EXPECT_EQ(keys, (std::vector<std::string>{"swashwright", "format", "study", "answer", "tables", "notes"}));
        EXPECT_EQ(json["swashwright"], "answer");
        EXPECT_EQ(json["format"], 1);
        EXPECT_EQ(json["study"], question.verb);
    }
}

TEST(AnswerForm, is_checked_here_for_every_verb_that_has_it) {
    std::set<std::string> known{"pose"};  // whose form is its own
    for (const Question& question : questions()) known.insert(question.verb);
    std::istringstream lines(run_program("--help").out);
    bool verbs = false;
    int count = 0;
    for (std::string line; std::getline(lines, line);) {
        if (line.empty()) verbs = false;
        if (verbs && line.size() > 2 && line[2] != ' ') {
            const std::string verb = line.substr(2, line.find(' ', 2) - 2);
            ++count;
            const bool answers = run_program(verb + " --help").out.find("--json") != std::string::npos;
            EXPECT_TRUE(!answers || known.contains(verb)) << verb;
        }
        if (line == "Subcommands:") verbs = true;
    }
    EXPECT_GE(count, 15);
}

/// Numbers without a unit: counts, numbers of things, sticks from -1 to 1.
bool needs_no_unit(const std::string& key) {
    static const std::set<std::string> plain{
        "collective", "aileron", "elevator", "cyclic",         "stick",      "blade",   "link",         "first",
        "second",     "servo",   "rank",     "opposite_blade", "checks",     "loading", "more_loading", "fail",
        "close",      "steps",   "places",   "times",          "chi_square", "position"};
    return plain.contains(key);
}

TEST(AnswerForm, has_units_in_the_names_of_its_numbers) {
    constexpr std::array<const char*, 15> units{"_mm",  "_deg",  "_us", "_percent", "_nmm", "_n",   "turns", "_g",
                                                "_rpm", "_nats", "_95", "_s",       "_w",   "_m_s", "_nm"};
    for (const Question& question : questions()) {
        const ordered_json json = asked(question);
        for (const auto& [table, rows] : json["tables"].items())
            for (const auto& row : rows)
                for (const auto& [key, cell] : row.items()) {
                    if (!cell.is_number() || row.contains("unit") || needs_no_unit(key)) continue;
                    EXPECT_TRUE(std::ranges::any_of(units, [&k = key](const char* unit) { return k.ends_with(unit); }))
                        << question.command() << ", table " << table << ": " << key;
                }
    }
}

TEST(AnswerForm, writes_no_minus_before_nothing) {
    for (const std::string head : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"})
        for (const std::string verb : {"range", "directions", "lengths", "sensitivity", "tracking", "play", "folded"}) {
            const std::string text = run_program(fmt::format("{} '{}{}'", verb, scenes, head)).out;
            ASSERT_FALSE(text.empty());
            for (std::size_t at = text.find("-0"); at != std::string::npos; at = text.find("-0", at + 1)) {
                const std::size_t end = text.find_first_not_of("0.", at + 1);
                const bool number = at == 0 || (std::isdigit(static_cast<unsigned char>(text[at - 1])) == 0);
                const bool more = end != std::string::npos && std::isdigit(static_cast<unsigned char>(text[end])) != 0;
                EXPECT_TRUE(!number || more) << verb << " " << head << ": " << text.substr(at > 30 ? at - 30 : 0, 60);
            }
        }
}

}  // namespace
}  // namespace swashwright
