#include "kinematics/studies/pitch/sensitivity.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/pitch/turn_curve.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

const Effect& effect_of(const Sensitivity& all, const std::string& path) {
    const auto at = std::ranges::find(all.effects, path, [](const Effect& e) { return e.number.path; });
    EXPECT_NE(at, all.effects.end()) << path;
    return *at;
}

/// A level ring at height 0 under a feathering axis at 40 mm; pitch-arm ball 10 mm along and 20 mm in the lead, above
/// the ring's ball by the link's 40 mm; three equal servo chains with level horns and upright links on a circle.
head::Description textbook_head(int blades) {
    head::Description d;
    d.name = "ring under level arms";
    d.rotor = {blades, head::Direction::anticlockwise, 40, 0, 500, 2000};
    for (int j = 0; j < 3; ++j) {
        const double azimuth = 60 + 120.0 * j;
        head::Servo servo;
        servo.name = std::to_string(j + 1);
        servo.pivot_mm = Vec3(testing::at_azimuth(36, azimuth, -30));
        servo.horn_zero = -testing::at_azimuth(1, azimuth, 0);
        servo.axis = testing::at_azimuth(1, azimuth + 90, 0);
        servo.horn_mm = 14;
        d.servos.push_back(servo);
        d.swashplate.inner_balls.push_back({22, azimuth, 0});
        d.lower_links.push_back({.length_mm = 30});
    }
    d.swashplate.guide_pin = {30, 180, 0};
    d.swashplate.driver_pins = {{20, 0, 0}};
    for (int k = 0; k < blades; ++k) {
        d.swashplate.outer_balls.push_back({std::hypot(10, 20), std::atan2(20, 10) / degree + 360.0 * k / blades, 0});
        d.upper_links.push_back({.length_mm = 40});
        d.grips.push_back({.pitch_arm = {10, 20, 0}});
    }
    d.mixing = {15, 8, 0};
    return d;
}

// At zero pitch the arm of h = 20 mm is level and its link upright: d theta / dL = 1/h = 2.864789 deg/mm, exactly.
TEST(Sensitivity, OfAnUpperLinkIsOneOverTheArm) {
    for (const int blades : {2, 3, 4}) {
        const auto head = head::Head::build(textbook_head(blades));
        ASSERT_TRUE(head) << head.error().message;
        const auto all = sensitivity(*head, {});
        ASSERT_TRUE(all) << all.error().message;
        const Effect& upper = effect_of(*all, "upper_link[1].length_mm");
        EXPECT_NEAR(upper.blades[0].mean_deg, 2.864789, 1e-6);
        EXPECT_NEAR(upper.blades[0].cyclic_deg, 0, 1e-9);
        EXPECT_NEAR(upper.blades[1].mean_deg, 0, 1e-9);
        EXPECT_NEAR(upper.split_deg, 2.864789, 1e-6);
        EXPECT_NEAR(*upper.mm_per_half_turn, 0.2, 1e-12);  // M2 coarse, ISO 261: 0.40 mm
    }
}

// One of three equal lower links longer by 1 mm: the ring's centre rises by 1/3 mm and its ball by 1 mm, so the ring
// tilts by (2/3)/22 rad towards the opposite side. With cyclic gain r/h = 22.360680/20 the amplitude is that tilt times
// the gain.
TEST(Sensitivity, OfALowerLinkIsAThirdInTheMeanAndTiltsTheDisc) {
    const auto head = head::Head::build(textbook_head(3));
    ASSERT_TRUE(head);
    const auto all = sensitivity(*head, {});
    ASSERT_TRUE(all);
    const Effect& lower = effect_of(*all, "lower_link[2].length_mm");
    for (const BladeEffect& blade : lower.blades) {
        EXPECT_NEAR(blade.mean_deg, 2.864789 / 3, 1e-6);
        EXPECT_NEAR(blade.cyclic_deg, 2.0 / 3 / 22 / degree * std::hypot(10, 20) / 20, 1e-6);
        // Ball 2 stands at azimuth 180, over the tail; a blade's arm is over it when the blade is 63.434949 deg behind.
        EXPECT_NEAR(std::remainder(blade.cyclic_azimuth + std::atan2(20, 10) / degree, 360), 0, 1e-6);
    }
    EXPECT_NEAR(lower.split_deg, 0, 1e-9);
}

// Central differences of a whole turn at 1e-4 of the number: errors about 1e-7 in slopes of order 1.
TEST(Sensitivity, AgreesWithDifferencesOnRandomHeads) {
    const head::Sticks sticks{.collective = 0.3, .aileron = 0.4, .elevator = -0.3};
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        const head::Description d = testing::random_head(seed);
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        const auto all = sensitivity(*head, sticks);
        if (!all) continue;  // out of reach at these sticks
        const int samples = 24 * d.rotor.blades;
        for (const Effect& e : all->effects) {
            head::Description more = head::mixer_kept(*head), less = more;
            constexpr double step = 1e-4;
            head::value(more, e.number) += step;
            head::value(less, e.number) -= step;
            const auto up = turn_curve(*head::Head::build(more), sticks, samples),
                       down = turn_curve(*head::Head::build(less), sticks, samples);
            ASSERT_TRUE(up && down);
            for (std::size_t k = 0; k < e.blades.size(); ++k) {
                const auto &a = up->blades[k], &b = down->blades[k];
                EXPECT_NEAR(e.blades[k].mean_deg, (a.mean_deg - b.mean_deg) / (2 * step), 2e-6)
                    << e.number.path << " seed " << seed;
                double c = 0, s = 0;
                for (std::size_t i = 0; i < a.pitch_deg.size(); ++i) {
                    const double slope = (a.pitch_deg[i] - b.pitch_deg[i]) / (2 * step),
                                 azimuth = up->azimuth_deg[i] * degree;
                    c += 2 * slope * std::cos(azimuth) / static_cast<double>(a.pitch_deg.size());
                    s += 2 * slope * std::sin(azimuth) / static_cast<double>(a.pitch_deg.size());
                }
                EXPECT_NEAR(e.blades[k].cyclic_deg, std::hypot(c, s), 2e-6) << e.number.path << " seed " << seed;
            }
        }
    }
}

// Where the scene itself says what each servo takes of the sticks, the mixer has no azimuth to follow. Weights of the
// documented rule, worked out here, change nothing for a head whose mixer keeps the azimuths that it was set up with.
TEST(Sensitivity, ABallsAzimuthIsAMatterOfMetal) {
    const head::Sticks sticks{.collective = 0.2, .aileron = 0.8, .elevator = -0.5};
    for (const char* scene : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"}) {
        const head::Description d = testing::demo(scene);
        head::Description by_hand = d;
        for (std::size_t j = 0; j < d.servos.size(); ++j) {
            const double angle = (d.swashplate.inner_balls[j].angle_deg + d.mixing.phase_deg) * degree;
            if (!by_hand.servos[j].aileron_weight) by_hand.servos[j].aileron_weight = std::sin(angle);
            if (!by_hand.servos[j].elevator_weight) by_hand.servos[j].elevator_weight = -std::cos(angle);
        }
        const auto said = sensitivity(*head::Head::build(d), sticks),
                   expected = sensitivity(*head::Head::build(by_hand), sticks);
        ASSERT_TRUE(said && expected);
        for (std::size_t j = 1; j <= d.servos.size(); ++j) {
            const std::string path = "swashplate.inner_balls[" + std::to_string(j) + "].azimuth_deg";
            const Effect &a = effect_of(*said, path), &b = effect_of(*expected, path);
            for (std::size_t k = 0; k < a.blades.size(); ++k) {
                EXPECT_NEAR(a.blades[k].mean_deg, b.blades[k].mean_deg, 1e-12) << scene << " " << path;
                EXPECT_NEAR(a.blades[k].cyclic_deg, b.blades[k].cyclic_deg, 1e-12) << scene << " " << path;
            }
        }
    }
}

TEST(Sensitivity, RowsAreSortedAndNameTheirParts) {
    const auto head = head::Head::build(textbook_head(2));
    const auto all = sensitivity(*head, {});
    ASSERT_TRUE(all);
    const Answer said = answer(*all);
    for (const Table& table : said.tables) ASSERT_EQ(table.parts.size(), table.rows.size());
    for (std::size_t i = 0; i < all->effects.size(); ++i) {
        const std::string& path = all->effects[i].number.path;
        EXPECT_EQ(path.rfind(said.tables[0].parts[i], 0), 0U) << path;
        if (path == "upper_link[2].length_mm") {
            EXPECT_EQ(said.tables[0].parts[i], "upper_link[2]");
        }
        if (path == "grip[2].pitch_arm.up_mm") {
            EXPECT_EQ(said.tables[0].parts[i], "grip[2]");
        }
        if (path == "swashplate.inner_balls[3].height_mm") {
            EXPECT_EQ(said.tables[0].parts[i], "swashplate.inner_balls[3]");
        }
    }
    const auto size = [](const Effect& e) {
        return std::round(1e9 * e.size_deg() * (e.number.unit == head::Unit::mm ? 0.1 : 1.0));
    };
    EXPECT_TRUE(std::ranges::is_sorted(all->effects, std::greater<>(), size));
    EXPECT_EQ(answer(*all, 5).tables[0].rows.size(), 5U);
}

TEST(Sensitivity, NoHalfTurnWhereAnEndIsOneSided) {
    head::Description d = testing::demo("two_blade_600.toml");
    const auto told = [&] { return answer(*sensitivity(*head::Head::build(d), {})); };
    EXPECT_NE(told().text.find(": half a turn changes"), std::string::npos);
    for (head::Link& link : d.upper_links) link.end_faces = head::EndFaces::one_side;
    const Answer a = told();
    EXPECT_NE(a.text.find("upper link 1 counts most: a whole turn changes"), std::string::npos) << a.text;
    for (const auto& row : a.tables[0].rows) {
        const bool upper = std::get<std::string>(row[0]).starts_with("upper link ");
        const bool lower = std::get<std::string>(row[0]).starts_with("lower link ");
        EXPECT_EQ(std::holds_alternative<double>(row[5]), lower) << std::get<std::string>(row[0]) << upper;
    }
    for (head::Link& link : d.upper_links) link.rod = head::Rod::turnbuckle;  // its ends stay as they are
    EXPECT_NE(told().text.find(": half a turn changes"), std::string::npos);
}

}  // namespace
}  // namespace swashwright::studies
