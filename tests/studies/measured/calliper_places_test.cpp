#include "kinematics/studies/measured/calliper_places.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "kinematics/head/ball_places.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_linkage.h"

namespace swashwright::studies {
namespace {

using head::BallName;
using head::Head;
using head::Pose;
using ::testing::HasSubstr;

std::vector<Head> heads() {
    std::vector<Head> out;
    std::mt19937_64 bits(5);
    std::vector<head::Description> all = testing::linkages();
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"})
        all.push_back(testing::demo(file));
    for (const head::Description& d : all)
        for (const head::Description& one : {d, testing::moved_a_little(d, bits)}) {
            auto head = Head::build(one);
            if (head && !head->neutral_failure()) out.push_back(*head);
        }
    EXPECT_GE(out.size(), 16U);
    return out;
}

/// Every point that a key may name, head frame, mm, where the pose has it.
std::map<std::string, Vec3> points(const Pose& pose) {
    const head::Skeleton& s = pose.skeleton;
    std::map<std::string, Vec3> out;
    const auto add = [&](const BallName& ball) { out[name_of(ball)] = *head::ball_place(s, ball); };
    const auto all = [&](BallName::Of of, std::size_t n) {
        for (int i = 0; i < int(n); ++i) add({of, i, 0});
    };
    const auto each = [&](BallName::Of of, const auto& lists) {
        for (int i = 0; i < int(lists.size()); ++i)
            for (int b = 0; b < int(lists[std::size_t(i)].size()); ++b) add({of, i, b});
    };
    all(BallName::Of::servo, s.horn_balls.size());
    all(BallName::Of::inner_ball, s.inner_balls.size());
    all(BallName::Of::outer_ball, s.outer_balls.size());
    all(BallName::Of::grip, s.grip_balls.size());
    each(BallName::Of::lever, s.lever_balls);
    each(BallName::Of::slider, s.slider_balls);
    all(BallName::Of::fixed_ball, s.fixed_balls.size());
    for (std::size_t i = 0; i < s.horns.size(); ++i) out[fmt::format("servo[{}].pivot", i + 1)] = s.horns[i].origin;
    for (std::size_t i = 0; i < s.levers.size(); ++i) out[fmt::format("lever[{}].pivot", i + 1)] = s.levers[i].origin;
    for (std::size_t i = 0; i < s.driver_pins.size(); ++i)
        out[s.driver_pins.size() == 1 ? "driver_pin" : fmt::format("driver_pin[{}]", i + 1)] = s.driver_pins[i];
    return out;
}

/// The frame of the body on which a point is, by its key; its z is the axis that distances count to.
Placement body_of(const head::Description& d, const head::Skeleton& s, const std::string& key) {
    const auto number = [&] { return std::size_t(std::stoi(key.substr(key.find('[') + 1))) - 1; };
    const auto carrier = [&](const head::Carrier& on) -> Placement {
        using enum head::Carrier::On;
        const auto i = std::size_t(on.index);
        return on.on == frame        ? Placement{}
               : on.on == inner_ring ? s.inner_ring
               : on.on == outer_ring ? s.outer_ring
               : on.on == hub        ? s.hub
               : on.on == grip       ? s.grips[i]
               : on.on == lever      ? s.levers[i]
                                     : s.sliders[i];
    };
    if (key.starts_with("inner_ball")) return s.inner_ring;
    if (key.starts_with("outer_ball") || key.starts_with("driver_pin")) return s.outer_ring;
    if (key.starts_with("grip")) return s.grips[number()];
    if (key.starts_with("fixed_ball")) return carrier(d.fixed_balls[number()].on);
    if (key.starts_with("slider"))
        return key.ends_with(".line") ? carrier(d.sliders[number()].on) : s.sliders[number()];
    if (key.starts_with("lever")) return key.ends_with(".pivot") ? carrier(d.levers[number()].on) : s.levers[number()];
    return key.ends_with(".pivot") ? Placement{} : s.horns[number()];
}

double to_axis(const Placement& body, const Vec3& point) {
    return body.turn.col(2).cross(point - body.origin).norm();
}

/// What a place should read, by points and frames of the pose alone, and what kind of place it is; none where the pose
/// does not show it.
class Posed {
public:
    explicit Posed(const Head& head)
        : head_(head), d_(head.description()), pose_(*head.pose(head::Sticks{}, 0)), at_(points(pose_)) {}

    std::optional<std::pair<const char*, double>> expected(const std::string& key) const {
        const auto to = key.find(" to "), space = key.rfind(' ');
        const std::string a = key.substr(0, std::min(to, space));
        if (const auto link = head_.model().find(key); link && head_.model().part(*link).rod.index >= 0)
            return std::pair("link", head_.model().rod(head_.model().part(*link).rod).made.actual_mm());
        if (key == "ring height") return std::pair("ring", pose_.height_mm);
        if (key == "ring to feathering axes") return std::pair("ring", d_.rotor.hub_height_mm - pose_.height_mm);
        if (key.ends_with(" place")) return std::pair("slider", pose_.slider_mm[number(key)]);
        if (!at_.contains(a)) return std::nullopt;
        return to != std::string::npos ? apart(a, key.substr(to + 4)) : along(a, key.substr(space + 1));
    }

private:
    static std::size_t number(const std::string& key) {
        return std::size_t(std::stoi(key.substr(key.find('[') + 1))) - 1;
    }
    /// With the blade held flat, which undoes the pitch that the pose gives it.
    Vec3 flat(const std::string& key) const {
        if (!key.starts_with("grip")) return at_.at(key);
        const Placement& grip = pose_.skeleton.grips[number(key)];
        return grip.origin + Eigen::AngleAxisd(-pose_.pitch_deg[number(key)] * degree, grip.turn.col(2)) *
                                 (at_.at(key) - grip.origin);
    }
    std::optional<std::pair<const char*, double>> apart(const std::string& a, const std::string& b) const {
        // On a grip whose lever has turned, blades are not where they are with the lever at rest.
        if (a.starts_with("grip") && b.starts_with("grip") && d_.grips[0].lever) return std::nullopt;
        if (at_.contains(b)) return std::pair("apart", (flat(a) - flat(b)).norm());
        if (b == "shaft" && a.starts_with("servo") && a.ends_with(".ball"))
            return std::pair("horn", std::hypot(at_.at(a).x(), at_.at(a).y()));
        return std::pair("axis", to_axis(body_of(d_, pose_.skeleton, a), at_.at(a)));
    }
    std::optional<std::pair<const char*, double>> along(const std::string& a, const std::string& way) const {
        const head::Skeleton& s = pose_.skeleton;
        const Placement body = body_of(d_, s, a);
        const Vec3 in_body = body.turn.transpose() * (at_.at(a) - body.origin);
        const bool on_frame = a.starts_with("servo") ||
                              (a.starts_with("lever") && d_.levers[number(a)].on.on == head::Carrier::On::frame);
        const bool on_hub = a.starts_with("lever") && d_.levers[number(a)].on.on == head::Carrier::On::hub;
        if (way == "height") return std::pair("height", in_body.z() - (on_hub ? d_.rotor.hub_height_mm : 0));
        if (on_frame && way == "forward") return std::pair("forward", in_body.x());
        if (on_frame && way == "left") return std::pair("left", in_body.y());
        if (a.starts_with("grip") && way == "up")
            return std::pair("up", (turn_about_z(-d_.grips[number(a)].pitch_offset_deg * degree) * in_body).y());
        return std::nullopt;
    }

    const Head& head_;
    const head::Description& d_;
    Pose pose_;
    std::map<std::string, Vec3> at_;
};

TEST(CalliperPlaces, ReadWhatThePosedPointsGive) {
    std::map<std::string, int> kinds;
    int places = 0, seen = 0;
    for (const Head& head : heads()) {
        const Posed posed(head);
        for (const CalliperPlace& place : calliper_places(head)) {
            SCOPED_TRACE(head.description().name + ": " + place.key);
            const auto value = present_value(place, head);
            ASSERT_TRUE(value);
            ++places;
            const auto expected = posed.expected(place.key);
            if (!expected) continue;
            EXPECT_NEAR(*value, expected->second, 1e-9);
            ++seen;
            ++kinds[expected->first];
        }
    }
    EXPECT_GT(seen, places * 8 / 10) << places;
    for (const char* kind : {"apart", "horn", "axis", "ring", "slider", "height", "forward", "left", "up", "link"})
        EXPECT_GT(kinds[kind], 0) << kind;
}

TEST(CalliperPlaces, HaveKeysOfTheirOwnAndAreFoundFromEitherEnd) {
    for (const Head& head : heads()) {
        const auto places = calliper_places(head);
        std::set<std::string> keys, words;
        for (const CalliperPlace& place : places) {
            EXPECT_TRUE(keys.insert(place.key).second) << place.key;
            EXPECT_TRUE(words.insert(place.words).second) << place.words;
            EXPECT_EQ(find_place(places, place.key), &place);
            EXPECT_GT(place.sd, 0);
            EXPECT_TRUE(head::part_of(place.part)) << place.part;
        }
        EXPECT_EQ(find_place(places, "nonsense"), nullptr);
    }
    const auto places = calliper_places(*Head::build(testing::demo("two_blade_600.toml")));
    EXPECT_EQ(find_place(places, "inner_ball[2] to inner_ball[1]"),
              find_place(places, "inner_ball[1] to inner_ball[2]"));
    EXPECT_NE(find_place(places, "inner_ball[2] to inner_ball[1]"), nullptr);
}

TEST(CalliperPlaces, JawsGoOverOrBetweenWhatIsRound) {
    const Head head = *Head::build(testing::demo("two_blade_600.toml"));
    const auto places = calliper_places(head);
    const auto centres = [&](const char* key, Jaws jaws, const RoundSizes& sizes) {
        return centre_to_centre(*find_place(places, key), 50, jaws, sizes);
    };
    const head::Link& link = head.description().upper_links[0];
    EXPECT_EQ(centres("upper_link[1]", Jaws::centres, {}), 50);
    EXPECT_DOUBLE_EQ(*centres("upper_link[1]", Jaws::between, {}), 50 + (link.boss_mm[0] + link.boss_mm[1]) / 2);
    EXPECT_DOUBLE_EQ(*centres("upper_link[1]", Jaws::over, {.boss_mm = 5}), 45);
    EXPECT_DOUBLE_EQ(*centres("inner_ball[1] to inner_ball[2]", Jaws::over, {.ball_mm = 4}), 46);
    EXPECT_DOUBLE_EQ(*centres("inner_ball[1] to shaft", Jaws::over, {.ball_mm = 4, .shaft_mm = 10}), 43);
    EXPECT_FALSE(centres("inner_ball[1] to shaft", Jaws::over, {}));
    EXPECT_THAT(cannot_lay(*find_place(places, "inner_ball[1] to shaft"), {}), HasSubstr("shaft_mm of [sizes]"));
    EXPECT_FALSE(centres("ring height", Jaws::over, {}));
    EXPECT_THAT(cannot_lay(*find_place(places, "ring height"), {}), HasSubstr("from middle to middle"));
}

}  // namespace
}  // namespace swashwright::studies
