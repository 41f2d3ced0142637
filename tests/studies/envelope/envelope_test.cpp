#include "kinematics/studies/envelope/envelope.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <thread>

#include "kinematics/studies/envelope/probe.h"
#include "kinematics/studies/envelope/reach.h"
#include "tests/support/demo_head.h"
#include "tests/support/worst_by_force.h"

namespace swashwright::studies {
namespace {

using testing::easy_head;

/// Pitch of blade 1 and tilt of the ring against bounds of the test's own.
class Readings : public Checker {
public:
    Readings(double most_pitch_deg, double most_tilt_deg) {
        checks_.push_back(
            {CheckKind::travel, "pitch", "blade 1's pitch", "pitch", "deg", {"grip[1]"}, -90, most_pitch_deg, 1});
        checks_.push_back(
            {CheckKind::travel, "tilt", "the ring's tilt", "tilt", "deg", {"swashplate"}, -90, most_tilt_deg, 1});
    }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver& solver) override {
        pitch_ = solver.pitch_deg(0);
        const Vec3 n = solver.ring_normal();
        tilt_ = std::atan2(std::hypot(n.x(), n.y()), n.z()) / degree;
        return true;
    }
    double value(std::size_t i) override { return i == 0 ? pitch_ : tilt_; }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Readings>(*this); }

private:
    std::vector<Check> checks_;
    double pitch_ = 0, tilt_ = 0;
};

Checkers readings(double most_pitch_deg, double most_tilt_deg) {
    Checkers out;
    out.push_back(std::make_unique<Readings>(most_pitch_deg, most_tilt_deg));
    return out;
}

/// Least margins over a plain sweep, no refinement.
std::vector<double> brute(const head::Head& head, const Checkers& checkers, int collectives, int cyclics,
                          int directions, int azimuths) {
    Probe probe(head, checkers);
    std::vector<double> least(probe.size(), std::numeric_limits<double>::infinity());
    for (int c = 0; c <= collectives; ++c)
        for (int r = 0; r <= cyclics; ++r)
            for (int d = 0; d < directions; ++d)
                for (int a = 0; a < azimuths; ++a) {
                    const double way = 2 * pi * d / directions, far = static_cast<double>(r) / cyclics;
                    if (!probe.go({{2.0 * c / collectives - 1, far * std::sin(way), far * std::cos(way)},
                                   360.0 * a / azimuths}))
                        continue;
                    for (std::size_t k = 0; k < probe.size(); ++k)
                        if (const auto value = probe.value(k))
                            least[k] = std::min(least[k], probe.check(k).margin(*value));
                }
    return least;
}

// No place of a sweep with ten times as many poses (the default one) lies farther out than the extreme refined from a
// coarse one. Allowed: 0.05 deg or 0.02 mm, what a builder could not read.
TEST(Envelope, RefinedExtremesStandAgainstASweepTenTimesFiner) {
    constexpr std::uint64_t heads = 50;
    std::atomic<std::uint64_t> next = 1;
    const auto work = [&] {
        for (std::uint64_t seed = next++; seed <= heads; seed = next++) {
            const head::Head head = easy_head(seed);
            const Checkers checkers = checkers_of(head, false);
            EnvelopeOptions options;
            options.workers = 1;
            options.collective_steps = 6;
            options.cyclic_steps = 2;
            options.directions = 12;
            options.azimuths = 18;
            const auto found = envelope(head, checkers, options);
            ASSERT_TRUE(found) << seed;
            const auto least = brute(head, checkers, 10, 4, 24, 36);
            for (std::size_t k = 0; k < least.size(); ++k) {
                const double allowed = found->checks[k].unit == "deg" ? 0.05 : 0.02;
                EXPECT_LE(found->worst[k].margin, least[k] + allowed)
                    << "head " << seed << ", " << found->checks[k].words;
            }
        }
    };
    std::vector<std::jthread> threads;
    for (unsigned t = 1; t < std::thread::hardware_concurrency(); ++t) threads.emplace_back(work);
    work();
}

/// Least margins over a plain grid of aileron and elevator, corners and all.
std::vector<double> brute_square(const head::Head& head, const Checkers& checkers) {
    Probe probe(head, checkers);
    std::vector<double> least(probe.size(), std::numeric_limits<double>::infinity());
    for (const double c : {-1.0, -0.5, 0.0, 0.5, 1.0})
        for (int right = -4; right <= 4; ++right)
            for (int ahead = -4; ahead <= 4; ++ahead)
                for (int a = 0; a < 36; ++a) {
                    if (!probe.go({{c, right / 4.0, ahead / 4.0}, 10.0 * a})) continue;
                    for (std::size_t k = 0; k < probe.size(); ++k)
                        if (const auto value = probe.value(k))
                            least[k] = std::min(least[k], probe.check(k).margin(*value));
                }
    return least;
}

// In a square too no place of a plain grid lies farther out than what was found; tolerances as above.
TEST(Envelope, ExtremesOfASquareStandAgainstAGrid) {
    int closing = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        auto description = easy_head(seed).description();
        description.mixing.cyclic_stick = head::CyclicStick::square;
        const head::Head head = *head::Head::build(description);
        const Checkers checkers = checkers_of(head, false);
        EnvelopeOptions options;
        options.collective_steps = 6;
        options.cyclic_steps = 2;
        options.directions = 12;  // taken as 16, so that the corners are among them
        options.azimuths = 18;
        const auto found = envelope(head, checkers, options);
        ASSERT_TRUE(found) << seed;
        if (found->opens) continue;
        ++closing;
        const auto least = brute_square(head, checkers);
        for (std::size_t k = 0; k < least.size(); ++k) {
            const double allowed = found->checks[k].unit == "deg" ? 0.05 : 0.02;
            EXPECT_LE(found->worst[k].margin, least[k] + allowed) << "head " << seed << ", " << found->checks[k].words;
        }
    }
    EXPECT_GE(closing, 6);
}

// What is told is what stands there: every extreme's value comes again at its place, from a fresh start.
TEST(Envelope, ExtremesCanBeVisited) {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        const head::Head head = easy_head(seed);
        const Checkers checkers = readings(5, 3);
        const auto found = envelope(head, checkers);
        ASSERT_TRUE(found);
        Probe probe(head, checkers);
        for (std::size_t k = 0; k < found->worst.size(); ++k) {
            probe.reset();
            ASSERT_TRUE(probe.go(found->worst[k].place));
            EXPECT_NEAR(*probe.value(k), found->worst[k].value, 1e-8);  // both within the solver's own residual
        }
    }
}

// At the largest disc the bound is just met: inside nothing fails, a little beyond something does.
TEST(Envelope, LargestDiscEndsWhereTheBoundIsMet) {
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
        const head::Head head = easy_head(seed);
        head::Solver solver(head);
        const auto tilt_at = [&](double elevator) {
            EXPECT_TRUE(solver.pose({0, 0, elevator}, 0));
            const Vec3 n = solver.ring_normal();
            return std::atan2(std::hypot(n.x(), n.y()), n.z()) / degree;
        };
        const double half = (tilt_at(0) + tilt_at(1)) / 2;  // links that misfit tilt the ring a little at centre too
        if (tilt_at(1) < tilt_at(0) + 1) continue;
        const auto found = envelope(head, readings(90, half));
        ASSERT_TRUE(found);
        const Disc& disc = found->discs[found->discs.size() / 2];
        ASSERT_TRUE(disc.cyclic) << seed;
        ASSERT_TRUE(disc.check) << seed;
        EXPECT_EQ(found->checks[*disc.check].key, "tilt");
        const auto most_tilt_at = [&](double far) {
            double most = 0;
            for (int d = 0; d < 360; ++d) {
                if (!solver.pose({0, far * std::sin(d * degree), far * std::cos(d * degree)}, 0)) continue;
                const Vec3 m = solver.ring_normal();
                most = std::max(most, std::atan2(std::hypot(m.x(), m.y()), m.z()) / degree);
            }
            return most;
        };
        // The disc is found to 0.001 of the stick; a sweep each degree misses no more than 1e-4 of the tilt.
        EXPECT_LE(most_tilt_at(*disc.cyclic), half + 1e-6) << seed;
        EXPECT_GE(most_tilt_at(*disc.cyclic + 0.002), half - 1e-4) << seed;
    }
}

TEST(Envelope, IsTheSameForAnyNumberOfWorkers) {
    const head::Head head = easy_head(7);
    const Checkers checkers = readings(6, 4);
    EnvelopeOptions one, three;
    one.workers = 1;
    three.workers = 3;
    const auto a = envelope(head, checkers, one), b = envelope(head, checkers, three);
    ASSERT_TRUE(a && b);
    for (std::size_t k = 0; k < a->worst.size(); ++k) EXPECT_NEAR(a->worst[k].margin, b->worst[k].margin, 1e-9);
    for (std::size_t i = 0; i < a->discs.size(); ++i) EXPECT_EQ(a->discs[i].cyclic, b->discs[i].cyclic);
}

// |collective| + cyclic held to 1.2: no place beyond, and at full collective the disc ends at 0.2.
TEST(Envelope, KeepsTheCombinedSticksLimit) {
    auto description = easy_head(3).description();
    description.mixing.combined_limit = 1.2;
    const head::Head head = *head::Head::build(description);
    const auto found = envelope(head, readings(90, 90));
    ASSERT_TRUE(found);
    for (const auto& cells : found->cells)
        for (const Extreme& cell : cells)
            EXPECT_LE(std::abs(cell.place.sticks.collective) +
                          std::hypot(cell.place.sticks.aileron, cell.place.sticks.elevator),
                      1.2 + 1e-12);
    EXPECT_NEAR(*found->discs.front().cyclic, 0.2, 1e-12);
    EXPECT_NEAR(*found->discs[found->discs.size() / 2].cyclic, 1.0, 1e-12);
}

// Work counted in poses. Where parts are alike to a hair, margins hardly change along whole valleys of the envelope,
// and a search that takes every gain creeps through them: fifteen times the poses.
TEST(Envelope, TakesNoMorePosesWhereAHeadIsNearlySymmetric) {
    const auto poses = [](double off_deg) {
        head::Description d = testing::demo("three_blade_700.toml");
        d.swashplate.inner_balls[0].angle_deg += off_deg;
        return static_cast<double>(reach(*head::Head::build(d))->envelope.poses);
    };
    const double most = 1.2 * std::max(poses(0), poses(5));
    for (const double off_deg : {0.2, 1.0}) EXPECT_LE(poses(off_deg), most) << off_deg;
}

TEST(Envelope, StopsWhenAsked) {
    std::stop_source source;
    source.request_stop();
    EnvelopeOptions options;
    options.stop = source.get_token();
    const auto found = envelope(easy_head(1), readings(1, 1), options);
    ASSERT_FALSE(found);
    EXPECT_EQ(found.error().message, "stopped");
}

}  // namespace
}  // namespace swashwright::studies
