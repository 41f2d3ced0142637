// Who waits for an answer gets a first one soon and better ones after it, sees how far it is, and can have it stopped.
// Times are the process' own, so that a loaded machine does not count; the limits are several times what is aimed at.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <mutex>
#include <set>
#include <stop_token>
#include <thread>
#include <utility>
#include <vector>

#include "kinematics/studies/questions/question.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

#if defined(SWASHWRIGHT_SANITIZED)
constexpr double patience = 30;
#else
constexpr double patience = 1;
#endif
constexpr double first_seconds = 0.5 * patience;  // aimed at: 0.1
constexpr double stop_seconds = 0.2 * patience;   // aimed at: 0.05
constexpr double heavy_seconds = 0.5;             // what takes longer must say how far it is

double process_seconds() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

std::vector<std::string> scenes() {
    std::vector<std::string> out;
    for (const char* folder : {SWASHWRIGHT_SCENES, SWASHWRIGHT_TEST_DATA "/linkages"})
        for (const auto& entry : std::filesystem::directory_iterator(folder))
            if (entry.path().extension() == ".toml") out.push_back(entry.path().string());
    std::ranges::sort(out);
    return out;
}

/// Readings of the head with one upper link 0.3 mm too long, as a gauge shows them: several blades, sticks, azimuths.
Readings read_of(const head::Description& described) {
    head::Description built = described;
    if (built.upper_links.size() > 1) built.upper_links[1].length_mm += 0.3;
    const auto head = head::Head::build(built);
    Readings out;
    for (int blade = 0; blade < described.rotor.blades; ++blade)
        for (const double azimuth : {0.0, 90.0})
            for (const double stick : {-0.5, 0.0, 0.5}) {
                PitchReading one{.blade = blade, .sticks = {.collective = stick}, .azimuth_deg = azimuth};
                if (described.kind == head::Kind::tail) one.sticks = {.rudder = stick};
                const auto pose = head->pose(one.sticks, azimuth);
                if (!pose) continue;
                one.reading_deg = std::round(10 * pose->pitch_deg[static_cast<std::size_t>(blade)]) / 10;
                out.pitch.push_back(one);
            }
    return out;
}

/// A study at work in a thread, as the window has it.
class AtWork {
public:
    AtWork(const Question& question, Asked asked) : began_(process_seconds()) {
        asked.percent = &percent;
        asked.stop = stop_.get_token();
        asked.so_far = [this](Reply reply) {
            const std::lock_guard lock(telling_);
            if (looks_.empty()) first_at_ = process_seconds() - began_;
            looks_.push_back(std::move(reply));
        };
        thread_ = std::jthread([this, run = question.run, asked = std::move(asked)] {
            outcome_ = run(asked);
            done_ = true;
        });
    }

    bool done() const { return done_; }
    double so_long() const { return process_seconds() - began_; }
    std::vector<Reply> looks() const {
        const std::lock_guard lock(telling_);
        return looks_;
    }
    /// When the first answer came.
    double first_at() const {
        const std::lock_guard lock(telling_);
        return first_at_;
    }
    /// How long it goes on after it was asked to stop.
    double stop() {
        const double asked_at = process_seconds();
        stop_.request_stop();
        thread_.join();
        return process_seconds() - asked_at;
    }
    const Outcome& outcome() const { return outcome_; }  // once it is done

    std::atomic<int> percent = 0;

private:
    double began_;
    std::stop_source stop_;
    mutable std::mutex telling_;
    std::vector<Reply> looks_;
    double first_at_ = 0;
    Outcome outcome_;
    std::atomic<bool> done_ = false;
    std::jthread thread_;
};

/// The work is told to be less far than it was told before.
bool falls(const std::atomic<int>& percent, int& last) {
    const int before = std::exchange(last, percent.load());
    return last < before;
}

/// Lets it go on until it has given an answer and has told twice how far it is, or for so long that it should have.
std::set<int> watch(const AtWork& work) {
    std::set<int> told;
    while (!work.done() && work.so_long() < 8 * heavy_seconds * patience && (work.looks().empty() || told.size() < 2)) {
        if (const int now = work.percent; now > 0) told.insert(now);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    return told;
}

class Going : public ::testing::TestWithParam<std::string> {};

TEST_P(Going, EveryQuestionGivesAFirstAnswerSoonSaysHowFarItIsAndStopsAtOnce) {
    const head::Description described = testing::loaded(GetParam());
    const head::Head head = head::Head::build(described).value();
    const Readings readings = read_of(described);
    for (const Question& question : all_questions())
        for (const Card& card : question.cards) {
            SCOPED_TRACE(card.key);
            AtWork work(question, {head, {}, question.start(card), readings});
            const std::set<int> told = watch(work);
            const bool ended = work.done();
            const double took = work.so_long(), going_on = work.stop();
            const auto looks = work.looks();
            EXPECT_TRUE(looks.empty() || question.takes_long);
            EXPECT_LT(looks.empty() ? took : work.first_at(), first_seconds);
            EXPECT_LT(going_on, stop_seconds);
            if (!ended || took > heavy_seconds * patience) {
                EXPECT_GE(told.size(), 2U) << "does not say how far it is";
            }
            for (const Reply& look : looks) {
                EXPECT_FALSE(look.so_far.empty());
                EXPECT_THAT(look.answer.text, StartsWith("So far, from " + look.so_far + ": "));
                EXPECT_EQ(look.answer.study, question.verb);
            }
            if (work.outcome()) {
                EXPECT_TRUE(work.outcome()->so_far.empty());
            }
        }
}

// Also after the first answers, where the long part of the work is.
TEST_P(Going, WhatIsLongStopsAtOnceWhereverItIs) {
    const head::Description described = testing::loaded(GetParam());
    const head::Head head = head::Head::build(described).value();
    for (const char* verb : {"tolerance", "fight", "reach"}) {
        const Question& question = *std::ranges::find(all_questions(), verb, &Question::verb);
        for (const int wanted : {20, 70}) {
            SCOPED_TRACE(std::string(verb) + " at " + std::to_string(wanted));
            AtWork work(question, {head, {}, question.start(question.cards.front())});
            while (!work.done() && work.percent < wanted && work.so_long() < 1.5 * patience)
                std::this_thread::sleep_for(std::chrono::milliseconds(1));
            EXPECT_LT(work.stop(), stop_seconds);
        }
    }
}

std::string name_of(const ::testing::TestParamInfo<std::string>& scene) {
    const std::string name = std::filesystem::path(scene.param).stem().string();
    return scene.param.find("linkages") != std::string::npos ? name + "_of_tests" : name;
}
INSTANTIATE_TEST_SUITE_P(Scenes, Going, ::testing::ValuesIn(scenes()), name_of);

// Stages whose shares overlap, and threads of which one is behind.
TEST(Percent, DoesNotStepBackWhoeverTells) {
    std::atomic<int> percent = 0;
    const studies::Going whole{{}, &percent};
    whole.tell(0.6);
    whole.tell(0.4);
    EXPECT_EQ(percent, 60);
    whole.part(0.5, 1).tell(0);
    EXPECT_EQ(percent, 60);
    whole.part(0.5, 1).tell(0.5);
    EXPECT_EQ(percent, 75);

    percent = 0;
    std::atomic<int> at_work = 4;
    std::vector<std::jthread> tellers;
    for (int t = 0; t < 4; ++t)
        tellers.emplace_back([&, t] {
            for (int step = 0; step <= 100'000; ++step) whole.part(0.1 * t, 0.7 + 0.1 * t).tell(1e-5 * step);
            --at_work;
        });
    int last = 0, fallen = 0;
    while (at_work > 0) fallen += falls(percent, last) ? 1 : 0;
    EXPECT_EQ(fallen, 0);
    EXPECT_EQ(percent, 100);
}

TEST(Percent, OfNoQuestionStepsBack) {
    for (const char* scene : {"two_blade_600.toml", "four_servos_700.toml"}) {
        const head::Head head = testing::demo_head(scene);
        const Readings readings = read_of(head.description());
        for (const Question& question : all_questions())
            for (const Card& card : question.cards) {
                SCOPED_TRACE(scene + (": " + card.key));
                Asked asked{head, {}, question.start(card), readings};
                if (question.verb == "reach") asked.values.set("clearance", false);
                const AtWork work(question, std::move(asked));
                for (int last = 0; !work.done();) ASSERT_FALSE(falls(work.percent, last)) << "to " << last << " %";
            }
    }
}

TEST(SoFar, TheLastAnswerIsTheOneWithoutAnybodyWaiting) {
    const head::Head head = testing::demo_head("four_servos_700.toml");
    for (const char* verb : {"tolerance", "fight", "diagnose", "reach"}) {
        SCOPED_TRACE(verb);
        const Question& question = *std::ranges::find(all_questions(), verb, &Question::verb);
        Asked asked{head, {}, question.start(question.cards.front()), read_of(head.description())};
        if (verb == std::string("reach")) asked.values.set("clearance", false);
        if (verb == std::string("tolerance")) asked.values.set("samples", std::int64_t{400});
        const Outcome alone = question.run(asked);
        int looks = 0;
        std::atomic<int> percent = 0;
        asked.percent = &percent;
        asked.so_far = [&](const Reply&) { ++looks; };
        const Outcome waited_for = question.run(asked);
        ASSERT_TRUE(alone && waited_for);
        EXPECT_GE(looks, 1);
        EXPECT_EQ(as_text(alone->answer), as_text(waited_for->answer));
        EXPECT_EQ(as_csv(alone->answer), as_csv(waited_for->answer));
        EXPECT_THAT(waited_for->answer.text, Not(HasSubstr("So far")));
        EXPECT_TRUE(waited_for->so_far.empty());
    }
}

// What is drawn first is part of what is drawn in the end, so the figures move towards the last ones.
TEST(SoFar, AFirstLookAtTolerancesIsNearTheWhole) {
    const Question& question = *std::ranges::find(all_questions(), "tolerance", &Question::verb);
    Asked asked{testing::demo_head("two_blade_600.toml"), {}, question.start(question.cards.front())};
    asked.values.set("samples", std::int64_t{4000});
    std::vector<double> within;  // 95 of 100 heads
    const auto split = [](const Answer& answer) { return std::get<double>(answer.tables[0].rows.back().back()); };
    asked.so_far = [&](const Reply& look) { within.push_back(split(look.answer)); };
    const Outcome whole = question.run(asked);
    ASSERT_TRUE(whole);
    ASSERT_EQ(within.size(), 2U);
    EXPECT_NEAR(within[0], split(whole->answer), 0.3 * split(whole->answer));
    EXPECT_NEAR(within[1], split(whole->answer), 0.08 * split(whole->answer));
}

}  // namespace
}  // namespace swashwright::studies
