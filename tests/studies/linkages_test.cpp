// Every study on every kind of linkage: the scenes of tests/data/linkages, and some with all their numbers moved a
// little. What is expected is worked out here from poses alone: points and placements of `Skeleton`, and differences
// between two poses.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "kinematics/head/solver.h"
#include "kinematics/studies/diagnosis/diagnose.h"
#include "kinematics/studies/envelope/ball_tilt.h"
#include "kinematics/studies/envelope/clearance.h"
#include "kinematics/studies/envelope/cranks.h"
#include "kinematics/studies/envelope/part_solids.h"
#include "kinematics/studies/envelope/reach.h"
#include "kinematics/studies/joints/play.h"
#include "kinematics/studies/joints/stiff.h"
#include "kinematics/studies/live/live_value.h"
#include "kinematics/studies/live/sentence.h"
#include "kinematics/studies/pitch/compare.h"
#include "kinematics/studies/pitch/sensitivity.h"
#include "kinematics/studies/pitch/tolerance.h"
#include "kinematics/studies/pitch/tracking.h"
#include "tests/support/random_linkage.h"

namespace swashwright::studies {
namespace {

using head::BallName;
using head::Description;
using head::Head;
using head::Pose;
using head::Skeleton;
using head::Sticks;
using ::testing::AnyOf;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;

/// All that can be built and closes: those of the folder, and each moved a little.
std::vector<Head> heads() {
    std::vector<Head> out;
    std::mt19937_64 bits(77);
    for (const Description& d : testing::linkages())
        for (const Description& one : {d, testing::moved_a_little(d, bits)}) {
            auto head = Head::build(one);
            if (head && !head->neutral_failure()) out.push_back(*head);
        }
    EXPECT_GE(out.size(), 12U);
    return out;
}

/// Somewhere off the middle.
Sticks some_sticks(const Description& d) {
    return d.kind == head::Kind::tail ? Sticks{.rudder = 0.35}
                                      : Sticks{.collective = 0.3, .aileron = -0.2, .elevator = 0.25};
}

struct Rod {
    std::string path;
    std::array<BallName, 2> ends;
    head::Link made;
};

std::vector<Rod> rods_of(const Description& d) {
    std::vector<Rod> out;
    for (std::size_t i = 0; i < d.lower_links.size(); ++i)
        out.push_back({fmt::format("lower_link[{}]", i + 1), ends_of_lower_link(d, i), d.lower_links[i]});
    for (std::size_t i = 0; i < d.upper_links.size(); ++i)
        out.push_back({fmt::format("upper_link[{}]", i + 1), ends_of_upper_link(d, i), d.upper_links[i]});
    for (std::size_t i = 0; i < d.links.size(); ++i)
        out.push_back({fmt::format("link[{}]", i + 1), *d.links[i].ends, d.links[i]});
    return out;
}

/// A ball in the head frame: where it is, which way its stud points by the scene's defaults, and its part.
struct Seen {
    Vec3 at, stud;
    Placement part;
};

Seen seen(const Description& d, const Skeleton& s, const BallName& name) {
    const auto i = static_cast<std::size_t>(name.index), b = static_cast<std::size_t>(name.ball);
    const auto on_ring = [](const Placement& ring, const Vec3& at) {
        const Vec3 normal = ring.turn.col(2), arm = at - ring.origin;
        return Seen{at, (arm - arm.dot(normal) * normal).normalized(), ring};
    };
    switch (name.of) {
        case BallName::Of::servo:
            return {s.horn_balls[i], s.horns[i].turn.col(2), s.horns[i]};
        case BallName::Of::inner_ball:
            return on_ring(s.inner_ring, s.inner_balls[i]);
        case BallName::Of::outer_ball:
            return on_ring(s.outer_ring, s.outer_balls[i]);
        case BallName::Of::grip:
            return {s.grip_balls[i], s.grips[i].turn.col(0) * (d.grips[i].pitch_arm.lead_mm < 0 ? -1 : 1), s.grips[i]};
        case BallName::Of::lever:
            return {s.lever_balls[i][b], s.levers[i].turn.col(2), s.levers[i]};
        case BallName::Of::slider:
            return {s.slider_balls[i][b], s.sliders[i].turn.col(2), s.sliders[i]};
        case BallName::Of::fixed_ball:
            break;
    }
    EXPECT_EQ(d.fixed_balls[i].on.on, head::Carrier::On::frame);  // all that the folder has
    return {s.fixed_balls[i], Vec3::UnitZ(), {}};
}

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

void expect_finite(const Answer& answer) {
    EXPECT_FALSE(answer.text.empty()) << answer.study;
    std::string all = answer.text;
    for (const std::string& note : answer.notes) all += note;
    for (const char* word : {"nan", "inf "}) EXPECT_THAT(all, Not(HasSubstr(word))) << answer.study;
    for (const Table& table : answer.tables)
        for (const auto& row : table.rows) {
            EXPECT_EQ(row.size(), table.columns.size()) << answer.study << " " << table.key;
            for (const Cell& cell : row)
                if (const double* number = std::get_if<double>(&cell)) {
                    EXPECT_TRUE(std::isfinite(*number)) << answer.study << " " << table.key;
                }
        }
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

/// Pitch of every blade with one number of the head changed, mixer kept.
std::vector<double> pitch_with(const Head& head, const head::Number& number, double by, const Sticks& sticks,
                               double azimuth_deg) {
    Description d = head::mixer_kept(head);
    head::value(d, number) += by;
    const auto changed = Head::build(d);
    EXPECT_TRUE(changed) << number.path;
    const auto pose = changed->pose(sticks, azimuth_deg);
    EXPECT_TRUE(pose) << number.path;
    return pose ? pose->pitch_deg : std::vector<double>{};
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

TEST(EveryLinkage, SensitivityIsWhatAChangedNumberDoes) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const Sticks sticks = some_sticks(d);
        const auto found = sensitivity(head, sticks);
        ASSERT_TRUE(found) << d.name << ": " << found.error().message;
        expect_finite(answer(*found));
        for (std::size_t i = 0; i < 6; ++i) {
            const Effect& effect = found->effects[i];
            constexpr double step = 1e-3;
            for (std::size_t k = 0; k < d.grips.size(); ++k) {
                double mean = 0;
                constexpr int places = 24;
                for (int a = 0; a < places; ++a)
                    mean += (pitch_with(head, effect.number, step, sticks, 360.0 * a / places)[k] -
                             pitch_with(head, effect.number, -step, sticks, 360.0 * a / places)[k]) /
                            (2 * step * places);
                EXPECT_NEAR(effect.blades[k].mean_deg, mean, 1e-4 * std::max(1.0, std::abs(mean)))
                    << d.name << ": " << effect.number.path;
            }
        }
    }
}

// Forty heads: the standard deviation of a standard deviation is 11 %; four of them are allowed.
TEST(EveryLinkage, ToleranceSpreadsAsTheSlopesSay) {
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d);
        ASSERT_TRUE(head) << d.name;
        ToleranceRequest request;
        request.sticks = some_sticks(d);
        request.tolerances = usual_tolerances(d);
        request.samples = 40;
        const auto found = tolerance(*head, request);
        ASSERT_TRUE(found) << d.name << ": " << found.error();
        expect_finite(answer(*found));
        EXPECT_LE(found->failed, 2) << d.name;  // the tail of the folder hardly reaches its ends
        for (const Spread& blade : found->pitch_deg) EXPECT_NEAR(blade.sampled / blade.linear, 1, 0.44) << d.name;
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

/// Readings of a bench: every blade at four azimuths, in the middle and at both ends of one or two sticks, noise-free.
Readings readings_of(const Description& d) {
    Readings out;
    std::vector<Sticks> places{{}};
    for (const double end : {-1.0, 1.0}) {
        if (d.kind == head::Kind::tail)
            places.push_back({.rudder = 0.6 * end});  // the one of the folder opens nearer to its ends
        else
            places.insert(places.end(), {{.collective = end}, {.elevator = end}, {.aileron = end}});
    }
    const auto head = Head::build(d);
    EXPECT_TRUE(head);
    for (const Sticks& sticks : places)
        for (const double azimuth : {0.0, 60.0, 150.0, 270.0}) {
            const auto pose = head->pose(sticks, azimuth);
            if (!pose) continue;
            for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
                out.pitch.push_back({static_cast<int>(k), sticks, azimuth, pose->pitch_deg[k], 0.03});
        }
    return out;
}

TEST(EveryLinkage, DiagnosisFindsTheLinkThatIsTooLong) {
    int found_first = 0, hidden = 0;
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d);
        ASSERT_TRUE(head);
        for (const Rod& rod : rods_of(d)) {
            Description wrong = d;
            const auto number = head::number_at(d, rod.path + ".error_mm");
            ASSERT_TRUE(number);
            head::value(wrong, *number) += 0.5;
            DiagnosisOptions options;
            options.pairs = false;
            options.advice = rod.path == rods_of(d).front().path;  // once a head, as all suspects: it takes its time
            if (!options.advice) options.kinds = {FaultKind::lower_link, FaultKind::upper_link, FaultKind::other_link};
            const Readings with = readings_of(wrong), without = readings_of(d);
            double shown = 0;
            for (std::size_t i = 0; i < std::min(with.pitch.size(), without.pitch.size()); ++i)
                shown = std::max(shown, std::abs(with.pitch[i].reading_deg - without.pitch[i].reading_deg));
            const auto found = diagnose(*head, with, options);
            ASSERT_TRUE(found) << d.name << ": " << found.error().message;
            expect_finite(answer(*found));
            const auto part = [&](int fault) { return found->suspects[static_cast<std::size_t>(fault)].part; };
            if (shown < 1e-9) {  // what moves the paddles only
                EXPECT_TRUE(found->best().fit.faults.empty());
                EXPECT_TRUE(std::ranges::any_of(found->unseen, [&](int fault) { return part(fault) == rod.path; }));
                continue;
            }
            ++hidden;
            ASSERT_FALSE(found->best().fit.faults.empty()) << d.name << ": " << rod.path;
            const bool first = part(found->best().fit.faults[0]) == rod.path;
            const bool stands_in =
                std::ranges::any_of(found->stand_ins, [&](const StandIn& s) { return part(s.fault) == rod.path; });
            EXPECT_TRUE(first || stands_in) << d.name << ": " << rod.path << ": " << answer(*found).text;
            if (!first) continue;
            ++found_first;
            EXPECT_NEAR(found->best().fit.size[0], 0.5, 0.1) << d.name << ": " << rod.path;
            EXPECT_THAT(answer(*found).text, HasSubstr("mm too long"));
            const Correction c = correction(found->suspects[static_cast<std::size_t>(found->best().fit.faults[0])],
                                            found->best().fit.size[0], *head);
            ASSERT_TRUE(c.change_mm);
            EXPECT_LT(*c.change_mm, 0);
        }
    }
    EXPECT_GT(found_first, hidden / 2);
}

TEST(EveryLinkage, ComparisonTellsTheOneNumberThatDiffers) {
    for (const Description& d : testing::linkages()) {
        Description after = d;
        if (rods_of(d).empty()) continue;
        const auto number = head::number_at(d, rods_of(d).back().path + ".error_mm");
        head::value(after, *number) += 0.2;
        const Comparison found = compare(d, after);
        ASSERT_EQ(found.numbers.size(), 1U) << d.name;
        EXPECT_EQ(found.numbers[0].parameter.path, number->path);
        EXPECT_EQ(found.sticks.size(), 3U);
        double most = 0;
        for (const StickChange& s : found.sticks) {
            if (!s.why_not.empty()) {  // as the tail of the folder at its ends: one of the two cannot be posed there
                EXPECT_FALSE(Head::build(d)->pose(s.sticks, 0) && Head::build(after)->pose(s.sticks, 0)) << d.name;
                EXPECT_THAT(s.why_not, HasSubstr("mm too ")) << d.name;
                continue;
            }
            for (std::size_t k = 0; k < s.before_deg.size(); ++k)
                most = std::max(most, std::abs(s.after_deg[k] - s.before_deg[k]));
        }
        EXPECT_GT(most, 1e-4) << d.name;
        const Answer told = answer(found, "before", "after");
        expect_finite(told);
        if (d.kind == head::Kind::tail) {
            EXPECT_THAT(told.tables[1].title, HasSubstr("rudder"));
            EXPECT_EQ(found.sticks[2].sticks.rudder, 1);
        }
    }
}

TEST(EveryLinkage, LiveValuesAreThoseOfThePose) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        const Sticks sticks = some_sticks(d);
        const auto pose = head.pose(sticks, 25);
        ASSERT_TRUE(pose);
        for (const std::string& name : live_value_names(d)) {
            const auto value = live_value(head, sticks, 25, name);
            if (!value) {
                EXPECT_EQ(name, "folded_mm") << d.name << " " << value.error();
                continue;
            }
            EXPECT_TRUE(std::isfinite(*value)) << d.name << " " << name;
            EXPECT_FALSE(value_words(d, name).words.empty());
        }
        for (std::size_t i = 0; i < d.levers.size(); ++i)
            EXPECT_EQ(live_value(head, sticks, 25, fmt::format("lever[{}].angle_now_deg", i + 1)), pose->lever_deg[i]);
        for (std::size_t i = 0; i < d.sliders.size(); ++i)
            EXPECT_EQ(live_value(head, sticks, 25, fmt::format("slider[{}].place_now_mm", i + 1)), pose->slider_mm[i]);
        for (const Rod& rod : rods_of(d))
            for (std::size_t e = 0; e < 2; ++e) {
                if (rod.ends[e].of != BallName::Of::servo) continue;
                const Seen own = seen(d, pose->skeleton, rod.ends[e]), other = seen(d, pose->skeleton, rod.ends[1 - e]);
                const Vec3 back = own.part.origin - own.at, along = other.at - own.at;
                const double wanted = std::acos(back.normalized().dot(along.normalized())) / degree;
                const auto value =
                    live_value(head, sticks, 25, fmt::format("servo[{}].horn_to_link_deg", rod.ends[e].index + 1));
                ASSERT_TRUE(value) << value.error();
                EXPECT_NEAR(*value, wanted, 1e-6) << d.name;
            }
        const auto names = live_value_names(d);
        const bool tail = d.kind == head::Kind::tail;
        EXPECT_EQ(std::ranges::count(names, "rudder"), tail);
        EXPECT_EQ(std::ranges::count(names, "collective"), !tail);
    }
}

TEST(EveryLinkage, TheSentenceAndTrackingAnswerOrSayWhyNot) {
    for (const Head& head : heads()) {
        const Description& d = head.description();
        for (const Sticks& sticks : {Sticks{}, some_sticks(d)}) {
            const Sentence said = sentence(head, sticks, 10);
            EXPECT_FALSE(said.text.empty());
            EXPECT_THAT(said.text, Not(HasSubstr("nan"))) << d.name;
            const auto found = tracking(head, sticks);
            if (found)
                expect_finite(answer(*found, d));
            else
                EXPECT_FALSE(found.error().message.empty()) << d.name;
        }
    }
}

}  // namespace
}  // namespace swashwright::studies
