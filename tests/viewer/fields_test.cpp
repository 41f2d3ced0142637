// Fields that are typed in, driven by keys and clicks as ImGui gets them; and what must be on the screen in the next
// frame. Nothing is drawn.
#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <thread>

#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/shortcuts.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;

const std::string length_1 = "Upper links, link 1, length_mm", error_1 = "Upper links, link 1, error_mm",
                  length_2 = "Upper links, link 2, length_mm";

/// A demo head that may be written over.
std::string own_copy() {
    const std::string path = ::testing::TempDir() + fmt::format("swashwright_fields_{}.toml", ::getpid());
    std::filesystem::copy_file(testing::two_blade_file, path, std::filesystem::copy_options::overwrite_existing);
    return path;
}

class Fields : public HeldHead {
protected:
    Fields() : HeldHead(state_of(own_copy()), {1280, 1600}) { frame(), frame(); }  // the lowest card is in sight

    void type(const std::string& text) {
        ImGui::GetIO().AddInputCharactersUTF8(text.c_str());
        frame();
    }
    void press(ImGuiKey key, bool shift = false) {
        ImGuiIO& io = ImGui::GetIO();
        io.KeyShift = shift;
        for (const bool down : {true, false}) {
            io.KeysDown[io.KeyMap[key]] = down;
            frame();
        }
        io.KeyShift = false;
        frame();
    }
    /// Ctrl+Z as the window takes it: to the shortcuts, and to ImGui.
    void undo_key() {
        ImGuiIO& io = ImGui::GetIO();
        press_key(state_, GLFW_KEY_Z, GLFW_MOD_CONTROL, io.WantTextInput);
        io.KeyCtrl = true;
        press(ImGuiKey_Z);
        io.KeyCtrl = false;
    }
    const head::Link& link_1() const { return state_.bench.head().upper_links[0]; }
    bool says_so() const { return state_.screen.report.widgets().contains("not taken"); }
};

TEST_F(Fields, EscapeGivesBackTheOldNumber) {
    click(length_1);
    type("62");
    press(ImGuiKey_Escape);
    EXPECT_EQ(link_1().length_mm, 61);
    EXPECT_FALSE(state_.bench.document().unsaved());
    click(length_1);
    press(ImGuiKey_UpArrow);
    EXPECT_NEAR(link_1().length_mm, 61.01, 1e-9);  // changes while the arrow is pressed
    press(ImGuiKey_Escape);
    EXPECT_EQ(link_1().length_mm, 61);
}

TEST_F(Fields, WhatWasTypedCountsWhereverTheKeyboardGoes) {
    click(length_2);
    click(error_1);
    type("0.3");
    click(length_1);  // drawn before the field that is left
    EXPECT_EQ(link_1().error_mm, 0.3);
    type("61.5");
    press(ImGuiKey_Tab);
    EXPECT_EQ(link_1().length_mm, 61.5);
    type("0.4");
    press(ImGuiKey_Tab, /*shift=*/true);
    EXPECT_EQ(link_1().error_mm, 0.4);
}

TEST_F(Fields, CtrlZTakesBackTypingAndThenTheLastEdit) {
    click(length_1);
    type("62");
    press(ImGuiKey_Tab);  // the keyboard is in the next field
    ASSERT_EQ(link_1().length_mm, 62);
    type("7");
    undo_key();
    EXPECT_EQ(link_1().length_mm, 62);
    for (int steps = 0; steps < 2; ++steps) undo_key();  // the selection that was typed over is a step of its own
    EXPECT_EQ(link_1().length_mm, 61);
    press(ImGuiKey_Enter);
    EXPECT_EQ(link_1().length_mm, 61);
    EXPECT_EQ(link_1().error_mm, 0);
}

TEST_F(Fields, AFieldInWhichNothingIsTypedFollowsWhatIsTakenBack) {
    click(length_1);
    press(ImGuiKey_UpArrow);
    ASSERT_NEAR(link_1().length_mm, 61.01, 1e-9);
    undo_key();
    EXPECT_EQ(link_1().length_mm, 61);
    press(ImGuiKey_Enter);  // it must not write back what it showed
    EXPECT_EQ(link_1().length_mm, 61);
}

TEST_F(Fields, WhatIsNoNumberIsToldUntilThatIsOver) {
    click(length_1);
    type("abc");
    press(ImGuiKey_Enter);
    EXPECT_EQ(link_1().length_mm, 61);
    EXPECT_TRUE(says_so());
    EXPECT_THAT(state_.screen.typing.not_taken.words, HasSubstr("\"abc\" is not a number. 61.00 stays."));
    click(length_1);
    EXPECT_FALSE(says_so());
    press(ImGuiKey_Escape);
    EXPECT_FALSE(says_so());
    type("");
    click(length_1);
    type("1e");
    press(ImGuiKey_Enter);
    EXPECT_TRUE(says_so());
    click(error_1);
    type("0.1");
    press(ImGuiKey_Enter);  // another number is taken
    EXPECT_FALSE(says_so());
}

TEST_F(Fields, ARefusalGoesOnceTheFieldHoldsWhatMayStand) {
    click(length_1);
    type("-3");
    press(ImGuiKey_Enter);
    EXPECT_EQ(state_.screen.entry.refused, length_1);
    EXPECT_TRUE(state_.screen.report.widgets().contains("refused"));
    click(length_1);
    type("61");  // what stands
    press(ImGuiKey_Enter);
    EXPECT_FALSE(state_.screen.report.widgets().contains("refused"));
}

TEST_F(Fields, TheNameOfAFileKeepsTheKeyboardAndWhatIsSaidOfItGoesWithIt) {
    const std::string folder = ::testing::TempDir() + fmt::format("swashwright_fields_{}/", ::getpid());
    std::filesystem::create_directories(folder);
    std::ofstream(folder + "taken.toml") << "mine";
    ask(state_, Dialog::save);
    frame();
    frame();
    type(folder + "taken.toml");  // the keyboard is there, and all is selected
    press(ImGuiKey_Enter);
    ASSERT_THAT(state_.dialogs.error, HasSubstr("There is a file of this name"));
    type("x");
    EXPECT_EQ(state_.dialogs.path, folder + "taken.tomlx");
    EXPECT_TRUE(state_.dialogs.error.empty());
    press(ImGuiKey_Backspace);
    press(ImGuiKey_Enter);  // said again: nothing is replaced unasked
    EXPECT_THAT(state_.dialogs.error, HasSubstr("There is a file of this name"));
    EXPECT_EQ(std::filesystem::file_size(folder + "taken.toml"), 4U);
    std::filesystem::remove_all(folder);
}

TEST_F(Fields, AGaugeRowCountsOnceItsReadingIsTyped) {
    state_.sheet = Sheet::questions;
    Question& diagnose = state_.questions.back();
    ASSERT_EQ(diagnose.key, "diagnose");
    diagnose.open = true;
    const auto answer = [&] {
        do frame();
        while (answering(state_.questions));
        frame();
        return diagnose.inquiry.outcome() && !*diagnose.inquiry.outcome() ? diagnose.inquiry.outcome()->error()
                                                                          : std::string();
    };
    answer();
    diagnose.show = 0;
    for (int rows = 0; rows < 2; ++rows) click("Add pitch reading");
    EXPECT_EQ(state_.gauge.readings.pitch.size(), 2U);
    EXPECT_EQ(state_.gauge.readings.size(), 0U);
    EXPECT_THAT(answer(), HasSubstr("Type in what the pitch gauge reads"));
    click("pitch reading 2 reads");
    type("0");
    press(ImGuiKey_Enter);
    EXPECT_EQ(state_.gauge.readings.size(), 1U);
    EXPECT_EQ(studies::Readings(state_.gauge.readings).pitch[0].blade, 1);
    EXPECT_EQ(answer(), "");
    click("pitch reading 2 reads");
    press(ImGuiKey_Backspace);  // all of it is selected
    press(ImGuiKey_Enter);
    EXPECT_EQ(state_.gauge.readings.size(), 0U);
}

TEST_F(Fields, TheCardOfReadingsSaysWhatTheGaugeWasZeroedOnAndKeepsThemAsBefore) {
    state_.sheet = Sheet::questions;
    state_.questions.back().open = true;
    frame();
    frame();
    state_.questions.back().show = 0;
    const studies::Gauge& gauge = state_.gauge.readings.gauge;
    for (int time = 0; time < 2; ++time) {
        click("gauge zeroed on level");
        EXPECT_EQ(gauge.zeroed_on, studies::ZeroedOn::level);
        frame();
        click("The shaft is upright within");
        type("2");
        press(ImGuiKey_Enter);
        EXPECT_EQ(gauge.lean_within_deg, 2);
        click("gauge zeroed on blade");
        EXPECT_EQ(gauge.zeroed_on, studies::ZeroedOn::blade);
        click("gauge zeroed on blade");
        EXPECT_FALSE(gauge.zeroed_on);
        click("gauge zero checked");
        EXPECT_EQ(gauge.zero_within_deg, 0);
        click("gauge zero checked");
        EXPECT_EQ(gauge.zero_within_deg, studies::Gauge{}.zero_within_deg);
    }
    click("Keep as before");  // there is none yet
    EXPECT_FALSE(state_.gauge.readings.before);
    click("Add pitch reading");
    click("pitch reading 1 reads");
    type("1.5");
    press(ImGuiKey_Enter);
    do frame();
    while (answering(state_.questions));
    for (int i = 0; i < 2 * frames_to_show; ++i) frame();  // the card comes into sight
    const auto revision = state_.gauge.revision;
    click("Keep as before");
    EXPECT_GT(state_.gauge.revision, revision);
    ASSERT_TRUE(state_.gauge.readings.before);
    EXPECT_EQ(state_.gauge.readings.size(), 0U);
    do frame();
    while (answering(state_.questions));
    for (int i = 0; i < 2 * frames_to_show; ++i) frame();
    click("Bring before back");
    EXPECT_EQ(state_.gauge.readings.size(), 1U);
    EXPECT_FALSE(state_.gauge.readings.before);
}

// Readings of the head as it is, one of them with the other sign; a row that is not typed yet stands before them.
TEST_F(Fields, AReadingThatTheAnswerAsksForAgainIsMarked) {
    const auto head = head::Head::build(state_.bench.head());
    auto& rows = state_.gauge.readings.pitch;
    rows.emplace_back(studies::PitchReading{}, /*typed=*/false);
    for (const int blade : {0, 1})
        for (const double collective : {-1.0, -0.5, 0.5, 1.0}) {
            studies::PitchReading reading{blade, {.collective = collective}, 90.0 * blade};
            reading.reading_deg =
                head->pose(reading.sticks, reading.azimuth_deg)->pitch_deg[static_cast<std::size_t>(blade)];
            rows.emplace_back(reading);
        }
    rows[4].reading_deg *= -1;
    ++state_.gauge.revision;
    state_.sheet = Sheet::questions;
    Question& diagnose = state_.questions.back();
    diagnose.open = true;
    const auto marked = [&] {
        do frame();
        while (answering(state_.questions));
        diagnose.show = frames_to_show;
        for (int i = 0; i < 2 * frames_to_show; ++i) frame();
        std::vector<std::string> out;
        for (const auto& [name, place] : state_.screen.report.widgets())
            if (name.ends_with(" again")) out.push_back(name);
        return out;
    };
    for (int time = 0; time < 2; ++time) {
        EXPECT_THAT(marked(), ::testing::ElementsAre("pitch reading 5 again"));
        ASSERT_TRUE(diagnose.inquiry.outcome() && *diagnose.inquiry.outcome());
        EXPECT_EQ((*diagnose.inquiry.outcome())->take_again, std::vector<std::size_t>{3});
        EXPECT_THAT((*diagnose.inquiry.outcome())->answer.text, HasSubstr("as if its sign were typed wrong"));
        rows[4].reading_deg *= -1;  // taken again
        ++state_.gauge.revision;
        EXPECT_THAT(marked(), ::testing::IsEmpty());
        rows[4].reading_deg *= -1;
        ++state_.gauge.revision;
    }
}

TEST_F(Fields, WhatIsPressedOnACardIsWhatTheStudyIsAsked) {
    state_.sheet = Sheet::questions;
    const auto open = [&](const std::string& key) -> Question& {
        for (Question& question : state_.questions) question.open = question.key == key;
        for (int frames = 0; frames < 3; ++frames) frame();
        return *std::ranges::find(state_.questions, key, &Question::key);
    };
    using Texts = std::vector<std::string>;
    Question& lengths = open("lengths");
    click("lengths, Horns square");
    EXPECT_EQ(lengths.values.texts("wish"), (Texts{"level", "zero", "square"}));
    EXPECT_EQ(lengths.values.texts("free"), (Texts{"links", "neutrals"}));
    click("lengths, Horns square");
    click("lengths, Level ring");
    EXPECT_EQ(lengths.values.texts("wish"), Texts{"zero"});
    EXPECT_EQ(lengths.values.texts("free"), Texts{"links"});
    Question& folded = open("folded");
    click("folded, I saw a difference");  // its number stands there once it is given
    click("folded, Tip of blade 1 above the other");
    type("3.5");
    press(ImGuiKey_Enter);
    EXPECT_EQ(folded.values.number_if_given("seen"), 3.5);
    click("folded, I saw a difference");
    EXPECT_EQ(folded.values.number_if_given("seen"), std::nullopt);
    click("folded, I saw a difference");
    EXPECT_EQ(folded.values.number_if_given("seen"), 3.5);
    click("folded, Tip of blade 1 above the other");
    type("-2000");
    press(ImGuiKey_Enter);
    EXPECT_EQ(folded.values.number_if_given("seen"), -1000);
    Question& ring = open("ring");
    click("ring, Top of each inner ball, 1 first, mm");
    type("27.4 26.9, -");
    press(ImGuiKey_Enter);
    EXPECT_EQ(ring.values.texts("seen"), (Texts{"27.4", "26.9", "-"}));
    state_.screen.settings.inches = true;  // asked in mm all the same
    ring.values.set("seen", Texts{});
    frame(), frame();
    click("ring, Top of each inner ball, 1 first, mm");
    type("1.0787 1 -");
    press(ImGuiKey_Enter);
    EXPECT_EQ(ring.values.texts("seen"), (Texts{"27.3990", "25.4000", "-"}));
    state_.screen.settings.inches = false;
    frame(), frame();
    Question& reach = open("reach");
    click("reach, Look for parts that touch");
    EXPECT_FALSE(reach.values.flag("clearance"));
    for (Question& question : state_.questions) question.open = false;
    while (answering(state_.questions)) frame();
}

// What the window does: it draws while something moves or settles, and while it waits for an answer, and then rests.
TEST_F(Fields, AnAnswerThatIsReadyIsOnTheScreenInTheNextFrame) {
    state_.sheet = Sheet::questions;
    Question& tolerance = *std::ranges::find(state_.questions, "tolerance", &Question::key);
    tolerance.open = true;
    for (int tries = 0; tries < 6; ++tries) {
        state_.bench.controls.sticks.collective = 0.02 * tries;
        frame();
        ASSERT_TRUE(answering(state_.questions));
        while (answering(state_.questions)) {
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
            state_.screen.settle = false;
            frame();
        }
        EXPECT_TRUE(state_.screen.settle);  // a table's columns take another frame
        EXPECT_FALSE(state_.screen.report.widgets().contains("tolerance stop")) << "it still says \"Working it out\"";
        ASSERT_TRUE(state_.screen.report.widgets().contains("answer tolerance"));
    }
}

}  // namespace
}  // namespace swashwright::panels
