#include "kinematics/studies/lengths/lengths.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using head::Description;

// ISO 261: M2 coarse 0.40 mm, M3 coarse 0.50 mm.
TEST(LinkLengths, ShowsALengthInEveryForm) {
    const head::Link link{.boss_mm = {6, 5}, .end_length_mm = {11, 12}};
    const LinkForms forms = link_forms(link, 40);
    EXPECT_DOUBLE_EQ(forms.gap, 34.5);
    EXPECT_DOUBLE_EQ(forms.span, 45.5);
    EXPECT_DOUBLE_EQ(forms.bare_rod, 17);
    head::Servo servo;
    servo.spline_teeth = 25;
    const HornMove move = horn_move(servo, 20);  // 360 / 25 = 14.4 deg a tooth
    EXPECT_EQ(move.teeth, 1);
    EXPECT_NEAR(move.trim_deg, 5.6, 1e-12);
}

// A tooth is 360 / teeth, and arms step by 360 / arms: together by 360 over the least common multiple (arithmetic).
TEST(Centring, ChoosingTheArmMakesFinerSteps) {
    const struct {
        int teeth, arms;
        double step_deg;
    } known[] = {{25, 1, 14.4}, {25, 2, 7.2},        {25, 3, 4.8},        {25, 4, 3.6},
                 {25, 6, 2.4},  {23, 2, 360.0 / 46}, {23, 4, 360 / 92.0}, {23, 6, 360 / 138.0},
                 {24, 2, 15},   {24, 3, 15},         {24, 6, 15},         {15, 4, 6}};
    for (const auto& k : known) {
        head::Servo servo;
        servo.spline_teeth = k.teeth;
        double worst = 0;
        for (double change = -40; change < 40; change += 0.37) {
            const Centring c = centring(servo, k.arms, change);
            EXPECT_NEAR(c.step_deg, k.step_deg, 1e-9);
            EXPECT_GE(c.arm, 0);
            EXPECT_LT(c.arm, k.arms);
            const double reached = 360.0 * c.arm / k.arms + c.teeth * 360.0 / k.teeth;
            EXPECT_NEAR(std::remainder(reached + c.left_deg - change, 360), 0, 1e-9);
            worst = std::max(worst, std::abs(c.left_deg));
        }
        EXPECT_LE(worst, k.step_deg / 2 + 1e-9);
        EXPECT_GT(worst, k.step_deg / 2 * 0.8);  // the step is no finer than it is said to be
    }
}

TEST(LinkLengths, TellsTeethInWordsAndWhichArmComesNearer) {
    Description d = testing::demo("two_blade_600.toml");
    d.servos[0].neutral_deg -= 12;
    const auto found = link_lengths(d, {.wishes = {}, .free = free_neutrals(d)});
    ASSERT_TRUE(found) << found.error();
    const Answer a = answer(*found);
    const auto table = [&](const char* key) { return *std::ranges::find(a.tables, key, &Table::key); };
    EXPECT_EQ(table("horns").rows[0][6], Cell("one tooth anticlockwise"));  // 14.4 deg, of 12 wanted
    const Table arms = table("centring");
    ASSERT_GT(arms.rows.size(), 1U);
    for (std::size_t i = 1; i < arms.rows.size(); ++i)  // only horns that come nearer are told
        EXPECT_LT(std::abs(std::get<double>(arms.rows[i][6])), std::abs(std::get<double>(arms.rows[i - 1][6])));
    EXPECT_NEAR(std::get<double>(arms.rows[0][6]), 12 - 14.4, 1e-6);
    for (const auto& row : arms.rows)
        EXPECT_LE(std::abs(std::get<double>(row[6])), std::get<double>(row[2]) / 2 + 1e-9);
}

TEST(LinkLengths, SaysThatUnevenEndsAreForThePitchCurve) {
    const Description d = testing::demo("two_blade_600.toml");
    const auto noted = [&](std::array<double, 2> ends) {
        const auto found = link_lengths(d, {.wishes = {.range_deg = ends}, .free = free_links(d)});
        EXPECT_TRUE(found);
        const auto notes = answer(*found).notes;
        return std::ranges::any_of(notes, [](const std::string& n) { return n.find("pitch curve") != n.npos; });
    };
    EXPECT_TRUE(noted({-3, 10}));
    EXPECT_FALSE(noted({-10, 10}));
}

}  // namespace
}  // namespace swashwright::studies
