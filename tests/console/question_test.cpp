// Both faces of a study: the program's answer to what stands on a card is the card's.
#include "kinematics/studies/questions/question.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "kinematics/bench_files/readings.h"
#include "tests/console/program.h"
#include "tests/support/demo_head.h"
#include "viewer/console/study.h"

namespace swashwright {
namespace {

using studies::Question;
using studies::Value;
using studies::Values;

const std::string scene = SWASHWRIGHT_SCENES "/two_blade_600.toml",
                  readings = SWASHWRIGHT_SCENES "/readings/two_blade_600.toml";

std::string argument(const studies::Option& option, const Value& value) {
    const std::string name = " " + option.argument();
    if (const bool* yes = std::get_if<bool>(&value)) return *yes == std::get<bool>(option.start) ? "" : name;
    if (const double* number = std::get_if<double>(&value)) return fmt::format("{} {}", name, *number);
    if (const auto* whole = std::get_if<std::int64_t>(&value)) return fmt::format("{} {}", name, *whole);
    if (const auto* texts = std::get_if<std::vector<std::string>>(&value))
        return texts->empty() ? "" : fmt::format("{} '{}'", name, fmt::join(*texts, option.commas ? "," : "' '"));
    if (const auto* ends = std::get_if<std::array<double, 2>>(&value))
        return fmt::format("{} {},{}", name, (*ends)[0], (*ends)[1]);
    return "";
}

/// The command that asks what `values` hold, whole or as far as they are other than where the verb starts.
std::string command(const Question& question, const Values& values, bool whole) {
    std::string out = fmt::format("{} '{}' --json", question.verb, scene);
    for (const studies::Option& option : question.options)
        if (whole || values.at(option.key) != option.start) out += argument(option, values.at(option.key));
    if (question.reads_readings) out += " --readings '" + readings + "'";
    return out;
}

/// What a card would show, as the program prints it.
std::string shown(const Question& question, const Values& values) {
    studies::Asked asked{testing::demo_head("two_blade_600.toml"), {}, values};
    if (question.reads_readings) {
        const auto file = scene::load_readings(readings);
        EXPECT_TRUE(file);
        asked.readings = file->readings;
        asked.readings_note = file->note;
    }
    const auto reply = question.run(asked);
    EXPECT_TRUE(reply) << (reply ? "" : reply.error().why);
    return reply ? console::as_json(reply->answer) + "\n" : "";
}

void expect_same(const Question& question, const Values& values) {
    const std::string expected = shown(question, values);
    for (const bool whole : {false, true}) {
        const auto printed = testing::run_program(command(question, values, whole));
        EXPECT_EQ(printed.exit_code, 0) << printed.err;
        EXPECT_EQ(printed.out, expected) << command(question, values, whole);
    }
}

/// What touches takes seconds.
Values shortened(const Question& question, Values values) {
    if (question.verb == "reach") values.set("clearance", false);
    if (question.verb == "tolerance") values.set("samples", std::int64_t{200});
    return values;
}

TEST(BothFaces, AnswerAlikeWhereNobodyChooses) {
    for (const Question& question : studies::all_questions())
        expect_same(question, shortened(question, Values(question.options)));
}

TEST(BothFaces, AnswerAlikeAsCardsStart) {
    for (const Question& question : studies::all_questions())
        for (const studies::Card& card : question.cards)
            expect_same(question, shortened(question, question.start(card)));
}

TEST(BothFaces, AnswerAlikeToWhatIsChosen) {
    for (const Question& question : studies::all_questions()) {
        Values values = shortened(question, Values(question.options));
        if (question.verb == "lengths") {
            values.choose("wish", "square", true);
            values.choose("free", "neutrals", true);
            values.set("range", std::array{-9.5, 9.5});
            values.set("teeth-only", true);
        }
        if (question.verb == "ring") values.set("seen", std::vector<std::string>{"27.1", "26.9", "27.2"});
        if (question.verb == "transmitter") values.set("full-us", 400.0);
        if (question.verb == "power") {
            values.set("before", 2000.0);
            values.set("climbing", 1900.0);
        }
        if (question.verb == "loads") values.set("coning", 3.0);
        if (question.verb == "folded") values.set("seen", 3.5);
        if (question.verb == "stiff") values.set("link", std::vector<std::string>{"upper_link[2]=15"});
        if (question.verb == "tolerance") values.set("set", std::vector<std::string>{"upper_link.length_mm=0.05"});
        if (question.verb == "practice") {
            values.set("number", std::int64_t{3});
            values.set("read", std::vector<std::string>{"blade=2,azimuth=90,collective=1", "ball=1"});
            values.set("name", std::vector<std::string>{"upper_link[2]"});
        }
        if (question.verb == "diagnose") values.choose("suspects", "upper-links", true);
        if (values == shortened(question, Values(question.options))) continue;
        const std::string before = shown(question, shortened(question, Values(question.options)));
        EXPECT_NE(shown(question, values), before) << question.verb << ": what was chosen changes nothing";
        expect_same(question, values);
    }
}

}  // namespace
}  // namespace swashwright
