#include "kinematics/studies/pitch/flap.h"

#include <gtest/gtest.h>

#include <numbers>

namespace swashwright::studies {
namespace {

/// 0.7 m rotor, 55 mm chord, 180 g spread evenly from the flap hinge at 20 mm to the tip.
BladeNumbers small_blade(double stiffness_nm) {
    return {
        .tip_m = 0.7, .chord_m = 0.055, .mass_kg = 0.18, .bolt_m = 0.02, .hinge_m = 0.02, .stiffness_nm = stiffness_nm};
}

// Worked by hand from the textbook balance (Johnson, Helicopter Theory; Leishman, Principles of Helicopter
// Aerodynamics): I = m (R - e)^2 / 3 = 0.18 x 0.68^2 / 3; S = m (R - e) / 2; lock = 1.225 x 5.73 x 0.055 x 0.7^4 / I.
// Tolerances: half of the last digit of the hand calculation.
TEST(Flap, AgreesWithTheHandCalculationOfASmallBlade) {
    const auto f = flap(small_blade(0), 2000);
    ASSERT_TRUE(f);
    EXPECT_NEAR(f->inertia_kgm2, 0.027744, 5e-7);
    EXPECT_NEAR(f->first_moment_kgm, 0.0612, 5e-5);
    EXPECT_NEAR(f->lock_number, 3.341000, 5e-7);
    EXPECT_NEAR(f->stiffness_ratio, 1.044118, 5e-7);
}

TEST(Flap, LiftsTheTipByWhatTheBalanceSaysWithStifferAndStifferDampers) {
    const double stiffness[] = {0, 20, 60, 150}, ratio[] = {1.044118, 1.060552, 1.093420, 1.167373};
    // With the lift's arm r - e: (1/2) rho a c [(R^4 - e^4) / 4 - e (R^3 - e^3) / 3] / (I ratio); the tip is R - e from
    // the hinge.
    const double gain[] = {0.38474, 0.37878, 0.36739, 0.34412}, tip_for_tenth[] = {0.4566, 0.4495, 0.4360, 0.4084};
    for (int i = 0; i < 4; ++i) {
        const auto f = flap(small_blade(stiffness[i]), 2000);
        ASSERT_TRUE(f);
        EXPECT_NEAR(f->stiffness_ratio, ratio[i], 5e-7);
        EXPECT_NEAR(f->flap_per_pitch, gain[i], 5e-6);
        EXPECT_NEAR(0.1 * f->tip_mm_per_deg, tip_for_tenth[i], 5e-5);
    }
}

// The moments about the hinge, added up piece by piece over 20,000 pieces of the blade (midpoint rule: error below 1e-8
// of the whole), must cancel at the flap angle that the balance gives: lift 1/2 rho a c w^2 r^2 theta with the arm r -
// e, centrifugal force w^2 r dm with the arm (r - e) beta.
TEST(Flap, BalancesTheMomentsAboutAHingeAnywhere) {
    for (const double hinge : {0.0, 0.02, 0.05, 0.12})
        for (const double stiffness : {0.0, 40.0}) {
            BladeNumbers b = small_blade(stiffness);
            b.hinge_m = hinge;
            b.bolt_m = hinge;
            const double rpm = 1900, w = rpm * std::numbers::pi / 30;
            const auto f = flap(b, rpm);
            ASSERT_TRUE(f);
            constexpr int pieces = 20'000;
            const double dr = (b.tip_m - hinge) / pieces, beta = f->flap_per_pitch;
            double lift = 0, back = stiffness * beta;
            for (int i = 0; i < pieces; ++i) {
                const double r = hinge + (i + 0.5) * dr, dm = b.mass_kg / pieces;
                lift += 0.5 * 1.225 * 5.73 * b.chord_m * w * w * r * r * (r - hinge) * dr;
                back += dm * w * w * r * (r - hinge) * beta;
            }
            EXPECT_NEAR(lift / back, 1, 1e-7) << hinge << " " << stiffness;
            EXPECT_NEAR(f->tip_mm_per_deg, 1000 * (b.tip_m - hinge) * beta * std::numbers::pi / 180, 1e-9);
        }
}

TEST(Flap, FillsInWhatADescriptionLeavesOutAndSaysSo) {
    head::Description d;
    d.rotor.blade_tip_mm = 660;
    const BladeNumbers guessed = blade_numbers(d);
    EXPECT_DOUBLE_EQ(guessed.chord_m, 0.055);
    EXPECT_DOUBLE_EQ(guessed.bolt_m, 0.066);
    EXPECT_NEAR(guessed.mass_kg, 4.8 * 0.055 * 0.594, 1e-12);
    EXPECT_TRUE(guessed.chord_guessed && guessed.mass_guessed && guessed.bolt_guessed);
    d.blade.mass_g = 150;
    EXPECT_DOUBLE_EQ(blade_numbers(d).mass_kg, 0.15);
    EXPECT_FALSE(blade_numbers(d).mass_guessed);
}

TEST(Flap, HasNoAnswerWhereThereIsNothingToBalance) {
    EXPECT_FALSE(flap({}, 2000));
    EXPECT_FALSE(flap(small_blade(20), 0));
    EXPECT_TRUE(flap(small_blade(0), 0));  // without a spring the balance does not depend on speed
}

}  // namespace
}  // namespace swashwright::studies
