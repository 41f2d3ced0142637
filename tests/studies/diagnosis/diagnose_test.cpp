#include "kinematics/studies/diagnosis/diagnose.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/demo_head.h"
#include "tests/support/hidden_fault.h"

namespace swashwright::studies {
namespace {

using testing::demo;
using ::testing::HasSubstr;

/// Readings without noise, over the whole envelope: every blade, three collectives, aileron and elevator.
Readings readings_of(const head::Description& faulty, const head::Description& sound) {
    Readings out;
    for (int k = 0; k < sound.rotor.blades; ++k)
        for (const double collective : {-1.0, 0.0, 1.0})
            for (const double aileron : {0.0, 1.0}) out.pitch.push_back({k, {collective, aileron, 0}, 60.0 + 90 * k});
    for (int j = 0; j < 3; ++j) out.ring_height.push_back({j, 0, 0, {}});
    const auto head = head::Head::build(faulty);
    EXPECT_TRUE(head);
    const auto shown = expected(*head, out, {});
    EXPECT_TRUE(shown);
    Eigen::Index row = 0;
    for (PitchReading& r : out.pitch) r.reading_deg = shown->value[row++] * r.uncertainty_deg;
    for (RingHeightReading& r : out.ring_height) r.reading_mm = shown->value[row++] * r.uncertainty_mm;
    return out;
}

const Fault& suspect(const Diagnosis& d, int f) {
    return d.suspects[static_cast<std::size_t>(f)];
}

Diagnosis diagnosed(const head::Description& sound, const Readings& readings, const DiagnosisOptions& options = {}) {
    const auto head = head::Head::build(sound);
    EXPECT_TRUE(head);
    auto d = diagnose(*head, readings, options);
    EXPECT_TRUE(d) << (d ? "" : d.error().message);
    return *d;
}

// The slopes are exact; central differences over 1e-4 of a unit leave about 1e-7 of curvature and 1e-9 of rounding,
// over uncertainties of a tenth.
TEST(Faults, SlopesAgreeWithDifferencesOnRandomHeads) {
    std::mt19937_64 bits(11);
    testing::Draw draw(bits);
    for (int n = 0; n < 20; ++n) {
        const head::Description d = testing::random_head(bits);
        Readings at;
        for (int i = 0; i < 4; ++i) at.pitch.push_back(testing::random_reading(draw, d.rotor.blades));
        at.ring_height.push_back({1, 0, 0, {.collective = 0.5, .aileron = 0.4, .elevator = 0}});
        at.ring_height.push_back({std::nullopt, 77, 31, {.collective = -0.5, .aileron = 0, .elevator = 0.6}});
        const auto suspects = faults(d);
        const auto here = expected(*head::Head::build(d), at, suspects);
        ASSERT_TRUE(here);
        for (std::size_t f = 0; f < suspects.size(); ++f) {
            if (!suspects[f].sized()) continue;
            constexpr double h = 1e-4;
            head::Description more = d, less = d;
            apply(suspects[f], h, more);
            apply(suspects[f], -h, less);
            const auto up = expected(*head::Head::build(more), at, {}),
                       down = expected(*head::Head::build(less), at, {});
            ASSERT_TRUE(up && down);
            const Eigen::VectorXd slope = (up->value - down->value) / (2 * h);
            EXPECT_LT((slope - here->slopes.col(static_cast<Eigen::Index>(f))).cwiseAbs().maxCoeff(), 2e-4)
                << suspects[f].words << " of head " << n;
        }
    }
}

TEST(Diagnosis, FindsALongLinkItsSizeAndItsTurns) {
    const head::Description sound = demo("two_blade_600.toml");
    head::Description faulty = sound;
    faulty.lower_links[2].error_mm = 0.6;
    DiagnosisOptions options;
    options.kinds = {FaultKind::lower_link, FaultKind::upper_link, FaultKind::horn_tooth, FaultKind::guide_turn,
                     FaultKind::driver_turn};
    const Diagnosis d = diagnosed(sound, readings_of(faulty, sound), options);
    ASSERT_EQ(d.best().fit.faults.size(), 1U);
    EXPECT_EQ(suspect(d, d.best().fit.faults[0]).words, "lower link 3");
    // Noise-free: the fit stops within 0.02 of a standard deviation, then takes that last step too.
    EXPECT_NEAR(d.best().fit.size[0], 0.6, 0.01 * d.best().fit.deviation(0));
    EXPECT_GT(d.best().probability, 0.95);
    const auto c = correction(suspect(d, d.best().fit.faults[0]), d.best().fit.size[0], *head::Head::build(sound));
    EXPECT_NEAR(*c.turns, -1.5, 0.01);  // M2: 0.40 mm a turn (ISO 261)
    EXPECT_EQ(c.words, "3 half turns shorter");
    EXPECT_EQ(c.part, "lower_link[3]");
}

TEST(Diagnosis, FindsAHornThatIsAToothOffAndLinksThatAreSwapped) {
    head::Description sound = demo("two_blade_600.toml");
    head::Description faulty = sound;
    faulty.servos[1].trim_deg -= 360.0 / faulty.servos[1].spline_teeth;
    Diagnosis d = diagnosed(sound, readings_of(faulty, sound));
    ASSERT_EQ(d.best().fit.faults.size(), 1U);
    EXPECT_EQ(suspect(d, d.best().fit.faults[0]).words, "servo right: horn one tooth clockwise");

    sound.upper_links[0].length_mm += 0.3;
    faulty = sound;
    std::swap(faulty.upper_links[0], faulty.upper_links[1]);
    d = diagnosed(sound, readings_of(faulty, sound));
    ASSERT_EQ(d.best().fit.faults.size(), 1U);
    EXPECT_EQ(suspect(d, d.best().fit.faults[0]).words, "upper links 1 and 2 swapped");
}

TEST(Diagnosis, FindsWrongSignsUnevenEndsAndABentShaft) {
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml"}) {
        const head::Description sound = demo(file), kept = head::mixer_kept(head::Head::build(sound).value());
        for (const FaultKind kind :
             {FaultKind::servo_reversed, FaultKind::mixer_sign, FaultKind::end_point, FaultKind::bent_shaft}) {
            const FaultKind kinds[] = {kind};
            const Fault hidden = faults(kept, kinds)[1];
            const double size = 2 * hidden.usual_size();
            head::Description faulty = kept;
            apply(hidden, size, faulty);
            const Diagnosis d = diagnosed(sound, readings_of(faulty, sound));
            ASSERT_FALSE(d.best().fit.faults.empty()) << hidden.words;
            const Fault& found = suspect(d, d.best().fit.faults[0]);
            EXPECT_EQ(found.words, hidden.words) << file;
            if (hidden.sized()) {
                EXPECT_NEAR(d.best().fit.size[0], size, 0.3 * d.best().fit.deviation(0)) << hidden.words;
            }
        }
    }
}

TEST(Diagnosis, FindsTwoFaultsAtOnce) {
    const head::Description sound = demo("three_blade_700.toml");
    head::Description faulty = sound;
    faulty.upper_links[1].error_mm += 0.35;
    faulty.swashplate.driver_turn_deg = 6;
    DiagnosisOptions options;
    options.kinds = {FaultKind::lower_link, FaultKind::upper_link, FaultKind::driver_turn, FaultKind::guide_turn};
    const Diagnosis d = diagnosed(sound, readings_of(faulty, sound), options);
    ASSERT_EQ(d.best().fit.faults.size(), 2U);
    EXPECT_EQ(suspect(d, d.best().fit.faults[0]).words, "upper link 2");
    EXPECT_EQ(suspect(d, d.best().fit.faults[1]).words, "driver collar slipped");
    // Two sizes held softly towards 0: a shift of at most size x variance / usual^2, here under a tenth of a deviation.
    EXPECT_NEAR(d.best().fit.size[0], 0.35, 0.1 * d.best().fit.deviation(0));
    EXPECT_NEAR(d.best().fit.size[1], 6, 0.1 * d.best().fit.deviation(1));
}

// The grip angle t turns lead and up of the pitch-arm ball together: a ball turned by an angle makes the grip stand
// back by the same angle at every pose, exactly what a blade set by that angle the other way on its grip does.
TEST(Diagnosis, SaysThatABladeOffsetAndATurnedArmBallAreOneAndTheSame) {
    const head::Description sound = demo("two_blade_600.toml");
    head::Description offset = sound, turned = sound;
    offset.grips[1].pitch_offset_deg = 0.9;
    apply({FaultKind::arm_turn, 1, -1, 0, "", "", "deg"}, -0.9, turned);
    const Readings readings = readings_of(offset, sound);
    EXPECT_LT((observed(readings) - observed(readings_of(turned, sound))).cwiseAbs().maxCoeff(), 1e-7);

    const Diagnosis d = diagnosed(sound, readings);
    const auto named = [&](const Twins& t) {
        return t.same_as.size() == 1 && suspect(d, t.fault).words == "blade 2 offset on its grip" &&
               suspect(d, t.same_as[0]).words == "pitch arm 2 turned on its grip";
    };
    EXPECT_TRUE(std::ranges::any_of(d.twins, named));
    const auto alone = [&](const char* words) -> const Hypothesis* {
        const auto it = std::ranges::find_if(d.ranked, [&](const Hypothesis& h) {
            return h.fit.faults.size() == 1 && suspect(d, h.fit.faults[0]).words == words;
        });
        return it == d.ranked.end() ? nullptr : &*it;
    };
    const Hypothesis *as_offset = alone("blade 2 offset on its grip"),
                     *as_turn = alone("pitch arm 2 turned on its grip");
    ASSERT_TRUE(as_offset && as_turn);
    EXPECT_NEAR(as_offset->fit.size[0], -as_turn->fit.size[0], 1e-6);
    EXPECT_NEAR(as_offset->fit.chi_square, as_turn->fit.chi_square, 1e-6);
    EXPECT_NEAR(as_offset->probability, as_turn->probability, 1e-6);
    const auto told = [&](const Hypothesis& h) {
        return &h == &d.best() ||
               std::ranges::any_of(d.stand_ins, [&](const StandIn& s) { return s.fault == h.fit.faults[0]; });
    };
    EXPECT_TRUE(told(*as_offset) && told(*as_turn));
    const std::string text = as_text(answer(d, readings));
    EXPECT_THAT(text, HasSubstr("No pitch gauge and no ring height"));
    EXPECT_THAT(text, ::testing::ContainsRegex("blade 2 offset on its grip +pitch arm 2 turned on its grip\n"));
    for (std::size_t start = 0; start < text.size();) {
        const std::size_t end = text.find('\n', start);
        EXPECT_LE(end - start, 100U) << text.substr(start, end - start);
        start = end + 1;
    }
}

TEST(Diagnosis, NamesEveryExactDegeneracyOfADemoHead) {
    const auto head = head::Head::build(demo("two_blade_600.toml"));
    ASSERT_TRUE(head);
    const auto suspects = faults(head->description());
    const auto twins = find_twins(*head, suspects);
    // For each blade: the offset is the turned ball, and a turned ball is one moved up and ahead.
    std::vector<std::string> told;
    for (const Twins& t : twins) {
        std::string line = suspects[static_cast<std::size_t>(t.fault)].words + " =";
        for (const int f : t.same_as) line += " " + suspects[static_cast<std::size_t>(f)].words + ";";
        told.push_back(line);
    }
    EXPECT_THAT(told, ::testing::UnorderedElementsAre(
                          "pitch arm 1 turned on its grip = spindle 1 bent upwards; arm ball 1 ahead;",
                          "pitch arm 2 turned on its grip = spindle 2 bent upwards; arm ball 2 ahead;",
                          "blade 1 offset on its grip = pitch arm 1 turned on its grip;",
                          "blade 2 offset on its grip = pitch arm 2 turned on its grip;"));
}

TEST(Diagnosis, RefusesReadingsThatCannotBeOfTheHead) {
    const auto head = head::Head::build(demo("two_blade_600.toml"));
    ASSERT_TRUE(head);
    EXPECT_THAT(diagnose(*head, {}).error().message, HasSubstr("no readings"));
    EXPECT_THAT(diagnose(*head, {{{2, {}, 0, 0}}, {}}).error().message, HasSubstr("of blade 3, but the head has 2"));
    EXPECT_THAT(diagnose(*head, {{}, {{5, 0, 0, {}, 40}}}).error().message, HasSubstr("ball 6"));
}

TEST(Diagnosis, AnswersFromOneReadingOnly) {
    const head::Description sound = demo("small_two_blade_250.toml");
    const auto head = head::Head::build(sound);
    ASSERT_TRUE(head);
    const auto pose = head->pose(head::Sticks{}, 0.0);
    ASSERT_TRUE(pose);
    const Readings readings{{{0, {}, 0, pose->pitch_deg[0]}}, {}};
    const Diagnosis d = diagnosed(sound, readings);
    EXPECT_TRUE(d.best().fit.faults.empty());
    EXPECT_FALSE(d.next_readings.empty());
    EXPECT_THAT(answer(d, readings).text, HasSubstr("Nothing wrong shows in this reading"));
}

}  // namespace
}  // namespace swashwright::studies
