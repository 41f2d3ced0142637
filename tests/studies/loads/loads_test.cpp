#include "kinematics/studies/loads/loads.h"
#include "kinematics/studies/loads/load_turn.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/head/stick_envelope.h"
#include "tests/support/demo_head.h"
#include "tests/support/every_linkage.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

Loads loads_of(const Description& d, const LoadsOptions& options = {}) {
    const auto head = Head::build(d);
    EXPECT_TRUE(head) << head.error().message;
    const auto found = loads(*head, options);
    EXPECT_TRUE(found) << found.error().message;
    return found.value_or(Loads{});
}

std::string said(const Loads& found, const Description& d) {
    return answer(found, *Head::build(d)).text;
}

/// The demo head with everything told of its blades and servos; invented.
Description told() {
    Description d = testing::two_blades();
    d.blade = {.chord_mm = 55,
               .mass_g = 180,
               .bolt_mm = 60,
               .thickness_mm = 6.6,
               .mass_along_mm = 360,
               .mass_ahead_mm = 0,
               .mass_spread_mm = 14,
               .edge_ahead_mm = 13.75,
               .moment_coefficient = 0};
    for (head::Servo& servo : d.servos) servo.rating = {.torque_ncm = 150, .seconds_per_60deg = 0.06, .rated_volts = 6};
    return d;
}

// What is found to be largest is nowhere smaller than at any of many places drawn at random.
TEST(Loads, ArePeaksOverAllTheSticks) {
    for (const Description& d : {testing::two_blades(), testing::demo("three_blade_700.toml")}) {
        const Loads found = loads_of(d);
        const Head head = *Head::build(d);
        Flying flying(head, {found.head_speed_rpm, found.density, {}, found.options.give});
        std::mt19937_64 bits(3);
        testing::Draw draw(bits);
        for (int i = 0; i < 500; ++i) {
            const head::Sticks sticks =
                head::held_back(d.mixing, {draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1)});
            const auto there = flying.at(sticks, draw.between(0, 360));
            ASSERT_TRUE(there);
            for (std::size_t j = 0; j < found.horns.size(); ++j)
                EXPECT_LE(std::abs(there->horn_nmm[j]), std::abs(found.horns[j].peak.value) * 1.0001 + 1e-9);
            for (std::size_t l = 0; l < found.links.size(); ++l) {
                const double force = there->force_n[static_cast<std::size_t>(head.model().rods()[l].closure.index)];
                EXPECT_LE(force, found.links[l].pull.value * 1.0001 + 1e-9);
                EXPECT_LE(-force, found.links[l].push.value * 1.0001 + 1e-9);
            }
        }
        for (std::size_t j = 0; j < found.horns.size(); ++j) {
            const auto there = flying.at(found.horns[j].peak.place.sticks, found.horns[j].peak.place.azimuth_deg);
            ASSERT_TRUE(there);
            EXPECT_NEAR(std::abs(there->horn_nmm[j]), std::abs(found.horns[j].peak.value), 1e-9);
        }
    }
}

// Everything that turns a blade goes with the square of the speed where no spring holds it: twice the speed, four times
// the load. Asked, changed, asked again.
TEST(Loads, GoWithTheSquareOfTheSpeed) {
    Description d = told();
    LoadsOptions options;
    options.head_speed_rpm = 1000;
    const Loads slow = loads_of(d, options);
    options.head_speed_rpm = 2000;
    const Loads fast = loads_of(d, options), again = loads_of(d, options);
    for (std::size_t j = 0; j < slow.horns.size(); ++j) {
        EXPECT_GT(std::abs(slow.horns[j].peak.value), 1);
        EXPECT_NEAR(fast.horns[j].peak.value, 4 * slow.horns[j].peak.value, 1e-9 * std::abs(fast.horns[j].peak.value));
        EXPECT_EQ(fast.horns[j].peak.value, again.horns[j].peak.value);
        EXPECT_EQ(fast.horns[j].friction_nmm, slow.horns[j].friction_nmm);
    }
}

TEST(Loads, OfARotorAtRestAreFrictionAlone) {
    LoadsOptions options;
    options.head_speed_rpm = 0;
    const Loads found = loads_of(told(), options);
    for (const HornLoad& horn : found.horns) {
        EXPECT_EQ(horn.peak.value, 0);
        EXPECT_GT(horn.friction_nmm, 0);
        EXPECT_EQ(horn.holds_nmm(), horn.friction_nmm);
    }
    for (const LinkLoad& link : found.links) EXPECT_EQ(link.pull.value + link.push.value, 0);
    EXPECT_THAT(said(found, told()), HasSubstr("stands still"));
}

TEST(Loads, StayNumbersWhateverTheBladesWeigh) {
    for (const double grams : {0.01, 100000.0})
        for (const double rpm : {0.0, 100000.0}) {
            Description d = told();
            d.blade.mass_g = grams;
            d.rotor.head_speed_rpm = rpm;
            testing::expect_finite(answer(loads_of(d), *Head::build(d)));
        }
}

TEST(Loads, KeepToWhatTheTransmitterLetsThrough) {
    Description d = told();
    d.mixing.combined_limit = 0.6;
    const Loads found = loads_of(d);
    for (const HornLoad& horn : found.horns) EXPECT_TRUE(head::lets_through(d.mixing, horn.peak.place.sticks));
    for (const LinkLoad& link : found.links) {
        EXPECT_TRUE(head::lets_through(d.mixing, link.pull.place.sticks));
        EXPECT_TRUE(head::lets_through(d.mixing, link.push.place.sticks));
    }
    EXPECT_EQ(found.blades.back().stick, 0.6);
    EXPECT_LT(std::abs(found.horns[0].peak.value), std::abs(loads_of(told()).horns[0].peak.value));
}

TEST(Loads, OfBladesWithoutABodyAreFrictionAlone) {
    Description d = testing::two_blades();
    d.blade.bolt_mm = 5000;  // beyond the tip
    testing::expect_finite(answer(loads_of(d), *Head::build(d)));
    d.blade = {}, d.rotor.blade_tip_mm = 0;
    const Loads none = loads_of(d);
    testing::expect_finite(answer(none, *Head::build(d)));
    EXPECT_EQ(none.horns[0].peak.value, 0);
}

TEST(Loads, OfEveryLinkageAreNumbers) {
    int heads = 0;
    for (const Head& head : testing::heads()) {
        const auto found = loads(head);
        ASSERT_TRUE(found) << head.description().name << found.error().message;
        const Answer told = answer(*found, head);
        testing::expect_finite(told);
        EXPECT_EQ(told.tables.size(), 7U);
        EXPECT_LT(found->open, found->places) << head.description().name;
        ++heads;
    }
    EXPECT_GE(heads, 12);
}

// 15 kg cm are 15 x 9.80665 N cm (standard gravity, ISO 80000-3).
TEST(Loads, TakeTheTorqueAsItIsTyped) {
    Description kg = told(), newton = told();
    for (head::Servo& servo : kg.servos) servo.rating = {.torque_kgcm = 15};
    for (head::Servo& servo : newton.servos) servo.rating = {.torque_ncm = 15 * 9.80665};
    const Loads a = loads_of(kg), b = loads_of(newton);
    for (std::size_t j = 0; j < a.horns.size(); ++j) {
        EXPECT_NEAR(*a.horns[j].usable_nmm, 0.5 * 15 * 98.0665, 1e-9);
        EXPECT_NEAR(*a.horns[j].margin(), *b.horns[j].margin(), 1e-12);
        EXPECT_FALSE(a.horns[j].free_s);
    }
}

TEST(Loads, RateServosByVoltageShareAndTime) {
    LoadsOptions options;
    const Loads rated = loads_of(told(), options);
    options.volts = 7.2, options.usable_share = 0.25;
    const Loads other = loads_of(told(), options);
    for (std::size_t j = 0; j < rated.horns.size(); ++j) {
        const HornLoad &a = rated.horns[j], &b = other.horns[j];
        EXPECT_NEAR(*b.usable_nmm, *a.usable_nmm / 2 * 7.2 / 6, 1e-9);
        EXPECT_NEAR(*a.free_s, a.travel_deg / 60 * 0.06, 1e-12);
        EXPECT_NEAR(*b.free_s, *a.free_s * 6 / 7.2, 1e-12);
        EXPECT_GT(*a.loaded_s, *a.free_s);
        // Half the stall torque, half the speed.
        EXPECT_NEAR(*a.loaded_s, *a.free_s / (1 - a.holds_nmm() / 1500), 1e-12);
    }
    // The demo's collective takes the horns 19 deg either way.
    EXPECT_NEAR(rated.horns[0].travel_deg, 38, 1e-9);
}

TEST(Loads, SayWhereAServoIsTooWeakOrTooSlow) {
    Description d = told();
    EXPECT_THAT(said(loads_of(d), d), HasSubstr("750 N mm may be asked of it"));
    d.servos[1].rating = {.torque_ncm = 2, .seconds_per_60deg = 0.5};
    const Loads weak = loads_of(d);
    EXPECT_LT(*weak.horns[1].margin(), 1);
    EXPECT_FALSE(weak.horns[1].loaded_s);  // it stalls
    EXPECT_EQ(answer(weak, *Head::build(d)).tone, Tone::notice);
    EXPECT_THAT(said(weak, d), HasSubstr(head::servo_words(d.servos[1])));
    EXPECT_THAT(said(weak, d), HasSubstr("0.15 s are wanted"));
    EXPECT_THAT(said(weak, d), Not(HasSubstr("not judged")));
    d.servos[0].rating = {};
    EXPECT_THAT(said(loads_of(d), d), HasSubstr("not judged, of " + head::servo_words(d.servos[0]) + "."));
}

/// Rated so that it may be asked for so many times what it must hold: half of its torque.
void rate(Description& d, const Loads& loads, std::size_t servo, double times) {
    d.servos[servo].rating = {.torque_ncm = times * loads.horns[servo].holds_nmm() / 10 / 0.5};
}

TEST(Loads, SayOutrightThatServosAreTooWeak) {
    Description d = told();
    const Loads needs = loads_of(d);
    EXPECT_THAT(said(needs, d), Not(HasSubstr("too weak")));
    rate(d, needs, 1, 0.965);
    EXPECT_THAT(said(loads_of(d), d), StartsWith("Servo right is too weak: it has 0.96 of what it must hold. At "));
    rate(d, needs, 2, 0.5);
    EXPECT_THAT(said(loads_of(d), d), StartsWith("Servo right and servo rear are too weak: servo rear has 0."));
    rate(d, needs, 1, 3), rate(d, needs, 2, 1.001);
    ASSERT_GT(loads_of(d).doubt_share, 0.01);
    EXPECT_THAT(said(loads_of(d), d), StartsWith("Servo rear may be too weak: "));
    EXPECT_EQ(answer(loads_of(d), *Head::build(d)).tone, Tone::notice);
}

// What nobody gave is named, and the headline says how much hangs on it; with all given it says so no more.
TEST(Loads, NameWhatIsGuessed) {
    const Description demo = testing::two_blades();
    Description bare = demo;
    bare.blade = {};
    const Loads guessed = loads_of(bare), known = loads_of(told());
    EXPECT_GT(guessed.doubt_share, 0.3);
    EXPECT_THAT(said(guessed, bare), HasSubstr("What is not known of the blades makes that"));
    EXPECT_THAT(answer(guessed, *Head::build(bare)).notes.front(), HasSubstr("mass, chord"));
    EXPECT_LT(known.doubt_share, guessed.doubt_share);
    EXPECT_THAT(answer(known, *Head::build(told())).notes.front(), Not(HasSubstr("Guessed")));
    EXPECT_THAT(said(guessed, bare), HasSubstr("torque is not given"));
}

// Once round, from the place where it is largest: the same numbers as the study's.
TEST(Loads, RoundTheTurnReachTheirPeak) {
    const Description d = told();
    const Loads found = loads_of(d);
    const LoadPlace& place = found.horns[2].peak.place;
    Flying flying(*Head::build(d), usual_flight(d));
    const auto turn = load_turn(flying, place.sticks);
    ASSERT_TRUE(turn);
    double most = 0, sum = 0;
    for (const double moment : turn->horns_nmm[2]) most = std::max(most, std::abs(moment)), sum += moment;
    // Samples are 3 deg apart: of a swing twice a turn the nearest misses at most 1 - cos(3 deg) of it.
    EXPECT_NEAR(most, std::abs(found.horns[2].peak.value), 0.002 * std::abs(found.horns[2].peak.value));
    EXPECT_NEAR(sum / static_cast<double>(turn->azimuth_deg.size()), found.horns[2].steady_nmm, 1e-3);
}

// Blades want to lie flat: at full collective a leading arm's link is pushed... or pulled, and the blade gives way
// towards flat either way.
TEST(Loads, LayBladesFlat) {
    const Loads found = loads_of(told());
    for (const BladeRow& row : found.blades)
        if (std::abs(row.pitch_deg) > 1) {
            EXPECT_LT(row.moment.propeller * row.pitch_deg, 0);
        }
    int rows = 0;
    for (const GiveRow& row : found.gives)
        if (std::abs(row.pitch_deg) > 1) {
            EXPECT_LT(row.give_deg * row.pitch_deg, 0);
            ++rows;
        }
    EXPECT_EQ(rows, 2);
}

TEST(Loads, AreLiftedByWeightsOnTheGrips) {
    Description d = told();
    const Loads without = loads_of(d);
    for (head::Grip& grip : d.grips)
        for (const double up : {20.0, -20.0}) grip.weights.push_back({20, 25, 0, up});
    const Loads with = loads_of(d);
    EXPECT_LT(std::abs(with.blades.back().moment.total()), std::abs(without.blades.back().moment.total()));
    EXPECT_LT(std::abs(with.horns[0].peak.value), std::abs(without.horns[0].peak.value));
}

}  // namespace
}  // namespace swashwright::studies
