// The slopes by all inputs at once, and how every point moves by them, against one input at a time (`Tangent::along`).

#include "kinematics/head/input_slopes.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/heads_of_every_kind.h"

namespace swashwright::head {
namespace {

void expect_near(double one, double other, const std::string& words) {
    EXPECT_NEAR(one, other, 1e-12 * std::max(1.0, std::abs(other))) << words;
}

void expect_same(const Slopes& one, const Slopes& other, const std::string& words) {
    expect_near(one.height_mm, other.height_mm, words);
    expect_near(one.tilt_forward_deg, other.tilt_forward_deg, words);
    expect_near(one.tilt_right_deg, other.tilt_right_deg, words);
    ASSERT_EQ(one.pitch_deg.size(), other.pitch_deg.size());
    for (std::size_t k = 0; k < one.pitch_deg.size(); ++k) expect_near(one.pitch_deg[k], other.pitch_deg[k], words);
}

/// Every point as the solver's workspace has it along the last slope that was asked for.
void expect_points_move(Solver& solver, const linkage::InputMotion& motion, int input, double unit) {
    const linkage::Workspace& ws = solver.workspace();
    const auto& anchors = solver.head().plan().description().anchors();
    for (std::size_t a = 0; a < ws.anchors.size(); ++a) {
        const Vec3 velocity = unit * motion.velocity(ws, anchors[a].body.index, ws.anchors[a], input);
        EXPECT_LT((velocity - ws.anchor_drift[a]).norm(), 1e-12 * std::max(1.0, velocity.norm()))
            << solver.head().description().name << ", point " << a << " by input " << input;
    }
}

TEST(InputSlopes, AreThoseByOneInputAfterTheOther) {
    std::mt19937_64 bits(33);
    testing::Draw draw(bits);
    int compared = 0;
    for (const Head& head : testing::heads_of_every_kind(32, 3)) {
        InputSlopes slopes(head);
        Solver solver(head);
        Sticks sticks = testing::some_sticks(draw);
        for (int pose = 0; pose < 6; ++pose) {
            if (pose % 2 == 0) sticks = testing::some_sticks(draw);  // every second time the rotor alone turns
            if (!solver.pose(sticks, draw.between(0, 360)) || !solver.linearise()) continue;
            ASSERT_TRUE(slopes.at(solver));
            if (pose != 2) slopes.motion().move_bodies(head.plan(), solver.workspace());  // once it is left out
            const int servos = static_cast<int>(head.description().servos.size());
            for (int input = 0; input <= servos; ++input) {
                Slopes one, other;
                input < servos ? slopes.by_horn(input, one) : slopes.by_azimuth(one);
                input < servos ? solver.slopes_by_horn(input, other) : solver.slopes_by_azimuth(other);
                expect_same(one, other, head.description().name);
                const bool reversed = input == servos && head.description().rotor.direction == Direction::clockwise;
                if (pose != 2) expect_points_move(solver, slopes.motion(), input, reversed ? -degree : degree);
                ++compared;
            }
        }
    }
    EXPECT_GT(compared, 400);
}

}  // namespace
}  // namespace swashwright::head
