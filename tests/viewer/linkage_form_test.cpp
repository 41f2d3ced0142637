// A linkage put together by the forms alone, as keys and clicks have it, without a screen: a bellcrank between a servo
// and the ring, a ball picked in the picture, what is refused, and all of it taken back.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>
#include <unistd.h>

#include <filesystem>

#include "kinematics/head/inventory.h"
#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {
namespace {

using draw::Part;
using head::Role;
using ::testing::HasSubstr;

class LinkageForm : public HeldHead {
protected:
    LinkageForm() : HeldHead(state_of(testing::two_blade_file), {1280, 4000}) {  // all of the column is in sight
        for (Section& section : state_.ledger.sections) section.open = section.adds;
        frame(), frame();
    }

    void click(const std::string& widget) {
        HeldHead::click(widget);
        frame();
    }
    void enter(const std::string& widget, const std::string& text) {
        click(widget);
        ImGuiIO& io = ImGui::GetIO();
        io.KeyCtrl = true;
        io.KeysDown[io.KeyMap[ImGuiKey_A]] = true;
        frame();
        io.KeyCtrl = false;
        io.KeysDown[io.KeyMap[ImGuiKey_A]] = false;
        frame();
        io.AddInputCharactersUTF8(text.c_str());
        frame();
        for (const bool down : {true, false}) {
            io.KeysDown[io.KeyMap[ImGuiKey_Enter]] = down;
            frame();
        }
        frame();
    }
    void unfold(const std::string& title, const Part& part) {
        for (Section& section : state_.ledger.sections) section.open = section.more_open = section.title == title;
        for (Section& section : state_.ledger.sections) section.open = section.open || section.adds;
        state_.selection.selected = part;
        frame(), frame();
    }
    const head::Description& head() const { return state_.bench.head(); }
    const Readout& live() const { return state_.bench.live(); }
    head::BallName end_of(int lower_link, std::size_t end) const {
        return (*head::ends_of(head(), {Role::lower_link, lower_link}))[end];
    }
    bool shows(const char* widget) const { return state_.screen.report.widgets().contains(widget); }
};

/// Where the demo's first servo stands, moved out, and a bellcrank in its place: rods stay as long as they come out.
TEST_F(LinkageForm, PutsABellcrankBetweenAServoAndTheRing) {
    const std::string before = scene::write(state_.bench.document().scene());
    const double pitch = live().shown->pose.pitch_deg[0];
    click("add a lever");
    ASSERT_EQ(head().levers.size(), 1U);
    EXPECT_TRUE(live().hangs);
    EXPECT_FALSE(live().closes);
    EXPECT_TRUE(shows("hangs"));  // it is said on the screen
    EXPECT_THAT(live().sentence.text, HasSubstr("ever 1"));
    ASSERT_TRUE(live().shown);
    EXPECT_EQ(live().shown->description.levers.size(), 1U);  // and drawn where it stands
    EXPECT_EQ(state_.selection.selected, (Part{Role::lever, 0}));

    enter("lever 1, name", "bellcrank");
    EXPECT_EQ(head().levers[0].name, "bellcrank");
    // It turns about the line on which the horn turned, so that the link to the ring stands as before.
    const head::Servo servo = head().servos[0];
    const Vec3 pivot = head::pivot_point(servo.pivot_mm);
    const auto number = [](double value) { return fmt::format("{:.9f}", value); };
    for (int i = 0; i < 3; ++i) {
        const char* axes[3] = {"x", "y", "z"};
        enter(fmt::format("Levers, bellcrank, pivot, pivot_mm {}", axes[i]), number(pivot[i]));
        EXPECT_NEAR(head().levers[0].pivot_mm[i], pivot[i], 1e-8);
    }
    for (int i = 0; i < 3; ++i) enter(fmt::format("lever 1, axis {}", i + 1), number(servo.axis[i]));
    for (int i = 0; i < 3; ++i) enter(fmt::format("lever 1, zero {}", i + 1), number(servo.horn_zero[i]));
    enter("Levers, bellcrank, ball 1, balls_mm x", number(servo.horn_mm));
    enter("Levers, bellcrank, ball 2, balls_mm x", "0");
    enter("Levers, bellcrank, ball 2, balls_mm y", number(servo.horn_mm));
    // The servo moves away sideways, its horn as it was: the rod between two equal arms is as long as that.
    unfold("Servo pivots", {Role::servo, 0});
    EXPECT_TRUE(live().hangs);

    unfold("Lower links", {Role::lower_link, 0});
    enter("lower link 1, ends 1", "lever[1].ball[1]");
    EXPECT_EQ(end_of(0, 0), (head::BallName{head::BallName::Of::lever, 0, 0}));
    click("add a link");
    ASSERT_EQ(head().links.size(), 1U);
    enter("link 1, ends 1", "servo[1].ball");
    enter("link 1, ends 2", "lever[1].ball[2]");
    click("link 1, as it stands");
    EXPECT_FALSE(live().hangs) << live().sentence.text;
    EXPECT_TRUE(live().closes) << live().sentence.text;
    EXPECT_FALSE(shows("hangs"));
    EXPECT_NEAR(live().shown->pose.pitch_deg[0], pitch, 0.2);  // the rod's length has two decimals
    EXPECT_EQ(head::format_of(head()), 2);
    EXPECT_TRUE(scene::parse(scene::write(state_.bench.document().scene()), "built"));

    // Nothing of it goes while something needs it.
    unfold("Levers", {Role::lever, 0});
    click("lever 1, take away");
    EXPECT_EQ(head().levers.size(), 1U);
    EXPECT_THAT(state_.screen.entry.why, HasSubstr("Bellcrank is still needed: lower link 1 goes to"));
    EXPECT_TRUE(shows("refused"));

    while (state_.bench.document().can_undo()) {
        undo(state_);
        frame();
    }
    EXPECT_EQ(scene::write(state_.bench.document().scene()), before);
    EXPECT_TRUE(live().closes);
    while (state_.bench.document().can_redo()) {
        redo(state_);
        frame();
    }
    EXPECT_TRUE(live().closes);
    EXPECT_EQ(head().levers.size(), 1U);
}

TEST_F(LinkageForm, TakesTheEndOfALinkFromAListOrFromThePicture) {
    unfold("Lower links", {Role::lower_link, 2});
    click("lower link 3, ends 2, list");
    click("lower link 3, ends 2, inner_ball[1]");
    EXPECT_EQ(end_of(2, 1), (head::BallName{head::BallName::Of::inner_ball, 0}));
    undo(state_);
    frame();
    click("lower link 3, ends 1, pick");
    ASSERT_TRUE(state_.selection.pick);
    EXPECT_EQ(state_.selection.pick->words, "lower link 3's lower end");
    frame();
    EXPECT_TRUE(shows("ball inner_ball[2]"));
    EXPECT_TRUE(shows("ball servo[1].ball"));
    state_.selection.pick->ball = {head::BallName::Of::servo, 0};  // as the stage finds it under a click
    frame(), frame();
    EXPECT_FALSE(state_.selection.pick);
    EXPECT_EQ(end_of(2, 0), (head::BallName{head::BallName::Of::servo, 0}));
    click("lower link 3, ends 1, pick");
    ImGuiIO& io = ImGui::GetIO();
    io.KeysDown[io.KeyMap[ImGuiKey_Escape]] = true;
    frame();
    io.KeysDown[io.KeyMap[ImGuiKey_Escape]] = false;
    frame();
    EXPECT_FALSE(state_.selection.pick);
    enter("lower link 3, ends 1", "servo[9].ball");
    EXPECT_THAT(state_.screen.entry.why, HasSubstr("there is no ball \"servo[9].ball\""));
}

TEST_F(LinkageForm, WhatIsHalfPutTogetherCanBeSavedAndGoneOnWith) {
    click("add a lever");
    const std::string path = ::testing::TempDir() + fmt::format("swashwright_half_{}.toml", ::getpid());
    ASSERT_TRUE(state_.bench.save(path));
    show_document(state_, opened(path));
    frame(), frame();
    EXPECT_TRUE(live().hangs);
    EXPECT_THAT(live().sentence.text, HasSubstr("ever 1"));
    EXPECT_FALSE(state_.bench.document().unsaved());
    unfold("Levers", {Role::lever, 0});
    click("lever 1, take away");
    EXPECT_TRUE(live().closes);
    EXPECT_EQ(head::format_of(head()), 1);
    std::filesystem::remove(path);
}

TEST_F(LinkageForm, SlidersFixedBallsAndPinsComeAndGo) {
    const std::string before = scene::write(state_.bench.document().scene());
    click("add a slider");
    EXPECT_EQ(head().sliders.size(), 1U);
    click("slider 1, add a ball");
    EXPECT_EQ(head().sliders[0].balls_mm.size(), 2U);
    click("slider 1, take ball 1 away");
    EXPECT_EQ(head().sliders[0].balls_mm.size(), 1U);
    click("add a fixed ball");
    click("add a pin");
    ASSERT_EQ(head().fixed_balls.size(), 1U);
    ASSERT_EQ(head().pins.size(), 1U);
    EXPECT_TRUE(live().shown->pose.skeleton.fixed_balls.size() == 1);
    enter("pin 1, ends 1", "slider[1].ball[1]");
    enter("pin 1, ends 2", "fixed_ball[1]");
    enter("fixed ball 1, on", "hub");
    EXPECT_EQ(head().fixed_balls[0].on.on, head::Carrier::On::hub);
    enter("fixed ball 1, blade", "2");
    EXPECT_EQ(head().fixed_balls[0].blade, 1);
    click("fixed ball 1, take away");
    EXPECT_EQ(head().fixed_balls.size(), 1U);  // the pin goes to it
    click("pin 1, take away");
    click("fixed ball 1, take away");
    EXPECT_TRUE(head().fixed_balls.empty());
    unfold("Sliders", {Role::slider, 0});
    click("slider 1, take away");
    EXPECT_EQ(scene::write(state_.bench.document().scene()), before);
    EXPECT_TRUE(live().closes);
}

}  // namespace
}  // namespace swashwright::panels
