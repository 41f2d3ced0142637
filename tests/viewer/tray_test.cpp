// What there is to move on each kind of head, moved through the tray's own controls; nothing is drawn.
#include "viewer/panels/window/tray.h"

#include <GLFW/glfw3.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/shortcuts.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {
namespace {

using On = TrayFocus::On;

class Tray : public ::testing::Test, protected HeldPanels {
protected:
    void frames(State& state, int count = 2) const { HeldPanels::frames(state, count); }
    /// Presses there, and lets go.
    void press(State& state, const std::string& widget, float across, float down = 0.5F) const {
        ImGuiIO& io = ImGui::GetIO();
        const auto found = state.screen.report.widgets().find(widget);
        ASSERT_NE(found, state.screen.report.widgets().end()) << widget;
        const ImVec4 box = found->second;
        io.MousePos = {box.x + across * (box.z - box.x), box.y + down * (box.w - box.y)};
        frames(state, 1);
        for (const bool pressed : {true, false}) {
            io.MouseDown[0] = pressed;
            frames(state, 1);
        }
        io.MousePos = {-1, -1};
        io.MouseDoubleClicked[0] = false;
        frames(state, 1);
    }
};

std::string linkage(const char* name) {
    return std::string(SWASHWRIGHT_TEST_DATA "/linkages/") + name + "_01.toml";
}

/// The pitch of blade 1 as the library solves it.
double pitch_of(const State& state, const std::vector<double>& hands) {
    const auto head = head::Head::build(state.bench.head());
    return head->pose(state.bench.controls.sticks, state.bench.controls.azimuth_deg, hands)->pitch_deg[0];
}

TEST_F(Tray, ATailHasARudderInPlaceOfTheOtherSticks) {
    State state = state_of(linkage("tail"));
    frames(state);
    const auto& widgets = state.screen.report.widgets();
    EXPECT_FALSE(widgets.contains("pad"));
    EXPECT_FALSE(widgets.contains("collective"));
    const double centred = state.bench.live().shown->pose.pitch_deg[0];
    press(state, "rudder", 0.75F);
    EXPECT_NEAR(state.bench.controls.sticks.rudder, 0.5, 0.01);
    EXPECT_NEAR(state.bench.live().shown->pose.pitch_deg[0], pitch_of(state, {}), 1e-9);
    EXPECT_GT(std::abs(state.bench.live().shown->pose.pitch_deg[0] - centred), 1);
    press_key(state, GLFW_KEY_RIGHT, 0, false);
    EXPECT_NEAR(state.bench.controls.sticks.rudder, 0.52, 0.011);
    press_key(state, GLFW_KEY_HOME, 0, false);
    frames(state);
    EXPECT_EQ(state.bench.controls.sticks.rudder, 0);
    EXPECT_NEAR(state.bench.live().shown->pose.pitch_deg[0], centred, 1e-9);
}

TEST_F(Tray, EachPartThatIsMovedByHandHasASlider) {
    State state = state_of(linkage("rocking_spindle"));
    frames(state);
    const auto range = *state.bench.head().levers[0].by_hand_deg;
    const double neutral = state.bench.live().shown->pose.pitch_deg[0];
    const std::string sentence = state.bench.live().sentence.text;
    press(state, "hand lever 1", 0.9F);
    ASSERT_TRUE(state.bench.controls.hands.contains(0));
    const double angle = state.bench.controls.hands.at(0);
    EXPECT_GT(angle, 0.5 * range[1]);
    EXPECT_LE(angle, range[1]);
    EXPECT_NEAR(state.bench.live().shown->pose.lever_deg[0], angle, 1e-9);
    EXPECT_NEAR(state.bench.live().shown->pose.pitch_deg[0], pitch_of(state, {angle}), 1e-9);
    EXPECT_GT(std::abs(state.bench.live().shown->pose.pitch_deg[0] - neutral), 0.1);
    EXPECT_NE(state.bench.live().sentence.text, sentence);  // it speaks of what is seen
    EXPECT_FALSE(state.bench.document().unsaved());         // nothing of the head was changed

    state.focus = {On::hand, 0};
    press_key(state, GLFW_KEY_LEFT, 0, false);
    EXPECT_NEAR(state.bench.controls.hands.at(0), angle - 0.5, 1e-9);
    for (int i = 0; i < 500; ++i) press_key(state, GLFW_KEY_RIGHT, 0, false);
    EXPECT_EQ(state.bench.controls.hands.at(0), range[1]);  // no farther than a hand may
    frames(state);
    press(state, "hand lever 1 neutral", 0.5F);
    EXPECT_TRUE(state.bench.controls.hands.empty());
    EXPECT_NEAR(state.bench.live().shown->pose.pitch_deg[0], neutral, 1e-9);
}

TEST_F(Tray, TheKeyboardGoesThroughAllThatThereIsToMove) {
    const auto reached = [&](const std::string& path) {
        State state = state_of(path);
        frames(state);
        std::vector<On> out{state.focus.on};
        for (int i = 0; i < 10; ++i) {
            press_key(state, GLFW_KEY_F6, 0, false);
            if (state.focus.on == out.front()) break;
            out.push_back(state.focus.on);
        }
        return out;
    };
    using ::testing::ElementsAre;
    EXPECT_THAT(reached(SWASHWRIGHT_SCENES "/two_blade_600.toml"), ElementsAre(On::pad, On::collective, On::azimuth));
    EXPECT_THAT(reached(linkage("tail")), ElementsAre(On::rudder, On::azimuth));
    EXPECT_THAT(reached(linkage("rocking_spindle")), ElementsAre(On::pad, On::collective, On::azimuth, On::hand));
}

TEST_F(Tray, FoldsToALineInWhichTheNumbersStay) {
    State state = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    frames(state);
    for (int turn = 0; turn < 2; ++turn) {
        press_key(state, GLFW_KEY_F7, 0, false);
        frames(state);
        const auto& widgets = state.screen.report.widgets();
        EXPECT_FALSE(widgets.contains("pad"));
        for (const char* number : {"collective_number", "aileron_number", "elevator_number", "azimuth_number", "turn"})
            EXPECT_TRUE(widgets.contains(number)) << number;
        state.focus = {On::collective};
        press_key(state, GLFW_KEY_UP, 0, false);  // what the arrows move is the same
        EXPECT_NEAR(state.bench.controls.sticks.collective, 0.02 * (turn + 1), 1e-9);
        press(state, "fold tray", 0.5F);
        frames(state);
        EXPECT_TRUE(state.screen.report.widgets().contains("pad"));
        EXPECT_FALSE(state.screen.settings.tray_folded);
    }
    press_key(state, GLFW_KEY_F7, 0, true);  // a function key works while a number is typed
    EXPECT_TRUE(state.screen.settings.tray_folded);
}

TEST_F(Tray, FoldsByItselfWhereADrawingNeedsTheRoomAndComesBack) {
    State state = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    state.screen.settings.text_scale = 1.5;
    state.screen.scale_most = 1.5F;
    const auto folded = [&](Sheet sheet) {
        state.sheet = sheet;
        frames(state);
        return !state.screen.report.widgets().contains("pad");
    };
    EXPECT_FALSE(folded(Sheet::parts));
    EXPECT_TRUE(folded(Sheet::measure));
    press_key(state, GLFW_KEY_F7, 0, false);  // opened all the same, until the sheet goes
    EXPECT_FALSE(folded(Sheet::measure));
    EXPECT_FALSE(folded(Sheet::questions));
    EXPECT_TRUE(folded(Sheet::measure));
    EXPECT_FALSE(folded(Sheet::parts));
    EXPECT_FALSE(state.screen.settings.tray_folded);
    state.screen.settings.text_scale = 1;
    EXPECT_FALSE(folded(Sheet::measure));
}

TEST_F(Tray, TheColumnFoldsAwayAndComesBackWithTheNextSheetThatIsAskedFor) {
    State state = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    frames(state);
    for (int turn = 0; turn < 2; ++turn) {
        press_key(state, GLFW_KEY_F9, 0, false);
        frames(state);
        EXPECT_FALSE(state.screen.report.widgets().contains("questions"));
        press(state, "fold column", 0.5F);
        frames(state);
        EXPECT_TRUE(state.screen.report.widgets().contains("questions"));
    }
    for (const auto& [key, sheet] : {std::pair{GLFW_KEY_Q, Sheet::questions},
                                     {GLFW_KEY_Q, Sheet::questions},
                                     {GLFW_KEY_M, Sheet::measure},
                                     {GLFW_KEY_L, Sheet::parts}}) {
        state.folds.column = true;
        press_key(state, key, 0, false);
        EXPECT_FALSE(state.folds.column);
        EXPECT_EQ(state.sheet, sheet);
    }
}

TEST_F(Tray, AnotherHeadDoesNotKeepTheHandsOfTheLast) {
    State state = state_of(linkage("rocking_spindle"));
    frames(state);
    move_hand(state.bench, 0, 2);
    frames(state);
    show_document(state, opened(linkage("tail")));
    frames(state);
    EXPECT_TRUE(state.bench.controls.hands.empty());
    EXPECT_TRUE(state.bench.live().closes);
    move_hand(state.bench, 0, 2);  // nothing is moved by hand on it
    EXPECT_TRUE(state.bench.controls.hands.empty());
}

class TypedSticks : public HeldHead {
protected:
    TypedSticks() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml")) { frame(), frame(); }
    void type(const std::string& widget, const char* text) {
        click(widget);
        ImGui::GetIO().AddInputCharactersUTF8(text);
        frame();
        ImGuiIO& io = ImGui::GetIO();
        for (const bool down : {true, false}) io.KeysDown[io.KeyMap[ImGuiKey_Enter]] = down, frame();
        frame();
    }
};

TEST_F(TypedSticks, SayWhatBecomesOfWhatCannotBe) {
    head::Sticks& sticks = state_.bench.controls.sticks;
    type("elevator_number", "0.5");
    EXPECT_NEAR(sticks.elevator, 0.5, 1e-9);
    EXPECT_EQ(state_.screen.notice, "");
    type("aileron_number", "1");
    EXPECT_EQ(sticks.elevator, 0);
    EXPECT_EQ(state_.screen.notice, "The stick's circle leaves 0.00 for the elevator");
    type("aileron_number", "5");
    EXPECT_EQ(sticks.aileron, 1);
    EXPECT_EQ(state_.screen.notice, "Aileron held to 1.00");
    type("collective_number", "-5");
    EXPECT_EQ(sticks.collective, -1);
    EXPECT_THAT(state_.screen.notice, ::testing::StartsWith("Collective held to -1.00"));
}

}  // namespace
}  // namespace swashwright::panels
