// What is said of how near to true the worst values are, held against brute force.
#include "kinematics/studies/envelope/bounding.h"

#include <gtest/gtest.h>

#include <atomic>
#include <cmath>
#include <limits>
#include <memory>
#include <thread>

#include "kinematics/studies/envelope/clearance.h"
#include "kinematics/studies/envelope/reach.h"
#include "tests/support/demo_head.h"
#include "tests/support/worst_by_force.h"

namespace swashwright::studies {
namespace {

double tolerance(const Check& check) {
    return check.kind == CheckKind::dead_point ? 0.001 : 0.01;
}

/// Nothing that brute force finds lies beyond a stated value and its doubt. How many checks are within the tolerance.
std::pair<int, int> hold_against_force(const head::Head& head, bool clearance, const testing::ForceOptions& options) {
    const Checkers checkers = checkers_of(head, clearance);
    EnvelopeOptions sweep;
    sweep.workers = 1;
    const auto found = envelope(head, checkers, sweep);
    if (!found) {
        ADD_FAILURE() << found.error().message;
        return {};
    }
    const auto force = testing::worst_by_force(head, checkers, *found, options);
    std::pair<int, int> sure{0, 0};
    for (std::size_t k = 0; k < force.size(); ++k) {
        const Extreme& worst = found->worst[k];
        if (!std::isfinite(worst.margin)) continue;
        EXPECT_GE(force[k].margin, worst.margin - worst.within - 1e-6)
            << found->checks[k].words << " at collective " << force[k].place.sticks.collective << ", aileron "
            << force[k].place.sticks.aileron << ", elevator " << force[k].place.sticks.elevator << ", azimuth "
            << force[k].place.azimuth_deg;
        ++sure.second;
        if (worst.within <= tolerance(found->checks[k]) * (1 + 1e-9)) ++sure.first;
    }
    return sure;
}

/// Over random heads, on all cores.
std::pair<int, int> hold_all(std::uint64_t heads, bool clearance, const testing::ForceOptions& options) {
    std::atomic<std::uint64_t> next = 1;
    std::atomic<int> sure = 0, all = 0;
    const auto work = [&] {
        for (std::uint64_t seed = next++; seed <= heads; seed = next++) {
            testing::ForceOptions own = options;
            own.seed = seed;
            const auto found = hold_against_force(testing::easy_head(seed), clearance, own);
            sure += found.first, all += found.second;
        }
    };
    std::vector<std::jthread> threads;
    for (unsigned t = 1; t < std::thread::hardware_concurrency(); ++t) threads.emplace_back(work);
    work();
    threads.clear();
    return {sure, all};
}

/// Has slopes, of which nothing can be made.
class Senseless : public Checker {
public:
    Senseless() { checks_.front().low = 0; }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver&) override { return true; }
    double value(std::size_t) override { return 1; }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Senseless>(*this); }
    int pieces(std::size_t) const override { return 1; }
    Piece piece(const Moment&, std::size_t, int) const override {
        return {std::numeric_limits<double>::quiet_NaN(), {}};
    }

private:
    std::vector<Check> checks_ = std::vector<Check>(1);
};

TEST(Bounding, ClaimsNothingOfWhatIsNoNumber) {
    Checkers checkers;
    checkers.push_back(std::make_unique<Senseless>());
    const auto found = envelope(testing::demo_head("two_blade_600.toml"), checkers);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->worst[0].margin, 1);
    EXPECT_EQ(found->worst[0].within, std::numeric_limits<double>::infinity());
}

// 50 random heads, all checks but clearance: brute force with a local search from its worst finds nothing beyond, and
// every value is as near to true as is aimed at.
TEST(Bounding, HoldsAgainstBruteForce) {
    const auto [sure, all] = hold_all(50, false, {.poses = 10000, .from = 10});
    EXPECT_GT(all, 1000);
    EXPECT_GE(sure, all - all / 50);  // near a dead point it takes longer than the study goes on
}

TEST(Bounding, HoldsAgainstBruteForceOfGaps) {
    const auto [sure, all] = hold_all(4, true, {.poses = 6000, .from = 5});
    EXPECT_GT(all, 200);
    EXPECT_GE(sure, all * 9 / 10);
}

// What is told so far is whole and holds: worst values never get better, their doubt is never less than what the end
// takes off, and the map is there from the first.
TEST(Bounding, WhatIsToldSoFarHolds) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    std::vector<Envelope> told;
    EnvelopeOptions options;
    options.so_far = [&](const Envelope& e) { told.push_back(e); };
    const auto last = envelope(head, checkers_of(head, true), options);
    ASSERT_TRUE(last);
    ASSERT_GE(told.size(), 2U);
    for (const Envelope& e : told) {
        ASSERT_EQ(e.worst.size(), last->worst.size());
        ASSERT_EQ(e.open.size(), e.collective.size() * e.cyclic.size());
        for (std::size_t k = 0; k < e.worst.size(); ++k) {
            if (!std::isfinite(e.worst[k].margin) || is_lower_bound(e.checks[k], e.worst[k].value)) continue;
            EXPECT_LE(last->worst[k].margin, e.worst[k].margin + 1e-9) << e.checks[k].key;
            EXPECT_GE(last->worst[k].margin, e.worst[k].margin - e.worst[k].within - 1e-9) << e.checks[k].key;
        }
    }
}

// A servo's travel is proved: the corner is worked out by hand (horn travel is linear in the sticks).
TEST(Bounding, OfAServosTravelIsProved) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    const auto found = envelope(head, checkers_of(head, false));
    ASSERT_TRUE(found);
    int proved = 0;
    for (std::size_t k = 0; k < found->checks.size(); ++k) {
        if (!found->checks[k].key.starts_with("travel.servo[")) continue;
        EXPECT_EQ(found->worst[k].within, 0);
        const auto servo = static_cast<int>(found->checks[k].key.at(13) - '1');
        const auto& gain = head.stick_gains_deg(servo);
        const head::Servo& s = head.description().servos[static_cast<std::size_t>(servo)];
        const double most = std::abs(gain[0]) + std::hypot(gain[1], gain[2]);  // full collective, full cyclic in line
        const double margin = std::min(s.travel_deg[1] - s.trim_deg - most, -most + s.trim_deg - s.travel_deg[0]);
        EXPECT_NEAR(found->worst[k].margin, margin, 1e-9);
        ++proved;
    }
    EXPECT_EQ(proved, 3);
}

// The second question answers as the first, on however many threads.
TEST(Bounding, IsTheSameAgainAndOnAnyNumberOfThreads) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    const Checkers checkers = checkers_of(head, false);
    EnvelopeOptions one, three;
    one.workers = 1, three.workers = 3;
    const auto a = envelope(head, checkers, one), b = envelope(head, checkers, three),
               c = envelope(head, checkers, one);
    ASSERT_TRUE(a && b && c);
    for (std::size_t k = 0; k < a->worst.size(); ++k) {
        EXPECT_EQ(a->worst[k].margin, b->worst[k].margin) << a->checks[k].key;
        EXPECT_EQ(a->worst[k].within, b->worst[k].within) << a->checks[k].key;
        EXPECT_EQ(a->worst[k].margin, c->worst[k].margin) << a->checks[k].key;
    }
}

}  // namespace
}  // namespace swashwright::studies
