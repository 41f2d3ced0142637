#include "viewer/panels/ledger/part_facts.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/viewer/draw_heads.h"

namespace swashwright::panels {
namespace {

using head::Role;

std::string value(const Facts& facts, const std::string& what) {
    const auto fact = std::ranges::find(facts.facts, what, &Fact::what);
    return fact == facts.facts.end() ? "none" : fact->value;
}

TEST(PartFacts, OfALinkAreItsCalliperLengthAndItsError) {
    head::Description d = draw::demo("two_blade_600");
    d.upper_links[1].length_mm = 61;
    d.upper_links[1].error_mm = 0.3;
    const head::Pose pose = draw::posed(d, {}, 0);
    const Facts facts = facts_of({Role::upper_link, 1}, std::nullopt, d, pose, false);
    EXPECT_EQ(facts.name, "upper link 2");
    EXPECT_EQ(value(facts, "centre to centre"), "61.30 mm");
    EXPECT_EQ(value(facts, "error"), "+0.30 mm");
    // 61.3 / 25.4 = 2.41338...
    EXPECT_EQ(value(facts_of({Role::upper_link, 1}, std::nullopt, d, pose, true), "centre to centre"), "2.4134 in");
}

TEST(PartFacts, OfMovingPartsAreThoseOfThePose) {
    const head::Description d = draw::demo("three_blade_700");
    head::Pose pose = draw::posed(d, {0.3, 0.5, 0}, 40);
    pose.pitch_deg[2] = 4.567;
    pose.tilt_deg = 3.21, pose.height_mm = 51.25, pose.lowest_azimuth_deg = -90;
    pose.horn_deg[0] = -0.001;
    EXPECT_EQ(value(facts_of({Role::grip, 2}, std::nullopt, d, pose, false), "pitch now"), "+4.57\u00b0");
    const Facts ring = facts_of({Role::outer_ring, 0}, std::nullopt, d, pose, false);
    EXPECT_EQ(value(ring, "height"), "51.25 mm");
    EXPECT_EQ(value(ring, "tilt"), "3.21\u00b0");
    EXPECT_EQ(value(ring, "lowest at"), "-90\u00b0");
    EXPECT_EQ(value(facts_of({Role::horn, 0}, std::nullopt, d, pose, false), "angle now"), "0.00\u00b0");
}

TEST(PartFacts, OfABallAreItsPlace) {
    head::Description d = draw::demo("two_blade_600");
    d.swashplate.outer_balls[1] = {22.5, 85, 1.5};
    const Facts facts = facts_of({Role::outer_ring, 0}, 1, d, draw::posed(d, {}, 0), false);
    EXPECT_EQ(facts.name, "outer ring, ball 2");
    EXPECT_EQ(value(facts, "radius"), "22.50 mm");
    EXPECT_EQ(value(facts, "ahead of blade 1"), "85.00\u00b0");
    EXPECT_EQ(value(facts, "above tilt centre"), "1.50 mm");
}

TEST(PartFacts, NamePartsThatAHeadLacksWithoutNumbers) {
    const head::Description d = draw::demo("two_blade_600");
    const head::Pose pose = draw::posed(d, {}, 0);
    for (int kind = 0; kind <= static_cast<int>(Role::blade); ++kind) {
        for (int index : {-1, 0, 99})
            EXPECT_FALSE(facts_of({static_cast<Role>(kind), index}, std::nullopt, d, pose, false).name.empty());
        EXPECT_FALSE(facts_of({static_cast<Role>(kind), 99}, 99, d, pose, false).name.empty());
    }
}

}  // namespace
}  // namespace swashwright::panels
