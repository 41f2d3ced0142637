#include "kinematics/studies/loads/static_balance.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/head/solver.h"
#include "kinematics/studies/joints/closure_rows.h"
#include "kinematics/studies/loads/blade_moment.h"
#include "tests/support/every_linkage.h"
#include "tests/support/random_head.h"
#include "tests/support/square_head.h"

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr Give soft{.servo_nmm_per_deg = 150, .link_n_per_mm = 300};

/// Forces on the rings and grips of a plain head, from where its points stand and nothing else: each body cut free, six
/// sums of forces and moments for both rings together, one for the outer ring about its own normal (its bearing is
/// free), one for each grip about its axis. Unknown are the links' pulls, the push of guide and driver on their pins
/// square to their planes, and the shaft's on the ring's ball.
VectorXd cut_free(const head::Description& d, const head::Pose& pose, const std::vector<double>& grip_nmm) {
    const head::Skeleton& s = pose.skeleton;
    const auto blades = static_cast<Index>(d.grips.size());
    const Index guide = 3 + blades, driver = guide + 1, shaft = driver + 1, all = shaft + 2;
    Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(all, all);
    VectorXd sums = VectorXd::Zero(all);
    const Vec3 centre = s.inner_ring.origin, normal = s.inner_ring.turn.col(2);
    const auto on_rings = [&](Index column, const Vec3& at, const Vec3& force, bool outer) {
        rows.block<3, 1>(0, column) += force;
        rows.block<3, 1>(3, column) += (at - centre).cross(force);
        if (outer) rows(6, column) += normal.dot((at - centre).cross(force));
    };
    const auto towards = [](const Vec3& from, const Vec3& to) { return Vec3((to - from).normalized()); };
    for (Index j = 0; j < 3; ++j) {
        const auto i = static_cast<std::size_t>(j);
        on_rings(j, s.inner_balls[i], towards(s.inner_balls[i], s.horn_balls[i]), false);
    }
    for (Index k = 0; k < blades; ++k) {
        const auto i = static_cast<std::size_t>(k);
        on_rings(3 + k, s.outer_balls[i], towards(s.outer_balls[i], s.grip_balls[i]), true);
        const Vec3 arm = s.grip_balls[i] - s.grips[i].origin;
        rows(7 + k, 3 + k) = s.grips[i].turn.col(2).dot(arm.cross(towards(s.grip_balls[i], s.outer_balls[i])));
        sums[7 + k] = -grip_nmm[i];
    }
    const double guide_at = (d.swashplate.guide_pin.angle_deg + d.swashplate.guide_turn_deg) * degree;
    on_rings(guide, s.guide_pin, Vec3(-std::sin(guide_at), std::cos(guide_at), 0), false);
    const double ahead = head::spin_sign(d.rotor.direction) *
                         (d.swashplate.driver_pins[0].angle_deg + d.swashplate.driver_turn_deg) * degree;
    on_rings(driver, s.driver_pins[0], Vec3::UnitZ().cross(turn_about_z(ahead) * s.hub.turn.col(0)), true);
    on_rings(shaft, centre, Vec3::UnitX(), false);
    on_rings(shaft + 1, centre, Vec3::UnitY(), false);
    return rows.fullPivLu().solve(sums);
}

/// A stick position that random heads reach.
head::Sticks sticks(testing::Draw& draw) {
    return {draw.between(-0.8, 0.8), draw.between(-0.5, 0.5), draw.between(-0.5, 0.5)};
}

TEST(StaticBalance, OfRandomHeadsIsThatOfTheBodiesCutFree) {
    int compared = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const head::Description d = testing::random_head(seed);
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        std::mt19937_64 bits(seed);
        testing::Draw draw(bits);
        head::Solver solver(*head);
        std::vector<double> load;
        for (std::size_t k = 0; k < d.grips.size(); ++k) load.push_back(draw.between(-500, 500));
        const head::Sticks at = sticks(draw);
        const double azimuth = draw.between(0, 360);
        const auto pose = head->pose(at, azimuth);
        if (!pose || !solver.pose(at, azimuth)) continue;
        const auto found = StaticBalance(*head, soft).at(solver.workspace(), load);
        ASSERT_TRUE(found) << seed;
        const VectorXd wanted = cut_free(d, *pose, load);
        const double scale = wanted.head(3 + static_cast<Index>(d.grips.size())).cwiseAbs().maxCoeff();
        for (std::size_t j = 0; j < 3; ++j) {
            const double pull = wanted[static_cast<Index>(j)];
            EXPECT_NEAR(found->force_n[static_cast<std::size_t>(head->parts().lower_links[j].index)], pull,
                        1e-6 * scale);
            // The servo holds what the link's pull does to its horn.
            const head::Skeleton& s = pose->skeleton;
            const Vec3 force = pull * (s.inner_balls[j] - s.horn_balls[j]).normalized();
            const double wants = -s.horns[j].turn.col(2).dot((s.horn_balls[j] - s.horns[j].origin).cross(force));
            EXPECT_NEAR(found->horn_nmm[j], wants, 1e-6 * scale * d.servos[j].horn_mm);
        }
        for (std::size_t k = 0; k < d.grips.size(); ++k)
            EXPECT_NEAR(found->force_n[static_cast<std::size_t>(head->parts().upper_links[k].index)],
                        wanted[3 + static_cast<Index>(k)], 1e-6 * scale);
        ++compared;
    }
    EXPECT_GE(compared, 50);
}

// Work that the horns put in, turned by a little, is work that the blades take out: over every linkage in which nothing
// is held too often, with the slopes of the solver, which knows no forces.
TEST(StaticBalance, OfEveryLinkageIsVirtualWorkThroughTheExactSlopes) {
    int compared = 0;
    for (const head::Head& head : testing::heads()) {
        if (StaticBalance::shares(head)) continue;
        const head::Description& d = head.description();
        head::Solver solver(head);
        head::Slopes slopes;
        ASSERT_TRUE(solver.pose(testing::some_sticks(d), 70));
        std::vector<double> load;
        for (std::size_t k = 0; k < d.grips.size(); ++k) load.push_back(100.0 + 40.0 * static_cast<double>(k));
        const auto found = StaticBalance(head, soft).at(solver.workspace(), load);
        ASSERT_TRUE(found && solver.linearise()) << d.name;
        for (std::size_t j = 0; j < d.servos.size(); ++j) {
            solver.slopes_by_horn(static_cast<int>(j), slopes);
            double work = 0;
            for (std::size_t k = 0; k < load.size(); ++k) work += load[k] * slopes.pitch_deg[k];
            EXPECT_NEAR(found->horn_nmm[j], -work, 1e-7 * 500) << d.name;
        }
        ++compared;
    }
    EXPECT_GE(compared, 8);
}

// What gives way is what comes of it when links are made longer by their pull and horns are turned back by their
// moment, solved anew. Loads so small that what is of second order stays under the tolerance.
TEST(StaticBalance, GivesWayAsTheHeadSolvedAnewDoes) {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const head::Description d = testing::random_head(seed);
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        head::Solver solver(*head);
        const head::Sticks at{0.4, 0.2, -0.1};
        ASSERT_TRUE(solver.pose(at, 40));
        const std::vector<double> load(d.grips.size(), -1.0);
        const auto found = StaticBalance(*head, soft).at(solver.workspace(), load);
        ASSERT_TRUE(found);
        head::Description bent = head::mixer_kept(*head);
        const auto pull = [&](linkage::ClosureId link) { return found->force_n[static_cast<std::size_t>(link.index)]; };
        for (std::size_t j = 0; j < 3; ++j) {
            bent.lower_links[j].length_mm += pull(head->parts().lower_links[j]) / *soft.link_n_per_mm;
            bent.servos[j].trim_deg -= found->horn_nmm[j] / soft.servo_nmm_per_deg;
        }
        for (std::size_t k = 0; k < d.grips.size(); ++k)
            bent.upper_links[k].length_mm += pull(head->parts().upper_links[k]) / *soft.link_n_per_mm;
        const auto before = head->pose(at, 40), after = head::Head::build(bent)->pose(at, 40);
        ASSERT_TRUE(before && after);
        for (std::size_t k = 0; k < d.grips.size(); ++k) {
            EXPECT_NEAR(after->pitch_deg[k] - before->pitch_deg[k], found->give_deg[k],
                        1e-3 * std::abs(found->give_deg[k]) + 1e-9);
            EXPECT_LT(found->give_deg[k], 0);  // with the load, not against it
        }
    }
}

// By hand: both blades press down on their links with M / 25, the four lower links share it evenly, and each horn holds
// 15 mm times its quarter. A servo gives way by that over its stiffness, the ring sinks by 15 mm times that angle and
// by what the links are pressed together.
TEST(StaticBalance, OfFourServosIsSharedEvenlyWhereAllIsEven) {
    const auto head = head::Head::build(testing::square_head(testing::four_around));
    ASSERT_TRUE(head) << head.error().message;
    EXPECT_TRUE(StaticBalance::shares(*head));
    head::Solver solver(*head);
    ASSERT_TRUE(solver.pose(head::Sticks{}, 0));
    const auto found = StaticBalance(*head, soft).at(solver.workspace(), std::vector{-400.0, -400.0});
    ASSERT_TRUE(found);
    const double each = 2 * 400.0 / 25 / 4, horn = 15 * each;
    for (std::size_t j = 0; j < 4; ++j) {
        EXPECT_NEAR(found->force_n[static_cast<std::size_t>(head->parts().lower_links[j].index)], -each, 1e-9);
        EXPECT_NEAR(found->horn_nmm[j], horn, 1e-8);
    }
    const double sinks = 15 * horn / soft.servo_nmm_per_deg * degree + (each + 400.0 / 25) / *soft.link_n_per_mm;
    EXPECT_NEAR(found->give_deg[0], -sinks / 25 / degree, 1e-9);
}

TEST(StaticBalance, OfNoLoadIsNothing) {
    for (const head::Head& head : testing::heads()) {
        head::Solver solver(head);
        ASSERT_TRUE(solver.pose(head::Sticks{}, 0));
        const std::vector<double> none(head.description().grips.size(), 0.0);
        const auto found = StaticBalance(head, soft).at(solver.workspace(), none);
        ASSERT_TRUE(found) << head.description().name;
        for (const auto* list : {&found->force_n, &found->horn_nmm, &found->lever_nmm, &found->give_deg})
            for (const double value : *list) EXPECT_EQ(value, 0) << head.description().name;
    }
}

// Slowly from collective -0.8 to 0.8: what the horns put in is what the blades gain in the centrifugal force's
// potential.
TEST(StaticBalance, TakesNoEnergyOnASlowWay) {
    const head::Description d = testing::random_head(7);
    const auto head = head::Head::build(d);
    ASSERT_TRUE(head);
    const MassMoments mass{1e-4, 0, 4.5e-5, 0};
    const double speed = 200, cone = 2 * degree;
    head::Solver solver(*head);
    const StaticBalance balance(*head, soft);
    // The potential is -speed^2/2 of the sum of height squared: of what goes with the pitch.
    const auto potential = [&](double pitch) {
        const double s = std::sin(pitch);
        return speed * speed *
               (std::sin(cone) * std::cos(cone) * mass.ax * s +
                std::cos(cone) * std::cos(cone) * mass.xx_less_tt * s * s / 2);
    };
    double work = 0, gained[2] = {0, 0};
    constexpr int steps = 200;  // Simpson's rule: an error of some 1e-9 of it
    for (int i = 0; i <= steps; ++i) {
        const head::Sticks at{-0.8 + 1.6 * i / steps, 0.1, 0.2};
        ASSERT_TRUE(solver.pose(at, 25));
        std::vector<double> load;
        double here = 0;
        for (std::size_t k = 0; k < d.grips.size(); ++k) {
            const double pitch = solver.pitch_deg(static_cast<int>(k)) * degree;
            load.push_back(1000 * centrifugal_moment_nm(mass, pitch, cone, speed));
            here += 1000 * potential(pitch);
        }
        if (i == 0) gained[0] = here;
        if (i == steps) gained[1] = here;
        const auto found = balance.at(solver.workspace(), load);
        ASSERT_TRUE(found);
        const double weight = i == 0 || i == steps ? 1 : i % 2 == 1 ? 4 : 2;
        for (std::size_t j = 0; j < 3; ++j)
            work +=
                weight * found->horn_nmm[j] * head->stick_gains_deg(static_cast<int>(j))[0] * degree * 1.6 / steps / 3;
    }
    EXPECT_GT(std::abs(gained[1] - gained[0]), 0.01);
    EXPECT_NEAR(work, gained[1] - gained[0], 1e-6 * std::abs(gained[1]) + 1e-7);
}

}  // namespace
}  // namespace swashwright::studies
