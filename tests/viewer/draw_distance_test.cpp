#include "viewer/draw/lines/distance.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/inventory.h"
#include "tests/viewer/draw_heads.h"

namespace swashwright::draw {
namespace {

using ::testing::HasSubstr;
using At = Place::At;

Place ball(head::BallName::Of of, int index = 0) {
    Place out;
    out.ball = {of, index};
    return out;
}
Place at(At kind, int index = 0) {
    Place out;
    out.at = kind;
    out.index = index;
    return out;
}
double between(const Place& a, const Place& b, const head::Description& d, const head::Pose& pose) {
    const auto found = measure({a, b}, d, pose);
    return found ? found->mm : NAN;
}

// Against lengths that the description gives and coordinates of the pose.
TEST(Distance, BetweenCentresIsWhatThePoseHas) {
    const head::Description d = demo("two_blade_600");
    for (const head::Sticks& sticks : {head::Sticks{}, head::Sticks{0.6, 0.3, -0.2}, head::Sticks{}}) {  // and again
        const head::Pose pose = posed(d, sticks, 35);
        const auto link =
            measure({ball(head::BallName::Of::servo, 1), ball(head::BallName::Of::inner_ball, 1)}, d, pose);
        ASSERT_TRUE(link);
        EXPECT_NEAR(link->mm, d.lower_links[1].actual_mm(), 1e-9);
        EXPECT_EQ(link->how, "centre to centre");
        EXPECT_FALSE(link->drawn);
        EXPECT_NEAR(between(at(At::horn_pivot, 2), ball(head::BallName::Of::servo, 2), d, pose), d.servos[2].horn_mm,
                    1e-9);
        const Vec3& inner = pose.skeleton.inner_balls[0];
        EXPECT_NEAR(between(ball(head::BallName::Of::inner_ball), at(At::shaft_axis), d, pose),
                    std::hypot(inner.x(), inner.y()), 1e-9);
        EXPECT_NEAR(between(at(At::hub_middle), at(At::blade_tip, 1), d, pose), d.rotor.blade_tip_mm, 1e-9);
        const Vec3& arm = pose.skeleton.grip_balls[0];
        const Placement& grip = pose.skeleton.grips[0];
        EXPECT_NEAR(between(ball(head::BallName::Of::grip), at(At::feathering_axis), d, pose),
                    (arm - grip.origin).cross(grip.turn.col(2)).norm(), 1e-9);
    }
}

// The distance of two skew lines: |(b - a) . (u x v)| / |u x v|, as any book of analytic geometry has it.
TEST(Distance, BetweenAxesIsThatOfSkewLines) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        const head::Pose pose = posed(d, {0.3, 0.2, -0.1}, 20);
        for (int j = 0; j < static_cast<int>(d.servos.size()); ++j) {
            const Placement& horn = pose.skeleton.horns[static_cast<std::size_t>(j)];
            const Placement& grip = pose.skeleton.grips[0];
            const Vec3 normal = horn.turn.col(2).cross(grip.turn.col(2));
            if (normal.norm() < 0.05) continue;
            const auto found = measure({at(At::horn_axis, j), at(At::feathering_axis)}, d, pose);
            ASSERT_TRUE(found);
            EXPECT_NEAR(found->mm, std::abs((grip.origin - horn.origin).dot(normal)) / normal.norm(), 1e-9);
            EXPECT_NEAR((found->b - found->a).norm(), found->mm, 1e-12);
            EXPECT_THAT(found->how, HasSubstr("axis to axis"));
            const auto turned = measure({at(At::feathering_axis), at(At::horn_axis, j)}, d, pose);
            EXPECT_NEAR((turned->a - found->b).norm(), 0, 1e-9);
        }
    }
}

TEST(Distance, FacesAreDrawnSizesAndFollowTheirPart) {
    const head::Description d = demo("two_blade_600");
    Place top = at(At::face);
    top.part = {Role::inner_ring, 0};
    top.frame = {Ride::inner_ring, 0};
    top.point = {10, 3, 4};
    top.normal = Vec3::UnitZ();
    Place foot = top;
    foot.point = {-7, 12, -2.5};
    foot.normal = -Vec3::UnitZ();
    Place side = top;
    side.point = {20, 0, 0};
    side.normal = Vec3::UnitX();
    for (const double collective : {0.0, 0.7, 0.0}) {
        const head::Pose pose = posed(d, {collective, 0.4, 0.1}, 50);
        const auto thick = measure({top, foot}, d, pose);
        ASSERT_TRUE(thick);
        EXPECT_NEAR(thick->mm, 6.5, 1e-9);
        EXPECT_TRUE(thick->drawn);
        EXPECT_THAT(thick->how, HasSubstr("face to face"));
        EXPECT_NEAR(between(at(At::tilt_centre), top, d, pose), 4, 1e-9);
        EXPECT_NEAR(between(top, side, d, pose), (top.point - side.point).norm(), 1e-9);
        EXPECT_THAT(measure({top, side}, d, pose)->how, HasSubstr("surface to surface"));
    }
}

TEST(Distance, EveryPlaceOfEverySceneHasWordsAPartAndAMark) {
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_SCENES)) {
        if (entry.path().extension() != ".toml") continue;
        const head::Description d = testing::loaded(entry.path().string());
        const head::Pose pose = posed(d, {}, 10);
        std::vector<std::string> words;
        const auto places = every_place(d);
        for (const Place& place : places) {
            words.push_back(words_of(place, d));
            EXPECT_TRUE(mark_of(place, d, pose)) << entry.path() << " " << words.back();
            const Part part = part_of(place, d);
            const std::size_t count =
                part.role == Role::driver ? d.swashplate.driver_pins.size() : head::count_of(d, part.role);
            EXPECT_LT(part.index, static_cast<int>(std::max<std::size_t>(1, count))) << words.back();
            EXPECT_TRUE(measure({place, places.back()}, d, pose) || place == places.back());
        }
        std::ranges::sort(words);
        EXPECT_EQ(std::ranges::adjacent_find(words), words.end()) << entry.path() << " has two of one name";
    }
}

TEST(Distance, OfWhatIsNotThereThereIsNone) {
    const head::Description d = demo("two_blade_600");
    const head::Pose pose = posed(d, {}, 0);
    for (const Place& gone : {at(At::horn_pivot, 9), at(At::lever_axis, 0), at(At::driver_pin, 7), at(At::blade_tip, 5),
                              ball(head::BallName::Of::lever, 3)})
        EXPECT_FALSE(measure({gone, at(At::shaft_axis)}, d, pose));
}

// A face is of the servo that the scene names, as every other note has it.
TEST(Distance, NamesAFaceByTheScenesName) {
    const head::Description d = demo("two_blade_600");
    for (int j = 0; j < 3; ++j) {
        Place face;
        face.at = Place::At::face;
        face.part = {Role::servo, j};
        EXPECT_EQ(words_of(face, d), "face of " + head::servo_words(d.servos[static_cast<std::size_t>(j)]));
        face.part = {Role::horn, j};
        EXPECT_EQ(words_of(face, d), "face of horn of " + head::servo_words(d.servos[static_cast<std::size_t>(j)]));
    }
    Place face;
    face.at = Place::At::face;
    face.part = {Role::hub, 0};
    EXPECT_EQ(words_of(face, d), "face of hub");
}

}  // namespace
}  // namespace swashwright::draw
