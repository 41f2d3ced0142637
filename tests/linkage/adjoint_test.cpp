// Slopes backwards, on linkages whose slopes are known in closed form, and where there are none.

#include "kinematics/linkage/adjoint.h"

#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/linkage/input_motion.h"
#include "kinematics/linkage/solve.h"
#include "tests/linkage/cases.h"
#include "tests/support/allocations.h"

namespace swashwright::linkage {
namespace {

using What = ReadingTerm::What;

/// Crank and rocker of a planar four-bar, pivots on the x axis.
TwoCranks four_bar(double crank, double coupler, double rocker, double base, double crank_deg, double near_deg) {
    return {frame({0, 0, 0}, Vec3::UnitZ(), Vec3::UnitX()),
            frame({base, 0, 0}, Vec3::UnitZ(), Vec3::UnitX()),
            crank,
            rocker,
            coupler,
            crank_deg,
            near_deg};
}

// Loop closure a e^i2 + b e^i3 - c e^i4 - d = 0 (Norton, Design of Machinery, position and velocity analysis of the
// four-bar; from memory), differentiated by the crank's angle and by each of the four lengths along the coupler:
// c sin(4-3) d4 = a sin(2-3) d2 - cos(2-3) da - db + cos(4-3) dc + cos(3) dd.
TEST(Adjoint, GivesTheFourBarsSlopesByItsAngleAndItsLengths) {
    const double a = 40, b = 120, c = 80, d = 100;
    const auto plan = Plan::make(four_bar(a, b, c, d, 40, 57).description());
    ASSERT_TRUE(plan.has_value()) << plan.error().message;
    const Closure& rod = plan->description().closures()[0];
    const std::vector<std::vector<Change>> columns{
        {{Quantity::input, 0, Vec3::UnitX()}},
        {{Quantity::anchor_position, rod.a.index, Vec3::UnitX()}},
        {{Quantity::length, 0, Vec3::UnitX()}},
        {{Quantity::anchor_position, rod.b.index, Vec3::UnitX()}},
        {{Quantity::frame_origin, 2, Vec3::UnitX()}},
        {{Quantity::frame_turn, 1, Vec3::UnitZ()}},
        {{Quantity::frame_turn, 2, Vec3::UnitZ()}},
        {{Quantity::input, 0, {2, 0, 0}}, {Quantity::length, 0, {-3, 0, 0}}}};
    Adjoint adjoint(*plan, {{{What::rate, 2, 0, Vec3::UnitX()}}}, columns);
    Workspace ws(*plan);
    for (const double crank_deg : {40.0, 25.0, 110.0, 40.0}) {
        const double input[] = {crank_deg * degree};
        ASSERT_TRUE(solve(*plan, ws, input).closed);
        ASSERT_TRUE(adjoint.at(*plan, ws));
        const auto slopes = adjoint.by_columns(*plan, ws);
        const double two = input[0], four = ws.angle({2});
        const double three =
            std::atan2(c * std::sin(four) - a * std::sin(two), d + c * std::cos(four) - a * std::cos(two));
        const double hold = c * std::sin(four - three), by_crank = a * std::sin(two - three) / hold;
        EXPECT_NEAR(adjoint.by_input(*plan, 0, 0), by_crank, 1e-12);
        EXPECT_NEAR(slopes(0, 0), by_crank, 1e-12);
        EXPECT_NEAR(slopes(0, 1), -std::cos(two - three) / hold, 1e-12);
        EXPECT_NEAR(slopes(0, 2), -1 / hold, 1e-12);
        EXPECT_NEAR(slopes(0, 3), std::cos(four - three) / hold, 1e-12);
        EXPECT_NEAR(slopes(0, 4), std::cos(three) / hold, 1e-12);
        EXPECT_NEAR(slopes(0, 5), by_crank, 1e-12) << "a crank's frame turned is the crank turned";
        EXPECT_NEAR(slopes(0, 6), -1, 1e-12) << "the lever stays where it was, so against its frame it turns back";
        EXPECT_NEAR(slopes(0, 7), 2 * by_crank + 3 / hold, 1e-12);
    }
}

// Four upright links hold a ring's height and both tilts, one too many. One longer by e: least squares of (1, x, y) at
// (+-r, 0) and (0, +-r) gives e / 4 of height and e / (2 r) of tilt, so 3 e / 4 over that link (normal equations, by
// hand).
TEST(Adjoint, SharesAMisfitAsTheNormalEquationsHaveIt) {
    const HeldRing ring;
    const auto plan = Plan::make(ring.description());
    ASSERT_TRUE(plan.has_value()) << plan.error().message;
    Adjoint adjoint(*plan,
                    {{{What::rate, 1, 0, Vec3::UnitX()}},
                     {{What::spin, 1, 0, Vec3::UnitY()}},
                     {{What::point, plan->description().closures()[0].b.index, 0, Vec3::UnitZ()}}},
                    std::vector<std::vector<Change>>{{{Quantity::length, 0, Vec3::UnitX()}}});
    Workspace ws(*plan);
    ASSERT_TRUE(solve(*plan, ws, std::vector<double>{}).closed);
    for (int twice = 0; twice < 2; ++twice) {
        ASSERT_TRUE(adjoint.at(*plan, ws));
        const auto slopes = adjoint.by_columns(*plan, ws);
        EXPECT_NEAR(slopes(0, 0), 0.25, 1e-9);
        EXPECT_NEAR(std::abs(slopes(1, 0)), 0.5 / ring.radius, 1e-9);
        EXPECT_NEAR(slopes(2, 0), 0.25 + 0.5, 1e-9) << "over that link";
    }
}

TEST(Adjoint, RefusesADeadPointAndRecovers) {
    const auto plan = Plan::make(four_bar(80, 120, 40, 100, 70, 20).description());
    ASSERT_TRUE(plan.has_value()) << plan.error().message;
    Adjoint adjoint(*plan, {{{What::rate, 2, 0, Vec3::UnitX()}}}, {});
    InputMotion motion(*plan);
    Workspace ws(*plan);
    ASSERT_TRUE(adjoint.at(*plan, ws));
    const double before = adjoint.by_input(*plan, 0, 0);
    Workspace dead = ws;
    const Closure& rod = plan->description().closures()[0];  // in line with the lever, exactly
    dead.anchors[static_cast<std::size_t>(rod.b.index)] = ws.bodies[2].origin + Vec3(64, 32, 0);
    dead.anchors[static_cast<std::size_t>(rod.a.index)] = ws.bodies[2].origin + Vec3(128, 64, 0);
    dead.joints[1].c = 2;  // it has moved
    EXPECT_FALSE(adjoint.at(*plan, dead));
    EXPECT_FALSE(motion.at(*plan, dead));
    ASSERT_TRUE(adjoint.at(*plan, ws));
    EXPECT_EQ(adjoint.by_input(*plan, 0, 0), before);
    ASSERT_TRUE(motion.at(*plan, ws));
    EXPECT_NEAR(motion.rate(2, 0), before, 1e-12);
}

TEST(Adjoint, AllocatesNothingOnceItIsMade) {
    const auto plan = Plan::make(HeldRing{}.description());
    ASSERT_TRUE(plan.has_value());
    const std::vector<std::vector<Change>> columns{{{Quantity::length, 0, Vec3::UnitX()}},
                                                   {{Quantity::anchor_position, 1, Vec3::UnitZ()}}};
    Adjoint adjoint(*plan, {{{What::rate, 1, 0, Vec3::UnitX()}}}, columns);
    Workspace ws(*plan), moved(*plan);
    moved.joints[1].slide += 1e-3;
    ASSERT_TRUE(adjoint.at(*plan, ws));
    adjoint.by_columns(*plan, ws);
    const long before = testing::allocations();
    for (Workspace* at : {&moved, &ws, &ws}) {
        ASSERT_TRUE(adjoint.at(*plan, *at));
        adjoint.by_columns(*plan, *at);
    }
    EXPECT_EQ(testing::allocations(), before);
}

}  // namespace
}  // namespace swashwright::linkage
