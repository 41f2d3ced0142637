// The cards of the questions are the studies' own, in their order, and start where these say.
#include <gtest/gtest.h>

#include <set>

#include "viewer/panels/questions/questions.h"

namespace swashwright::panels {
namespace {

TEST(QuestionCards, AreThoseOfTheStudies) {
    const std::vector<Question> cards = all_questions();
    std::size_t at = 0;
    for (const studies::Question& study : studies::all_questions())
        for (const studies::Card& card : study.cards) {
            ASSERT_LT(at, cards.size());
            const Question& made = cards[at++];
            EXPECT_EQ(made.study, &study) << card.key;
            EXPECT_EQ(made.card, &card) << card.key;
            EXPECT_EQ(made.key, card.key);
            EXPECT_EQ(made.reads_readings, study.reads_readings) << card.key;
            EXPECT_FALSE(made.open) << card.key;
            EXPECT_FALSE(made.inquiry.running()) << card.key;
        }
    EXPECT_EQ(at, cards.size());
}

// An option that the verb takes is on the card too, at the same value unless the card says another.
TEST(QuestionCards, HoldTheOptionsOfTheVerb) {
    int others = 0;
    for (const Question& made : all_questions())
        for (const studies::Option& option : made.study->options) {
            const auto field = std::ranges::find(made.card->fields, option.key, &studies::Field::option);
            const bool own = field != made.card->fields.end() && !std::holds_alternative<std::monostate>(field->start);
            EXPECT_EQ(made.values.at(option.key), own ? field->start : option.start) << made.key << ", " << option.key;
            others += own;
        }
    EXPECT_EQ(others, 5);  // the range wanted, the split to be held, and all rows twice
}

}  // namespace
}  // namespace swashwright::panels
