// Where an angle lies is checked against the value that it is of.
#include "kinematics/studies/live/live_angle.h"

#include <gtest/gtest.h>

#include "kinematics/studies/live/live_value.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

TEST(LiveAngle, LiesWhereItsValueIsMeasured) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    for (const double collective : {0.0, 1.0, -0.7, 0.0}) {
        const head::Sticks sticks{collective, 0.2, -0.3};
        const auto pose = head.pose(sticks, 40);
        ASSERT_TRUE(pose);
        for (const std::string& name : live_value_names(head.description())) {
            const auto angle = live_angle(head.description(), *pose, name);
            EXPECT_EQ(angle.has_value(), is_angle(name)) << name;
            if (!angle) continue;
            const double value = *live_value(head, sticks, 40, name), seen = seen_deg(*angle);
            EXPECT_NEAR(seen, value, 1e-9) << name;
        }
    }
}

TEST(LiveAngle, IsOfNothingElse) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    const auto pose = head.pose(head::Sticks{}, 0);
    ASSERT_TRUE(pose);
    for (const char* name : {"ring_tilt_deg", "servo[9].horn_to_link_deg", "nothing.arm_to_link_deg", ""})
        EXPECT_FALSE(live_angle(head.description(), *pose, name)) << name;
}

}  // namespace
}  // namespace swashwright::studies
