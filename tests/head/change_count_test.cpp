// A blade or a driver arm more or less: random heads there and back, and demo heads that still close.
#include "kinematics/head/change_count.h"

#include <gmock/gmock.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::head {
namespace {

using testing::demo;
using ::testing::HasSubstr;

/// All numbers, as a scene has them.
std::string text(const Description& head) {
    return scene::write({head, {}, {}});
}

/// Angles that were moved and moved back differ by rounding: a few hundred degrees hold 1e-13 deg.
void expect_same(Description a, const Description& b) {
    ASSERT_EQ(a.swashplate.outer_balls.size(), b.swashplate.outer_balls.size());
    for (std::size_t k = 0; k < a.swashplate.outer_balls.size(); ++k) {
        EXPECT_NEAR(a.swashplate.outer_balls[k].angle_deg, b.swashplate.outer_balls[k].angle_deg, 1e-11);
        a.swashplate.outer_balls[k].angle_deg = b.swashplate.outer_balls[k].angle_deg;
    }
    EXPECT_EQ(text(a), text(b));
}

RC_GTEST_PROP(ChangeCount, ABladeAddedAndTakenAwayLeavesTheHeadAsItWas, (std::uint64_t seed)) {
    const Description before = testing::random_head(seed, {.most_blades = 5});
    const auto added = with_blade_added(before);
    RC_ASSERT(added.has_value());
    RC_ASSERT(added->head.rotor.blades == before.rotor.blades + 1);
    const auto back = with_blade_removed(added->head, before.rotor.blades);
    RC_ASSERT(back.has_value());
    expect_same(back->head, before);
}

RC_GTEST_PROP(ChangeCount, TheBladesThatStayKeepTheirOwnPartsAndTheirBallsPlaces, (std::uint64_t seed)) {
    const Description before = testing::random_head(seed, {.least_blades = 3});
    const int n = before.rotor.blades, gone = static_cast<int>(seed % static_cast<std::uint64_t>(n));
    const auto after = with_blade_removed(before, gone);
    RC_ASSERT(after.has_value());
    for (int k = 0; k < n - 1; ++k) {
        const int was = k < gone ? k : k + 1;
        RC_ASSERT(after->head.upper_links[k].length_mm == before.upper_links[was].length_mm);
        RC_ASSERT(after->head.grips[k].pitch_arm.lead_mm == before.grips[was].pitch_arm.lead_mm);
        const double now = after->head.swashplate.outer_balls[k].angle_deg - 360.0 * k / (n - 1);
        const double then = before.swashplate.outer_balls[was].angle_deg - 360.0 * was / n;
        RC_ASSERT(std::abs(now - then) < 1e-11);
    }
}

TEST(ChangeCount, DemoHeadsCloseWithEveryCountOfBladesAndTheNewBladeTakesThePitchOfTheOneBefore) {
    for (const char* name : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"}) {
        Description head = demo(name);
        while (head.rotor.blades < most_blades) {
            const auto added = with_blade_added(head);
            ASSERT_TRUE(added) << added.error();
            head = added->head;
            const auto built = Head::build(head);
            ASSERT_TRUE(built) << name << ": " << built.error().message;
            for (const double collective : {-1.0, 0.0, 0.6}) {
                const auto pose = built->pose({collective, 0.2, -0.3}, 37);
                ASSERT_TRUE(pose) << name << ", " << head.rotor.blades << " blades";
                EXPECT_LT(pose->residual_mm, 1e-10);
            }
            // On a level ring every blade stands the same way over its own ball.
            const auto neutral = built->pose(Sticks{}, 0);
            ASSERT_TRUE(neutral);
            const auto& pitch = neutral->pitch_deg;
            if (neutral->tilt_deg < 1e-9) {
                EXPECT_NEAR(pitch[pitch.size() - 1], pitch[pitch.size() - 2], 1e-9) << name;
            }
        }
        while (head.rotor.blades > fewest_blades) head = with_blade_removed(head, head.rotor.blades - 1)->head;
        EXPECT_TRUE(Head::build(head));
    }
}

TEST(ChangeCount, ShapesOnGripsGoWithTheirBlade) {
    Description head = demo("three_blade_700.toml");
    head.solids.clear();
    for (const char* part : {"grip[1]", "hub", "grip[2]", "grip[3]"}) {
        Solid solid;
        solid.part = part;
        solid.to = {1, 2, 3};
        solid.diameter_mm = 5;
        head.solids.push_back(solid);
    }
    const auto without = with_blade_removed(head, 1);
    ASSERT_TRUE(without);
    ASSERT_EQ(without->head.solids.size(), 3u);
    EXPECT_EQ(without->head.solids[2].part, "grip[2]");
    EXPECT_EQ(without->head.upper_links[1].length_mm, head.upper_links[2].length_mm);
    const auto with = with_blade_added(head);
    ASSERT_TRUE(with);
    EXPECT_EQ(with->head.solids.back().part, "grip[4]");
    EXPECT_THAT(with->assumed, HasSubstr("Blade 4 is taken to be made as blade 3"));
}

TEST(ChangeCount, TwoToSixBladesAndOneDriverArmAtLeast) {
    Description head = demo("two_blade_600.toml");
    EXPECT_FALSE(with_blade_removed(head, 0));
    while (head.rotor.blades < most_blades) head = with_blade_added(head)->head;
    EXPECT_THAT(with_blade_added(head).error(), HasSubstr("6 blades at most"));
    EXPECT_FALSE(with_blade_removed(head, 6));
    head.swashplate.driver_pins.resize(1);
    EXPECT_FALSE(with_driver_removed(head, 0));
}

TEST(ChangeCount, ASecondDriverArmStandsOppositeAndGoesAgain) {
    Description head = testing::random_head(7);
    head.swashplate.driver_pins[0].angle_deg = 300;
    const auto added = with_driver_added(head);
    ASSERT_TRUE(added);
    EXPECT_NEAR(added->head.swashplate.driver_pins[1].angle_deg, 120, 1e-12);
    EXPECT_EQ(text(with_driver_removed(added->head, 1)->head), text(head));
    const auto built = Head::build(added->head);
    ASSERT_TRUE(built);
    EXPECT_TRUE(built->pose({0.3, 0.1, 0}, 20));
}

}  // namespace
}  // namespace swashwright::head
