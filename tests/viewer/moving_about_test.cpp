// What is shown of a head, from where, and distances on it: without a screen.
#include <GLFW/glfw3.h>
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/change_count.h"
#include "kinematics/head/references.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/ledger/part_form.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/picture/hiding.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/window/shortcuts.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;
using At = draw::Place::At;

const draw::Part link{head::Role::upper_link, 1};

class MovingAbout : public HeldHead {
protected:
    MovingAbout() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml")) {
        state_.screen.settings.camera_moves = false;
        frames(state_, 3);
    }
    void press(int key, int mods = 0) {
        press_key(state_, key, mods, false);
        frame();
        frame();
    }
    Layout draw_layout() {
        state_.screen.fonts = fonts_;
        ImGui::NewFrame();
        const Layout layout = draw_panels(state_, ImGui::GetIO().DisplaySize);
        ImGui::Render();
        return layout;
    }
    bool shows(const std::string& widget) const { return state_.screen.report.widgets().contains(widget); }
};

TEST_F(MovingAbout, HidesAPartShowsItAloneAndAllAgain) {
    press(GLFW_KEY_E);  // nothing is chosen
    EXPECT_TRUE(state_.view.hidden.empty());
    state_.selection.selected = link;
    for (int twice = 0; twice < 2; ++twice) {
        press(GLFW_KEY_E);
        EXPECT_EQ(state_.view.hidden, std::vector{link});
        EXPECT_EQ(hidden_words(state_.view), "1 part hidden");
        EXPECT_TRUE(shows("show all"));
        EXPECT_TRUE(shows("part show"));
        press(GLFW_KEY_E);
        EXPECT_TRUE(state_.view.hidden.empty());
        EXPECT_FALSE(shows("show all"));
    }
    press(GLFW_KEY_O);
    EXPECT_FALSE(is_hidden(state_.view, link));
    EXPECT_GT(state_.view.hidden.size(), 15);
    EXPECT_TRUE(std::ranges::is_sorted(state_.view.hidden));
    click("show all");
    EXPECT_TRUE(state_.view.hidden.empty());
    frames(state_, 2);  // the bar has become smaller
    click("part hide");
    EXPECT_EQ(state_.view.hidden.size(), 1);
    state_.selection.selected.reset();
    frame();
    EXPECT_TRUE(shows("show all"));  // it is told as long as it lasts
    press(GLFW_KEY_A);
    EXPECT_FALSE(shows("show all"));
}

TEST_F(MovingAbout, WhatIsGoneOrOfAnotherHeadIsNotHidden) {
    hide(state_.view, {head::Role::upper_link, 7});
    hide(state_.view, link);
    frame();
    EXPECT_EQ(state_.view.hidden, std::vector{link});
    show_document(state_, opened(SWASHWRIGHT_SCENES "/three_blade_700.toml"));
    EXPECT_TRUE(state_.view.hidden.empty());
}

// Parts are hidden and measured by number: what is gone leaves its number to the next.
TEST_F(MovingAbout, WhatIsTakenAwayHidesAndMeasuresNothingElse) {
    show_document(state_, opened(SWASHWRIGHT_SCENES "/three_blade_700.toml"));
    frames(state_, 2);
    const draw::Part blade{head::Role::blade, 0}, ring{head::Role::outer_ring, 0};
    const auto arm = [](int blade_index) {
        draw::Place out;
        out.ball = {head::BallName::Of::grip, blade_index, 0};
        return out;
    };
    const auto measure = [&] { state_.view.distances.assign(1, {arm(0), arm(1)}); };
    for (int again = 0; again < 2; ++again) {
        hide(state_.view, blade);
        hide(state_.view, ring);
        measure();
        frame();
        ASSERT_EQ(state_.view.distances.size(), 1U);
        ASSERT_TRUE(change_count(state_.screen, state_.bench, state_.view, "a blade less",
                                 head::with_blade_removed(state_.bench.head(), 0)));
        frame();
        EXPECT_EQ(state_.view.hidden, std::vector{ring});
        EXPECT_TRUE(state_.view.distances.empty());
        hide(state_.view, blade);
        measure();
        undo(state_);  // the one that was gone is blade 1 again
        frame();
        EXPECT_EQ(state_.view.hidden, std::vector{ring});
        EXPECT_TRUE(state_.view.distances.empty());
        // What is new stands last, so all others keep their numbers.
        hide(state_.view, blade);
        measure();
        ASSERT_TRUE(change_count(state_.screen, state_.bench, state_.view, "a blade more",
                                 head::with_blade_added(state_.bench.head())));
        frame();
        EXPECT_TRUE(is_hidden(state_.view, blade));
        EXPECT_EQ(state_.view.distances.size(), 1U);
        undo(state_);
        show_all(state_.view);
        frame();
    }
}

TEST_F(MovingAbout, ALessonHidesNothingAndTheHeadComesBackAsItWas) {
    hide(state_.view, link);
    state_.sheet = Sheet::lessons;
    frames(state_, 2);
    open_lesson(state_.bench, state_.view, state_.selection, state_.lessons, 0);
    frames(state_, 2);
    EXPECT_TRUE(state_.view.hidden.empty());
    close_lesson(state_.bench, state_.view, state_.selection, state_.lessons);
    frames(state_, 2);
    EXPECT_EQ(state_.view.hidden, std::vector{link});
}

TEST_F(MovingAbout, LooksFromEverySideAndOnceMoreFromTheOther) {
    const std::vector<std::tuple<int, double, double>> sides{
        {GLFW_KEY_1, 145, 20}, {GLFW_KEY_2, 0, 4},   {GLFW_KEY_3, 90, 4}, {GLFW_KEY_4, 180, 89},
        {GLFW_KEY_6, 180, 4},  {GLFW_KEY_7, -90, 4}, {GLFW_KEY_8, 0, -89}};
    for (const auto& [key, azimuth, height] : sides) {
        press(key);
        EXPECT_NEAR(std::remainder(state_.view.camera.azimuth_deg - azimuth, 360), 0, 1e-9);
        EXPECT_NEAR(state_.view.camera.height_deg, height, 1e-9);
    }
    for (const auto& [word, azimuth, height] :
         {std::tuple("view_nose", 180.0, 4.0), {"view_left", -90.0, 4.0}, {"view_top", 0.0, -89.0}}) {
        click(word);
        click(word);
        EXPECT_NEAR(std::remainder(state_.view.camera.azimuth_deg - azimuth, 360), 0, 1e-9) << word;
        EXPECT_NEAR(state_.view.camera.height_deg, height, 1e-9) << word;
        click(word);  // and back
        EXPECT_GT(std::abs(std::remainder(state_.view.camera.azimuth_deg - azimuth, 360)), 90) << word;
    }
}

// Seen from below with the nose up, the machine's left is on the right: as it is for who lies under it.
TEST_F(MovingAbout, FromBelowTheNoseIsUp) {
    press(GLFW_KEY_8);
    const draw::Viewport area{0, 0, 800, 600};
    const draw::Camera& camera = state_.view.camera;
    const Vec3 middle(0, 0, 60);
    EXPECT_LT(camera.project(middle + Vec3(20, 0, 0), area).y, camera.project(middle, area).y - 5);
    EXPECT_GT(camera.project(middle + Vec3(0, 20, 0), area).x, camera.project(middle, area).x + 5);
}

TEST_F(MovingAbout, TheChosenPartFillsThePictureAndIsTurnedAbout) {
    const double far = state_.view.camera.distance_mm;
    press(GLFW_KEY_Z);  // nothing is chosen
    EXPECT_EQ(state_.view.camera.distance_mm, far);
    state_.selection.selected = link;
    press(GLFW_KEY_Z);
    EXPECT_LT(state_.view.camera.distance_mm, 0.8 * far);
    const auto& skeleton = state_.bench.live().shown->pose.skeleton;
    const Vec3 middle = (skeleton.outer_balls[1] + skeleton.grip_balls[1]) / 2;
    EXPECT_LT((state_.view.camera.target - middle).norm(), 12);
    press(GLFW_KEY_F);
    EXPECT_NEAR(state_.view.camera.distance_mm, far, 0.1 * far);
    click("part zoom");
    EXPECT_LT(state_.view.camera.distance_mm, 0.8 * far);
}

TEST_F(MovingAbout, TheWheelComesCloserToThePointer) {
    const Layout layout = draw_layout();
    ImGuiIO& io = ImGui::GetIO();
    const ImVec2 at{std::floor(layout.picture.x + 0.2F * layout.picture.width),
                    std::floor(layout.picture.y + 0.3F * layout.picture.height)};  // as ImGui has it
    const draw::Viewport area{static_cast<int>(layout.picture.x), static_cast<int>(layout.picture.y),
                              static_cast<int>(layout.picture.width), static_cast<int>(layout.picture.height)};
    io.MousePos = at;
    frame();
    const draw::Camera before = state_.view.camera;
    const Vec3 under = before.point_under(static_cast<double>(at.x), static_cast<double>(at.y), area, before.target);
    io.MouseWheel = 3;
    frame();
    io.MouseWheel = 0;
    EXPECT_NEAR(state_.view.camera.distance_mm, before.distance_mm / std::pow(1.1, 3), 1e-3);
    EXPECT_NEAR(state_.view.camera.project(under, area).x, static_cast<double>(at.x), 0.01);
    EXPECT_NEAR(state_.view.camera.project(under, area).y, static_cast<double>(at.y), 0.01);
}

TEST_F(MovingAbout, DistancesFollowThePoseTheUnitAndTheirParts) {
    const auto ball = [](head::BallName::Of of) {
        draw::Place place;
        place.ball = {of, 0};
        return place;
    };
    const auto axis = [](At at, int index) {
        draw::Place place;
        place.at = at;
        place.index = index;
        return place;
    };
    const auto words = [&] {
        const auto marks = distance_marks(state_.screen, state_.bench, state_.view);
        return marks.empty() ? std::string() : marks.front().value + ", " + marks.front().how;
    };
    press(GLFW_KEY_D);
    EXPECT_TRUE(shows("distance place"));
    take_place(state_.view, state_.sights, ball(head::BallName::Of::inner_ball));
    take_place(state_.view, state_.sights, ball(head::BallName::Of::inner_ball));
    EXPECT_TRUE(state_.view.distances.empty());
    EXPECT_THAT(state_.sights.distance.said, HasSubstr("same place"));
    take_place(state_.view, state_.sights, ball(head::BallName::Of::grip));
    frame();
    const auto apart = [&] {
        const auto& s = state_.bench.live().shown->pose.skeleton;
        return fmt::format("1: {:.2f} mm, centre to centre", (s.inner_balls[0] - s.grip_balls[0]).norm());
    };
    const std::string first = words();
    EXPECT_EQ(first, apart());
    state_.bench.controls.sticks = {0.5, 0.3, 0};
    frames(state_, 2);
    EXPECT_EQ(words(), apart());
    EXPECT_NE(words(), first);
    state_.bench.controls.sticks = {};
    frames(state_, 2);
    EXPECT_EQ(words(), first);
    state_.screen.settings.inches = true;
    EXPECT_THAT(words(), HasSubstr(" in, centre to centre"));
    state_.screen.settings.inches = false;
    take_place(state_.view, state_.sights, axis(At::shaft_axis, 0));
    take_place(state_.view, state_.sights, axis(At::horn_axis, 1));
    frame();
    EXPECT_EQ(state_.view.distances.size(), 2);
    click("take distance 1 away");
    EXPECT_EQ(state_.view.distances.size(), 1);
    EXPECT_THAT(words(), HasSubstr("axis to axis"));
    press(GLFW_KEY_D, GLFW_MOD_SHIFT);
    EXPECT_TRUE(state_.view.distances.empty());
    press(GLFW_KEY_D);
    EXPECT_FALSE(shows("distance place"));
}

TEST_F(MovingAbout, PlacesOfHiddenPartsCannotBeClicked) {
    const Shown& shown = *state_.bench.live().shown;
    const draw::Viewport area{0, 0, 800, 600};
    draw::Style style{.touched = {}, .trouble = {}};
    const glm::dvec3 at = state_.view.camera.project(shown.pose.skeleton.guide_pin, area);
    const auto found = place_at(shown, state_.view.camera, style, area, at.x, at.y, 1, std::nullopt);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->at, At::guide_pin);
    style.hidden = {{head::Role::guide, 0}};
    const auto without = place_at(shown, state_.view.camera, style, area, at.x, at.y, 1, std::nullopt);
    EXPECT_TRUE(!without || without->at != At::guide_pin);
}

}  // namespace
}  // namespace swashwright::panels
