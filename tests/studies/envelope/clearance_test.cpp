#include "kinematics/studies/envelope/clearance.h"

#include <fcl/geometry/shape/capsule.h>
#include <fcl/narrowphase/distance.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

constexpr double far_mm = 10;  // gaps wanted here are small: `far_mm_of` of each

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
        if (expected < 0.01 || expected > far_mm) continue;
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
            if (value < far_mm_of(checker->checks()[k])) {
                EXPECT_NEAR(value, gap.mm, 1e-9) << key;
            }
            if (gap.mm > 0) {
                EXPECT_NEAR((gap.at[0] - gap.at[1]).norm(), gap.mm, 1e-9) << key;
            }
        }
    }
}

// Which parts are joined, written here by hand for every pair of names, against the list of checks: none of the joined
// is there, all others are there, or are named as left out. 300 heads.
TEST(Clearance, OfRandomHeadsLooksAtEveryPairThatIsNotJoinedAndAtNoOther) {
    std::mt19937_64 bits(4);
    testing::Draw draw(bits);
    const std::string inner = "swashplate.inner_balls", outer = "swashplate.outer_balls", hub = "rotor",
                      shaft = "rotor.shaft";
    std::size_t heads = 0, left_out = 0;
    for (int i = 0; i < 300; ++i) {
        const auto d = testing::random_head(bits);
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        const auto checker = clearance_checker(*head);
        std::set<std::set<std::string>> expected;
        std::vector<std::string> names{inner, outer, hub, shaft};
        const auto numbered = [&](const std::string& name, std::size_t count) {
            for (std::size_t k = 1; k <= count; ++k) names.push_back(name + "[" + std::to_string(k) + "]");
        };
        numbered("servo", d.servos.size());
        numbered("lower_link", d.lower_links.size());
        numbered("upper_link", d.upper_links.size());
        numbered("grip", d.grips.size());
        for (const auto& a : names)
            for (const auto& b : names)
                if (a < b) expected.insert({a, b});
        const auto never = [&](const std::string& a, const std::string& b) { expected.erase({a, b}); };
        for (const auto& name : names) {
            const std::string number = name.substr(std::min(name.find('['), name.size()));
            if (name.starts_with("lower_link")) never(name, inner), never(name, "servo" + number);
            if (name.starts_with("upper_link")) never(name, outer), never(name, "grip" + number);
            if (name.starts_with("grip")) never(name, hub), never(name, shaft);
        }
        never(inner, outer), never(inner, shaft), never(outer, shaft), never(hub, shaft);
        for (const Check& check : checker->checks()) {
            ASSERT_EQ(check.parts.size(), 2U);
            EXPECT_EQ(expected.erase({check.parts[0], check.parts[1]}), 1U) << check.key;
        }
        EXPECT_EQ(expected.size(), checker->left_out().size()) << "head " << i;
        for (const auto& pair : expected)  // the sizes of links are given, not made up
            EXPECT_FALSE(pair.begin()->find("_link[") != std::string::npos &&
                         pair.rbegin()->find("_link[") != std::string::npos)
                << *pair.begin() << " " << *pair.rbegin();
        left_out += checker->left_out().size();
        ++heads;
    }
    EXPECT_EQ(heads, 300U);
    RecordProperty("left_out", static_cast<int>(left_out));
}

// A copy sees its own pose; what was looked at before does not matter; a whole turn further all is as it was (1e-6 mm
// for where the solver stops, since a warm start comes from elsewhere).
TEST(Clearance, DependsOnThePoseAlone) {
    std::mt19937_64 bits(5);
    testing::Draw draw(bits);
    int seen = 0;
    for (int i = 0; i < 100; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        const head::Sticks sticks{draw.between(-0.5, 0.5), draw.between(-0.5, 0.5), draw.between(-0.5, 0.5)};
        const double azimuth = draw.between(0, 360);
        head::Solver one(*head), other(*head);
        const auto first = clearance_checker(*head);
        const auto second = first->clone();
        if (!other.pose(head::Sticks{}, 77) || !second->look(other)) continue;
        if (!one.pose(sticks, azimuth) || !other.pose(sticks, azimuth + 360)) continue;
        ASSERT_TRUE(first->look(one) && second->look(other));
        for (std::size_t k = 0; k < first->checks().size(); ++k)
            EXPECT_NEAR(first->value(k), second->value(k), 1e-6) << first->checks()[k].key;
        ++seen;
    }
    EXPECT_GT(seen, 80);
}

TEST(PartSolids, AShankEndsWhereTheSceneSays) {
    auto d = testing::two_blades();
    d.upper_links[1].end_length_mm = {13, 9.5};
    d.upper_links[1].boss_mm = {7, 5};
    const auto head = head::Head::build(d);
    ASSERT_TRUE(head);
    const auto parts = part_solids(*head);
    const auto link = std::ranges::find(parts, "upper_link[2]", &PartSolids::path);
    ASSERT_NE(link, parts.end());
    const double length = d.upper_links[1].actual_mm();
    double ends[2] = {0, 0};  // how far what is thicker than the rod, and thinner than the boss, goes from each ball
    for (const Capsule& c : link->capsules) {
        if (c.radius <= d.upper_links[1].rod_mm / 2) continue;
        ends[0] = c.a.z() == 0 ? std::max(ends[0], c.b.z() + c.radius) : ends[0];
        ends[1] = c.a.z() == length ? std::max(ends[1], length - c.b.z() + c.radius) : ends[1];
    }
    EXPECT_NEAR(ends[0], 13, 1e-12);
    EXPECT_NEAR(ends[1], 9.5, 1e-12);
}

// Two links where another computation of the same pose puts their balls: their gap is that of the lines between the
// balls (distance of closest samples, 400 a line, so at most 0.3 mm above the true one for links up to 120 mm) less at
// most both bosses and at least both rods.
TEST(Clearance, OfTwoLinksFollowsThePose) {
    std::mt19937_64 bits(12);
    testing::Draw draw(bits);
    int seen = 0;
    for (int i = 0; i < 40; ++i) {
        const auto d = testing::random_head(bits);
        const auto head = head::Head::build(d);
        if (!head || head->neutral_failure()) continue;
        const head::Sticks sticks{draw.between(-0.8, 0.8), draw.between(-0.4, 0.4), draw.between(-0.4, 0.4)};
        const double azimuth = draw.between(0, 360);
        const auto pose = head->pose(sticks, azimuth);
        head::Solver solver(*head);
        const auto checker = clearance_checker(*head);
        if (!pose || !checker->look(solver) || !solver.pose(sticks, azimuth) || !checker->look(solver)) continue;
        for (std::size_t j = 0; j < d.lower_links.size(); ++j)
            for (std::size_t k = 0; k < d.upper_links.size(); ++k) {
                const auto& s = pose->skeleton;
                double least = 1e9;
                for (int m = 0; m <= 400; ++m)
                    for (int n = 0; n <= 400; ++n)
                        least = std::min(least, (s.horn_balls[j] + (s.inner_balls[j] - s.horn_balls[j]) * m / 400 -
                                                 s.outer_balls[k] - (s.grip_balls[k] - s.outer_balls[k]) * n / 400)
                                                    .squaredNorm());
                least = std::sqrt(least);
                const std::string key =
                    "clearance.lower_link[" + std::to_string(j + 1) + "].upper_link[" + std::to_string(k + 1) + "]";
                const double gap = checker->nearest(find(*checker, key)).mm;
                EXPECT_LE(gap, least - 0.5 * (d.lower_links[j].rod_mm + d.upper_links[k].rod_mm) + 1e-9);
                EXPECT_GE(gap, least - 0.5 * (d.lower_links[j].boss_mm[0] + d.upper_links[k].boss_mm[0]) - 0.3);
                ++seen;
            }
    }
    EXPECT_GT(seen, 200);
}

// A ring and a sphere: the gap of a torus in closed form. The ring's chain is within 0.01 mm of its circle.
TEST(Clearance, OfARingIsThatOfATorus) {
    std::mt19937_64 bits(6);
    testing::Draw draw(bits);
    int seen = 0;
    for (int i = 0; i < 200; ++i) {
        auto d = plain_head();
        const double radius = draw.between(2, 40), section = draw.between(0.5, 3), ball = draw.between(0.5, 2);
        const double a = draw.between(0, 2 * pi), off = draw.between(0, 12), b = draw.between(0, 2 * pi);
        const double out = radius + off * std::cos(b), up = off * std::sin(b);
        if (out < 0.5 * radius || off < section + ball) continue;
        const Vec3 centre(0, 0, 500), at = centre + Vec3(out * std::cos(a), out * std::sin(a), up);
        d.solids.push_back({.part = "frame",
                            .shape = Solid::Shape::ring,
                            .at = centre,
                            .diameter_mm = 2 * radius,
                            .section_mm = 2 * section,
                            .file = {}});
        d.solids.push_back(
            {.part = "hub", .shape = Solid::Shape::capsule, .at = at, .to = at, .diameter_mm = 2 * ball, .file = {}});
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        const auto checker = clearance_checker(*head);
        head::Solver solver(*head);
        ASSERT_TRUE(solver.pose(head::Sticks{}, draw.between(0, 360)) && checker->look(solver));
        const double expected = off - section - ball;
        if (expected > far_mm) continue;
        EXPECT_NEAR(checker->value(find(*checker, "clearance.frame.rotor")), expected, 0.0101);
        ++seen;
    }
    EXPECT_GT(seen, 100);
}

// The heads that come with the program are invented so that nothing touches at mid stick, all round; and nothing of
// them is too coarse to be looked at.
TEST(Clearance, OfTheDemoHeadsIsEnoughAtMidStick) {
    for (const char* name : {"two_blade_600", "three_blade_700", "small_two_blade_250"}) {
        const head::Head head = testing::demo_head(std::string(name) + ".toml");
        const auto checker = clearance_checker(head);
        EXPECT_TRUE(checker->left_out().empty()) << checker->left_out().front();
        head::Solver solver(head);
        for (int azimuth = 0; azimuth < 360; azimuth += 5) {
            ASSERT_TRUE(solver.pose(head::Sticks{}, azimuth) && checker->look(solver));
            for (std::size_t k = 0; k < checker->checks().size(); ++k)
                EXPECT_GE(checker->value(k), checker->checks()[k].low) << name << " " << checker->checks()[k].key;
        }
    }
}

}  // namespace
}  // namespace swashwright::studies
