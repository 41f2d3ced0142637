// Pitch, diagnosis and live values on every kind of linkage: the scenes of tests/data/linkages, and some with all their
// numbers moved a little. What is expected is worked out here from poses alone, and from differences between two poses.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/studies/diagnosis/diagnose.h"
#include "kinematics/studies/live/live_value.h"
#include "kinematics/studies/live/sentence.h"
#include "kinematics/studies/pitch/compare.h"
#include "kinematics/studies/pitch/sensitivity.h"
#include "kinematics/studies/pitch/tolerance.h"
#include "kinematics/studies/pitch/tracking.h"
#include "tests/support/every_linkage.h"

namespace swashwright::studies {
namespace {

using head::BallName;
using head::Description;
using head::Head;
using head::Sticks;
using testing::expect_finite;
using ::testing::HasSubstr;
using testing::heads;
using ::testing::Not;
using testing::pitch_with;
using testing::Rod;
using testing::rods_of;
using testing::Seen;
using testing::seen;
using testing::some_sticks;

TEST(EveryLinkage, SensitivityIsWhatAChangedNumberDoes) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const Sticks sticks = some_sticks(d);
        const auto found = sensitivity(head, sticks);
        ASSERT_TRUE(found) << d.name << ": " << found.error().message;
        expect_finite(answer(*found));
        for (std::size_t i = 0; i < 6; ++i) {
            const Effect& effect = found->effects[i];
            constexpr double step = 1e-3;
            for (std::size_t k = 0; k < d.grips.size(); ++k) {
                double mean = 0;
                constexpr int places = 24;
                for (int a = 0; a < places; ++a)
                    mean += (pitch_with(head, effect.number, step, sticks, 360.0 * a / places)[k] -
                             pitch_with(head, effect.number, -step, sticks, 360.0 * a / places)[k]) /
                            (2 * step * places);
                EXPECT_NEAR(effect.blades[k].mean_deg, mean, 1e-4 * std::max(1.0, std::abs(mean)))
                    << d.name << ": " << effect.number.path;
            }
        }
    }
}

// Forty heads: the standard deviation of a standard deviation is 11 %; four of them are allowed.
TEST(EveryLinkage, ToleranceSpreadsAsTheSlopesSay) {
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d);
        ASSERT_TRUE(head) << d.name;
        ToleranceRequest request;
        request.sticks = some_sticks(d);
        request.tolerances = usual_tolerances(d);
        request.samples = 40;
        const auto found = tolerance(*head, request);
        ASSERT_TRUE(found) << d.name << ": " << found.error();
        expect_finite(answer(*found));
        EXPECT_LE(found->failed, 4) << d.name;  // the tail of the folder hardly reaches its ends: 4 in 100 fail
        for (const Spread& blade : found->pitch_deg) EXPECT_NEAR(blade.sampled / blade.linear, 1, 0.44) << d.name;
    }
}

/// Readings of a bench: every blade at four azimuths, in the middle and at both ends of one or two sticks, noise-free.
Readings readings_of(const Description& d) {
    Readings out;
    std::vector<Sticks> places{{}};
    for (const double end : {-1.0, 1.0}) {
        if (d.kind == head::Kind::tail)
            places.push_back({.rudder = 0.6 * end});  // the one of the folder opens nearer to its ends
        else
            places.insert(places.end(), {{.collective = end}, {.elevator = end}, {.aileron = end}});
    }
    const auto head = Head::build(d);
    EXPECT_TRUE(head);
    for (const Sticks& sticks : places)
        for (const double azimuth : {0.0, 60.0, 150.0, 270.0}) {
            const auto pose = head->pose(sticks, azimuth);
            if (!pose) continue;
            for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
                out.pitch.push_back({static_cast<int>(k), sticks, azimuth, pose->pitch_deg[k], 0.03});
        }
    return out;
}

TEST(EveryLinkage, DiagnosisFindsTheLinkThatIsTooLong) {
    int found_first = 0, hidden = 0;
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d);
        ASSERT_TRUE(head);
        for (const Rod& rod : rods_of(d)) {
            Description wrong = d;
            const auto number = head::number_at(d, rod.path + ".error_mm");
            ASSERT_TRUE(number);
            head::value(wrong, *number) += 0.5;
            DiagnosisOptions options;
            options.pairs = false;
            options.advice = rod.path == rods_of(d).front().path;  // once a head, as all suspects: it takes its time
            if (!options.advice) options.kinds = {FaultKind::lower_link, FaultKind::upper_link, FaultKind::other_link};
            const Readings with = readings_of(wrong), without = readings_of(d);
            double shown = 0;
            for (std::size_t i = 0; i < std::min(with.pitch.size(), without.pitch.size()); ++i)
                shown = std::max(shown, std::abs(with.pitch[i].reading_deg - without.pitch[i].reading_deg));
            const auto found = diagnose(*head, with, options);
            ASSERT_TRUE(found) << d.name << ": " << found.error().message;
            expect_finite(answer(*found, with));
            const auto part = [&](int fault) { return found->suspects[static_cast<std::size_t>(fault)].part; };
            if (shown < 1e-9) {  // what moves the paddles only
                EXPECT_TRUE(found->best().fit.faults.empty());
                EXPECT_TRUE(std::ranges::any_of(found->unseen, [&](int fault) { return part(fault) == rod.path; }));
                continue;
            }
            ++hidden;
            ASSERT_FALSE(found->best().fit.faults.empty()) << d.name << ": " << rod.path;
            const bool first = part(found->best().fit.faults[0]) == rod.path;
            const bool stands_in =
                std::ranges::any_of(found->stand_ins, [&](const StandIn& s) { return part(s.fault) == rod.path; });
            EXPECT_TRUE(first || stands_in) << d.name << ": " << rod.path << ": " << answer(*found, with).text;
            if (!first) continue;
            ++found_first;
            EXPECT_NEAR(found->best().fit.size[0], 0.5, 0.1) << d.name << ": " << rod.path;
            EXPECT_THAT(answer(*found, with).text, HasSubstr("mm too long"));
            const Correction c = correction(found->suspects[static_cast<std::size_t>(found->best().fit.faults[0])],
                                            found->best().fit.size[0], *head);
            ASSERT_TRUE(c.change_mm);
            EXPECT_LT(*c.change_mm, 0);
        }
    }
    EXPECT_GT(found_first, hidden / 2);
}

TEST(EveryLinkage, ComparisonTellsTheOneNumberThatDiffers) {
    for (const Description& d : testing::linkages()) {
        Description after = d;
        if (rods_of(d).empty()) continue;
        const auto number = head::number_at(d, rods_of(d).back().path + ".error_mm");
        head::value(after, *number) += 0.2;
        const Comparison found = compare(d, after);
        ASSERT_EQ(found.numbers.size(), 1U) << d.name;
        EXPECT_EQ(found.numbers[0].parameter.path, number->path);
        EXPECT_EQ(found.sticks.size(), d.kind == head::Kind::tail ? 3U : 5U);
        double most = 0;
        for (const StickChange& s : found.sticks) {
            if (!s.why_not.empty()) {  // as the tail of the folder at its ends: one of the two cannot be posed there
                EXPECT_FALSE(Head::build(d)->pose(s.sticks, 0) && Head::build(after)->pose(s.sticks, 0)) << d.name;
                EXPECT_THAT(s.why_not, HasSubstr("mm too ")) << d.name;
                continue;
            }
            for (std::size_t k = 0; k < s.before_deg.size(); ++k)
                most = std::max(most, std::abs(s.after_deg[k] - s.before_deg[k]));
        }
        EXPECT_GT(most, 1e-4) << d.name;
        const Answer told = answer(found, "before", "after");
        expect_finite(told);
        if (d.kind == head::Kind::tail) {
            EXPECT_THAT(told.tables[1].title, HasSubstr("rudder"));
            EXPECT_EQ(found.sticks[2].sticks.rudder, 1);
        }
    }
}

TEST(EveryLinkage, LiveValuesAreThoseOfThePose) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const Sticks sticks = some_sticks(d);
        const auto pose = head.pose(sticks, 25);
        ASSERT_TRUE(pose);
        for (const std::string& name : live_value_names(d)) {
            const auto value = live_value(head, sticks, 25, name);
            if (!value) {
                EXPECT_EQ(name, "folded_mm") << d.name << " " << value.error();
                continue;
            }
            EXPECT_TRUE(std::isfinite(*value)) << d.name << " " << name;
            EXPECT_FALSE(value_words(d, name).words.empty());
        }
        for (std::size_t i = 0; i < d.levers.size(); ++i)
            EXPECT_EQ(live_value(head, sticks, 25, fmt::format("lever[{}].angle_now_deg", i + 1)), pose->lever_deg[i]);
        for (std::size_t i = 0; i < d.sliders.size(); ++i)
            EXPECT_EQ(live_value(head, sticks, 25, fmt::format("slider[{}].place_now_mm", i + 1)), pose->slider_mm[i]);
        for (const Rod& rod : rods_of(d))
            for (std::size_t e = 0; e < 2; ++e) {
                if (rod.ends[e].of != BallName::Of::servo) continue;
                const Seen own = seen(d, pose->skeleton, rod.ends[e]), other = seen(d, pose->skeleton, rod.ends[1 - e]);
                const Vec3 back = own.part.origin - own.at, along = other.at - own.at;
                const double wanted = std::acos(back.normalized().dot(along.normalized())) / degree;
                const auto value =
                    live_value(head, sticks, 25, fmt::format("servo[{}].horn_to_link_deg", rod.ends[e].index + 1));
                ASSERT_TRUE(value) << value.error();
                EXPECT_NEAR(*value, wanted, 1e-6) << d.name;
            }
        const auto names = live_value_names(d);
        const bool tail = d.kind == head::Kind::tail;
        EXPECT_EQ(std::ranges::count(names, "rudder"), tail);
        EXPECT_EQ(std::ranges::count(names, "collective"), !tail);
    }
}

TEST(EveryLinkage, TheSentenceAndTrackingAnswerOrSayWhyNot) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        for (const Sticks& sticks : {Sticks{}, some_sticks(d)}) {
            const Sentence said = sentence(head, sticks, 10);
            EXPECT_FALSE(said.text.empty());
            EXPECT_THAT(said.text, Not(HasSubstr("nan"))) << d.name;
            const auto found = tracking(head, sticks);
            if (found)
                expect_finite(answer(*found, d));
            else
                EXPECT_FALSE(found.error().message.empty()) << d.name;
        }
    }
}

}  // namespace
}  // namespace swashwright::studies
