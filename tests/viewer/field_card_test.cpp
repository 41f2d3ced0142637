// The card for the field box: what stands on it, and that whoever waits for it sees how far it is.
#include "viewer/sheet/field_card.h"

#include <gtest/gtest.h>

#include <atomic>
#include <stop_token>

#include "tests/support/demo_head.h"

namespace swashwright::sheet {
namespace {

TEST(FieldCard, SaysHowFarItIsToTheEndAndCanBeStopped) {
    const auto head = head::Head::build(testing::two_blades()).value();
    std::atomic<int> percent = 0;
    EXPECT_TRUE(field_card(head, "", "2026-11-26", {{}, &percent}));
    EXPECT_GE(percent, 90);  // the pitch range tells it last
    std::stop_source stop;
    stop.request_stop();
    const auto stopped = field_card(head, "", "2026-11-26", {stop.get_token()});
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error(), "stopped");
}

TEST(FieldCard, SaysWhatTheSceneSaysOfItself) {
    const auto head = head::Head::build(testing::two_blades()).value();
    const auto card = field_card(head, "An invented head.", "2026-11-26");
    ASSERT_TRUE(card);
    EXPECT_NE(as_text(*card, 100).find("An invented head."), std::string::npos);
}

TEST(FieldCard, HasLowMiddleAndHighStickHoweverTheyAreRounded) {
    const head::Description described = testing::two_blades();
    const auto range = studies::pitch_range(head::Head::build(described).value());
    ASSERT_TRUE(range);
    for (const double rounding : {0.0, 1e-12}) {
        studies::PitchRange shifted = *range;
        for (studies::CollectiveRow& row : shifted.collective) row.collective += rounding;
        const studies::Table table = ends_of_pitch(described, shifted);
        ASSERT_EQ(table.rows.size(), 3U);
        for (const std::size_t row : {0U, 1U, 2U})
            EXPECT_NEAR(std::get<double>(table.rows[row][0]), static_cast<double>(row) - 1, 1e-9);
    }
}

}  // namespace
}  // namespace swashwright::sheet
