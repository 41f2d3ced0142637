// Answers read in inches: what is a length is the millimetres over 25.4 (exact, international yard and pound agreement,
// 1959), and all else is as it was.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "kinematics/bench_files/readings.h"
#include "kinematics/studies/answer/shown.h"
#include "kinematics/studies/questions/question.h"
#include "tests/support/demo_head.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/questions/table_text.h"

namespace swashwright::panels {
namespace {

using studies::Table;

/// A number as it stands in a text, and all that stands before and behind it.
struct Number {
    double value = 0;
    int decimals = 0;
    std::string before, behind;
};

std::vector<Number> numbers_of(const std::string& text) {
    static const std::regex figures(R"(\d+(\.\d+)?)");
    std::vector<Number> out;
    for (auto at = std::sregex_iterator(text.begin(), text.end(), figures); at != std::sregex_iterator(); ++at) {
        const auto begin = static_cast<std::size_t>(at->position()),
                   end = begin + static_cast<std::size_t>(at->length());
        out.push_back({std::stod(at->str()), (*at)[1].matched ? static_cast<int>((*at)[1].length()) - 1 : 0,
                       text.substr(0, begin), text.substr(end)});
    }
    return out;
}

bool is_over_an_inch(const Number& mm, const Number& in) {
    return in.decimals >= 4 && std::abs(in.value - mm.value / 25.4) <= 0.5 * std::pow(10, -in.decimals) + 1e-9;
}

/// "12.5 mm", or one of "12.5, 13.0 and 13.5 mm".
bool is_length(const Number& number) {
    static const std::regex unit(R"(^((, | and | to | or | x |/)[+-]?\d+(\.\d+)?)* mm($|[^\w/^*]))");
    return std::regex_search(number.behind, unit);
}

/// Has a unit or follows what has none. Any other beside a length would pass for one.
bool says_what_it_is(const Number& number) {
    static const std::regex unit(R"(^(\)? ?(deg|in|%|N|turns|us|µs|kg|W|m|W|nats|uncertainties|standard)\b|\)? ?%|°))"),
        list(R"(^(, | and | to | or | x |/)[+-]?\d)"),
        plain(
            R"((collective|aileron|elevator|cyclic|rudder|coefficient|slope|counts|together|pairs|scatters|air|Lock number|link's end|freedom,|hold,) [+-]?$)");
    return std::regex_search(number.behind, unit) || std::regex_search(number.behind, list) ||
           std::regex_search(number.before, plain);
}

void expect_read(const std::string& mm, const std::string& in) {
    const auto was = numbers_of(mm), is = numbers_of(in);
    ASSERT_EQ(was.size(), is.size()) << mm << '\n' << in;
    for (std::size_t i = 0; i < was.size(); ++i) {
        const bool kept = was[i].value == is[i].value && was[i].decimals == is[i].decimals;
        if (is_length(was[i]))
            EXPECT_TRUE(is_over_an_inch(was[i], is[i])) << mm << '\n' << in;
        else
            EXPECT_TRUE(kept) << mm << '\n' << in;
        if (kept && in != mm && is[i].decimals > 0)
            EXPECT_TRUE(says_what_it_is(is[i])) << "what is " << is[i].value << " in\n" << in;
    }
}

void expect_read(const std::string& sentence) {
    expect_read(sentence, lengths_read(sentence, true));
}

/// Columns in the unit that their row names, by table: numbers of a head, readings, what a check comes to.
const std::map<std::string, std::set<std::string>> by_row{
    {"checks", {"value", "within", "bound"}},
    {"explanations", {"size", "plus_minus_95"}},
    {"readings", {"read", "expected", "left", "reads", "sound", "more", "by_fault"}},
    {"own", {"reads"}},
    {"numbers", {"before", "after", "change", "value", "sd", "scene"}},
    {"sticks", {"before", "after", "change"}},
    {"wishes", {"exact", "set", "set_each"}},
    {"horns", {"present", "exact", "set"}},
    {"others", {"present", "exact", "set"}},
    {"tolerances", {"plus_minus", "needed"}}};

std::string unit_of(const Table& table, std::size_t row) {
    for (std::size_t c = 0; c < table.columns.size(); ++c)
        if (const auto* words = std::get_if<std::string>(&table.rows[row][c]); words && table.columns[c].key == "unit")
            return *words;
    return "";
}

int expect_read(const Table& table) {
    int lengths = 0;
    expect_read(table.title.substr(0, table.title.find(" mm")));
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        const studies::Column& column = table.columns[c];
        SCOPED_TRACE(table.key + ", " + column.key);
        if (!studies::shown(column)) continue;
        EXPECT_EQ(unit_text(column, true), column.unit == "mm" ? "in" : column.unit);
        const auto found = by_row.find(table.key);
        for (std::size_t r = 0; r < table.rows.size(); ++r) {
            const std::string mm = cell_text(table, r, c, false), in = cell_text(table, r, c, true);
            const bool of_row = found != by_row.end() && found->second.contains(column.key);
            const bool length = column.unit == "mm" || (of_row && unit_of(table, r) == "mm");
            if (column.key == "unit")
                EXPECT_EQ(in, mm == "mm" ? "in" : mm);
            else if (const auto* words = std::get_if<std::string>(&table.rows[r][c]))
                expect_read(*words, in);
            else if (const auto* value = std::get_if<double>(&table.rows[r][c]); value && length)
                EXPECT_NEAR(std::stod(in), *value / 25.4, 0.51e-4);
            else
                EXPECT_EQ(in, mm);
            lengths += length && std::holds_alternative<double>(table.rows[r][c]);
        }
    }
    return lengths;
}

void give_more(studies::Values& values, const std::string& card) {
    if (card == "folded") values.set("seen", 1.5);
    if (card == "ring") values.set("seen", std::vector<std::string>{"27.4", "26.9", "27.1"});
    if (card == "fight") values.set("link", 1500.0);
}

int expect_read(const head::Head& head, const studies::Readings& readings) {
    int lengths = 0;
    for (const studies::Question& question : studies::all_questions())
        for (const studies::Card& card : question.cards)
            for (const bool more : {false, true}) {
                SCOPED_TRACE(card.key);
                if (more && question.takes_long) continue;
                studies::Asked asked{head, {0.3, 0.1, -0.2, 0.3}, question.start(card)};
                if (question.reads_readings) asked.readings = readings;
                if (more) give_more(asked.values, card.key);
                const auto outcome = question.run(asked);
                if (!outcome) {
                    expect_read(outcome.error().why);
                    continue;
                }
                expect_read(outcome->answer.text);
                for (const std::string& note : outcome->answer.notes) expect_read(note);
                for (const Table& table : outcome->answer.tables) lengths += expect_read(table);
            }
    return lengths;
}

TEST(Inches, ChangeLengthsAndNothingElseInAnyAnswer) {
    const studies::Readings readings =
        scene::load_readings(SWASHWRIGHT_SCENES "/readings/two_blade_600.toml").value().readings;
    for (const char* file : {"two_blade_600.toml", "tail_600.toml", "stabiliser_bar_600.toml", "four_servos_700.toml",
                             "binding/touches_in_one_corner.toml"}) {
        SCOPED_TRACE(file);
        const bool read = std::string(file) == "two_blade_600.toml";
        EXPECT_GT(expect_read(testing::demo_head(file), read ? readings : studies::Readings{}), 20);
    }
}

}  // namespace
}  // namespace swashwright::panels
