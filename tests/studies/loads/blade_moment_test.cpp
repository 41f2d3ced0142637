#include "kinematics/studies/loads/blade_moment.h"

#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/studies/pitch/air.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

constexpr double speed_2000 = 2000 * pi / 30;

/// An even plate of 180 g, 55 by 6.6 mm, with its middle `ahead` of the axis.
MassMoments plate(double ahead_m) {
    LoadBlade blade;
    blade.numbers = {.tip_m = 0.7, .chord_m = 0.055, .mass_kg = 0.18, .bolt_m = 0.02};
    blade.thickness_m = 0.0066;
    blade.mass_along_m = 0.36;
    blade.mass_ahead_m = ahead_m;
    blade.spread_m = 0.055 / std::sqrt(12.0);
    return mass_moments(blade);
}

// -speed^2 (I_c - I_t) sin cos with I_c - I_t = m (c^2 - t^2) / 12 + m x^2: the formula of the textbooks (Johnson,
// Bramwell; from memory), its numbers worked out apart from this program to six digits.
TEST(CentrifugalMoment, IsThePropellerMomentOfTheTextbooks) {
    EXPECT_NEAR(plate(0).xx_less_tt, 4.472160e-5, 5e-12);
    const std::array<std::array<double, 3>, 4> rows{
        {{2, -0.068421, -0.120486}, {5, -0.170324, -0.299933}, {10, -0.335472, -0.590752}, {12, -0.398949, -0.702533}}};
    for (const auto& [deg, middle, quarter] : rows) {
        EXPECT_NEAR(centrifugal_moment_nm(plate(0), deg * degree, 0, speed_2000), middle, 6e-7) << deg;
        EXPECT_NEAR(centrifugal_moment_nm(plate(-0.055 / 4), deg * degree, 0, speed_2000), quarter, 6e-7) << deg;
    }
}

/// Particles of a body that stands at a pitch on a coned axis: moment of their centrifugal forces about it, summed as
/// force times arm in space.
double summed_moment_nm(const std::vector<std::pair<Vec3, double>>& particles, double pitch, double cone,
                        double speed) {
    const Vec3 axis(std::cos(cone), 0, std::sin(cone));  // goes round anticlockwise, so ahead is y
    const Mat3 to_space = (Mat3() << axis, Vec3::UnitY(), Vec3(-std::sin(cone), 0, std::cos(cone))).finished() *
                          Eigen::AngleAxisd(pitch, Vec3::UnitX()).toRotationMatrix();
    double sum = 0;
    for (const auto& [place, mass] : particles) {  // place: along, ahead, up
        const Vec3 at = to_space * place;
        const Vec3 force = mass * speed * speed * Vec3(at.x(), at.y(), 0);
        sum += axis.dot(at.cross(force));
    }
    return sum;
}

TEST(CentrifugalMoment, OfAnyBodyIsTheSumOverItsParticles) {
    std::mt19937_64 bits(5);
    testing::Draw draw(bits);
    for (int body = 0; body < 200; ++body) {
        std::vector<std::pair<Vec3, double>> particles;
        MassMoments sums;
        for (int i = 0; i < 20; ++i) {
            const double a = draw.between(20, 700), x = draw.between(-40, 40), t = draw.between(-10, 10);
            const double g = draw.between(1, 20);
            particles.push_back({Vec3(a, x, t) / 1000, g / 1000});
            sums += mass_moments(head::BalanceWeight{g, a, x, t});
        }
        const double pitch = draw.between(-0.6, 0.6), cone = draw.between(-0.2, 0.2), speed = draw.between(0, 400);
        const double summed = summed_moment_nm(particles, pitch, cone, speed);
        EXPECT_NEAR(centrifugal_moment_nm(sums, pitch, cone, speed), summed, 1e-12 * speed * speed + 1e-15);
    }
}

// An even blade in small pieces, with its mass behind the axis: sums of the study against the pieces themselves.
TEST(CentrifugalMoment, OfAnEvenBladeIsThatOfItsPieces) {
    head::Description d;
    d.rotor = {.blade_tip_mm = 700};
    d.blade.chord_mm = 55, d.blade.mass_g = 180, d.blade.bolt_mm = 20;
    d.blade.thickness_mm = 6.6, d.blade.mass_ahead_mm = -4;
    constexpr int along = 40, across = 40, thick = 20;
    std::vector<std::pair<Vec3, double>> pieces;
    for (int i = 0; i < along; ++i)
        for (int j = 0; j < across; ++j)
            for (int k = 0; k < thick; ++k)
                pieces.push_back({Vec3(20 + 680 * (i + 0.5) / along, -4 + 55 * ((j + 0.5) / across - 0.5),
                                       6.6 * ((k + 0.5) / thick - 0.5)) /
                                      1000,
                                  0.18 / (along * across * thick)});
    const double pitch = 11 * degree, cone = 3 * degree;
    const double summed = summed_moment_nm(pieces, pitch, cone, speed_2000);
    // The pieces' own spread, a 1600th of the chord's, is left out of the sum.
    EXPECT_NEAR(centrifugal_moment_nm(mass_moments(load_blade(d)), pitch, cone, speed_2000), summed, 1e-3 * 0.4);
}

LoadBlade even_blade() {
    head::Description d;
    d.rotor = {.blades = 2, .blade_tip_mm = 700, .head_speed_rpm = 2000};
    d.blade.chord_mm = 55, d.blade.mass_g = 180, d.blade.bolt_mm = 20;
    return load_blade(d);
}

// The explicit solution of momentum theory and blade element (Gessow and Myers; from memory), worked out apart from
// this program: two blades, R = 0.7 m, c = 55 mm, slope 5.73, 2000 turns a minute, 1.225 kg/m^3.
TEST(HoverOfTheLoads, HasTheInflowAndThrustOfTheBook) {
    const std::array<std::array<double, 3>, 4> rows{
        {{4, 0.0266775, 57.6919}, {6, 0.0352098, 100.4970}, {8, 0.0425499, 146.7647}, {10, 0.0490906, 195.3538}}};
    for (const auto& [deg, inflow, thrust] : rows) {
        const Hover air = hover(even_blade(), 2, deg * degree, 1.225, speed_2000);
        EXPECT_NEAR(air.inflow, inflow, 6e-8) << deg;
        EXPECT_NEAR(2 * lift_n(even_blade(), air, deg * degree), thrust, 6e-5) << deg;
        const Hover down = hover(even_blade(), 2, -deg * degree, 1.225, speed_2000);
        EXPECT_EQ(down.inflow, -air.inflow);
        EXPECT_EQ(down.coning, -air.coning);
    }
}

// Hinge at the shaft: coning = Lock number (pitch / 8 - inflow / 6), the balance of the rotor texts (Johnson; from
// memory), for a blade of which nothing is inboard.
TEST(HoverOfTheLoads, ConesAsTheFlapBalanceHasIt) {
    LoadBlade blade = even_blade();
    blade.numbers.bolt_m = 1e-9;
    const Hover air = hover(blade, 2, 8 * degree, 1.225, speed_2000);
    const double lock = 1.225 * 5.73 * 0.055 * std::pow(0.7, 4) / (0.18 * 0.7 * 0.7 / 3);
    EXPECT_NEAR(air.coning, lock * (8 * degree / 8 - air.inflow / 6), 1e-8);
}

// Without dampers the balance is that of the whole angle from the plane of rotation; dampers that are all but rigid
// hold the blade at its precone.
TEST(HoverOfTheLoads, TakesThePreconeBackWhereNothingHoldsIt) {
    LoadBlade blade = even_blade();
    const Hover flat = hover(blade, 2, 8 * degree, 1.225, speed_2000);
    const Hover raised = hover(blade, 2, 8 * degree, 1.225, speed_2000, 2 * degree);
    EXPECT_NEAR(2 * degree + raised.coning, flat.coning, 1e-12);
    EXPECT_EQ(raised.inflow, flat.inflow);
    blade.numbers.stiffness_nm = 1e9;
    EXPECT_NEAR(hover(blade, 2, 8 * degree, 1.225, speed_2000, 2 * degree).coning, 0, 1e-4);
}

TEST(HoverOfTheLoads, IsStillWhereNothingTurnsOrNoAirIs) {
    EXPECT_EQ(hover(even_blade(), 2, 0.1, 1.225, 0).inflow, 0);
    EXPECT_EQ(hover(even_blade(), 2, 0.1, 0, 200).coning, 0);
    EXPECT_EQ(hover(even_blade(), 2, 0, 1.225, 200).inflow, 0);
}

TEST(LoadBlade, SwingsOnItsBoltUntilItsMassIsInLineWithIt) {
    head::Description d;
    d.rotor = {.blade_tip_mm = 700};
    d.blade.bolt_mm = 60, d.blade.mass_along_mm = 360, d.blade.bolt_ahead_mm = -1;
    EXPECT_NEAR(load_blade(d).mass_ahead_m, -0.006, 1e-15);
    d.blade.mass_ahead_mm = 2;
    EXPECT_NEAR(load_blade(d).mass_ahead_m, 0.002, 1e-15);
}

// Lift behind the axis and a section that pulls its nose down both lower the leading edge.
TEST(BladeMoment, HasTheSignsOfTheTrade) {
    LoadBlade blade = even_blade();
    blade.quarter_ahead_m = -0.003;
    blade.moment_coefficient = -0.02;
    const Hover air = hover(blade, 2, 8 * degree, 1.225, speed_2000);
    const BladeMoment m = blade_moment(blade, {}, air, 8 * degree, 8 * degree, 0);
    EXPECT_NEAR(m.lift, -0.003 * 146.7647 / 2, 1e-6);
    // Half density, chord squared, speed squared summed along the blade.
    double section = 0;
    for (double r = 0.0205; r < 0.7; r += 0.001)
        section += 0.5 * 1.225 * 0.055 * 0.055 * std::pow(speed_2000 * r, 2) * 0.001;
    EXPECT_NEAR(m.section, -0.02 * section, 1e-4 * 0.02 * section + 1e-6);
    EXPECT_LT(m.propeller, 0);
}

// Weights above and below the axis pull the other way than the blade: they lift the leading edge.
TEST(BladeMoment, IsBalancedByWeightsAboveAndBelowTheAxis) {
    const LoadBlade blade = even_blade();
    MassMoments weights;
    for (const double up : {25.0, -25.0}) weights += mass_moments(head::BalanceWeight{30, 20, 0, up});
    const BladeMoment m = blade_moment(blade, weights, {0, speed_2000, 0, 0}, 0.2, 0.2, 0);
    EXPECT_LT(m.propeller, 0);
    EXPECT_NEAR(m.weights / m.propeller, -2 * 0.03 * 0.025 * 0.025 / mass_moments(blade).xx_less_tt, 1e-12);
}

// ISO 2533, table of the standard atmosphere (values from memory, to four digits).
TEST(AirDensity, IsThatOfTheStandardAtmosphere) {
    EXPECT_NEAR(air_density({}), 1.225, 1e-5);
    EXPECT_NEAR(air_density({.air_height_m = 1000}), 1.1117, 1e-4);
    EXPECT_NEAR(air_density({.air_height_m = 2000}), 1.0066, 1.5e-4);
    // Pressure kept, density goes as one over the absolute temperature.
    EXPECT_NEAR(air_density({.air_temperature_c = 30}), 1.225 * 288.15 / 303.15, 1e-5);
}

}  // namespace
}  // namespace swashwright::studies
