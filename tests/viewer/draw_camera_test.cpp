#include "viewer/draw/base/camera.h"

#include <gtest/gtest.h>

#include <cmath>
#include <glm/gtc/matrix_transform.hpp>

#include "tests/support/random_head.h"
#include "tests/viewer/draw_heads.h"
#include "viewer/draw/lines/pick.h"
#include "viewer/draw/solids/anchors.h"

namespace swashwright::draw {
namespace {

const Viewport sheet_area{100, 40, 800, 500};

TEST(Camera, SeesItsTargetInTheMiddle) {
    Camera camera;
    const glm::dvec3 at = camera.project(camera.target, sheet_area);
    EXPECT_NEAR(at.x, 500, 1e-9);
    EXPECT_NEAR(at.y, 290, 1e-9);
    EXPECT_GT(at.z, 0);
    EXPECT_LT(at.z, 1);
}

TEST(Camera, ProjectsAndUnprojectsAsGlmDoes) {
    Camera camera;
    camera.orbit(71, 18);
    const Vec3 point(31, -22, 85);
    const glm::dvec3 ours = camera.project(point, sheet_area);
    // glm counts rows from below.
    const glm::dvec4 rect(sheet_area.x, -sheet_area.y - sheet_area.height, sheet_area.width, sheet_area.height);
    const glm::dvec3 window(ours.x, -ours.y, ours.z);
    const glm::dvec3 back = glm::unProject(window, camera.view(), camera.projection(1.6), rect);
    EXPECT_NEAR(back.x, point.x(), 1e-7);
    EXPECT_NEAR(back.y, point.y(), 1e-7);
    EXPECT_NEAR(back.z, point.z(), 1e-7);
}

TEST(Camera, StandsWhereItsAnglesSay) {
    Camera camera;
    camera.target = {0, 0, 0};
    camera.azimuth_deg = 0, camera.height_deg = 0;             // at the nose, looking aft
    EXPECT_GT(camera.project({0, 10, 0}, sheet_area).x, 500);  // the machine's left is to the right of who faces it
    EXPECT_LT(camera.project({0, 0, 10}, sheet_area).y, 290);
    camera.azimuth_deg = 180, camera.height_deg = 89;  // from above, nose up
    EXPECT_LT(camera.project({10, 0, 0}, sheet_area).y, 290);
    EXPECT_LT(camera.project({0, 10, 0}, sheet_area).x, 500);
}

TEST(Camera, ClampsHeightAndDistance) {
    Camera camera;
    camera.orbit(720 + 10, 500);
    EXPECT_NEAR(camera.azimuth_deg, 155, 1e-9);
    EXPECT_EQ(camera.height_deg, 89);
    camera.zoom(1e12);
    EXPECT_GT(camera.distance_mm, 1);
    camera.zoom(0);
    camera.zoom(-3);
    camera.zoom(NAN);
    EXPECT_TRUE(std::isfinite(camera.distance_mm));
    EXPECT_TRUE(camera.eye().allFinite());
}

TEST(Camera, PanMovesThePictureByThatMuch) {
    Camera camera;
    const Vec3 point = camera.target;
    const double mm_per_pixel = 2 * camera.distance_mm * std::tan(camera.view_deg * degree / 2) / sheet_area.height;
    camera.pan(-30 * mm_per_pixel, 20 * mm_per_pixel);
    const glm::dvec3 at = camera.project(point, sheet_area);
    EXPECT_NEAR(at.x, 530, 1e-6);
    EXPECT_NEAR(at.y, 310, 1e-6);
}

TEST(Camera, FitsASphereIntoAnyPicture) {
    for (const Viewport& area : {Viewport{0, 0, 800, 300}, Viewport{0, 0, 300, 800}}) {
        Camera camera;
        camera.fit({5, 6, 7}, 100, static_cast<double>(area.width) / area.height);
        double farthest = 0;  // from the middle, as a share of the shorter half side
        for (int k = 0; k < 4000; ++k) {
            const double z = -1 + 2 * (k + 0.5) / 4000, a = k * 2.399963;
            const double r = std::sqrt(1 - z * z);
            const glm::dvec3 at = camera.project(Vec3(5, 6, 7) + 100 * Vec3(r * std::cos(a), r * std::sin(a), z), area);
            farthest =
                std::max({farthest, std::abs(at.x - area.width / 2.0) / 150, std::abs(at.y - area.height / 2.0) / 150});
        }
        EXPECT_LT(farthest, 1.0001);
        EXPECT_GT(farthest, 0.97);
    }
}

// Each point by itself through the projection, circles as many points; the far side of what frames them lies on the
// margin of 6 %.
TEST(Camera, FramesPointsAndTheirCirclesFromAnywhere) {
    const std::vector<Vec3> points{{90, 0, 10}, {-40, 70, -30}, {0, 0, 160}, {12, -55, 40}};
    const std::vector<Vec3> swept{{400, 30, 120}, {-20, 60, 90}};
    std::vector<Vec3> all = points;
    for (const Vec3& p : swept)
        for (int deg = 0; deg < 360; ++deg) all.push_back(turn_about_z(deg * degree) * p);
    for (const double aspect : {0.4, 1.0, 1.9, 4.0})
        for (const double height : {-89.0, -20.0, 4.0, 35.0, 89.0})
            for (int azimuth = -180; azimuth < 180; azimuth += 15) {
                Camera camera;
                camera.azimuth_deg = azimuth, camera.height_deg = height;
                camera.frame(points, swept, aspect);
                EXPECT_EQ(camera.azimuth_deg, azimuth);
                const Viewport area{0, 0, static_cast<int>(1000 * aspect), 1000};
                glm::dvec3 low(HUGE_VAL), high(-HUGE_VAL);  // -1 to 1 from edge to edge
                for (const Vec3& p : all) {
                    const glm::dvec3 at = camera.project(p, area);
                    EXPECT_TRUE(at.z > 0 && at.z < 1);
                    const glm::dvec3 share(2 * at.x / area.width - 1, 2 * at.y / area.height - 1, 0);
                    low = glm::min(low, share), high = glm::max(high, share);
                }
                const double fills = std::max(high.x, high.y);
                EXPECT_LT(fills, 0.9401);
                EXPECT_GT(fills, 0.939);  // the circles' points stand a degree apart
                EXPECT_NEAR(low.x, -high.x, 0.001);
                EXPECT_NEAR(low.y, -high.y, 0.001);
            }
}

/// A camera anywhere, for properties.
Camera camera_drawn(testing::Draw& draw) {
    Camera camera;
    camera.target = {draw.between(-80, 80), draw.between(-80, 80), draw.between(-20, 160)};
    camera.distance_mm = draw.between(40, 2000);
    camera.azimuth_deg = draw.between(-180, 180);
    camera.height_deg = draw.between(-89, 89);
    camera.view_deg = draw.between(8, 40);
    return camera;
}

TEST(Camera, FindsThePointUnderAPixelAsGlmDoes) {
    std::mt19937_64 bits(7);
    testing::Draw draw(bits);
    for (int tries = 0; tries < 500; ++tries) {
        const Camera camera = camera_drawn(draw);
        const Vec3 like = camera.target + Vec3(draw.between(-9, 9), draw.between(-9, 9), draw.between(-9, 9));
        const double x = draw.between(100, 900), y = draw.between(40, 540);
        const Vec3 found = camera.point_under(x, y, sheet_area, like);
        const glm::dvec4 rect(sheet_area.x, -sheet_area.y - sheet_area.height, sheet_area.width, sheet_area.height);
        const double depth = camera.project(like, sheet_area).z;
        const glm::dvec3 theirs = glm::unProject(glm::dvec3(x, -y, depth), camera.view(), camera.projection(1.6), rect);
        EXPECT_NEAR((found - Vec3(theirs.x, theirs.y, theirs.z)).norm(), 0, 1e-6 * camera.distance_mm);
        // A millimetre across there is as many pixels as it says.
        const Vec3 right(-std::sin(camera.azimuth_deg * degree), std::cos(camera.azimuth_deg * degree), 0);
        EXPECT_NEAR(camera.project(found + right, sheet_area).x - x, camera.pixels_per_mm(found, sheet_area), 1e-6);
    }
}

TEST(Camera, ZoomingKeepsWhatIsUnderThePointer) {
    std::mt19937_64 bits(8);
    testing::Draw draw(bits);
    for (int tries = 0; tries < 500; ++tries) {
        Camera camera = camera_drawn(draw);
        const double x = draw.between(100, 900), y = draw.between(40, 540), depth = draw.between(0.3, 1.5);
        const Vec3 like = camera.eye() + depth * (camera.target - camera.eye());
        const Vec3 under = camera.point_under(x, y, sheet_area, like);
        const double before = camera.distance_mm, away = (under - camera.eye()).norm();
        const double factor = std::exp(draw.between(-1, 1));
        camera.zoom_at(factor, under);
        const glm::dvec3 at = camera.project(under, sheet_area);
        EXPECT_NEAR(at.x, x, 1e-6);
        EXPECT_NEAR(at.y, y, 1e-6);
        EXPECT_NEAR(camera.distance_mm, before / factor, 1e-9 * before);
        EXPECT_NEAR((under - camera.eye()).norm(), away / factor, 1e-9 * away);
        camera.zoom_at(1 / factor, under);  // and back
        EXPECT_NEAR(camera.distance_mm, before, 1e-9 * before);
        camera.zoom_at(1e9, under);  // as near as it goes, and still there
        EXPECT_NEAR(camera.project(under, sheet_area).x, x, 1e-4);
    }
}

TEST(Camera, APointBehindTheEyeIsOutsideTheDepthRange) {
    Camera camera;
    const glm::dvec3 at = camera.project(camera.eye() + (camera.eye() - camera.target), sheet_area);
    EXPECT_TRUE(at.z < 0 || at.z > 1);
}

TEST(Pick, FindsThePartUnderAPixel) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        const head::Pose pose = posed(d, {0.3, 0.2, -0.1}, 20);
        const Frames frames(d, pose, 1);
        const auto drawn = drawn_from(solids_of(d, false));
        const Viewport area{0, 0, 900, 600};
        Camera camera;
        camera.height_deg = 60;  // blades hide nothing of each other from up here
        const Extent extent = extent_of(d, false);
        camera.fit(extent.centre, 1.5 * extent.radius_mm, 1.5);
        for (int k = 0; k < d.rotor.blades; ++k) {
            const Part blade{Role::blade, k};
            const glm::dvec3 at = camera.project(*anchor_of(blade, d, pose, Style{}), area);
            EXPECT_EQ(pick_part(drawn, frames, camera, area, at.x, at.y), blade) << name;
        }
        const glm::dvec3 top = camera.project({0, 0, proportions_of(d).top}, area);
        EXPECT_EQ(pick_part(drawn, frames, camera, area, top.x, top.y), (Part{Role::shaft, 0})) << name;
        EXPECT_FALSE(pick_part(drawn, frames, camera, area, 2, 2)) << name;
        EXPECT_FALSE(pick_part(drawn, frames, camera, Viewport{}, 2, 2)) << name;
    }
}

TEST(Anchors, GiveADimensionItsLength) {
    head::Description d = demo("two_blade_600");
    d.upper_links[1].error_mm = 0.3;
    const head::Pose pose = posed(d, {0.2, 0, 0}, 10);
    const auto length = length_of({Role::upper_link, 1}, d, pose);
    ASSERT_TRUE(length);
    EXPECT_NEAR((length->b - length->a).norm(), d.upper_links[1].length_mm + 0.3, 1e-9);
    const auto horn = length_of({Role::horn, 0}, d, pose);
    ASSERT_TRUE(horn);
    EXPECT_NEAR((horn->b - horn->a).norm(), d.servos[0].horn_mm, 1e-9);
    EXPECT_FALSE(length_of({Role::hub, 0}, d, pose));
    EXPECT_FALSE(length_of({Role::upper_link, 7}, d, pose));
}

}  // namespace
}  // namespace swashwright::draw
