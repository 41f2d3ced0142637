// Practice without a window: the head with the fault is nowhere but in what the gauge reads.
#include "viewer/panels/lessons/practice.h"

#include <gtest/gtest.h>

#include <thread>

#include "kinematics/studies/diagnosis/fault_words.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/document/data_folder.h"
#include "viewer/document/today.h"
#include "viewer/panels/lessons/lesson_sheet.h"
#include "viewer/panels/window/unsaved.h"

namespace swashwright::panels {
namespace {

class PracticePage : public HeldHead {
protected:
    PracticePage() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml")) {
        state_.sheet = Sheet::lessons;
        frame();
        frame();
    }
    void begin(std::uint64_t number) {
        start_practice(state_.screen, state_.bench, state_.view, state_.selection, state_.lessons,
                       users_document(state_.bench, state_.lessons), {"Your head", number});
        ASSERT_TRUE(state_.lessons.practice.on()) << state_.screen.notice;
        frame();
    }
    Practice& practice() { return state_.lessons.practice; }
    std::string verdict() {
        do {
            frame();
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        } while (practice().verdict.running());
        frame();
        return practice().verdict.outcome() && *practice().verdict.outcome()
                   ? (*practice().verdict.outcome())->answer.text
                   : "none";
    }
};

TEST_F(PracticePage, DrawsAndKeepsNothingOfTheHeadWithTheFault) {
    const std::string own = scene::write(state_.bench.document().scene());
    for (const std::uint64_t number : {1, 3, 8}) {
        begin(number);
        EXPECT_TRUE(state_.lessons.on_bench);
        // What is drawn, said and kept: the description on the bench is the user's, byte by byte.
        EXPECT_EQ(scene::write(state_.bench.document().scene()), own);
        const auto described = head::Head::build(state_.bench.head());
        ASSERT_TRUE(described);
        go_to(state_.bench, {.collective = 1}, 30);
        frame();
        read_blade(practice(), state_.bench.controls.sticks, state_.bench.controls.azimuth_deg, 0);
        frame();
        ASSERT_TRUE(state_.bench.live().shown);
        const auto pose = described->pose({.collective = 1}, 30);
        EXPECT_NEAR(state_.bench.live().shown->pose.pitch_deg[0], pose->pitch_deg[0], 1e-9);
        EXPECT_EQ(practice().sound.pitch[0].reading_deg, pose->pitch_deg[0]);
        EXPECT_EQ(practice().readings.size(), 1U);
        EXPECT_FALSE(at_stake(state_).any());  // nothing of it is work that a file or the recovery would get
        EXPECT_TRUE(state_.gauge.readings.pitch.empty());
    }
    close_lesson(state_.bench, state_.view, state_.selection, state_.lessons);
    EXPECT_EQ(scene::write(state_.bench.document().scene()), own);
}

TEST_F(PracticePage, ReadsAgainTheSameAfterTheAnswer) {
    begin(8);
    read_blade(practice(), {}, 0, 0);
    read_ball(practice(), {.collective = 1}, 1);
    const double pitch = practice().readings.pitch[0].reading_deg,
                 height = practice().readings.ring_height[0].reading_mm;
    practice().chosen = "mixing";
    EXPECT_EQ(path_to_light(practice()), "");  // nothing to be seen, and nothing of what is hidden
    practice().chosen = "guide";
    EXPECT_EQ(path_to_light(practice()), "swashplate");
    name_part(practice(), studies::keys_of(practice().hidden->what()).front());
    const studies::HiddenFault hidden = *practice().hidden;
    EXPECT_NE(verdict().find("Right: " + studies::fault_words(hidden.what(), hidden.size)), std::string::npos);
    EXPECT_EQ(path_to_light(practice()), "upper_link[1]");
    read_blade(practice(), {}, 90, 0);  // over
    EXPECT_EQ(practice().readings.size(), 2U);
    begin(8);
    EXPECT_EQ(practice().readings.size(), 0U);
    read_ball(practice(), {.collective = 1}, 1);
    read_blade(practice(), {}, 0, 0);
    EXPECT_EQ(practice().readings.pitch[0].reading_deg, pitch);
    EXPECT_EQ(practice().readings.ring_height[0].reading_mm, height);
    name_part(practice(), "");
    EXPECT_NE(verdict().find("Given up."), std::string::npos);
}

TEST_F(PracticePage, SaysWhatCannotBeReadAndWhereNothingCanBeHidden) {
    begin(8);
    read_blade(practice(), {}, 0, 9);
    EXPECT_EQ(practice().readings.size(), 0U);
    EXPECT_FALSE(practice().said.empty());
    head::Description open = state_.bench.head();
    open.upper_links[0].length_mm = 5;
    const Practice none = hide(open, {"", 1});
    EXPECT_FALSE(none.on());
    EXPECT_FALSE(none.said.empty());
}

TEST(PracticeHeads, AreThereAndHideAFault) {
    for (const PracticeHead& head : practice_heads()) {
        const auto opened = document::Document::open((document::scenes_folder() / head.file).string());
        ASSERT_TRUE(opened) << head.file;
        for (const std::uint64_t number : {1, 20'261'129})
            EXPECT_TRUE(hide(opened->head(), {"", number}).on()) << head.file << " " << number;
    }
    EXPECT_TRUE(studies::practice_of(document::today(), practice_heads().size()));
    EXPECT_GT(any_number(), 0U);
}

}  // namespace
}  // namespace swashwright::panels
