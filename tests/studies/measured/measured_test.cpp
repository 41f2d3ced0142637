#include "kinematics/studies/measured/measured.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "kinematics/head/head.h"
#include "tests/support/measured_by_hand.h"

namespace swashwright::studies {
namespace {

using ::testing::Contains;
using testing::Draw;
using testing::hand_demo;
using testing::hand_readings;
using testing::HandHead;
using ::testing::HasSubstr;
using testing::random_hand_head;

/// Largest difference between two heads, over the numbers that move something, mm.
double difference(const head::Description& a, const head::Description& b) {
    double most = 0;
    const auto compare = [&](double x, double y) { most = std::max(most, std::abs(x - y)); };
    const auto polar = [&](const head::Polar& x, const head::Polar& y) {
        compare(x.radius_mm, y.radius_mm);
        compare(std::remainder(x.angle_deg - y.angle_deg, 360), 0);
        compare(x.height_mm, y.height_mm);
    };
    const auto vector = [&](const Vec3& x, const Vec3& y) { compare((x - y).norm(), 0); };
    for (std::size_t j = 0; j < 3; ++j) {
        vector(head::pivot_point(a.servos[j].pivot_mm), head::pivot_point(b.servos[j].pivot_mm));
        vector(a.servos[j].axis.normalized(), b.servos[j].axis.normalized());
        vector(a.servos[j].horn_zero.normalized(), b.servos[j].horn_zero.normalized());
        compare(a.servos[j].horn_mm, b.servos[j].horn_mm);
        polar(a.swashplate.inner_balls[j], b.swashplate.inner_balls[j]);
        compare(a.lower_links[j].actual_mm(), b.lower_links[j].actual_mm());
    }
    for (std::size_t k = 0; k < a.grips.size(); ++k) {
        polar(a.swashplate.outer_balls[k], b.swashplate.outer_balls[k]);
        compare(a.upper_links[k].actual_mm(), b.upper_links[k].actual_mm());
        vector({a.grips[k].pitch_arm.along_mm, a.grips[k].pitch_arm.lead_mm, a.grips[k].pitch_arm.up_mm},
               {b.grips[k].pitch_arm.along_mm, b.grips[k].pitch_arm.lead_mm, b.grips[k].pitch_arm.up_mm});
    }
    compare(a.swashplate.neutral_height_mm, b.swashplate.neutral_height_mm);
    compare(a.swashplate.guide_pin.radius_mm, b.swashplate.guide_pin.radius_mm);
    compare(a.swashplate.driver_pins[0].radius_mm, b.swashplate.driver_pins[0].radius_mm);
    compare(a.rotor.hub_height_mm, b.rotor.hub_height_mm);
    compare(a.rotor.blade_tip_mm, b.rotor.blade_tip_mm);
    return most;
}

// 1e-9 mm: the readings are some 100 mm in double precision, and the equations magnify rounding some hundred times.
TEST(MeasuredHead, ExactReadingsGiveTheHeadBack) {
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const HandHead hand = random_hand_head(seed);
        const auto found = measured_head(hand_readings(hand));
        ASSERT_TRUE(found) << found.error() << " seed " << seed;
        EXPECT_LT(difference(found->head, hand.head), 1e-9) << "seed " << seed;
        EXPECT_NEAR(*found->head.swashplate.lower_face_mm, -hand.sizes.lower_face, 1e-9);
        EXPECT_EQ(found->head.measured_from->height_mm, hand.layout.block_height_mm);
        EXPECT_TRUE(found->contradictions.empty());
        EXPECT_TRUE(found->missing.empty());
        EXPECT_EQ(found->readings, static_cast<int>(reading_places(hand.layout).size()));
    }
}

TEST(MeasuredHead, ExactReadingsGiveTheDemosBack) {
    for (const char* name : {"two_blade_600.toml", "small_two_blade_250.toml", "three_blade_700.toml"}) {
        const HandHead hand = hand_demo(name);
        const auto found = measured_head(hand_readings(hand));
        ASSERT_TRUE(found) << found.error();
        head::Description want = hand.head;
        EXPECT_LT(difference(found->head, want), 1e-9) << name;
        EXPECT_TRUE(found->does_not_close.empty());
        ASSERT_TRUE(found->pitch_sd_deg);
        EXPECT_LT(*found->pitch_sd_deg, 1);
        EXPECT_EQ(found->head.mixing.collective_deg, want.mixing.collective_deg);
    }
}

/// The true values of the numbers, in the order in which they are told: an exact set of readings gives them.
std::vector<DerivedNumber> truth(const HandHead& hand) {
    return measured_head(hand_readings(hand))->numbers;
}

TEST(MeasuredHead, ErrorsAreWithinTheirUncertaintyAtTheRightRate) {
    constexpr int heads = 400;
    int within = 0, all = 0, alarms = 0;
    std::map<std::string, std::pair<double, int>> squares;  // by the kind of number
    std::mt19937_64 bits(7);
    Draw draw(bits);
    for (int seed = 1; seed <= heads; ++seed) {
        const HandHead hand = random_hand_head(static_cast<std::uint64_t>(seed));
        const auto found = measured_head(hand_readings(hand, &draw));
        ASSERT_TRUE(found) << found.error();
        alarms += !found->contradictions.empty();
        const auto exact = truth(hand);
        for (std::size_t i = 0; i < exact.size(); ++i) {
            const double z = (found->numbers[i].value - exact[i].value) / found->numbers[i].sd;
            ++all;
            within += std::abs(z) < 1.959964;  // 95 of 100 normally distributed numbers
            auto& [sum, count] = squares[exact[i].words];
            sum += z * z;
            ++count;
        }
    }
    // Some 20 of a head's numbers are independent: one standard deviation of the rate is 0.0025.
    const double rate = double(within) / all;
    std::printf("coverage %.4f over %d numbers, false alarms in %d of %d heads\n", rate, all, alarms, heads);
    EXPECT_NEAR(rate, 0.95, 0.01);
    // Mean of squares over 400 heads: chi-square, standard deviation sqrt(2/400) = 0.071. 4.5 of them over 30 numbers.
    for (const auto& [words, sum] : squares)
        if (sum.second == heads) {
            EXPECT_NEAR(sum.first / heads, 1, 0.32) << words;
        }
    // At most some 20 residuals a head are free, each beyond 3 deviations in 0.27 % of cases: 5.4 % of heads, and
    // 3.2 deviations of the count more.
    EXPECT_LT(alarms, heads * 0.09);
}

/// Readings that others check.
bool checked(Taking taking) {
    constexpr Taking kinds[] = {
        Taking::inner_span,    Taking::outer_span,    Taking::outer_to_shaft, Taking::inner_ball,    Taking::faces,
        Taking::block_to_face, Taking::block_to_ball, Taking::face_to_bolt,   Taking::block_to_bolt, Taking::arm_span,
        Taking::arm_along,     Taking::arm_lead,      Taking::barrel,         Taking::horn_span};
    return std::ranges::find(kinds, taking) != std::end(kinds);
}

TEST(MeasuredHead, AGrossMisreadingIsNamed) {
    std::mt19937_64 bits(11);
    Draw draw(bits);
    int planted = 0, named = 0, alone = 0;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const HandHead hand = random_hand_head(seed);
        MeasuredHead readings = hand_readings(hand, &draw);
        std::vector<ReadingPlace> places;
        for (const ReadingPlace& place : reading_places(hand.layout))
            if (checked(place.taking)) places.push_back(place);
        const ReadingPlace at = places[static_cast<std::size_t>(draw.whole(0, int(places.size()) - 1))];
        readings.taken[at].mm += draw.chance(0.5) ? 2 : -2;  // two on the rule in place of the vernier
        const auto found = measured_head(readings);
        ASSERT_TRUE(found);
        ++planted;
        for (const Contradiction& c : found->contradictions) {
            const auto in = std::ranges::find(c.places, at);
            if (in == c.places.end()) continue;
            ++named;
            alone += c.left_out;
            break;
        }
    }
    std::printf("named %d of %d, %d of them alone\n", named, planted, alone);
    EXPECT_GE(named, planted * 99 / 100);  // now and then a chance error elsewhere hides it
}

TEST(MeasuredHead, AContradictionSaysWhatAndByHowMuch) {
    const HandHead hand = hand_demo("two_blade_600.toml");
    MeasuredHead readings = hand_readings(hand);
    readings.taken[{Taking::inner_span, 1}].mm += 1;
    const auto found = measured_head(readings);
    ASSERT_TRUE(found);
    ASSERT_EQ(found->contradictions.size(), 1U);
    EXPECT_TRUE(found->contradictions[0].left_out);
    EXPECT_NEAR(found->contradictions[0].off_mm[0], 1, 1e-6);
    EXPECT_NEAR(found->head.swashplate.inner_balls[0].radius_mm, 26, 1e-9);  // the others hold
    EXPECT_THAT(doubts(*found, hand.layout),
                Contains(HasSubstr("\"over inner balls 2 and 3\" is 1.00 mm too large for the others")));
}

TEST(MeasuredHead, WhatWasNotTakenIsAssumedAndSaid) {
    const HandHead hand = hand_demo("two_blade_600.toml");
    MeasuredHead readings = hand_readings(hand);
    for (int i = 0; i < 3; ++i) readings.taken.erase({Taking::lower_link, i});
    for (int i = 0; i < 2; ++i) readings.taken.erase({Taking::upper_link, i});
    readings.taken.erase({Taking::outer_to_shaft, 0});  // the span gives the radius
    readings.taken.erase({Taking::arm_up, 0});
    const auto found = measured_head(readings);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->missing.size(), 6U);
    EXPECT_NEAR(found->head.lower_links[0].length_mm, 35, 1e-9);  // the demo stands level with its links
    EXPECT_NEAR(found->head.upper_links[0].length_mm, 61, 0.2);   // not quite: the demo's pitch at mid stick
    EXPECT_THAT(doubts(*found, hand.layout), Contains(HasSubstr("Not taken: \"arm ball above axis\"")));
    const auto number = std::ranges::find(found->numbers, std::string("pitch-arm balls, up"), &DerivedNumber::words);
    EXPECT_TRUE(number->from_default);
    EXPECT_NEAR(number->sd, 0.5, 1e-9);
}

TEST(MeasuredHead, WithoutAnyReadingItIsAllAssumption) {
    for (int blades = 2; blades <= 6; ++blades) {
        MeasuredHead none;
        none.layout.blades = blades;
        const auto found = measured_head(none);
        ASSERT_TRUE(found) << found.error();
        EXPECT_TRUE(found->does_not_close.empty()) << found->does_not_close;
        EXPECT_EQ(found->readings, 0);
        const auto head = head::Head::build(found->head);
        ASSERT_TRUE(head);
        const auto pose = head->pose(head::Sticks{}, 0);
        ASSERT_TRUE(pose);
        for (const double pitch : pose->pitch_deg) EXPECT_NEAR(pitch, 0, 1e-6);
    }
}

TEST(MeasuredHead, TheNeededLengthsHoldRingLevelAndBladesFlat) {
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const HandHead hand = random_hand_head(seed);
        const auto found = measured_head(hand_readings(hand));
        ASSERT_TRUE(found);
        head::Description d = found->head;
        for (std::size_t i = 0; i < found->links.size(); ++i) {
            head::Link& link = i < 3 ? d.lower_links[i] : d.upper_links[i - 3];
            EXPECT_NEAR(found->links[i].measured_mm, link.length_mm, 1e-12);
            link.length_mm = found->links[i].needed_mm;
        }
        const auto pose = head::Head::build(d)->pose(head::Sticks{}, 0);
        ASSERT_TRUE(pose);
        EXPECT_NEAR(pose->height_mm, d.swashplate.neutral_height_mm, 1e-8);
        EXPECT_NEAR(pose->tilt_deg, 0, 1e-7);
        for (const double pitch : pose->pitch_deg) EXPECT_NEAR(pitch, 0, 1e-7);
    }
}

TEST(MeasuredHead, TheEffectOnPitchAgreesWithAHeadThatIsChanged) {
    const HandHead hand = hand_demo("three_blade_700.toml");
    const auto found = measured_head(hand_readings(hand));
    ASSERT_TRUE(found);
    const auto number = std::ranges::find(found->numbers, std::string("pitch-arm balls, lead"), &DerivedNumber::words);
    double most = 0;
    for (const double collective : {0.0, 1.0, -1.0}) {
        double pitch[2];
        for (int side : {0, 1}) {
            head::Description d = hand.head;
            for (head::Grip& grip : d.grips) grip.pitch_arm.lead_mm += side ? 1e-4 : -1e-4;
            pitch[side] = head::Head::build(d)->pose(head::Sticks{collective, 0, 0}, 0)->pitch_deg[0];
        }
        most = std::max(most, std::abs(pitch[1] - pitch[0]) / 2e-4);
    }
    ASSERT_TRUE(number->pitch_deg);
    EXPECT_NEAR(*number->pitch_deg, most * number->sd, 1e-5);  // differences: second order in 1e-4 mm
}

}  // namespace
}  // namespace swashwright::studies
