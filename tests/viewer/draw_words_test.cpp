// Words over the drawing leave free what they speak of, and a section leaves no crumbs. Nothing is painted.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/inventory.h"
#include "tests/viewer/draw_heads.h"
#include "viewer/draw/base/font.h"
#include "viewer/draw/lines/cut_away.h"
#include "viewer/draw/lines/plan_view.h"
#include "viewer/draw/overlay/angles.h"
#include "viewer/draw/overlay/forces.h"
#include "viewer/draw/picture/picture.h"
#include "viewer/draw/solids/anchors.h"

namespace swashwright::draw {
namespace {

class Words : public ::testing::Test {
protected:
    Words() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui::GetIO().DisplaySize = {1280, 800};
        add_font(*ImGui::GetIO().Fonts, 19 * scale_);
        ImGui::GetIO().Fonts->Build();
        ImGui::NewFrame();
    }
    ~Words() override {
        ImGui::Render();
        ImGui::DestroyContext();
    }
    Pen pen(const Camera& camera, const Viewport& viewport) const {
        return {*ImGui::GetBackgroundDrawList(), camera, viewport, sheet(false), scale_};
    }
    float scale_ = 1.5F;
};

TEST_F(Words, AreNotCrossedByLeaders) {
    const head::Description d = demo("two_blade_600");
    const Viewport viewport{0, 0, 690, 420};
    const Camera camera = camera_for(d, View::corner, false, 690.0 / 420);
    std::vector<NameBox> words{{{300, 190}, {400, 210}}, {{300, 300}, {400, 320}}};
    Pen with = pen(camera, viewport);
    with.words = &words;
    const auto ends = [&](ImVec2 from, ImVec2 to) {
        const int before = with.list.VtxBuffer.Size;
        with.leader(from, to, IM_COL32_BLACK, 1);
        std::vector<float> out;
        for (int i = before; i < with.list.VtxBuffer.Size; ++i) out.push_back(with.list.VtxBuffer[i].pos.x);
        std::ranges::sort(out);
        return out;
    };
    const auto crossing = ends({100, 200}, {600, 200}), clear = ends({100, 250}, {600, 250});
    EXPECT_EQ(crossing.size(), 2 * clear.size());  // two pieces
    for (const float x : crossing) EXPECT_TRUE(x < 300 || x > 400) << x;
    EXPECT_GT(crossing[crossing.size() / 2 - 1], 290);  // up to the words
    EXPECT_LT(crossing[crossing.size() / 2], 410);
    EXPECT_EQ(ends({320, 200}, {380, 205}).size(), 0U);
}

LoadMarks some_loads(const head::Description& d, const head::Pose& pose) {
    LoadMarks loads;
    for (const Part& link : head::links_of(d)) {
        const auto length = length_of(link, d, pose);
        loads.forces.push_back({length->a, length->b, 123.4, "123.4 N pull", head::link_words(d, link)});
    }
    for (std::size_t j = 0; j < d.servos.size(); ++j)
        loads.moments.push_back({pose.skeleton.horns[j].origin, "321 N mm", "servo " + d.servos[j].name});
    return loads;
}

/// In the narrowest picture that a common window gives, with large text.
TEST_F(Words, OfForcesNameTheirLinkAndCoverNoServo) {
    const head::Description d = demo("two_blade_600");
    const auto drawn = drawn_from(solids_of(d, false));
    for (const View view : {View::corner, View::front, View::side})
        for (const double collective : {0.0, 1.0, -1.0}) {
            const head::Pose pose = posed(d, {collective, 0, 0}, 0);
            const Viewport viewport{0, 0, 690, 420};
            const Camera camera = camera_for(d, view, false, 690.0 / 420);
            const Style style{.touched = {}, .trouble = {}};
            const auto solids = boxes_to_keep_free(drawn, Frames(d, pose, 1), camera, style, viewport);
            ASSERT_FALSE(solids.empty());
            std::vector<NameBox> taken;
            std::vector<Label> labels;
            draw_forces(pen(camera, viewport), some_loads(d, pose), solids, taken, labels);
            EXPECT_GE(labels.size(), 6U);  // of eight: what finds no room is left out
            for (const Label& label : labels) {
                EXPECT_THAT(label.text, ::testing::AnyOf(::testing::HasSubstr("link"), ::testing::HasSubstr("servo")));
                EXPECT_THAT(label.text, ::testing::HasSubstr("\n"));
                const ImVec2 size = pen(camera, viewport).size_of(label);
                const NameBox box{{label.low.x, label.low.y}, {label.low.x + size.x, label.low.y + size.y}};
                if (view == View::corner)
                    for (const SolidBox& solid : solids)
                        EXPECT_FALSE(overlap(box, {solid.low, solid.high})) << label.text;
                EXPECT_GE(box.low.x, 0);
                EXPECT_LE(box.high.x, 690);
                for (const Label& other : labels)
                    if (&other != &label) {
                        const ImVec2 its = pen(camera, viewport).size_of(other);
                        EXPECT_FALSE(
                            overlap(box, {{other.low.x, other.low.y}, {other.low.x + its.x, other.low.y + its.y}}));
                    }
            }
        }
}

TEST_F(Words, OfAnAngleStandOutsideItsArc) {
    const Viewport viewport{0, 0, 800, 600};
    Camera camera;
    camera.target = Vec3::Zero();
    camera.azimuth_deg = 0, camera.height_deg = 0, camera.distance_mm = 300;
    for (const double deg : {20.0, 79.6, 90.0, 130.0}) {
        std::vector<NameBox> taken;
        const Vec3 link(0, 0, 60), lever(0, 20 * std::sin(deg * degree), 20 * std::cos(deg * degree));
        draw_angle(pen(camera, viewport), {Vec3::Zero(), link, lever, false, "79.6\xC2\xB0"}, taken);
        ASSERT_EQ(taken.size(), 1U);
        const glm::dvec3 at = camera.project(Vec3::Zero(), viewport);
        EXPECT_FALSE(overlap(taken[0], {{at.x - 1, at.y - 1}, {at.x + 1, at.y + 1}})) << deg;
        const Vec3 middle(0, 15 * std::sin(deg / 2 * degree), 15 * std::cos(deg / 2 * degree));  // on the arc
        const glm::dvec3 arc = camera.project(middle, viewport);
        EXPECT_FALSE(overlap(taken[0], {{arc.x - 1, arc.y - 1}, {arc.x + 1, arc.y + 1}})) << deg;
    }
}

/// A link that a section has taken away has no dimension either; one that it leaves has.
TEST_F(Words, ADimensionGoesWithItsLink) {
    const head::Description d = demo("two_blade_600");
    const head::Pose pose = posed(d, {}, 0);
    const Camera camera = camera_for(d, View::corner, false, 1.5);
    const auto drawn = [&](const std::optional<Part>& touched, const std::optional<double>& section_deg) {
        ImDrawList& list = *ImGui::GetBackgroundDrawList();
        const int before = list.VtxBuffer.Size;
        Style style;
        style.touched = touched;
        style.section_deg = section_deg;
        OverlayWords words;
        words.pitch_labels = false;
        draw_overlay(list, d, pose, camera, style, {0, 0, 900, 600}, words, 1);
        return list.VtxBuffer.Size - before;
    };
    int gone = 0, here = 0;
    for (int k = 0; k < 2; ++k)
        for (const double section : {145.0, -35.0}) {
            const Part link{Role::upper_link, k};
            const auto length = length_of(link, d, pose);
            const bool there = plane_towards(section).height_of((length->a + length->b) / 2) <= 0.5;
            const int more = drawn(link, section) - drawn(std::nullopt, section);
            EXPECT_EQ(more > 20, there) << k << ' ' << section;
            ++(there ? here : gone);
        }
    EXPECT_GT(gone, 0);
    EXPECT_GT(here, 0);
}

/// ISO 128-44, from memory: what is long and solid is not cut lengthwise. A piece of a link would be a crumb.
TEST(CutAway, LeavesLinksHornsAndBladesWholeOrNotAtAll) {
    for (const std::string& name : demos())
        for (const double azimuth : {0.0, 33.0, 145.0, 271.0}) {
            const head::Description d = demo(name);
            const head::Pose pose = posed(d, {0.3, 0.2, 0}, 40);
            const Plane plane = plane_towards(azimuth);
            const Frames all(d, pose, 1), left = frames_short_of(plane, d, pose, 1);
            int here = 0, gone = 0;
            for (const Solid& solid : solids_of(d, false)) {
                if (all.find(solid.frame) == nullptr) continue;
                const bool there = left.find(solid.frame) != nullptr;
                if (!uncut(solid.part) || solid.part.role == Role::shaft) {
                    EXPECT_TRUE(there);
                    continue;
                }
                ++(there ? here : gone);
                // All solids of a part have the same fate, and what is left stands where it stood.
                if (there) EXPECT_EQ(left.find(solid.frame)->origin, all.find(solid.frame)->origin);
                const auto length = length_of(solid.part, d, pose);
                if (length) EXPECT_EQ(there, plane.height_of((length->a + length->b) / 2) <= 0.5);
            }
            EXPECT_GT(here, 0) << name << ' ' << azimuth;
            EXPECT_GT(gone, 0) << name << ' ' << azimuth;
        }
}

TEST(CutAway, ThrowsNoShadowOfWhatIsTakenAway) {
    const head::Description d = demo("two_blade_600");
    const head::Pose pose = posed(d, {}, 0);
    const auto casters = casters_of(drawn_from(solids_of(d, false)));
    const Plane plane = plane_towards(145);
    const auto beyond = [&](const std::vector<float>& triangles) {
        double most = -1e9;
        for (std::size_t i = 0; i + 2 < triangles.size(); i += 3)
            most = std::max(most, plane.height_of(Vec3(triangles[i], triangles[i + 1], triangles[i + 2])));
        return most;
    };
    EXPECT_GT(beyond(plan_view(casters, Frames(d, pose, 1))), 50);
    const double whole_parts = 45;  // of a blade whose middle lies on this side, its far edge
    EXPECT_LT(beyond(plan_view(casters, frames_short_of(plane, d, pose, 1), plane)), whole_parts);
}

}  // namespace
}  // namespace swashwright::draw
