// Which way studs point, in the head frame, against the conventions told in the scene file's description.
#include "kinematics/head/studs.h"

#include <gtest/gtest.h>

#include <limits>
#include <optional>

#include "kinematics/head/head.h"
#include "tests/support/random_head.h"

namespace swashwright::head {
namespace {

// A pose is solved to 1e-10 mm over arms of 10 mm and more.
constexpr double same = 1e-10;

Vec3 across(const Vec3& v, const Vec3& normal) {
    return v - v.dot(normal) * normal;
}

struct Posed {
    Description description;
    Skeleton at;
};

/// A random head with these studs on all its parts, somewhere off neutral; none if it does not close there.
std::optional<Posed> posed(std::mt19937_64& bits, const Vec3& stud) {
    Description d = testing::random_head(bits);
    for (Servo& servo : d.servos) servo.stud = stud;
    d.swashplate.inner_stud = d.swashplate.outer_stud = stud;
    for (Grip& grip : d.grips) grip.stud = stud;
    const auto head = Head::build(d);
    if (!head || head->neutral_failure()) return std::nullopt;
    testing::Draw draw(bits);
    const auto pose =
        head->pose({draw.between(-1, 1), draw.between(-0.7, 0.7), draw.between(-0.7, 0.7)}, draw.between(0, 360));
    if (!pose) return std::nullopt;
    return Posed{d, pose->skeleton};
}

// Each part's three directions from where its balls stand: along the horn from pivot to ball, along the output shaft;
// out from the tilt centre in the ring's plane, turning (anticlockwise seen from above on both rings), along the
// normal; out along the feathering axis, leading, up.
TEST(Studs, PointAsDescribedOnEveryPart) {
    std::mt19937_64 bits(11);
    int seen = 0;
    for (int i = 0; i < 200; ++i) {
        for (int axis = 0; axis < 3; ++axis) {
            const auto found = posed(bits, 3 * Vec3::Unit(axis));  // need not be a unit vector
            if (!found) continue;
            const auto& [d, at] = *found;
            const double spin = spin_sign(d.rotor.direction);
            for (std::size_t j = 0; j < 3; ++j) {
                const Vec3 horn = (at.horn_balls[j] - pivot_point(d.servos[j].pivot_mm)).normalized();
                const Vec3 shaft = across(d.servos[j].axis, horn).normalized();
                const std::array<Vec3, 3> of_horn{horn, shaft.cross(horn), shaft};
                const Vec3 stud = at.horns[j].turn * horn_stud(d, j);
                EXPECT_NEAR((stud - of_horn[axis]).norm(), 0, same);

                const Vec3 normal = at.inner_ring.turn.col(2);
                const Vec3 out = across(at.inner_balls[j] - at.inner_ring.origin, normal).normalized();
                const std::array<Vec3, 3> of_ring{out, normal.cross(out), normal};
                EXPECT_NEAR((at.inner_ring.turn * inner_ring_stud(d, j) - of_ring[axis]).norm(), 0, same);
            }
            for (std::size_t k = 0; k < d.grips.size(); ++k) {
                const Vec3 normal = at.outer_ring.turn.col(2);
                const Vec3 out = across(at.outer_balls[k] - at.outer_ring.origin, normal).normalized();
                const std::array<Vec3, 3> of_ring{out, normal.cross(out), normal};
                EXPECT_NEAR((at.outer_ring.turn * outer_ring_stud(d, k) - of_ring[axis]).norm(), 0, same);

                // The arm's ball less its place by the three numbers shows what the grip's directions are.
                const Vec3 along = spin * at.grips[k].turn.col(2), lead = at.grips[k].turn.col(0);
                const Vec3 up = at.grips[k].turn.col(1);
                const PitchArm& arm = d.grips[k].pitch_arm;
                const Vec3 ball = at.grips[k].origin + arm.along_mm * along + arm.lead_mm * lead + arm.up_mm * up;
                EXPECT_NEAR((ball - at.grip_balls[k]).norm(), 0, 1e-9);
                const std::array<Vec3, 3> of_grip{along, lead, up};
                EXPECT_NEAR((at.grips[k].turn * arm_stud(d, k) - of_grip[axis]).norm(), 0, same);
            }
            ++seen;
        }
    }
    EXPECT_GT(seen, 400);
}

TEST(Studs, OfAnArmPointTheArmsWayUnlessTold) {
    Description d = testing::random_head(std::uint64_t{3});
    for (const double lead : {20.0, -20.0}) {
        d.grips[0].pitch_arm.lead_mm = lead;
        EXPECT_EQ(arm_stud(d, 0), Vec3(lead / 20, 0, 0));  // x of the grip's frame leads
    }
}

// What would end as not-a-number or as a bound that nothing keeps is refused when the head is built.
TEST(Studs, AndLimitsThatMakeNoSenseAreRefused) {
    const Description good = testing::random_head(std::uint64_t{3});
    ASSERT_TRUE(Head::build(good));
    const double infinity = std::numeric_limits<double>::infinity(), nan = std::numeric_limits<double>::quiet_NaN();
    const auto refused = [&](auto spoil) {
        Description d = good;
        spoil(d);
        const auto head = Head::build(d);
        EXPECT_FALSE(head);
        if (head) return;
        EXPECT_FALSE(head.error().message.empty());
    };
    refused([](Description& d) { d.servos[0].stud.setZero(); });
    refused([&](Description& d) { d.swashplate.inner_stud.x() = infinity; });
    refused([&](Description& d) { d.grips[1].stud = Vec3(0, nan, 0); });
    refused([](Description& d) { d.lower_links[2].neck_mm[1] = d.lower_links[2].ball_mm[1]; });
    refused([](Description& d) { d.upper_links[0].tilt_limit_deg = std::array{18.0, 0.0}; });
    refused([&](Description& d) { d.upper_links[0].end_twist_deg = nan; });
    refused([](Description& d) { d.swashplate.height_stops_mm = std::array{60.0, 30.0}; });
    refused([&](Description& d) { d.swashplate.driver_reach_mm = std::array{10.0, nan}; });
    refused([](Description& d) { d.swashplate.tilt_limit_deg = 0; });
}

}  // namespace
}  // namespace swashwright::head
