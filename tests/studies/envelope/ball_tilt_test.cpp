#include "kinematics/studies/envelope/ball_tilt.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

/// Tilts at one roll of the rod, by plain vectors.
std::array<double, 2> tilts_at(const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg, double roll) {
    const Vec3 x = rod.unitOrthogonal(), y = rod.cross(x);
    const auto line_angle = [](const Vec3& a, const Vec3& b) {
        return std::atan2(a.cross(b).norm(), std::abs(a.dot(b))) / degree;
    };
    const double other = roll + twist_deg * degree;
    return {line_angle(std::cos(roll) * x + std::sin(roll) * y, studs[0]),
            line_angle(std::cos(other) * x + std::sin(other) * y, studs[1])};
}

Vec3 random_unit(testing::Draw& draw) {
    for (;;) {
        const Vec3 v(draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1));
        if (v.norm() > 0.1 && v.norm() < 1) return v.normalized();
    }
}

// Worked by hand: a rod square to both studs does not tilt; a rod leaned by 12 deg in the plane of the studs tilts both
// by 12 deg; studs 30 deg apart about an upright rod share the roll evenly under equal limits.
TEST(BallTilt, OfHandWorkedPoses) {
    const Vec3 up = Vec3::UnitZ(), x = Vec3::UnitX();
    auto tilt = shared_tilt_deg(up, {x, x}, 0, {20, 20});
    EXPECT_NEAR(tilt[0], 0, 1e-9);
    EXPECT_NEAR(tilt[1], 0, 1e-9);
    const Vec3 leaned(std::sin(12 * degree), 0, std::cos(12 * degree));
    tilt = shared_tilt_deg(leaned, {x, -x}, 0, {20, 15});
    EXPECT_NEAR(tilt[0], 12, 1e-9);
    EXPECT_NEAR(tilt[1], 12, 1e-9);
    const Vec3 turned(std::cos(30 * degree), std::sin(30 * degree), 0);
    tilt = shared_tilt_deg(up, {x, turned}, 0, {20, 20});
    EXPECT_NEAR(tilt[0], 15, 1e-9);
    EXPECT_NEAR(tilt[1], 15, 1e-9);
    tilt = shared_tilt_deg(up, {x, turned}, 30, {20, 20});  // sockets set to suit
    EXPECT_NEAR(tilt[0], 0, 1e-9);
    tilt = shared_tilt_deg(up, {x, turned}, 0, {10, 20});  // in proportion to the limits
    EXPECT_NEAR(tilt[0], 10, 1e-9);
    EXPECT_NEAR(tilt[1], 20, 1e-9);
}

/// Least larger share of the limits over all rolls: a scan, then each of its low places narrowed by thirds, because the
/// lowest step need not lie beside the lowest place.
double least_share_by_scan(const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg,
                           const std::array<double, 2>& limits) {
    const auto share = [&](double roll) {
        const auto tilt = tilts_at(rod, studs, twist_deg, roll);
        return std::max(tilt[0] / limits[0], tilt[1] / limits[1]);
    };
    constexpr int rolls = 1800;  // half a turn: sockets have no sense
    const double step = pi / rolls;
    double least = share(0);
    for (int r = 0; r < rolls; ++r) {
        if (share(r * step) > share((r - 1) * step) || share(r * step) > share((r + 1) * step)) continue;
        double low = (r - 1) * step, high = (r + 1) * step;
        while (high - low > 1e-11) {
            const double a = low + (high - low) / 3, b = high - (high - low) / 3;
            if (share(a) < share(b))
                high = b;
            else
                low = a;
        }
        least = std::min(least, share((low + high) / 2));
    }
    return least;
}

// The narrowed scan knows nothing of how the study finds the roll; they agree to 1e-6 deg of tilt.
TEST(BallTilt, SharesTheRollAsAScanOfAllRollsDoes) {
    std::mt19937_64 bits(1);
    testing::Draw draw(bits);
    for (int i = 0; i < 2000; ++i) {
        const Vec3 rod = random_unit(draw);
        const std::array<Vec3, 2> studs{random_unit(draw), random_unit(draw)};
        const double twist = draw.between(-180, 180);
        const double least = draw.chance(0.5) ? 5 : 0.1, most = draw.chance(0.5) ? 30 : 90;
        const std::array<double, 2> limits{draw.between(least, most), draw.between(least, most)};
        const auto found = shared_tilt_deg(rod, studs, twist, limits);
        const double share = std::max(found[0] / limits[0], found[1] / limits[1]);
        const double best = least_share_by_scan(rod, studs, twist, limits);
        EXPECT_NEAR(share, best, 1e-6 / std::max(limits[0], limits[1])) << i;
        // No roll takes an end below the angle between the rod and the plane square to its stud.
        for (std::size_t e = 0; e < 2; ++e)
            EXPECT_GE(found[e], std::asin(std::min(1.0, std::abs(rod.dot(studs[e])))) / degree - 1e-6);
    }
}

// An end whose stud lies along the rod stands at a right angle whatever the roll; the other end then has its least
// tilt.
TEST(BallTilt, OfAStudAlongTheRodIsARightAngle) {
    const Vec3 up = Vec3::UnitZ(), leaned(0, std::cos(0.1), std::sin(0.1));
    for (const double twist : {0.0, 40.0}) {
        const auto tilt = shared_tilt_deg(up, {up, leaned}, twist, {20, 20});
        EXPECT_NEAR(tilt[0], 90, 1e-9);
        EXPECT_NEAR(tilt[1], 0.1 / degree, 1e-9);
        EXPECT_NEAR(shared_tilt_deg(up, {leaned, -up}, twist, {20, 20})[0], 0.1 / degree, 1e-9);
    }
}

// Of the two check values: D = 4.8, C = 3.0, d = 2.5 by the formula worked by hand; a spherical plain bearing's own
// formula asin(B / D) - asin(C / D) is another geometry and is not used here.
TEST(BallTilt, LimitFollowsFromBallSocketAndNeck) {
    EXPECT_NEAR(tilt_limit_deg(4.8, 3.0, 2.5), 19.930, 5e-4);
    head::Link link;
    EXPECT_NEAR(tilt_limits_deg(link)[0], 19.930, 5e-4);
    link.tilt_limit_deg = std::array{18.0, 15.0};
    EXPECT_EQ(tilt_limits_deg(link)[1], 15.0);
}

// Through the checker, at neutral and out at the ends: each tilt lies between its bound below and a right angle.
TEST(BallTilt, OfRandomHeadsKeepsItsLowerBound) {
    std::mt19937_64 bits(2);
    int seen = 0;
    for (int i = 0; i < 500; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        const auto checker = ball_tilt_checker(*head);
        head::Solver solver(*head);
        testing::Draw draw(bits);
        if (!solver.pose({draw.between(-1, 1), draw.between(-0.7, 0.7), draw.between(-0.7, 0.7)}, draw.between(0, 360)))
            continue;
        ASSERT_TRUE(checker->look(solver));
        const auto& ws = solver.workspace();
        const head::Parts& p = head->parts();
        for (std::size_t j = 0; j < p.horns.size(); ++j) {
            const Vec3 rod = (ws.point(p.inner_balls[j]) - ws.point(p.horn_balls[j])).normalized();
            const Vec3 stud = ws.placement(p.horns[j]).turn.col(2);  // along the output shaft
            const double bound = std::asin(std::min(1.0, std::abs(rod.dot(stud)))) / degree;
            EXPECT_GE(checker->value(2 * j), bound - 1e-6);
            EXPECT_LE(checker->value(2 * j), 90.0);
        }
        EXPECT_EQ(checker->checks().size(), 2 * (p.horns.size() + p.grips.size()));
        ++seen;
    }
    EXPECT_GT(seen, 300);
}

}  // namespace
}  // namespace swashwright::studies
