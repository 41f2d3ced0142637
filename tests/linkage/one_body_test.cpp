// The block of one body held by four rows has a layout of its own; the general square solver judges it.

#include <gtest/gtest.h>

#include <random>

#include "kinematics/linkage/solve.h"
#include "tests/linkage/cases.h"

namespace swashwright::linkage {
namespace {

struct HornRing {
    Description d;
    BodyId ring;
    AnchorId balls[3];
};

/// Three driven horns under a ring with a guide pin. On a post of its own the ring does not stand on the ground's
/// frame, so the general solver takes it.
HornRing horn_ring(std::mt19937& random, bool on_post) {
    const auto off = [&](double most) { return std::uniform_real_distribution<double>(-most, most)(random); };
    HornRing out;
    Description& d = out.d;
    BodyId base = Description::ground;
    if (on_post)
        base = d.add_body({.name = "post", .parent = base, .joint_frame = {}, .joint = Joint::fixed, .neutral = {}});
    BodyId horns[3];
    double azimuth[3];
    for (int i = 0; i < 3; ++i) {
        azimuth[i] = 2 * pi * i / 3 + off(0.3);
        const Vec3 outwards(std::cos(azimuth[i]), std::sin(azimuth[i]), 0);
        horns[i] = d.add_body(
            {.name = "horn",
             .parent = Description::ground,
             .joint_frame = frame(26 * outwards - 14 * Vec3::UnitZ().cross(outwards) + Vec3(off(2), off(2), off(2)),
                                  outwards, -Vec3::UnitZ().cross(outwards)),
             .joint = Joint::revolute,
             .input = true,
             .neutral = {.angle = pi}});
    }
    out.ring = d.add_body(
        {.name = "ring", .parent = base, .joint_frame = {}, .joint = Joint::slide_and_ball, .neutral = {.slide = 50}});
    for (int i = 0; i < 3; ++i) {
        out.balls[i] = d.add_anchor(out.ring, {25 * std::cos(azimuth[i]), 25 * std::sin(azimuth[i]), off(3)});
        d.add_link("link", d.add_anchor(horns[i], {14, 0, 0}), out.balls[i], 50 + off(1));
    }
    d.add_slot("guide pin", d.add_anchor(out.ring, {-34, 0, off(3)}), d.add_anchor(Description::ground, Vec3::Zero()),
               Vec3::UnitY());
    return out;
}

TEST(OneBody, StandsWhereTheGeneralSolverPutsIt) {
    int closed = 0;
    for (unsigned seed = 1; seed <= 200; ++seed) {
        std::mt19937 one(seed), other(seed), sticks(seed + 1000);
        const HornRing a = horn_ring(one, false), b = horn_ring(other, true);
        const auto fast = Plan::make(a.d), general = Plan::make(b.d);
        ASSERT_TRUE(fast && general);
        ASSERT_TRUE(fast->blocks()[0].one_body.has_value());
        ASSERT_FALSE(general->blocks()[0].one_body.has_value());
        Workspace wa(*fast), wb(*general);
        std::uniform_real_distribution<double> swing(-0.9, 0.9);  // rad; some cannot be reached
        for (int pose = 0; pose < 50; ++pose) {
            const double inputs[] = {pi + swing(sticks), pi + swing(sticks), pi + swing(sticks)};
            const Report ra = solve(*fast, wa, inputs), rb = solve(*general, wb, inputs);
            ASSERT_EQ(ra.closed, rb.closed) << seed << ' ' << pose;
            if (!ra.closed) continue;
            ++closed;
            EXPECT_LE(ra.residual_mm, fast->tolerance());
            // Both close within 1e-11 mm; a ring near a dead point moves up to a thousand times that.
            for (int i = 0; i < 3; ++i)
                EXPECT_LT((wa.point(a.balls[i]) - wb.point(b.balls[i])).norm(), 1e-8) << seed << ' ' << pose;
            EXPECT_NEAR(wa.placement(a.ring).turn.determinant(), 1.0, 1e-12);
            EXPECT_NEAR(wa.joints[static_cast<std::size_t>(a.ring.index)].turn.norm(), 1.0, 1e-12);
        }
    }
    EXPECT_GT(closed, 5000);
}

TEST(AngleOf, IsTheArctangentEverywhere) {
    for (int i = -40000; i <= 40000; ++i) {
        const double angle = pi * i / 40000.0;
        const double c = 3.0 * std::cos(angle), s = 3.0 * std::sin(angle);
        // Two units in the last place of the largest angle that the polynomial serves (45 deg).
        EXPECT_NEAR(angle_of(c, s), std::atan2(s, c), 2.3e-16) << angle;
    }
    EXPECT_EQ(angle_of(-1.0, 0.0), std::atan2(0.0, -1.0));
}

}  // namespace
}  // namespace swashwright::linkage
