// The specifications of the studies: what both faces take from them is whole, within bounds and asked for by its name.
#include "kinematics/studies/questions/question.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;

/// Of the kind that the option holds, and within its bounds.
void expect_allowed(const Option& option, const Value& value) {
    SCOPED_TRACE(option.key);
    switch (option.kind) {
        case OptionKind::number:
            ASSERT_TRUE(std::holds_alternative<double>(value));
            EXPECT_GE(std::get<double>(value), option.low);
            EXPECT_LE(std::get<double>(value), option.high);
            break;
        case OptionKind::whole:
            ASSERT_TRUE(std::holds_alternative<std::int64_t>(value));
            EXPECT_GE(std::get<std::int64_t>(value), option.least);
            EXPECT_LE(std::get<std::int64_t>(value), option.most);
            break;
        case OptionKind::yes_no:
            EXPECT_TRUE(std::holds_alternative<bool>(value));
            break;
        case OptionKind::words:
        case OptionKind::texts:
            ASSERT_TRUE(std::holds_alternative<std::vector<std::string>>(value));
            for (const std::string& word : std::get<std::vector<std::string>>(value))
                EXPECT_TRUE(option.words.empty() || std::ranges::find(option.words, word) != option.words.end())
                    << word;
            break;
        case OptionKind::two_angles:
            ASSERT_TRUE((std::holds_alternative<std::array<double, 2>>(value)));
            for (const double angle : std::get<std::array<double, 2>>(value)) {
                EXPECT_GE(angle, option.low);
                EXPECT_LE(angle, option.high);
            }
            break;
    }
}

bool may_be_left_out(const Option& option) {
    return option.kind == OptionKind::number || option.kind == OptionKind::two_angles;
}

TEST(Question, HasFacesWithNamesOfTheirOwn) {
    std::set<std::string> verbs, cards, titles;
    for (const Question& question : all_questions()) {
        EXPECT_TRUE(verbs.insert(question.verb).second) << question.verb;
        EXPECT_FALSE(question.help.empty()) << question.verb;
        EXPECT_NE(question.run, nullptr) << question.verb;
        // Practice is no question about the head: it has a place of its own in the window.
        EXPECT_EQ(question.cards.empty(), question.verb == "practice") << question.verb;
        EXPECT_TRUE(question.cards.empty() || question.cards.front().key == question.verb) << question.verb;
        for (const Card& card : question.cards) {
            EXPECT_TRUE(cards.insert(card.key).second) << card.key;
            EXPECT_TRUE(titles.insert(card.words).second) << card.words;
            EXPECT_TRUE(card.words.ends_with('?')) << card.words;
            EXPECT_TRUE(card.follows.empty() || question.sticks != AsksSticks::no) << card.key;
        }
    }
    EXPECT_GE(verbs.size(), 11U);
}

TEST(Question, HasOptionsThatStartWithinTheirBounds) {
    for (const Question& question : all_questions()) {
        SCOPED_TRACE(question.verb);
        std::set<std::string> keys, arguments{"--json", "--csv", "--with", "--readings", "--help"};
        if (question.sticks != AsksSticks::no)
            arguments.insert({"--collective", "--aileron", "--elevator", "--rudder"});
        for (const Option& option : question.options) {
            EXPECT_TRUE(keys.insert(option.key).second) << option.key;
            EXPECT_TRUE(arguments.insert(option.argument()).second) << option.argument();
            EXPECT_FALSE(option.help.empty()) << option.key;
            EXPECT_TRUE(option.needs.empty() || question.option(option.needs).needs == option.key) << option.key;
            if (may_be_left_out(option)) {
                EXPECT_LT(option.low, option.high) << option.key;
                EXPECT_FALSE(option.unit.empty()) << option.key;
            }
            EXPECT_TRUE(option.kind != OptionKind::words || !option.words.empty()) << option.key;
            if (std::holds_alternative<std::monostate>(option.start))
                EXPECT_TRUE(may_be_left_out(option)) << option.key;
            else
                expect_allowed(option, option.start);
        }
    }
}

TEST(Question, HasCardsOfItsOwnOptionsThatStartWithinTheirBounds) {
    int shown = 0;
    for (const Question& question : all_questions())
        for (const Card& card : question.cards) {
            SCOPED_TRACE(card.key);
            for (const Field& field : card.fields) {
                const Option& option = question.option(field.option);
                const Value starts = question.start(card).at(field.option);
                const bool left_out = std::holds_alternative<std::monostate>(starts);
                EXPECT_EQ(left_out, !field.given_words.empty()) << "a card says whether a number is given";
                if (!left_out) expect_allowed(option, starts);
                EXPECT_EQ(option.kind == OptionKind::words, !field.each.empty()) << option.key;
                for (const WordField& word : field.each) {
                    EXPECT_NE(std::ranges::find(option.words, word.word), option.words.end()) << word.word;
                    EXPECT_TRUE(word.option.empty() || question.option(word.option).kind == OptionKind::texts);
                }
                if (field.words.empty()) continue;
                ++shown;
                EXPECT_TRUE(option.kind == OptionKind::number || option.kind == OptionKind::yes_no ||
                            option.kind == OptionKind::texts)
                    << "cards have no field for " << option.key;
            }
        }
    EXPECT_GE(shown, 9);
}

/// What a builder would have read of the head as described, on blade 1.
Readings read_of(const head::Head& head) {
    Readings out;
    for (const double azimuth : {0.0, 90.0}) out.pitch.push_back({.sticks = {}, .azimuth_deg = azimuth});
    for (PitchReading& reading : out.pitch)
        reading.reading_deg = head.pose(reading.sticks, reading.azimuth_deg)->pitch_deg[0];
    return out;
}

// A key that a study does not have would throw.
TEST(Question, IsAnsweredOnEveryDemoHeadAsItsCardStarts) {
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"}) {
        const head::Head head = testing::demo_head(file);
        for (const Question& question : all_questions())
            for (const Card& card : question.cards) {
                SCOPED_TRACE(std::string(file) + ", " + card.key);
                Asked asked{head, {}, question.start(card), read_of(head)};
                if (question.verb == "reach") asked.values.set("clearance", false);  // takes seconds
                if (question.verb == "tolerance") asked.values.set("samples", std::int64_t{20});
                const Outcome once = question.run(asked), again = question.run(asked);
                ASSERT_TRUE(once && again) << (once ? "" : once.error().why);
                EXPECT_EQ(once->answer.study, question.verb);
                EXPECT_FALSE(once->answer.text.empty());
                EXPECT_EQ(as_csv(once->answer), as_csv(again->answer));
                EXPECT_EQ(once->proposal.has_value() && once->proposal_words.empty(), false);
            }
    }
}

TEST(Question, GivesFirstLooksOfReachWhereSomebodyWaitsForThem) {
    const auto reach = std::ranges::find(all_questions(), "reach", &Question::verb);
    ASSERT_NE(reach, all_questions().end());
    Asked asked{testing::demo_head("two_blade_600.toml"), {}, Values(reach->options)};
    asked.values.set("clearance", false);
    std::vector<std::size_t> looked;
    asked.so_far = [&](const Reply& look) { looked.push_back(look.map->poses); };
    const Outcome whole = reach->run(asked);
    ASSERT_TRUE(whole);
    ASSERT_GE(looked.size(), 2U);
    EXPECT_LT(10 * looked[0], whole->map->poses);
    EXPECT_LT(looked[0], looked[1]);
}

TEST(Question, TellsWhatCannotBeMeantFromWhatCannotBePosed) {
    const auto lengths = std::ranges::find(all_questions(), "lengths", &Question::verb);
    Asked asked{testing::demo_head("two_blade_600.toml"), {}, Values(lengths->options)};
    asked.values.set("free", std::vector<std::string>{"wings"});
    const Outcome none = lengths->run(asked);
    ASSERT_FALSE(none);
    EXPECT_TRUE(none.error().badly_asked);
    EXPECT_THAT(none.error().why, HasSubstr("--free wings"));
}

TEST(Values, AreAskedForByTheNamesOfOptions) {
    const auto tolerance = std::ranges::find(all_questions(), "tolerance", &Question::verb);
    Values values(tolerance->options);
    EXPECT_EQ(values.whole("samples"), 10'000);
    EXPECT_EQ(values.number_if_given("split"), std::nullopt);
    values.set("split", 0.2);
    EXPECT_EQ(values.number_if_given("split"), 0.2);
    EXPECT_THROW(static_cast<void>(values.number("spilt")), std::out_of_range);
    EXPECT_THROW(values.set("spilt", 0.2), std::out_of_range);
    EXPECT_THROW(static_cast<void>(values.flag("split")), std::bad_variant_access);
    EXPECT_THROW(static_cast<void>(tolerance->option("spilt")), std::out_of_range);
}

TEST(Values, TakeWordsInAndOut) {
    const auto lengths = std::ranges::find(all_questions(), "lengths", &Question::verb);
    Values values(lengths->options);
    values.choose("wish", "square", true);
    values.choose("wish", "square", true);
    EXPECT_EQ(values.texts("wish"), (std::vector<std::string>{"level", "zero", "square"}));
    values.choose("wish", "level", false);
    EXPECT_FALSE(values.holds("wish", "level"));
    EXPECT_TRUE(values.holds("wish", "zero"));
}

}  // namespace
}  // namespace swashwright::studies
