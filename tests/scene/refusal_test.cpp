#include "kinematics/scene/refusal.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/head/change_parts.h"

namespace swashwright::scene {
namespace {

using ::testing::HasSubstr;

Scene two_blades() {
    return *load(SWASHWRIGHT_SCENES "/two_blade_600.toml");
}

/// The arm hangs straight down and the link comes straight from below: it points at the feathering axis.
Scene at_a_dead_point() {
    Scene out = two_blades();
    for (int k = 0; k < 2; ++k) {
        const auto i = static_cast<std::size_t>(k);
        out.head.swashplate.outer_balls[i] = {11, 180.0 * k, 6};
        out.head.grips[i].pitch_arm = {11, 0, -26};
        out.head.upper_links[i].length_mm = 111 - 26 - 45 - 6;
    }
    return out;
}

TEST(Refusal, LetsASoundChangeStand) {
    Scene next = two_blades();
    next.head.upper_links[0].length_mm += 0.2;
    EXPECT_EQ(refusal(two_blades(), next), std::nullopt);
}

TEST(Refusal, SaysWhatAFileWouldBeRefusedFor) {
    Scene next = two_blades();
    next.head.servos[1].horn_mm = -16;
    const auto told = refusal(two_blades(), next);
    ASSERT_TRUE(told);
    EXPECT_THAT(*told, HasSubstr("[[servo]] 2 horn_mm: expected "));
    EXPECT_THAT(*told, HasSubstr("found -16"));
}

TEST(Refusal, DoesNotBlameAChangeForWhatWasWrongBefore) {
    Scene now = two_blades();
    now.head.servos[1].horn_mm = -16;
    Scene next = now;
    next.head.upper_links[0].length_mm += 0.2;
    EXPECT_EQ(refusal(now, next), std::nullopt);
    next.head.rotor.head_speed_rpm = -1;
    const auto told = refusal(now, next);
    ASSERT_TRUE(told);
    EXPECT_THAT(*told, HasSubstr("head_speed_rpm"));
}

TEST(Refusal, LetsALoopThatDoesNotCloseStand) {
    Scene next = two_blades();
    next.head.upper_links[0].length_mm = 30;
    EXPECT_EQ(refusal(two_blades(), next), std::nullopt);
}

TEST(Refusal, SaysWhyNoHeadCanBeBuilt) {
    const auto told = refusal(two_blades(), at_a_dead_point());
    ASSERT_TRUE(told);
    EXPECT_THAT(*told, HasSubstr("upper link 1 stands at a dead point at neutral"));
    // Nor could one before: then the change is not to blame.
    EXPECT_EQ(refusal(at_a_dead_point(), at_a_dead_point()), std::nullopt);
}

TEST(Refusal, LetsAPartHangFreeWhileTheHeadIsPutTogether) {
    Scene next = two_blades();
    next.head = head::with_lever_added(next.head)->head;
    const auto told = refusal(two_blades(), next);
    ASSERT_TRUE(told);
    EXPECT_THAT(*told, HasSubstr("lever 1"));
    EXPECT_EQ(refusal(two_blades(), next, /*hanging=*/true), std::nullopt);
    // Whatever a file would be refused for still is.
    next.head.levers[0].zero = next.head.levers[0].axis;
    ASSERT_TRUE(refusal(two_blades(), next, true));
    EXPECT_THAT(*refusal(two_blades(), next, true), HasSubstr("perpendicular"));
    next = two_blades();
    next.head.lower_links[0].ends = {{{head::BallName::Of::lever, 0}, {head::BallName::Of::inner_ball, 0}}};
    EXPECT_TRUE(refusal(two_blades(), next, true));
}

}  // namespace
}  // namespace swashwright::scene
