// The ring under a calliper, against poses of the solver and against plane geometry: a plane's height over a circle of
// radius r swings by 2 r sin t where it leans by t; three points make a plane.
#include "kinematics/studies/pitch/ring.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::HasSubstr;

const std::vector<std::string> demos{"two_blade_600.toml",    "three_blade_700.toml",     "small_two_blade_250.toml",
                                     "bellcranks_500.toml",   "four_servos_700.toml",     "link_held_450.toml",
                                     "hinged_links_450.toml", "rocking_spindle_600.toml", "stabiliser_bar_600.toml"};

Description with_links_off(Description d, std::initializer_list<double> errors_mm) {
    std::size_t j = 0;
    for (const double error : errors_mm) d.lower_links[j++].error_mm += error;
    return d;
}

double face_of(const Description& d) {
    return d.measured_from ? d.measured_from->height_mm : 0;
}

/// Heights that a perfect calliper would read on this head.
std::vector<std::optional<double>> read_on(const Description& d, ReadAt at) {
    const Head head = Head::build(d).value();
    std::vector<std::optional<double>> out;
    for (const head::Polar& ball : d.swashplate.inner_balls) {
        if (at == ReadAt::outer_ball) {
            // Blade 1 points along 180 + s psi; its outer ball is ahead of that in the sense of rotation.
            const double s = spin_sign(d.rotor.direction);
            const double psi = s * (ball.angle_deg - 180) - d.swashplate.outer_balls[0].angle_deg;
            out.emplace_back(head.pose(head::Sticks{}, psi)->skeleton.outer_balls[0].z() +
                             d.upper_links[0].ball_mm[0] / 2 - face_of(d));
            continue;
        }
        const auto pose = head.pose(head::Sticks{}, 0);
        const Placement& ring = pose->skeleton.inner_ring;
        const double azimuth = ball.angle_deg * degree, r = ball.radius_mm;
        if (at == ReadAt::face)
            out.emplace_back(
                (ring * Vec3(r * std::cos(azimuth), r * std::sin(azimuth), *d.swashplate.lower_face_mm)).z() -
                face_of(d));
        else
            out.emplace_back((ring * Vec3(r * std::cos(azimuth), r * std::sin(azimuth), ball.height_mm)).z() +
                             d.lower_links[out.size()].ball_mm[1] / 2 - face_of(d));
    }
    return out;
}

TEST(Ring, HeightsAreThoseOfThePose) {
    for (const std::string& file : demos) {
        SCOPED_TRACE(file);
        Description d = testing::demo(file);
        d.measured_from = head::Face{"top of the bearing block", 11.5};
        d.swashplate.lower_face_mm = -3.5;
        const Head head = Head::build(d).value();
        RingRequest request;
        request.sticks = {0.3, 0.2, -0.4};
        for (int twice = 0; twice < 2; ++twice) {
            const auto found = ring(head, request);
            ASSERT_TRUE(found) << found.error().message;
            EXPECT_EQ(found->face, "the top of the bearing block");
            ASSERT_EQ(found->places.size(), 4U);
            for (const RingPlace& place : found->places) {
                const auto pose = head.pose(place.sticks, 0);
                ASSERT_TRUE(pose);
                EXPECT_EQ(place.height_mm, pose->height_mm - 11.5);
                EXPECT_EQ(place.tilt_deg, pose->tilt_deg);
                const Vec3 normal = pose->skeleton.inner_ring.turn.col(2);
                for (std::size_t j = 0; j < place.balls.size(); ++j) {
                    const RingBall& ball = place.balls[j];
                    EXPECT_NEAR(ball.centre_mm, pose->skeleton.inner_balls[j].z() - 11.5, 1e-12);
                    // From the face up to the ball along the normal.
                    const double up = d.swashplate.inner_balls[j].height_mm + 3.5;
                    EXPECT_NEAR(*ball.face_mm, ball.centre_mm - up * normal.z(), 1e-9);
                }
            }
            // The lower link's upper ball is the inner ring's.
            EXPECT_NEAR(found->places[0].balls[0].top_mm - found->places[0].balls[0].centre_mm,
                        d.lower_links[0].ball_mm[1] / 2, 1e-12);
            EXPECT_NEAR(found->places[0].balls[0].level_top_mm,
                        d.swashplate.neutral_height_mm + d.swashplate.inner_balls[0].height_mm +
                            d.lower_links[0].ball_mm[1] / 2 - 11.5,
                        1e-12);
        }
    }
}

TEST(Ring, OuterBallStandsOverTheInnerOneThatIsNamed) {
    for (const std::string& file : demos) {
        SCOPED_TRACE(file);
        const Description d = testing::demo(file);
        if (d.swashplate.driver_pins.empty()) continue;  // hinged links turn it, not quite evenly
        const Head head = Head::build(d).value();
        const auto found = ring(head);
        ASSERT_TRUE(found);
        ASSERT_EQ(found->stops.size(), 4 + d.swashplate.inner_balls.size());
        for (std::size_t j = 0; j < d.swashplate.inner_balls.size(); ++j) {
            const auto pose = head.pose(head::Sticks{}, found->stops[4 + j].azimuth_deg);
            const Vec3 over = pose->skeleton.outer_balls[0], under = pose->skeleton.inner_balls[j];
            EXPECT_NEAR(std::remainder(std::atan2(over.y(), over.x()) - std::atan2(under.y(), under.x()), 2 * pi), 0,
                        1e-6);
        }
        for (const RotorStop& stop : found->stops) {  // the demos are level
            EXPECT_NEAR(*stop.outer_top_mm, *found->stops[0].outer_top_mm, 1e-6);
            EXPECT_NEAR(stop.pitch_deg, found->stops[0].pitch_deg, 1e-3);
        }
    }
}

TEST(Ring, ALeanShowsAsAPlaneOverACircle) {
    for (const double lean_deg : {0.5, 1.0, 3.0}) {
        RingRequest request;
        request.lean_deg = lean_deg;
        const Description d = testing::two_blades();
        const auto found = ring(Head::build(d).value(), request);
        ASSERT_TRUE(found && found->lean);
        const double sine = std::sin(lean_deg * degree);
        EXPECT_NEAR(*found->lean->outer_mm, 2 * d.swashplate.outer_balls[0].radius_mm * sine, 1e-6);
        // Lowest at the nose; balls at 60, -60 and 180 deg. The guide's spin is of second order in the lean.
        EXPECT_NEAR(found->lean->inner_mm, 1.5 * d.swashplate.inner_balls[0].radius_mm * sine, 1e-3 * lean_deg);
        // The arm's ball follows the ring's one to one where arm and ball radius are alike: pitch swings by the lean
        // to either side, less what the links' leaning takes.
        EXPECT_NEAR(found->lean->pitch_deg, 2 * lean_deg, 0.05 * lean_deg);
    }
}

// Heights 0.1, 0, 0 over three points 120 deg apart on radius r: the middle rises by 0.1/3, the slope is 0.1 (2/3)/r.
TEST(Ring, ATenthOfAMillimetreMakesThePlaneOfThreePoints) {
    const Description d = testing::two_blades();
    const auto found = ring(Head::build(d).value());
    ASSERT_TRUE(found);
    ASSERT_EQ(found->links.size(), 3U);
    for (std::size_t j = 0; j < 3; ++j) {
        const RingLink& link = found->links[j];
        EXPECT_NEAR(link.height_mm, 0.1 / 3, 0.002);
        EXPECT_NEAR(link.tilt_deg, 0.1 * (2.0 / 3) / d.swashplate.inner_balls[j].radius_mm / degree, 0.01);
        const double away = link.lowest_azimuth_deg - d.swashplate.inner_balls[j].angle_deg - 180;
        EXPECT_NEAR(std::remainder(away, 360.0), 0, 5);
        Description longer = d;
        longer.lower_links[j].length_mm += 0.1;
        EXPECT_NEAR(link.tilt_deg, Head::build(longer)->pose(head::Sticks{}, 0)->tilt_deg, 1e-9);
    }
}

TEST(Ring, HeightsThatWereReadTellWhichLinksAreOff) {
    for (const std::string file : {"two_blade_600.toml", "three_blade_700.toml"})
        for (const ReadAt at : {ReadAt::ball_tops, ReadAt::face, ReadAt::outer_ball}) {
            SCOPED_TRACE(file + std::to_string(static_cast<int>(at)));
            const Description meant = testing::demo(file), real = with_links_off(meant, {0.43, -0.29, 0.11});
            const Head head = Head::build(meant).value();
            RingRequest request;
            request.read_at = at;
            request.seen_mm = read_on(real, at);
            const auto found = ring(head, request);
            ASSERT_TRUE(found) << found.error().message;
            const auto pose = Head::build(real)->pose(head::Sticks{}, 0);
            EXPECT_NEAR(found->seen->tilt_deg, pose->tilt_deg, 1e-6);
            EXPECT_NEAR(found->seen->lowest_azimuth_deg, pose->lowest_azimuth_deg, 1e-4);
            EXPECT_NEAR(found->seen->height_mm, pose->height_mm - meant.swashplate.neutral_height_mm, 1e-6);
            EXPECT_TRUE(found->seen->leans);
            EXPECT_TRUE(found->seen->fits);
            EXPECT_NEAR(found->seen->turns[0].exact_mm, -0.43, 1e-6);
            EXPECT_NEAR(found->seen->turns[1].exact_mm, 0.29, 1e-6);
            EXPECT_NEAR(found->seen->turns[2].exact_mm, -0.11, 1e-6);
            // Set as told and posed again.
            Description set = real;
            for (std::size_t j = 0; j < 3; ++j) set.lower_links[j].error_mm += found->seen->turns[j].change_mm;
            const auto after = Head::build(set)->pose(head::Sticks{}, 0);
            EXPECT_NEAR(found->seen->left_tilt_deg, after->tilt_deg, 1e-6);
            EXPECT_NEAR(found->seen->left_mm, after->height_mm - meant.swashplate.neutral_height_mm, 1e-6);
            EXPECT_LT(after->tilt_deg, 0.5 * pose->tilt_deg);
        }
}

TEST(Ring, HeightsTellTheLinksOfRandomHeads) {
    std::mt19937_64 bits(5);
    testing::Draw draw(bits);
    int seen = 0;
    for (int i = 0; i < 40; ++i) {
        const Description meant = testing::random_head(bits, {});
        const auto head = Head::build(meant);
        if (!head || head->neutral_failure() || !head->pose(head::Sticks{}, 0)) continue;
        const Description real =
            with_links_off(meant, {draw.between(-0.5, 0.5), draw.between(-0.5, 0.5), draw.between(-0.5, 0.5)});
        if (!Head::build(real)->pose(head::Sticks{}, 0)) continue;
        RingRequest request;
        request.seen_mm = read_on(real, ReadAt::ball_tops);
        const auto found = ring(*head, request);
        ASSERT_TRUE(found) << found.error().message << " head " << i;
        EXPECT_NEAR(found->seen->tilt_deg, Head::build(real)->pose(head::Sticks{}, 0)->tilt_deg, 1e-6) << i;
        // All heights agree, so the links make up for their errors to a level ring in the scene's place.
        Description set = real;
        for (std::size_t j = 0; j < 3; ++j) set.lower_links[j].error_mm += found->seen->turns[j].exact_mm;
        const auto level = Head::build(set)->pose(head::Sticks{}, 0);
        EXPECT_NEAR(level->tilt_deg, 0, 1e-6) << i;
        EXPECT_NEAR(level->height_mm, meant.swashplate.neutral_height_mm, 1e-6) << i;
        ++seen;
    }
    EXPECT_GE(seen, 30);
}

TEST(Ring, FourLinksAreTurnedTogether) {
    Description meant = testing::demo("four_servos_700.toml");
    const Description real = with_links_off(meant, {0.4, 0.2, -0.4, -0.2});  // a plane: nothing strains
    RingRequest request;
    request.seen_mm = read_on(real, ReadAt::ball_tops);
    const auto found = ring(Head::build(meant).value(), request);
    ASSERT_TRUE(found) << found.error().message;
    EXPECT_NEAR(found->seen->tilt_deg, Head::build(real)->pose(head::Sticks{}, 0)->tilt_deg, 1e-6);
    for (std::size_t j = 0; j < 4; ++j)
        EXPECT_NEAR(found->seen->turns[j].exact_mm, -real.lower_links[j].error_mm, 2e-3);
}

const Table& turns_of(const Answer& answer) {
    return *std::ranges::find(answer.tables, "turns", &Table::key);
}

// Three heights of one plane fit whatever they are; a fourth tells whether they are one ring's.
TEST(Ring, AHeightMisreadIsToldWhereThereAreFour) {
    const Description d = testing::demo("four_servos_700.toml");
    const Head head = Head::build(d).value();
    RingRequest request;
    request.seen_mm = read_on(d, ReadAt::ball_tops);
    *request.seen_mm[2] += 1;
    const auto off = ring(head, request);
    ASSERT_TRUE(off) << off.error().message;
    EXPECT_FALSE(off->seen->fits);
    EXPECT_THAT(answer(*off, request).text, HasSubstr("read them again"));
    EXPECT_TRUE(turns_of(answer(*off, request)).rows.empty());
    request.seen_mm[2].reset();
    const auto three = ring(head, request);
    ASSERT_TRUE(three);
    EXPECT_TRUE(three->seen->fits);
    EXPECT_NEAR(three->seen->tilt_deg, 0, 1e-6);
}

// By propagation of errors (any textbook): each tilt's deviation is s sqrt(2/3)/r on three points 120 deg apart.
TEST(Ring, DoubtIsThatOfThreePointsOnACircle) {
    const Description d = testing::two_blades();
    RingRequest request;
    request.seen_mm = read_on(with_links_off(d, {1.0, 0, 0}), ReadAt::ball_tops);
    const auto found = ring(Head::build(d).value(), request);
    ASSERT_TRUE(found);
    const double each = 0.1 * std::sqrt(2.0 / 3) / d.swashplate.inner_balls[0].radius_mm / degree;
    EXPECT_NEAR(found->seen->plus_minus_deg, 1.96 * each, 1e-3);
    EXPECT_NEAR(found->seen->plus_minus_mm, 1.96 * 0.1 / std::sqrt(3.0), 1e-3);
    EXPECT_NEAR(found->seen->least_shown_deg, std::sqrt(5.991) * each, 1e-3);
}

// 5 % of level rings read with that doubt are said to lean: of 400 draws 20, give or take three times 4.4.
TEST(Ring, SaysOfALevelRingThatItLeansOnceInTwentyTimes) {
    const Description d = testing::two_blades();
    const Head head = Head::build(d).value();
    const auto level = read_on(d, ReadAt::ball_tops);
    std::mt19937_64 bits(11);
    std::normal_distribution<double> doubt(0, 0.1);
    int leans = 0;
    for (int draw = 0; draw < 400; ++draw) {
        RingRequest request;
        for (const auto& height : level) request.seen_mm.emplace_back(*height + doubt(bits));
        const auto found = ring(head, request);
        ASSERT_TRUE(found);
        leans += found->seen->leans;
    }
    EXPECT_GE(leans, 7);
    EXPECT_LE(leans, 33);
}

TEST(Ring, CarriesItsDoubtInTheSentence) {
    const Description d = testing::two_blades();
    const Head head = Head::build(d).value();
    RingRequest request;
    EXPECT_THAT(answer(*ring(head), request).text,
                HasSubstr("tops of its inner balls 27.00 mm above the top of the bearing block. As the head is set "
                          "the ring is level."));
    request.seen_mm = read_on(with_links_off(d, {0, 0, 0.1}), ReadAt::ball_tops);
    EXPECT_THAT(answer(*ring(head, request), request).text, HasSubstr("show no lean"));
    EXPECT_TRUE(turns_of(answer(*ring(head, request), request)).rows.empty());
    request.seen_mm = read_on(with_links_off(d, {0, 0, 0.8}), ReadAt::ball_tops);
    const Answer leaning = answer(*ring(head, request), request);
    EXPECT_EQ(leaning.tone, Tone::notice);
    EXPECT_THAT(leaning.text, HasSubstr("lowest towards the nose"));
    EXPECT_THAT(leaning.text, HasSubstr("lower link 3: 4 half turns shorter"));
    EXPECT_EQ(turns_of(leaning).rows.size(), 3U);
    for (auto& height : request.seen_mm = read_on(d, ReadAt::ball_tops)) *height += 0.8;  // level, and high
    EXPECT_EQ(turns_of(answer(*ring(head, request), request)).rows.size(), 3U);
    Description unnamed = d;
    unnamed.measured_from.reset();
    EXPECT_THAT(answer(*ring(Head::build(unnamed).value()), {}).notes.front(),
                HasSubstr("The head names no face to measure from"));
}

TEST(Ring, RefusesWhatCannotBeItsHeights) {
    Description d = testing::two_blades();
    const auto refused = [&](const RingRequest& request) {
        const auto found = ring(Head::build(d).value(), request);
        EXPECT_FALSE(found);
        return found ? std::string() : found.error().message;
    };
    RingRequest request;
    request.seen_mm = {27.0, 27.0};
    EXPECT_THAT(refused(request), HasSubstr("has 3 inner balls"));
    request.seen_mm = {27.0, 27.0, std::nullopt};
    EXPECT_THAT(refused(request), HasSubstr("at least three"));
    request.seen_mm = {27.0, 47.0, 27.0};
    EXPECT_THAT(refused(request), HasSubstr("which no link is"));
    request.seen_mm = {25.0, 25.0, 25.0};
    request.read_at = ReadAt::face;
    d.swashplate.lower_face_mm.reset();
    EXPECT_THAT(refused(request), HasSubstr("how far the ring's lower face is from its tilt centre"));
    d = testing::demo("tail_600.toml");
    request.seen_mm = {25.0};
    EXPECT_THAT(refused(request), HasSubstr("slider"));
    request = {};
    request.lean_deg = 0;
    EXPECT_THAT(refused(request), HasSubstr("above 0"));
}

TEST(Ring, OfATailIsTheSlidersPlace) {
    const Description d = testing::demo("tail_600.toml");
    const Head head = Head::build(d).value();
    const auto found = ring(head);
    ASSERT_TRUE(found) << found.error().message;
    EXPECT_FALSE(found->tilts);
    EXPECT_TRUE(found->stops.empty());
    ASSERT_EQ(found->places.size(), 3U);
    EXPECT_EQ(found->places[2].height_mm, head.pose({.rudder = 1}, 0)->height_mm);
    EXPECT_EQ(found->links.size(), 2U);  // push rod and slider link
    EXPECT_THAT(answer(*found, {}).text, HasSubstr("slider"));
}

}  // namespace
}  // namespace swashwright::studies
