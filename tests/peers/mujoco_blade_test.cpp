// What lays a spinning blade flat, by MuJoCo's inverse dynamics (Debian libmujoco-dev).
#include "tests/peers/mujoco_blade.h"

#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/studies/loads/blade_moment.h"
#include "tests/support/random_head.h"

namespace swashwright::peers {
namespace {

// Rigid blades with precone and with their mass off the axis, at constant speed: the moment that holds one is the
// opposite of ours, within 1e-6 of the largest part of it.
TEST(MujocoBlade, IsHeldByTheOppositeOfTheCentrifugalMoment) {
    std::mt19937_64 bits(11);
    testing::Draw draw(bits);
    double most = 0;
    for (int i = 0; i < 200; ++i) {
        const SpinningBlade b{.mass = draw.between(0.03, 0.3),
                              .span = draw.between(0.2, 0.8),
                              .chord = draw.between(0.02, 0.07),
                              .thickness = draw.between(0.002, 0.009),
                              .along = draw.between(0.1, 0.5),
                              .ahead = draw.between(-0.015, 0.015),
                              .up = draw.between(-0.003, 0.003),
                              .cone = draw.between(-0.15, 0.15),
                              .pitch = draw.between(-0.5, 0.5),
                              .speed = draw.between(50, 400)};
        const double own = (b.chord * b.chord - b.thickness * b.thickness) / 12;
        const studies::MassMoments mass{b.mass * b.along * b.ahead, b.mass * b.along * b.up,
                                        b.mass * (own + b.ahead * b.ahead - b.up * b.up), b.mass * b.ahead * b.up};
        const double ours = studies::centrifugal_moment_nm(mass, b.pitch, b.cone, b.speed);
        const double scale = b.speed * b.speed * (mass.xx_less_tt + std::abs(mass.ax) * 0.15);
        most = std::max(most, std::abs(holding_moment_nm(b) + ours) / scale);
    }
    ::testing::Test::RecordProperty("largest_share", std::to_string(most));
    EXPECT_LE(most, 1e-6);
}

}  // namespace
}  // namespace swashwright::peers
