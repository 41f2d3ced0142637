// What must hold for every kind of linkage, over many drawn at random.

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>

#include "kinematics/head/all_slopes.h"
#include "tests/support/random_linkage.h"

namespace swashwright::head {
namespace {

constexpr int draws_of_each = 12;

struct Drawn {
    Head head;
    Sticks sticks;
    std::vector<double> hands;
    double azimuth_deg = 0;
};

/// Heads of every kind that close, each with a stick position, hands and an azimuth.
std::vector<Drawn> drawn(std::uint64_t seed) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    std::vector<Drawn> out;
    for (const Description& kind : testing::linkages())
        for (int i = 0; i < draws_of_each; ++i) {
            const auto head = Head::build(testing::moved_a_little(kind, bits));
            EXPECT_TRUE(head) << kind.name << ": " << head.error().message;
            if (!head) continue;
            Drawn one{*head, {}, {}, draw.between(0, 360)};
            one.sticks = {draw.between(-0.7, 0.7), draw.between(-0.5, 0.5), draw.between(-0.5, 0.5),
                          draw.between(-0.7, 0.7)};
            for (const Parts::Hand& hand : head->parts().hands) {
                const auto range = *head->description().levers[static_cast<std::size_t>(hand.lever)].by_hand_deg;
                one.hands.push_back(draw.between(0.6 * range[0], 0.6 * range[1]));
            }
            // A tail's short slider link, say, need not reach wherever its numbers are moved to.
            if (head->pose(one.sticks, one.azimuth_deg, one.hands)) out.push_back(std::move(one));
        }
    EXPECT_GT(out.size(), testing::linkages().size() * draws_of_each * 3 / 4);
    return out;
}

bool go_to(Solver& solver, const Drawn& at) {
    for (std::size_t i = 0; i < at.hands.size(); ++i) solver.set_hand(i, at.hands[i]);
    return solver.pose(at.sticks, at.azimuth_deg);
}

/// Everything that is read at a pose.
std::vector<double> readings(const Pose& pose) {
    std::vector<double> out{pose.height_mm, pose.tilt_forward_deg, pose.tilt_right_deg, pose.misfit_mm.value_or(0)};
    for (const auto* list : {&pose.pitch_deg, &pose.lever_deg, &pose.slider_mm})
        out.insert(out.end(), list->begin(), list->end());
    return out;
}

void expect_same(const Pose& a, const Pose& b, double within, const std::string& words) {
    const auto x = readings(a), y = readings(b);
    ASSERT_EQ(x.size(), y.size());
    for (std::size_t i = 0; i < x.size(); ++i) {
        EXPECT_TRUE(std::isfinite(x[i])) << words;
        EXPECT_NEAR(x[i], y[i], within) << words << " reading " << i;
    }
}

TEST(RandomLinkages, APoseIsTheSameAFullTurnLaterAndWhateverCameBefore) {
    for (const Drawn& at : drawn(1)) {
        const auto pose = at.head.pose(at.sticks, at.azimuth_deg, at.hands);
        ASSERT_TRUE(pose) << at.head.description().name << ": " << pose.error().message;
        const auto later = at.head.pose(at.sticks, at.azimuth_deg + 360, at.hands);
        ASSERT_TRUE(later);
        expect_same(*pose, *later, 1e-9, at.head.description().name);
        Solver solver(at.head);
        ASSERT_TRUE(solver.pose(Sticks{-at.sticks.collective, at.sticks.elevator, 0.1, -at.sticks.rudder}, 77));
        ASSERT_TRUE(go_to(solver, at));
        EXPECT_NEAR(solver.height_mm(), pose->height_mm, 1e-9);
        for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
            EXPECT_NEAR(solver.pitch_deg(static_cast<int>(k)), pose->pitch_deg[k], 1e-7) << at.head.description().name;
    }
}

TEST(RandomLinkages, AMirrorGivesTheSamePitch) {
    for (const Drawn& at : drawn(2)) {
        const auto pose = at.head.pose(at.sticks, at.azimuth_deg, at.hands);
        ASSERT_TRUE(pose);
        const auto mirror = Head::build(testing::mirrored(at.head.description()));
        ASSERT_TRUE(mirror) << mirror.error().message;
        Sticks sticks = at.sticks;
        sticks.aileron = -sticks.aileron;
        std::vector<double> hands;
        for (const double hand : at.hands) hands.push_back(-hand);
        auto seen = mirror->pose(sticks, at.azimuth_deg, hands);
        ASSERT_TRUE(seen) << at.head.description().name << ": " << seen.error().message;
        seen->tilt_right_deg = -seen->tilt_right_deg;
        for (double& angle : seen->lever_deg) angle = -angle;
        expect_same(*pose, *seen, 1e-7, at.head.description().name);
    }
}

/// Central differences of 1e-4 mm or deg; their own error is of the order of 1e-8 of the third derivative, and rounding
/// in a pose good to 1e-10 leaves 1e-6.
TEST(RandomLinkages, EverySlopeIsThatOfDifferences) {
    int compared = 0;
    for (const Drawn& at : drawn(3)) {
        Solver solver(at.head);
        ASSERT_TRUE(go_to(solver, at));
        ASSERT_TRUE(solver.linearise()) << at.head.description().name;
        const Description& d = at.head.description();
        const auto all = numbers(d);
        Slopes slopes;
        AllSlopes at_once(at.head, all);
        ASSERT_TRUE(at_once.at(solver));
        const Eigen::MatrixXd table = at_once.by_numbers(solver, at.sticks);
        for (std::size_t n = compared % 7; n < all.size(); n += 7) {  // a seventh of them from each head
            solver.slopes_by(all[n], slopes, at.sticks);
            constexpr double step = 1e-4;
            std::array<Pose, 2> ends;
            for (int side = 0; side < 2; ++side) {
                Description moved = d;
                all[n].at(moved) += side ? step : -step;
                const auto head = Head::build(moved);
                ASSERT_TRUE(head) << head.error().message;
                // The mixer keeps what it was set up with where a ball is moved: horns stand as they stood.
                std::vector<double> horns = head->horn_angles_deg(at.sticks);
                if (all[n].kind == NumberKind::inner_ball) horns = at.head.horn_angles_deg(at.sticks);
                std::vector<double> hands = at.hands;
                if (all[n].kind == NumberKind::hand_angle) hands[0] += side ? step : -step;
                const auto pose = head->pose(horns, at.azimuth_deg, hands);
                ASSERT_TRUE(pose) << pose.error().message;
                ends[static_cast<std::size_t>(side)] = *pose;
            }
            const auto check = [&](double slope, double high, double low, const char* what) {
                const double difference = (high - low) / (2 * step);
                EXPECT_NEAR(slope, difference, 2e-5 * std::max(1.0, std::abs(difference)))
                    << d.name << ", " << all[n].path << ", " << what;
            };
            const auto here = table.col(static_cast<Eigen::Index>(n));
            for (const double slope : {slopes.height_mm, here[AllSlopes::height]})
                check(slope, ends[1].height_mm, ends[0].height_mm, "height");
            for (const double slope : {slopes.tilt_forward_deg, here[AllSlopes::tilt_forward]})
                check(slope, ends[1].tilt_forward_deg, ends[0].tilt_forward_deg, "tilt");
            check(here[AllSlopes::tilt_right], ends[1].tilt_right_deg, ends[0].tilt_right_deg, "tilt to the right");
            for (std::size_t k = 0; k < slopes.pitch_deg.size(); ++k)
                for (const double slope : {slopes.pitch_deg[k], here[AllSlopes::first_pitch + static_cast<int>(k)]})
                    check(slope, ends[1].pitch_deg[k], ends[0].pitch_deg[k], "pitch");
            ++compared;
        }
    }
    EXPECT_GT(compared, 400);
}

TEST(RandomLinkages, AnySticksHandsAndAzimuthGiveAPoseOrAReason) {
    std::mt19937_64 bits(4);
    testing::Draw draw(bits);
    for (const Drawn& at : drawn(4)) {
        for (int i = 0; i < 20; ++i) {
            std::vector<double> hands;
            for (std::size_t h = 0; h < at.hands.size(); ++h) hands.push_back(draw.between(-180, 180));
            const Sticks sticks{draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1)};
            const auto pose = at.head.pose(sticks, draw.between(-720, 720), hands);
            if (!pose) {
                EXPECT_FALSE(pose.error().message.empty());
                continue;
            }
            for (const double value : readings(*pose)) EXPECT_TRUE(std::isfinite(value));
            EXPECT_LT(pose->residual_mm, 1e-8);
        }
    }
}

TEST(RandomLinkages, AreWrittenAndReadBackAsTheyAre) {
    for (const Drawn& at : drawn(5)) {
        const scene::Scene scene{at.head.description(), "", {}};
        const std::string text = scene::write(scene);
        const auto read = scene::parse(text, "again");
        ASSERT_TRUE(read) << read.error().text() << text;
        EXPECT_EQ(scene::write(*read), text);
        const auto again = Head::build(read->head);
        ASSERT_TRUE(again);
        expect_same(*at.head.pose(at.sticks, at.azimuth_deg, at.hands),
                    *again->pose(at.sticks, at.azimuth_deg, at.hands), 1e-9, at.head.description().name);
    }
}

/// Kinds with more closures than unknowns, and plain heads with a second driver pin.
std::vector<Description> sharing(std::mt19937_64& bits) {
    std::vector<Description> out;
    for (const Description& kind : testing::linkages()) {
        const auto head = Head::build(kind);
        const auto shares = [](const linkage::Block& b) { return b.kind == linkage::BlockKind::shared; };
        if (head && std::ranges::any_of(head->plan().blocks(), shares)) out.push_back(kind);
    }
    EXPECT_EQ(out.size(), 2U);  // four servos, hinged links
    Description pins = testing::random_head(bits);
    Polar other = pins.swashplate.driver_pins[0];
    other.angle_deg += 180;
    pins.swashplate.driver_pins.push_back(other);
    pins.swashplate.driver_pins_as_list = true;
    out.push_back(pins);
    return out;
}

/// Both are solved to 1e-10 rad and 1e-11 mm.
void expect_same(Solver& solver, const Pose& pose, const std::string& words) {
    EXPECT_NEAR(solver.height_mm(), pose.height_mm, 1e-8) << words;
    for (std::size_t k = 0; k < pose.pitch_deg.size(); ++k)
        EXPECT_NEAR(std::remainder(solver.pitch_deg(static_cast<int>(k)) - pose.pitch_deg[k], 360), 0, 1e-7) << words;
    const auto& levers = solver.head().parts().levers;
    for (std::size_t k = 0; k < levers.size(); ++k)
        EXPECT_NEAR(std::remainder(solver.workspace().angle(levers[k]) / degree - pose.lever_deg[k], 360), 0, 1e-7)
            << words;
}

/// From far beyond full sticks half a turn on: the way there once led onto a saddle, grip 2 at -90 deg and its hinged
/// link folded against it, and stayed on it.
TEST(SharedMisfit, IsLeastWhereAJumpPassesASaddle) {
    const auto linkages = testing::linkages();
    const auto hinged = std::ranges::find(linkages, "reference: hinged links that drive the ring", &Description::name);
    ASSERT_NE(hinged, linkages.end());
    std::mt19937_64 bits(8123);
    const auto head = Head::build(testing::moved_a_little(*hinged, bits));
    ASSERT_TRUE(head);
    const Sticks sticks{-0.9900552573286134, 0.5045291619700283, 0.3340366149029701};
    const auto pose = head->pose(sticks, -60.25234089257515);
    ASSERT_TRUE(pose);
    Solver solver(*head);
    for (int twice = 0; twice < 2; ++twice) {
        ASSERT_TRUE(solver.pose({-2.8737620277680618, -2.7077831025963635, 2.9997088964873275}, 310.9405828940978));
        ASSERT_TRUE(solver.pose(sticks, -60.25234089257515));
        expect_same(solver, *pose, "after the jump");
    }
}

/// SWASHWRIGHT_JUMPS: heads of each kind.
TEST(SharedMisfit, IsTheSameFromNeutralAndAfterAnyJump) {
    constexpr int jumps = 50;
    const char* wanted = std::getenv("SWASHWRIGHT_JUMPS");
    const int heads = wanted ? std::atoi(wanted) : 20;
    std::mt19937_64 bits(6);
    testing::Draw draw(bits);
    int tried = 0, compared = 0;
    for (const Description& kind : sharing(bits))
        for (int i = 0; i < heads; ++i) {
            const auto head = Head::build(testing::moved_a_little(kind, bits));
            ASSERT_TRUE(head) << kind.name;
            if (head->neutral_failure()) continue;
            Solver solver(*head);
            for (int jump = 0; jump < jumps; ++jump, ++tried) {
                const double reach = draw.chance(0.3) ? 3 : 1;
                const auto stick = [&] { return reach * draw.between(-1, 1); };
                const Sticks sticks{stick(), stick(), stick(), stick()};
                const double azimuth = draw.between(-720, 720);
                const bool closed = solver.pose(sticks, azimuth);
                const auto pose = head->pose(sticks, azimuth);
                if (closed && pose) {
                    ++compared;
                    expect_same(solver, *pose, kind.name);
                } else {
                    solver.reset();  // it may come out on the other side of a pose that cannot be assembled
                }
            }
        }
    EXPECT_GT(compared, tried * 2 / 3);
    RecordProperty("compared", compared);
}

}  // namespace
}  // namespace swashwright::head
