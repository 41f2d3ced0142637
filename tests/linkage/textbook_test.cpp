// The general solver against linkages whose answers are printed in textbooks or follow from a closed form.

#include <gtest/gtest.h>

#include "kinematics/linkage/fit.h"
#include "kinematics/linkage/tangent.h"
#include "tests/linkage/cases.h"

namespace swashwright::linkage {
namespace {

double wrapped(double deg) {
    return std::remainder(deg, 360.0);
}

/// The lever's angle in deg at the inputs of `cranks`.
double lever_deg(const TwoCranks& cranks) {
    const auto plan = Plan::make(cranks.description());
    EXPECT_TRUE(plan.has_value());
    EXPECT_TRUE(plan->neutral_shortfalls().empty());
    return Workspace(*plan).angle(TwoCranks::lever) / degree;
}

TwoCranks four_bar(double crank, double coupler, double rocker, double ground, double input_deg, double near_deg) {
    const Vec3 z = Vec3::UnitZ(), x = Vec3::UnitX();
    return {frame(Vec3::Zero(), z, x), frame(ground * x, z, x), crank, rocker, coupler, input_deg, near_deg};
}

// Freudenstein's equation (Trans. ASME 77, 1955, 853-861). Six decimals computed from it; the first two rows agree with
// the two decimals of Norton, Design of Machinery, example 4-1 and table P4-1 row a (book values from memory).
TEST(FourBar, RockerStandsWhereFreudensteinPutsItOpenAndCrossed) {
    EXPECT_NEAR(lever_deg(four_bar(40, 120, 80, 100, 40, 50)), 57.324880, 1e-6);
    EXPECT_NEAR(lever_deg(four_bar(40, 120, 80, 100, 40, -90)), -98.004964, 1e-6);
    EXPECT_NEAR(lever_deg(four_bar(2, 7, 9, 6, 30, 110)), 117.286068, 1e-6);
    EXPECT_NEAR(lever_deg(four_bar(2, 7, 9, 6, 30, -150)), -143.659639, 1e-6);
    EXPECT_NEAR(lever_deg(four_bar(40, 90, 70, 100, 45, 80)), 83.200015, 1e-6);
    EXPECT_NEAR(lever_deg(four_bar(40, 90, 70, 100, 45, -120)), -126.247997, 1e-6);
}

/// The coupler as a body of its own: on a ball joint at the crank, its far end tied to the rocker's ball at a point,
/// its roll held by a pin in the plane of the paper.
struct CouplerBody {
    Description d;
    BodyId crank, coupler, rocker;

    explicit CouplerBody(double input_deg) {
        crank = d.add_body({.name = "crank",
                            .parent = Description::ground,
                            .joint_frame = {},
                            .joint = Joint::revolute,
                            .input = true,
                            .neutral = {.angle = input_deg * degree}});
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
        d.add_coincidence("far end", d.add_anchor(coupler, {120, 0, 0}), d.add_anchor(rocker, {80, 0, 0}));
        d.add_slot("pin", d.add_anchor(coupler, {0, 10, 0}), d.add_anchor(Description::ground, Vec3::Zero()),
                   Vec3::UnitZ());
    }
};

// The first row above, then other inputs against the rod in closed form; the ratio of speeds is the textbook's
// a sin(crank - coupler) / (c sin(rocker - coupler)) (Norton, Design of Machinery, velocity analysis of the four-bar;
// from memory).
TEST(FourBar, ItsCouplerMayBeABodyTiedAtAPoint) {
    const CouplerBody linkage(40);
    const auto plan = Plan::make(linkage.d);
    ASSERT_TRUE(plan.has_value()) << plan.error().message;
    ASSERT_TRUE(plan->neutral_shortfalls().empty());
    Workspace ws(*plan);
    EXPECT_NEAR(ws.angle(linkage.rocker) / degree, 57.324880, 1e-6);
    Tangent tangent(*plan);
    for (const double crank_deg : {25.0, 40.0, 60.0, 110.0}) {
        const double input[] = {crank_deg * degree};
        ASSERT_TRUE(solve(*plan, ws, input).closed) << crank_deg;
        const double rocker = ws.angle(linkage.rocker);
        EXPECT_NEAR(rocker / degree, lever_deg(four_bar(40, 120, 80, 100, crank_deg, rocker / degree + 2)), 1e-9);
        const Vec3 from(40 * std::cos(input[0]), 40 * std::sin(input[0]), 0);
        const Vec3 to(100 + 80 * std::cos(rocker), 80 * std::sin(rocker), 0);
        const double coupler = std::atan2(to.y() - from.y(), to.x() - from.x());
        ASSERT_TRUE(tangent.at(*plan, ws));
        const Change turned{Quantity::input, 0, {1, 0, 0}};
        tangent.along(*plan, ws, {&turned, 1});
        EXPECT_NEAR(rate(ws, linkage.rocker), 40 * std::sin(input[0] - coupler) / (80 * std::sin(rocker - coupler)),
                    1e-9);
    }
}

// Driven by its rocker, the crank-rocker of example 4-1 comes to its dead point where crank and coupler lie in one
// line: the rocker's ball is then 120 + 40 mm from the crank's pivot. On the way there the hold is the sine of the
// transmission angle (cosine rule).
TEST(FourBar, ItsHoldFadesTowardsTheDeadPointWhereCrankAndCouplerAreInLine) {
    for (const double transmission_deg : {60.0, 30.0, 10.0, 2.0, 0.5}) {
        const double between = (180 - transmission_deg) * degree;  // of crank and coupler
        const double square = 40 * 40 + 120 * 120 - 2 * 40 * 120 * std::cos(between);
        const double input = std::acos((80 * 80 + 100 * 100 - square) / (2 * 80 * 100));
        // The crank stands off the line from its pivot to the rocker's ball by the angle opposite the coupler.
        const double line = std::atan2(80 * std::sin(input), 80 * std::cos(input) - 100);
        const double off = std::acos((40 * 40 + square - 120 * 120) / (2 * 40 * std::sqrt(square)));
        const auto plan =
            Plan::make(four_bar(80, 120, 40, 100, input / degree, (line - off) / degree - 1).description());
        ASSERT_TRUE(plan.has_value()) << plan.error().message;
        ASSERT_TRUE(plan->neutral_shortfalls().empty()) << transmission_deg;
        // Near a dead point a closure solved to 1e-10 mm leaves the angle off by that over arm and hold.
        EXPECT_NEAR(distance_to_dead_point(Workspace(*plan), plan->blocks()[0]), std::sin(transmission_deg * degree),
                    1e-8);
    }
}

// x = r cos t + sqrt(l^2 - (r sin t - e)^2): Pythagoras (KMODDL tutorial "Mathematics of the slider cranks", Cornell,
// p. 3).
TEST(SliderCrank, SliderStandsWherePythagorasPutsIt) {
    struct Case {
        double crank, rod, offset, angle_deg, start, slide;
    };
    // Row 1: Norton, Design of Machinery, example 4-2 (126.84, from memory); its offset is -20, so the line lies at y =
    // -20.
    for (const Case c : {Case{40, 120, -20, 60, 100, 126.838005}, Case{40, 120, -20, 60, -60, -86.838005},
                         Case{5, 15, -3, 0, 15, 19.696938}, Case{5, 15, -3, 30, 15, 18.285413},
                         Case{5, 15, -3, 60, 15, 15.586987}, Case{5, 15, -3, 90, 15, 12.688577},
                         Case{63, 130, 52, 55, 160, 166.134720}, Case{63, 130, -52, 55, 110, 114.657139}}) {
        Description d;
        const BodyId crank = d.add_body({.name = "crank",
                                         .parent = Description::ground,
                                         .joint_frame = {},
                                         .joint = Joint::revolute,
                                         .input = true,
                                         .neutral = {.angle = c.angle_deg * degree}});
        const BodyId slider = d.add_body({.name = "slider",
                                          .parent = Description::ground,
                                          .joint_frame = frame({0, c.offset, 0}, Vec3::UnitX(), Vec3::UnitY()),
                                          .joint = Joint::prismatic,
                                          .neutral = {.slide = c.start}});
        d.add_link("rod", d.add_anchor(crank, {c.crank, 0, 0}), d.add_anchor(slider, Vec3::Zero()), c.rod);
        const auto plan = Plan::make(d);
        ASSERT_TRUE(plan.has_value()) << plan.error().message;
        EXPECT_NEAR(Workspace(*plan).slide(slider), c.slide, 1e-6) << c.angle_deg;
    }
}

// Spatial loops of two revolutes and two balls: A cos + B sin = C in vector form (the method of Hartenberg and Denavit,
// Kinematic Synthesis of Linkages, 1964, ch. 12, from memory); the numbers were computed from that form.
TwoCranks perpendicular(double input_deg, double near_deg) {
    return {frame(Vec3::Zero(), Vec3::UnitZ(), Vec3::UnitX()),
            frame({60, 20, 40}, Vec3::UnitX(), Vec3::UnitY()),
            30,
            50,
            90,
            input_deg,
            near_deg};
}

TwoCranks skew(double input_deg, double near_deg) {
    const double twist = 50 * degree;
    const Vec3 axis(0, -std::sin(twist), std::cos(twist));
    return {frame({0, 0, 20}, Vec3::UnitZ(), Vec3::UnitX()),
            frame(Vec3(100, 0, 0) - 15 * axis, axis, Vec3::UnitX()),
            35,
            60,
            105,
            input_deg,
            near_deg};
}

TEST(SpatialCranks, PerpendicularAxesGiveBothAssemblies) {
    const double table[][3] = {{0, 10.573058, 116.296839},     {30, 37.220468, 128.529499},
                               {60, 37.155106, 159.852521},    {90, 18.208811, -170.136324},
                               {120, -15.740462, -147.251910}, {270, -70.485491, 147.805108}};
    for (const auto& [input, one, other] : table)
        for (const double wanted : {one, other})
            EXPECT_NEAR(wrapped(lever_deg(perpendicular(input, wanted + 20)) - wanted), 0, 1e-6) << input;
}

TEST(SpatialCranks, SkewAxesGiveBothAssemblies) {
    const double table[][3] = {{0, -87.408309, 60.882553},     {45, -108.386541, 63.309905},
                               {90, -128.912239, 87.480552},   {135, -140.612025, 112.503329},
                               {180, -142.893958, 129.944588}, {225, -133.359681, 133.899152},
                               {270, -113.716563, 121.926354}, {315, -92.280115, 93.174418}};
    for (const auto& [input, one, other] : table)
        for (const double wanted : {one, other})
            EXPECT_NEAR(wrapped(lever_deg(skew(input, wanted + 15)) - wanted), 0, 1e-6) << input;
}

TEST(SpatialCranks, DerivativesAndDeadPointDistanceMatchTheClosedForm) {
    struct Case {
        double near_deg, by_input, by_rod_deg;
    };
    for (const Case c : {Case{37, -0.372527, 2.905763}, Case{160, 1.106127, -2.905763}}) {
        const auto plan = Plan::make(perpendicular(60, c.near_deg).description());
        ASSERT_TRUE(plan.has_value());
        Workspace ws(*plan);
        Tangent tangent(*plan);
        ASSERT_TRUE(tangent.at(*plan, ws));
        const Change input{Quantity::input, 0, {1, 0, 0}}, rod{Quantity::length, 0, {1, 0, 0}};
        tangent.along(*plan, ws, {&input, 1});
        EXPECT_NEAR(rate(ws, TwoCranks::lever), c.by_input, 1e-6);
        tangent.along(*plan, ws, {&rod, 1});
        EXPECT_NEAR(rate(ws, TwoCranks::lever) / degree, c.by_rod_deg, 1e-6);
        EXPECT_NEAR(distance_to_dead_point(ws, plan->blocks()[0]), 0.394360, 1e-6);  // sine of the transmission angle
    }
}

TEST(SpatialCranks, ARodThatCannotReachIsNamedWithItsShortfall) {
    const auto plan = Plan::make(perpendicular(60, 37).description());
    ASSERT_TRUE(plan.has_value());
    Workspace ws(*plan);
    const std::vector<double> out_of_reach{180 * degree};
    const Report report = solve(*plan, ws, out_of_reach);
    EXPECT_FALSE(report.closed);
    EXPECT_NEAR(ws.angle(TwoCranks::lever) / degree, 37.155106, 1e-6) << "the last good pose stays";
    const auto shortfalls = solve_nearest(*plan, ws, out_of_reach);
    ASSERT_EQ(shortfalls.size(), 1u);
    // Distances from (-30, 0, 0) to the lever's circle about (60, 20, 40), radius 50 in the plane x = 60:
    // sqrt(90^2 + (sqrt(20^2 + 40^2) -+ 50)^2); the least is 90.077 mm, so a 90 mm rod is too short.
    EXPECT_NEAR(shortfalls[0].missing_mm, std::sqrt(90.0 * 90 + std::pow(50 - std::sqrt(2000.0), 2)) - 90, 1e-9);
    EXPECT_EQ(sentence(*plan, shortfalls[0]), "the balls that rod joins are 0.15 mm too far apart");
}

// Three equal-height legs turning about tangential axes, tips tied to a triangle (3-RPS with locked legs). Inclinations
// computed from the closure |Si - Sj|^2 = 3 h^2; first row by symmetry: cos = (g - h) / L.
TEST(ThreeLegs, InclinationsCloseTheTriangle) {
    const double g = 60, h = 40;
    const double table[][6] = {{100, 100, 100, 78.463041, 78.463041, 78.463041},
                               {110, 100, 95, 78.853698, 78.723085, 77.423022},
                               {120, 105, 90, 78.530214, 80.185862, 74.127669}};
    for (const auto& row : table) {
        Description d;
        std::vector<AnchorId> tips;
        for (int i = 0; i < 3; ++i) {
            const double a = 120.0 * i * degree;
            const Vec3 out(std::cos(a), std::sin(a), 0);
            // The leg lies inwards at angle 0 and rises with the angle.
            const BodyId leg = d.add_body({.name = "leg",
                                           .parent = Description::ground,
                                           .joint_frame = frame(g * out, (-out).cross(Vec3::UnitZ()), -out),
                                           .joint = Joint::revolute,
                                           .neutral = {.angle = 75 * degree}});
            tips.push_back(d.add_anchor(leg, {row[i], 0, 0}));
        }
        for (int i = 0; i < 3; ++i) d.add_link("side", tips[i], tips[(i + 1) % 3], std::sqrt(3.0) * h);
        const auto plan = Plan::make(d);
        ASSERT_TRUE(plan.has_value()) << plan.error().message;
        for (int i = 0; i < 3; ++i) EXPECT_NEAR(Workspace(*plan).angle({i + 1}) / degree, row[3 + i], 1e-6);
    }
}

// A plate on a mast moved by three horns, its orientation defined as Ry Rx (no guide pin). Computed by an independent
// solver; the neutral height by hand: sqrt(55^2 - 2^2).
TEST(MastGuidedPlate, HeightAndTiltsMatchAnIndependentSolver) {
    const double table[][6] = {{0, 0, 0, 54.963624, 0, 0},
                               {20, 20, 20, 59.745421, 0, 0},
                               {-20, -20, -20, 50.168857, 0, 0},
                               {20, 0, -20, 54.944183, 14.570490, 0.050631},
                               {30, -10, 5, 56.860094, 8.782132, -11.391971},
                               {-25, 15, -5, 53.765570, -7.339699, 12.595935},
                               {0, 30, 0, 57.276187, 0, 12.162899}};
    Description d;
    std::vector<BodyId> horns;
    for (const double azimuth : {60.0, 180.0, 300.0}) {
        const Vec3 out(std::cos(azimuth * degree), std::sin(azimuth * degree), 0), across = Vec3::UnitZ().cross(out);
        horns.push_back(d.add_body({.name = "horn",
                                    .parent = Description::ground,
                                    .joint_frame = frame(24 * out - 14 * across, across.cross(Vec3::UnitZ()), across),
                                    .joint = Joint::revolute,
                                    .input = true,
                                    .neutral = {}}));
    }
    const BodyId slide = d.add_body({.name = "slider",
                                     .parent = Description::ground,
                                     .joint_frame = {},
                                     .joint = Joint::prismatic,
                                     .neutral = {.slide = 55}});
    const BodyId about_y = d.add_body({.name = "gimbal",
                                       .parent = slide,
                                       .joint_frame = frame(Vec3::Zero(), Vec3::UnitY(), Vec3::UnitZ()),
                                       .joint = Joint::revolute,
                                       .neutral = {}});
    // Undo the gimbal's frame, so that the plate's own axes are the mast's at zero tilt.
    Placement about_x_frame;
    about_x_frame.turn = frame(Vec3::Zero(), Vec3::UnitY(), Vec3::UnitZ()).turn.transpose() *
                         frame(Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY()).turn;
    const BodyId plate = d.add_body(
        {.name = "plate", .parent = about_y, .joint_frame = about_x_frame, .joint = Joint::revolute, .neutral = {}});
    const Mat3 to_plate = frame(Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY()).turn.transpose();
    for (int i = 0; i < 3; ++i) {
        const double a = (60 + 120.0 * i) * degree;
        d.add_link("rod", d.add_anchor(horns[i], {14, 0, 0}),
                   d.add_anchor(plate, to_plate * Vec3(22 * std::cos(a), 22 * std::sin(a), 0)), 55);
    }
    const auto plan = Plan::make(d);
    ASSERT_TRUE(plan.has_value()) << plan.error().message;
    for (const auto& row : table) {
        Workspace ws(*plan);
        const std::vector<double> inputs{row[0] * degree, row[1] * degree, row[2] * degree};
        ASSERT_TRUE(solve(*plan, ws, inputs).closed);
        EXPECT_NEAR(ws.slide(slide), row[3], 1e-6);
        EXPECT_NEAR(ws.angle(plate) / degree, row[4], 1e-6);
        EXPECT_NEAR(ws.angle(about_y) / degree, row[5], 1e-6);
    }
}

}  // namespace
}  // namespace swashwright::linkage
