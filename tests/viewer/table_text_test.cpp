// Tables as the window writes them: nothing is cut, nothing is of the file's format, lengths as they are read.
#include "viewer/panels/questions/table_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

namespace swashwright::panels {
namespace {

using studies::Table;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

TEST(TableText, FoldsWhatHasNoRoomBelowTheRow) {
    const std::vector<float> widths{100, 50, 0, 60, 40};
    EXPECT_THAT(fold(widths, 10, 300).across, ElementsAre(0, 1, 3, 4));
    EXPECT_THAT(fold(widths, 10, 300).below, IsEmpty());
    EXPECT_EQ(fold(widths, 10, 300).first, 100);
    const Fold narrow = fold(widths, 10, 220);
    EXPECT_THAT(narrow.across, ElementsAre(0, 1, 4));
    EXPECT_THAT(narrow.below, ElementsAre(3));
    EXPECT_THAT(fold(widths, 10, 60).across, ElementsAre(0));
    const std::vector<std::size_t> one{3}, two{3, 1};
    EXPECT_THAT(fold(widths, 10, 220, one).across, ElementsAre(0, 3, 4));  // asked to stay
    EXPECT_THAT(fold(widths, 10, 240, two).across, ElementsAre(0, 1, 3));
    EXPECT_THAT(fold(widths, 10, 200, two).across, ElementsAre(0, 3));  // room for one: the first
}

// What an answer is about stays in sight on a narrow sheet: no reader looks for it in the grey words below.
TEST(TableText, KeepsTheColumnThatPeopleComeFor) {
    const auto keys = [](const Table& table) {
        std::vector<std::string> out;
        for (const std::size_t c : kept_columns(table)) out.push_back(table.columns[c].key);
        return out;
    };
    Table table{"t", "T", {{"number", "number", ""}, {"before", "before", "", 3}}, {}, {}};
    EXPECT_THAT(keys(table), IsEmpty());
    table.columns.insert(table.columns.end(), {{"change", "change", "", 3, true}, {"unit", "unit", ""}});
    EXPECT_THAT(keys(table), ElementsAre("unit", "change"));
    table.columns = {{"what", "what", ""}, {"nominal_deg", "nominal", "deg", 3}, {"within_95_deg", "95 in 100", "deg"}};
    EXPECT_THAT(keys(table), ElementsAre("within_95_deg"));
}

// Whatever the room, every column stands somewhere, once, and those across fit.
TEST(TableText, LosesNoColumnAtAnyWidth) {
    const std::vector<float> widths{230, 44, 44, 80, 0, 61, 120};
    constexpr float gap = 14;
    for (float room = 100; room < 800; room += 7) {
        const Fold now = fold(widths, gap, room);
        EXPECT_EQ(now.across.size() + now.below.size(), 6U);
        float taken = now.first;
        for (std::size_t i = 1; i < now.across.size(); ++i) taken += gap + widths[now.across[i]];
        EXPECT_LE(taken, room) << room;
        EXPECT_TRUE(std::ranges::is_sorted(now.across));
    }
}

TEST(TableText, ShowsNoKeysAndNoColumnOfDashes) {
    Table table{"t", "T", {{"number", "number", ""}, {"path", "path", ""}, {"rudder", "rudder", "", 2}}, {}, {}};
    table.rows = {{std::string("upper link 2, length"), std::string("upper_link[2].length_mm"), studies::Cell()}};
    EXPECT_TRUE(shown_in_window(table, 0));
    EXPECT_FALSE(shown_in_window(table, 1));
    EXPECT_FALSE(shown_in_window(table, 2));
    table.rows.push_back({std::string("x"), std::string("y"), 0.5});
    EXPECT_TRUE(shown_in_window(table, 2));
}

// One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
TEST(TableText, WritesLengthsInTheUnitThatIsRead) {
    Table table{"t",
                "Links, mm",
                {{"a_mm", "too long by", "mm", 2, true},
                 {"b_deg", "pitch", "deg", 2},
                 {"value", "value", "", 3},
                 {"unit", "unit", ""},
                 {"rank", "rank", "", 0},
                 {"collective", "coll.", "", 2, true}},
                {{25.4, 1.5, 12.7, std::string("mm"), 2.0, 0.2}, {0.0, 1.5, 12.7, std::string("deg"), 2.0, 0.2}},
                {}};
    EXPECT_EQ(cell_text(table, 0, 0, false), "+25.40");
    EXPECT_EQ(cell_text(table, 0, 0, true), "+1.0000");
    EXPECT_EQ(cell_text(table, 0, 1, true), "1.50");
    EXPECT_EQ(cell_text(table, 0, 2, true), "0.5000");
    EXPECT_EQ(cell_text(table, 1, 2, true), "12.70");
    EXPECT_EQ(cell_text(table, 0, 3, true), "in");
    EXPECT_EQ(cell_text(table, 0, 4, true), "2");  // neither a rank nor a stick is a length, whatever the row is about
    EXPECT_EQ(cell_text(table, 0, 5, true), "+0.20");
    EXPECT_EQ(unit_text(table.columns[0], true), "in");
    EXPECT_EQ(unit_text(table.columns[0], false), "mm");
    EXPECT_EQ(title_text("Links, mm; moments, N mm", true), "Links, in; moments, N mm");
}

// A calliper reads 0.01 mm, a pitch gauge no finer than that in deg (common practice, no source).
TEST(TableText, WritesNoMoreFiguresThanAGaugeGives) {
    Table table{"t",
                "T",
                {{"misfit_mm", "misfit", "mm", 4},
                 {"pitch_deg", "pitch", "deg", 3, true},
                 {"step", "step", "deg/\xC2\xB5s", 4},
                 {"after", "after", "", 3},
                 {"unit", "unit", ""},
                 {"small_mm", "small", "mm", 4, true}},
                {{0.0, -11.5874, 0.0123, 146.0, std::string("mm"), 0.0123},
                 {1e-9, 0.0004, 0.0001, 0.3333, std::string(""), -0.0004}},
                {}};
    EXPECT_EQ(cell_text(table, 0, 0, false), "0.00");  // not 0.0000
    EXPECT_EQ(cell_text(table, 1, 0, false), "0.00");
    EXPECT_EQ(cell_text(table, 0, 1, false), "-11.59");
    EXPECT_EQ(cell_text(table, 1, 1, false), "0.00");
    EXPECT_EQ(cell_text(table, 0, 2, false), "0.0123");  // read off no gauge
    EXPECT_EQ(cell_text(table, 0, 3, false), "146.00");
    EXPECT_EQ(cell_text(table, 1, 3, false), "0.333");  // of a row without a unit
    // Where two decimals would leave next to nothing of all: two figures of the largest.
    EXPECT_EQ(cell_text(table, 0, 5, false), "+0.012");
    EXPECT_EQ(cell_text(table, 1, 5, false), "0.000");
    EXPECT_EQ(cell_text(table, 0, 5, true), "+0.0005");  // 0.0123 mm / 25.4
}

}  // namespace
}  // namespace swashwright::panels
