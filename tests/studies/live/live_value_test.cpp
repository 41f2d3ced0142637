#include "kinematics/studies/live/live_value.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/power/power.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;

TEST(LiveValue, EveryNameHasAValueAndWords) {
    for (const char* demo :
         {"two_blade_600.toml", "stabiliser_bar_600.toml", "hinged_links_450.toml", "tail_600.toml"}) {
        const head::Head head = testing::demo_head(demo);
        for (const std::string& name : live_value_names(head.description())) {
            const auto value = live_value(head, {0.3, 0.2, -0.1, 0.4}, 40, name);
            ASSERT_TRUE(value) << name << ": " << value.error();
            EXPECT_TRUE(std::isfinite(*value)) << name;
            EXPECT_NE(value_words(head.description(), name).words, name);
        }
    }
}

TEST(LiveValue, IsWhatThePoseSays) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    const head::Sticks sticks{0.4, -0.3, 0.2};
    const auto pose = head.pose(sticks, 70);
    ASSERT_TRUE(pose);
    EXPECT_EQ(live_value(head, sticks, 70, "ring_tilt_deg"), pose->tilt_deg);
    EXPECT_EQ(live_value(head, sticks, 70, "ring_height_mm"), pose->height_mm);
    EXPECT_EQ(live_value(head, sticks, 70, "blade[3].pitch_deg"), pose->pitch_deg[2]);
    EXPECT_EQ(live_value(head, sticks, 70, "servo[2].horn_deg"), pose->horn_deg[1]);
    EXPECT_EQ(live_value(head, sticks, 70, "lower_link[1].length_mm"), 40);
    EXPECT_EQ(live_value(head, sticks, 70, "aileron"), -0.3);
    EXPECT_EQ(live_value(head, sticks, 70, "azimuth_deg"), 70);
}

/// By construction of the demo head: horns level, links upright; the upper link from (26, 51) to (26, 111) and 11 mm
/// out, 61 mm long, so it meets the upward motion of the arm's ball at acos(60 / 61) from along it: sin(mu) = 60 / 61.
TEST(LiveValue, AnglesByHand) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    EXPECT_NEAR(*live_value(head, {}, 0, "servo[1].horn_to_link_deg"), 90, 1e-9);
    EXPECT_NEAR(*live_value(head, {}, 0, "grip[1].arm_to_link_deg"), std::asin(60.0 / 61.0) / degree, 1e-6);
}

/// Four equal columns under a stiff square plate share a length error e in one of them by e/4 each, in turn too long
/// and too short: the part of (e, 0, 0, 0) that no plane takes up, along (1, -1, 1, -1).
TEST(LiveValue, TellsByHowMuchEachLinkMisfits) {
    head::Description d = testing::demo("four_servos_700.toml");
    d.lower_links[0].error_mm = 0.2;
    const auto head = head::Head::build(d);
    ASSERT_TRUE(head);
    double wanted = -0.05;
    for (const char* link : {"lower_link[1]", "lower_link[2]", "lower_link[3]", "lower_link[4]"}) {
        EXPECT_NEAR(*live_value(*head, {}, 0, link + std::string(".misfit_mm")), wanted, 5e-4);  // to first order
        wanted = -wanted;
    }
    EXPECT_NEAR(*live_value(*head, {}, 0, "misfit_mm"), 0.05, 5e-4);
    EXPECT_NEAR(*live_value(*head, {}, 0, "upper_link[2].misfit_mm"), 0, 1e-9);
    const head::Head usual = testing::demo_head("two_blade_600.toml");
    EXPECT_EQ(*live_value(usual, {0.3, 0.2, -0.1}, 40, "misfit_mm"), 0);
    EXPECT_NEAR(*live_value(usual, {0.3, 0.2, -0.1}, 40, "lower_link[3].misfit_mm"), 0, 1e-9);
}

/// A grip at rest: its link's pull times the arm about the feathering axis is the opposite of what turns the blade.
TEST(LiveValue, HoldsABladeByItsLink) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    const head::Sticks sticks{0.7, 0.3, -0.2};
    const head::Skeleton s = head.pose(sticks, 70)->skeleton;
    for (std::size_t k = 0; k < 3; ++k) {
        const Vec3 pull = (s.outer_balls[k] - s.grip_balls[k]).normalized();
        const double arm = s.grips[k].turn.col(2).dot((s.grip_balls[k] - s.grips[k].origin).cross(pull));
        const double force = *live_value(head, sticks, 70, fmt::format("upper_link[{}].force_n", k + 1));
        const double load = *live_value(head, sticks, 70, fmt::format("blade[{}].load_nm", k + 1));
        EXPECT_NEAR(force * arm, -1000 * load, 1e-6 * 1000 * std::abs(load));
        EXPECT_LT(load, 0);
    }
}

/// The rotor's values are those of the study `power` at the same pitch.
TEST(LiveValue, TellsTheRotorsPowerAsTheStudyDoes) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    const Power found = power(head).value();
    const auto full = std::ranges::find(found.places, "full collective", &PitchRow::words);
    ASSERT_NE(full, found.places.end());
    const auto value = [&](const char* name) { return *live_value(head, {1, 0, 0}, 30, name); };
    EXPECT_NEAR(value("rotor.lift_n"), full->thrust_percent / 100 * found.craft.weight_n(), 1e-6);
    EXPECT_NEAR(value("rotor.first_w"), full->standing_w, 1e-6);
    EXPECT_NEAR(value("rotor.climb_m_s"), full->climb.m_s, 1e-6);
    EXPECT_NEAR(value("rotor.climb_w"), full->climb.power_w, 1e-6);
    EXPECT_FALSE(live_value(testing::demo_head("tail_600.toml"), {}, 0, "rotor.lift_n"));
}

TEST(LiveValue, RefusesWhatIsNotThereInASentence) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    EXPECT_THAT(live_value(head, {}, 0, "blade[3].pitch_deg").error(), HasSubstr("no value named blade[3].pitch_deg"));
    const head::Head locks = testing::demo_head("binding/locks_at_full_stick.toml");
    EXPECT_THAT(live_value(locks, {-1, 0, 0.75}, 60, "ring_tilt_deg").error(), HasSubstr("too far apart"));
    EXPECT_THAT(live_value(testing::demo_head("three_blade_700.toml"), {}, 0, "folded_mm").error(),
                HasSubstr("opposite"));
}

TEST(Goals, AreMetWithinTheirBoundsAllTogether) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    const Goal level{"ring_tilt_deg", 0, 1e-6}, off{"collective", 0.5, 0.25};
    EXPECT_TRUE(met(head, {0.75, 0, 0}, 0, std::vector{level, off}));  // both ends included
    EXPECT_FALSE(met(head, {0.8, 0, 0}, 0, std::vector{level, off}));
    EXPECT_FALSE(met(head, {0.5, 1, 0}, 0, std::vector{level, off}));
    const head::Head locks = testing::demo_head("binding/locks_at_full_stick.toml");
    EXPECT_FALSE(met(locks, {-1, 0, 0.75}, 60, std::vector{Goal{"ring_height_mm", 0, 1000}}));
}

}  // namespace
}  // namespace swashwright::studies
