#include "kinematics/studies/envelope/reach.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/envelope/clearance.h"
#include "kinematics/studies/envelope/probe.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::HasSubstr;

std::vector<std::string> failing(const Envelope& e) {
    std::vector<std::string> out;
    for (std::size_t k = 0; k < e.checks.size(); ++k)
        if (e.worst[k].margin < 0) out.push_back(e.checks[k].key);
    return out;
}

// The invented heads with a fault: each fault is found, at its place, and told.
TEST(Reach, FindsTheHeadThatLocks) {
    const auto found = reach(testing::demo_head("binding/locks_at_full_stick.toml"));
    ASSERT_TRUE(found);
    ASSERT_TRUE(found->envelope.opens);
    EXPECT_THAT(found->envelope.opens_message, HasSubstr("upper link"));
    EXPECT_THAT(answer(*found).text, HasSubstr("the links no longer reach"));
    EXPECT_EQ(answer(*found).tone, Tone::trouble);
    // Dead points inside: both pitch arms' links lose their hold.
    const auto fails = failing(found->envelope);
    EXPECT_THAT(fails, ::testing::Contains("dead_point.grip[1]"));
    EXPECT_THAT(fails, ::testing::Contains("dead_point.grip[2]"));
    const auto middle = found->envelope.discs[found->envelope.discs.size() / 2];
    EXPECT_EQ(middle.cyclic, 1.0);  // at mid collective all is free
}

TEST(Reach, FindsTheOneCornerThatTouches) {
    const auto found = reach(testing::demo_head("binding/touches_in_one_corner.toml"));
    ASSERT_TRUE(found);
    const Envelope& e = found->envelope;
    EXPECT_THAT(failing(e),
                ::testing::UnorderedElementsAre("clearance.frame.upper_link[1]", "clearance.frame.upper_link[2]"));
    for (std::size_t k = 0; k < e.checks.size(); ++k) {
        if (e.worst[k].margin >= 0) continue;
        const Place& place = e.worst[k].place;
        EXPECT_NEAR(place.sticks.collective, -1, 1e-9);
        EXPECT_NEAR(std::hypot(place.sticks.aileron, place.sticks.elevator), 1, 1e-9);
        EXPECT_LT(place.sticks.aileron, -0.5);  // left
        EXPECT_LT(place.sticks.elevator, 0);    // back
        EXPECT_LT(e.worst[k].value, 0);         // it touches
    }
    for (std::size_t i = 0; i < e.discs.size(); ++i) {
        ASSERT_TRUE(e.discs[i].cyclic);
        if (i == 0) {
            EXPECT_LT(*e.discs[i].cyclic, 1);
        } else {
            EXPECT_EQ(*e.discs[i].cyclic, 1) << e.collective[i];
        }
    }
}

TEST(Reach, FindsTheHeadThatNeedsItsSticksLimitedTogether) {
    const head::Head head = testing::demo_head("binding/needs_a_stick_limit.toml");
    const auto found = reach(head);
    ASSERT_TRUE(found);
    EXPECT_THAT(failing(found->envelope), ::testing::UnorderedElementsAre("ball_tilt.upper_link[1].upper_end",
                                                                          "ball_tilt.upper_link[2].upper_end"));
    auto limited = head.description();
    limited.mixing.combined_limit = 1.7;  // as its story says
    const auto kept = reach(*head::Head::build(limited));
    ASSERT_TRUE(kept);
    EXPECT_TRUE(failing(kept->envelope).empty());
}

// An invented head whose tilts are kept with cyclic in a circle, but not in the corner of a square at collective -1,
// aileron -1, elevator +1, azimuth 134: 23.4 deg of 19.9 there, computed independently of this program.
TEST(Reach, GoesIntoTheCornersThatTheTransmitterLetsThrough) {
    head::Description d = testing::demo("three_blade_700.toml");
    const auto circle = reach(*head::Head::build(d), {.clearance = false});
    d.mixing.cyclic_stick = head::CyclicStick::square;
    const head::Head head = *head::Head::build(d);
    const auto square = reach(head, {.clearance = false});
    ASSERT_TRUE(circle && square);
    EXPECT_TRUE(failing(circle->envelope).empty());
    EXPECT_THAT(answer(*circle).text, HasSubstr("checks are kept, with the cyclic stick in a circle."));
    EXPECT_THAT(answer(*square).text, HasSubstr("fail, with the cyclic stick in a square."));
    Probe probe(head, checkers_of(head, false));
    ASSERT_TRUE(probe.go({{-1, -1, 1}, 134}));
    double most = 0;
    for (std::size_t k = 0; k < probe.size(); ++k) {
        if (!probe.check(k).key.starts_with("ball_tilt.upper_link")) continue;
        const Extreme& worst = square->envelope.worst[k];
        const double here = *probe.value(k);
        most = std::max(most, here);
        EXPECT_GE(worst.value, here - 1e-6) << probe.check(k).key;
        if (here <= probe.check(k).high) continue;
        EXPECT_LT(worst.margin, 0) << probe.check(k).key;
        EXPECT_EQ(worst.place.sticks.collective, -1);
        EXPECT_NEAR(std::abs(worst.place.sticks.aileron), 1, 1e-3);  // the search ends within 0.004 deg of direction
        EXPECT_NEAR(std::abs(worst.place.sticks.elevator), 1, 1e-3);
    }
    EXPECT_NEAR(most, 23.4, 0.05);  // as rounded
}

// Just within the distance told the loop closes, just beyond it does not; a head that locks does so within its sticks.
TEST(DeadPointDistance, IsWhereTheLoopOpens) {
    for (const char* name : {"two_blade_600", "three_blade_700", "binding/locks_at_full_stick"}) {
        const head::Head head = testing::demo_head(std::string(name) + ".toml");
        double least = farthest_stick;
        for (const DeadPointWay& way : dead_point_distance(head)) {
            if (!way.stick) continue;
            least = std::min(least, *way.stick);
            const auto at = [&](double t) {
                return head
                    .pose({t * way.sticks.collective, t * way.sticks.aileron, t * way.sticks.elevator}, way.azimuth_deg)
                    .has_value();
            };
            EXPECT_TRUE(at(0.999)) << name << ", " << way.words;
            EXPECT_FALSE(at(1 + 0.002 / *way.stick)) << name << ", " << way.words;
        }
        EXPECT_EQ(least < 1, std::string(name).starts_with("binding")) << name;
    }
}

TEST(Reach, DemoHeadsKeepEveryCheck) {
    for (const char* name :
         {"two_blade_600", "three_blade_700", "small_two_blade_250", "bellcranks_500", "four_servos_700",
          "link_held_450", "hinged_links_450", "rocking_spindle_600", "stabiliser_bar_600", "tail_600"}) {
        const auto found = reach(testing::demo_head(std::string(name) + ".toml"));
        ASSERT_TRUE(found) << name;
        EXPECT_TRUE(failing(found->envelope).empty()) << name;
        EXPECT_FALSE(found->envelope.opens) << name;
        EXPECT_THAT(answer(*found).text, HasSubstr("checks are kept")) << name;
        for (const auto& table : answer(*found).tables)
            for (const auto& row : table.rows) EXPECT_EQ(row.size(), table.columns.size()) << name;
    }
}

// A gap of 10 mm and more says that it is a lower bound where that was looked for all over, not of single places; the
// true gap at its place is no less. Nearer ones are true there.
TEST(Reach, AGapThatIsOnlyALowerBoundSaysSo) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    ReachRequest request;
    request.sweep.collective_steps = 2, request.sweep.cyclic_steps = 1, request.sweep.directions = 4;
    request.sweep.azimuths = 4, request.sweep.refine = false;
    const auto found = reach(head, request), sought = reach(head);
    ASSERT_TRUE(found && sought);
    const auto checker = clearance_checker(head);
    head::Solver solver(head);
    for (const Reach* told : {&*found, &*sought}) {
        const Answer said = answer(*told, 0);
        int bounds = 0, exact = 0;
        for (const auto& row : said.tables[0].rows) {
            const auto& label = std::get<std::string>(row[0]);
            if (!label.starts_with("gap, ")) continue;
            const bool far = std::get<double>(row[2]) >= 10;
            EXPECT_EQ(label.ends_with(", at least"), far && told->sought) << label;
            (far ? bounds : exact) += 1;
        }
        EXPECT_GT(bounds, 5);
        EXPECT_GT(exact, 5);
    }
    for (std::size_t i = 0; i < checker->checks().size(); ++i)
        for (std::size_t k = 0; k < found->envelope.checks.size(); ++k) {
            if (found->envelope.checks[k].key != checker->checks()[i].key) continue;
            const Extreme& worst = found->envelope.worst[k];
            ASSERT_TRUE(solver.pose(worst.place.sticks, worst.place.azimuth_deg) && checker->look(solver));
            const double gap = checker->nearest(i).mm;
            EXPECT_LE(worst.value, gap + 1e-6) << checker->checks()[i].key;
            if (worst.value < 10) {
                EXPECT_NEAR(worst.value, gap, 1e-6) << checker->checks()[i].key;
            }
        }
}

// Sentence and rows say how near to true worst values are: nothing of a servo, which is proved; "seen so far" where
// nothing was bounded.
TEST(Reach, SaysHowSureItIs) {
    const head::Head head = testing::demo_head("three_blade_700.toml");
    const auto found = reach(head, {.clearance = false});
    ReachRequest rough{.clearance = false};
    rough.sweep.refine = false;
    const auto seen = reach(head, rough);
    ASSERT_TRUE(found && seen);
    const Answer sure = answer(*found, 0), unsure = answer(*seen, 0);
    EXPECT_THAT(sure.text,
                ::testing::ContainsRegex("comes to [0-9.]+ deg \\(or up to 0\\.01 deg more\\), where at most"));
    EXPECT_THAT(unsure.text, HasSubstr("(the worst seen so far)"));
    for (const auto& row : sure.tables[0].rows) {
        const double within = std::get<double>(row[3]);
        EXPECT_LE(within, 0.0101);
        EXPECT_EQ(within == 0, std::get<std::string>(row[0]).starts_with("horn ")) << std::get<std::string>(row[0]);
    }
    for (const auto& row : unsure.tables[0].rows) EXPECT_EQ(std::get<std::string>(row[3]), "?");
}

TEST(Reach, TellsTheSizesThatItAssumes) {
    const auto head = testing::demo_head("two_blade_600.toml");
    ReachRequest request;
    request.sweep.collective_steps = 1, request.sweep.cyclic_steps = 1, request.sweep.directions = 2;
    request.sweep.azimuths = 1, request.sweep.refine = false;
    const auto found = reach(head, request);
    ASSERT_TRUE(found);
    const auto parts = part_solids(head);
    const auto shaft = std::ranges::find(parts, "rotor.shaft", &PartSolids::path);
    ASSERT_NE(shaft, parts.end());
    EXPECT_THAT(answer(*found).notes, ::testing::Contains(::testing::AllOf(
                                          HasSubstr(fmt::format("shaft {:.1f} mm", 2 * shaft->capsules.at(0).radius)),
                                          HasSubstr("shank of a link's end 0.7 of its boss"))));
}

// A rocking spindle, and a stabiliser bar turned by hand: what the sweep calls worst, no place of a finer grid over
// sticks, azimuth and hand goes beyond.
TEST(Reach, GoesThroughWhatAHandMoves) {
    for (const char* file : {"rocking_spindle_01.toml", "stabiliser_bar_01.toml"}) {
        const auto head =
            head::Head::build(testing::loaded(std::string(SWASHWRIGHT_TEST_DATA "/linkages/") + file)).value();
        ReachRequest request{.clearance = false};
        request.sweep.collective_steps = 4, request.sweep.cyclic_steps = 2, request.sweep.directions = 8;
        request.sweep.azimuths = 12;
        const auto found = reach(head, request);
        ASSERT_TRUE(found);
        const Envelope& e = found->envelope;
        ASSERT_EQ(e.hands.size(), 1U);
        EXPECT_THAT(answer(*found).text, HasSubstr("moved by hand from"));
        Probe probe(head, checkers_of(head, false));
        int at_an_end = 0;
        for (std::size_t k = 0; k < e.checks.size(); ++k) {
            if (!std::isfinite(e.worst[k].margin)) continue;
            const double hand = e.worst[k].place.hand_deg.at(0);
            EXPECT_GE(hand, e.hands[0].least_deg);
            EXPECT_LE(hand, e.hands[0].most_deg);
            at_an_end += hand == e.hands[0].least_deg || hand == e.hands[0].most_deg;
            ASSERT_TRUE(probe.go(e.worst[k].place)) << e.checks[k].key;
            EXPECT_NEAR(probe.value(k).value(), e.worst[k].value, 1e-6) << e.checks[k].key;
        }
        EXPECT_GT(at_an_end, 0);
        for (int i = 0; i <= 6; ++i)
            for (int c = -1; c <= 1; ++c)
                for (int direction = 0; direction < 360; direction += 30)
                    for (int azimuth = 0; azimuth < 360; azimuth += 20) {
                        const double deg = e.hands[0].least_deg + i * (e.hands[0].most_deg - e.hands[0].least_deg) / 6;
                        const auto sticks = head::sticks_at(e.mixing.cyclic_stick, c, 1, direction);
                        if (!probe.go({sticks, static_cast<double>(azimuth), {deg}})) continue;
                        for (std::size_t k = 0; k < e.checks.size(); ++k)
                            if (const auto value = probe.value(k)) {
                                EXPECT_GE(e.checks[k].margin(*value), e.worst[k].margin - 0.02 * e.checks[k].close)
                                    << file << ' ' << e.checks[k].key << " at " << deg << " deg";
                            }
                    }
    }
}

}  // namespace
}  // namespace swashwright::studies
