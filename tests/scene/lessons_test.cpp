// Every lesson in scenes/lessons against the solver: what its text says is so, and what it asks for can be done.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <regex>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "kinematics/bench_files/lesson.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/joints/stiff.h"

namespace swashwright::scene {
namespace {

using ::testing::HasSubstr;

struct Read {
    std::string name;
    Lesson lesson;
};

const std::vector<Read>& all_lessons() {
    static const std::vector<Read> lessons = [] {
        std::vector<std::string> paths;
        for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_SCENES "/lessons"))
            if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
        std::ranges::sort(paths);
        std::vector<Read> out;
        for (const std::string& path : paths) {
            auto lesson = load_lesson(path);
            EXPECT_TRUE(lesson) << lesson.error().text();
            if (lesson) out.push_back({std::filesystem::path(path).filename().string(), std::move(*lesson)});
        }
        return out;
    }();
    return lessons;
}

/// Calls `look` with every step and words that say which it is.
void each_step(const std::function<void(const Lesson&, const Step&)>& look) {
    for (const auto& [name, lesson] : all_lessons())
        for (std::size_t i = 0; i < lesson.steps.size(); ++i) {
            SCOPED_TRACE(fmt::format("{}, step {}", name, i + 1));
            look(lesson, lesson.steps[i]);
        }
}

head::Head head_for(const Lesson& lesson, const Step& step, const std::vector<Setting>& more = {}) {
    auto head = head::Head::build(head_of(lesson, step, more));
    EXPECT_TRUE(head) << head.error().message;
    return *head;
}

/// Everything that the step says.
std::string words_of(const Step& step) {
    std::string out = step.text;
    if (step.choice) {
        out += "\n" + step.choice->question + "\n" + step.choice->because;
        for (const std::string& answer : step.choice->answers) out += "\n" + answer;
    }
    if (step.task) out += "\n" + step.task->words + "\n" + step.task->done;
    return out;
}

TEST(Lessons, AreAtLeastTenReadWithoutMistakes) {
    EXPECT_GE(all_lessons().size(), 10U);
    std::set<int> orders;
    std::set<std::string> titles;
    for (const auto& [name, lesson] : all_lessons()) {
        EXPECT_TRUE(orders.insert(lesson.order).second) << name << ": another lesson has this order";
        EXPECT_TRUE(titles.insert(lesson.title).second) << name << ": another lesson has this title";
    }
}

TEST(Lessons, StandOnHeadsThatAreSaidToBeInvented) {
    for (const auto& [name, lesson] : all_lessons()) EXPECT_THAT(lesson.scene.note, HasSubstr("nvented")) << name;
}

TEST(Lessons, AskSomethingEach) {
    for (const auto& [name, lesson] : all_lessons())
        EXPECT_TRUE(std::ranges::any_of(lesson.steps, [](const Step& s) { return s.choice || s.task; })) << name;
}

TEST(Lessons, AreShort) {
    each_step([](const Lesson&, const Step& step) {
        EXPECT_LE(step.text.size(), 520U);  // what can be read at a glance beside the picture at text scale 1.5
        EXPECT_EQ(step.text.find('!'), std::string::npos);
    });
}

TEST(Lessons, SayWhatTheSolverSays) {
    each_step([](const Lesson& lesson, const Step& step) {
        for (const Claim& claim : step.claims) {
            EXPECT_THAT(words_of(step), HasSubstr(claim.says));
            const auto value = studies::live_value(head_for(lesson, step, claim.set), claim.at.sticks,
                                                   claim.at.azimuth_deg, claim.goal.value);
            ASSERT_TRUE(value) << claim.says << ": " << value.error();
            EXPECT_NEAR(*value, claim.goal.wanted, claim.goal.within) << claim.says << ", " << claim.goal.value;
        }
    });
}

/// A number with a unit is a statement: it needs a claim, or a test below.
TEST(Lessons, NameNoNumberOfTheHeadWithoutAClaim) {
    // Not of this head, or in a test of its own here.
    const std::set<std::string> elsewhere{
        "40 deg",    "1 N mm",   "15 N mm", "100 N mm", "1 deg",   "19.9 N mm", "0.16 deg", "0.04 deg", "0.07 mm",
        "60 deg",    "90 deg",   "10 deg",  "5 deg",    "7.5 deg", "15 deg",    "0.20 mm",  "0.5 mm",   "0.6 mm",
        "0.8 mm",    "1 mm",     "26 mm",   "9 mm",     "6 mm",    "2 mm",      "1.4 mm",   "1.2 mm",   "6 deg",
        "+11.5 deg", "22.9 deg", "4 mm",    "20 mm",    "0.3 deg", "0.5 deg",   "10 mm",    "20 deg"};
    each_step([&](const Lesson&, const Step& step) {
        const std::string words = words_of(step);
        for (const char* unit : {" deg", " mm", " N mm"})
            for (std::size_t at = words.find(unit); at != std::string::npos; at = words.find(unit, at + 1)) {
                std::size_t from = at;
                while (from > 0 && (std::isdigit(static_cast<unsigned char>(words[from - 1])) ||
                                    words[from - 1] == '.' || words[from - 1] == '+' || words[from - 1] == '-'))
                    --from;
                const std::string said = words.substr(from, at - from) + unit;
                if (from == at || elsewhere.contains(said)) continue;
                EXPECT_TRUE(std::ranges::any_of(step.claims, [&](const Claim& c) {
                    return c.says.find(said) != std::string::npos;
                })) << said;
            }
    });
}

/// What is not worked out on the head and put before the solver, or before the learner, is a fact of the trade or of a
/// book: the step says whose. So is advice, even beside numbers.
TEST(Lessons, SayWhereAFactOfTheTradeComesFrom) {
    const std::regex advice(R"(\b(bench|motor|never|usual\w*|gauge|crash|replaced|thread lock|rule of|on most)\b)",
                            std::regex::icase);
    std::size_t with = 0;
    each_step([&](const Lesson&, const Step& step) {
        if ((step.claims.empty() && !step.task) || std::regex_search(step.text, advice)) {
            EXPECT_NE(step.source, "") << step.text;
            ++with;
        }
        if (step.source.empty()) return;
        EXPECT_TRUE(step.source.ends_with('.')) << step.source;
        EXPECT_LE(step.source.size(), 200U) << step.source;
    });
    EXPECT_GT(with, 40U);
}

TEST(Lessons, NeverLeaveTheMotorOrTheBladesToChoice) {
    each_step([](const Lesson&, const Step& step) {
        for (const char* words : {"motor disconnected, or", "motor disconnected or", "disconnected, or main"})
            EXPECT_EQ(step.text.find(words), std::string::npos) << step.text;
    });
}

TEST(Lessons, TasksAreOpenAtTheStartAndCanBeDone) {
    each_step([](const Lesson& lesson, const Step& step) {
        if (!step.task) return;
        const Task& task = *step.task;
        EXPECT_FALSE(studies::met(head_for(lesson, step), step.stance.sticks, step.stance.azimuth_deg, task.goals));
        const Stance there = stance_of(task, step.stance);
        std::vector<Setting> numbers;
        for (const Setting& setting : task.way)
            if (std::ranges::count(task.change, setting.number)) numbers.push_back(setting);
        EXPECT_TRUE(task.change.empty() || numbers.size() == task.way.size()) << "the way sets what may not be set";
        EXPECT_TRUE(studies::met(head_for(lesson, step, numbers), there.sticks, there.azimuth_deg, task.goals));
    });
}

/// With the buttons alone: from where it stands, link by link, in the steps that a hand can make.
TEST(Lessons, TasksOnLinksAreMetByWholeSteps) {
    each_step([](const Lesson& lesson, const Step& step) {
        if (!step.task) return;
        std::vector<Setting> stepped;
        for (const Setting& way : step.task->way) {
            const head::Description head = head_of(lesson, step);
            for (const head::Number& number : head::numbers(head)) {
                const head::Link* link = number.path == way.number ? head::link_of(head, number) : nullptr;
                if (!link) continue;
                const double by = studies::link_step(*link).mm;
                stepped.push_back({way.number, link->length_mm + by * std::round((way.to - link->length_mm) / by)});
            }
        }
        if (stepped.empty()) return;
        EXPECT_TRUE(studies::met(head_for(lesson, step, stepped), step.stance.sticks, step.stance.azimuth_deg,
                                 step.task->goals));
    });
}

TEST(Lessons, EveryMotionCloses) {
    each_step([](const Lesson& lesson, const Step& step) {
        if (step.text.find("cannot close") != std::string::npos) return;
        const head::Head head = head_for(lesson, step);
        const Stance to = step.to.value_or(step.stance);
        for (int i = 0; i <= 20; ++i) {
            const double t = i / 20.0;
            const auto mix = [t](double a, double b) { return a + t * (b - a); };
            const head::Sticks &a = step.stance.sticks, &b = to.sticks;
            const double azimuth = step.rotor_rpm > 0 ? 18.0 * i : mix(step.stance.azimuth_deg, to.azimuth_deg);
            EXPECT_TRUE(head.pose({mix(a.collective, b.collective), mix(a.aileron, b.aileron),
                                   mix(a.elevator, b.elevator), mix(a.rudder, b.rudder)},
                                  azimuth));
        }
    });
}

const Lesson& lesson_on(const char* scene, int order) {
    for (const auto& [name, lesson] : all_lessons())
        if (lesson.order == order && lesson.scene_file.find(scene) != std::string::npos) return lesson;
    throw std::runtime_error(scene);
}

TEST(Lessons, ADeadPointOpensWhereTheLessonSays) {
    const Lesson& lesson = lesson_on("locks_at_full_stick", 10);
    const Step& step = lesson.steps.back();
    EXPECT_THAT(step.text, HasSubstr("upper link 1 is 0.07 mm too short"));
    const auto pose = head_for(lesson, step).pose(step.stance.sticks, step.stance.azimuth_deg);
    ASSERT_FALSE(pose);
    ASSERT_FALSE(pose.error().shortfalls.empty());
    EXPECT_EQ(pose.error().shortfalls[0].part, (head::PartName{head::Role::upper_link, 0}));
    EXPECT_NEAR(pose.error().shortfalls[0].missing_mm, 0.07, 0.005);
    EXPECT_THAT(lesson.steps.front().text, HasSubstr("26 mm"));  // the arm of the head that does not lock
    EXPECT_EQ(load(SWASHWRIGHT_SCENES "/two_blade_600.toml")->head.grips[0].pitch_arm.lead_mm, 26);
}

TEST(Lessons, AStiffLinkCostsWhatTheLessonSays) {
    const Lesson& lesson = lesson_on("two_blade_600", 11);
    EXPECT_THAT(lesson.steps[1].text, HasSubstr("0.04 deg"));
    EXPECT_THAT(lesson.steps[2].text, HasSubstr("19.9 N mm, four times as much"));
    EXPECT_THAT(lesson.steps[2].text, HasSubstr("0.16 deg"));
    const head::Head head = head_for(lesson, lesson.steps[1]);
    studies::FrictionOptions options;
    EXPECT_EQ(options.servo_nmm_per_deg, 100);
    EXPECT_EQ(options.ball_nmm, 1);
    const auto even = studies::friction(head, options);
    options.odd = {{"upper_link[2]", studies::friction_levels[3].nmm}};
    EXPECT_EQ(options.odd[0].nmm, 15);
    const auto stiff = studies::friction(head, options);
    ASSERT_TRUE(even && stiff);
    EXPECT_NEAR(*std::ranges::max_element(even->off_deg), 0.04, 0.005);
    EXPECT_NEAR(stiff->horns[0].nmm, 19.9, 0.05);
    EXPECT_NEAR(stiff->horns[0].nmm / even->horns[0].nmm, 4, 0.5);
    EXPECT_NEAR(*std::ranges::max_element(stiff->off_deg), 0.16, 0.005);
}

/// Link steps that texts speak of: "half a turn of one end makes 0.25 mm".
TEST(Lessons, HalfATurnMakesWhatTheLessonsSay) {
    EXPECT_THAT(lesson_on("three_blade_700", 6).steps[3].text, HasSubstr("0.20 mm"));
    EXPECT_NEAR(studies::half_turn_mm(lesson_on("three_blade_700", 6).scene.head.lower_links[1]), 0.20, 1e-9);
    EXPECT_THAT(lesson_on("two_blade_600", 7).steps[2].text, HasSubstr("0.20 mm"));
    EXPECT_NEAR(studies::half_turn_mm(lesson_on("two_blade_600", 7).scene.head.upper_links[0]), 0.20, 1e-9);
}

/// A floating lever's middle pivot goes where the law of the lever sends it (by hand): arms of 9 and 6 mm.
TEST(Lessons, TheMixingLeverSharesAsTheLawOfTheLeverHasIt) {
    const Lesson& lesson = lesson_on("stabiliser_bar_600", 12);
    EXPECT_THAT(lesson.steps[4].text, HasSubstr("= 1.4 mm"));
    EXPECT_DOUBLE_EQ((6.0 * 2 + 9.0 * 1) / 15, 1.4);
    EXPECT_EQ(lesson.steps[6].choice->answers[lesson.steps[6].choice->right], "0.8 mm");
    EXPECT_DOUBLE_EQ(6.0 * 2 / 15, 0.8);
}

/// Pitch per flap is (place of the ball - place of the hinge) / arm, the tangent of delta-3.
TEST(Lessons, Delta3IsWhatTheLessonSays) {
    const Lesson& lesson = lesson_on("rocking_spindle_600", 16);
    EXPECT_THAT(lesson.steps[2].text, HasSubstr("11 / 26 = 0.42 deg"));
    EXPECT_THAT(lesson.steps[2].text, HasSubstr("22.9 deg"));
    EXPECT_NEAR(std::atan(11.0 / 26) / degree, 22.9, 0.05);
    EXPECT_EQ(lesson.steps.back().choice->answers[lesson.steps.back().choice->right], "0.3 deg");
    EXPECT_DOUBLE_EQ((10.0 - 4) / 20, 0.3);
}

/// A gauge on the edge of a blade that stands back shows the slope of the edge: its sine is that of the pitch times the
/// cosine of the swing. The edge as a vector, turned by the swing about the blade's own normal, then by the pitch.
TEST(Lessons, ASwungBladeShowsWhatTheLessonSays) {
    const Lesson& lesson = lesson_on("two_blade_600", 18);
    EXPECT_THAT(lesson.steps[0].text, HasSubstr("20 deg back about its bolt shows about a sixteenth too little"));
    const double pitch = 10 * degree;
    const Vec3 edge =
        Eigen::AngleAxisd(pitch, Vec3::UnitX()) * (Eigen::AngleAxisd(20 * degree, Vec3::UnitZ()) * Vec3::UnitY());
    EXPECT_NEAR(1 - std::asin(edge.z()) / pitch, 1.0 / 16, 0.004);
}

TEST(Lessons, AToothOfTheSplineIsWhatTheLessonSays) {
    const Lesson& lesson = lesson_on("two_blade_600", 5);
    EXPECT_EQ(lesson.scene.head.servos[0].spline_teeth, 25);
    EXPECT_NEAR(360.0 / 25, 14.4, 1e-9);
    EXPECT_EQ(lesson.steps.back().choice->answers[0], "5 deg");  // 360 / 24 - 10
}

}  // namespace
}  // namespace swashwright::scene
