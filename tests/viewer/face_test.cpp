// What the face of the window says: buttons say what they do, choices look like choices, names stand in one line, and
// the words of a drawing are as large as the text.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "kinematics/head/numbers.h"
#include "kinematics/studies/diagnosis/hidden_fault.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "tests/viewer/seen_lines.h"
#include "viewer/panels/window/files.h"

namespace swashwright::panels {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

class Face : public ::testing::Test, protected HeldPanels {
protected:
    Face() : HeldPanels({1280, 2400}) {}

    void take(const std::string& path, double text_scale = 1) {
        state_.emplace(state_of(path));
        state_->screen.settings.text_scale = text_scale;
        apply_style(false, state_->screen.scale());
        fonts_ = load_fonts(*ImGui::GetIO().Fonts, state_->screen.scale());
        ImGui::GetIO().Fonts->Build();
        letters_.emplace();
        draw();
    }
    void draw() { frames(*state_, 3); }
    std::vector<std::string> words() const {
        std::vector<std::string> out;
        for (const auto& line : lines()) out.push_back(line.words);
        return out;
    }
    std::vector<swashwright::testing::Line> lines() const {
        return swashwright::testing::seen_lines(swashwright::testing::seen_text(*letters_));
    }
    /// Those within a widget.
    std::vector<swashwright::testing::Line> lines_in(const std::string& widget) const {
        std::vector<swashwright::testing::Line> out;
        const ImVec4 box = state_->screen.report.widgets().at(widget);
        for (const auto& line : lines())
            if (line.low.x >= box.x && line.high.x <= box.z && line.low.y >= box.y && line.high.y <= box.w)
                out.push_back(line);
        return out;
    }
    bool shows(const std::string& widget) const { return state_->screen.report.widgets().contains(widget); }
    void click(const std::string& widget) {
        ASSERT_TRUE(shows(widget)) << widget;
        const ImVec4 box = state_->screen.report.widgets().at(widget);
        ImGui::GetIO().MousePos = {(box.x + box.z) / 2, (box.y + box.w) / 2};
        frames(*state_, 1);
        for (const bool down : {true, false}) {
            ImGui::GetIO().MouseDown[0] = down;
            frames(*state_, 1);
        }
        draw();
    }
    Question& open_question(const std::string& key) {
        state_->sheet = Sheet::questions;
        Question& question = *std::ranges::find(state_->questions, key, &Question::key);
        question.open = true;
        do {
            frames(*state_, 1);
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        } while (answering(state_->questions));
        draw();
        return question;
    }

    std::optional<State> state_;
    std::optional<swashwright::testing::Letters> letters_;
};

TEST_F(Face, AListUnfoldsAllFieldsAndFoldsThemAgain) {
    take(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    for (Section& section : state_->ledger.sections) section.open = section.title == "Servos";
    state_->selection.selected = draw::Part{head::Role::servo, 0};
    for (int twice = 0; twice < 2; ++twice) {
        draw();
        EXPECT_THAT(words(), Contains("All fields"));
        click("more Servos");
        EXPECT_THAT(words(), Contains(StartsWith("Fewer")));
        EXPECT_THAT(words(), Not(Contains("All fields")));
        click("more Servos");
    }
}

// The word for that takes no line of its own from the links, which are in sight when the window opens.
TEST_F(Face, UnfoldingTakesNoLineFromTheLinks) {
    for (const double text_scale : {1.0, 1.5}) {
        take(SWASHWRIGHT_SCENES "/two_blade_600.toml", text_scale);
        const auto& boxes = state_->screen.report.widgets();
        const float line = ImGui::GetTextLineHeight() + 2 * ImGui::GetStyle().CellPadding.y + 1;
        EXPECT_LE(boxes.at("Upper links, link 1, length_mm").y - boxes.at("more Upper links").y, line);
    }
}

TEST_F(Face, ALessonsButtonsSayByHowMuchTheyChangeANumber) {
    take(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    state_->sheet = Sheet::lessons;
    draw();
    Lessons& lessons = state_->lessons;
    for (std::size_t i = 0; i < lessons.files.size(); ++i)
        if (lessons.files[i].path.find("03_pitch_arm") != std::string::npos)
            open_lesson(state_->bench, state_->view, state_->selection, lessons, i);
    ASSERT_TRUE(lessons.on_bench);
    const std::string path = "mixing.collective_deg";
    for (int steps = 0; steps < 20 && !shows(path + " more"); ++steps) {
        next_step(state_->screen, state_->bench, state_->view, state_->selection, lessons);
        draw();
    }
    EXPECT_THAT(words(), Contains("+0.5\xC2\xB0"));
    EXPECT_THAT(words(), Contains("\xE2\x88\x92"
                                  "0.5\xC2\xB0"));
    const auto now = [&] {
        const auto numbers = head::numbers(state_->bench.head());
        return head::value(state_->bench.head(), *head::find_number(numbers, path));
    };
    const double before = now();
    click(path + " more"), click(path + " more");
    EXPECT_NEAR(now(), before + 1, 1e-9);
    click(path + " less");
    EXPECT_NEAR(now(), before + 0.5, 1e-9);
}

// A lever's name on a line of its own, its points below it: no name in three lines.
TEST_F(Face, LongNamesOfLeversLeaveTheirRowsAsLowAsFields) {
    for (const double text_scale : {1.0, 1.5}) {
        SCOPED_TRACE(text_scale);
        take(SWASHWRIGHT_SCENES "/stabiliser_bar_600.toml", text_scale);
        for (Section& section : state_->ledger.sections) section.open = section.title == "Levers";
        draw();
        const auto seen = words();
        EXPECT_EQ(std::ranges::count(seen, "wash-out arm 1"), 1);
        for (const char* head : {"x mm", "y mm", "z mm"}) EXPECT_EQ(std::ranges::count(seen, head), 1) << head;
        const auto top = [&](const char* row) {
            return state_->screen.report.widgets().at(fmt::format("Levers, wash-out arm 1, {}", row)).y;
        };
        const float low = 1.3F * ImGui::GetFrameHeight();
        EXPECT_LT(top("ball 1, balls_mm x") - top("pivot, pivot_mm x"), low);
        EXPECT_LT(top("ball 2, balls_mm x") - top("ball 1, balls_mm x"), low);
    }
}

TEST_F(Face, ChoicesOfYesOrNoAreTickedAndSayNoMore) {
    take(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    Question& power = open_question("power");
    for (const std::string& line : words()) {
        EXPECT_THAT(line, Not(HasSubstr(": no")));
        EXPECT_THAT(line, Not(HasSubstr(": yes")));
    }
    const std::string box = "power, Another mass";
    const auto given = [&] { return power.values.number_if_given("mass").has_value(); };
    for (const bool after : {true, false, true, false}) {
        click(box);
        EXPECT_EQ(given(), after);
    }
}

TEST_F(Face, WhatMustBeDoneFirstIsNoButton) {
    take(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    state_->sheet = Sheet::lessons;
    start_practice(state_->screen, state_->bench, state_->view, state_->selection, state_->lessons,
                   users_document(state_->bench, state_->lessons), {"Your head", 8});
    draw();
    Practice& practice = state_->lessons.practice;
    ASSERT_TRUE(practice.on());
    const std::string part = studies::parts_to_name(state_->bench.head()).front().key;
    for (int twice = 0; twice < 2; ++twice) {
        EXPECT_FALSE(shows("practice name"));
        EXPECT_THAT(words(), Contains("Choose a part first."));
        click("name " + part);
        EXPECT_TRUE(shows("practice name"));
        click("name " + part);  // once more: none is chosen
    }
}

TEST_F(Face, WordsOfADrawingAreAsLargeAsTheTextBesideThem) {
    ImGui::GetIO().DisplaySize = {1280, 800};
    for (const double text_scale : {1.0, 1.5}) {
        take(SWASHWRIGHT_SCENES "/two_blade_600.toml", text_scale);
        state_->sheet = Sheet::measure;
        const ImFontGlyph* letter = ImGui::GetIO().Fonts->Fonts[0]->FindGlyph('n');
        const float least = letter->Y1 - letter->Y0 - 0.6F;
        int seen = 0;
        for (int page = 1; page <= reading_pages(); ++page) {
            state_->measure.page = page;
            draw();
            for (const auto& line : lines_in("measure sketch"))
                if (line.words.find_first_of("abcdefghijklmnopqrstuvwxyz?") != std::string::npos) {
                    EXPECT_GE(line.high.y - line.low.y, least) << line.words << " on page " << page;
                    ++seen;
                }
        }
        EXPECT_GT(seen, 30);
    }
}

// Of balls in front of the shaft, with the nose at the top of the sheet: the calliper lies above them.
TEST_F(Face, APairInFrontIsDrawnWithTheNoseUp) {
    take(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    state_->sheet = Sheet::measure;
    const double azimuths[3] = {60, 300, 180};  // ahead on the left, ahead on the right, at the tail
    for (std::size_t j = 0; j < 3; ++j) state_->measure.file.measured.layout.servos[j].ball_azimuth_deg = azimuths[j];
    int found = 0;
    for (int page = 1; page <= reading_pages() && found == 0; ++page) {
        state_->measure.page = page;
        draw();
        if (!state_->measure.at || state_->measure.at->taking != studies::Taking::inner_span) continue;
        float label = 0, third = 0;
        for (const auto& line : lines_in("measure sketch")) {
            if (line.words == "?") label = line.low.y;
            if (line.words == "3") third = line.low.y;
        }
        EXPECT_GT(label, 0);
        EXPECT_LT(label, third);
        ++found;
    }
    EXPECT_EQ(found, 1);
}

// A length too short for its number has it beside the dimension's line, not below: there it would be another's.
TEST_F(Face, AShortDimensionHasItsNumberBesideTheLine) {
    ImGui::GetIO().DisplaySize = {1280, 800};
    for (const double text_scale : {1.0, 1.5}) {
        take(SWASHWRIGHT_SCENES "/two_blade_600.toml", text_scale);
        state_->sheet = Sheet::measure;
        int found = 0;
        for (int page = 1; page <= reading_pages(); ++page) {
            state_->measure.page = page;
            draw();
            if (!state_->measure.at || state_->measure.at->taking != studies::Taking::inner_ball) continue;
            const auto drawn = lines_in("measure sketch");
            const auto centre = [&](const char* words) {
                const auto line = std::ranges::find(drawn, words, &swashwright::testing::Line::words);
                return line == drawn.end() ? 0 : (line->low.y + line->high.y) / 2;
            };
            EXPECT_GT(centre("?"), centre("outer"));
            EXPECT_LT(centre("?"), centre("inner"));  // which stands below the ring, and the line beside it
            ++found;
        }
        EXPECT_EQ(found, 1);
    }
}

}  // namespace
}  // namespace swashwright::panels
