#include "kinematics/studies/pitch/folded.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "kinematics/studies/answer/figures.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

/// The tip of a blade along +x of its hub's frame, leading side +y, turned by rotations alone: fold about the bolt,
/// which stands square to the blade, then pitch about the feathering axis, then that axis up by the precone.
double tip_height(double length, double fold_forward_deg, double precone_deg, double pitch_deg) {
    const Vec3 folded = Eigen::AngleAxisd(fold_forward_deg * degree, Vec3::UnitZ()) * Vec3(length, 0, 0);
    const Vec3 pitched = Eigen::AngleAxisd(pitch_deg * degree, Vec3::UnitX()) * folded;  // +y up for positive pitch
    return (Eigen::AngleAxisd(-precone_deg * degree, Vec3::UnitY()) * pitched).z();
}

RC_GTEST_PROP(Folded, TipsDifferAsRotationsSay, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    const double length = draw.between(200, 800), fold = draw.between(1, 90);
    const double one = draw.between(-15, 15), two = draw.between(-15, 15), cone = draw.between(-10, 10);
    // To the same side: one blade swings forward, the one opposite backward.
    const double difference = tip_height(length, fold, cone, one) - tip_height(length, -fold, cone, two);
    RC_ASSERT(std::abs(tip_difference_mm(length, fold, cone, one, two) - difference) < 1e-9);
    // A difference between the blades does not show.
    RC_ASSERT(std::abs(tip_difference_mm(length, fold, cone, one, -one)) < 1e-9);
}

// Tips placed in the frames of the solved grips, over random heads with precone: folded sideways, square to the axis.
TEST(Folded, TipsDifferAsTheGripsOfASolvedHeadStand) {
    std::mt19937_64 bits(7);
    testing::RandomHeadOptions even;
    int seen = 0;
    for (int i = 0; i < 60; ++i) {
        even.least_blades = even.most_blades = i % 2 == 0 ? 2 : 4;
        head::Description d = testing::random_head(bits, even);
        d.rotor.precone_deg = i % 7;
        const auto head = head::Head::build(d);
        const FoldedOptions options{{.collective = 0.4}, 20.0 * i, 30.0 + i, {}};
        const auto found = head ? folded(*head, options) : head::Result<Folded>(tl::unexpected(head::Failure{}));
        if (!found) continue;
        const auto pose = head->pose(options.sticks, options.azimuth_deg);
        ASSERT_TRUE(pose);
        const auto tip = [&](std::size_t k, double fold_deg) {
            const double offset = d.grips[k].pitch_offset_deg * degree, f = fold_deg * degree;
            const Vec3 forward(std::cos(offset), std::sin(offset), 0), out(0, 0, head::spin_sign(d.rotor.direction));
            const Vec3 at = found->bolt_to_tip_mm * (std::cos(f) * out + std::sin(f) * forward);
            return (pose->skeleton.grips[k].turn * at).z();
        };
        const double difference = tip(0, options.fold_deg) - tip(*found->opposite, -options.fold_deg);
        EXPECT_NEAR(found->difference_mm, difference, 1e-9) << i;
        ++seen;
    }
    EXPECT_GT(seen, 40);
}

// The side is named where blade 1 leads to, by its grip in the pose: by eye, a clockwise rotor's blade over the tail
// leads to the left, an anticlockwise one's to the right.
TEST(Folded, SaysToWhichSideTheBladesGo) {
    head::Description d = testing::two_blades();
    for (const auto direction : {head::Direction::clockwise, head::Direction::anticlockwise})
        for (int i = 0; i < 8; ++i) {
            d.rotor.direction = direction;
            const FoldedOptions options{{}, 45.0 * i, 90, {}};
            const auto head = head::Head::build(d);
            const auto found = folded(*head, options);
            ASSERT_TRUE(found) << found.error().message;
            const Vec3 leading = head->pose(head::Sticks{}, options.azimuth_deg)->skeleton.grips[0].turn.col(0);
            EXPECT_NEAR(std::remainder(std::atan2(leading.y(), leading.x()) / degree - found->side_azimuth_deg, 360), 0,
                        1e-9);
            const std::string side =
                "towards " + place_in_words(found->side_azimuth_deg) + ", blade 1 with its leading edge first";
            const Answer a = answer(*found, options);
            EXPECT_NE(a.text.find(side), std::string::npos) << a.text;
            EXPECT_NE(a.tables[0].title.find(side), std::string::npos);
            if (i == 0) {
                EXPECT_NE(side.find(direction == head::Direction::clockwise ? "the left" : "the right"), side.npos);
            }
        }
}

TEST(Folded, ReadsMeanPitchFromWhatWasSeen) {
    const auto head = head::Head::build(testing::two_blades());
    FoldedOptions options;
    options.seen_mm = 2 * 594 * std::sin(1.5 * degree);  // 660 less a tenth
    const auto seen = folded(*head, options);
    ASSERT_TRUE(seen) << seen.error().message;
    EXPECT_NEAR(*seen->seen_mean_deg, 1.5, 1e-12);
    EXPECT_NEAR(seen->difference_mm, 0, 1e-9);  // the demo has zero pitch at mid stick
    EXPECT_NEAR(seen->mm_per_deg, 2 * 594 * degree, 1e-12);
    bool told = false;
    for (const std::string& note : answer(*seen, options).notes)
        told |= note.find("cannot show a difference") != std::string::npos;
    EXPECT_TRUE(told);
    options.seen_mm = 2000;
    EXPECT_FALSE(folded(*head, options));
    options.seen_mm = {};
    options.fold_deg = 0;
    EXPECT_FALSE(folded(*head, options));
}

TEST(Folded, BladesWithoutOneOppositeShowNothingButTheRing) {
    testing::RandomHeadOptions three;
    three.least_blades = three.most_blades = 3;
    const auto head = head::Head::build(testing::random_head(4, three));
    const auto result = folded(*head);
    ASSERT_TRUE(result) << result.error().message;
    EXPECT_FALSE(result->opposite);
    EXPECT_EQ(answer(*result, {}).tone, Tone::notice);
    EXPECT_EQ(result->balls.size(), 6u);
}

// A calliper finds a height from a face, not from where the head's numbers count.
TEST(Folded, SaysWhereHeightsCountFrom) {
    head::Description d = testing::two_blades();
    const auto title = [&] { return answer(*folded(*head::Head::build(d)), {}).tables[1].title; };
    EXPECT_EQ(title().find("Heights above the head's zero height (20.00 mm below the top of the bearing block): "), 0U)
        << title();
    d.measured_from = head::Face{"top plate", -3};
    EXPECT_NE(title().find("(3.00 mm above the top plate)"), std::string::npos) << title();
    d.measured_from->height_mm = 0;
    EXPECT_EQ(title().find("Heights above the top plate: "), 0U) << title();
    d.measured_from.reset();
    EXPECT_EQ(title().find("Heights above the head's zero height: "), 0U) << title();
}

TEST(Folded, BallsStandAtTheirLevelHeightsOnALevelRing) {
    const head::Description d = testing::two_blades();
    const auto result = folded(*head::Head::build(d));
    ASSERT_TRUE(result);
    EXPECT_EQ(result->balls[0].level_mm, 45);  // neutral height, balls on the ring's plane
    EXPECT_EQ(result->balls[3].level_mm, 51);  // outer balls 6 above it
    for (const BallHeight& ball : result->balls) EXPECT_NEAR(ball.present_mm, ball.level_mm, 1e-9) << ball.words;
}

// The head frame of a tail stands on the tail's shaft: there is no above, and the scene knows no side.
TEST(Folded, OfATailTellsTheBoomNotTheSide) {
    const head::Description d = testing::demo("tail_600.toml");
    const auto found = folded(*head::Head::build(d));
    ASSERT_TRUE(found) << found.error().message;
    const Answer a = answer(*found, {});
    EXPECT_NE(a.text.find("mm farther from the boom than that of blade 2"), std::string::npos) << a.text;
    EXPECT_EQ(a.text.find("towards the"), std::string::npos) << a.text;
    EXPECT_EQ(a.text.find("above"), std::string::npos) << a.text;
}

}  // namespace
}  // namespace swashwright::studies
