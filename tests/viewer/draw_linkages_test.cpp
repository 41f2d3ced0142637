// Drawings of linkages of every kind: tests/data/linkages, and ones moved at random.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/solver.h"
#include "tests/support/random_linkage.h"
#include "tests/viewer/draw_heads.h"
#include "viewer/draw/base/traces.h"
#include "viewer/draw/gl/drawing.h"
#include "viewer/draw/gl/offscreen.h"
#include "viewer/draw/overlay/part_names.h"
#include "viewer/draw/picture/picture.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/ball_ends.h"

namespace swashwright::draw {
namespace {

const head::Description& linkage(const std::string& name) {
    static const std::vector<head::Description> all = testing::linkages();
    const auto found = std::ranges::find_if(all, [&](const auto& d) { return d.name.find(name) != std::string::npos; });
    if (found == all.end()) throw std::runtime_error("no linkage called " + name);
    return *found;
}

/// Everything that has a name and moves, or that a scene lists.
std::vector<Part> listed_parts(const head::Description& d) {
    std::vector<Part> out{
        {Role::inner_ring, 0}, {Role::outer_ring, 0}, {Role::hub, 0}, {Role::shaft, 0}, {Role::frame, 0}};
    const auto add = [&](Role kind, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) out.push_back({kind, static_cast<int>(i)});
    };
    for (const Role kind : {Role::servo, Role::horn}) add(kind, d.servos.size());
    for (const Role kind : {Role::grip, Role::blade}) add(kind, d.grips.size());
    add(Role::lower_link, d.lower_links.size());
    add(Role::upper_link, d.upper_links.size());
    add(Role::other_link, d.links.size());
    add(Role::lever, d.levers.size());
    add(Role::slider, d.sliders.size());
    add(Role::guide, d.swashplate.guided && d.swashplate.tilts ? 1 : 0);
    add(Role::driver, d.swashplate.driver_pins.empty() ? 0 : 1);
    return out;
}

TEST(DrawnLinkage, HasEveryPartThatTheSceneListsAndNoOther) {
    for (const head::Description& d : testing::linkages()) {
        std::set<Part> drawn;
        for (const Solid& solid : solids_of(d, false)) drawn.insert(solid.part);
        const std::vector<Part> listed = listed_parts(d);
        EXPECT_EQ(drawn, std::set<Part>(listed.begin(), listed.end())) << d.name;
    }
}

TEST(DrawnLinkage, IsClosedWholeAndInPlaceHoweverItsNumbersAre) {
    std::mt19937_64 bits(7);
    for (const head::Description& like : testing::linkages())
        for (int time = 0; time < 4; ++time) {
            const head::Description d = time == 0 ? like : testing::moved_a_little(like, bits);
            const head::Pose pose = posed(d, {0.3, -0.4, 0.2, 0.5}, 77);
            const Frames frames(d, pose, 1);
            for (const bool inside : {false, true})
                for (const Solid& solid : solids_of(d, true, inside)) {
                    EXPECT_GT(signed_volume(solid.mesh), 0) << d.name << name_of(solid.part);
                    std::map<std::pair<int, int>, int> uses;  // of every edge one in each sense: closed
                    for (const auto& face : solid.mesh.faces)
                        for (int k = 0; k < 3; ++k) ++uses[{face[k], face[(k + 1) % 3]}];
                    for (const auto& [edge, count] : uses)
                        EXPECT_TRUE(count == 1 && uses.contains({edge.second, edge.first})) << name_of(solid.part);
                    EXPECT_NE(frames.find(solid.frame), nullptr) << d.name << name_of(solid.part);
                }
        }
}

// Against where the solver's own bodies carry the anchors, not the skeleton from which the drawing is made.
TEST(DrawnLinkage, PutsABallAtEachEndOfEachLinkWhereTheSolverHasIt) {
    for (const head::Description& d : testing::linkages()) {
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head) << d.name;
        const head::Sticks sticks{0.2, 0.3, -0.3, 0.4};
        const auto pose = head->pose(sticks, 50);
        ASSERT_TRUE(pose) << d.name;
        head::Solver solver(*head);
        ASSERT_TRUE(solver.pose(sticks, 50));
        const linkage::Workspace& ws = solver.workspace();
        const Frames frames(d, *pose, 1);
        std::vector<Vec3> centres;  // of small bright solids: balls among them
        for (const Solid& solid : solids_of(d, false)) {
            if (solid.tone != Tone::bright) continue;
            Vec3 sum = Vec3::Zero();
            for (const Vec3& p : solid.mesh.points) sum += p;
            centres.push_back(*frames.find(solid.frame) * Vec3(sum / static_cast<double>(solid.mesh.points.size())));
        }
        for (const head::LinkRod& rod : head->model().rods()) {
            for (const head::BallEnd& end : rod.ends) {
                const Vec3 ball = ws.point(end.ball);
                const auto near = [&](const Vec3& centre) { return (centre - ball).norm() < 1e-6; };
                EXPECT_TRUE(std::ranges::any_of(centres, near)) << d.name << ", " << rod.made.name;
            }
            const head::Part& part = head->model().part(rod.part);
            const auto drawn = part_of(part.path);
            ASSERT_TRUE(drawn && ends_of(d, *drawn)) << part.path;
            for (std::size_t k = 0; k < 2; ++k) {
                const Vec3* point = head::ball_place(pose->skeleton, (*ends_of(d, *drawn))[k]);
                ASSERT_TRUE(point) << part.path;
                EXPECT_LT((*point - ws.point(rod.ends[k].ball)).norm(), 1e-8) << part.path;
            }
        }
    }
}

TEST(DrawnLinkage, TellsWhatGoesRoundWithTheRotor) {
    const head::Description& bar = linkage("stabiliser");
    for (int i = 0; i < 6; ++i) EXPECT_TRUE(goes_round({Ride::lever, i}, bar)) << i;
    EXPECT_TRUE(goes_round({Ride::slider, 0}, bar));
    EXPECT_TRUE(goes_round({Ride::link_foot, 2}, bar));
    EXPECT_FALSE(goes_round({Ride::lower_head, 0}, bar));
    const head::Description& cranks = linkage("bellcrank");
    EXPECT_FALSE(goes_round({Ride::lever, 0}, cranks));
    EXPECT_FALSE(goes_round({Ride::link_head, 0}, cranks));
    EXPECT_TRUE(goes_round({Ride::upper_foot, 0}, cranks));
}

TEST(DrawnLinkage, FillsItsPictureWithoutRunningOutOfIt) {
    constexpr Viewport area{0, 0, 1200, 800};
    for (const head::Description& d : testing::linkages()) {
        const head::Pose pose = posed(d, {}, 40);
        for (const View view : {View::corner, View::front, View::side, View::top}) {
            const Camera camera = camera_for(d, view, false, 1.5);
            glm::dvec2 low(1e9), high(-1e9);
            const Frames frames(d, pose, 1);
            for (const Solid& solid : solids_of(d, false))
                for (const Vec3& p : solid.mesh.points) {
                    const glm::dvec3 at = camera.project(*frames.find(solid.frame) * p, area);
                    ASSERT_TRUE(at.x > 0 && at.x < area.width && at.y > 0 && at.y < area.height)
                        << d.name << ", " << name_of(solid.part);
                    low = glm::min(low, glm::dvec2(at)), high = glm::max(high, glm::dvec2(at));
                }
            const glm::dvec2 share = (high - low) / glm::dvec2(area.width, area.height);
            EXPECT_GT(std::max(share.x, share.y), 0.6) << d.name;
        }
    }
}

TEST(DrawnLinkage, OfATailIsDrawnInATailsProportions) {
    const head::Description& d = linkage("tail");
    const Proportions p = proportions_of(d);
    EXPECT_LT(p.shaft, 0.5 * d.swashplate.outer_balls[0].radius_mm);
    EXPECT_LT(p.stub_end, d.rotor.blade_tip_mm);
    EXPECT_EQ(p.blade_end, d.rotor.blade_tip_mm);
    EXPECT_LT(2 * p.ball, 0.5 * d.links[1].length_mm);  // two ball ends and a rod between
    double lowest = 1e9;
    const head::Pose pose = posed(d, {}, 0);
    const Frames frames(d, pose, 1);
    for (const Solid& solid : solids_of(d, false))
        for (const Vec3& point : solid.mesh.points) lowest = std::min(lowest, (*frames.find(solid.frame) * point).z());
    EXPECT_GT(lowest, p.ground - 0.1 * p.ring);  // nothing is sunk into the ground sheet
}

TEST(DrawnLinkage, ABarsPaddlesAreLevelAtItsNeutral) {
    const head::Description& d = linkage("stabiliser");
    head::Description still = d;
    const head::Pose pose = posed(still, {}, 0);
    const Frames frames(d, pose, 1);
    const Placement& bar = *frames.find({Ride::lever, 1});
    double out = 0;
    for (const Solid& solid : solids_of(d, false)) {
        if (solid.part != Part{Role::lever, 1} || solid.tone != Tone::carbon) continue;
        Vec3 low = Vec3::Constant(1e9), high = Vec3::Constant(-1e9);
        for (const Vec3& p : solid.mesh.points) {
            const Vec3 at = bar * p;
            low = low.cwiseMin(at), high = high.cwiseMax(at);
        }
        EXPECT_LT(high.z() - low.z(), 0.5 * std::min(high.x() - low.x(), high.y() - low.y()));
        out = std::max(out, low.head<2>().norm());
    }
    EXPECT_GT(out, 2 * proportions_of(d).ring);
}

TEST(DrawnLinkage, FollowsTheBallsAtTheEndsOfUpperLinksAndHingedLinks) {
    for (const head::Description& d : testing::linkages()) {
        const auto head = head::Head::build(d);
        const auto traces = traces_of(*head, {}, false, 12);
        ASSERT_TRUE(traces) << d.name;
        const auto hinged =
            std::ranges::count(d.levers, head::Carrier::On::grip, [](const auto& l) { return l.on.on; });
        EXPECT_EQ(traces->balls.size(), 2 * d.upper_links.size() + static_cast<std::size_t>(hinged)) << d.name;
        EXPECT_GE(traces->balls.size(), 2U) << d.name;
        EXPECT_EQ(traces->tips.empty(), d.kind == head::Kind::tail) << d.name;
    }
}

TEST(DrawnLinkage, CallsPartsByTheNamesOfTheScene) {
    EXPECT_EQ(trade_name_of({Role::lever, 1}, linkage("bellcrank")), "bellcrank 2");
    EXPECT_EQ(trade_name_of({Role::other_link, 0}, linkage("ring held")), "anti-rotation link");
    EXPECT_EQ(trade_name_of({Role::slider, 0}, linkage("stabiliser")), "wash-out base");
    EXPECT_EQ(trade_name_of({Role::inner_ring, 0}, linkage("tail")), "pitch slider");
    EXPECT_EQ(trade_name_of({Role::shaft, 0}, linkage("tail")), "tail shaft");
    EXPECT_EQ(trade_name_of({Role::lower_link, 0}, linkage("bellcrank")), "lower link 1");
}

TEST(DrawnLinkage, LightsWhateverIsTouchedAndCanBeSeen) {
    constexpr int width = 480, height = 360;
    const auto surface = Offscreen::open(width, height);
    if (!surface) GTEST_SKIP() << surface.error();
    auto& pixels = const_cast<Offscreen&>(*surface);
    const auto accented = [&] {  // as in draw_picture_test.cpp
        const auto rgb = pixels.read();
        int count = 0;
        for (std::size_t i = 0; i < rgb.size(); i += 3)
            count += rgb[i] > 120 && rgb[i] > 1.6 * rgb[i + 1] && rgb[i + 1] > 1.3 * rgb[i + 2];
        return count;
    };
    for (const head::Description& d : testing::linkages()) {
        Drawing drawing;
        drawing.set_head(d);
        const head::Pose pose = posed(d, {0.2, 0.2, 0, 0.2}, 55);
        for (const Part& part : listed_parts(d)) {
            if (part.role != Role::lever && part.role != Role::slider && part.role != Role::other_link) continue;
            int most = 0;
            for (const View view : {View::corner, View::front, View::top}) {
                drawing.render(d, pose, camera_for(d, view, false, 4.0 / 3), {.touched = part, .trouble = {}},
                               {0, 0, width, height}, height);
                most = std::max(most, accented());
                if (most > 8) break;
            }
            EXPECT_GT(most, 8) << d.name << ", " << trade_name_of(part, d);
        }
    }
}

}  // namespace
}  // namespace swashwright::draw
