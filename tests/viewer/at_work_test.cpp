// What a hand meets at work, with large text and in a low window too: handles dragged too far, the wheel, notes, the
// column's words. Without a screen.
#include <gmock/gmock.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <filesystem>

#include "kinematics/studies/envelope/reach.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "tests/viewer/seen_text.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/picture/dragging.h"
#include "viewer/panels/questions/envelope_map.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/picture_file.h"

namespace swashwright::panels {
namespace {

using swashwright::testing::seen_text;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

class AtWork : public HeldHead {
protected:
    AtWork() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml")) {
        state_.screen.settings.camera_moves = false;
        frames(state_, 4);
    }
    void look(ImVec2 size, double text) {
        ImGui::GetIO().DisplaySize = size;
        state_.screen.settings.text_scale = text;
        limit_text_scale(state_.screen, size.x);
        apply_style(false, state_.screen.scale());
        fonts_ = load_fonts(*ImGui::GetIO().Fonts, state_.screen.scale());
        ImGui::GetIO().Fonts->Build();
        frames(state_, 6);
    }
    ImVec4 box(const std::string& widget) const {
        const auto found = state_.screen.report.widgets().find(widget);
        EXPECT_NE(found, state_.screen.report.widgets().end()) << widget;
        return found == state_.screen.report.widgets().end() ? ImVec4() : found->second;
    }
    /// All that is written in windows of that name, without blanks.
    static std::string written(const std::string& window) {
        std::string out;
        for (const auto& list : seen_text(swashwright::testing::Letters()))
            if (list.window.find(window) != std::string::npos)
                for (const auto& sign : list.signs) out += sign.letter;
        return out;
    }
    void grab(const std::string& handle) {
        const ImVec4 at = box("handle " + handle);
        from_ = {(at.x + at.z) / 2, (at.y + at.w) / 2};
        ImGui::GetIO().MousePos = from_;
        frame();
        ImGui::GetIO().MouseDown[0] = true;
        frame();
    }
    void drag(float x, float y) {
        ImGui::GetIO().MousePos = {from_.x + x, from_.y + y};
        frames(state_, 2);
    }
    static ImGuiWindow* scrolling(const char* part_of_name) {
        for (ImGuiWindow* window : ImGui::GetCurrentContext()->Windows)
            if (window->Active && window->ScrollMax.y > 0 && std::strstr(window->Name, part_of_name)) return window;
        return nullptr;
    }
    void wheel(ImVec2 at, float by) {
        ImGuiIO& io = ImGui::GetIO();
        io.MousePos = at;
        frames(state_, 2);
        io.MouseWheel = by;
        frame();
        io.MouseWheel = 0;
        frame();
    }

    ImVec2 from_;
};

TEST_F(AtWork, AHandleDraggedTooFarStaysAtItsEndAndComesBackWithThePointer) {
    state_.selection.selected = draw::Part{head::Role::inner_ring, 0};
    frames(state_, 3);
    grab("rim at the nose");
    double before = 0;
    for (const float up : {5.0F, 15.0F, 30.0F, 50.0F, 80.0F, 150.0F, 250.0F}) {
        drag(0, -up);
        const double elevator = state_.bench.controls.sticks.elevator;
        EXPECT_LE(elevator, before + 0.005) << up;
        before = elevator;
    }
    EXPECT_NEAR(before, -1, 0.01);
    drag(0, 0);
    EXPECT_NEAR(state_.bench.controls.sticks.elevator, 0, 0.05);
    ImGui::GetIO().MouseDown[0] = false;
    frame();
}

// What moves when a handle is dragged: of a tail the rudder, of what a hand moves no stick.
TEST_F(AtWork, AHandleSaysWhatMovesWithIt) {
    const auto says = [&](const std::string& file, const draw::Part& part, const std::string& handle) {
        scene::Scene scene = scene::load(SWASHWRIGHT_SCENES "/" + file).value();
        if (part.role == head::Role::lever) scene.head.levers[0].balls_mm = {Vec3(20, 0, 0)};  // to be held by
        show_document(state_, document::Document(std::move(scene), SWASHWRIGHT_SCENES "/" + file));
        frames(state_, 6);
        state_.selection.selected = part;
        frames(state_, 3);
        const ImVec4 at = box("handle " + handle);
        ImGui::GetIO().MousePos = {(at.x + at.z) / 2, (at.y + at.w) / 2};
        frames(state_, 2);
        const auto words = drag_words(state_.sights);
        return words.empty() ? std::string("nothing") : words.front();
    };
    const draw::Part blade{head::Role::blade, 0};
    for (int again = 0; again < 2; ++again) {
        EXPECT_EQ(says("two_blade_600.toml", blade, "leading edge of blade 1"),
                  "Drag the leading edge of blade 1: collective, with Shift the cyclic stick");
        EXPECT_EQ(says("tail_600.toml", blade, "leading edge of blade 1"),
                  "Drag the leading edge of blade 1: the rudder follows");
        EXPECT_EQ(says("two_blade_600.toml", {head::Role::inner_ring, 0}, "rim at the nose"),
                  "Drag the rim at the nose: the sticks follow");
        EXPECT_EQ(says("rocking_spindle_600.toml", {head::Role::lever, 0}, "spindle"),
                  "Drag the spindle: by hand, the sticks stay");
    }
}

TEST_F(AtWork, WhatADragSaysIsNotCutOff) {
    look({1024, 768}, 1.25);
    state_.selection.selected = draw::Part{head::Role::servo, 0};
    frames(state_, 4);
    grab("horn of servo left");
    drag(0, 25);
    EXPECT_THAT(written("picture"), HasSubstr("elevator"));
    std::vector<std::string> cut;
    for (const std::string& words : swashwright::testing::cut_words(seen_text(swashwright::testing::Letters()), {}))
        if (words.starts_with("picture")) cut.push_back(words);
    EXPECT_THAT(cut, IsEmpty());
    ImGui::GetIO().MouseDown[0] = false;
    frame();
}

TEST_F(AtWork, WhereLengthsAreReadInInchesItIsSaidThatPaperHasMillimetres) {
    for (const bool inches : {true, false, true, false}) {
        state_.screen.settings.inches = inches;
        ask_for_sheet(state_, /*card=*/inches);
        frames(state_, 3);
        const bool said = written("dialog").find("Onpaperlengthsareinmm.") != std::string::npos;
        EXPECT_EQ(said, inches);
        state_.dialogs.open = Dialog::none;
        frames(state_, 2);
    }
}

TEST_F(AtWork, WordsOfTheColumnStayWhileItScrolls) {
    look({1280, 800}, 1.5);
    const ImVec4 parts = box("parts"), compare = box("compare");
    EXPECT_EQ(parts.y, compare.y);  // all on one line
    EXPECT_LE(compare.z, 1280);
    wheel({(parts.x + compare.z) / 2, parts.w + 200}, -30);
    const ImGuiWindow* column = scrolling("column");
    ASSERT_NE(column, nullptr);
    EXPECT_GT(column->Scroll.y, 0);
    EXPECT_EQ(box("parts").y, parts.y);
    // What has scrolled away draws nothing over the tools.
    const ImDrawData& data = *ImGui::GetDrawData();
    for (int l = 0; l < data.CmdListsCount; ++l) {
        const char* owner = data.CmdLists[l]->_OwnerName;
        if (owner != nullptr && std::string(owner).starts_with("column"))
            for (const ImDrawCmd& command : data.CmdLists[l]->CmdBuffer)
                EXPECT_TRUE(command.ElemCount == 0 || command.ClipRect.y > parts.y - 40);
    }
}

TEST_F(AtWork, TheStripBelowThePictureAlwaysSaysThatADemoIsInvented) {
    for (const double text : {1.0, 1.25, 1.5}) {
        look({1280, 800}, text);
        EXPECT_THAT(written("caption"), HasSubstr("nvented")) << text;
    }
}

TEST_F(AtWork, TheWheelScrollsTheColumnWhileAFieldHasTheCursor) {
    state_.ledger.focus = true;
    frames(state_, 4);
    ASSERT_TRUE(ImGui::GetIO().WantTextInput);
    const ImVec4 parts = box("parts");
    ImGuiWindow* list = scrolling("column");
    ASSERT_NE(list, nullptr);
    const float before = list->Scroll.y;
    wheel({parts.x + 40, list->InnerRect.Max.y - 30}, before > 0 ? 2 : -2);
    EXPECT_NE(list->Scroll.y, before);
}

TEST_F(AtWork, TheMapHasOneNoteAndTheKeyboardsOnlyForTheKeyboard) {
    const auto head = head::Head::build(state_.bench.head());
    const auto envelope =
        studies::envelope(*head, studies::checkers_of(*head, /*clearance=*/false),
                          {.collective_steps = 4, .cyclic_steps = 4, .directions = 6, .azimuths = 6, .refine = false});
    ASSERT_TRUE(envelope);
    MapMark mark;
    const auto draw = [&](int count) {
        for (int i = 0; i < count; ++i) {
            ImGui::NewFrame();
            begin_panel("map", {0, 0, 500, 700});
            draw_envelope_map(state_.screen, state_.bench, state_.selection, *envelope, mark);
            ImGui::End();
            ImGui::Render();
        }
    };
    ImGuiIO& io = ImGui::GetIO();
    draw(3);
    io.MousePos = {150, 180};
    io.DeltaTime = 0.1F;
    draw(12);
    EXPECT_THAT(written("##Foreground"), HasSubstr("Presstoseeit"));
    EXPECT_THAT(written("##Foreground"), Not(HasSubstr("Arrows")));
    // Pressed: what is told stands below the map, until the pointer goes on.
    for (const bool down : {true, false}) {
        io.MouseDown[0] = down;
        draw(1);
    }
    draw(8);
    ASSERT_TRUE(mark.chosen);
    EXPECT_THAT(written("##Foreground"), Not(HasSubstr("Presstoseeit")));
    io.MousePos = {190, 150};
    draw(3);
    EXPECT_THAT(written("##Foreground"), HasSubstr("Presstoseeit"));
}

TEST_F(AtWork, ShiftDTakesADistanceAwayBeforeANameIsBegun) {
    draw::Place ball, other;
    ball.ball = {head::BallName::Of::inner_ball, 0};
    other.ball = {head::BallName::Of::grip, 0};
    state_.view.distances = {{ball, other}};
    turn_distances(state_.sights);
    frames(state_, 4);
    ASSERT_TRUE(ImGui::GetIO().WantTextInput);
    ImGuiIO& io = ImGui::GetIO();
    const auto type = [&](char letter, bool shift) {
        io.KeyShift = shift;
        io.AddInputCharacter(static_cast<unsigned>(letter));
        frames(state_, 2);
        io.KeyShift = false;
    };
    type('D', true);
    EXPECT_TRUE(state_.view.distances.empty());
    EXPECT_EQ(state_.sights.distance.typed, "");
    type('d', false);
    EXPECT_EQ(state_.sights.distance.typed, "d");
}

TEST_F(AtWork, ThePictureIsOfferedTheFolderUsedLast) {
    const std::string folder = std::filesystem::temp_directory_path().string();
    state_.picture_folder = folder;
    ask_for_picture(state_);
    EXPECT_EQ(std::filesystem::path(state_.dialogs.path).parent_path(), std::filesystem::path(folder));
    state_.picture_folder = folder + "/is not there";
    ask_for_picture(state_);
    EXPECT_NE(std::filesystem::path(state_.dialogs.path).parent_path(), std::filesystem::path(state_.picture_folder));
}

TEST_F(AtWork, ABallIsAskedForAmongThePatchesWhereNoLabelLies) {
    for (const double text : {1.0, 1.5}) {
        look({1280, 800}, text);
        state_.selection.pick = BallPick{"lower link 1, ends 1", "lower link 1's lower end", {}};
        frames(state_, 2);
        EXPECT_THAT(written("picture"), HasSubstr("Clicktheballforlowerlink1'slowerend.Escleaves."));
        EXPECT_THAT(swashwright::testing::words_on_words(seen_text(swashwright::testing::Letters())), IsEmpty());
        state_.selection.pick.reset();
        frames(state_, 2);
        EXPECT_THAT(written("picture"), Not(HasSubstr("Clicktheball")));
    }
}

/// A word for the head without its errors must not cost the picture a row.
TEST_F(AtWork, ToolsKeepToOneRowInACommonWindow) {
    look({1280, 800}, 1);
    EXPECT_EQ(box("new").y, box("about").y);
    EXPECT_LT(box("about").z, 1280);
}

TEST_F(AtWork, AnUnsavedChangeMovesNoButton) {
    const ImVec4 before = box("save as");
    scene::Scene scene = state_.bench.document().scene();
    scene.head.upper_links[1].error_mm = 0.1;
    ASSERT_TRUE(state_.bench.edit(scene, "a link"));
    frames(state_, 2);
    ASSERT_TRUE(state_.bench.document().unsaved());
    EXPECT_EQ(box("save as").x, before.x);
}

}  // namespace
}  // namespace swashwright::panels
