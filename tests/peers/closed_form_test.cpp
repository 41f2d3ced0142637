// The benchmark's hand-written two-blade program is a limit to measure against only if it is right.
#include "tests/bench/closed_form.h"

#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"
#include "tests/support/random_head.h"

namespace swashwright::bench {
namespace {

// Reference: tests/data/reference/poses.json, from an independent solver (see the README beside it).
TEST(ClosedForm, GivesTheReferencePosesOfTwoBladeHeads) {
    const std::string folder = SWASHWRIGHT_TEST_DATA "/reference/";
    const auto reference = nlohmann::json::parse(std::ifstream(folder + "poses.json"));
    int poses = 0;
    for (const auto& head : reference.at("heads")) {
        const std::string file = head.at("scene");
        const auto scene = scene::load(folder + file);
        ASSERT_TRUE(scene) << scene.error().text();
        if (scene->head.rotor.blades != 2) continue;
        auto solver = ClosedForm::build(scene->head);
        ASSERT_TRUE(solver) << file;
        for (const auto& expected : head.at("poses")) {
            const std::array<double, 3> horns = expected.at("horns_deg");
            ClosedFormPose pose;
            ASSERT_TRUE(solver->pose(horns, expected.at("azimuth_deg"), pose)) << file;
            EXPECT_LE(solver->residual_mm(), 1e-10);
            EXPECT_NEAR(pose.height_mm, double(expected.at("height_mm")), 1e-9);
            for (int k = 0; k < 2; ++k) EXPECT_NEAR(pose.pitch_deg[k], double(expected.at("pitch_deg")[k]), 1e-9);
            const double forward = std::tan(pose.tilt_forward_deg * degree);
            const double right = std::tan(pose.tilt_right_deg * degree);
            EXPECT_NEAR(std::atan(std::hypot(forward, right)) / degree, double(expected.at("tilt_deg")), 1e-9);
            ++poses;
        }
    }
    EXPECT_GE(poses, 30);
}

TEST(ClosedForm, AgreesWithTheGeneralSolverOnRandomTwoBladeHeads) {
    testing::RandomHeadOptions options;
    options.most_blades = 2;
    for (int seed = 1; seed <= 200; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        std::mt19937_64 bits{std::uint64_t(seed)};
        const head::Description description = testing::random_head(bits, options);
        const auto general = head::Head::build(description);
        auto closed_form = ClosedForm::build(description);
        ASSERT_TRUE(general && closed_form);
        testing::Draw draw(bits);
        for (int i = 0; i < 10; ++i) {
            const double size = std::sqrt(draw.between(0, 1)), way = draw.between(0, 2 * pi);
            const auto horns =
                general->horn_angles_deg({draw.between(-1, 1), size * std::cos(way), size * std::sin(way)});
            const double azimuth = draw.between(0, 360);
            const auto expected = general->pose(horns, azimuth);
            ClosedFormPose pose;
            ASSERT_TRUE(expected);
            ASSERT_TRUE(closed_form->pose({horns[0], horns[1], horns[2]}, azimuth, pose));
            EXPECT_LE(closed_form->residual_mm(), 1e-10);
            EXPECT_NEAR(pose.height_mm, expected->height_mm, 1e-8);
            EXPECT_NEAR(pose.tilt_forward_deg, expected->tilt_forward_deg, 1e-8);
            EXPECT_NEAR(pose.tilt_right_deg, expected->tilt_right_deg, 1e-8);
            for (int k = 0; k < 2; ++k) EXPECT_NEAR(pose.pitch_deg[k], expected->pitch_deg[k], 1e-8);
            // The ring kept and only the rotor turned must come to the same.
            ClosedFormPose turned;
            ASSERT_TRUE(closed_form->pose_ring({horns[0], horns[1], horns[2]}));
            ASSERT_TRUE(closed_form->pose_rotor(azimuth, turned));
            for (int k = 0; k < 2; ++k) EXPECT_NEAR(turned.pitch_deg[k], pose.pitch_deg[k], 1e-9);
        }
    }
}

TEST(ClosedForm, RefusesHeadsItWasNotWrittenFor) {
    testing::RandomHeadOptions options;
    options.least_blades = options.most_blades = 3;
    EXPECT_FALSE(ClosedForm::build(testing::random_head(std::uint64_t{1}, options)));
}

}  // namespace
}  // namespace swashwright::bench
