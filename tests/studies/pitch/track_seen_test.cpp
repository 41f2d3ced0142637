#include "kinematics/studies/pitch/track_seen.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/answer/rod_thread.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using testing::demo;
using ::testing::HasSubstr;

head::Head built(const head::Description& d) {
    return head::Head::build(d).value();
}

head::Head with_errors(const std::string& file, const std::vector<double>& error_mm) {
    head::Description d = demo(file);
    for (std::size_t k = 0; k < error_mm.size(); ++k) d.upper_links[k].error_mm += error_mm[k];
    return built(d);
}

/// Mean pitch over a turn, by `pose`, each blade at the same places on the disc.
std::vector<double> means_by_pose(const head::Head& head, const head::Sticks& sticks) {
    std::vector<double> out(head.description().grips.size(), 0);
    constexpr int samples = 72;
    for (int i = 0; i < samples; ++i) {
        const auto pose = head.pose(sticks, 360.0 * i / samples);
        EXPECT_TRUE(pose);
        for (std::size_t k = 0; k < out.size(); ++k) out[k] += pose->pitch_deg[k] / samples;
    }
    return out;
}

double split(const std::vector<double>& values) {
    const auto [low, high] = std::ranges::minmax_element(values);
    return *high - *low;
}

// Half a turn of a body with M2 thread at both ends: pitch 0.40 mm (ISO 261), so 2 x 0.40 / 2; of one end half of that.
TEST(HandStep, IsHalfATurnOrAWholeOne) {
    head::Link link;
    link.thread_pitch_mm = 0.4;
    link.rod = head::Rod::turnbuckle;
    EXPECT_DOUBLE_EQ(hand_step(link).mm, half_turn_mm(link));
    EXPECT_EQ(hand_steps_in_words(link, -1), "half a turn shorter");
    EXPECT_EQ(hand_steps_in_words(link, 2), "2 half turns longer");
    EXPECT_EQ(hand_steps_in_words(link, 0), "as it is");
    link.rod = head::Rod::plain;
    link.end_faces = head::EndFaces::one_side;
    EXPECT_DOUBLE_EQ(hand_step(link).mm, 0.4);
    EXPECT_EQ(hand_steps_in_words(link, 1), "one whole turn longer");
}

// What stands on the screen is the head with the links turned so, as `pose` has it, times the flap balance.
TEST(TrackSeen, ClaimsWhatPoseShowsOfTheHeadWithItsLinksTurned) {
    const std::vector<std::pair<std::string, std::vector<double>>> heads{{"two_blade_600.toml", {0, 0.5}},
                                                                         {"three_blade_700.toml", {0.3, -0.4, 0}},
                                                                         {"four_servos_700.toml", {0, 0, 0.7}}};
    for (const auto& [file, errors] : heads)
        for (const head::Sticks& sticks : {head::Sticks{0.4, 0, 0}, head::Sticks{0.2, 0.3, -0.2}}) {
            const head::Head head = with_errors(file, errors);
            std::vector<int> steps(errors.size(), 0);
            for (int again = 0; again < 3; ++again, steps[1] -= 1) {  // ask, turn, ask again
                const auto seen = track_seen(head, sticks, steps);
                ASSERT_TRUE(seen) << seen.error().message;
                head::Description turned = head.description();
                for (std::size_t k = 0; k < steps.size(); ++k)
                    turned.upper_links[k].length_mm += steps[k] * hand_step(turned.upper_links[k]).mm;
                const auto means = means_by_pose(built(turned), sticks);
                const double per_deg = flap(blade_numbers(turned), turned.rotor.head_speed_rpm)->tip_mm_per_deg;
                double middle = 0;
                for (const double m : means) middle += m / static_cast<double>(means.size());
                ASSERT_EQ(seen->tip_mm.size(), means.size());
                for (std::size_t k = 0; k < means.size(); ++k)
                    EXPECT_NEAR(seen->tip_mm[k], per_deg * (means[k] - middle), 1e-6) << file;
                EXPECT_NEAR(seen->split_mm, per_deg * split(means), 1e-6);
                const double apart = per_deg * split(means);
                EXPECT_THAT(answer(*seen).text,
                            HasSubstr(apart < 0.5 ? "under 0.5 mm" : fmt::format("up to about {:.1f} mm", apart)));
                EXPECT_EQ(seen->turned.upper_links[1].length_mm, turned.upper_links[1].length_mm);
            }
        }
}

// With every link at the nearest step to its exact length no two blades are farther apart than one step makes; the
// fifth of the mean's shift may take a little more.
TEST(TrackSeen, HalfTurnsThatItNamesBringTheTipsAsCloseAsAHalfTurnCan) {
    for (const char* file :
         {"two_blade_600.toml", "three_blade_700.toml", "four_servos_700.toml", "small_two_blade_250.toml"})
        for (const double error : {-1.1, -0.35, 0.0, 0.27, 0.9}) {
            const head::Head head = with_errors(file, {0.1, error});
            const head::Sticks sticks{0.4, 0, 0};
            const auto before = track_seen(head, sticks);
            ASSERT_TRUE(before) << before.error().message;
            const auto after = track_seen(head, sticks, before->best);
            ASSERT_TRUE(after);
            double step_deg = 0;
            for (const LinkSetting& s : before->now.settings)
                step_deg = std::max(step_deg,
                                    std::abs(s.deg_per_mm) * hand_step(*head::link_of(head.description(), s.link)).mm);
            EXPECT_LE(after->now.split_deg, 1.2 * step_deg) << file << " " << error;
            EXPECT_LE(after->now.split_deg, before->now.split_deg + 1e-12);
            EXPECT_NEAR(after->now.split_deg, before->best_split_deg, 1e-9) << "as it was told";
            EXPECT_NEAR(mean(after->now.mean_deg), before->best_mean_deg, 1e-9) << "as it was told";
            EXPECT_EQ(after->best, before->best) << "told again from there";
            const std::string text = answer(*after).text;
            EXPECT_EQ(text.find("Closest with"), std::string::npos) << text;
        }
}

TEST(TrackSeen, ABladeWhoseLinkIsLongOrShortRunsHighOrLowAndTurningItBackIsNamed) {
    const head::Head head = with_errors("two_blade_600.toml", {0, 0.4});  // M2 turnbuckles or rods: whole half turns
    const auto seen = track_seen(head, {0.4, 0, 0});
    ASSERT_TRUE(seen);
    const std::size_t high = seen->highest();
    EXPECT_NE(high, seen->lowest());
    EXPECT_GT(seen->tip_mm[high], 0);
    const auto back = track_seen(
        head, {0.4, 0, 0}, {0, static_cast<int>(std::lround(-0.4 / hand_step(head.description().upper_links[1]).mm))});
    ASSERT_TRUE(back);
    EXPECT_LT(back->split_mm, 0.5);
    EXPECT_THAT(answer(*back).text, HasSubstr("The tips run in one line"));
    // Told is not to undo the long link but to share its error out: what the mean of both then is must stand there.
    EXPECT_THAT(answer(*seen).text,
                HasSubstr(fmt::format(" is left and the mean pitch stays at {:+.2f} deg.", mean(seen->now.mean_deg))));
}

// Advice that leaves what there is, as it is told, is none.
TEST(TrackSeen, AdvisesNoStepThatBringsNothing) {
    int advised = 0, kept_quiet = 0;
    for (int i = -12; i <= 12; ++i) {
        const auto seen = track_seen(with_errors("two_blade_600.toml", {0, 0.03 * i}), {0.4, 0, 0});
        ASSERT_TRUE(seen) << seen.error().message;
        const bool less = std::round(10 * seen->best_split_mm) < std::round(10 * seen->split_mm);
        const bool told = answer(*seen).text.find("Closest with") != std::string::npos;
        EXPECT_EQ(told, seen->gains()) << i;
        EXPECT_TRUE(less || !told) << answer(*seen).text;
        ++(told ? advised : kept_quiet);
    }
    EXPECT_GT(advised, 5);
    EXPECT_GT(kept_quiet, 0);
    auto level = track_seen(with_errors("two_blade_600.toml", {0, 0.4}), {0.4, 0, 0}).value();
    level.split_mm = 5.04, level.best_split_mm = 4.96;
    EXPECT_THAT(answer(level).text, HasSubstr("5.0 mm apart at the tip. No further step of the links"));
}

TEST(TrackSeen, SaysWhereThereIsNothingToTurnAndHowFarATurnGoes) {
    EXPECT_FALSE(track_seen(testing::demo_head("hinged_links_450.toml"), {}));
    const head::Head head = testing::demo_head("two_blade_600.toml");
    EXPECT_FALSE(track_seen(head, {}, {0, 10'000}));
    EXPECT_FALSE(track_seen(head, {}, {0, 190}));  // so long that the links do not reach any more
    const auto seen = track_seen(head, {});
    ASSERT_TRUE(seen);
    EXPECT_EQ(seen->best, (std::vector<int>{0, 0}));
}

TEST(TrackSeen, SaysWhereALinkTurnedSoHasTooLittleThread) {
    head::Description d = demo("two_blade_600.toml");
    for (head::Link& link : d.upper_links) {
        const RodThread thread = rod_thread(link, link.length_mm);
        link.rod_length_mm = thread.bare_mm + 2 * (thread.least_mm + 0.5);  // half a millimetre to spare in each end
    }
    const auto none = track_seen(built(d), {}, {1, 0}), far = track_seen(built(d), {}, {8, 0});  // 1.6 mm
    ASSERT_TRUE(none && far) << (none ? far : none).error().message;
    EXPECT_EQ(answer(*none).text.find(" But "), std::string::npos) << answer(*none).text;
    EXPECT_THAT(answer(*far).text, HasSubstr(" But "));
}

// Where no flap balance can be made up the pitch is told, and no tip.
TEST(TrackSeen, TellsPitchWhereNoTipIsKnown) {
    head::Description d = demo("two_blade_600.toml");
    d.upper_links[1].error_mm = 0.5;
    d.blade.flap_stiffness_nm = 5;
    d.rotor.head_speed_rpm = 0;  // a spring with the rotor at rest leaves no balance
    const auto seen = track_seen(built(d), {0.4, 0, 0});
    ASSERT_TRUE(seen);
    EXPECT_FALSE(seen->now.flap);
    EXPECT_TRUE(seen->tip_mm.empty());
    EXPECT_THAT(answer(*seen).text, HasSubstr("deg apart in pitch"));
}

}  // namespace
}  // namespace swashwright::studies
