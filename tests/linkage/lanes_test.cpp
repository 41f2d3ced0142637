// Eight poses at once give what one at a time gives, by every kernel that this machine can run.

#include "kinematics/linkage/lanes.h"

#include <gtest/gtest.h>

#include <random>

#include "kinematics/linkage/solve.h"
#include "tests/linkage/cases.h"
#include "tests/support/allocations.h"

namespace swashwright::linkage {
namespace {

TwoCranks four_bar(double crank, double coupler, double rocker, double ground, double input_deg, double near_deg) {
    const Vec3 z = Vec3::UnitZ(), x = Vec3::UnitX();
    return {frame(Vec3::Zero(), z, x), frame(ground * x, z, x), crank, rocker, coupler, input_deg, near_deg};
}

/// A coupler as a body of its own on a ball joint, tied at a point, its roll held by a pin: four unknowns together, a
/// ball, a coincidence. On the ground a slide, driven; on that a post that nothing drives.
struct Coupler {
    Description d;
    BodyId crank, coupler, rocker, post;

    Coupler() {
        const BodyId slide = d.add_body({.name = "slide",
                                         .parent = Description::ground,
                                         .joint_frame = frame({0, 0, 0}, Vec3::UnitX(), Vec3::UnitY()),
                                         .joint = Joint::prismatic,
                                         .input = true,
                                         .neutral = {}});
        crank = d.add_body({.name = "crank",
                            .parent = slide,
                            .joint_frame = frame(Vec3::Zero(), Vec3::UnitY(), Vec3::UnitZ()),
                            .joint = Joint::revolute,
                            .input = true,
                            .neutral = {.angle = 40 * degree}});
        coupler = d.add_body({.name = "coupler",
                              .parent = crank,
                              .joint_frame = frame({40, 0, 0}, Vec3::UnitZ(), Vec3::UnitX()),
                              .joint = Joint::ball,
                              .neutral = {.turn = Quat(Eigen::AngleAxisd(-15 * degree, Vec3::UnitZ()))}});
        rocker = d.add_body({.name = "rocker",
                             .parent = Description::ground,
                             .joint_frame = frame({100, 0, 0}, Vec3::UnitZ(), Vec3::UnitX()),
                             .joint = Joint::revolute,
                             .neutral = {.angle = 50 * degree}});
        post = d.add_body({.name = "post",
                           .parent = rocker,
                           .joint_frame = frame({7, 1, 2}, Vec3::UnitX(), Vec3::UnitY()),
                           .joint = Joint::fixed,
                           .neutral = {}});
        d.add_coincidence("far end", d.add_anchor(coupler, {120, 0, 0}), d.add_anchor(rocker, {80, 0, 0}));
        d.add_slot("pin", d.add_anchor(coupler, {0, 10, 0}), d.add_anchor(Description::ground, Vec3::Zero()),
                   Vec3::UnitZ());
    }
};

TEST(Lanes, ADrivenBodyTurnsByCosineAndSineHoweverFar) {
    const auto plan = Plan::make(four_bar(40, 120, 80, 100, 40, 50).description());
    ASSERT_TRUE(plan);
    const auto lane_plan = LanePlan::make(*plan);
    ASSERT_TRUE(lane_plan);
    for (const LaneKernel* kernel : lane_kernels()) {
        LaneWorkspace ws(*plan, *lane_plan, *kernel);
        std::mt19937_64 bits(1);
        for (const double most : {1.0, 7.0, 1000.0, 99'000.0, 1e7})  // the last is left to the solver of one pose
            for (int round = 0; round < 500; ++round) {
                for (double& angle : ws.inputs[0].of) angle = std::uniform_real_distribution<double>(-most, most)(bits);
                if (round == 0) ws.inputs[0].of = {0, pi, -pi, pi / 2, -pi / 2, pi / 4, 2 * pi, -0.0};
                ASSERT_EQ(solve_lanes(*plan, *lane_plan, ws), all_lanes);
                settle_lanes(*lane_plan, ws);
                for (int lane = 0; lane < lanes; ++lane) {
                    const Vec3 along = lane_placement(*lane_plan, ws, BodyId{1}, lane).turn.col(0);
                    EXPECT_NEAR(along.x(), std::cos(ws.inputs[0][lane]), 2.3e-16) << kernel->name;
                    EXPECT_NEAR(along.y(), std::sin(ws.inputs[0][lane]), 2.3e-16) << ws.inputs[0][lane];
                }
            }
    }
}

TEST(Lanes, AnAngleIsTheArctangentEverywhere) {
    const auto plan = Plan::make(four_bar(40, 120, 80, 100, 40, 50).description());
    const auto lane_plan = LanePlan::make(*plan);
    for (const LaneKernel* kernel : lane_kernels()) {
        const LaneWorkspace ws(*plan, *lane_plan, *kernel);
        for (int i = -40000; i < 40000; i += lanes) {
            LaneValues c, s;
            for (int lane = 0; lane < lanes; ++lane) {
                const double angle = pi * (i + lane + 1) / 40000.0;
                c[lane] = 3.0 * std::cos(angle), s[lane] = 3.0 * std::sin(angle);
            }
            const LaneValues found = lane_angles(ws, c, s);
            for (int lane = 0; lane < lanes; ++lane) {
                const double wanted = std::atan2(s[lane], c[lane]);
                EXPECT_NEAR(found[lane], wanted, 7e-16 * std::max(0.5, std::abs(wanted))) << kernel->name;
            }
        }
    }
}

// Rows of `FourBar.RockerStandsWhereFreudensteinPutsItOpenAndCrossed`, each a lane of its own: Freudenstein's equation
// (Trans. ASME 77, 1955, 853-861).
TEST(Lanes, LinkagesOfOneMakeStandWhereFreudensteinPutsThem) {
    const TwoCranks rows[lanes] = {four_bar(40, 120, 80, 100, 40, 50),   four_bar(40, 120, 80, 100, 40, -90),
                                   four_bar(2, 7, 9, 6, 30, 110),        four_bar(2, 7, 9, 6, 30, -150),
                                   four_bar(40, 90, 70, 100, 45, 80),    four_bar(40, 90, 70, 100, 45, -120),
                                   four_bar(40, 120, 80, 100, 40, 50.1), four_bar(10, 20, 30, 100, 40, 50)};
    const double wanted_deg[lanes] = {57.324880, 0, 117.286068, 0, 83.200015, 0, 57.324880, 0};
    const auto plan = Plan::make(rows[0].description());
    const auto lane_plan = LanePlan::make(*plan);
    for (const LaneKernel* kernel : lane_kernels()) {
        LaneWorkspace ws(*plan, *lane_plan, *kernel);
        for (int twice = 0; twice < 2; ++twice) {
            for (int lane = 0; lane < lanes; ++lane)
                ASSERT_TRUE(load_lane(*plan, *lane_plan, ws, lane, rows[lane].description()));
            // Crossed ones, and the one too short to close, are not of the plan's side: to be planned alone.
            EXPECT_EQ(start_lanes(*plan, *lane_plan, ws), 0b01010101U) << kernel->name;
            const LaneValues angles = lane_angles(*lane_plan, ws, TwoCranks::lever);
            for (const int lane : {0, 2, 4, 6}) EXPECT_NEAR(angles[lane] / degree, wanted_deg[lane], 1e-6);
            for (const int lane : {0, 2, 4, 6}) ws.inputs[0][lane] += 0.2;
            EXPECT_EQ(move_lanes(*lane_plan, ws) & 0b01010101U, 0b01010101U);
        }
    }
}

TEST(Lanes, ABlockOfFourUnknownsStandsWhereOneAtATimeDoes) {
    const Coupler linkage;
    const auto plan = Plan::make(linkage.d);
    ASSERT_TRUE(plan) << plan.error().message;
    ASSERT_TRUE(plan->neutral_shortfalls().empty());
    const auto lane_plan = LanePlan::make(*plan);
    ASSERT_TRUE(lane_plan);
    for (const LaneKernel* kernel : lane_kernels()) {
        LaneWorkspace ws(*plan, *lane_plan, *kernel);
        std::vector<Workspace> single(lanes, Workspace(*plan));
        std::mt19937_64 bits(3);
        const auto off = [&](double most) { return std::uniform_real_distribution<double>(-most, most)(bits); };
        int closed = 0;
        for (int pose = 0; pose < 200; ++pose) {
            const double reach = pose % 5 == 4 ? 60 : 8;  // mm; some far out of reach
            for (int lane = 0; lane < lanes; ++lane) {
                ws.inputs[0][lane] = off(reach);
                ws.inputs[1][lane] = (50 + off(30)) * degree;
            }
            const LaneSet set = solve_lanes(*plan, *lane_plan, ws);
            settle_lanes(*lane_plan, ws);
            for (int lane = 0; lane < lanes; ++lane) {
                Workspace& one = single[static_cast<std::size_t>(lane)];
                const double inputs[] = {ws.inputs[0][lane], ws.inputs[1][lane]};
                ASSERT_EQ(solve(*plan, one, inputs).closed, bool(set >> lane & 1U)) << kernel->name << ' ' << pose;
                closed += int(set >> lane & 1U);
                for (int b = 1; b <= linkage.post.index; ++b) {
                    const Placement at = lane_placement(*lane_plan, ws, {b}, lane);
                    EXPECT_LT((at.origin - one.placement({b}).origin).norm(), 1e-10) << kernel->name;
                    EXPECT_LT((at.turn - one.placement({b}).turn).norm(), 1e-12) << kernel->name;
                }
            }
        }
        EXPECT_GT(closed, 1000);
        EXPECT_LT(closed, 200 * lanes);
        EXPECT_GT(ws.solved_alone, 0);
    }
}

TEST(Lanes, WhatALaneGivesDoesNotDependOnItsNeighbours) {
    const Coupler linkage;
    const auto plan = Plan::make(linkage.d);
    const auto lane_plan = LanePlan::make(*plan);
    for (const LaneKernel* kernel : lane_kernels()) {
        std::array<LaneWorkspace, 2> both{LaneWorkspace(*plan, *lane_plan, *kernel),
                                          LaneWorkspace(*plan, *lane_plan, *kernel)};
        std::mt19937_64 bits(5);
        const auto off = [&](double most) { return std::uniform_real_distribution<double>(-most, most)(bits); };
        for (int pose = 0; pose < 100; ++pose) {
            const double slide = off(8), angle = (50 + off(30)) * degree;
            std::array<double, 2> found{};
            for (std::size_t i = 0; i < 2; ++i) {
                for (int lane = 0; lane < lanes; ++lane) {  // the others somewhere, now and then nowhere
                    both[i].inputs[0][lane] = off(pose % 7 ? 8 : 60);
                    both[i].inputs[1][lane] = (50 + off(30)) * degree;
                }
                const int lane = pose % 3 + 1;
                both[i].inputs[0][lane] = slide;
                both[i].inputs[1][lane] = angle;
                reset_lanes(*plan, *lane_plan, both[i]);
                both[i].inputs[0][lane] = slide, both[i].inputs[1][lane] = angle;
                solve_lanes(*plan, *lane_plan, both[i]);
                found[i] = lane_angles(*lane_plan, both[i], linkage.rocker)[lane];
            }
            EXPECT_EQ(found[0], found[1]) << kernel->name;
        }
    }
}

TEST(Lanes, FewerThanEightLeaveTheirAnswerAsItIsAndAllocateNothing) {
    const Coupler linkage;
    const auto plan = Plan::make(linkage.d);
    const auto lane_plan = LanePlan::make(*plan);
    for (const LaneKernel* kernel : lane_kernels()) {
        LaneWorkspace all(*plan, *lane_plan, *kernel), some(*plan, *lane_plan, *kernel);
        for (int used = 1; used <= lanes; ++used) {
            for (int lane = 0; lane < lanes; ++lane) {
                all.inputs[0][lane] = some.inputs[0][lane] = 0.1 * used - 0.2 * lane;
                all.inputs[1][lane] = some.inputs[1][lane] = (40 + 0.3 * used + 0.2 * lane) * degree;
            }
            const long before = testing::allocations();
            EXPECT_EQ(solve_lanes(*plan, *lane_plan, some, used), (1U << used) - 1);
            EXPECT_EQ(testing::allocations(), before);
            EXPECT_EQ(solve_lanes(*plan, *lane_plan, all), all_lanes);
            for (int lane = 0; lane < used; ++lane)
                EXPECT_NEAR(lane_angles(*lane_plan, some, linkage.rocker)[lane],
                            lane_angles(*lane_plan, all, linkage.rocker)[lane], 1e-12);
        }
        EXPECT_EQ(some.solved_alone, 0);
    }
}

/// Four links where three would do, each lane's off in its own way: least squares, as the plan of each alone has it.
TEST(Lanes, ASharedMisfitIsLeastInEveryLane) {
    std::mt19937_64 bits(9);
    const auto off = [&] { return std::uniform_real_distribution<double>(-0.4, 0.4)(bits); };
    const auto plan = Plan::make(HeldRing{}.description());
    ASSERT_TRUE(plan);
    const auto lane_plan = LanePlan::make(*plan);
    ASSERT_TRUE(lane_plan);
    for (const LaneKernel* kernel : lane_kernels()) {
        LaneWorkspace ws(*plan, *lane_plan, *kernel);
        for (int twice = 0; twice < 2; ++twice) {
            std::vector<Description> rings;
            for (int lane = 0; lane < lanes; ++lane) {
                HeldRing ring;
                for (double& error : ring.error) error = off();
                rings.push_back(ring.description());
                ASSERT_TRUE(load_lane(*plan, *lane_plan, ws, lane, rings.back()));
            }
            EXPECT_EQ(start_lanes(*plan, *lane_plan, ws), all_lanes);
            for (int lane = 0; lane < lanes; ++lane) {
                const auto alone = Plan::make(rings[static_cast<std::size_t>(lane)]);
                ASSERT_TRUE(alone);
                const Placement wanted = Workspace(*alone).placement(HeldRing::ring);
                const Placement found = lane_placement(*lane_plan, ws, HeldRing::ring, lane);
                EXPECT_LT((found.origin - wanted.origin).norm(), 1e-10) << kernel->name;
                EXPECT_LT((found.turn - wanted.turn).norm(), 1e-11) << kernel->name;
            }
        }
    }
}

TEST(Lanes, AreRefusedWhereNothingCloses) {
    const auto apart = Plan::make(four_bar(10, 20, 30, 100, 40, 50).description());
    ASSERT_TRUE(apart);
    EXPECT_FALSE(LanePlan::make(*apart));
}

}  // namespace
}  // namespace swashwright::linkage
