#include "kinematics/studies/live/steering.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <filesystem>
#include <unsupported/Eigen/NonLinearOptimization>

#include "kinematics/head/stick_envelope.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;
using What = Aim::What;

constexpr SteerBy main_sticks{.collective = true, .aileron = true, .elevator = true};
constexpr SteerBy collective_only{.collective = true};
constexpr SteerBy cyclic{.aileron = true, .elevator = true};

head::Head built(const head::Description& d) {
    auto head = head::Head::build(d);
    EXPECT_TRUE(head) << (head ? "" : head.error().message);
    return *head;
}

head::Sticks sticks_drawn(testing::Draw& draw, const head::Mixing& mixing) {
    return head::held_back(mixing, {draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1)});
}

bool finite(const head::Sticks& s) {
    return std::isfinite(s.collective) && std::isfinite(s.aileron) && std::isfinite(s.elevator);
}

head::Description head_of_any_mixing(std::mt19937_64& bits, testing::Draw& draw) {
    head::Description d = testing::random_head(bits);
    if (draw.chance(0.3)) d.mixing.combined_limit = draw.between(0.8, 1.6);
    if (draw.chance(0.3)) d.mixing.cyclic_stick = head::CyclicStick::square;
    return d;
}

// What the answer claims is what `Head::pose` shows at its sticks, which the transmitter lets through; where it is not
// there, it says why.
RC_GTEST_PROP(Steering, ClaimsWhatThePoseShows, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    const head::Description d = head_of_any_mixing(bits, draw);
    const auto head = head::Head::build(d);
    RC_PRE(head && !head->neutral_failure());
    const double azimuth = draw.between(0, 360);
    const Aim aim{What::pitch_deg, draw.whole(0, d.rotor.blades - 1), draw.between(-25, 25)};
    const SteerBy by = draw.chance(0.4) ? collective_only : draw.chance(0.5) ? cyclic : main_sticks;
    const auto from = sticks_drawn(draw, d.mixing);
    const auto steered = steer(*head, from, azimuth, {}, {&aim, 1}, by);
    RC_PRE(steered.has_value());
    RC_ASSERT(finite(steered->sticks));
    RC_ASSERT(head::lets_through(d.mixing, steered->sticks));
    const auto pose = head->pose(steered->sticks, azimuth);
    RC_ASSERT(pose.has_value());
    RC_ASSERT(pose->pitch_deg[static_cast<std::size_t>(aim.index)] == steered->reached[0]);
    RC_ASSERT(steered->there == (std::abs(steered->reached[0] - aim.wanted) <= steered_within));
    RC_ASSERT(steered->there == steered->why_not.empty());
    const auto before = head->pose(from, azimuth);  // never farther off than before
    RC_ASSERT(std::abs(steered->reached[0] - aim.wanted) <=
              std::abs(before->pitch_deg[static_cast<std::size_t>(aim.index)] - aim.wanted) + 1e-9);
    if (!by.collective) RC_ASSERT(steered->sticks.collective == from.collective);
    if (!by.aileron) RC_ASSERT(std::abs(steered->sticks.aileron) <= std::abs(from.aileron) + 1e-12);
}

// Height and both tilts of some pose within the envelope are found again, and so are its sticks: three readings, three
// sticks.
RC_GTEST_PROP(Steering, FindsTheSticksThatGaveTheReadings, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    const head::Description d = testing::random_head(bits);
    const auto head = head::Head::build(d);
    RC_PRE(head && !head->neutral_failure());
    const head::Sticks gave =
        head::held_back(d.mixing, {draw.between(-0.9, 0.9), draw.between(-0.6, 0.6), draw.between(-0.6, 0.6)});
    const auto pose = head->pose(gave, 0);
    RC_PRE(pose.has_value());
    const std::vector<Aim> aims{{What::height_mm, 0, pose->height_mm},
                                {What::tilt_forward_deg, 0, pose->tilt_forward_deg},
                                {What::tilt_right_deg, 0, pose->tilt_right_deg}};
    const auto steered = steer(*head, {}, 0, {}, aims, main_sticks);
    RC_ASSERT(steered.has_value());
    RC_ASSERT(steered->there);
    RC_ASSERT(std::abs(steered->sticks.collective - gave.collective) < 1e-5);
    RC_ASSERT(std::abs(steered->sticks.aileron - gave.aileron) < 1e-5);
    RC_ASSERT(std::abs(steered->sticks.elevator - gave.elevator) < 1e-5);
}

struct RingAt {
    const head::Head& head;
    Eigen::Vector3d wanted;

    int operator()(const Eigen::VectorXd& s, Eigen::VectorXd& out) const {
        const auto pose = head.pose(head::Sticks{s[0], s[1], s[2]}, 0);
        if (!pose) return -1;
        out = Eigen::Vector3d(pose->height_mm, pose->tilt_forward_deg, pose->tilt_right_deg) - wanted;
        return 0;
    }
};

// Another solver, without our slopes: Powell's hybrid method of MINPACK (J. J. More, B. S. Garbow, K. E. Hillstrom,
// "User Guide for MINPACK-1", Argonne ANL-80-74, 1980) as Eigen has it, over differences of `Head::pose`.
TEST(Steering, AgreesWithMinpacksHybridMethod) {
    for (const char* scene : {"two_blade_600.toml", "three_blade_700.toml"}) {
        const head::Head head = built(testing::demo(scene));
        const double level = head.pose(head::Sticks{}, 0)->height_mm;
        for (const Eigen::Vector3d& more : {Eigen::Vector3d(1.5, 2, -1), {-2, -1.5, 2.5}, {0.5, 0, -3}}) {
            const Eigen::Vector3d wanted(level + more[0], more[1], more[2]);
            RingAt misfit{head, wanted};
            Eigen::HybridNonLinearSolver<RingAt> powell(misfit);
            powell.parameters.xtol = 1e-12;
            Eigen::VectorXd theirs = Eigen::Vector3d::Zero();
            powell.solveNumericalDiff(theirs);
            const std::vector<Aim> aims{{What::height_mm, 0, wanted[0]},
                                        {What::tilt_forward_deg, 0, wanted[1]},
                                        {What::tilt_right_deg, 0, wanted[2]}};
            const auto ours = steer(head, {}, 0, {}, aims, main_sticks);
            ASSERT_TRUE(ours);
            EXPECT_TRUE(ours->there) << ours->why_not;
            EXPECT_NEAR(ours->sticks.collective, theirs[0], 1e-6);
            EXPECT_NEAR(ours->sticks.aileron, theirs[1], 1e-6);
            EXPECT_NEAR(ours->sticks.elevator, theirs[2], 1e-6);
        }
    }
}

std::vector<Aim> one_horn(const head::Head& head, std::size_t servo, double more_deg) {
    std::vector<Aim> aims;
    const auto now = head.horn_angles_deg({});
    for (std::size_t j = 0; j < now.size(); ++j)
        aims.push_back({What::horn_deg, static_cast<int>(j), now[j] + (j == servo ? more_deg : 0), j != servo});
    return aims;
}

// Three servos and three sticks: one horn moves alone, by the sticks that the inverse of the mixing law gives
// (DEVELOPERS.md, "Mixing"), here of its gains by Eigen.
RC_GTEST_PROP(Steering, OneHornOfThreeMovesAlone, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    const auto head = head::Head::build(testing::random_head(bits));
    RC_PRE(head && !head->neutral_failure());
    const auto servo = static_cast<std::size_t>(draw.whole(0, 2));
    const double more = draw.between(-3, 3);
    const auto steered = steer(*head, {}, 0, {}, one_horn(*head, servo, more), main_sticks);
    RC_PRE(steered && steered->there);
    Eigen::Matrix3d gains;
    for (int j = 0; j < 3; ++j)
        for (int k = 0; k < 3; ++k) gains(j, k) = head->stick_gains_deg(j)[static_cast<std::size_t>(k)];
    const Eigen::Vector3d wanted = gains.inverse().col(static_cast<Eigen::Index>(servo)) * more;
    RC_ASSERT(std::abs(steered->sticks.collective - wanted[0]) < 1e-7);
    RC_ASSERT(std::abs(steered->sticks.aileron - wanted[1]) < 1e-7);
    RC_ASSERT(std::abs(steered->sticks.elevator - wanted[2]) < 1e-7);
    for (std::size_t j = 0; j < 3; ++j)
        RC_ASSERT(std::abs(steered->reached[j] - head->horn_angle_deg(j, {}) - (j == servo ? more : 0)) < 1e-6);
}

TEST(Steering, SaysWhichStickIsAtItsEnd) {
    const head::Head head = built(testing::demo("two_blade_600.toml"));
    const auto most = head.pose(head::Sticks{.collective = 1}, 0);
    const Aim pitch{What::pitch_deg, 0, most->pitch_deg[0] + 4};
    const auto up = steer(head, {}, 0, {}, {&pitch, 1}, collective_only);
    ASSERT_TRUE(up);
    EXPECT_FALSE(up->there);
    EXPECT_EQ(up->sticks.collective, 1);
    EXPECT_THAT(up->why_not, HasSubstr("collective stick is at its end"));
    const Aim lean{What::tilt_forward_deg, 0, 80};
    const auto forward = steer(head, {}, 0, {}, {&lean, 1}, cyclic);
    ASSERT_TRUE(forward);
    EXPECT_FALSE(forward->there);
    EXPECT_NEAR(std::hypot(forward->sticks.aileron, forward->sticks.elevator), 1, 1e-6);
    EXPECT_THAT(forward->why_not, HasSubstr("cyclic stick is at its end"));
    // And once more with another aim: nothing is kept from call to call.
    const Aim back{What::pitch_deg, 0, 3};
    const auto there = steer(head, up->sticks, 0, {}, {&back, 1}, collective_only);
    ASSERT_TRUE(there);
    EXPECT_TRUE(there->there);
    EXPECT_NEAR(head.pose(there->sticks, 0)->pitch_deg[0], 3, steered_within);
    EXPECT_TRUE(there->why_not.empty());
}

/// What comes back although the aim goes farther away: of each way of dragging a part a line; empty where none does.
std::string comes_back(const head::Head& head, const head::Sticks& from, double azimuth, double way) {
    const auto start = head.pose(from, azimuth);
    if (!start) return {};
    const auto horns = head.horn_angles_deg(from);
    const auto horn = [&](double far) {
        std::vector<Aim> aims;
        for (std::size_t j = 0; j < horns.size(); ++j)
            aims.push_back({What::horn_deg, static_cast<int>(j), horns[j] + (j == 0 ? far : 0), j != 0});
        return aims;
    };
    const auto pitch = [&](double far) { return std::vector<Aim>{{What::pitch_deg, 0, start->pitch_deg[0] + far}}; };
    const auto height = [&](double far) { return std::vector<Aim>{{What::height_mm, 0, start->height_mm + far}}; };
    const auto tilt = [&](double far) {
        return std::vector<Aim>{{What::tilt_forward_deg, 0, start->tilt_forward_deg + far},
                                {What::tilt_right_deg, 0, start->tilt_right_deg}};
    };
    std::string out;
    const auto drag = [&](const char* what, const SteerBy& by, const auto& aims_for) {
        double before = 0;
        for (double far = 0.25; far < 90; far *= 1.3) {
            const auto steered = steer(head, from, azimuth, {}, aims_for(way * far), by);
            const double gone = steered ? way * (steered->reached[0] - aims_for(0)[0].wanted) : -1;
            if (gone < before - 0.3)  // ends on the edge of the cyclic stick are near the best, not the best
                out += fmt::format(
                    "{} from {:+.4f} {:+.4f} {:+.4f} at {:.1f} deg: wanted {:.3f}, went {:.3f}, {:.3f} before\n", what,
                    from.collective, from.aileron, from.elevator, azimuth, far, gone, before);
            before = std::max(before, gone);
        }
    };
    drag("pitch by collective", collective_only, pitch);
    drag("pitch by cyclic", cyclic, pitch);
    drag("height", collective_only, height);
    drag("tilt", cyclic, tilt);
    drag("horn", main_sticks, horn);
    return out;
}

// A part that is dragged farther never comes back, however far beyond its reach the pointer is.
RC_GTEST_PROP(Steering, AnAimFartherAwayNeverBringsThePartBack, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    const head::Description d = head_of_any_mixing(bits, draw);
    const auto head = head::Head::build(d);
    RC_PRE(head && !head->neutral_failure());
    const auto from = sticks_drawn(draw, d.mixing);
    const std::string back = comes_back(*head, from, draw.between(0, 360), draw.chance(0.5) ? 1 : -1);
    if (!back.empty()) RC_FAIL(back);
}

TEST(Steering, NoPartOfASceneComesBack) {
    std::mt19937_64 bits(1);
    testing::Draw draw(bits);
    for (const auto& entry : std::filesystem::recursive_directory_iterator(SWASHWRIGHT_SCENES)) {
        const std::string name = std::filesystem::relative(entry.path(), SWASHWRIGHT_SCENES).string();
        if (entry.path().extension() != ".toml" || name.starts_with("lessons") || name.starts_with("readings"))
            continue;
        const head::Description d = testing::demo(name);
        if (d.kind == head::Kind::tail) continue;
        const head::Head head = built(d);
        for (int start = 0; start < 4; ++start)
            for (const double way : {-1.0, 1.0}) {
                const head::Sticks from = start == 0 ? head::Sticks{} : sticks_drawn(draw, d.mixing);
                EXPECT_EQ(comes_back(head, from, start == 0 ? 0 : draw.between(0, 360), way), "") << name;
            }
    }
}

TEST(Steering, FollowsAimsThatAllGiveWay) {
    const head::Head head = built(testing::demo("two_blade_600.toml"));
    const Aim lift{What::height_mm, 0, head.pose(head::Sticks{}, 0)->height_mm + 2, true};
    const auto lifted = steer(head, {}, 0, {}, {&lift, 1}, collective_only);
    ASSERT_TRUE(lifted);
    EXPECT_NEAR(lifted->pose.height_mm, lift.wanted, steered_within);
    EXPECT_TRUE(steer(head, {}, 0, {}, {}, collective_only)->there);  // nothing is wanted
}

TEST(Steering, SaysWhereLinksEndAndWhereNoStickHelps) {
    head::Description d = testing::demo("two_blade_600.toml");
    d.mixing.collective_deg *= 6;
    const head::Head head = built(d);
    const Aim pitch{What::pitch_deg, 0, 85};
    const auto far = steer(head, {}, 0, {}, {&pitch, 1}, collective_only);
    ASSERT_TRUE(far);
    EXPECT_FALSE(far->there);
    EXPECT_THAT(far->why_not,
                ::testing::AnyOf(HasSubstr("no longer reach"), HasSubstr("dead point"), HasSubstr("No stick")));
    EXPECT_TRUE(head.pose(far->sticks, 0));
    d = testing::demo("two_blade_600.toml");
    d.mixing.collective_deg = 0;
    const head::Head still = built(d);
    const Aim more{What::pitch_deg, 0, 5};
    const auto none = steer(still, {}, 0, {}, {&more, 1}, collective_only);
    ASSERT_TRUE(none);
    EXPECT_THAT(none->why_not, HasSubstr("No stick"));
    EXPECT_EQ(none->sticks, head::Sticks{});
}

TEST(Steering, ATailIsSteeredByItsRudder) {
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_SCENES)) {
        if (entry.path().extension() != ".toml") continue;
        const head::Description d = testing::demo(entry.path().filename().string());
        if (d.kind != head::Kind::tail) continue;
        const head::Head head = built(d);
        const Aim pitch{What::pitch_deg, 0, head.pose(head::Sticks{.rudder = -0.37}, 20)->pitch_deg[0]};
        const auto steered = steer(head, {}, 20, {}, {&pitch, 1}, {.rudder = true});
        ASSERT_TRUE(steered);
        EXPECT_TRUE(steered->there) << entry.path();
        EXPECT_NEAR(steered->sticks.rudder, -0.37, 1e-6);
        const Aim beyond{What::pitch_deg, 0, 80};
        EXPECT_THAT(steer(head, {}, 20, {}, {&beyond, 1}, {.rudder = true})->why_not, ::testing::Not(""));
    }
}

TEST(Steering, TellsTheSticksThatMoved) {
    EXPECT_EQ(moved_words({}, {0.431, 0, -0.1}), "collective +0.43, elevator -0.10");
    EXPECT_EQ(moved_words({0.5, 0, 0}, {0, 0, 0}), "collective +0.00");
    EXPECT_EQ(moved_words({0.5, 0, 0}, {0.501, 0, 0}), "");
}

}  // namespace
}  // namespace swashwright::studies
