#include "viewer/draw/lines/handles.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/viewer/draw_heads.h"

namespace swashwright::draw {
namespace {

const Viewport area{30, 20, 900, 600};

std::vector<Handle> handles(const Part& part, const head::Description& d, const head::Pose& pose) {
    return handles_of(part, d, pose, Style{});
}

// A handle that has moved by what a reading has changed stands where the pose has it then.
TEST(Handles, MoveAsThePoseDoes) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        const head::Pose before = posed(d, {0.1, 0, 0}, 25), after = posed(d, {0.6, 0, 0}, 25);
        const auto blade = handles({Role::blade, 1}, d, before), later = handles({Role::blade, 1}, d, after);
        ASSERT_EQ(blade.size(), 1);
        EXPECT_NEAR((blade[0].moved(after.pitch_deg[1] - before.pitch_deg[1]) - later[0].at).norm(), 0, 1e-9) << name;
        EXPECT_GT(blade[0].moved(5).z(), blade[0].at.z());  // the leading edge goes up
        for (int j = 0; j < static_cast<int>(d.servos.size()); ++j) {
            const auto i = static_cast<std::size_t>(j);
            const auto horn = handles({Role::horn, j}, d, before);
            ASSERT_EQ(horn.size(), 1);
            EXPECT_NEAR((horn[0].moved(after.horn_deg[i] - before.horn_deg[i]) - after.skeleton.horn_balls[i]).norm(),
                        0, 1e-9);
        }
        const auto ring = handles({Role::inner_ring, 0}, d, before);
        ASSERT_EQ(ring.size(), 5);
        EXPECT_EQ(ring[4].of, Handle::Of::height);
        EXPECT_NEAR(ring[4].moved(2).z() - ring[4].at.z(), 2, 1e-12);
        for (int k = 0; k < 4; ++k)
            EXPECT_GT(ring[static_cast<std::size_t>(k)].moved(3).z(), ring[static_cast<std::size_t>(k)].at.z());
        EXPECT_TRUE(handles({Role::hub, 0}, d, before).empty());
        EXPECT_TRUE(handles({Role::blade, 9}, d, before).empty());
        EXPECT_TRUE(handles({Role::horn, -1}, d, before).empty());
    }
}

// The pointer on the way of a handle gives by how much it has moved.
TEST(Handles, FollowThePointerAlongTheirWay) {
    const head::Description d = demo("two_blade_600");
    const head::Pose pose = posed(d, {0.2, 0.1, 0}, 60);
    int seen = 0;
    for (const Part part : {Part{Role::blade, 0}, Part{Role::outer_ring, 0}, Part{Role::servo, 1}})
        for (const Handle& handle : handles(part, d, pose))
            for (const double azimuth : {-120.0, -30.0, 60.0, 145.0})
                for (const double height : {-30.0, 5.0, 40.0}) {
                    Camera camera;
                    camera.azimuth_deg = azimuth, camera.height_deg = height, camera.distance_mm = 700;
                    for (const double by : {-8.0, -1.0, 0.0, 0.3, 6.0}) {
                        const auto on = [&](double more) { return camera.project(handle.moved(more), area); };
                        const double rate = std::hypot(on(0.01).x - on(0).x, on(0.01).y - on(0).y) / 0.01;
                        const double arm =
                            handle.turns ? handle.way.cross(handle.at - handle.origin).norm() * degree : 1;
                        if (rate < 0.6 * arm * camera.pixels_per_mm(handle.at, area)) continue;  // seen end on
                        EXPECT_NEAR(dragged_to(handle, camera, area, on(by).x, on(by).y), by, 1e-5) << handle.words;
                        ++seen;
                    }
                }
    EXPECT_GT(seen, 150);
}

// A pointer that goes on in one direction never brings a handle back past where it was: beyond all of its way it stays
// at that end.
TEST(Handles, StayAtTheEndThatAPointerGoesBeyond) {
    const head::Description d = demo("two_blade_600");
    const head::Pose pose = posed(d, {0.2, 0.1, 0}, 60);
    for (const Part part :
         {Part{Role::blade, 0}, Part{Role::blade, 1}, Part{Role::outer_ring, 0}, Part{Role::servo, 1}})
        for (const Handle& handle : handles(part, d, pose))
            for (const double azimuth : {-120.0, -30.0, 60.0, 145.0})
                for (const double height : {-30.0, 5.0, 20.0, 40.0}) {
                    Camera camera;
                    camera.azimuth_deg = azimuth, camera.height_deg = height, camera.distance_mm = 700;
                    const glm::dvec3 at = camera.project(handle.at, area);
                    for (int side = 0; side < 16; ++side) {
                        const double a = side * 22.5 * degree;
                        double before = 0;
                        for (const double away : {5.0, 20.0, 50.0, 100.0, 200.0, 400.0, 800.0}) {
                            const double by =
                                dragged_to(handle, camera, area, at.x + away * std::cos(a), at.y + away * std::sin(a));
                            EXPECT_GE(by * before, 0) << handle.words << " flips at " << away << " px, side " << side;
                            EXPECT_GE(std::abs(by), std::abs(before) - 1e-6)
                                << handle.words << " comes back at " << away << " px, side " << side;
                            before = by;
                        }
                    }
                }
}

TEST(Handles, SeenEndOnUpwardsIsMore) {
    const head::Description d = demo("two_blade_600");
    const Handle middle = handles({Role::outer_ring, 0}, d, posed(d, {}, 0)).back();
    Camera camera;
    camera.height_deg = 89;  // looking down the shaft
    const glm::dvec3 at = camera.project(middle.at, area);
    EXPECT_GT(dragged_to(middle, camera, area, at.x, at.y - 20), 0.5);
    EXPECT_LT(dragged_to(middle, camera, area, at.x, at.y + 20), -0.5);
    camera.height_deg = 10;
    camera.target = camera.eye() + (camera.eye() - camera.target);  // behind the eye
    EXPECT_TRUE(std::isfinite(dragged_to(middle, camera, area, 400, 300)));
}

TEST(Handles, TheNearestWithinReachIsTaken) {
    const head::Description d = demo("two_blade_600");
    const auto ring = handles({Role::outer_ring, 0}, d, posed(d, {}, 0));
    Camera camera;
    for (const Handle& handle : ring) {
        const glm::dvec3 at = camera.project(handle.at, area);
        const auto found = handle_near(ring, camera, area, at.x + 2, at.y - 1, 10);
        ASSERT_TRUE(found);
        EXPECT_TRUE(found->same(handle));
    }
    EXPECT_FALSE(handle_near(ring, camera, area, 31, 21, 10));
}

}  // namespace
}  // namespace swashwright::draw
