// What a folded card says of its answer, and that it says nothing of another pose or head.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <thread>

#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"

namespace swashwright::panels {
namespace {

class Headlines : public HeldHead {
protected:
    Headlines() : HeldHead(state_of(testing::two_blade_file)) {
        frame(), frame();
        state_.sheet = Sheet::questions;
    }
    Question& card(const std::string& key) { return *std::ranges::find(state_.questions, key, &Question::key); }
    void answer(Question& question) {
        question.open = true;
        do {
            frame();
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        } while (answering(state_.questions));
        frame();
        question.open = false;
        frame();
    }
    std::string shown(const Question& question) { return headline(state_.bench, state_.gauge, question); }
    bool drawn(const std::string& key) { return state_.screen.report.widgets().contains("headline " + key); }
};

TEST_F(Headlines, AreTheFirstSentenceOfTheAnswerWhileThatIsOfWhatStandsThere) {
    Question& question = card("tracking");
    EXPECT_EQ(shown(question), "");
    for (int turn = 0; turn < 2; ++turn) {
        answer(question);
        const std::string& whole = (*question.inquiry.outcome())->answer.text;
        ASSERT_FALSE(shown(question).empty());
        EXPECT_THAT(whole, ::testing::StartsWith(shown(question)));
        EXPECT_TRUE(drawn(question.key));
        scene::Scene next = state_.bench.document().scene();
        next.head.upper_links[0].error_mm += 0.2;  // another head
        ASSERT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "a link"));
        frame();
        EXPECT_EQ(shown(question), "");
        EXPECT_FALSE(drawn(question.key));
    }
}

}  // namespace
}  // namespace swashwright::panels
