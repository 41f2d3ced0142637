#include "viewer/draw/solids/solids.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "tests/viewer/draw_heads.h"
#include "viewer/draw/solids/shapes.h"

namespace swashwright::draw {
namespace {

/// Empty if every edge has exactly two faces that run along it in opposite senses.
std::string leak_of(const Mesh& mesh) {
    std::map<std::pair<int, int>, int> uses;
    for (const auto& face : mesh.faces) {
        for (int k = 0; k < 3; ++k) ++uses[{face[k], face[(k + 1) % 3]}];
    }
    for (const auto& [edge, count] : uses) {
        if (count != 1) return "an edge runs twice in one sense";
        if (!uses.contains({edge.second, edge.first})) return "an edge has one face only";
    }
    return {};
}

void expect_sound(const std::vector<Solid>& solids, const std::string& which) {
    for (const Solid& solid : solids) {
        SCOPED_TRACE(which + ": part kind " + std::to_string(static_cast<int>(solid.part.role)) + ", frame " +
                     std::to_string(static_cast<int>(solid.frame.ride)));
        EXPECT_EQ(leak_of(solid.mesh), "");
        EXPECT_GT(signed_volume(solid.mesh), 0);
        const Surface surface = surface_of(solid.mesh);
        EXPECT_FALSE(surface.triangles.empty());
        for (const Vertex& v : surface.vertices) {
            ASSERT_TRUE(v.point.allFinite());
            ASSERT_NEAR(v.normal.norm(), 1, 1e-9);
        }
    }
}

Vec3 centroid(const Mesh& mesh) {
    Vec3 sum = Vec3::Zero();
    for (const Vec3& p : mesh.points) sum += p;
    return sum / static_cast<double>(mesh.points.size());
}

TEST(Solids, EveryPartOfADemoHeadHasOne) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        std::set<Part> parts;
        for (const Solid& solid : solids_of(d, false)) parts.insert(solid.part);
        for (Role kind :
             {Role::frame, Role::shaft, Role::inner_ring, Role::guide, Role::outer_ring, Role::driver, Role::hub}) {
            EXPECT_TRUE(parts.contains({kind, 0})) << name;
        }
        for (int j = 0; j < static_cast<int>(d.servos.size()); ++j) {
            for (Role kind : {Role::servo, Role::horn, Role::lower_link}) {
                EXPECT_TRUE(parts.contains({kind, j})) << name;
            }
        }
        for (int k = 0; k < d.rotor.blades; ++k) {
            for (Role kind : {Role::upper_link, Role::grip, Role::blade}) {
                EXPECT_TRUE(parts.contains({kind, k})) << name;
            }
        }
    }
}

TEST(Solids, AreClosedAndFaceOutwards) {
    for (const std::string& name : demos()) {
        for (bool whole : {false, true}) expect_sound(solids_of(demo(name), whole), name);
    }
}

TEST(Solids, SoAreTheSolidsOfOddHeads) {
    for (auto direction : {head::Direction::anticlockwise, head::Direction::clockwise}) {
        for (int blades = 1; blades <= 6; ++blades) {
            head::Description d = with_blades(blades, direction);
            expect_sound(solids_of(d, false), "blades");
            d.rotor.precone_deg = 12;
            for (auto& grip : d.grips) grip.pitch_arm = {60, -40, 15};  // far out, trailing, high
            expect_sound(solids_of(d, true), "long trailing arms");
            for (auto& grip : d.grips) grip.pitch_arm = {0.5, 2, 0};
            expect_sound(solids_of(d, false), "short arms");
        }
    }
    head::Description d = demo("two_blade_600");
    d.rotor.hub_height_mm = -60;
    expect_sound(solids_of(d, false), "hub below the ring");
    d = demo("two_blade_600");
    for (auto& servo : d.servos) servo.horn_mm = 2;
    expect_sound(solids_of(d, false), "short horns");
    for (auto& servo : d.servos) servo.horn_mm = 200;
    expect_sound(solids_of(d, false), "long horns");
    for (auto& link : d.upper_links) link.length_mm = 3;
    expect_sound(solids_of(d, false), "short links");
    for (auto& ball : d.swashplate.inner_balls) ball.radius_mm = 4, ball.height_mm = 30;
    expect_sound(solids_of(d, false), "small ring");
    d.swashplate.guide_pin = {1, 0, 0};
    d.swashplate.driver_pins = {{90, 10, -25}};
    expect_sound(solids_of(d, false), "odd pins");
}

TEST(Solids, LeaveOutWhatCannotBeDrawnButKeepTheRest) {
    head::Description d = demo("two_blade_600");
    d.grips[0].pitch_arm.lead_mm = std::numeric_limits<double>::quiet_NaN();
    d.swashplate.inner_balls[1].radius_mm = std::numeric_limits<double>::infinity();
    d.rotor.blade_tip_mm = -1;
    const auto solids = solids_of(d, true);
    EXPECT_GT(solids.size(), 60U);
    expect_sound(solids, "numbers that are none");
    expect_sound(solids_of(head::Description{}, false), "nothing given");
}

TEST(Solids, OfASmallHeadAreASmallCopyOfALargeOnes) {
    const head::Description d = demo("three_blade_700");
    const auto large = solids_of(d, false), small = solids_of(scaled(d, 0.37), false);
    ASSERT_EQ(large.size(), small.size());
    for (std::size_t i = 0; i < large.size(); ++i) {
        ASSERT_EQ(large[i].mesh.points.size(), small[i].mesh.points.size());
        for (std::size_t k = 0; k < large[i].mesh.points.size(); ++k) {
            EXPECT_NEAR((large[i].mesh.points[k] * 0.37 - small[i].mesh.points[k]).norm(), 0, 1e-9);
        }
    }
}

TEST(Solids, PutABallAtEachEndOfEachLink) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        const head::Pose pose = posed(d, {0.4, -0.3, 0.5}, 77);
        const Frames frames(d, pose, 1);
        std::vector<Vec3> centres;  // of small bright solids: balls among them
        for (const Solid& solid : solids_of(d, false)) {
            if (solid.tone == Tone::bright) centres.push_back(*frames.find(solid.frame) * centroid(solid.mesh));
        }
        const head::Skeleton& s = pose.skeleton;
        for (const auto* balls : {&s.horn_balls, &s.inner_balls, &s.outer_balls, &s.grip_balls, &s.driver_pins}) {
            for (const Vec3& ball : *balls) {
                double nearest = 1e9;
                for (const Vec3& centre : centres) nearest = std::min(nearest, (centre - ball).norm());
                EXPECT_LT(nearest, 1e-6) << name;
            }
        }
        for (int k = 0; k < d.rotor.blades; ++k) {
            EXPECT_LT((frames.find({Ride::upper_foot, k})->origin - s.outer_balls[k]).norm(), 1e-9);
            EXPECT_LT((frames.find({Ride::upper_head, k})->origin - s.grip_balls[k]).norm(), 1e-9);
        }
    }
}

TEST(Solids, BladesTrailTheirAxisAndRaiseTheirLeadingEdge) {
    for (auto direction : {head::Direction::anticlockwise, head::Direction::clockwise}) {
        const head::Description d = with_blades(3, direction);
        const double sense = head::spin_sign(direction);
        head::Pose pose = posed(d, {0.8, 0, 0}, 33);
        const Frames frames(d, pose, 1);
        for (int k = 0; k < 3; ++k) {
            // DEVELOPERS.md, "Frames and signs": where blade k points, and which way it goes.
            const double alpha = pi + sense * (33 + 120.0 * k) * degree;
            const Vec3 out(std::cos(alpha), std::sin(alpha), 0), ahead = sense * Vec3::UnitZ().cross(out);
            Vec3 sum = Vec3::Zero(), foremost = Vec3::Constant(-1e9), aftmost = foremost;
            double count = 0, front = -1e9, back = 1e9;
            for (const Solid& solid : solids_of(d, false)) {
                if (solid.part != Part{Role::blade, k}) continue;
                for (const Vec3& p : solid.mesh.points) {
                    const Vec3 at = *frames.find(solid.frame) * p;
                    sum += at, ++count;
                    if (at.dot(ahead) > front) front = at.dot(ahead), foremost = at;
                    if (at.dot(ahead) < back) back = at.dot(ahead), aftmost = at;
                }
            }
            EXPECT_GT((sum / count).dot(out), 0);
            EXPECT_GT(-back, 1.4 * front);  // more chord behind the axis than before it
            const double slope = std::atan2(foremost.z() - aftmost.z(), front - back) / degree;
            EXPECT_NEAR(slope, pose.pitch_deg[k], 1.5);
            EXPECT_GT(std::abs(pose.pitch_deg[k]), 3);
        }
    }
}

TEST(Solids, DrawPitchDifferencesLargerAndTheMeanAsItIs) {
    const head::Description d = with_blades(2, head::Direction::clockwise);
    head::Pose pose = posed(d, {}, 0);
    pose.pitch_deg = {1.5, 0.5};
    const Frames plain(d, pose, 1), larger(d, pose, 10);
    for (int k = 0; k < 2; ++k) {
        const Mat3 turn = plain.find({Ride::blade, k})->turn.transpose() * larger.find({Ride::blade, k})->turn;
        EXPECT_NEAR(std::atan2(turn(1, 0), turn(0, 0)) / degree, k == 0 ? 4.5 : -4.5, 1e-9);
    }
}

TEST(Solids, ServoBodiesKeepClearOfTheShaft) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        const double shaft = proportions_of(d).shaft;
        for (const Solid& solid : solids_of(d, false)) {
            if (solid.part.role != Role::servo) continue;
            for (const Vec3& p : solid.mesh.points) EXPECT_GT(std::hypot(p.x(), p.y()), 1.5 * shaft) << name;
        }
    }
}

TEST(Shapes, NacaSectionHasItsPublishedOrdinates) {
    // NACA 0012, per cent of chord: Abbott and von Doenhoff, Theory of Wing Sections, appendix III (from memory).
    // The drawing closes the trailing edge, which takes off up to 0.02 here.
    for (const auto& [x, y] : std::vector<std::pair<double, double>>{
             {1.25, 1.894}, {5, 3.555}, {10, 4.683}, {20, 5.737}, {30, 6.002}, {40, 5.803}, {50, 5.294}, {60, 4.563}}) {
        EXPECT_NEAR(100 * naca_half_thickness(x / 100, 0.12), y, 0.02) << x;
    }
    EXPECT_NEAR(naca_half_thickness(1, 0.12), 0, 1e-9);
}

TEST(Shapes, HaveTheVolumesOfTheirForms) {
    // Regular n-gon of circumradius r: area n r^2 sin(2 pi / n) / 2.
    const double gon = 16 * 4 * std::sin(2 * pi / 16) / 2;
    EXPECT_NEAR(signed_volume(rod({1, 2, 3}, {1, 2, 8}, 2, 16)), 5 * gon, 1e-9);
    EXPECT_NEAR(signed_volume(block(Placement{}, {2, 3, 0.5}, 0)), 24, 1e-9);
    EXPECT_NEAR(signed_volume(tube({0, 0, 0}, {0, 0, 2}, 1, 2, 16)), 2 * gon * (1 - 0.25), 1e-9);
    EXPECT_NEAR(signed_volume(ball({0, 0, 0}, 3, Vec3::UnitZ())), 4 * pi / 3 * 27, 0.09 * 113);
}

TEST(Mesh, SeamOfARodThroughAPlateIsTwoPolygons) {
    const Mesh plate = block(Placement{}, {10, 10, 1}, 0), pin = rod({0, 0, -5}, {0, 0, 5}, 2, 12);
    double length = 0;
    for (const Edge& edge : seams(plate, pin)) {
        length += (edge.b - edge.a).norm();
        EXPECT_NEAR(std::abs(edge.a.z()), 1, 1e-12);
    }
    EXPECT_NEAR(length, 2 * 12 * 2 * 2 * std::sin(pi / 12), 1e-9);
    EXPECT_TRUE(seams(plate, rod({0, 0, 5}, {0, 0, 9}, 2)).empty());
}

TEST(Mesh, CreasesAreSharpEdgesAndFlatOnesAreNone) {
    const Surface box = surface_of(block(Placement{}, {1, 1, 1}, 0));
    EXPECT_EQ(box.edges.size(), 12U);
    for (const Edge& edge : box.edges) EXPECT_TRUE(edge.crease);
    for (const Edge& edge : surface_of(ball({0, 0, 0}, 1, Vec3::UnitZ())).edges) EXPECT_FALSE(edge.crease);
}

}  // namespace
}  // namespace swashwright::draw
