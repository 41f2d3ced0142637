#include "kinematics/studies/envelope/surface.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using head::Solid;
using head::Triangles;
using testing::Draw;

constexpr double any = std::numeric_limits<double>::infinity();

/// Numbers as people type them: whole and half millimetres, turns of ten degrees about one axis. Parallel edges are
/// where a search by supports (GJK) goes wrong.
struct Typed {
    Draw& draw;
    double mm(int low, int high) const { return 0.5 * draw.whole(2 * low, 2 * high); }
    Vec3 point(int size) const { return {mm(-size, size), mm(-size, size), mm(-size, size)}; }
    Placement place(int size) const {
        Placement out;
        const Vec3 axis = Vec3::Unit(draw.whole(0, 2));
        out.turn = Eigen::AngleAxisd(10 * draw.whole(0, 35) * degree, axis).toRotationMatrix();
        out.origin = point(size);
        return out;
    }
    Solid box() const {
        return {.part = {},
                .shape = Solid::Shape::box,
                .at = point(5),
                .size_mm = Vec3(mm(1, 20), mm(1, 20), mm(1, 20)),
                .file = {}};
    }
    Solid cylinder() const {
        Solid out{.part = {}, .shape = Solid::Shape::cylinder, .at = point(5), .diameter_mm = mm(1, 12), .file = {}};
        out.to = out.at + mm(2, 20) * Vec3::Unit(draw.whole(0, 2));
        return out;
    }
};

/// The point of a box or cylinder nearest to `p`, all in its frame.
Vec3 nearest_of(const Solid& s, const Vec3& p) {
    if (s.shape == Solid::Shape::box) return s.at + (p - s.at).cwiseMax(-s.size_mm / 2).cwiseMin(s.size_mm / 2);
    const Vec3 axis = (s.to - s.at).normalized();
    const double along = (p - s.at).dot(axis);
    const Vec3 across = p - s.at - along * axis;
    return s.at + std::clamp(along, 0.0, (s.to - s.at).norm()) * axis +
           std::min(1.0, 0.5 * s.diameter_mm / std::max(across.norm(), 1e-12)) * across;
}

/// By projecting to and fro, which ends at a nearest pair of two convex sets (Cheney and Goldstein, Proximity maps for
/// convex sets, Proc. AMS 10, 1959). Negative where it has not settled.
double distance_by_projection(const Solid& a, const Placement& at_a, const Solid& b, const Placement& at_b) {
    const auto onto = [](const Solid& s, const Placement& at, const Vec3& p) {
        return Vec3(at * nearest_of(s, at.turn.transpose() * (p - at.origin)));
    };
    Vec3 x = at_a * a.at;
    for (int i = 0; i < 20000; ++i) {
        const Vec3 y = onto(b, at_b, x), next = onto(a, at_a, y);
        if ((next - x).norm() < 1e-12) return (next - y).norm();
        x = next;
    }
    return -1;
}

// Boxes exactly; a cylinder's edges stand up to 0.005 mm outside, so one of them lessens a gap by that much at most,
// two by twice that. 1e-7 for where the projection stops.
TEST(SurfaceGap, OfBoxesAndCylindersTypedInRoundNumbersIsTheConvexDistance) {
    std::mt19937_64 bits(7);
    Draw draw(bits);
    const Typed typed{draw};
    int seen = 0;
    for (int i = 0; i < 4000; ++i) {
        const bool first_round = i % 4 == 1, second_round = i % 4 >= 1;
        const Solid a = first_round ? typed.cylinder() : typed.box(), b = second_round ? typed.cylinder() : typed.box();
        const Placement at_a = typed.place(12), at_b = typed.place(12);
        const Gap gap = gap_between(*Surface::of(a), at_a, *Surface::of(b), at_b, any);
        const double expected = distance_by_projection(a, at_a, b, at_b);
        if (expected < 1e-3) continue;  // touching, or not settled
        EXPECT_LE(gap.mm, expected + 1e-7);
        EXPECT_GE(gap.mm, expected - 0.005 * (first_round + second_round) - 1e-7);
        EXPECT_NEAR((gap.at[0] - gap.at[1]).norm(), gap.mm, 1e-9);
        ++seen;
    }
    EXPECT_GT(seen, 1600);
}

// A capsule and a box: the distance from a point that runs along the middle line to a box is convex, so that halving
// by thirds finds its least. Spheres, of no length, are among them: there it is clamping.
TEST(SurfaceGap, OfACapsuleAndABoxIsThatOfItsMiddleLineLessItsRadius) {
    std::mt19937_64 bits(8);
    Draw draw(bits);
    const Typed typed{draw};
    for (int i = 0; i < 10000; ++i) {
        const Solid box = typed.box();
        Capsule capsule{typed.point(20), typed.point(20), typed.mm(1, 4)};
        if (i % 3 == 0) capsule.b = capsule.a;
        const Placement at_box = typed.place(9), at_capsule = typed.place(9);
        const Gap gap = gap_between(*Surface::of(capsule), at_capsule, *Surface::of(box), at_box, any);
        const auto at = [&](double s) { return Vec3(at_capsule * Vec3(capsule.a + s * (capsule.b - capsule.a))); };
        const auto off = [&](const Vec3& p) {
            const Vec3 q = at_box.turn.transpose() * (p - at_box.origin);
            return (q - nearest_of(box, q)).norm();
        };
        double low = 0, high = 1;
        for (int k = 0; k < 100; ++k) {
            const double third = (high - low) / 3;
            if (off(at(low + third)) < off(at(high - third)))
                high -= third;
            else
                low += third;
        }
        const double expected = std::min({off(at(0)), off(at(1)), off(at(low))});
        EXPECT_NEAR(gap.mm, expected - capsule.radius, 1e-6);
        if (expected < 1e-3) continue;  // the middle line is inside
        // Both points stand where they should, in the head frame.
        EXPECT_NEAR(off(gap.at[1]), 0, 1e-9);
        EXPECT_NEAR((gap.at[0] - gap.at[1]).norm(), std::abs(gap.mm), 1e-9);
    }
}

/// A wavy sheet of triangles, `n` squares a side.
Solid sheet(Draw& draw, int n, double size) {
    auto out = std::make_shared<Triangles>();
    for (int i = 0; i <= n; ++i)
        for (int j = 0; j <= n; ++j)
            out->points.emplace_back(size * (2.0 * i / n - 1), size * (2.0 * j / n - 1), draw.between(-1.5, 1.5));
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const int a = i * (n + 1) + j, b = a + n + 1;
            out->faces.push_back({a, b, a + 1});
            out->faces.push_back({a + 1, b, b + 1});
        }
    Solid solid{.part = {}, .shape = Solid::Shape::mesh, .file = {}};
    solid.mesh = std::move(out);
    return solid;
}

using Corners = std::array<Vec3, 3>;

std::vector<Corners> placed(const Solid& solid, const Placement& at) {
    std::vector<Corners> out;
    for (const auto& f : solid.mesh->faces) {
        Corners c;
        for (std::size_t i = 0; i < 3; ++i) c[i] = at * solid.mesh->points[static_cast<std::size_t>(f[i])];
        out.push_back(c);
    }
    return out;
}

double longest_side(const Corners& c) {
    return std::max({(c[0] - c[1]).norm(), (c[1] - c[2]).norm(), (c[2] - c[0]).norm()});
}

/// Least distance between samples, `parts` to each side of a triangle. Triangles whose first corners are further apart
/// than both sides and the best so far cannot matter.
double sampled(const std::vector<Corners>& a, const std::vector<Corners>& b, int parts, double& longest) {
    const auto samples = [&](const Corners& c) {
        std::vector<Vec3> out;
        for (int i = 0; i <= parts; ++i)
            for (int j = 0; i + j <= parts; ++j)
                out.push_back(c[0] + (c[1] - c[0]) * i / parts + (c[2] - c[0]) * j / parts);
        return out;
    };
    double least = any;
    longest = 0;
    for (const Corners& x : a)
        for (const Corners& y : b) {
            longest = std::max({longest, longest_side(x), longest_side(y)});
            if ((x[0] - y[0]).norm() - longest_side(x) - longest_side(y) > least) continue;
            const auto of_x = samples(x), of_y = samples(y);
            for (const Vec3& p : of_x)
                for (const Vec3& q : of_y) least = std::min(least, (p - q).norm());
        }
    return least;
}

// Samples lie on the meshes, so that their least distance is never below the true one. Any point of a triangle is
// nearer to each corner than its longest side is long; with every side cut in n, the nearest sample is within a side
// over n, on either mesh: the samples' distance is above the true one by at most twice that, and comes down to it.
TEST(SurfaceGap, OfTwoMeshesIsWhereBruteForceSamplingConverges) {
    std::mt19937_64 bits(9);
    Draw draw(bits);
    for (int i = 0; i < 12; ++i) {
        const Solid low = sheet(draw, 4, 12), high = sheet(draw, 3, 10);
        const Placement at_low;
        Placement at_high;
        at_high.turn = (Eigen::AngleAxisd(draw.between(0, 2 * pi), Vec3::UnitZ()) *
                        Eigen::AngleAxisd(draw.between(-0.3, 0.3), Vec3::UnitX()))
                           .toRotationMatrix();
        at_high.origin = Vec3(draw.between(-4, 4), draw.between(-4, 4), draw.between(6, 10));
        const double gap = gap_between(*Surface::of(low), at_low, *Surface::of(high), at_high, any).mm;
        for (const int n : {2, 6, 18}) {
            double longest = 0;
            const double least = sampled(placed(low, at_low), placed(high, at_high), n, longest);
            EXPECT_LE(gap, least + 1e-9);
            EXPECT_GE(gap, least - 2 * longest / n);
        }
    }
}

TEST(SurfaceGap, SameWhicheverComesFirstAndHoweverMuchIsEnough) {
    std::mt19937_64 bits(10);
    Draw draw(bits);
    const Typed typed{draw};
    const auto one = [&](int kind) {
        if (kind == 0) return Surface::of(typed.box());
        if (kind == 1) return Surface::of(typed.cylinder());
        if (kind == 2) return Surface::of(sheet(draw, 3, 8));
        return Surface::of(Capsule{typed.point(10), typed.point(10), typed.mm(1, 4)});
    };
    for (int i = 0; i < 4000; ++i) {
        const auto a = one(i % 4), b = one(draw.whole(0, 3));
        const Placement at_a = typed.place(15), at_b = typed.place(15);
        const Gap there = gap_between(*a, at_a, *b, at_b, any), back = gap_between(*b, at_b, *a, at_a, any);
        EXPECT_NEAR(there.mm, back.mm, 1e-9);
        EXPECT_TRUE(there.at[0].allFinite() && there.at[1].allFinite());
        const double enough = draw.between(-1, 10), told = gap_between(*a, at_a, *b, at_b, enough).mm;
        if (there.mm <= enough) {
            EXPECT_NEAR(told, there.mm, 1e-9);
        } else {
            EXPECT_GT(told, enough);
            EXPECT_LE(told, there.mm + 1e-9);
        }
        const Sphere sa = a->sphere(), sb = b->sphere();
        EXPECT_LE(Sphere({at_a * sa.centre, sa.radius}).apart_from({at_b * sb.centre, sb.radius}), there.mm + 1e-9);
    }
}

TEST(SurfaceGap, BoxesAndCylindersAreFilledButAMeshIsASkin) {
    const Capsule small{{1, 0, 0}, {2, 0, 0}, 0.5};
    const Placement here;
    const Solid box{.part = {}, .shape = Solid::Shape::box, .size_mm = {20, 20, 20}, .file = {}};
    EXPECT_DOUBLE_EQ(gap_between(*Surface::of(small), here, *Surface::of(box), here, any).mm, -0.5);
    EXPECT_DOUBLE_EQ(gap_between(*Surface::of(box), here, *Surface::of(small), here, any).mm, -0.5);
    const Solid cylinder{
        .part = {}, .shape = Solid::Shape::cylinder, .at = {0, 0, -9}, .to = {0, 0, 9}, .diameter_mm = 20, .file = {}};
    EXPECT_DOUBLE_EQ(gap_between(*Surface::of(cylinder), here, *Surface::of(small), here, any).mm, -0.5);
    // A tetrahedron around the same capsule: its faces are all more than 3 mm away.
    Solid mesh{.part = {}, .shape = Solid::Shape::mesh, .file = {}};
    mesh.mesh = std::make_shared<Triangles>(Triangles{{{30, 30, 30}, {30, -30, -30}, {-30, 30, -30}, {-30, -30, 30}},
                                                      {{0, 1, 2}, {0, 1, 3}, {0, 2, 3}, {1, 2, 3}}});
    EXPECT_GT(gap_between(*Surface::of(mesh), here, *Surface::of(small), here, any).mm, 3);
}

// Two loose triangles, one inside a box, the other outside: the first must be found though the surfaces do not meet.
TEST(SurfaceGap, EveryPieceOfAMeshIsLookedFor) {
    Solid mesh{.part = {}, .shape = Solid::Shape::mesh, .file = {}};
    mesh.mesh = std::make_shared<Triangles>(
        Triangles{{{50, 0, 0}, {51, 0, 0}, {50, 1, 0}, {0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}, {3, 4, 5}}});
    const Solid box{.part = {}, .shape = Solid::Shape::box, .size_mm = {20, 20, 20}, .file = {}};
    EXPECT_LE(gap_between(*Surface::of(mesh), {}, *Surface::of(box), {}, any).mm, 0);
}

TEST(SurfaceGap, AMeshThatWasNotReadIsNothing) {
    EXPECT_EQ(Surface::of(Solid{.part = {}, .shape = Solid::Shape::mesh, .file = "x.stl"}), nullptr);
}

}  // namespace
}  // namespace swashwright::studies
