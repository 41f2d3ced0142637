#include "kinematics/studies/measured/calliper_fit.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/measured_by_hand.h"
#include "tests/support/random_linkage.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::Contains;
using testing::Draw;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// A head as its scene has it, and as it is made: every number off by its usual fault.
struct Pair {
    Head scene, made;
};

Description off_by_usual_faults(const Description& like, Draw& draw) {
    Description out = like;
    for (const head::Number& number : head::numbers(like))
        if (!head::is_error(number.kind) && number.kind != head::NumberKind::trim)
            number.at(out) += number.usual_tolerance * testing::normal(draw);
    return out;
}

std::vector<Pair> pairs(int of_each, std::uint64_t seed) {
    std::mt19937_64 bits(seed);
    Draw draw(bits);
    std::vector<Description> kinds = testing::linkages();
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml"}) kinds.push_back(testing::demo(file));
    std::vector<Pair> out;
    for (const Description& kind : kinds)
        for (int i = 0; i < of_each; ++i) {
            const auto scene = Head::build(kind);
            if (!scene) ADD_FAILURE() << kind.name;
            // The mixer and its senses are the scene's.
            const auto made = Head::build(off_by_usual_faults(head::mixer_kept(*scene), draw));
            if (made && !made->neutral_failure()) out.push_back({*scene, *made});
        }
    EXPECT_GT(out.size(), kinds.size() * std::size_t(of_each) * 3 / 4);
    return out;
}

/// All places of a head, each with an error of `times` its usual one.
CalliperReadings all_read(const Pair& pair, SceneNumbers scene, double times, Draw& draw) {
    CalliperReadings out;
    out.scene = scene;
    for (const CalliperPlace& place : calliper_places(pair.scene))
        if (const auto mm = present_value(place, pair.made))
            out.list.push_back(
                {place.key, *mm + times * place.sd * testing::normal(draw), Jaws::centres, std::nullopt});
    return out;
}

/// The largest difference of any blade's pitch round the turn, sticks in the middle.
double most_apart_deg(const Head& a, const Head& b) {
    double most = 0;
    for (double azimuth = 0; azimuth < 360; azimuth += 30) {
        const auto p = a.pose(head::Sticks{}, azimuth), q = b.pose(head::Sticks{}, azimuth);
        if (!p || !q) return std::nan("");
        for (std::size_t k = 0; k < p->pitch_deg.size(); ++k)
            most = std::max(most, std::abs(p->pitch_deg[k] - q->pitch_deg[k]));
    }
    return most;
}

TEST(CalliperFit, ExactReadingsComeBack) {
    std::mt19937_64 bits(1);
    Draw draw(bits);
    for (const Pair& pair : pairs(3, 21)) {
        SCOPED_TRACE(pair.scene.description().name);
        CalliperReadings readings = all_read(pair, SceneNumbers::guessed, 0, draw);
        for (CalliperReading& reading : readings.list) reading.sd_mm = 0.001;  // the scene weighs little against it
        const auto fit = calliper_fit(pair.scene, readings);
        ASSERT_TRUE(fit) << fit.error();
        EXPECT_TRUE(fit->does_not_close.empty()) << fit->does_not_close;
        EXPECT_TRUE(fit->conflicts.empty());
        for (const PlacedReading& r : fit->readings) EXPECT_NEAR(r.fitted.value(), r.mm, 0.003) << r.place.key;
        const auto measured = Head::build(fit->head);
        ASSERT_TRUE(measured);
        for (const PlacedReading& r : fit->readings)
            EXPECT_NEAR(present_value(r.place, *measured).value_or(NAN), r.fitted.value(), 1e-6) << r.place.key;
        EXPECT_EQ(answer(*fit).text, answer(*calliper_fit(pair.scene, readings)).text);
    }
}

TEST(CalliperFit, NoisyReadingsComeBackWithinTheirNoiseAndThePitchWithinItsDoubt) {
    std::mt19937_64 bits(2);
    Draw draw(bits);
    int places = 0, near = 0, heads = 0, within = 0, numbers = 0, told = 0;
    for (const Pair& pair : pairs(6, 22)) {
        SCOPED_TRACE(pair.scene.description().name);
        const auto fit = calliper_fit(pair.scene, all_read(pair, SceneNumbers::known, 1, draw));
        ASSERT_TRUE(fit) << fit.error();
        for (const PlacedReading& r : fit->readings) {
            ++places;
            near += std::abs(r.fitted.value() - present_value(r.place, pair.made).value()) < 2 * r.sd;
        }
        for (const CalliperNumber& n : fit->numbers) {
            ++numbers;
            told +=
                std::abs(n.value - head::number_at(pair.made.description(), n.path)->value(pair.made.description())) <
                1.96 * n.sd;
        }
        const auto measured = Head::build(fit->head);
        ASSERT_TRUE(measured && fit->pitch_sd_deg);
        ++heads;
        const double apart = most_apart_deg(*measured, pair.made);
        within += apart < 3 * *fit->pitch_sd_deg;
        EXPECT_LT(apart, 5 * *fit->pitch_sd_deg);
    }
    std::printf(
        "%d heads, pitch within 3 doubts %d; places within 2 of their doubts %.4f of %d; numbers within 1.96 %.4f of "
        "%d\n",
        heads, within, double(near) / places, places, double(told) / numbers, numbers);
    EXPECT_GE(within, heads * 95 / 100);
    EXPECT_GE(near, places * 95 / 100);
    EXPECT_NEAR(double(told) / numbers, 0.95, 0.02);
}

TEST(CalliperFit, AReadingTypedTenMillimetresWrongIsNamedAndNotSpread) {
    std::mt19937_64 bits(3);
    Draw draw(bits);
    int planted = 0, named = 0, alone = 0, first = 0;
    for (const Pair& pair : pairs(6, 23)) {
        SCOPED_TRACE(pair.scene.description().name);
        CalliperReadings readings = all_read(pair, SceneNumbers::known, 1, draw);
        const auto wrong = std::size_t(draw.whole(0, int(readings.list.size()) - 1));
        readings.list[wrong].mm += draw.chance(0.5) ? 10 : -10;
        const auto fit = calliper_fit(pair.scene, readings);
        ASSERT_TRUE(fit) << fit.error();
        ++planted;
        const auto has = [&](const measured::Conflict& c) { return std::ranges::find(c.rows, wrong) != c.rows.end(); };
        const auto found = std::ranges::find_if(fit->conflicts, has);
        if (found == fit->conflicts.end()) {
            std::printf("not named: %s in %s\n", readings.list[wrong].place.c_str(),
                        pair.scene.description().name.c_str());
            continue;
        }
        ++named;
        alone += found->left_out;
        first += has(fit->conflicts[0]);
        if (!found->left_out) continue;
        double worst = 0;
        for (std::size_t i = 0; i < fit->readings.size(); ++i) {
            const PlacedReading& r = fit->readings[i];
            if (i != wrong && r.used)
                worst = std::max(worst, std::abs(r.fitted.value() - present_value(r.place, pair.made).value()) / r.sd);
        }
        EXPECT_LT(worst, 5) << readings.list[wrong].place;
    }
    std::printf("named %d of %d, %d first, %d alone\n", named, planted, first, alone);
    EXPECT_EQ(named, planted);
    EXPECT_GE(alone, planted * 9 / 10);
}

/// Every length a fifteenth larger, angles alike: another size of the same make.
Description larger(Description d) {
    for (const head::Number& number : head::numbers(d))
        if (number.unit == head::Unit::mm) number.at(d) *= 16.0 / 15;
    d.swashplate.neutral_height_mm *= 16.0 / 15;
    for (head::Slider& slider : d.sliders) slider.place_mm *= 16.0 / 15;
    return d;
}

TEST(CalliperFit, AHeadOfAnotherSizeIsFoundFromAGuessedScene) {
    std::mt19937_64 bits(4);
    Draw draw(bits);
    int found = 0;
    for (const Description& kind : testing::linkages()) {
        SCOPED_TRACE(kind.name);
        const auto scene = Head::build(kind), made = Head::build(larger(head::mixer_kept(*scene)));
        ASSERT_TRUE(made && !made->neutral_failure());
        const auto fit = calliper_fit(*scene, all_read({*scene, *made}, SceneNumbers::guessed, 0, draw));
        ASSERT_TRUE(fit) << fit.error();
        EXPECT_TRUE(fit->does_not_close.empty()) << fit->does_not_close;
        EXPECT_TRUE(fit->conflicts.empty());
        EXPECT_FALSE(fit->without_mid_stick);
        const auto measured = Head::build(fit->head);
        EXPECT_LT(most_apart_deg(*measured, *made), *fit->pitch_sd_deg);
        ++found;
    }
    EXPECT_GE(found, 6);
}

TEST(CalliperFit, OfAGuessedSceneOneReadingOfALengthIsBelieved) {
    const Head scene = *Head::build(testing::demo("two_blade_600.toml"));
    const double before = scene.description().upper_links[1].length_mm;
    CalliperReadings readings;
    readings.list = {{"upper_link[2]", before + 1, Jaws::centres, std::nullopt}};
    const auto guessed = calliper_fit(scene, readings);
    ASSERT_TRUE(guessed) << guessed.error();
    EXPECT_NEAR(guessed->head.upper_links[1].length_mm, before + 1, 1e-4);
    EXPECT_TRUE(guessed->conflicts.empty());
    EXPECT_EQ(guessed->readings[0].checked_by, CheckedBy::nothing);
    readings.scene = SceneNumbers::known;
    const auto known = calliper_fit(scene, readings);
    ASSERT_EQ(known->conflicts.size(), 1U);
    EXPECT_NEAR(known->head.upper_links[1].length_mm, before, 1e-9);
    EXPECT_FALSE(known->readings[0].used);
    EXPECT_NEAR(known->conflicts[0].off[0], 1, 1e-9);
    EXPECT_THAT(doubts(*known),
                Contains(HasSubstr("\"upper link 2: ball to ball\" is 1.00 mm too large for the scene")));
    EXPECT_THAT(ranked_doubts(*known)[0].places, ElementsAre("upper_link[2]"));  // where to go for it
    EXPECT_EQ(known->readings[0].checked_by, CheckedBy::scene);
    for (const CalliperNumber& n : guessed->numbers)
        EXPECT_EQ(n.told() != Told::no, n.path == "upper_link[2].length_mm") << n.path;
    EXPECT_THAT(doubts(*guessed), Contains(HasSubstr("No reading tells: hub height; ")));
    ASSERT_TRUE(guessed->next);
    EXPECT_LT(guessed->next->pitch_sd_deg, *guessed->pitch_sd_deg);
}

TEST(CalliperFit, ALinkThatWasMeasuredHasNoErrorBeyondItsLength) {
    Description d = testing::demo("two_blade_600.toml");
    d.upper_links[0].error_mm = 0.3;
    const Head scene = *Head::build(d);
    CalliperReadings readings;
    readings.list = {{"upper_link[1]", d.upper_links[0].actual_mm(), Jaws::centres, std::nullopt}};
    const auto fit = calliper_fit(scene, readings);
    ASSERT_TRUE(fit) << fit.error();
    EXPECT_EQ(fit->head.upper_links[0].error_mm, 0);
    EXPECT_NEAR(fit->head.upper_links[0].length_mm, d.upper_links[0].actual_mm(), 1e-9);
    EXPECT_EQ(calliper_fit(scene, {})->head.upper_links[0].error_mm, 0.3);
}

TEST(CalliperFit, WhatIsReadAtMidStickWaitsUntilTheHeadCloses) {
    const Head scene = *Head::build(testing::demo("two_blade_600.toml"));
    CalliperReadings readings;
    readings.list = {{"upper_link[1]", 90, Jaws::centres, std::nullopt},
                     {"ring height", 45, Jaws::centres, std::nullopt},
                     {"grip[1].ball to feathering axis", 14, Jaws::centres, std::nullopt}};
    const auto fit = calliper_fit(scene, readings);
    ASSERT_TRUE(fit) << fit.error();
    EXPECT_TRUE(fit->without_mid_stick);
    EXPECT_THAT(fit->does_not_close, HasSubstr("upper link 1"));
    EXPECT_FALSE(fit->readings[1].used);
    EXPECT_EQ(answer(*fit).tone, Tone::trouble);
    EXPECT_FALSE(fit->pitch_sd_deg);
}

TEST(CalliperFit, AnAbsurdReadingIsNamedEvenWhereTheSceneIsGuessed) {
    const Head scene = *Head::build(testing::demo("two_blade_600.toml"));
    for (const double mm : {-1e9, 0.0, 1e5}) {
        CalliperReadings readings;
        readings.list = {{"upper_link[1]", mm, Jaws::centres, std::nullopt}};
        const auto fit = calliper_fit(scene, readings);
        ASSERT_TRUE(fit) << fit.error();
        EXPECT_EQ(fit->conflicts.size(), 1U) << mm;
        EXPECT_TRUE(fit->does_not_close.empty()) << fit->does_not_close;
    }
}

TEST(CalliperFit, ReadingsThatMakeNoHeadSayWhereToLook) {
    const Head scene = *Head::build(testing::demo("two_blade_600.toml"));
    CalliperReadings readings;
    // Two that contradict the scene alike: neither is left out.
    readings.list = {{"lower_link[1]", -5, Jaws::centres, std::nullopt},
                     {"lower_link[2]", -5, Jaws::centres, std::nullopt}};
    const auto fit = calliper_fit(scene, readings);
    ASSERT_FALSE(fit);
    EXPECT_THAT(fit.error(), HasSubstr("lower link 1: length_mm plus error_mm must be above 0"));
    EXPECT_THAT(fit.error(),
                HasSubstr("ball to ball\" is farthest from the scene, by 40.00 mm: look there for a slip"));
}

TEST(CalliperFit, WhatIsNoReadingIsASentence) {
    const Head scene = *Head::build(testing::demo("two_blade_600.toml"));
    const auto why = [&](const CalliperReading& reading) {
        CalliperReadings readings;
        readings.list = {reading};
        const auto fit = calliper_fit(scene, readings);
        return fit ? "" : fit.error();
    };
    EXPECT_EQ(why({"lever[9].ball[1] to pivot", 5, Jaws::centres, {}}),
              "This head has no place \"lever[9].ball[1] to pivot\".");
    EXPECT_THAT(why({"upper_link[1]", std::nan(""), Jaws::centres, {}}), HasSubstr("is not a number"));
    EXPECT_THAT(why({"inner_ball[1] to shaft", 30, Jaws::over, {}}), HasSubstr("shaft_mm of [sizes]"));
}

}  // namespace
}  // namespace swashwright::studies
