// A driven ring and one grip with everything given: pitch around the turn from an independent computation.
//
// The case: feathering axis at height 40, grip ball 10 out and 20 ahead, ring ball at radius sqrt(500) over it at
// neutral, link of 40. The ring is turned by a rotation vector (rx, 0, 0) and raised by z; azimuth runs from +x and
// there is no pin.

#include <gtest/gtest.h>

#include <array>

#include "kinematics/linkage/solve.h"
#include "kinematics/linkage/tangent.h"
#include "tests/linkage/cases.h"

namespace swashwright::linkage {
namespace {

struct Case {
    Description d;
    BodyId grip;

    Case() {
        const BodyId lift = d.add_body({.name = "lift",
                                        .parent = Description::ground,
                                        .joint_frame = {},
                                        .joint = Joint::prismatic,
                                        .input = true,
                                        .neutral = {}});
        const BodyId tilt = d.add_body({.name = "tilt",
                                        .parent = lift,
                                        .joint_frame = frame(Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY()),
                                        .joint = Joint::revolute,
                                        .input = true,
                                        .neutral = {}});
        Placement level;
        level.turn = frame(Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY()).turn.transpose();
        const BodyId ring = d.add_body({.name = "ring",
                                        .parent = tilt,
                                        .joint_frame = level,
                                        .joint = Joint::revolute,
                                        .input = true,
                                        .neutral = {}});
        const BodyId hub = d.add_body({.name = "hub",
                                       .parent = Description::ground,
                                       .joint_frame = {},
                                       .joint = Joint::revolute,
                                       .input = true,
                                       .neutral = {}});
        grip = d.add_body({.name = "grip",
                           .parent = hub,
                           .joint_frame = frame({0, 0, 40}, Vec3::UnitX(), Vec3::UnitY()),
                           .joint = Joint::revolute,
                           .neutral = {}});
        d.add_link("link", d.add_anchor(ring, {10, 20, 0}), d.add_anchor(grip, {20, 0, 10}), 40);
    }
};

/// Pitch (deg) at a lift (mm), tilt (deg) and azimuth (deg).
double pitch(const Plan& plan, Workspace& ws, BodyId grip, double lift, double tilt_deg, double azimuth_deg) {
    const double inputs[] = {lift, tilt_deg * degree, azimuth_deg * degree, azimuth_deg * degree};
    EXPECT_TRUE(solve(plan, ws, inputs).closed);
    return ws.angle(grip) / degree;
}

TEST(GivenRing, PitchAroundTheTurnMatchesAnIndependentComputation) {
    const Case c;
    const auto plan = Plan::make(c.d);
    ASSERT_TRUE(plan.has_value()) << plan.error().message;
    Workspace ws(*plan);
    const std::array<double, 7> lifts{-6, -4, -2, 0, 2, 4, 6};
    const std::array<double, 7> collective{-17.489700, -11.542939, -5.739532, 0, 5.738809, 11.531004, 17.425973};
    for (std::size_t i = 0; i < lifts.size(); ++i)
        EXPECT_NEAR(pitch(*plan, ws, c.grip, lifts[i], 0, 0), collective[i], 1e-6);
    const std::array<double, 12> level{6.00000,  6.69901,  5.59639,  2.99575,  -0.40119, -3.69201,
                                       -6.00000, -6.69934, -5.59710, -2.99602, 0.40119,  3.69190};
    const std::array<double, 12> raised{17.70342, 18.42876, 17.28159, 14.59601, 11.12274, 7.79315,
                                        5.47845,  4.78060,  5.88124,  8.49388,  11.93999, 15.31502};
    for (std::size_t i = 0; i < 12; ++i) {
        EXPECT_NEAR(pitch(*plan, ws, c.grip, 0, 6, 30.0 * static_cast<double>(i)), level[i], 1e-5);
        EXPECT_NEAR(pitch(*plan, ws, c.grip, 4, 6, 30.0 * static_cast<double>(i)), raised[i], 1e-5);
    }
}

TEST(GivenRing, PitchPerMillimetreOfLinkIsOneOverTheArm) {
    const Case c;
    const auto plan = Plan::make(c.d);
    Workspace ws(*plan);
    pitch(*plan, ws, c.grip, 0, 0, 0);
    Tangent tangent(*plan);
    ASSERT_TRUE(tangent.at(*plan, ws));
    const Change longer{Quantity::length, 0, {1, 0, 0}};
    tangent.along(*plan, ws, {&longer, 1});
    EXPECT_NEAR(rate(ws, c.grip) / degree, 2.864789, 1e-6);  // 1 / 20 rad per mm
}

}  // namespace
}  // namespace swashwright::linkage
