// A question that is asked again and again, as by a hand that drags a length: answers keep coming, none is taken for
// what it is not, and nothing of one that was stopped is shown.
#include "viewer/panels/questions/inquiry.h"

#include <gtest/gtest.h>

#include <chrono>
#include <set>
#include <thread>

#include "tests/support/demo_head.h"

namespace swashwright::panels {
namespace {

using Clock = std::chrono::steady_clock;
using namespace std::chrono_literals;

Asked asked_at(double collective) {
    static const head::Head head = testing::demo_head("two_blade_600.toml");
    return {head, {.collective = collective}, {}};
}

Reply saying(const Asked& asked, std::string so_far = {}) {
    Reply out;
    out.answer.text = std::to_string(asked.sticks.collective);
    out.so_far = std::move(so_far);
    return out;
}

/// Sleeps; false where it is stopped meanwhile.
bool works_for(const Asked& asked, Clock::duration time) {
    for (const auto end = Clock::now() + time; Clock::now() < end; std::this_thread::sleep_for(2ms))
        if (asked.stop.stop_requested()) return false;
    return true;
}

/// Says something after a tenth of a second, all after another half.
studies::Outcome heavy(const Asked& asked) {
    const tl::unexpected stopped(studies::NoAnswer{"stopped"});
    if (!works_for(asked, 100ms)) return stopped;
    asked.so_far(saying(asked, "half of it"));
    if (!works_for(asked, 500ms)) return stopped;
    return saying(asked);
}

/// Says something at once, and all soon after.
studies::Outcome quick(const Asked& asked) {
    asked.so_far(saying(asked, "half of it"));
    if (!works_for(asked, 10ms)) return tl::unexpected(studies::NoAnswer{"stopped"});
    return saying(asked);
}

double said(const Inquiry& inquiry) {
    return std::stod((*inquiry.outcome())->answer.text);
}

/// Frames until nothing is at work any more, for ten seconds at most.
void rest(Inquiry& inquiry, const auto& each) {
    for (const auto end = Clock::now() + 10s; inquiry.running() && Clock::now() < end;
         std::this_thread::sleep_for(5ms)) {
        inquiry.poll();
        each();
    }
    ASSERT_FALSE(inquiry.running());
}

/// Says something, and a moment later all.
studies::Outcome at_the_last_moment(const Asked& asked) {
    works_for(asked, 61ms);
    asked.so_far(saying(asked, "nearly all of it"));
    return saying(asked);
}

TEST(Inquiry, NoEndIsLostThatComesWhileWhatWasSaidBeforeIsTaken) {
    Inquiry inquiry;
    for (int round = 1; round <= 40; ++round) {
        inquiry.ask(at_the_last_moment, asked_at(round));
        while (inquiry.running()) inquiry.poll();
        ASSERT_TRUE(inquiry.whole()) << "round " << round;
        ASSERT_EQ(said(inquiry), round);
    }
}

TEST(Inquiry, AnswersKeepComingWhileItIsAskedAnew) {
    Inquiry inquiry;
    double now = 0;
    for (const int round : {1, 2}) {
        const long before = inquiry.answered();
        double last = now;
        for (const auto end = Clock::now() + 1500ms; Clock::now() < end; std::this_thread::sleep_for(10ms)) {
            now += 0.001;
            inquiry.ask(heavy, asked_at(now));
            inquiry.poll();
            if (!inquiry.outcome()) continue;
            ASSERT_TRUE(*inquiry.outcome()) << inquiry.outcome()->error();
            EXPECT_GE(said(inquiry), last - 1e-6) << "an older answer came after a newer one";
            EXPECT_FALSE(inquiry.fresh() && said(inquiry) < now - 1e-9) << "an answer is taken for one of another head";
            EXPECT_FALSE(inquiry.whole());
            last = said(inquiry);
        }
        EXPECT_GE(inquiry.answered() - before, 4) << "in round " << round;  // a dozen where nothing else goes on
        rest(inquiry, [&] { EXPECT_TRUE(*inquiry.outcome()); });
        EXPECT_TRUE(inquiry.whole());
        EXPECT_NEAR(said(inquiry), now, 1e-6);
        EXPECT_TRUE((*inquiry.outcome())->so_far.empty());
    }
}

TEST(Inquiry, OfAQuestionThatIsStoppedNothingIsShown) {
    Inquiry inquiry;
    for (const int round : {1, 2}) {
        inquiry.ask(heavy, asked_at(round));
        std::this_thread::sleep_for(20ms);
        inquiry.cancel();
        const auto asked_to = Clock::now();
        rest(inquiry, [&] { EXPECT_FALSE(inquiry.outcome()); });
        EXPECT_LT(Clock::now() - asked_to, 1s);
        EXPECT_FALSE(inquiry.outcome());
        EXPECT_FALSE(inquiry.fresh());
    }
    // What it had said before stays, as what it is.
    inquiry.ask(heavy, asked_at(0.5));
    while (!inquiry.outcome()) {
        std::this_thread::sleep_for(5ms);
        inquiry.poll();
    }
    inquiry.cancel();
    rest(inquiry, [] {});
    EXPECT_EQ((*inquiry.outcome())->so_far, "half of it");
    EXPECT_TRUE(inquiry.fresh());
    EXPECT_FALSE(inquiry.whole());
    inquiry.ask(quick, asked_at(0.25));
    EXPECT_FALSE(inquiry.fresh());
    rest(inquiry, [] {});
    EXPECT_TRUE(inquiry.whole());
    EXPECT_NEAR(said(inquiry), 0.25, 1e-9);
}

TEST(Inquiry, WhatIsQuickIsNotShownInPartFirst) {
    Inquiry inquiry;
    for (const int round : {1, 2}) {
        inquiry.ask(quick, asked_at(round));
        std::set<std::string> seen;
        for (const auto began = Clock::now(); inquiry.running(); std::this_thread::sleep_for(1ms)) {
            inquiry.poll();
            const bool in_time = Clock::now() - began < 50ms;  // else this machine is too busy to tell
            if (inquiry.fresh() && in_time) seen.insert((*inquiry.outcome())->so_far);
        }
        seen.erase("");
        EXPECT_TRUE(seen.empty());
        EXPECT_TRUE(inquiry.whole());
    }
}

}  // namespace
}  // namespace swashwright::panels
