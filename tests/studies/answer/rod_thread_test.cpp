#include "kinematics/studies/answer/rod_thread.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/studies/lengths/lengths.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

// By hand: 40 mm between balls less two ends of 11 leave 18 mm of rod in sight; an end is 11 long with a boss of 6, so
// 8 mm of shank; M2 wants two diameters, 4 mm. The rod of the middle has 6 mm in each end: 18 + 12 = 30.
TEST(RodThread, IsCountedFromShankToShank) {
    head::Link link;
    const RodThread none = rod_thread(link, 40);
    EXPECT_DOUBLE_EQ(none.bare_mm, 18);
    EXPECT_DOUBLE_EQ(none.least_mm, 4);
    EXPECT_DOUBLE_EQ(none.most_mm, 8);
    EXPECT_DOUBLE_EQ(none.cut_mm, 30);
    EXPECT_FALSE(none.in_each_mm);
    EXPECT_EQ(thread_trouble("upper link 1", none), "");
    link.rod_length_mm = 30;
    EXPECT_DOUBLE_EQ(*rod_thread(link, 40).in_each_mm, 6);
    EXPECT_DOUBLE_EQ(*rod_thread(link, 43).in_each_mm, 4.5);  // as much from one end as from the other
    link.rod = head::Rod::turnbuckle;
    EXPECT_DOUBLE_EQ(*rod_thread(link, 43).in_each_mm, 4.5);
}

TEST(RodThread, TellsWhatIsWrongAndHowLongToCut) {
    head::Link link;
    link.rod_length_mm = 30;
    EXPECT_EQ(thread_trouble("upper link 1", rod_thread(link, 44)), "");  // 4 mm just hold
    EXPECT_THAT(thread_trouble("upper link 1", rod_thread(link, 44.4)),
                HasSubstr("3.8 mm of thread in each end, where 4.0 mm are wanted; cut a rod of 34.5 mm"));
    EXPECT_EQ(thread_trouble("upper link 1", rod_thread(link, 36)), "");
    EXPECT_THAT(thread_trouble("upper link 1", rod_thread(link, 35.6)), HasSubstr("shorten the rod to 25.5 mm"));
    EXPECT_THAT(thread_trouble("upper link 1", rod_thread(link, 70)), HasSubstr("0.0 mm of thread in each end"));
    EXPECT_THAT(thread_trouble("upper link 1", rod_thread(link, 20)), HasSubstr("its two ends meet"));
    link.end_length_mm = {11, 6};  // 3 mm of shank on the upper end
    EXPECT_THAT(thread_trouble("upper link 1", rod_thread(link, 40)), HasSubstr("longer ends are needed"));
}

// What is advised to be cut is cut, and the question asked again.
TEST(RodThread, LengthsSayWhichRodToCutAndAreContentOnceItIs) {
    head::Description d = testing::demo("two_blade_600.toml");
    d.lower_links[0].rod_length_mm.reset();
    d.upper_links[1].length_mm += 2;
    d.upper_links[1].rod_length_mm = d.upper_links[1].length_mm - 22 + 5;  // 2.5 mm in each end as it is
    for (int time = 0; time < 2; ++time) {
        const auto found = link_lengths(d, {.wishes = {}, .free = free_links(d)});
        ASSERT_TRUE(found) << found.error();
        const Answer a = answer(*found);
        const Table& table = *std::ranges::find(a.tables, "threads", &Table::key);
        ASSERT_EQ(table.rows.size(), d.lower_links.size() + d.upper_links.size());
        EXPECT_EQ(table.rows[0][5], Cell("not cut yet"));
        if (time == 0) {  // 2 mm shorter leave 3.5 mm in each
            EXPECT_EQ(a.tone, Tone::notice);
            EXPECT_THAT(a.text, HasSubstr("But upper link 2: its rod would have 3.5 mm of thread in each end"));
            EXPECT_EQ(table.rows.back()[5], Cell("too little"));
            EXPECT_NEAR(std::get<double>(table.rows.back()[4]), 3.5, 1e-9);
            d.upper_links[1].rod_length_mm = std::get<double>(table.rows.back()[1]);
        } else {
            EXPECT_THAT(a.text, Not(HasSubstr("But ")));
            EXPECT_EQ(table.rows.back()[5], Cell("holds"));
        }
    }
}

}  // namespace
}  // namespace swashwright::studies
