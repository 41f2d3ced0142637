// Heads to begin with: each is a complete scene that closes, is level and says that it is invented.
#include "viewer/document/layouts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "kinematics/head/head.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::document {
namespace {

using ::testing::HasSubstr;

class Layouts : public ::testing::TestWithParam<std::size_t> {
protected:
    const Layout& layout() const { return layouts()[GetParam()]; }
};

INSTANTIATE_TEST_SUITE_P(All, Layouts, ::testing::Range(std::size_t{0}, layouts().size()));

TEST_P(Layouts, AreHeadsThatCloseAreLevelAndSayThatTheyAreInvented) {
    const auto scene = scene_of(layout());
    ASSERT_TRUE(scene) << scene.error().text();
    EXPECT_THAT(scene->note, HasSubstr("nvented"));
    EXPECT_EQ(scene->head.name, "New head: " + layout().words);
    EXPECT_TRUE(scene::parse(scene::write(*scene), "new"));
    const auto head = head::Head::build(scene->head);
    ASSERT_TRUE(head) << head.error().message;
    for (const double azimuth : {0.0, 77.0, 190.0}) {
        const auto pose = head->pose(head::Sticks{}, azimuth);
        ASSERT_TRUE(pose) << pose.error().message;
        EXPECT_LT(pose->tilt_deg, 0.05);
        // A tail has an offset at centred rudder, the same on every blade.
        const bool tail = scene->head.kind == head::Kind::tail;
        for (const double pitch : pose->pitch_deg) EXPECT_NEAR(pitch, tail ? pose->pitch_deg[0] : 0, 0.2);
        for (const double stick : {-1.0, 1.0}) {
            EXPECT_TRUE(head->pose({stick, 0, 0, stick}, azimuth));
            EXPECT_TRUE(head->pose({0, stick, 0}, azimuth));
            EXPECT_TRUE(head->pose({0, 0, stick}, azimuth));
        }
    }
}

/// Common practice, no source: where the balls stand, the ring leans to the right for right stick, as far at each.
TEST(Layouts, ServosRoundTheRingLeanItAlikeWhereverTheyStand) {
    std::set<std::string> words;
    for (const Layout& layout : layouts()) {
        EXPECT_TRUE(words.insert(layout.words).second);
        if (layout.ball_azimuths_deg.empty()) continue;
        const auto head = head::Head::build(scene_of(layout)->head);
        ASSERT_TRUE(head);
        for (std::size_t j = 0; j < 3; ++j)
            EXPECT_NEAR(head->description().swashplate.inner_balls[j].angle_deg, layout.ball_azimuths_deg[j], 1e-9);
        const auto right = head->pose({0, 1, 0}, 0), ahead = head->pose({0, 0, 1}, 0);
        EXPECT_NEAR(right->tilt_right_deg, ahead->tilt_forward_deg, 0.25);
        EXPECT_GT(right->tilt_right_deg, 3);
        EXPECT_NEAR(right->tilt_forward_deg, 0, 0.25);
        EXPECT_NEAR(ahead->tilt_right_deg, 0, 1e-6);  // one side is the mirror of the other
    }
}

TEST(Layouts, OpenUnsavedInPlaceOfTheHeadThatIsOpen) {
    panels::State state = panels::state_of(SWASHWRIGHT_SCENES "/three_blade_700.toml");
    panels::ask(state, panels::Dialog::new_head);
    EXPECT_EQ(state.dialogs.open, panels::Dialog::new_head);
}

}  // namespace
}  // namespace swashwright::document
