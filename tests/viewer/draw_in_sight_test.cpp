#include "viewer/draw/lines/in_sight.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/references.h"
#include "kinematics/scene/scene.h"
#include "tests/viewer/draw_heads.h"
#include "tests/viewer/linkage_files.h"
#include "viewer/draw/lines/pick.h"
#include "viewer/draw/picture/picture.h"

namespace swashwright::draw {
namespace {

const Viewport area{100, 40, 900, 600};

struct Seen {
    head::Description d;
    std::vector<Drawn> drawn;
    Frames frames;
    Camera camera;
    std::vector<Spot> spots;

    Seen(const std::string& name, View view)
        : d(demo(name)),
          drawn(drawn_from(solids_of(d, false))),
          frames(d, posed(d, {0.2, 0.4, 0}, 35), 1),
          camera(camera_for(d, view, false, 1.5)),
          spots(spots_of(drawn, frames, camera, area, std::nullopt, {})) {}

    std::optional<Part> under(const Spot& spot) const {
        const glm::dvec3 at = camera.project(*frames.find(spot.frame) * spot.at, area);
        return pick_part(drawn, frames, camera, area, at.x - area.x, at.y - area.y);
    }
};

TEST(InSight, EverySpotIsOnItsPartAndSeen) {
    for (const std::string& name : demos()) {
        for (View view : {View::corner, View::front, View::top}) {
            const Seen seen(name, view);
            std::set<Part> parts;
            for (const Spot& spot : seen.spots) {
                EXPECT_EQ(seen.under(spot), spot.part);
                EXPECT_TRUE(parts.insert(spot.part).second);
            }
            EXPECT_GT(parts.size(), 8) << name;
        }
    }
}

TEST(InSight, FromTheCornerShowsEachBladeAndUpperLink) {
    const Seen seen("two_blade_600", View::corner);
    for (Role kind : {Role::blade, Role::upper_link, Role::grip})
        for (int k : {0, 1}) EXPECT_EQ(std::ranges::count(seen.spots, Part{kind, k}, &Spot::part), 1);
}

TEST(InSight, KeepsASpotThatIsStillSeen) {
    const Seen seen("three_blade_700", View::corner);
    Camera nearly = seen.camera;
    nearly.orbit(0.02, 0);
    const auto next = spots_of(seen.drawn, seen.frames, nearly, area, std::nullopt, seen.spots);
    std::size_t kept = 0;
    for (const Spot& spot : next)
        kept += std::ranges::any_of(seen.spots, [&](const Spot& s) { return s.part == spot.part && s.at == spot.at; });
    EXPECT_GE(kept + 2, seen.spots.size());  // one or two may be at an edge that the turn hides
}

TEST(InSight, AWordOnTheGroundIsCoveredByTheHeadInFrontOfIt) {
    const Seen seen("three_blade_700", View::side);
    const Proportions p = proportions_of(seen.d);
    const auto words = [&](const Camera& camera) {
        return azimuth_words_at(seen.drawn, seen.frames, p, camera, area, 20, 10, std::nullopt);
    };
    Camera above = seen.camera;
    above.height_deg = 89;  // the nearest blade stands 35 deg from the nose
    ASSERT_TRUE(words(above)[0]);
    EXPECT_EQ(*words(above)[0], azimuth_word_at(0, p));
    // With the eye on the line from the word through the shaft, the head stands between.
    Camera low = seen.camera;
    low.azimuth_deg = 180, low.height_deg = 10;
    const auto there = words(low)[0];
    EXPECT_TRUE(!there || *there != azimuth_word_at(0, p));
}

// Seen from above blade 1 stands over the tail, blade 2 over the nose: their words step aside, on their own side.
TEST(InSight, AWordUnderABladeStandsAside) {
    const Seen seen("two_blade_600", View::top);
    const Proportions p = proportions_of(seen.d);
    const auto words = azimuth_words_at(seen.drawn, seen.frames, p, seen.camera, area, 20, 10, std::nullopt);
    for (std::size_t k = 0; k < words.size(); ++k) {
        ASSERT_TRUE(words[k]) << azimuth_words_deg[k];
        const Vec3 own = azimuth_word_at(azimuth_words_deg[k], p);
        EXPECT_GT(words[k]->normalized().dot(own.normalized()), std::cos(26 * degree)) << azimuth_words_deg[k];
        const glm::dvec3 at = seen.camera.project(*words[k], area);
        for (const double x : {-20.0, 0.0, 20.0})
            EXPECT_FALSE(hit_at(seen.drawn, seen.frames, seen.camera, area, at.x + x - area.x, at.y - area.y));
    }
}

TEST(Camera, AlongALinkSeesItsBallsAtOnePoint) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        const head::Pose pose = posed(d, {0.3, -0.5, 0.2}, 70);
        for (Role kind : {Role::lower_link, Role::upper_link}) {
            const bool lower = kind == Role::lower_link;
            const Vec3 a = (lower ? pose.skeleton.horn_balls : pose.skeleton.outer_balls)[1];
            const Vec3 b = (lower ? pose.skeleton.inner_balls : pose.skeleton.grip_balls)[1];
            for (bool from_below : {false, true}) {
                const auto camera = camera_along({kind, 1}, d, pose, 1.5, from_below);
                ASSERT_TRUE(camera);
                const glm::dvec3 at = camera->project(a, area), to = camera->project(b, area);
                EXPECT_NEAR(at.x, to.x, 1e-6);
                EXPECT_NEAR(at.y, to.y, 1e-6);
                EXPECT_EQ(camera->eye().z() > camera->target.z(), !from_below);
            }
        }
        EXPECT_FALSE(camera_along({Role::grip, 0}, d, pose, 1.5));
        EXPECT_FALSE(camera_along({Role::upper_link, 9}, d, pose, 1.5));
    }
}

TEST(Pick, FindsTheBallOfARingUnderAPixel) {
    const head::Description d = demo("two_blade_600");
    const head::Pose pose = posed(d, {}, 20);
    const Camera camera = camera_for(d, View::corner, false, 1.5);
    const double radius = proportions_of(d).ball;
    for (int j = 0; j < 3; ++j) {
        const glm::dvec3 at = camera.project(pose.skeleton.inner_balls[static_cast<std::size_t>(j)], area);
        EXPECT_EQ(ball_under({Role::inner_ring, 0}, pose, radius, camera, area, at.x - area.x, at.y - area.y), j);
        EXPECT_FALSE(ball_under({Role::inner_ring, 0}, pose, radius, camera, area, at.x - area.x + 60, at.y));
    }
}

TEST(Pick, FindsTheBallNearestToAPixelOnEveryKindOfLinkage) {
    for (const std::string& path : swashwright::testing::linkage_files()) {
        const head::Description d = scene::load(path)->head;
        const head::Pose pose = posed(d, {}, 20);
        const Camera camera = camera_for(d, View::corner, false, 1.5);
        std::set<std::string> found;
        for (const head::BallName& ball : head::every_ball(d)) {
            const Vec3& place = *head::ball_place(pose.skeleton, ball);
            const glm::dvec3 at = camera.project(place, area);
            const auto near = ball_near(d, pose, camera, area, at.x - area.x, at.y - area.y, 18);
            ASSERT_TRUE(near) << path << ", " << name_of(ball);
            found.insert(name_of(*near));
            // Another one is drawn within a pixel of it, or it is itself.
            const glm::dvec3 other = camera.project(*head::ball_place(pose.skeleton, *near), area);
            EXPECT_LT(std::hypot(other.x - at.x, other.y - at.y), 1) << name_of(ball) << ", " << name_of(*near);
        }
        EXPECT_GT(found.size() + 4, head::every_ball(d).size()) << path;  // pinned balls are one point
        EXPECT_FALSE(ball_near(d, pose, camera, area, -500, -500, 18));
    }
}

}  // namespace
}  // namespace swashwright::draw
