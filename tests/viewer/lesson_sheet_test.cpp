// The sheet of lessons without a window.
#include "viewer/panels/lessons/lesson_sheet.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include "tests/viewer/held_panels.h"
#include "viewer/document/today.h"
#include "viewer/panels/questions/answer_table.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {
namespace {

class LessonSheet : public ::testing::Test {
protected:
    LessonSheet() : state_(make_state(*document::Document::open(SWASHWRIGHT_SCENES "/two_blade_600.toml"), "", "x")) {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        state_.dialogs.open = Dialog::none;
        state_.screen.settings.camera_moves = false;
        state_.screen.fonts = load_fonts(*ImGui::GetIO().Fonts, 1);
        ImGui::GetIO().Fonts->Build();
    }
    ~LessonSheet() override { ImGui::DestroyContext(); }

    void draw(int frames = 3) {
        for (int i = 0; i < frames; ++i) {
            ImGui::GetIO().DisplaySize = {1280, 800};
            ImGui::NewFrame();
            draw_panels(state_, {1280, 800});
            ImGui::Render();
            advance(state_, 0.05, 0.05 * i);
        }
    }
    void edit(double error_mm) {
        scene::Scene next = state_.bench.document().scene();
        next.head.upper_links[1].error_mm = error_mm;
        state_.bench.edit(std::move(next), "test");
        state_.bench.end_run();
    }

    /// Neither falls alone to another line.
    void expect_buttons_beside(const scene::Task& task) const {
        const auto& widgets = state_.screen.report.widgets();
        for (const std::string& path : task.change) {
            const auto less = widgets.find(path + " less"), more = widgets.find(path + " more");
            if (less != widgets.end() && more != widgets.end()) {
                EXPECT_EQ(less->second.y, more->second.y) << path;
            }
        }
    }

    State state_;
};

TEST_F(LessonSheet, EveryPartThatALessonLightsIsDrawn) {
    show_sheet(state_, Sheet::lessons);
    draw();
    ASSERT_GE(state_.lessons.files.size(), 10U);
    for (const LessonFile& file : state_.lessons.files) {
        ASSERT_TRUE(file.lesson) << file.mistakes;
        for (const scene::Step& step : file.lesson->steps) {
            for (const std::string& path : step.lit) EXPECT_TRUE(draw::part_of(path)) << file.path << " " << path;
            EXPECT_TRUE(!step.from || step.from->part.empty() || draw::part_of(step.from->part)) << file.path;
        }
    }
}

TEST_F(LessonSheet, EveryStepOfEveryLessonIsDrawn) {
    show_sheet(state_, Sheet::lessons);
    draw();
    for (std::size_t i = 0; i < state_.lessons.files.size(); ++i) {
        open_lesson(state_.bench, state_.view, state_.selection, state_.lessons, i);
        const scene::Lesson& lesson = *state_.lessons.files[i].lesson;
        for (std::size_t s = 0; s < lesson.steps.size(); ++s) {
            SCOPED_TRACE(fmt::format("{}, step {}", lesson.title, s + 1));
            draw();
            ASSERT_EQ(state_.lessons.step, s);
            for (const char* word : {"lesson back", "lesson next", "lesson close", "lesson text"})
                EXPECT_TRUE(state_.screen.report.widgets().contains(word)) << word;
            EXPECT_EQ(state_.screen.report.widgets().contains("answer 1"), lesson.steps[s].choice.has_value());
            if (lesson.steps[s].task) expect_buttons_beside(*lesson.steps[s].task);
            show_way(state_.screen, state_.bench, state_.lessons);
            draw();
            EXPECT_TRUE(step_solved(state_.lessons) || lesson.steps[s].choice);
            next_step(state_.screen, state_.bench, state_.view, state_.selection, state_.lessons);
        }
        EXPECT_FALSE(state_.lessons.open);
    }
}

// What a step asks for, and what the lesson tells itself, does not stand in the line at the top; nor is the user's own
// head without its causes afterwards.
TEST_F(LessonSheet, TheSentenceGivesNoAnswerAway) {
    edit(0.3);
    show_sheet(state_, Sheet::lessons);
    draw();
    for (std::size_t i = 0; i < state_.lessons.files.size(); ++i) {
        open_lesson(state_.bench, state_.view, state_.selection, state_.lessons, i);
        const std::size_t steps = state_.lessons.files[i].lesson->steps.size();
        for (std::size_t s = 0; s < steps; ++s) {
            draw(1);
            const std::string& text = state_.bench.live().sentence.text;
            for (const char* cause :
                 {"wrong way", "tooth", "trim", "neutral of", "too short.", "too long", "Change the sign"})
                EXPECT_EQ(text.find(cause), std::string::npos)
                    << state_.lessons.files[i].path << ", step " << s + 1 << ": " << text;
            next_step(state_.screen, state_.bench, state_.view, state_.selection, state_.lessons);
        }
    }
    draw();
    EXPECT_NE(state_.bench.live().sentence.text.find("upper link 2 is 0.30 mm too long"), std::string::npos);
}

TEST_F(LessonSheet, WhatWasOpenComesBackWithItsUndo) {
    edit(0.1);
    edit(0.2);
    undo(state_);  // one step to take back, one to do again
    state_.bench.controls.sticks.collective = 0.25;
    state_.view.exaggeration = 3;
    const std::uint64_t revision = state_.bench.document().revision();
    show_sheet(state_, Sheet::lessons);
    draw();
    open_lesson(state_.bench, state_.view, state_.selection, state_.lessons, 5);
    draw();
    EXPECT_EQ(state_.bench.head().grips.size(), 3U);
    EXPECT_EQ(users_document(state_.bench, state_.lessons).revision(), revision);
    scene::Scene next = state_.bench.document().scene();
    next.head.lower_links[1].length_mm = 40;
    state_.bench.edit(std::move(next), "in the lesson");
    next_step(state_.screen, state_.bench, state_.view, state_.selection, state_.lessons);
    draw();

    show_sheet(state_, Sheet::parts);  // set aside
    draw();
    EXPECT_EQ(state_.bench.document().revision(), revision);
    show_sheet(state_, Sheet::lessons);
    draw();
    EXPECT_EQ(state_.lessons.step, 1U);
    close_lesson(state_.bench, state_.view, state_.selection, state_.lessons);
    draw();
    EXPECT_EQ(state_.bench.document().revision(), revision);
    EXPECT_TRUE(state_.bench.document().unsaved());
    EXPECT_EQ(state_.bench.head().upper_links[1].error_mm, 0.1);
    EXPECT_EQ(state_.bench.controls.sticks.collective, 0.25);
    EXPECT_EQ(state_.view.exaggeration, 3);
    redo(state_);
    EXPECT_EQ(state_.bench.head().upper_links[1].error_mm, 0.2);
    undo(state_);
    undo(state_);
    EXPECT_FALSE(state_.bench.document().unsaved());
}

TEST_F(LessonSheet, OpeningSavingAndLeavingSeeTheUsersHead) {
    for (const Dialog dialog : {Dialog::open, Dialog::save, Dialog::unsaved}) {
        state_.sheet = Sheet::lessons;
        draw();
        open_lesson(state_.bench, state_.view, state_.selection, state_.lessons, 5);
        draw();
        ask(state_, dialog);
        EXPECT_EQ(state_.bench.head().grips.size(), 2U);
        state_.dialogs.open = Dialog::none;
        draw();
        EXPECT_EQ(state_.bench.head().grips.size(), 2U);
    }
}

TEST_F(LessonSheet, IsDoneOnceEveryQuestionIsAnswered) {
    state_.sheet = Sheet::lessons;
    draw();
    const std::size_t steps = 7;
    for (const bool answered : {false, true}) {
        open_lesson(state_.bench, state_.view, state_.selection, state_.lessons, 0);
        ASSERT_EQ(state_.lessons.files[0].lesson->steps.size(), steps);
        for (std::size_t s = 0; s + 1 < steps; ++s)
            next_step(state_.screen, state_.bench, state_.view, state_.selection, state_.lessons);
        if (answered) state_.lessons.solved.insert(steps - 1);
        next_step(state_.screen, state_.bench, state_.view, state_.selection, state_.lessons);
        EXPECT_EQ(state_.screen.settings.lessons_done.contains("What each part does"), answered);
    }
}

class CrashList : public HeldHead {
protected:
    CrashList() : HeldHead(make_state(*document::Document::open(SWASHWRIGHT_SCENES "/two_blade_600.toml"), "", "x")) {
        state_.dialogs.open = Dialog::none;
        show_sheet(state_, Sheet::lessons);
        frames(state_, 3);
    }
    const std::map<std::string, std::string>& ticked() {
        return state_.screen.settings.heads["two_blade_600.toml"].looked_at;
    }
};

TEST_F(CrashList, IsTickedAndStaysTickedUntilStartedAnew) {
    for (int crash = 0; crash < 2; ++crash) {
        click("crash list");
        click("crash 1");
        click("crash 3");
        EXPECT_EQ(ticked().size(), 2U);
        click("crash 1");  // not looked at after all
        EXPECT_EQ(ticked().size(), 1U);
        click("crash lessons");
        EXPECT_FALSE(state_.lessons.crash_list);
        click("crash list");
        EXPECT_EQ(ticked().size(), 1U);
        click("crash anew");
        EXPECT_TRUE(ticked().empty());
        click("crash lessons");
    }
}

// A name can be that of many heads, and be changed.
TEST_F(CrashList, TicksAreOfTheFileAndNotOfTheName) {
    click("crash list");
    click("crash 1");
    ASSERT_EQ(ticked().size(), 1U);
    EXPECT_EQ(ticked().begin()->second, document::today());
    scene::Scene named = state_.bench.document().scene();
    named.head.name = "Another name";
    ASSERT_TRUE(state_.bench.edit(named, "name"));
    frame();
    click("crash 2");
    EXPECT_EQ(ticked().size(), 2U);
    show_document(state_, document::Document(named, "/elsewhere/head.toml"));
    frames(state_, 3);
    click("crash 1");
    EXPECT_EQ(state_.screen.settings.heads["/elsewhere/head.toml"].looked_at.size(), 1U);
    click("crash anew");
    EXPECT_TRUE(state_.screen.settings.heads["/elsewhere/head.toml"].looked_at.empty());
    EXPECT_EQ(ticked().size(), 2U);
    click("crash back");
    EXPECT_EQ(state_.screen.settings.heads["/elsewhere/head.toml"].looked_at.size(), 1U);
    click("crash anew");
    for (int time = 0; time < 2; ++time) {  // heads in no file: what was ticked on one comes back on no other
        show_document(state_, document::Document(named, ""));
        frames(state_, 3);
        EXPECT_FALSE(state_.screen.report.widgets().contains("crash back"));
        click("crash 1");
        click("crash anew");
    }
}

TEST_F(CrashList, ALessonIsOpenedFromTheListAfterIt) {
    click("crash list");
    click("crash lessons");
    click("lesson 1");
    EXPECT_TRUE(state_.lessons.open);
    EXPECT_TRUE(state_.lessons.on_bench);
}

}  // namespace
}  // namespace swashwright::panels
