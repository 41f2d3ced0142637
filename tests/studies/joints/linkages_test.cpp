// Friction and play on every kind of linkage. What is expected is worked out here
// from poses alone.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/studies/joints/stiff.h"
#include "kinematics/studies/joints/play.h"
#include "tests/support/every_linkage.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using head::Pose;
using head::Sticks;
using testing::expect_finite;
using ::testing::HasSubstr;
using testing::heads;
using testing::pitch_with;
using testing::Rod;
using testing::rods_of;
using testing::Seen;
using testing::seen;
using testing::some_sticks;

/// Rotation vector per radian of a horn between two poses `step` (rad) apart.
Vec3 turning(const Placement& from, const Placement& to, double step) {
    const Eigen::AngleAxisd turn(Mat3(to.turn * from.turn.transpose()));
    return turn.angle() / step * turn.axis();
}

/// Of a rod's two ball links together, at the roll that is easiest.
double rod_turning(const std::array<Seen, 2>& before, const std::array<Seen, 2>& after, double step) {
    const Vec3 from = (before[1].at - before[0].at).normalized(), to = (after[1].at - after[0].at).normalized();
    const Vec3 u = (from + to).normalized(), swing = u.cross(to - from) / step;
    const Vec3 a = turning(before[0].part, after[0].part, step) - swing;
    const Vec3 b = turning(before[1].part, after[1].part, step) - swing;
    const auto sum = [&](double roll) { return (a - roll * u).norm() + (b - roll * u).norm(); };
    double low = -10, high = 10;  // one least place
    for (int n = 0; n < 90; ++n) {
        const double one = low + (high - low) / 3, two = high - (high - low) / 3;
        (sum(one) < sum(two) ? high : low) = sum(one) < sum(two) ? two : one;
    }
    return sum((low + high) / 2);
}

/// Moment at the horn by virtual work between two poses.
double moment_between(const Description& d, const Pose& p, const Pose& q, double step, const FrictionOptions& options) {
    double out = 0;
    for (const Rod& rod : rods_of(d)) {
        const auto ends = [&](const Pose& at) {
            return std::array{seen(d, at.skeleton, rod.ends[0]), seen(d, at.skeleton, rod.ends[1])};
        };
        out += (rod.path == options.odd[0].part ? options.odd[0].nmm : options.ball_nmm) *
               rod_turning(ends(p), ends(q), step);
    }
    for (const head::Pin& pin : d.pins) {
        const auto rate = [&](std::size_t e) {
            return turning(seen(d, p.skeleton, pin.ends[e]).part, seen(d, q.skeleton, pin.ends[e]).part, step);
        };
        out += options.ball_nmm * (rate(0) - rate(1)).norm();
    }
    if (d.swashplate.tilts)
        out += options.bearing_nmm * turning(p.skeleton.inner_ring, q.skeleton.inner_ring, step).norm();
    for (std::size_t k = 0; k < p.pitch_deg.size(); ++k)
        out += options.bearing_nmm * std::abs(q.pitch_deg[k] - p.pitch_deg[k]) * degree / step;
    for (std::size_t i = 0; i < p.lever_deg.size(); ++i)
        out += options.bearing_nmm * std::abs(q.lever_deg[i] - p.lever_deg[i]) * degree / step;
    return out;
}

// Central differences over 0.02 deg of a horn leave some 1e-7 of rates of the order of 1; beside rates of nearly
// nothing, whose size they take, 1e-4 in all.
TEST(EveryLinkage, FrictionIsTheVirtualWorkFoundByDifferences) {
    std::size_t seen_horns = 0;
    for (const Head& head : heads()) {
        const Description& d = head.description();
        FrictionOptions options;
        options.sticks = some_sticks(d);
        options.odd = {{rods_of(d).front().path, 9.0}};
        const auto found = friction(head, options);
        ASSERT_TRUE(found) << d.name << ": " << found.error().message;
        ASSERT_EQ(found->horns.size(), d.servos.size());
        for (std::size_t j = 0; j < found->horns.size(); ++j) {
            constexpr double step_deg = 0.02;
            auto horns = head.horn_angles_deg(options.sticks);
            horns[j] -= step_deg / 2;
            const auto before = head.pose(horns, found->horns[j].azimuth_deg);
            horns[j] += step_deg;
            const auto after = head.pose(horns, found->horns[j].azimuth_deg);
            ASSERT_TRUE(before && after);
            const double wanted = moment_between(d, *before, *after, step_deg * degree, options);
            EXPECT_NEAR(found->horns[j].nmm, wanted, 1e-4 * wanted) << d.name << " servo " << j + 1;
            double sum = 0;
            for (const FrictionShare& share : found->horns[j].shares) sum += share.nmm;
            EXPECT_NEAR(sum, found->horns[j].nmm, 1e-9 * sum);
            ++seen_horns;
        }
        const Answer told = answer(*found, d);
        expect_finite(told);
        EXPECT_EQ(d.swashplate.tilts,
                  std::ranges::find(told.tables[1].parts, "swashplate") != told.tables[1].parts.end());
        EXPECT_THAT(told.notes[0], HasSubstr(d.kind == head::Kind::tail ? "at rudder +0.35;" : "at collective +0.30,"));
    }
    EXPECT_GT(seen_horns, 30U);
}

TEST(EveryLinkage, PlayIsWhatLongerAndShorterLinksDo) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const Sticks sticks = some_sticks(d);
        const auto found = play(head, {.sticks = sticks, .azimuth_deg = 70, .play_mm = {}});
        ASSERT_TRUE(found) << d.name << ": " << found.error().message;
        std::vector<double> worst(d.grips.size(), 0.0);
        for (const Rod& rod : rods_of(d)) {
            const auto number = head::number_at(d, rod.path + ".error_mm");
            ASSERT_TRUE(number) << rod.path;
            constexpr double step = 1e-3;
            const auto more = pitch_with(head, *number, step, sticks, 70);
            const auto less = pitch_with(head, *number, -step, sticks, 70);
            for (std::size_t k = 0; k < worst.size(); ++k)
                worst[k] += 2 * rod.made.play_mm * std::abs(more[k] - less[k]) / (2 * step);
        }
        for (std::size_t k = 0; k < worst.size(); ++k) EXPECT_NEAR(found->worst_deg[k], worst[k], 1e-5) << d.name;
        const auto all = play(head, {.sticks = sticks, .azimuth_deg = {}, .play_mm = {}});
        ASSERT_TRUE(all) << d.name;
        for (std::size_t k = 0; k < worst.size(); ++k) EXPECT_GT(all->worst_deg[k], 0.0) << d.name;
        expect_finite(answer(*all, {}));
    }
}

}  // namespace
}  // namespace swashwright::studies
