// Rings with too few and too many things that hold them.

#include <gtest/gtest.h>

#include "kinematics/linkage/place.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/solve.h"
#include "kinematics/linkage/tangent.h"
#include "tests/linkage/cases.h"

namespace swashwright::linkage {
namespace {

TEST(HeldRing, WithoutItsGuidePinTheFreeRotationIsNamed) {
    // Four links match four unknowns, so only rank can tell; three links leave an unknown unmatched.
    const auto four = Plan::make(HeldRing{.count = 4, .guided = false}.description());
    ASSERT_FALSE(four.has_value());
    EXPECT_EQ(four.error().message, "nothing stops the ring from turning about its own axis at neutral");
    const auto three = Plan::make(HeldRing{.count = 3, .guided = false}.description());
    ASSERT_FALSE(three.has_value());
    EXPECT_EQ(three.error().message, "nothing stops the ring from turning about its own axis");
}

TEST(HeldRing, WithTwoLinksItsTiltIsFree) {
    const auto two = Plan::make(HeldRing{.count = 2}.description());
    ASSERT_FALSE(two.has_value());
    EXPECT_EQ(two.error().message, "nothing stops the ring from tilting");
}

// To first order a level square ring on vertical rods can follow three of the four modes of their lengths; the fourth,
// signs alternating, is the misfit. One link 0.2 mm long has a quarter of it: 0.05 mm at each link. Second order is
// (0.2 mm)^2 over a 30 mm rod: under 0.001 mm.
TEST(HeldRing, FourLinksShareAMisfitEquallyWithSignsAlternating) {
    const auto plan = Plan::make(HeldRing{.error = {0.2, 0, 0, 0}}.description());
    ASSERT_TRUE(plan.has_value()) << plan.error().message;
    ASSERT_EQ(plan->blocks().size(), 1u);
    EXPECT_EQ(plan->blocks()[0].kind, BlockKind::shared);
    const Workspace ws(*plan);
    double sign = -1;
    for (const Row& row : plan->blocks()[0].rows) {
        if (!row.least_squares) {
            EXPECT_NEAR(closure_error(ws, row), 0, 1e-11) << "the guide stays exact";
            continue;
        }
        EXPECT_NEAR(closure_error(ws, row), sign * 0.05, 1e-3);
        sign = -sign;
    }
    EXPECT_EQ(ws.slide(HeldRing::ring) > 50, true) << "a longer link lifts the ring";
}

TEST(HeldRing, DerivativesOfASharedMisfitEqualCentralDifferences) {
    HeldRing held{.error = {0.8, -0.3, 0.1, 0.2}};
    const auto plan = Plan::make(held.description());
    ASSERT_TRUE(plan.has_value());
    Workspace ws(*plan);
    Tangent tangent(*plan);
    ASSERT_TRUE(tangent.at(*plan, ws));
    const double step = 1e-4;  // truncation of order step^2 / arm^2, rounding 1e-12 / step: both under 1e-7
    for (int i = 0; i < 4; ++i) {
        const Change longer{Quantity::length, i, {1, 0, 0}};
        tangent.along(*plan, ws, {&longer, 1});
        double slide[2];
        Vec3 normal[2];
        for (const int side : {0, 1}) {
            HeldRing moved = held;
            moved.error[static_cast<std::size_t>(i)] += side ? step : -step;
            const auto again = Plan::make(moved.description());
            ASSERT_TRUE(again.has_value());
            const Workspace there(*again);
            slide[side] = there.slide(HeldRing::ring);
            normal[side] = there.placement(HeldRing::ring).turn.col(2);
        }
        EXPECT_NEAR(rate(ws, HeldRing::ring), (slide[1] - slide[0]) / (2 * step), 1e-7);
        const Vec3 turning = ws.spin[HeldRing::ring.index].cross(ws.placement(HeldRing::ring).turn.col(2));
        EXPECT_LT((turning - (normal[1] - normal[0]) / (2 * step)).norm(), 1e-8);
    }
}

/// A ring tilted by `tilt_deg` about an axis at `axis_deg`, an outer ring on it, and two driver pins opposite each
/// other at `height` above its tilt centre, held in one plane through the shaft.
struct Driven {
    double height = 6, radius = 22;

    Description description() const {
        Description d;
        const BodyId axis = d.add_body({.name = "tilt axis",
                                        .parent = Description::ground,
                                        .joint_frame = {},
                                        .joint = Joint::revolute,
                                        .input = true,
                                        .neutral = {}});
        const BodyId tilt = d.add_body({.name = "tilt",
                                        .parent = axis,
                                        .joint_frame = frame({0, 0, 40}, Vec3::UnitX(), Vec3::UnitY()),
                                        .joint = Joint::revolute,
                                        .input = true,
                                        .neutral = {}});
        Placement level;
        level.turn = frame(Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY()).turn.transpose();
        const BodyId outer = d.add_body(
            {.name = "outer ring", .parent = tilt, .joint_frame = level, .joint = Joint::revolute, .neutral = {}});
        const AnchorId shaft = d.add_anchor(Description::ground, Vec3::Zero());
        for (const double side : {1.0, -1.0})
            d.add_slot("driver pin", d.add_anchor(outer, {side * radius, 0, height}), shaft, Vec3::UnitY(), 2);
        return d;
    }
};

TEST(TwoDriverPins, ShareTheirMisfitEquallyAtFiveDegreesOfTilt) {
    for (const double axis_deg : {0.0, 30.0, 45.0, 100.0}) {
        const auto plan = Plan::make(Driven{}.description());
        ASSERT_TRUE(plan.has_value()) << plan.error().message;
        Workspace ws(*plan);
        const std::vector<double> inputs{axis_deg * degree, 5 * degree};
        ASSERT_TRUE(solve(*plan, ws, inputs).closed);
        const auto& rows = plan->blocks()[0].rows;
        const double one = closure_error(ws, rows[0]), other = closure_error(ws, rows[1]);
        // Pins at +-p + g n: their offsets from the plane are +-p.y + g n.y; the mean, g n.y, is all that cannot be
        // turned away (n: the ring's normal). By hand: n.y = -sin(5 deg) cos(axis).
        const double left = -6 * std::sin(5 * degree) * std::cos(axis_deg * degree);
        EXPECT_NEAR(one, left, 1e-9);
        EXPECT_NEAR(other, left, 1e-9);
    }
}

TEST(TwoDriverPins, AtTheTiltCentresHeightFitWithoutPlay) {
    const auto plan = Plan::make(Driven{.height = 0}.description());
    ASSERT_TRUE(plan.has_value());
    Workspace ws(*plan);
    const std::vector<double> inputs{30 * degree, 5 * degree};
    ASSERT_TRUE(solve(*plan, ws, inputs).closed);
    for (const Row& row : plan->blocks()[0].rows) EXPECT_NEAR(closure_error(ws, row), 0, 1e-11);
}

}  // namespace
}  // namespace swashwright::linkage
