// What must hold at every pose, on every kind of linkage. What is expected is worked out here
// from poses alone.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/studies/envelope/ball_tilt.h"
#include "kinematics/studies/envelope/clearance.h"
#include "kinematics/studies/envelope/cranks.h"
#include "kinematics/studies/envelope/part_solids.h"
#include "kinematics/studies/envelope/reach.h"
#include "tests/support/every_linkage.h"

namespace swashwright::studies {
namespace {

using head::BallName;
using head::Description;
using head::Head;
using head::Sticks;
using ::testing::Contains;
using testing::expect_finite;
using ::testing::HasSubstr;
using testing::heads;
using ::testing::Not;
using testing::Rod;
using testing::rods_of;
using testing::Seen;
using testing::seen;
using testing::some_sticks;

double acute_deg(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), std::abs(a.dot(b))) / degree;
}

/// The larger share of its limit that an end must take, at the roll that makes it least: all rolls tried, then those
/// near the best ten times finer, and so on.
double least_share(const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg,
                   const std::array<double, 2>& limits_deg) {
    const Vec3 u = rod.normalized(), x = u.unitOrthogonal(), y = u.cross(x);
    const auto share = [&](double roll_deg) {
        double most = 0;
        for (std::size_t e = 0; e < 2; ++e) {
            const double roll = (roll_deg + (e == 1 ? twist_deg : 0)) * degree;
            most = std::max(most, acute_deg(std::cos(roll) * x + std::sin(roll) * y, studs[e]) / limits_deg[e]);
        }
        return most;
    };
    double best = 0;
    for (double step = 0.5, from = 0, to = 180; step > 1e-5; step /= 10) {
        for (double roll = from; roll <= to; roll += step)
            if (share(roll) < share(best)) best = roll;
        from = best - step, to = best + step;
    }
    return share(best);
}

TEST(EveryLinkage, BallTiltIsThatOfPointsAndStuds) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const auto rods = rods_of(d);
        const auto checker = ball_tilt_checker(head);
        ASSERT_EQ(checker->checks().size(), 2 * rods.size()) << d.name;
        head::Solver solver(head);
        for (const double azimuth : {0.0, 100.0}) {
            const auto pose = head.pose(some_sticks(d), azimuth);
            ASSERT_TRUE(pose && solver.pose(some_sticks(d), azimuth)) << d.name;
            ASSERT_TRUE(checker->look(solver));
            for (std::size_t i = 0; i < rods.size(); ++i) {
                EXPECT_THAT(checker->checks()[2 * i].key, HasSubstr("." + rods[i].path + "."));
                const std::array ends{seen(d, pose->skeleton, rods[i].ends[0]),
                                      seen(d, pose->skeleton, rods[i].ends[1])};
                const auto limits = tilt_limits_deg(rods[i].made);
                const double wanted = least_share(ends[1].at - ends[0].at, {ends[0].stud, ends[1].stud},
                                                  rods[i].made.end_twist_deg, limits);
                const double share = std::max(checker->value(2 * i) / limits[0], checker->value(2 * i + 1) / limits[1]);
                // Rolls are tried to 1e-5 deg of some 20; the two poses agree to 1e-9.
                EXPECT_NEAR(share, wanted, 1e-5) << d.name << " " << rods[i].path;
            }
        }
    }
}

TEST(EveryLinkage, ALinkTurnsItsLeverByTheShareThatItsLengthShows) {
    // The other ball held, the lever turned by 2e-5 rad: the distance between the balls changes by sin(mu) of the
    // ball's way. Central differences leave 1e-9 of it.
    constexpr double step = 1e-5;
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const auto checker = crank_checker(head);
        head::Solver solver(head);
        const auto pose = head.pose(some_sticks(d), 40);
        ASSERT_TRUE(pose && solver.pose(some_sticks(d), 40) && checker->look(solver)) << d.name;
        std::size_t next = 0;
        for (const Rod& rod : rods_of(d))
            for (std::size_t e = 0; e < 2; ++e) {
                using enum BallName::Of;
                if (rod.ends[e].of != servo && rod.ends[e].of != grip && rod.ends[e].of != lever) continue;
                const Seen own = seen(d, pose->skeleton, rod.ends[e]), other = seen(d, pose->skeleton, rod.ends[1 - e]);
                const Vec3 axis = own.part.turn.col(2), arm = own.at - own.part.origin;
                const auto distance = [&](double angle) {
                    return (own.part.origin + Eigen::AngleAxisd(angle, axis) * arm - other.at).norm();
                };
                const double way = 2 * step * axis.cross(arm).norm();
                const double wanted = std::asin(std::abs(distance(step) - distance(-step)) / way) / degree;
                ASSERT_LT(next, checker->checks().size());
                EXPECT_NEAR(checker->value(next), wanted, 1e-4) << d.name << " " << checker->checks()[next].key;
                EXPECT_EQ(checker->checks()[next].parts[0], rod.path);
                ++next;
            }
        EXPECT_EQ(next, checker->checks().size()) << d.name;
    }
}

TEST(EveryLinkage, EachCheckHasItsOwnKeyAndNamesWhatIsThere) {
    for (const Head& head : heads()) {
        std::vector<std::string> keys;
        for (const auto& checker : checkers_of(head, true))
            for (const Check& check : checker->checks()) {
                EXPECT_THAT(keys, Not(Contains(check.key))) << head.description().name;
                keys.push_back(check.key);
                for (const std::string& part : check.parts)
                    EXPECT_TRUE(part == "swashplate" || part == "swashplate.driver" || head.model().find(part)) << part;
            }
    }
}

TEST(EveryLinkage, ReachFindsAWorstPlaceThatIsThere) {
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d);
        ASSERT_TRUE(head) << d.name;
        for (const bool clearance : {false, true}) {
            ReachRequest request;
            request.clearance = clearance;
            request.sweep = {.collective_steps = 4, .cyclic_steps = 2, .directions = 8, .azimuths = 12};
            request.sweep.refine = !clearance;
            const auto found = reach(*head, request);
            ASSERT_TRUE(found) << d.name << ": " << found.error().message;
            const Envelope& e = found->envelope;
            const Answer told = answer(*found, 0);
            expect_finite(told);
            const auto checkers = checkers_of(*head, clearance);
            std::size_t k = 0;
            head::Solver solver(*head);
            for (const auto& checker : checkers)
                for (std::size_t i = 0; i < checker->checks().size(); ++i, ++k) {
                    ASSERT_EQ(e.checks[k].key, checker->checks()[i].key);
                    ASSERT_TRUE(std::isfinite(e.worst[k].value)) << d.name << " " << e.checks[k].key;
                    const Place& place = e.worst[k].place;
                    for (std::size_t h = 0; h < place.hand_deg.size(); ++h) solver.set_hand(h, place.hand_deg[h]);
                    if (!solver.pose(Sticks{}, place.azimuth_deg) || !solver.pose(place.sticks, place.azimuth_deg)) {
                        EXPECT_TRUE(e.opens) << d.name << " " << e.checks[k].key;  // at the very edge of what closes
                        continue;
                    }
                    ASSERT_TRUE(checker->look(solver));
                    // Another way to the same pose: 1e-9 mm on arms of some 10 mm.
                    EXPECT_NEAR(checker->value(i), e.worst[k].value, 1e-6) << d.name << " " << e.checks[k].key;
                }
            EXPECT_EQ(k, e.checks.size());
            const bool tail = d.kind == head::Kind::tail;
            EXPECT_EQ(told.text.find("collective") == std::string::npos, tail) << told.text;
            EXPECT_EQ(told.text.find("rudder") != std::string::npos, tail) << told.text;
            double most = 0;
            for (const Extreme& worst : e.worst)
                most = std::max(most, std::abs(tail ? worst.place.sticks.rudder : worst.place.sticks.collective));
            EXPECT_EQ(most, 1.0) << d.name;  // something is worst at an end
            if (tail) {
                EXPECT_TRUE(e.discs.empty());
            }
        }
    }
}

TEST(EveryLinkage, SolidsOfLeversReachTheirBallsAndPartsThatAreJoinedAreNotMeasured) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const auto solids = part_solids(head);
        for (std::size_t i = 0; i < d.levers.size(); ++i) {
            const auto found = std::ranges::find(solids, fmt::format("lever[{}]", i + 1), &PartSolids::path);
            ASSERT_EQ(found != solids.end(), !d.levers[i].balls_mm.empty()) << d.name;
            if (found == solids.end()) continue;
            ASSERT_EQ(found->capsules.size(), d.levers[i].balls_mm.size());
            for (std::size_t b = 0; b < found->capsules.size(); ++b) {
                const Capsule& arm = found->capsules[b];
                EXPECT_LT((arm.b - arm.a - d.levers[i].balls_mm[b]).norm(), 1e-12);
            }
        }
        const auto checker = clearance_checker(head);
        const auto measured = [&](const std::string& a, const std::string& b) {
            return std::ranges::any_of(checker->checks(), [&](const Check& check) {
                return (check.parts[0] == a && check.parts[1] == b) || (check.parts[0] == b && check.parts[1] == a);
            });
        };
        for (const Rod& rod : rods_of(d))
            for (const BallName& end : rod.ends)
                if (end.of == BallName::Of::lever) {
                    EXPECT_FALSE(measured(rod.path, fmt::format("lever[{}]", end.index + 1))) << rod.path;
                }
    }
}

}  // namespace
}  // namespace swashwright::studies
