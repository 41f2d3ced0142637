#include "kinematics/studies/pitch/harmonics.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "kinematics/linkage/solve.h"
#include "tests/linkage/cases.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using linkage::BodyId;
using linkage::frame;
using linkage::Joint;

/// A ring given by lift z and a rotation vector (rx, ry, 0) under one grip: feathering axis at height 40, grip ball 10
/// out and 20 ahead, ring ball at radius sqrt(500) under it, link of 40. Azimuth runs from +x; there is no pin.
std::vector<double> turn_of_given_ring(double lift, double rx_deg, double ry_deg, int samples) {
    linkage::Description d;
    const double lean = std::hypot(rx_deg, ry_deg), about = std::atan2(ry_deg, rx_deg);
    const Vec3 axis(std::cos(about), std::sin(about), 0), across(-axis.y(), axis.x(), 0);
    const BodyId rise = d.add_body({.name = "lift",
                                    .parent = linkage::Description::ground,
                                    .joint_frame = {},
                                    .joint = Joint::prismatic,
                                    .input = true,
                                    .neutral = {}});
    const BodyId tilt = d.add_body({.name = "tilt",
                                    .parent = rise,
                                    .joint_frame = frame(Vec3::Zero(), axis, across),
                                    .joint = Joint::revolute,
                                    .input = true,
                                    .neutral = {}});
    Placement level;
    level.turn = frame(Vec3::Zero(), axis, across).turn.transpose();
    const BodyId ring = d.add_body(
        {.name = "ring", .parent = tilt, .joint_frame = level, .joint = Joint::revolute, .input = true, .neutral = {}});
    const BodyId hub = d.add_body({.name = "hub",
                                   .parent = linkage::Description::ground,
                                   .joint_frame = {},
                                   .joint = Joint::revolute,
                                   .input = true,
                                   .neutral = {}});
    const BodyId grip = d.add_body({.name = "grip",
                                    .parent = hub,
                                    .joint_frame = frame({0, 0, 40}, Vec3::UnitX(), Vec3::UnitY()),
                                    .joint = Joint::revolute,
                                    .neutral = {}});
    d.add_link("link", d.add_anchor(ring, {10, 20, 0}), d.add_anchor(grip, {20, 0, 10}), 40);
    const auto plan = linkage::Plan::make(d);
    if (!plan) throw std::runtime_error(plan.error().message);
    linkage::Workspace ws(*plan);
    std::vector<double> pitch;
    for (int i = 0; i < samples; ++i) {
        const double azimuth = 2 * pi * i / samples;
        const double inputs[] = {lift, lean * degree, azimuth, azimuth};
        EXPECT_TRUE(linkage::solve(*plan, ws, inputs).closed);
        pitch.push_back(ws.angle(grip) / degree);
    }
    return pitch;
}

// An independent computation of this ring and grip by vector algebra, printed to six figures.
TEST(Harmonics, OfAGivenRingMatchAnIndependentComputation) {
    struct Row {
        double z, rx, ry, mean, c1, s1, c2, s2, amplitude, azimuth;
    };
    for (const Row& row : {Row{0, 6, 0, -0.000118, 5.999317, 2.999659, 0.000067, -0.000135, 6.70744, 26.5651},
                           Row{4, 6, 0, 11.567904, 6.111259, 3.055084, 0.022995, 0.029054, 6.83235, 26.5610},
                           Row{4, 0, 6, 11.567904, -3.055084, 6.111259, -0.022995, -0.029054, 6.83235, 116.5610},
                           Row{-4, 6, 0, -11.590059, 6.138629, 3.069872, -0.027555, -0.038370, 6.86345, 26.5692}}) {
        const Harmonics h = harmonics(turn_of_given_ring(row.z, row.rx, row.ry, 36));
        EXPECT_NEAR(h.mean, row.mean,
                    1e-6);  // half a unit of the last printed figure, and as much for the reference's own
        EXPECT_NEAR(h.of[0].cosine, row.c1, 1e-6);
        EXPECT_NEAR(h.of[0].sine, row.s1, 1e-6);
        EXPECT_NEAR(h.of[1].cosine, row.c2, 1e-6);
        EXPECT_NEAR(h.of[1].sine, row.s2, 1e-6);
        EXPECT_NEAR(h.first().amplitude(), row.amplitude, 1e-5);
        EXPECT_NEAR(h.first().azimuth_of_most_deg(), row.azimuth, 1e-4);
    }
}

RC_GTEST_PROP(Harmonics, AreReadBackFromTheSumTheyMake, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    const int count = draw.whole(7, 60);
    const double from = draw.between(-400, 400), mean = draw.between(-20, 20);
    double amplitude[3], azimuth[3];
    for (int n = 0; n < 3; ++n) {
        amplitude[n] = draw.between(0.01, 9);
        azimuth[n] = draw.between(0, 360.0 / (n + 1));
    }
    std::vector<double> samples;
    for (int i = 0; i < count; ++i) {
        double sum = mean;
        for (int n = 0; n < 3; ++n)
            sum += amplitude[n] * std::cos((n + 1) * (from + 360.0 * i / count - azimuth[n]) * degree);
        samples.push_back(sum);
    }
    const Harmonics h = harmonics(samples, from);
    RC_ASSERT(std::abs(h.mean - mean) < 1e-12);
    for (int n = 0; n < 3; ++n) {
        RC_ASSERT(std::abs(h.of[n].amplitude() - amplitude[n]) < 1e-11);
        RC_ASSERT(std::abs(std::remainder(h.of[n].azimuth_of_most_deg(n + 1) - azimuth[n], 360.0 / (n + 1))) < 1e-8);
    }
}

TEST(Harmonics, OfRandomHeadsChangeWithTheSticksAsDifferencesSay) {
    int compared = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const auto head = head::Head::build(testing::random_head(seed));
        ASSERT_TRUE(head) << head.error().message;
        const head::Sticks at{0.3, 0.4, -0.2};
        const double step = 1e-4;
        const auto slopes = harmonic_slopes(*head, at, [](head::Solver& solver, head::Slopes& out) {
            solver.slopes_by_stick(head::Solver::Stick::aileron, out);
        });
        const auto here = pitch_harmonics(*head, at);
        const auto low = pitch_harmonics(*head, {0.3, 0.4 - step, -0.2}),
                   high = pitch_harmonics(*head, {0.3, 0.4 + step, -0.2});
        if (!slopes || !here || !low || !high) continue;
        ++compared;
        for (std::size_t k = 0; k < slopes->size(); ++k) {
            const Harmonic &l = (*low)[k].first(), &h = (*high)[k].first(), &s = (*slopes)[k].first();
            // A step of 1e-4 of a stick: truncation about 1e-8 of a swing of 10 deg, rounding 1e-11 / 1e-4.
            EXPECT_NEAR((*slopes)[k].mean, ((*high)[k].mean - (*low)[k].mean) / (2 * step), 1e-5);
            EXPECT_NEAR(amplitude_slope((*here)[k].first(), s), (h.amplitude() - l.amplitude()) / (2 * step), 1e-5);
            EXPECT_NEAR(azimuth_slope_deg((*here)[k].first(), s),
                        within_half_turn(h.azimuth_of_most_deg() - l.azimuth_of_most_deg()) / (2 * step), 1e-3);
        }
    }
    EXPECT_GT(compared, 50);
}

TEST(Harmonics, PlaceABladeByItsAzimuth) {
    head::Description d;
    d.rotor.direction = head::Direction::clockwise;
    EXPECT_DOUBLE_EQ(position_deg(d, 0), 180);  // the tail
    EXPECT_DOUBLE_EQ(position_deg(d, 90), 90);  // the left: clockwise from above goes from the tail over the left
    d.rotor.direction = head::Direction::anticlockwise;
    EXPECT_DOUBLE_EQ(position_deg(d, 90), -90);  // the right
    EXPECT_DOUBLE_EQ(within_half_turn(-180), 180);
}

}  // namespace
}  // namespace swashwright::studies
