#include "kinematics/studies/power/power.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/studies/pitch/air.h"
#include "kinematics/studies/pitch/range.h"
#include "kinematics/studies/pitch/wanted_range.h"
#include "tests/support/demo_head.h"
#include "tests/support/every_linkage.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::HasSubstr;
using ::testing::Not;

/// The demo head, carried and driven; invented.
Description told() {
    Description d = testing::two_blades();
    d.blade.chord_mm = 55, d.blade.bolt_mm = 66, d.blade.profile_drag = 0.012, d.blade.lift_slope_per_rad = 5.73;
    d.flight = {
        .model_mass_kg = 3.8, .power_w = 1500, .gear_efficiency = 0.85, .air_temperature_c = 15, .air_height_m = 0};
    return d;
}

Power power_of(const Description& d, const PowerOptions& options = {}) {
    const auto found = power(*Head::build(d), options);
    EXPECT_TRUE(found) << (found ? "" : found.error().message);
    return found.value_or(Power{});
}

// Asked back: at the pitches found, lift is the weight and power is what reaches the rotor.
TEST(Power, FindsWhereLiftIsTheWeightAndPowerIsAll) {
    const Power p = power_of(told());
    const Craft& c = p.craft;
    const double weight = 3.8 * 9.80665, reaches = 1500 * 0.85;
    EXPECT_NEAR(lift(c.disc, c.air(), *p.figures.hover_deg * degree).thrust_n, weight, 1e-8 * weight);
    EXPECT_NEAR(standing_w(c, *p.figures.first_deg), reaches, 1e-8 * reaches);
    const Climb there = climb(c, *p.figures.used_deg);
    EXPECT_NEAR(there.power_w, reaches, 1e-7 * reaches);
    EXPECT_EQ(there.m_s, *p.figures.climb_m_s);
    const double drag = c.density / 2 * there.m_s * there.m_s * c.body_m2;
    EXPECT_NEAR(lift(c.disc, c.air(there.m_s), *p.figures.used_deg * degree).thrust_n, weight + drag, 1e-8 * weight);
    // Energy: what lifts the weight and pushes the body is less than what goes in.
    EXPECT_GT(there.power_w, there.m_s * (weight + drag));
    EXPECT_LT(*p.figures.hover_deg, *p.figures.first_deg);
    EXPECT_LT(*p.figures.first_deg, *p.figures.used_deg);
}

// The textbooks' short form says the same of the hover within a tenth.
TEST(Power, HoversAsTheShortFormSays) {
    const Power p = power_of(told());
    EXPECT_NEAR(p.simple.pitch / degree, *p.figures.hover_deg, 0.1 * *p.figures.hover_deg);
    EXPECT_NEAR(p.simple.power_w, *p.figures.hover_w, 0.1 * *p.figures.hover_w);
}

// Asked, changed, asked again.
TEST(Power, FollowsWhatIsChanged) {
    const Head head = *Head::build(told());
    const Power before = *power(head);
    PowerOptions options;
    options.engine_w = 2000;
    const Power stronger = *power(head, options);
    EXPECT_GT(*stronger.figures.used_deg, *before.figures.used_deg + 1);
    EXPECT_EQ(stronger.figures.hover_w, before.figures.hover_w);
    options = {.mass_kg = 5};
    const Power heavier = *power(head, options);
    EXPECT_GT(*heavier.figures.hover_deg, *before.figures.hover_deg);
    EXPECT_LT(*heavier.figures.climb_m_s, *before.figures.climb_m_s);
    options = {.temperature_c = 35, .height_m = 2000};
    const Power high = *power(head, options);
    EXPECT_NEAR(high.craft.density, air_density({.air_temperature_c = 35, .air_height_m = 2000}), 1e-15);
    EXPECT_GT(*high.figures.hover_deg, *before.figures.hover_deg);
    options = {.head_speed_rpm = 1600};
    const Power slower = *power(head, options);
    EXPECT_GT(*slower.figures.hover_deg, *before.figures.hover_deg);
    EXPECT_LT(*slower.figures.hover_w, *before.figures.hover_w);
    EXPECT_GT(*slower.figures.used_deg, *before.figures.used_deg);
    ASSERT_EQ(before.speeds.size(), 5U);
    EXPECT_NEAR(before.speeds[1].rpm, 1600, 1e-9);
    EXPECT_NEAR(*before.speeds[1].figures.used_deg, *slower.figures.used_deg, 1e-9);
    EXPECT_EQ(*power(head)->figures.used_deg, *before.figures.used_deg);
}

TEST(Power, TellsWhatOneDegreeMoreLoads) {
    const Power p = power_of(told());
    for (const PitchRow& row : p.places) {
        const auto loading = [&](double deg) { return lift(p.craft.disc, p.craft.air(), deg * degree).loading; };
        EXPECT_NEAR(row.more_loading, loading(row.pitch_deg + 0.5) - loading(row.pitch_deg - 0.5), 1e-12) << row.words;
        EXPECT_GT(row.more_loading, 0) << row.words;
        EXPECT_GE(row.more_standing_w, 0) << row.words;  // at no pitch power is least
    }
    // All of the blade at the lift coefficient of the stall means a loading of a sixth of it.
    EXPECT_LT(p.places.back().loading, 0.9 / 6);
    EXPECT_GT(p.places.back().loading, 0.9 / 6 / 2);
}

// A beginning a degree wide, below what is found by its doubt, and the horn travel that `range` finds for it.
TEST(Power, StartsBelowWherePowerIsUsedUp) {
    const Description d = told();
    const Power p = power_of(d);
    ASSERT_TRUE(p.start_deg);
    EXPECT_EQ((*p.start_deg)[1] - (*p.start_deg)[0], 1);
    EXPECT_NEAR((*p.start_deg)[1], *p.figures.used_deg - *p.doubts.used_deg, 0.25 + 1e-9);
    ASSERT_EQ(p.travels.size(), 2U);
    for (const TravelRow& row : p.travels) {
        Description set = d;
        set.mixing.collective_deg = *row.collective_deg;
        const auto range = pitch_range(*Head::build(set));
        const double ends = range->collective.back().mean_deg[0] - range->collective.front().mean_deg[0];
        EXPECT_NEAR(ends / 2, row.pitch_deg, 1e-6);
    }
}

// What is guessed widens the doubt, and is told.
TEST(Power, IsInMoreDoubtWhereMoreIsGuessed) {
    const Power all = power_of(told());
    Description d = told();
    d.blade = {};
    d.flight.model_mass_kg.reset();
    const Power less = power_of(d);
    EXPECT_GT(*less.doubts.hover_deg, *all.doubts.hover_deg);
    EXPECT_GT(*less.doubts.hover_w, *all.doubts.hover_w);
    EXPECT_THAT(answer(less).notes.front(), HasSubstr("Guessed (common practice, no source): mass"));
    EXPECT_THAT(answer(all).notes.front(), HasSubstr("Taken: 3.80 kg"));
}

TEST(Power, SaysThatItIsNoLimit) {
    const std::string said = answer(power_of(told())).text;
    EXPECT_THAT(said, HasSubstr("no limit to fly to: the maker's manual and an experienced pilot come first"));
    EXPECT_THAT(said, HasSubstr("take half a degree off"));
    EXPECT_THAT(said, HasSubstr("(± "));
}

TEST(Power, SaysNothingOfTheEngineThatItDoesNotKnow) {
    Description d = told();
    d.flight.power_w.reset();
    const Power p = power_of(d);
    EXPECT_FALSE(p.figures.used_deg || p.figures.first_deg || p.start_deg);
    EXPECT_TRUE(p.travels.empty());
    EXPECT_THAT(answer(p).text, HasSubstr("is not given"));
    testing::expect_finite(answer(p));
}

// An engine of known power flies a climb in which it sags; from the two head speeds its power comes back, and the pitch
// that would not sag is the one found from that power.
TEST(Power, IsFoundFromASaggingClimb) {
    const Description d = told();
    const Power known = power_of(d);
    const double pitch_deg = *known.figures.used_deg + 1.5;
    Craft sagged = known.craft;
    double low = 1000, high = 2000;
    for (int i = 0; i < 60; ++i) {
        sagged.speed = (low + high) / 2 * pi / 30;
        (climb(sagged, pitch_deg).power_w < 1500 * 0.85 ? low : high) = (low + high) / 2;
    }
    PowerOptions options;
    options.tachometer = Tachometer{2000, low, pitch_deg};
    Description unknown = d;
    unknown.flight.power_w.reset();
    const Power found = power_of(unknown, options);
    EXPECT_NEAR(*found.figures.engine_w, 1500, 1e-5);
    EXPECT_NEAR(*found.figures.used_deg, *known.figures.used_deg, 1e-6);
    // What is not known of the craft falls out in part: the same blades take the power both times.
    EXPECT_LT(*found.doubts.used_deg, *known.doubts.used_deg);
    EXPECT_THAT(answer(found).text, HasSubstr("would just not sag"));
}

TEST(Power, TakesTheTachometersClimbAtFullCollectiveWhereNothingElseIsSaid) {
    PowerOptions options;
    options.tachometer = Tachometer{2000, 1900, {}};
    const Power p = power_of(told(), options);
    EXPECT_EQ(*p.options.tachometer->pitch_deg, p.full_deg);
    options.tachometer = Tachometer{2000, 2000, {}};
    EXPECT_THAT(answer(power_of(told(), options)).text, HasSubstr("gives at least"));
    options.tachometer = Tachometer{2000, 400, {}};
    const auto none = power(*Head::build(told()), options);
    ASSERT_FALSE(none);
    EXPECT_THAT(none.error().message, HasSubstr("do not carry this model up"));
}

TEST(Power, SaysWhyThereIsNone) {
    const auto tail = power(testing::demo_head("tail_600.toml"));
    ASSERT_FALSE(tail);
    EXPECT_THAT(tail.error().message, HasSubstr("this is a tail"));
    const auto still = power(*Head::build(told()), {.head_speed_rpm = 0});
    ASSERT_FALSE(still);
    EXPECT_THAT(still.error().message, HasSubstr("stands still"));
    const Power heavy = power_of(told(), {.mass_kg = 1000});
    EXPECT_THAT(answer(heavy).text, HasSubstr("do not carry 1000.00 kg"));
    EXPECT_EQ(answer(heavy).tone, Tone::notice);
    const Power weak = power_of(told(), {.engine_w = 100});
    EXPECT_THAT(answer(weak).text, HasSubstr("it does not hover"));
    EXPECT_FALSE(weak.start_deg);
}

// Head speed falls to where even the climb takes less than hovering did: the model was seen to climb, so nobody says
// that it does not hover.
TEST(Power, DoubtsATachometerThatGivesLessThanHovering) {
    PowerOptions options;
    for (double rpm = 2000; rpm > 500; rpm -= 10) {
        options.tachometer = Tachometer{2000, rpm, 12.0};
        const auto found = power(*Head::build(told()), options);
        if (!found) break;
        if (*found->craft.rotor_w() >= *found->figures.hover_w) continue;
        EXPECT_THAT(answer(*found).text, HasSubstr("less than hovering takes at 2000, and yet"));
        EXPECT_THAT(answer(*found).text, Not(HasSubstr("does not hover")));
        EXPECT_THAT(answer(*found).text, Not(HasSubstr("would just not sag")));
        EXPECT_EQ(answer(*found).tone, Tone::notice);
        return;
    }
    FAIL() << "no such climb";
}

// A twentieth more than hovering takes: a few tenths of a degree, where the doubt is larger.
TEST(Power, SaysThatTooLittleIsLeftAboveTheHover) {
    const Power usual = power_of(told());
    const Power p = power_of(told(), {.engine_w = 1.05 * *usual.figures.hover_w / usual.craft.efficiency});
    ASSERT_TRUE(p.figures.used_deg);
    EXPECT_LT(*p.figures.used_deg, p.full_deg);
    EXPECT_FALSE(p.start_deg);
    EXPECT_THAT(answer(p).text, HasSubstr("too little is left to say where maximum pitch may begin"));
    EXPECT_EQ(answer(p).tone, Tone::notice);
}

TEST(Power, StaysNumbersWhateverIsGiven) {
    for (const double kg : {0.001, 1000.0})
        for (const double watts : {0.1, 1e6})
            for (const double rpm : {1e-3, 300.0, 100000.0})
                for (const double height_m : {-500.0, 10000.0})
                    testing::expect_finite(answer(power_of(told(), {.sticks = {-1, 0, 0},
                                                                    .head_speed_rpm = rpm,
                                                                    .mass_kg = kg,
                                                                    .engine_w = watts,
                                                                    .height_m = height_m})));
}

TEST(Power, IsAskedOfEveryMainRotor) {
    for (const Head& head : testing::heads()) {
        const auto found = power(head, {.mass_kg = 3, .engine_w = 1000});
        if (found)
            testing::expect_finite(answer(*found));
        else
            EXPECT_THAT(found.error().message, Not(::testing::IsEmpty()));
    }
}

// Speed of sound 340.29 m/s and kinematic viscosity 1.4607e-5
// m^2/s at sea level (ISO 2533, from memory).
TEST(Craft, KnowsTheAir) {
    const Craft c = craft(told());
    EXPECT_NEAR(c.tip_mach(), c.tip_speed() / 340.29, 1e-5);
    EXPECT_NEAR(c.reynolds(), 0.75 * c.tip_speed() * 0.055 / 1.4607e-5, 1e-4 * c.reynolds());
}

}  // namespace
}  // namespace swashwright::studies
