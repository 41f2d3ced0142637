// What the planner refuses, and what a warm solve costs in memory.

#include "kinematics/linkage/plan.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "kinematics/linkage/solve.h"
#include "tests/linkage/cases.h"
#include "tests/support/allocations.h"

namespace swashwright::linkage {
namespace {

std::string refusal(const Description& d) {
    const auto plan = Plan::make(d);
    return plan ? "" : plan.error().message;
}

TEST(Plan, RefusesWhatNoSolverCanTake) {
    Description ball;
    ball.add_body({.name = "stick",
                   .parent = Description::ground,
                   .joint_frame = {},
                   .joint = Joint::ball,
                   .input = true,
                   .neutral = {}});
    EXPECT_EQ(refusal(ball), "stick: only a turning or a sliding joint can be driven");

    Description orphan;
    orphan.add_body({.name = "arm", .parent = {3}, .joint_frame = {}, .joint = Joint::revolute, .neutral = {}});
    EXPECT_EQ(refusal(orphan), "arm: its parent must be added before it");

    Description many;
    for (int i = 0; i < 65; ++i)
        many.add_body({.name = "horn",
                       .parent = Description::ground,
                       .joint_frame = {},
                       .joint = Joint::revolute,
                       .input = true,
                       .neutral = {}});
    EXPECT_EQ(refusal(many), "65 driven joints; at most 64 are solved");

    Description nothing;
    const AnchorId a = nothing.add_anchor(Description::ground, Vec3::Zero());
    nothing.add_link("rod", a, a, 0);
    EXPECT_EQ(refusal(nothing), "rod: its length must be above 0, found 0");

    Description loose;
    loose.add_body(
        {.name = "arm", .parent = Description::ground, .joint_frame = {}, .joint = Joint::revolute, .neutral = {}});
    EXPECT_EQ(refusal(loose), "nothing stops the arm from turning");
}

TEST(Plan, RefusesAnchorsThatStandNowhere) {
    Description nobody;
    nobody.add_anchor({7}, Vec3::Zero());
    EXPECT_EQ(refusal(nobody), "an anchor stands on no body or at no finite place");

    Description nowhere;
    nowhere.add_anchor(Description::ground, Vec3(0, std::nan(""), 0));
    EXPECT_EQ(refusal(nowhere), "an anchor stands on no body or at no finite place");

    Description untied;
    untied.add_link("rod", untied.add_anchor(Description::ground, Vec3::Zero()), {5}, 10);
    EXPECT_EQ(refusal(untied), "rod: it must tie two anchors");
}

TEST(Plan, RefusesMoreUnknownsInOneLoopThanItSolves) {
    // Levers in a circle, each tied to the next: no rod can be closed before the others.
    constexpr int count = 17;
    Description d;
    std::vector<BodyId> levers;
    for (int i = 0; i < count; ++i)
        levers.push_back(d.add_body({.name = "lever",
                                     .parent = Description::ground,
                                     .joint_frame = frame({20.0 * i, 0, 0}, Vec3::UnitZ(), Vec3::UnitX()),
                                     .joint = Joint::revolute,
                                     .neutral = {}}));
    for (int i = 0; i < count; ++i)
        d.add_link("rod", d.add_anchor(levers[static_cast<std::size_t>(i)], {0, 10, 0}),
                   d.add_anchor(levers[static_cast<std::size_t>((i + 1) % count)], {0, 15, 0}), 20);
    EXPECT_EQ(refusal(d), "17 unknowns hang together in one loop; at most 16 are solved");
}

TEST(Plan, NamesASlideThatNothingHolds) {
    Description d;
    d.add_body(
        {.name = "slider", .parent = Description::ground, .joint_frame = {}, .joint = Joint::prismatic, .neutral = {}});
    EXPECT_EQ(refusal(d), "nothing stops the slider from sliding");

    // Pins in planes through the axis hold the piston's three rotations and leave its slide.
    Description piston;
    const BodyId body = piston.add_body({.name = "piston",
                                         .parent = Description::ground,
                                         .joint_frame = {},
                                         .joint = Joint::slide_and_ball,
                                         .neutral = {}});
    const AnchorId axis = piston.add_anchor(Description::ground, Vec3::Zero());
    piston.add_slot("guide pin", piston.add_anchor(body, {30, 0, 0}), axis, Vec3::UnitY());
    for (const Vec3& normal : {Vec3(Vec3::UnitX()), Vec3(Vec3::UnitY())})
        piston.add_slot("rod end", piston.add_anchor(body, {0, 0, 20}), axis, normal);
    EXPECT_EQ(refusal(piston), "nothing stops the piston from sliding along its axis");
}

TEST(Plan, ARodSquareToItsSliderIsToldAsADeadPoint) {
    Description d;
    const BodyId slider = d.add_body(
        {.name = "slider", .parent = Description::ground, .joint_frame = {}, .joint = Joint::prismatic, .neutral = {}});
    d.add_link("rod", d.add_anchor(Description::ground, {10, 0, 0}), d.add_anchor(slider, Vec3::Zero()), 10);
    EXPECT_EQ(refusal(d), "rod stands at a dead point at neutral: it cannot stop the slider from sliding");
}

TEST(Plan, ACrankInLineWithItsRodIsToldAsADeadPoint) {
    const Vec3 z = Vec3::UnitZ(), x = Vec3::UnitX();
    // Lever of 80 pointing straight away from the crank's ball: 100 + 80 - 40 = 140 is as far as it reaches.
    const TwoCranks stretched{frame(Vec3::Zero(), z, x), frame(100 * x, z, x), 40, 80, 140, 0, 5};
    EXPECT_EQ(refusal(stretched.description()),
              "rod stands at a dead point at neutral: it cannot stop the lever from turning");
}

TEST(Solve, AllocatesNothingOnceTheWorkspaceStands) {
    const auto ring = Plan::make(HeldRing{.error = {0.1, 0, 0, 0}}.description());
    const Vec3 z = Vec3::UnitZ(), x = Vec3::UnitX();
    const auto cranks =
        Plan::make(TwoCranks{frame(Vec3::Zero(), z, x), frame(100 * x, z, x), 40, 80, 120, 40, 57}.description());
    ASSERT_TRUE(ring && cranks);
    Workspace ring_ws(*ring), crank_ws(*cranks);
    double input[1] = {0.7};
    solve(*cranks, crank_ws, input);
    const long before = testing::allocations();
    for (int i = 0; i < 100; ++i) {
        input[0] = 0.7 + 0.01 * i;
        solve(*cranks, crank_ws, input);
        forget(ring_ws);
        solve(*ring, ring_ws, {});
    }
    EXPECT_EQ(testing::allocations() - before, 0);
}

}  // namespace
}  // namespace swashwright::linkage
