#include "kinematics/studies/clearance.h"

#include <fcl/geometry/shape/capsule.h>
#include <fcl/narrowphase/distance.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using head::Solid;

Vec3 random_point(testing::Draw& draw, double size) {
    return {draw.between(-size, size), draw.between(-size, size), draw.between(-size, size)};
}

// Worked by hand: crossing at right angles, side by side, end to end, one within the other.
TEST(CapsuleGap, OfHandWorkedCases) {
    const Capsule x{{-10, 0, 0}, {10, 0, 0}, 2};
    EXPECT_DOUBLE_EQ(gap_between(x, {{0, -10, 7}, {0, 10, 7}, 1}).mm, 4);
    EXPECT_DOUBLE_EQ(gap_between(x, {{-5, 6, 0}, {5, 6, 0}, 1}).mm, 3);
    EXPECT_DOUBLE_EQ(gap_between(x, {{15, 0, 0}, {20, 0, 0}, 1}).mm, 2);
    EXPECT_DOUBLE_EQ(gap_between(x, {{13, 4, 0}, {13, 4, 0}, 1}).mm, 2);  // a sphere, 3-4-5 from the end
    EXPECT_DOUBLE_EQ(gap_between(x, {{0, 1, 0}, {0, 20, 0}, 1}).mm, -2);
}

// Against another library's capsules (FCL 0.7), whose iterations end within 1e-6 of the distance; those that overlap
// are left out, since it tells no depth there.
TEST(CapsuleGap, AgreesWithAnotherLibrary) {
    std::mt19937_64 bits(1);
    testing::Draw draw(bits);
    int apart = 0;
    for (int i = 0; i < 2000; ++i) {
        const Capsule a{random_point(draw, 40), random_point(draw, 40), draw.between(0.5, 4)};
        const Capsule b{random_point(draw, 40), random_point(draw, 40), draw.between(0.5, 4)};
        const Gap gap = gap_between(a, b);
        if (gap.mm < 0.01) continue;
        const auto placed = [](const Capsule& c) {
            fcl::Transform3d at = fcl::Transform3d::Identity();
            at.linear() = Quat::FromTwoVectors(Vec3::UnitZ(), c.b - c.a).toRotationMatrix();
            at.translation() = 0.5 * (c.a + c.b);
            return at;
        };
        const fcl::Capsuled shape_a(a.radius, (a.b - a.a).norm()), shape_b(b.radius, (b.b - b.a).norm());
        fcl::DistanceResultd result;
        const double distance =
            fcl::distance(&shape_a, placed(a), &shape_b, placed(b), fcl::DistanceRequestd(), result);
        EXPECT_NEAR(gap.mm, distance, 1e-5);
        EXPECT_NEAR((gap.at[0] - gap.at[1]).norm(), gap.mm, 1e-9);
        ++apart;
    }
    EXPECT_GT(apart, 1000);
}

head::Description plain_head() {
    return testing::random_head(std::uint64_t{11});
}

std::size_t find(const Checker& checker, const std::string& key) {
    for (std::size_t i = 0; i < checker.checks().size(); ++i)
        if (checker.checks()[i].key == key) return i;
    ADD_FAILURE() << "no check " << key;
    return 0;
}

// A sphere and a box far out, where nothing else is near: distance by clamping the centre into the box.
TEST(Clearance, OfASphereAndABoxIsThatOfClamping) {
    std::mt19937_64 bits(2);
    testing::Draw draw(bits);
    for (int i = 0; i < 200; ++i) {
        auto d = plain_head();
        const Vec3 half(draw.between(1, 10), draw.between(1, 10), draw.between(1, 10));
        const Vec3 box(500, 0, 500), ball = box + random_point(draw, 30);
        const double radius = draw.between(0.5, 3);
        d.solids.push_back({.part = "frame", .shape = Solid::Shape::box, .at = box, .size_mm = 2 * half, .file = {}});
        d.solids.push_back({.part = "hub",
                            .shape = Solid::Shape::capsule,
                            .at = ball,
                            .to = ball,
                            .diameter_mm = 2 * radius,
                            .file = {}});
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        const auto checker = clearance_checker(*head);
        head::Solver solver(*head);
        ASSERT_TRUE(solver.pose(head::Sticks{}, 0));
        ASSERT_TRUE(checker->look(solver));
        const Vec3 centre = solver.workspace().placement(head->parts().hub) * ball;
        const Vec3 clamped = (centre - box).cwiseMax(-half).cwiseMin(half) + box;
        const double expected = (centre - clamped).norm() - radius;
        if (expected < 0.01 || expected > ClearanceChecker::far_mm) continue;
        // FCL ends its search within 1e-6 of the distance.
        EXPECT_NEAR(checker->value(find(*checker, "clearance.frame.rotor")), expected, 1e-5);
    }
}

/// A wavy sheet of triangles, `n` squares a side.
std::shared_ptr<head::Triangles> sheet(int n, double size, double height, double wave) {
    auto out = std::make_shared<head::Triangles>();
    for (int i = 0; i <= n; ++i)
        for (int j = 0; j <= n; ++j)
            out->points.emplace_back(size * (2.0 * i / n - 1), size * (2.0 * j / n - 1),
                                     height + wave * std::sin(1.7 * i) * std::cos(2.3 * j));
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const int a = i * (n + 1) + j, b = a + n + 1;
            out->faces.push_back({a, b, a + 1});
            out->faces.push_back({a + 1, b, b + 1});
        }
    return out;
}

std::vector<Vec3> samples(const head::Triangles& mesh, int parts, const Placement& at) {
    std::vector<Vec3> out;
    for (const auto& f : mesh.faces) {
        const Vec3 &a = mesh.points[f[0]], &b = mesh.points[f[1]], &c = mesh.points[f[2]];
        for (int i = 0; i <= parts; ++i)
            for (int j = 0; i + j <= parts; ++j) out.push_back(at * (a + (b - a) * i / parts + (c - a) * j / parts));
    }
    return out;
}

// Two wavy sheets, one on the frame, one on the hub: the least distance between samples of both is never below the
// true one and above it by at most the distance from any point to its nearest samples, twice: for triangles of 5 mm
// with slopes up to 1 cut in 10, under 2 * 0.5 mm sideways; where surfaces face one another this costs far less, so
// 0.1 mm is allowed.
TEST(Clearance, OfTwoMeshesIsThatOfBruteForceSampling) {
    for (const double height : {506.0, 508.0}) {
        auto d = plain_head();
        Solid low{.part = "frame", .shape = Solid::Shape::mesh, .file = "low.stl"};
        low.mesh = sheet(6, 15, 500, 1);
        Solid high{.part = "hub", .shape = Solid::Shape::mesh, .file = "high.stl"};
        high.mesh = sheet(5, 12, height, 1.5);
        d.solids = {low, high};
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        const auto checker = clearance_checker(*head);
        head::Solver solver(*head);
        for (const double azimuth : {0.0, 37.0, 111.0}) {
            ASSERT_TRUE(solver.pose(head::Sticks{}, azimuth));
            ASSERT_TRUE(checker->look(solver));
            const auto a = samples(*low.mesh, 10, {});
            const auto b = samples(*high.mesh, 10, solver.workspace().placement(head->parts().hub));
            double least = 1e9;
            for (const Vec3& p : a)
                for (const Vec3& q : b) least = std::min(least, (p - q).squaredNorm());
            least = std::sqrt(least);
            const std::size_t i = find(*checker, "clearance.frame.rotor");
            EXPECT_LE(checker->value(i), least + 1e-6);
            EXPECT_GE(checker->value(i), least - 0.1);
        }
    }
}

// Over random heads and poses: what is joined is not listed, what is listed is consistent with its nearest points.
TEST(Clearance, OfRandomHeadsIsConsistent) {
    std::mt19937_64 bits(3);
    testing::Draw draw(bits);
    for (int i = 0; i < 200; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        const auto checker = clearance_checker(*head);
        head::Solver solver(*head);
        if (!solver.pose({draw.between(-0.5, 0.5), 0.2, -0.3}, draw.between(0, 360))) continue;
        ASSERT_TRUE(checker->look(solver));
        for (std::size_t k = 0; k < checker->checks().size(); ++k) {
            const std::string& key = checker->checks()[k].key;
            EXPECT_NE(key, "clearance.swashplate.inner_balls.swashplate.outer_balls");
            const double value = checker->value(k);
            const Gap gap = checker->nearest(k);
            EXPECT_TRUE(std::isfinite(value)) << key;
            EXPECT_LE(value, gap.mm + 1e-9) << key;
            if (value < ClearanceChecker::far_mm) {
                EXPECT_NEAR(value, gap.mm, 1e-9) << key;
            }
            if (gap.mm > 0) {
                EXPECT_NEAR((gap.at[0] - gap.at[1]).norm(), gap.mm, 1e-9) << key;
            }
        }
    }
}

}  // namespace
}  // namespace swashwright::studies
