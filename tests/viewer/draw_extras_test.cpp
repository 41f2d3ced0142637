// What is drawn besides the head: cut faces, paths over a turn, the head as it was meant.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "tests/support/random_head.h"
#include "tests/viewer/draw_heads.h"
#include "viewer/draw/base/ghost.h"
#include "viewer/draw/base/traces.h"
#include "viewer/draw/solids/section.h"
#include "viewer/draw/solids/shapes.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {
namespace {

/// Empty if every end of a line is the beginning of another: the lines join to closed loops.
std::string gap_of(const std::vector<CutLine>& lines) {
    std::map<std::tuple<double, double, double>, int> ends;
    for (const CutLine& line : lines) {
        ++ends[{line.a.x(), line.a.y(), line.a.z()}];
        --ends[{line.b.x(), line.b.y(), line.b.z()}];
    }
    return std::ranges::all_of(ends, [](const auto& end) { return end.second == 0; }) ? "" : "a loop is open";
}

std::vector<CutLine> cut(const Mesh& mesh, const Plane& plane) {
    const Surface surface = surface_of(mesh);
    return cut_lines(surface.vertices, surface.triangles, plane);
}

TEST(Section, HasTheAreasOfPlaneGeometry) {
    // A tube cut along its axis is two rectangles; cut across it is the ring between two regular n-gons,
    // n r^2 sin(2 pi / n) / 2 each.
    const Mesh pipe = tube({0, 0, -3}, {0, 0, 5}, 2, 3, 28);
    const auto along = cut(pipe, {Vec3::UnitX(), 1e-7});
    EXPECT_NEAR(cut_area(along, {Vec3::UnitX(), 0}), 2 * 8 * 1, 1e-5);
    const Plane across{Vec3::UnitZ(), 1.25};
    EXPECT_NEAR(cut_area(cut(pipe, across), across), 14 * std::sin(2 * pi / 28) * (9 - 4), 1e-9);
    const Plane skew{Vec3(1, 2, 3).normalized(), 0.3};
    const Mesh box = block(Placement{}, {50, 50, 2}, 0);  // a wide plate: 4 thick, cut at an angle
    EXPECT_EQ(gap_of(cut(box, skew)), "");
    EXPECT_TRUE(cut(box, {Vec3::UnitZ(), 3}).empty());
}

TEST(Section, FacesOfEverySolidAreClosed) {
    for (const std::string& name : demos()) {
        for (const Solid& solid : solids_of(demo(name), false)) {
            for (double azimuth : {0.0, 37.0, 145.0}) {
                Plane plane = plane_towards(azimuth);
                plane.offset = 0.37;
                EXPECT_EQ(gap_of(cut(solid.mesh, plane)), "") << name;
            }
        }
    }
}

TEST(Section, APlaneIsTheSameFromEveryFrame) {
    const Placement placed{turn_about_z(0.7), Vec3(3, -4, 5)};
    const Plane plane{Vec3(0.6, 0, 0.8), 2};
    const Vec3 x(1, 2, 3);
    EXPECT_NEAR(seen_from(plane, placed).height_of(x), plane.height_of(placed * x), 1e-12);
    EXPECT_NEAR(plane_towards(90).height_of({0, 7, 1}), 7, 1e-12);
}

TEST(Traces, PassThroughTheBallsOfEveryPose) {
    int turned = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const auto head = head::Head::build(testing::random_head(seed));
        ASSERT_TRUE(head);
        const head::Sticks sticks{0.2, 0.3, -0.2};
        const auto traces = traces_of(*head, sticks, true, 24);
        if (!traces) continue;  // a dead point on the way round
        ++turned;
        const std::size_t blades = head->description().grips.size();
        ASSERT_EQ(traces->balls.size(), 2 * blades);
        for (int i : {0, 7, 23}) {
            const auto pose = head->pose(sticks, 15.0 * i);
            ASSERT_TRUE(pose);
            for (std::size_t k = 0; k < blades; ++k) {
                // The solver closes loops to 1e-10 mm; the rest is what the path to the pose adds.
                EXPECT_NEAR((traces->balls[2 * k].points[i] - pose->skeleton.outer_balls[k]).norm(), 0, 1e-7);
                EXPECT_NEAR((traces->balls[2 * k + 1].points[i] - pose->skeleton.grip_balls[k]).norm(), 0, 1e-7);
            }
        }
    }
    EXPECT_GT(turned, 15);
}

TEST(Traces, TipsOfABladeSetHigherFlyHigherAndTheirMeanStays) {
    head::Description d = demo("two_blade_600");
    const auto even = traces_of(*head::Head::build(d), {}, true);
    ASSERT_TRUE(even);
    ASSERT_EQ(even->tip_mm.size(), 2U);
    EXPECT_NEAR(even->tip_mm[0], 0, 1e-6);
    d.upper_links[1].error_mm = 0.5;
    const auto split = traces_of(*head::Head::build(d), {}, true);
    ASSERT_TRUE(split);
    EXPECT_NEAR(split->tip_mm[0] + split->tip_mm[1], 0, 1e-9);
    EXPECT_GT(std::abs(split->tip_mm[1]), 0.5);
    EXPECT_NEAR(split->tips[1].points[3].z() - split->tips[0].points[3].z(),
                split->magnified * (split->tip_mm[1] - split->tip_mm[0]), 1e-9);
}

TEST(Ghost, IsTheHeadItselfWhereNothingIsOff) {
    for (const std::string& name : demos()) {
        const head::Description d = nominal(demo(name));
        EXPECT_FALSE(has_errors(d));
        const auto head = head::Head::build(d);
        const auto horns = head->horn_angles_deg({0.3, 0.2, 0.1});
        const auto ghost = ghost_of(d, horns, 40);
        ASSERT_TRUE(ghost);
        const auto pose = head->nearest(horns, 40).pose;
        for (std::size_t k = 0; k < pose.pitch_deg.size(); ++k) EXPECT_EQ(ghost->pose.pitch_deg[k], pose.pitch_deg[k]);
    }
}

TEST(Ghost, LeavesErrorsOut) {
    head::Description d = demo("two_blade_600");
    const auto horns = head::Head::build(d)->horn_angles_deg({});
    const auto straight = ghost_of(d, horns, 0);
    d.upper_links[0].error_mm = 0.6;
    d.swashplate.guide_turn_deg = 2;
    EXPECT_TRUE(has_errors(d));
    const auto ghost = ghost_of(d, horns, 0);
    ASSERT_TRUE(ghost && straight);
    EXPECT_EQ(ghost->pose.pitch_deg, straight->pose.pitch_deg);
    EXPECT_FALSE(ghost_of(d, {}, 0));
}

}  // namespace
}  // namespace swashwright::draw
