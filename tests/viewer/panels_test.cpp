// The panels without a window: ImGui runs, nothing is drawn.
#include "viewer/panels/window/panels.h"

#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <string>

#include "tests/support/demo_head.h"
#include "tests/viewer/opened.h"
#include "viewer/draw/solids/solids.h"
#include "viewer/panels/window/shortcuts.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {
namespace {

const std::string three_blades = SWASHWRIGHT_SCENES "/three_blade_700.toml";

void edit(document::Document& document, const std::function<void(head::Description&)>& change) {
    scene::Scene next = document.scene();
    change(next.head);
    document.edit(std::move(next), "test");
    document.seal();
}

/// Past the bench's door: what its rules refuse can come from a file.
void edit(Bench& bench, const std::function<void(head::Description&)>& change) {
    document::Document next = bench.document();
    edit(next, change);
    bench.show(std::move(next));
}

bool inside(const ImVec4& box, const Rect& place) {
    return box.x >= place.x && box.y >= place.y && box.z <= place.right() && box.w <= place.bottom();
}

bool apart(const ImVec4& a, const ImVec4& b) {
    return a.z <= b.x || b.z <= a.x || a.w <= b.y || b.w <= a.y;
}

class Panels : public ::testing::Test {
protected:
    Panels() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
    }
    ~Panels() override { ImGui::DestroyContext(); }

    /// A few frames at a size, so that what wraps has settled.
    static Layout frames(State& state, ImVec2 size) {
        ImGuiIO& io = ImGui::GetIO();
        io.DisplaySize = size;
        apply_style(state.screen.settings.night, state.screen.scale());
        state.screen.fonts = load_fonts(*io.Fonts, state.screen.scale());
        unsigned char* pixels = nullptr;
        int width = 0, height = 0;
        io.Fonts->GetTexDataAsAlpha8(&pixels, &width, &height);
        Layout layout;
        for (int i = 0; i < 4; ++i) {
            ImGui::NewFrame();
            limit_text_scale(state.screen, size.x);
            layout = draw_panels(state, size);
            ImGui::Render();
        }
        return layout;
    }
};

struct Look {
    float width, height;
    double scale;
    const char* scene;
};

std::string name_of_look(const ::testing::TestParamInfo<Look>& info) {
    return fmt::format("{}x{}_at_{}_percent", info.param.width, info.param.height, 100 * info.param.scale);
}

class PanelsAtEveryLook : public Panels, public ::testing::WithParamInterface<Look> {};

INSTANTIATE_TEST_SUITE_P(Sizes, PanelsAtEveryLook,
                         ::testing::Values(Look{1280, 800, 1, "two_blade_600"}, Look{1280, 800, 1.5, "three_blade_700"},
                                           Look{1920, 1080, 1, "three_blade_700"},
                                           Look{1920, 1080, 1.5, "two_blade_600"},
                                           Look{960, 640, 1, "small_two_blade_250"}),
                         name_of_look);

TEST_P(PanelsAtEveryLook, NothingIsClippedOrOverlaps) {
    State state = state_of(std::string(SWASHWRIGHT_SCENES "/") + GetParam().scene + ".toml");
    state.screen.settings.text_scale = GetParam().scale;
    const Layout layout = frames(state, {GetParam().width, GetParam().height});
    const auto& widgets = state.screen.report.widgets();
    for (const char* name : {"pad", "elevator_number", "aileron_number", "centre", "collective", "collective_number",
                             "azimuth", "azimuth_number", "rpm_number", "turn"}) {
        ASSERT_TRUE(widgets.contains(name)) << name;
        EXPECT_TRUE(inside(widgets.at(name), layout.tray)) << name;
    }
    for (const char* name :
         {"open", "save", "undo", "redo", "exaggeration", "blades", "labels", "night", "text", "about"}) {
        ASSERT_TRUE(widgets.contains(name)) << name;
        EXPECT_TRUE(inside(widgets.at(name), layout.tools)) << name;
    }
    for (const char* name : {"fit", "view_corner", "view_nose", "view_left", "view_top", "view_link"}) {
        ASSERT_TRUE(widgets.contains(name)) << name;
        EXPECT_TRUE(inside(widgets.at(name), layout.caption)) << name;
    }
    // The tools keep to one line of a common window, and to two with large text.
    const auto lines = [&] { return std::round((layout.tools.height - 10) / (33 * state.screen.scale())); };
    EXPECT_LE(lines(), GetParam().width >= 1280 ? (GetParam().scale > 1 ? 2 : 1) : 2);
    for (const auto& [name, box] : widgets)
        for (const auto& [other, other_box] : widgets)
            if (name < other) {
                EXPECT_TRUE(apart(box, other_box)) << name << " and " << other;
            }
    EXPECT_GT(layout.picture.height, 200);
    EXPECT_GT(layout.picture.width, 400);
}

/// The farthest that anything of the head as it is drawn now reaches from the middle of the picture, as a share of half
/// its size: 1 is the edge.
double farthest_drawn(const State& state, const Rect& picture) {
    const auto& shown = state.bench.live().shown;
    const draw::Frames frames(shown->description, shown->pose, state.view.exaggeration);
    const draw::Viewport area{0, 0, static_cast<int>(picture.width), static_cast<int>(picture.height)};
    double most = 0;
    const auto see = [&](const Vec3& p) {
        const glm::dvec3 at = state.view.camera.project(p, area);
        if (!(at.z > 0 && at.z < 1)) most = 100;
        most = std::max({most, std::abs(at.x / area.width - 0.5) / 0.5, std::abs(at.y / area.height - 0.5) / 0.5});
    };
    for (const draw::Solid& solid : draw::solids_of(shown->description, state.view.whole_blades))
        for (const Vec3& p : solid.mesh.points) see(*frames.find(solid.frame) * p);
    if (state.sights.extras.traces())
        for (const draw::Trace& trace : state.sights.extras.traces()->tips) std::ranges::for_each(trace.points, see);
    return most;
}

TEST_F(Panels, FitFramesAllThatIsDrawn) {
    State state = state_of(three_blades);
    state.screen.settings.camera_moves = false;
    for (const auto& [size, scale] : {std::pair(ImVec2(1280, 800), 1.0), {{1280, 800}, 1.5}, {{960, 1200}, 1.0}})
        for (const Sheet sheet : {Sheet::parts, Sheet::questions})
            for (const bool whole : {false, true})
                for (const double azimuth : {-145.0, -90.0, 0.0, 37.0, 145.0}) {
                    SCOPED_TRACE(fmt::format("{} x {} at {}, sheet {}, whole {}, from {}", size.x, size.y, scale,
                                             static_cast<int>(sheet), whole, azimuth));
                    state.screen.settings.text_scale = scale;
                    state.sheet = sheet;
                    state.view.whole_blades = state.view.paths = whole;
                    state.view.camera.azimuth_deg = azimuth;
                    state.view.camera.distance_mm = 5000;
                    state.view.camera.target = {500, 0, 0};
                    state.view.fit = Fit::moving;
                    const Layout layout = frames(state, size);
                    const double most = farthest_drawn(state, layout.picture);
                    EXPECT_LT(most, 0.95);
                    EXPECT_GT(most, whole ? 0.85 : 0.6);  // the rest is protractor and centre lines
                }
}

TEST_F(Panels, FitFramesTheSweptDiscWhileTheRotorTurns) {
    State state = state_of(testing::two_blade_file);
    state.screen.settings.camera_moves = false;
    state.view.whole_blades = true;
    state.bench.controls.turning = true;
    state.bench.controls.azimuth_deg = 145;  // end on
    state.view.fit = Fit::moving;
    Layout layout = frames(state, {1280, 800});
    for (int azimuth = 0; azimuth < 360; azimuth += 15) {
        state.bench.controls.azimuth_deg = azimuth;
        layout = frames(state, {1280, 800});
        EXPECT_LT(farthest_drawn(state, layout.picture), 0.95) << azimuth;
    }
}

TEST_F(Panels, WhatWasFittedStaysFittedUntilTheCameraIsMoved) {
    State state = state_of(testing::two_blade_file);
    state.screen.settings.camera_moves = false;
    state.view.whole_blades = true;
    state.view.fit = Fit::moving;
    frames(state, {1280, 800});
    state.sheet = Sheet::questions;  // takes room from the picture
    EXPECT_LT(farthest_drawn(state, frames(state, {1280, 800}).picture), 0.95);
    state.view.camera.orbit(0, 30);
    const draw::Camera moved = state.view.camera;
    frames(state, {1000, 700});
    EXPECT_EQ(state.view.camera, moved);
}

TEST_F(Panels, EveryDialogOpensAndFits) {
    State state = state_of(testing::two_blade_file);
    for (const Dialog dialog : {Dialog::safety, Dialog::about, Dialog::open, Dialog::save, Dialog::unsaved}) {
        ask(state, dialog);
        frames(state, {1280, 800});
        EXPECT_EQ(state.dialogs.open, dialog);
        state.dialogs.open = Dialog::none;
        frames(state, {1280, 800});
    }
}

// On a slow machine the pointer's way to the picture and the press on it come in one frame: only what follows is a
// drag.
TEST_F(Panels, ThePointersWayToAPressTurnsNothing) {
    State state = state_of(testing::two_blade_file);
    const ImVec2 size{1280, 800};
    ImGui::GetIO().MousePos = {1100, 750};
    frames(state, size);
    const Vec3 eye = state.view.camera.eye();
    ImGui::GetIO().MousePos = {400, 300};
    ImGui::GetIO().MouseDown[ImGuiMouseButton_Left] = true;
    frames(state, size);
    EXPECT_EQ(state.view.camera.eye(), eye);
    ImGui::GetIO().MousePos = {450, 300};
    frames(state, size);
    EXPECT_NE(state.view.camera.eye(), eye);
}

// Names stand where the eye sees a part now, not where it saw it a frame ago.
TEST_F(Panels, WhatIsInSightIsNamedInTheFrameInWhichItIsFound) {
    State state = state_of(testing::two_blade_file);
    const ImVec2 size{1280, 800};
    ImGui::GetIO().MousePos = {400, 300};
    frames(state, size);
    state.view.names = true;
    ImGui::GetIO().MouseDown[ImGuiMouseButton_Left] = true;
    frames(state, size);
    const auto drawn = [&](bool seen) {
        draw::Camera camera;
        ImGui::GetIO().MousePos.x += 5;  // a drag
        ImGui::NewFrame();
        draw_panels(state, size, [&](const Layout&) {
            camera = state.view.camera;
            state.sights.in_sight.spots.clear();
            const draw::Frame hub{draw::Ride::hub, 0};
            if (seen) state.sights.in_sight.spots.push_back({{head::Role::hub, 0}, hub, {0, 0, 0}});
        });
        ImGui::Render();
        EXPECT_EQ(camera, state.view.camera) << "the words go by another camera than the picture";
        return ImGui::GetDrawData()->TotalVtxCount;
    };
    const int without = drawn(false);
    EXPECT_GT(drawn(true), without);
    EXPECT_EQ(drawn(false), without);
}

// Dragged beyond its corner the pad's stick goes to the edge of what the scene's transmitter lets through.
TEST_F(Panels, ThePadKeepsTheStickInItsCircleOrSquare) {
    for (const bool square : {false, true}) {
        State state = state_of(testing::two_blade_file);
        if (square) edit(state.bench, [](auto& d) { d.mixing.cyclic_stick = head::CyclicStick::square; });
        const ImVec2 size{1280, 800};
        ImGuiIO& io = ImGui::GetIO();
        io.MouseDown[ImGuiMouseButton_Left] = false;
        frames(state, size);
        const ImVec4 pad = state.screen.report.widgets().at("pad");
        io.MousePos = {(pad.x + pad.z) / 2, (pad.y + pad.w) / 2};
        frames(state, size);
        io.MouseDown[ImGuiMouseButton_Left] = true;
        frames(state, size);
        io.MousePos = {pad.z, pad.y};
        frames(state, size);
        const double edge = square ? 1 : std::sqrt(0.5);
        EXPECT_NEAR(state.bench.controls.sticks.aileron, edge, 0.01);  // a pixel of the pad
        EXPECT_NEAR(state.bench.controls.sticks.elevator, edge, 0.01);
        io.MouseDown[ImGuiMouseButton_Left] = false;
        frames(state, size);
        for (int i = 0; i < 60; ++i) press_key(state, GLFW_KEY_RIGHT, 0, false);
        EXPECT_LE(std::hypot(state.bench.controls.sticks.aileron, state.bench.controls.sticks.elevator),
                  square ? 1.415 : 1 + 1e-9);
        EXPECT_GT(state.bench.controls.sticks.aileron, 0.9);
    }
}

TEST_F(Panels, TheCollectiveTakesFromTheCyclicStickWhatTheScenesLimitSays) {
    State state = state_of(testing::two_blade_file);
    edit(state.bench, [](auto& d) { d.mixing.combined_limit = 1.7; });
    state.bench.controls.sticks = {0.7, 0.6, 0.8};
    for (int i = 0; i < 20; ++i) press_key(state, GLFW_KEY_PAGE_UP, 0, false);
    EXPECT_EQ(state.bench.controls.sticks.collective, 1);
    EXPECT_NEAR(state.bench.controls.sticks.aileron, 0.42, 1e-9);
    EXPECT_NEAR(state.bench.controls.sticks.elevator, 0.56, 1e-9);
}

TEST_F(Panels, DrawInAWindowThatIsTooSmall) {
    State state = state_of(three_blades);
    state.screen.settings.text_scale = 2;
    frames(state, {300, 120});
    EXPECT_EQ(state.screen.scale(), 1);  // as large as fits
}

TEST_F(Panels, DrawAHeadThatCannotBeBuilt) {
    State state = state_of(testing::two_blade_file);
    edit(state.bench, [](auto& d) { d.servos[0].horn_mm = std::numeric_limits<double>::quiet_NaN(); });
    frames(state, {1280, 800});
    EXPECT_EQ(state.bench.live().sentence.tone, studies::Tone::trouble);
    EXPECT_FALSE(state.bench.live().closes);
}

TEST(Layout, PutsTheTrayAcrossTheWindowWhereItNeedsTheRoom) {
    const Layout wide = lay_out(1920, 1080, 1, {}), narrow = lay_out(1280, 800, 1.5F, {.tools_height = 60});
    EXPECT_EQ(wide.tray.right(), wide.column.x);
    EXPECT_EQ(wide.column.bottom(), 1080);
    EXPECT_EQ(narrow.tray.width, 1280);
    EXPECT_EQ(narrow.column.bottom(), narrow.tray.y);
}

/// Every number that a head holds but the directions of servo axes can be reached in the table, and only once.
TEST(Ledger, HoldsEveryNumberOnce) {
    for (const std::string& path : {testing::two_blade_file, three_blades}) {
        document::Document document = opened(path);
        head::Description description = document.head();
        std::vector<const double*> seen;
        for (const Section& section : ledger_sections(description))
            for (const Row& row : section.rows) {
                EXPECT_EQ(row.cells.size(), section.heads.size()) << section.title;
                for (const Cell& cell : row.cells) {
                    const double* number = &cell.value(description);
                    EXPECT_THAT(seen, ::testing::Not(::testing::Contains(number))) << section.title << ' ' << row.name;
                    seen.push_back(number);
                    EXPECT_EQ(cell.read(document.head()), *number);
                }
            }
        const std::size_t servos = 3, blades = static_cast<std::size_t>(description.rotor.blades);
        const std::size_t of_a_servo =
            3 /* pivot */ + 3 /* horn, neutral, trim */ + 2 /* travel */ + 3 /* ball */ + 2 /* link */;
        const std::size_t of_a_blade = 3 /* ball */ + 2 /* link */ + 3 /* arm */ + 1 /* offset */;
        EXPECT_EQ(seen.size(), servos * of_a_servo + blades * of_a_blade +
                                   3 * description.swashplate.driver_pins.size() + 3 /* guide pin */ +
                                   6 /* mixing, turns, precone */ + 4 /* sizes */);
    }
}

TEST(Follower, KeepsTheLastPoseThatClosed) {
    document::Document document = opened(testing::two_blade_file);
    Controls controls{.sticks = {.collective = 0.4}, .hands = {}};
    Follower follower;
    EXPECT_TRUE(follower.update(document, controls));
    EXPECT_FALSE(follower.update(document, controls));  // nothing has changed
    const double pitch = follower.readout().shown->pose.pitch_deg[0];
    edit(document, [](auto& d) { d.upper_links[0].length_mm = 20; });
    EXPECT_TRUE(follower.update(document, controls));
    EXPECT_FALSE(follower.readout().closes);
    EXPECT_FALSE(follower.readout().shown_is_nearest);
    EXPECT_EQ(follower.readout().shown->pose.pitch_deg[0], pitch);
    EXPECT_EQ(follower.readout().shown->description.upper_links[0].length_mm, 61);  // pose and head belong together
    ASSERT_FALSE(follower.readout().shortfalls.empty());
    EXPECT_EQ(follower.readout().shortfalls[0].part->index, 0);
    document.undo();
    follower.update(document, controls);
    EXPECT_TRUE(follower.readout().closes);
    EXPECT_TRUE(follower.readout().shortfalls.empty());
}

TEST(Follower, OpensAHeadThatDoesNotCloseAtItsNearestFit) {
    document::Document document = opened(testing::two_blade_file);
    edit(document, [](auto& d) { d.upper_links[1].length_mm = 30; });
    Follower follower;
    follower.update(document, {});
    ASSERT_TRUE(follower.readout().shown);
    EXPECT_TRUE(follower.readout().shown_is_nearest);
    ASSERT_EQ(follower.readout().shortfalls.size(), 1U);
    EXPECT_EQ(follower.readout().shortfalls[0].part->index, 1);
}

TEST(Shortcuts, MoveTheControlThatHasTheFirmFrame) {
    State state = state_of(testing::two_blade_file);
    press_key(state, GLFW_KEY_UP, 0, false);
    press_key(state, GLFW_KEY_LEFT, 0, false);
    EXPECT_NEAR(state.bench.controls.sticks.elevator, 0.02, 1e-12);
    EXPECT_NEAR(state.bench.controls.sticks.aileron, -0.02, 1e-12);
    press_key(state, GLFW_KEY_F6, 0, false);
    press_key(state, GLFW_KEY_UP, GLFW_MOD_NUM_LOCK, false);
    EXPECT_NEAR(state.bench.controls.sticks.collective, 0.02, 1e-12);
    press_key(state, GLFW_KEY_COMMA, 0, false);
    EXPECT_NEAR(state.bench.controls.azimuth_deg, 359, 1e-9);
    press_key(state, GLFW_KEY_HOME, 0, false);
    EXPECT_EQ(state.bench.controls.sticks.collective, 0);
}

TEST(Shortcuts, LeavePlainKeysToWhoIsTyping) {
    State state = state_of(testing::two_blade_file);
    press_key(state, GLFW_KEY_SPACE, 0, true);
    EXPECT_FALSE(state.bench.controls.turning);
    press_key(state, GLFW_KEY_O, GLFW_MOD_CONTROL, true);
    EXPECT_EQ(state.dialogs.open, Dialog::open);
    press_key(state, GLFW_KEY_SPACE, 0, false);  // a dialog is open
    EXPECT_FALSE(state.bench.controls.turning);
}

TEST(TextScale, GoesRoundWithinWhatFits) {
    State state = state_of(testing::two_blade_file);
    limit_text_scale(state.screen, 1280);
    for (const double expected : {1.25, 1.5, 1.0}) {
        next_text_scale(state.screen);
        EXPECT_EQ(state.screen.settings.text_scale, expected);
    }
}

// A window of 1024 pixels has room for text 1.2 times as large as usual.
TEST(TextScale, TakesTheRoomThatThereIsAndSaysSo) {
    State state = state_of(testing::two_blade_file);
    Screen& screen = state.screen;
    limit_text_scale(screen, 1024);
    for (int round = 0; round < 2; ++round) {
        next_text_scale(screen);
        EXPECT_EQ(screen.settings.text_scale, 1.25);
        EXPECT_NEAR(screen.scale(), 1024.0 / 850, 1e-3);
        EXPECT_NE(screen.notice.find("1063 pixels wide"), std::string::npos) << screen.notice;
        next_text_scale(screen);
        EXPECT_EQ(screen.scale(), 1);
    }
    screen.settings.text_scale = 1.5;  // as a wider window had it
    next_text_scale(screen);
    EXPECT_EQ(screen.scale(), 1);
    next_text_scale(screen);
    EXPECT_GT(screen.scale(), 1.2F);
    limit_text_scale(screen, 800);  // has no room at all
    screen.settings.text_scale = 1;
    screen.notice.clear();
    next_text_scale(screen);
    EXPECT_EQ(screen.scale(), 1);
    EXPECT_NE(screen.notice.find("1063 pixels wide"), std::string::npos) << screen.notice;
}

TEST(TextScale, GrowsByEveryPlusThatKeyboardsHave) {
    State state = state_of(testing::two_blade_file);
    limit_text_scale(state.screen, 1920);
    double expected = 1;
    for (const auto& [key, mods] : {std::pair{GLFW_KEY_EQUAL, GLFW_MOD_CONTROL},
                                    {GLFW_KEY_EQUAL, GLFW_MOD_CONTROL | GLFW_MOD_SHIFT},
                                    {GLFW_KEY_KP_ADD, GLFW_MOD_CONTROL}}) {
        press_key(state, key, mods, false);
        EXPECT_EQ(state.screen.settings.text_scale, expected += 0.25);
    }
    press_key(state, GLFW_KEY_MINUS, GLFW_MOD_CONTROL, false);
    EXPECT_EQ(state.screen.settings.text_scale, 1.5);
}

TEST(Moving, TurnsTheRotorAndEndsCameraMoves) {
    State state = state_of(testing::two_blade_file);
    EXPECT_FALSE(moving(state));
    state.bench.controls.turning = true;
    state.bench.controls.turn_rpm = 10;
    advance(state, 0.5, 0.5);
    EXPECT_NEAR(state.bench.controls.azimuth_deg, 30, 1e-9);  // 10 rpm is 60 deg a second
    state.bench.controls.turning = false;
    draw::Camera there = state.view.camera;
    there.azimuth_deg += 350;  // the short way round
    move_camera(state.screen, state.view, there);
    advance(state, camera_seconds / 2, 1);
    EXPECT_NEAR(std::remainder(state.view.camera.azimuth_deg - (there.azimuth_deg - 355), 360), 0, 1e-9);
    advance(state, camera_seconds, 2);
    EXPECT_FALSE(moving(state));
    EXPECT_NEAR(std::remainder(state.view.camera.azimuth_deg - there.azimuth_deg, 360), 0, 1e-9);
}

}  // namespace
}  // namespace swashwright::panels
