#include "kinematics/studies/joints/fight.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/solver.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_linkage.h"
#include "tests/support/square_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::HasSubstr;

constexpr double horn_mm = 15, nmm_per_deg = 100;
constexpr double nmm_per_rad = nmm_per_deg / degree;

Fight fight_of(const Description& d, const FightOptions& options = {}) {
    const auto head = Head::build(d);
    EXPECT_TRUE(head) << head.error().message;
    const auto found = fight(*head, options);
    EXPECT_TRUE(found) << found.error().message;
    return found.value_or(Fight{});
}

Answer answer_of(const Description& d, const FightOptions& options = {}) {
    return answer(fight_of(d, options), Head::build(d).value());
}

/// Four equal springs on a square: a length that is off by e leaves e/4 at each, signs alternating (least squares in
/// height and two tilts: what is left lies along (1, -1, 1, -1)). Opposite corners pull alike, so forces and moments
/// sum to nothing. Statics: each horn gives way by its moment over its stiffness, e/4 at its ball. To first order;
/// the ring then leans by some 0.3 deg, which changes lengths by some 4e-4 mm.
TEST(Fight, OnALevelSquareRingLeavesAQuarterAtEachLink) {
    for (const int long_one : {0, 2, 0}) {
        Description d = testing::square_head(testing::four_around);
        d.lower_links[static_cast<std::size_t>(long_one)].error_mm = 0.2;
        FightOptions options;
        options.give.servo_nmm_per_deg = nmm_per_deg;
        const Fight found = fight_of(d, options);
        ASSERT_GE(found.fighters.size(), 4U);
        EXPECT_NEAR(found.middle.misfit_mm, 0.05, 5e-4);
        const double force = 0.05 * nmm_per_rad / (horn_mm * horn_mm);
        for (std::size_t j = 0; j < 4; ++j) {
            const double sign = j % 2 == 0 ? -1 : 1;  // the long one is pressed, and the one opposite
            EXPECT_NEAR(found.middle.error_mm[j], sign * 0.05, 5e-4) << j;
            EXPECT_NEAR(found.middle.force_n[j], sign * force, 0.02 * force) << j;
            EXPECT_NEAR(found.middle.moment_nmm[j], -sign * force * horn_mm, 0.02 * force * horn_mm) << j;
        }
        options.give.link_n_per_mm = 40;
        const Fight softer = fight_of(d, options);
        const double softer_force = 0.05 / (horn_mm * horn_mm / nmm_per_rad + 1 / 40.0);
        EXPECT_NEAR(softer.middle.force_n[1], softer_force, 0.02 * softer_force);
    }
}

TEST(Fight, FindsTheLengthThatTakesItAwayAndWhatTheGeometryLeaves) {
    Description d = testing::square_head(testing::four_around);
    const double bowl = fight_of(d).worst.misfit_mm;  // square horns fit at mid stick only
    EXPECT_LT(fight_of(d).middle.misfit_mm, 1e-9);
    EXPECT_GT(bowl, 1e-3);
    d.lower_links[1].error_mm = 0.5;
    const Fight found = fight_of(d);
    ASSERT_FALSE(found.remedies.empty());
    // The bowl of the four horns is alike for all of them, so no length can do better than the true one by much.
    EXPECT_NEAR(found.remedies.front().left_mm, bowl, 0.2 * bowl);
    // All four can make up for it, but only the one at fault leaves the ring level.
    const Remedy& first = found.remedies.front();
    EXPECT_EQ(first.number.path, "lower_link[2].length_mm");
    EXPECT_NEAR(first.change, -0.5, 0.05);
    EXPECT_LT(first.tilt_deg, 0.1);
    EXPECT_GT(found.remedies.back().tilt_deg, 0.4);
}

Description four_servos() {
    for (const Description& d : testing::linkages())
        if (d.servos.size() == 4) return d;
    ADD_FAILURE() << "no head with four servos";
    return {};
}

/// Springs' energy at mid stick, N mm, as half the sum of squares of this: horns turned by `by_rad`, links of equal
/// stiffness, the ring where its pose by least squares puts it, which is where equal springs put it.
Eigen::VectorXd energy_roots(const Head& head, const Eigen::VectorXd& by_rad, double n_per_mm) {
    auto horns = head.horn_angles_deg({});
    for (std::size_t j = 0; j < horns.size(); ++j) horns[j] += by_rad[static_cast<Eigen::Index>(j)] / degree;
    const auto pose = head.pose(horns, 0);
    EXPECT_TRUE(pose);
    const Eigen::Index n = by_rad.size();
    Eigen::VectorXd out(2 * n);
    for (Eigen::Index j = 0; j < n; ++j) {
        const auto i = static_cast<std::size_t>(j);
        const Vec3 span = pose->skeleton.inner_balls[i] - pose->skeleton.horn_balls[i];
        out[j] = std::sqrt(nmm_per_rad) * by_rad[j];
        out[n + j] = std::sqrt(n_per_mm) * (span.norm() - head.description().lower_links[i].actual_mm());
    }
    return out;
}

// The least energy found by Gauss and Newton's method on poses alone, with differences of 0.001 deg. The study is of
// first order: a misfit of some tenths of a mm on arms of 15 to 30 mm changes directions by a few parts in a hundred.
TEST(Fight, IsWhereTheEnergyIsLeast) {
    constexpr double n_per_mm = 60, step = 1e-3 * degree;
    std::mt19937_64 bits(3);
    const Description like = four_servos();
    for (int round = 0; round < 20; ++round) {
        const auto head = Head::build(testing::moved_a_little(like, bits));
        ASSERT_TRUE(head && !head->neutral_failure());
        Eigen::VectorXd by = Eigen::VectorXd::Zero(4);
        for (int i = 0; i < 8; ++i) {
            Eigen::MatrixXd slopes(8, 4);
            for (Eigen::Index j = 0; j < 4; ++j) {
                const Eigen::VectorXd aside = step * Eigen::VectorXd::Unit(4, j);
                slopes.col(j) =
                    (energy_roots(*head, by + aside, n_per_mm) - energy_roots(*head, by - aside, n_per_mm)) /
                    (2 * step);
            }
            by -= slopes.colPivHouseholderQr().solve(energy_roots(*head, by, n_per_mm));
        }
        const Eigen::VectorXd roots = energy_roots(*head, by, n_per_mm);
        const auto found = fight(*head, {{nmm_per_deg, n_per_mm}});
        ASSERT_TRUE(found);
        const double most = roots.tail(4).cwiseAbs().maxCoeff() * std::sqrt(n_per_mm);
        for (std::size_t j = 0; j < 4; ++j) {
            const auto i = static_cast<Eigen::Index>(j);
            EXPECT_NEAR(found->middle.force_n[j], roots[4 + i] * std::sqrt(n_per_mm), 0.05 * most) << round;
            EXPECT_NEAR(found->middle.moment_nmm[j], -head->raise_signs()[j] * nmm_per_rad * by[i], 0.05 * most * 15)
                << round;
        }
    }
}

/// What all links, the guide included, do to the ring: force along the shaft, and moment about the tilt centre.
std::pair<double, Vec3> on_the_ring(const Head& head, const Fight& fight, const head::Pose& pose) {
    const Description& d = head.description();
    double up = 0;
    Vec3 moment = Vec3::Zero();
    const Vec3 centre = pose.skeleton.inner_ring.origin;
    for (std::size_t i = 0; i < fight.fighters.size(); ++i) {
        if (!fight.fighters[i].shares) continue;
        const Vec3 span = pose.skeleton.horn_balls[i] - pose.skeleton.inner_balls[i];
        const Vec3 force = fight.worst.force_n[i] * span.normalized();
        up += force.z();
        moment += (pose.skeleton.inner_balls[i] - centre).cross(force);
    }
    // The guide's force is square to its plane; its sense is the one that turns the ring back.
    const double plane = (d.swashplate.guide_pin.angle_deg + d.swashplate.guide_turn_deg) * degree;
    const Vec3 arm = (pose.skeleton.guide_pin - centre).cross(Vec3(-std::sin(plane), std::cos(plane), 0));
    for (std::size_t i = 0; i < fight.fighters.size(); ++i)
        if (fight.fighters[i].words == "guide pin")
            moment -= std::copysign(fight.worst.force_n[i], moment.dot(arm)) * arm;
    return {up, moment};
}

RC_GTEST_PROP(Fight, HoldsItselfAndItsAdviceOnRandomHeadsWithFourServos, (std::uint64_t seed)) {
    static const Description like = four_servos();
    std::mt19937_64 bits(seed);
    const Description d = testing::moved_a_little(like, bits);
    const auto head = Head::build(d);
    if (!head || head->neutral_failure()) RC_DISCARD("does not close");
    const auto found = fight(*head);
    RC_ASSERT(found.has_value());
    const auto pose = head->pose(found->worst.sticks, found->worst.azimuth_deg);
    RC_ASSERT(pose.has_value());
    RC_ASSERT(std::abs(found->worst.misfit_mm - pose->misfit_mm.value()) < 1e-8);
    RC_ASSERT(found->worst.misfit_mm >= found->middle.misfit_mm);

    const auto [up, moment] = on_the_ring(*head, *found, *pose);
    double most = 0;
    for (std::size_t i = 0; i < 4; ++i) most = std::max(most, std::abs(found->worst.force_n[i]));
    RC_ASSERT(std::abs(up) < 1e-7 * most);
    RC_ASSERT(moment.norm() < 1e-6 * most * 28);

    // What each length is said to leave, at poses of its own.
    if (found->remedies.empty()) {  // then no length may help
        for (std::size_t j = 0; j < 4; ++j)
            for (const double change : {-0.02, 0.02}) {
                Description other = head::mixer_kept(*head);
                other.lower_links[j].length_mm += change;
                RC_ASSERT(fight(Head::build(other).value())->worst.misfit_mm > 0.998 * found->worst.misfit_mm);
            }
        return;
    }
    Description mended = head::mixer_kept(*head);
    const Remedy& best = found->remedies.front();
    best.number.at(mended) += best.change;
    const auto after = Head::build(mended);
    RC_ASSERT(after.has_value());
    testing::Draw draw(bits);
    for (int i = 0; i < 10; ++i) {
        const double way = draw.between(0, 2 * pi), out = draw.between(0, 1);
        const auto there = after->pose(
            head::Sticks{
                .collective = draw.between(-1, 1), .aileron = out * std::cos(way), .elevator = out * std::sin(way)},
            draw.between(0, 360));
        // Between the places of the sweep there may be a little more.
        RC_ASSERT(!there || there->misfit_mm.value() < 1.05 * best.left_mm + 1e-3);
    }
    // Equally good ones are told in the order of what they do to the ring.
    for (const Remedy& remedy : found->remedies) RC_ASSERT(1.021 * remedy.left_mm + 2e-4 >= best.left_mm);
}

TEST(Fight, SaysWhereNothingIsTooMany) {
    for (const char* file : {"two_blade_600.toml", "small_two_blade_250.toml"}) {
        Description d = testing::demo(file);
        d.swashplate.driver_pins.resize(1);
        const Answer a = answer_of(d);
        EXPECT_EQ(a.text, "Three lower links hold the ring: no servo can fight another.");
        EXPECT_EQ(a.tone, Tone::calm);
        ASSERT_EQ(a.tables.size(), 4U);
        for (const Table& table : a.tables) EXPECT_TRUE(table.rows.empty()) << table.key;
    }
}

TEST(Fight, TakesTwoDriverPinsForPlayOfTheirArms) {
    Description d = testing::square_head(testing::four_around);
    d.servos.pop_back();
    d.swashplate.inner_balls.pop_back();
    d.lower_links.pop_back();
    d.swashplate.driver_pins = {{20, 0, 5}, {20, 183, 5}};
    const Fight found = fight_of(d);
    EXPECT_TRUE(found.drivers_only);
    const auto pose = Head::build(d)->pose(found.worst.sticks, found.worst.azimuth_deg);
    ASSERT_TRUE(pose);
    EXPECT_NEAR(found.worst.misfit_mm, std::abs(pose->driver_misfit_mm[0]), 1e-9);
    EXPECT_THAT(answer_of(d).text,
                HasSubstr("no servo can fight another; 2 driver pins share what one would do, and stand up to "));
}

TEST(Fight, AnswersOnEveryKindOfLinkage) {
    int strained = 0;
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d).value();
        const auto found = fight(head);
        ASSERT_TRUE(found) << found.error().message;
        const Answer a = answer(*found, head);
        EXPECT_FALSE(a.text.empty());
        if (found->fighters.empty()) {
            EXPECT_FALSE(head.pose(head::Sticks{}, 0)->misfit_mm) << d.name;
            continue;
        }
        ++strained;
        const auto pose = head.pose(found->worst.sticks, found->worst.azimuth_deg);
        ASSERT_TRUE(pose) << d.name;
        EXPECT_NEAR(found->worst.misfit_mm, pose->misfit_mm.value(), 1e-8) << d.name;
        for (const double moment : found->worst.moment_nmm) EXPECT_TRUE(std::isfinite(moment)) << d.name;
    }
    EXPECT_EQ(strained, 2);  // four servos, hinged links
}

TEST(Fight, NamesBothCampsAndTheRemedy) {
    Description d = testing::square_head(testing::four_around);
    d.lower_links[0].error_mm = 1;
    const Answer a = answer_of(d);
    EXPECT_THAT(a.text, HasSubstr("In their best fit the 4 lower links are off by up to "));
    EXPECT_EQ(a.study, "fight");
    EXPECT_EQ(a.tone, Tone::notice);
    EXPECT_THAT(a.text, HasSubstr("servo 1 and servo 3 push up against servo 2 and servo 4, up to "));
    EXPECT_THAT(a.text, ::testing::MatchesRegex(".*(takes it away|leaves).*"));
    EXPECT_EQ(a.tables[1].parts[0], "lower_link[1]");
    EXPECT_EQ(a.tables[2].rows.size(), 4U);
    EXPECT_EQ(a.tables[3].rows.size(), a.tables[3].parts.size());
    d.lower_links[0].error_mm = 0;
    for (head::Link& link : d.lower_links) link.play_mm = 0.5;  // swallows the bowl
    const Answer free = answer_of(d);
    EXPECT_EQ(free.tone, Tone::calm);
    EXPECT_THAT(free.text, HasSubstr("so no servo fights another."));
}

}  // namespace
}  // namespace swashwright::studies
