// What the page that compares shows of an answer: what changed, in figures that can be read.
#include "viewer/panels/questions/compare_sheet.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/cell.h"
#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/questions/table_text.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

studies::Answer compared(const head::Description& before, const head::Description& after) {
    return studies::answer(studies::compare(before, after), "before", "now");
}

std::string text(const studies::Table& table, std::size_t row, std::size_t column) {
    return cell_text(table, row, column, /*inches=*/false);
}

TEST(CompareOnScreen, LeavesOutWhatStaysAndWritesTwoDecimals) {
    const head::Description before = testing::two_blades();
    for (const double error : {0.3, 0.5}) {
        head::Description after = before;
        after.upper_links[1].error_mm = error;
        const studies::Answer whole = compared(before, after), seen = on_screen(whole);
        const studies::Table &sticks = seen.tables[1], &all = whole.tables[1];
        ASSERT_EQ(sticks.columns.back().key, "change");
        EXPECT_EQ(sticks.rows.size(), 5U);  // of blade 2, at every place; blade 1 and the ring stay
        EXPECT_EQ(sticks.rows.size(), sticks.parts.size());
        for (std::size_t r = 0; r < sticks.rows.size(); ++r) {
            EXPECT_EQ(text(sticks, r, 1), "blade 2");
            EXPECT_EQ(sticks.parts[r], "blade[2]");
            EXPECT_GE(std::abs(std::get<double>(sticks.rows[r].back())), 0.005);
        }
        EXPECT_THAT(sticks.title, HasSubstr("what stays is left out"));
        EXPECT_EQ(text(seen.tables[0], 0, 3), fmt::format("{:.2f}", error));
        // Console and JSON have all of it, as ever.
        EXPECT_EQ(all.rows.size(), 20U);
        EXPECT_EQ(studies::as_text(whole.tables[0].rows[0][3], whole.tables[0].columns[3]),
                  fmt::format("{:.3f}", error));
    }
}

TEST(CompareOnScreen, HeightsHaveNoSignAndSmallChangesAreSeen) {
    const head::Description before = testing::two_blades();
    for (const double by : {0.002, 0.2}) {
        head::Description after = before;
        for (head::Link& link : after.lower_links) link.length_mm += by;
        after.lower_links[0].length_mm += 0.3;  // beside a small change a large one
        const studies::Answer seen = on_screen(compared(before, after));
        EXPECT_EQ(text(seen.tables[0], 0, 4), by < 0.005 ? "+0.302" : "+0.50");
        for (const studies::Table& table : seen.tables)
            for (const studies::Column& column : table.columns) EXPECT_EQ(column.sign, column.key == "change");
        bool height = false;
        for (std::size_t r = 0; r < seen.tables[1].rows.size(); ++r) {
            if (text(seen.tables[1], r, 1) != "ring height") continue;
            height = true;
            EXPECT_THAT(text(seen.tables[1], r, 3), Not(HasSubstr("+")));
        }
        EXPECT_TRUE(height);
        if (by < 0.005) {
            EXPECT_EQ(text(seen.tables[0], 1, 4), "+0.002");
        }
    }
}

TEST(CompareOnScreen, KeepsWhatOnlyOneHeadHasAndWhatIsOutOfReach) {
    const head::Description before = testing::two_blades();
    head::Description after = before;
    after.upper_links[1].length_mm = 30;
    const studies::Answer seen = on_screen(compared(before, after));
    EXPECT_EQ(seen.tables[1].rows.size(), 5U);
    EXPECT_EQ(text(seen.tables[1], 0, 1), "out of reach");
    const studies::Answer more = on_screen(compared(before, testing::demo("three_blade_700.toml")));
    EXPECT_TRUE(std::ranges::any_of(more.tables[0].rows, [](const auto& row) {
        return std::holds_alternative<std::monostate>(row[2]) && std::holds_alternative<double>(row[3]);
    }));
}

class ComparePage : public HeldHead {
protected:
    ComparePage() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml")) {
        state_.sheet = Sheet::compare;
        frame();
        frame();
    }
};

TEST_F(ComparePage, TellsAWeightThatDiffersFromTheHeadAsKept) {
    for (const double weight : {0.5, 0.25}) {
        click("compare keep");
        EXPECT_THAT(state_.compare.answer.text, HasSubstr("the same, number for number"));
        scene::Scene next = state_.bench.document().scene();
        next.head.servos[1].aileron_weight = weight;
        ASSERT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "weight"));
        frames(state_, 2);
        EXPECT_THAT(state_.compare.answer.text, HasSubstr("aileron weight"));
        EXPECT_FALSE(state_.compare.answer.tables[1].rows.empty());
    }
}

}  // namespace
}  // namespace swashwright::panels
