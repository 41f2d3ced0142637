// The keyboard's frame goes to everything that the mouse can press or type in, on every page; nothing is drawn.
#include "viewer/panels/base/keyboard.h"

#include <GLFW/glfw3.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui_internal.h>

#include <set>

#include "tests/viewer/held_panels.h"
#include "tests/viewer/walk.h"
#include "viewer/panels/window/shortcuts.h"

namespace swashwright::panels {
namespace {

using ::testing::IsEmpty;

class KeyboardFrame : public ::testing::Test, protected HeldPanels {
protected:
    bool press(State& state, int key, int mods = 0) const {
        const bool taken = press_frame_key(state, key, mods, ImGui::GetIO().WantTextInput);
        if (!taken) press_key(state, key, mods, ImGui::GetIO().WantTextInput);
        frames(state, 2);
        return taken;
    }
    static const std::string& framed(const State& state) { return state.screen.report.framed(); }
    /// An arrow on the line of a length changes the head: answers lose tables until they are whole again.
    void wait_for_answers(State& state) const {
        while (answering(state.questions)) frames(state, 1);
    }
    /// Tab until it comes round; what it met, and of lists each row.
    std::set<std::string> met(State& state) const {
        std::set<std::string> out;
        press(state, GLFW_KEY_F8);
        constexpr int most = 400;
        const ImGuiID first = state.screen.keyboard.marked();
        for (int i = 0; i < most; ++i) {
            out.insert(framed(state));
            const ImGuiID here = state.screen.keyboard.marked();
            for (std::string before; before != framed(state);) {  // down through a list
                before = framed(state);
                press_frame_key(state, GLFW_KEY_DOWN, 0, false);
                frames(state, 2);
                wait_for_answers(state);
                out.insert(framed(state));
            }
            for (int back = 0; back < most && state.screen.keyboard.marked() != here; ++back) {
                press_frame_key(state, GLFW_KEY_UP, 0, false);
                frames(state, 1);
            }
            press(state, GLFW_KEY_TAB);
            if (state.screen.keyboard.marked() == first) return out;
        }
        ADD_FAILURE() << "Tab does not come round";
        return out;
    }
};

/// What is only looked at, or named for its place.
bool passive(const std::string& name) {
    for (const char* whole : {"sentence", "picture", "turn card", "compare answer", "lesson text", "lesson source",
                              "answer said", "measure sketch", "map cell", "not taken"})
        if (name == whole) return true;
    for (const char* end : {" plot", " made", " again", " progress"})
        if (name.ends_with(end)) return true;
    // Handles are the mouse's: keys have the sticks, and levers moved by hand have their row in the tray.
    for (const char* begin : {"headline ", "handle "})
        if (name.starts_with(begin)) return true;
    return name.starts_with("answer ") && !(name.back() >= '0' && name.back() <= '9');
}

/// A row of a table that is about no part does nothing when it is pressed.
bool is_told_only(const State& state, const std::string& name) {
    const std::size_t at = name.rfind(" row ");
    if (at == std::string::npos) return false;
    const std::size_t row = std::stoul(name.substr(at + 5)) - 1;
    for (const Question& question : state.questions)
        if (const auto& outcome = question.inquiry.outcome(); outcome && *outcome)
            for (const studies::Table& table : (*outcome)->answer.tables)
                if (name.substr(0, at) == question.key + " " + table.key)
                    return row >= table.parts.size() || !draw::part_of(table.parts[row]);
    return false;
}

TEST_F(KeyboardFrame, GoesToEverythingThatCanBePressed) {
    State state = testing::state_to_walk("two_blade_600.toml");
    frames(state, 2);
    testing::answer_all(state, [&] { frames(state, 1); });
    std::map<std::string, std::string> missed;  // and on which page
    int pages = 0;
    const auto visit = [&](const std::string& page) {
        if (page.empty() || page.starts_with("lesson ")) return frames(state, 2);
        ++pages;
        frames(state, 3);
        wait_for_answers(state);  // else Stop goes while the frame stands on it
        const std::set<std::string> names = met(state);
        for (const auto& [name, box] : state.screen.report.widgets())
            if (!passive(name) && !names.contains(name) && !is_told_only(state, name)) missed.emplace(name, page);
        press(state, GLFW_KEY_ESCAPE);
    };
    visit("parts");
    testing::visit_forms(state, visit);
    testing::visit_questions(state, visit);
    testing::visit_measure(state, visit);
    testing::visit_places(state, visit);
    testing::visit_compare(state, visit);
    state.sheet = Sheet::lessons;
    visit("list of lessons");
    EXPECT_GT(pages, 40);
    // What is grey just now cannot be pressed.
    for (const char* grey : {"redo", "view_link", "measure back", "measure end", "measure next", "compare kept",
                             "crash anew", "places set", "Keep as before", "places save", "take a blade away"})
        missed.erase(grey);
    std::vector<std::string> words;
    for (const auto& [name, page] : missed) words.push_back(name + " on " + page);
    EXPECT_THAT(words, IsEmpty());
}

TEST(Shortcuts, NoKeyStandsTwice) {  // the first would be the only one to act
    std::set<std::pair<int, int>> keys;
    for (const Shortcut& shortcut : shortcuts())
        EXPECT_TRUE(keys.emplace(shortcut.key, shortcut.mods).second) << shortcut.words << ", key " << shortcut.key;
}

TEST_F(KeyboardFrame, IsNotThereUntilAKeyAsksAndGoesWithThePress) {
    State state = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    frames(state, 2);
    EXPECT_EQ(state.screen.keyboard.marked(), 0U);
    press(state, GLFW_KEY_F8);
    EXPECT_NE(state.screen.keyboard.marked(), 0U);
    press(state, GLFW_KEY_ESCAPE);
    EXPECT_EQ(state.screen.keyboard.marked(), 0U);
    press(state, GLFW_KEY_F8);
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = {300, 400};
    for (const bool down : {true, false}) {
        io.MouseDown[0] = down;
        frames(state, 1);
    }
    EXPECT_EQ(state.screen.keyboard.marked(), 0U);
}

TEST_F(KeyboardFrame, EnterPressesAndTypesAndArrowsGoOnMovingTheSticks) {
    State state = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    frames(state, 2);
    for (int time = 0; time < 2; ++time) {
        press(state, GLFW_KEY_F8);
        while (framed(state) != "questions") press(state, GLFW_KEY_TAB);
        press(state, GLFW_KEY_ENTER);
        EXPECT_EQ(state.sheet, Sheet::questions);
        while (framed(state) != "text") press(state, GLFW_KEY_TAB, GLFW_MOD_SHIFT);
        const double before = state.bench.controls.sticks.elevator;
        press(state, GLFW_KEY_UP);
        EXPECT_NEAR(state.bench.controls.sticks.elevator, before + 0.02, 1e-9);
        while (framed(state) != "parts") press(state, GLFW_KEY_TAB);
        press(state, GLFW_KEY_ENTER);
        EXPECT_EQ(state.sheet, Sheet::parts);
        while (framed(state) != "Upper links, link 2, error_mm") press(state, GLFW_KEY_TAB);
        press(state, GLFW_KEY_ENTER);
        EXPECT_TRUE(ImGui::GetIO().WantTextInput);
        EXPECT_TRUE(state.selection.selected.has_value());
        ImGui::ClearActiveID();
        frames(state, 2);
        press(state, GLFW_KEY_ESCAPE);
    }
}

// A button that does its work and goes leaves the frame where it stood, not at the top of the column.
TEST_F(KeyboardFrame, GoesOnBesideAButtonThatIsGone) {
    State state = testing::state_to_walk("two_blade_600.toml");
    frames(state, 2);
    const std::string field = "Upper links, link 2, error_mm";
    const auto give = [&](double error_mm) {
        scene::Scene next = state.bench.document().scene();
        next.head.upper_links[1].error_mm = error_mm;
        ASSERT_TRUE(try_edit(state.screen, state.bench, std::move(next), field));
        frames(state, 2);
    };
    for (const int mods : {0, GLFW_MOD_SHIFT}) {
        give(0.3);
        press(state, GLFW_KEY_F8);
        while (framed(state) != field + ", zero") press(state, GLFW_KEY_TAB);
        press(state, GLFW_KEY_ENTER);
        ASSERT_EQ(state.bench.head().upper_links[1].error_mm, 0);
        press(state, GLFW_KEY_ENTER);  // it is grey now
        EXPECT_EQ(state.bench.head().upper_links[1].error_mm, 0);
        press(state, GLFW_KEY_TAB, mods);
        EXPECT_EQ(framed(state), field + ", more");
        press(state, GLFW_KEY_ESCAPE);
    }
}

TEST_F(KeyboardFrame, GoesOnBesideTheLastRowOfAListThatIsGone) {
    State state = testing::state_to_walk("two_blade_600.toml");
    state.sheet = Sheet::questions;
    Question& diagnose = *std::ranges::find(state.questions, "diagnose", &Question::key);
    diagnose.open = true;
    diagnose.show = 0;
    frames(state, 3);
    press(state, GLFW_KEY_F8);
    for (std::size_t rows = state.gauge.readings.pitch.size(); rows > 2; --rows) {
        while (framed(state) != fmt::format("pitch reading {} remove", rows)) press(state, GLFW_KEY_TAB);
        press(state, GLFW_KEY_ENTER);
        ASSERT_EQ(state.gauge.readings.pitch.size(), rows - 1);
        press(state, GLFW_KEY_TAB);
        EXPECT_EQ(framed(state), fmt::format("pitch reading {} remove", rows - 1));
    }
    diagnose.open = false;
    while (answering(state.questions)) frames(state, 1);
}

// One goes through the questions, and through the sheets' names, by Tab or by the arrows; sticks stay meanwhile.
TEST_F(KeyboardFrame, ArrowsGoThroughTheQuestionsAndTheSheetsNames) {
    State state = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    state.sheet = Sheet::questions;
    frames(state, 2);
    press(state, GLFW_KEY_F8);
    while (framed(state) != "questions") press(state, GLFW_KEY_TAB);
    for (const auto& [key, name] : {std::pair{GLFW_KEY_RIGHT, "lessons"},
                                    {GLFW_KEY_DOWN, "measure"},
                                    {GLFW_KEY_LEFT, "lessons"},
                                    {GLFW_KEY_UP, "questions"},
                                    {GLFW_KEY_UP, "parts"},
                                    {GLFW_KEY_UP, "parts"}}) {
        press(state, key);
        EXPECT_EQ(framed(state), name);
    }
    const auto title = [&](std::size_t i) { return "question " + state.questions[i].key; };
    while (framed(state) != title(0)) press(state, GLFW_KEY_TAB);
    state.questions[0].open = true;  // what stands on it lies between two titles
    frames(state, 2);
    press(state, GLFW_KEY_UP);
    EXPECT_EQ(framed(state), title(0));
    for (std::size_t i = 1; i < 4; ++i) {
        press(state, GLFW_KEY_DOWN);
        EXPECT_EQ(framed(state), title(i));
    }
    press(state, GLFW_KEY_UP);
    EXPECT_EQ(framed(state), title(2));
    press(state, GLFW_KEY_TAB);
    EXPECT_EQ(framed(state), title(3));
    EXPECT_EQ(state.bench.controls.sticks, head::Sticks{});
    while (answering(state.questions)) frames(state, 1);
}

}  // namespace
}  // namespace swashwright::panels
