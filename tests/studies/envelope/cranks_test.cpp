#include "kinematics/studies/envelope/cranks.h"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>

#include "kinematics/linkage/solve.h"
#include "kinematics/linkage/tangent.h"
#include "kinematics/studies/envelope/travel.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

/// Angle between coupler and output lever of a planar four-bar by the cosine rule.
double by_cosine_rule(double ground, double crank, double coupler, double lever, double angle_deg) {
    const double square = ground * ground + crank * crank - 2 * ground * crank * std::cos(angle_deg * degree);
    return std::acos((coupler * coupler + lever * lever - square) / (2 * coupler * lever)) / degree;
}

// Planar four-bars: the angle of the textbook (cosine rule on the diagonal; as in Norton, Design of Machinery, from
// memory), folded at 90 deg.
TEST(Transmission, InAPlaneIsTheTextbooksAngle) {
    const double ground = 60, crank = 20, coupler = 50, lever = 40;
    for (const double angle : {20.0, 60.0, 120.0, 200.0, 300.0}) {
        const Vec3 a(crank * std::cos(angle * degree), crank * std::sin(angle * degree), 0), d(ground, 0, 0);
        const Vec3 diagonal = d - a;
        const double length = diagonal.norm();
        const double along = (coupler * coupler - lever * lever + length * length) / (2 * length);
        const Vec3 square = Vec3::UnitZ().cross(diagonal.normalized());
        const Vec3 b = a + along * diagonal / length + std::sqrt(coupler * coupler - along * along) * square;
        double expected = by_cosine_rule(ground, crank, coupler, lever, angle);
        expected = std::min(expected, 180 - expected);
        EXPECT_NEAR(transmission_angle_deg(a - b, Vec3::UnitZ().cross(b - d)), expected, 1e-9) << angle;
    }
}

// Freudenstein, Trans. ASME 77 (1955) 853-861: coupler angles of open four-bars computed from his equation, which agree
// with the two decimals of Norton, Design of Machinery, example 4-1 and table P4-1 row a (book values from memory). The
// transmission angles are the cosine rule's.
TEST(Transmission, OfTextbookFourBars) {
    struct Case {
        double crank, coupler, lever, ground, input_deg, coupler_deg, wanted_deg;
    };
    for (const Case c : {Case{40, 120, 80, 100, 40, 20.297883, 37.026997}, Case{2, 7, 9, 6, 30, 88.837241, 28.448827},
                         Case{40, 90, 70, 100, 45, 27.260501, 55.939513}}) {
        const auto along = [](double deg) { return Vec3(std::cos(deg * degree), std::sin(deg * degree), 0); };
        const Vec3 end = c.crank * along(c.input_deg) + c.coupler * along(c.coupler_deg);
        const Vec3 lever = end - c.ground * Vec3::UnitX();
        EXPECT_NEAR(lever.norm(), c.lever, 1e-5);  // the table's six decimals
        EXPECT_NEAR(transmission_angle_deg(along(c.coupler_deg), Vec3::UnitZ().cross(lever)), c.wanted_deg, 2e-6);
    }
}

// Through the checker on random heads: sin(mu) of a pitch arm is the share that a small change of the link's length
// shows: the ball moves by dL / sin(mu), so d(pitch)/d(length) = 1 / (arm sin(mu)) rad/mm with the arm square to the
// feathering axis. The exact slope comes from the linkage's own derivative.
TEST(Transmission, OfAPitchArmIsWhatTheExactSlopeShows) {
    std::mt19937_64 bits(3);
    for (int i = 0; i < 300; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        head::Solver solver(*head);
        testing::Draw draw(bits);
        if (!solver.pose({draw.between(-1, 1), 0.3, -0.2}, draw.between(0, 360)) || !solver.linearise()) continue;
        const auto checker = crank_checker(*head);
        ASSERT_TRUE(checker->look(solver));
        head::Slopes slopes;
        const std::size_t servos = head->parts().horns.size();
        for (std::size_t k = 0; k < head->parts().grips.size(); ++k) {
            solver.slopes_by(*head::number_at(head->description(), fmt::format("upper_link[{}].error_mm", k + 1)),
                             slopes);
            const auto& arm = head->description().grips[k].pitch_arm;
            const double slope = std::abs(slopes.pitch_deg[k]) * degree * std::hypot(arm.lead_mm, arm.up_mm);
            EXPECT_NEAR(slope * std::sin(checker->value(servos + k) * degree), 1, 1e-9);
        }
    }
}

// A lever with its link straight through its pivot: no hold at all; square to it: all of it.
TEST(DeadPoint, IsWhereTheLinkPointsAtThePivot) {
    EXPECT_NEAR(transmission_angle_deg(Vec3::UnitX(), Vec3::UnitY()), 0, 1e-12);
    EXPECT_NEAR(transmission_angle_deg(Vec3::UnitY(), Vec3::UnitY()), 90, 1e-6);
}

// Of a block of one lever the smallest singular value is sin(mu) times the arm over the block's mean ball radius, which
// is the arm itself.
TEST(DeadPoint, OfOneLeverIsTheSineOfItsTransmissionAngle) {
    std::mt19937_64 bits(4);
    for (int i = 0; i < 200; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        head::Solver solver(*head);
        if (!solver.pose({0.4, 0.2, 0.1}, 33)) continue;
        const auto cranks = crank_checker(*head), holds = dead_point_checker(*head);
        ASSERT_TRUE(cranks->look(solver) && holds->look(solver));
        for (std::size_t b = 0; b < holds->checks().size(); ++b) {
            EXPECT_GT(holds->value(b), 0);
            for (std::size_t c = 0; c < cranks->checks().size(); ++c)
                if (holds->checks()[b].parts[0] == cranks->checks()[c].parts[1]) {
                    EXPECT_NEAR(holds->value(b), std::sin(cranks->value(c) * degree), 1e-9);
                }
        }
    }
}

/// Least singular value by the eigenvalues of J^T J.
double least_singular_value(const Eigen::Matrix4d& jacobian) {
    return std::sqrt(Eigen::SelfAdjointEigenSolver<Eigen::Matrix4d>(jacobian.transpose() * jacobian).eigenvalues()[0]);
}

// The ring by hand, from where its balls stand: how fast each lower link and the guide pin's plane would be stretched
// by a lift of the ring (first column) and by its turning (the others, per mm at the mean radius of balls and pin). The
// driver by hand: the share of its pin's way round the ring that runs square to the driver's plane.
TEST(DeadPoint, OfRingAndDriverIsThatOfTheJacobianByHand) {
    std::mt19937_64 bits(6);
    int seen = 0;
    for (int i = 0; i < 300; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        const head::Description& d = head->description();
        testing::Draw draw(bits);
        const head::Sticks sticks{draw.between(-1, 1), draw.between(-0.7, 0.7), draw.between(-0.7, 0.7)};
        const double azimuth = draw.between(0, 360);
        const auto pose = head->pose(sticks, azimuth);
        head::Solver solver(*head);
        if (!pose || !solver.pose(sticks, azimuth)) continue;
        const auto holds = dead_point_checker(*head);
        ASSERT_TRUE(holds->look(solver));

        const head::Skeleton& at = pose->skeleton;
        const Vec3 centre = at.inner_ring.origin;
        double radius = (at.guide_pin - centre).norm() / 4;
        for (const Vec3& ball : at.inner_balls) radius += (ball - centre).norm() / 4;
        const auto plane = [](double deg) { return Vec3(-std::sin(deg * degree), std::cos(deg * degree), 0); };
        Eigen::Matrix4d jacobian;
        const auto row = [&](int r, const Vec3& way, const Vec3& point) {
            jacobian.row(r) << way.z(), (point - centre).cross(way).transpose() / radius;
        };
        for (std::size_t j = 0; j < 3; ++j)
            row(static_cast<int>(j), (at.inner_balls[j] - at.horn_balls[j]).normalized(), at.inner_balls[j]);
        row(3, plane(d.swashplate.guide_pin.angle_deg + d.swashplate.guide_turn_deg), at.guide_pin);

        const double ahead = d.swashplate.driver_pins[0].angle_deg + d.swashplate.driver_turn_deg;
        const Vec3 round = at.outer_ring.turn.col(2).cross(at.driver_pins[0] - centre).normalized();
        const double driver = std::abs(round.dot(plane(180 + head::spin_sign(d.rotor.direction) * (azimuth + ahead))));
        for (std::size_t b = 0; b < holds->checks().size(); ++b) {
            const std::string& part = holds->checks()[b].parts[0];
            // Both poses are solved to 1e-10 mm; at arms of some 20 mm nothing is left of that at 1e-8.
            if (!part.starts_with("swashplate")) continue;
            EXPECT_NEAR(holds->value(b), part == "swashplate" ? least_singular_value(jacobian) : driver, 1e-8) << i;
            ++seen;
        }
    }
    EXPECT_GT(seen, 400);
}

TEST(Travel, MeasuresFromNeutralAndFromTheShaft) {
    std::mt19937_64 bits(5);
    auto description = testing::random_head(bits);
    description.swashplate.height_stops_mm = std::array{10.0, 90.0};
    description.swashplate.tilt_limit_deg = 20;
    description.swashplate.driver_reach_mm = std::array{5.0, 50.0};
    const auto head = head::Head::build(description);
    ASSERT_TRUE(head && !head->neutral_failure());
    EXPECT_TRUE(travel_not_checked(description).empty());
    const auto checker = travel_checker(*head);
    head::Solver solver(*head);
    const head::Sticks sticks{0.3, -0.2, 0.25};
    ASSERT_TRUE(solver.pose(sticks, 50));
    ASSERT_TRUE(checker->look(solver));
    for (std::size_t i = 0; i < checker->checks().size(); ++i) {
        const std::string& key = checker->checks()[i].key;
        if (key.starts_with("travel.servo[")) {
            EXPECT_NEAR(checker->value(i), head->horn_angle_deg(i, sticks) - description.servos[i].neutral_deg, 1e-9);
        }
        if (key == "travel.ring_height") {
            EXPECT_EQ(checker->value(i), solver.height_mm());
        }
        if (key == "travel.ring_tilt") {
            EXPECT_NEAR(checker->value(i), head->pose(sticks, 50)->tilt_deg, 1e-7);  // both poses solved to 1e-10 mm
        }
        if (key.starts_with("travel.driver_pin")) {
            EXPECT_GT(checker->value(i), 0);
        }
    }
    description.swashplate.height_stops_mm.reset();
    EXPECT_EQ(travel_not_checked(description).size(), 1U);
}

}  // namespace
}  // namespace swashwright::studies
