// What is said of how near to true the worst values are, held against brute force.
#include "kinematics/studies/envelope/bounding.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <limits>
#include <memory>
#include <string>
#include <thread>
#include <utility>
#include <vector>

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

// Of the shapes that the envelope can have, and every kind of linkage.
TEST(Bounding, HoldsAgainstBruteForceWhateverTheHead) {
    std::vector<head::Head> heads;
    for (const char* scene : {"tail_600", "four_servos_700", "hinged_links_450", "rocking_spindle_600",
                              "stabiliser_bar_600", "bellcranks_500", "link_held_450"})
        heads.push_back(testing::demo_head(std::string(scene) + ".toml"));
    // Of random head 11 a ball link's tilt has a crease at a limit of 1.1: 0.06 deg lay beyond what was told.
    for (const int envelope : {1, 2, 3, 4}) heads.push_back(testing::with_envelope(testing::easy_head(11), envelope));
    int all = 0;
    for (const head::Head& head : heads) {
        SCOPED_TRACE(head.description().name);
        all += hold_against_force(head, false, {.poses = 3000, .from = 5}).second;
    }
    EXPECT_GT(all, 250);
}

// A limit of 0 lets nothing but the centred sticks through, one of 1 either stick whole.
TEST(Bounding, TakesEveryCombinedLimit) {
    auto d = testing::demo("two_blade_600.toml");
    for (const double limit : {0.0, 1e-12, 0.5, 1.0, 1.0 + 1e-12, 2.0}) {
        d.mixing.combined_limit = limit;
        const head::Head head = head::Head::build(d).value();
        const auto found = envelope(head, checkers_of(head, false));
        ASSERT_TRUE(found) << limit;
        for (std::size_t k = 0; k < found->worst.size(); ++k) {
            EXPECT_FALSE(std::isnan(found->worst[k].within)) << limit << ": " << found->checks[k].words;
            if (limit == 0) {
                EXPECT_EQ(found->worst[k].place.sticks, head::Sticks{});
            }
        }
    }
}

// Where both sticks share a limit servos go farthest between the sweep's collectives.
TEST(Bounding, FindsWhereLinksNoLongerReachBetweenTheSweepsPlaces) {
    for (const double limit : {0.95, 1.1}) {
        auto d = testing::demo("two_blade_600.toml");
        d.mixing.combined_limit = limit;
        const double corner = std::min(1.0, limit);
        for (double gain = 20; gain < 120; gain *= 1.01) {
            d.mixing.collective_deg = gain, d.mixing.cyclic_deg = 0.6 * gain;
            const head::Head head = head::Head::build(d).value();
            const bool reaches = head.pose({.collective = corner, .elevator = limit - corner}, 0) &&
                                 head.pose({.collective = -corner, .elevator = limit - corner}, 0);
            if (reaches) continue;
            EnvelopeOptions sweep_alone;
            sweep_alone.refine = false;
            const auto seen = envelope(head, checkers_of(head, false), sweep_alone);
            const auto found = envelope(head, checkers_of(head, false));
            ASSERT_TRUE(seen && found);
            EXPECT_FALSE(seen->opens && limit < 1) << "the sweep sees it: this tries nothing";
            ASSERT_TRUE(found->opens) << limit << ", " << gain;
            EXPECT_FALSE(head.pose(found->opens->sticks, found->opens->azimuth_deg));
            EXPECT_FALSE(found->opens_message.empty());
            break;
        }
    }
}

// With a hand the sentence tells of the pose with the hand where it opens.
TEST(Bounding, WhatAHandOpensIsToldOfThatPlace) {
    auto d = testing::demo("rocking_spindle_600.toml");
    const auto lever = std::ranges::find_if(d.levers, [](const head::Lever& l) { return l.by_hand_deg.has_value(); });
    ASSERT_NE(lever, d.levers.end());
    d.mixing.collective_deg = d.mixing.cyclic_deg = 0.1;  // so that the sticks open nothing
    for (double most = 10; most < 180; most += 5) {
        lever->by_hand_deg = std::array{-most, most};
        const head::Head head = head::Head::build(d).value();
        const auto found = reach(head, {.clearance = false});
        ASSERT_TRUE(found) << found.error().message;
        if (!found->envelope.opens) continue;
        EXPECT_FALSE(found->envelope.opens_message.empty());
        EXPECT_EQ(answer(*found).text.find("reach: ."), std::string::npos) << answer(*found).text;
        return;
    }
    FAIL() << "opens nowhere";
}

/// One check, seen here and known so closely.
Reach told_of(double margin, double within) {
    Reach out;
    out.sought = true;
    Check& check = out.envelope.checks.emplace_back();
    check.words = check.label = "tilt of a link";
    check.parts = {"upper_link[1]"};
    check.low = 0;
    check.close = 2;
    out.envelope.worst = {{margin, margin, {}, within}};
    return out;
}

TEST(Bounding, WhatIsKnownTooLooselyIsNotCalledKept) {
    const Answer sure = answer(told_of(0.3, 0.01)), unsure = answer(told_of(0.3, 0.4)),
                 not_known = answer(told_of(0.3, std::numeric_limits<double>::infinity()));
    EXPECT_NE(sure.text.find("All 1 checks are kept"), std::string::npos) << sure.text;
    EXPECT_EQ(sure.tone, Tone::calm);
    for (const Answer* told : {&unsure, &not_known}) {
        EXPECT_EQ(told->text.find("kept"), std::string::npos) << told->text;
        EXPECT_NE(told->text.find("known too loosely"), std::string::npos) << told->text;
        EXPECT_EQ(told->tone, Tone::notice);
        EXPECT_EQ(std::get<std::string>(told->tables.front().rows[0][1]), "may fail");
    }
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
