// The card for the field box: what stands on it, and that whoever waits for it sees how far it is.
#include "viewer/sheet/field_card.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <stop_token>

#include "tests/support/demo_head.h"

namespace swashwright::sheet {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

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

/// What stands under "Doubtful".
std::string doubtful(const head::Description& description) {
    const auto card = field_card(head::Head::build(description).value(), "", "2026-11-26");
    if (!card) return card.error();
    const auto section = std::ranges::find(card->sections, "Doubtful", &Section::heading);
    return section == card->sections.end() ? "" : as_text({"", "", "", {*section}, {}}, 200);
}

// The worst value and its bound, on whichever side that lies: an angle of 36 deg is not too far where 40 are wanted.
TEST(FieldCard, TellsWhatIsDoubtfulAgainstItsBound) {
    const head::Description sound = testing::two_blades();
    const std::string nothing = doubtful(sound);
    EXPECT_THAT(nothing, HasSubstr("Nothing that this program knows of."));
    EXPECT_THAT(nothing, HasSubstr("Whether parts touch was not looked at."));
    const auto range = studies::pitch_range(head::Head::build(sound).value());
    ASSERT_TRUE(range);
    const auto [low, high] = std::ranges::minmax(range->collective, {}, &studies::CollectiveRow::height_mm);
    for (const double by : {1.0, 2.0}) {
        head::Description d = sound;
        d.upper_links[0].error_mm = -0.3 * by;
        d.servos[1].trim_deg = 2 * by;
        d.swashplate.height_stops_mm = {{low.height_mm + by, high.height_mm + 9}};
        const std::string told = doubtful(d);
        EXPECT_THAT(told, HasSubstr(fmt::format("upper link 1 is {:.2f} mm too short.", 0.3 * by)));
        EXPECT_THAT(told, HasSubstr(fmt::format("servo {} carries +{:.1f} deg of trim.", d.servos[1].name, 2 * by)));
        EXPECT_THAT(told, HasSubstr(fmt::format(" mm at worst, at least {:.2f} mm wanted.", low.height_mm + by)));
        EXPECT_THAT(told, HasSubstr("Whether parts touch was not looked at."));
        EXPECT_THAT(told, Not(HasSubstr("Nothing")));
        d.swashplate.height_stops_mm = {{low.height_mm - 9, high.height_mm - by}};
        EXPECT_THAT(doubtful(d),
                    HasSubstr(fmt::format(" mm at worst, at most {:.2f} mm wanted.", high.height_mm - by)));
        d = sound;  // within, but not by much
        d.swashplate.height_stops_mm = {{low.height_mm - 0.2 * by, high.height_mm + 9}};
        EXPECT_THAT(doubtful(d), HasSubstr(fmt::format("{:.2f} mm at worst, close: at least {:.2f} mm wanted.",
                                                       low.height_mm, low.height_mm - 0.2 * by)));
    }
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
