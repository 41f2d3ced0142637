// Eight poses of a head at once, or eight heads, against one at a time: heads of every kind, every kernel that this
// machine can run, poses that cannot be assembled among them.

#include "kinematics/head/lane_solver.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "kinematics/head/numbers.h"
#include "kinematics/head/solver.h"
#include "tests/support/random_linkage.h"
#include "tests/support/reference_head.h"

namespace swashwright::head {
namespace {

using testing::Draw;
using Kernel = linkage::LaneKernel;

/// A plain head that closes at neutral, or none; half of them with a second driver pin.
std::optional<Head> plain_head(std::mt19937_64& bits) {
    Description d = testing::random_head(bits);
    if (bits() % 2 == 0) {
        Polar other = d.swashplate.driver_pins[0];
        other.angle_deg += 180;
        d.swashplate.driver_pins.push_back(other);
        d.swashplate.driver_pins_as_list = true;
    }
    auto head = Head::build(d);
    if (!head || head->neutral_failure()) return std::nullopt;
    return *head;
}

/// The largest difference of all that is read and placed, mm and deg.
double apart(LaneSolver& eight, int lane, Solver& one) {
    double worst = std::abs(eight.height_mm()[lane] - one.height_mm());
    const auto differ = [&](double a, double b) { worst = std::max(worst, std::abs(a - b)); };
    if (one.head().description().swashplate.tilts) {
        differ(eight.tilt_forward_deg()[lane], one.tilt_forward_deg());
        differ(eight.tilt_right_deg()[lane], one.tilt_right_deg());
        for (int i = 0; i < 3; ++i)
            differ(eight.ring_normal()[static_cast<std::size_t>(i)][lane], one.ring_normal()[i]);
    }
    for (int k = 0; k < one.head().description().rotor.blades; ++k)
        differ(std::remainder(eight.pitch_deg(k)[lane] - one.pitch_deg(k), 360), 0);
    const linkage::Workspace& ws = one.workspace();
    for (int b = 1; b < static_cast<int>(ws.bodies.size()); ++b) {
        const Placement at = eight.placement({b}, lane);
        differ((at.origin - ws.placement({b}).origin).norm(), 0);
        differ((at.turn - ws.placement({b}).turn).norm(), 0);
    }
    for (int a = 0; a < static_cast<int>(ws.anchors.size()); ++a)
        differ((eight.point({a}, lane) - ws.point({a})).norm(), 0);
    return worst;
}

/// Where a residual falls on the very edge of the tolerance, rounding sends one of the two on by another step: then
/// they differ by what that residual, up to 1e-11 mm, is of the pose.
double allowed(const LaneSolver& eight, int lane, const Solver& one, double poses_per_residual) {
    return 1e-12 + poses_per_residual * std::abs(eight.residual_mm()[lane] - one.report().residual_mm);
}

struct Compared {
    int poses = 0, closed = 0, beyond = 0;  // beyond: by more than `allowed`, or not closed alike
    double worst = 0;
};

/// Poses of a head in eight lanes of which each goes its own way, and `Solver`s that go the same ways.
Compared compare(const Head& head, const Kernel& kernel, std::mt19937_64 bits, int rounds) {
    Draw draw(bits);
    Compared out;
    auto eight = LaneSolver::make(head, kernel);
    if (!eight) return out;
    std::vector<Solver> ones(lanes, Solver(head));
    for (int round = 0; round < rounds; ++round) {
        std::array<Sticks, lanes> sticks;
        std::array<double, lanes> azimuth{};
        for (std::size_t h = 0; h < head.parts().hands.size(); ++h) {
            const double deg =
                head.description().levers[std::size_t(head.parts().hands[h].lever)].angle_deg + draw.between(-3, 3);
            eight->set_hand(h, deg);
            for (Solver& one : ones) one.set_hand(h, deg);
        }
        for (std::size_t lane = 0; lane < lanes; ++lane) {
            const double reach = draw.chance(0.05) ? 4 : 1;  // some nowhere near
            const auto stick = [&](double most) { return reach * draw.between(-most, most); };
            sticks[lane] = {stick(0.9), stick(0.6), stick(0.6), stick(0.9)};
            azimuth[lane] = draw.between(-360, 360);
        }
        const LaneSet closed = eight->pose(sticks, azimuth);
        for (int lane = 0; lane < lanes; ++lane) {
            Solver& one = ones[std::size_t(lane)];
            const bool closes = one.pose(sticks[std::size_t(lane)], azimuth[std::size_t(lane)]);
            const double difference = apart(*eight, lane, one);
            ++out.poses;
            out.closed += closes;
            out.worst = std::max(out.worst, difference);
            const bool alike = closes == bool(closed >> lane & 1U);
            if (!alike || !(difference <= allowed(*eight, lane, one, 100))) ++out.beyond;
        }
        if (round == rounds / 2) {  // all over again
            eight->reset();
            for (Solver& one : ones) one.reset();
        }
    }
    return out;
}

RC_GTEST_PROP(LaneSolver, PosesAPlainHeadAsASolverDoesInEveryLane, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    const auto head = plain_head(bits);
    RC_PRE(head.has_value());
    for (const Kernel* kernel : linkage::lane_kernels()) {
        const Compared found = compare(*head, *kernel, bits, 4);
        RC_ASSERT(found.poses == 4 * lanes);
        RC_ASSERT(found.beyond == 0);
    }
}

TEST(LaneSolver, PosesEveryKindOfLinkageAsASolverDoes) {
    std::mt19937_64 bits(11);
    int solved = 0;
    for (const Description& kind : testing::linkages())
        for (int i = 0; i < 10; ++i) {
            const auto head = Head::build(testing::moved_a_little(kind, bits));
            if (!head || head->neutral_failure()) continue;
            EXPECT_TRUE(LaneSolver::make(*head)) << kind.name;
            ++solved;
            for (const Kernel* kernel : linkage::lane_kernels()) {
                const Compared found = compare(*head, *kernel, bits, 10);
                EXPECT_EQ(found.beyond, 0) << kind.name << ", " << kernel->name << ": " << found.worst;
                EXPECT_GT(found.closed, found.poses / 2) << kind.name;
            }
        }
    EXPECT_GT(solved, 60);
}

TEST(LaneSolver, PosesReferenceHeadsWithinATenMillionth) {
    int compared = 0;
    for (const char* folder : {"reference", "linkages"})
        for (const auto& [file, head, poses] : testing::reference_heads(folder))
            for (const Kernel* kernel : linkage::lane_kernels()) {
                auto eight = LaneSolver::make(head, *kernel);
                if (!eight) continue;
                for (std::size_t first = 0; first < poses.size(); first += lanes) {
                    std::vector<Sticks> sticks;
                    std::vector<double> azimuth;
                    bool by_hand = false;
                    for (std::size_t i = first; i < std::min<std::size_t>(poses.size(), first + lanes); ++i) {
                        sticks.push_back(testing::sticks_of(poses[i]));
                        azimuth.push_back(poses[i]["azimuth_deg"]);
                        by_hand = by_hand || poses[i].contains("hand");
                    }
                    if (by_hand) continue;  // lanes share their hands
                    ASSERT_EQ(eight->pose(sticks, azimuth), (1U << sticks.size()) - 1) << file;
                    for (std::size_t i = 0; i < sticks.size(); ++i) {
                        const auto& wanted = poses[first + i];
                        const int lane = static_cast<int>(i);
                        EXPECT_NEAR(eight->height_mm()[lane], wanted["height_mm"], 1e-7) << file;
                        for (std::size_t k = 0; k < wanted["pitch_deg"].size(); ++k)
                            EXPECT_NEAR(eight->pitch_deg(int(k))[lane], wanted["pitch_deg"][k], 1e-7) << file;
                        ++compared;
                    }
                }
            }
    EXPECT_GT(compared, 100);
}

/// Every number off by up to `widths` times what it is usually known to.
Description off_by(const Description& like, const std::vector<Number>& numbers, Draw& draw, double widths) {
    Description out = like;
    for (const Number& number : numbers) number.at(out) += draw.between(-widths, widths) * number.usual_tolerance;
    return out;
}

/// Eight heads like one, each built alone as well. How many lanes closed; each that did must be a head that stands so.
int compare_heads(const Head& like, LaneHeads& eight, Draw& draw, double widths) {
    const Description kept = mixer_kept(like);
    const auto all = numbers(kept);
    std::array<Description, lanes> made;
    LaneSet set = 0;
    for (int lane = 0; lane < lanes; ++lane) {
        made[std::size_t(lane)] = off_by(kept, all, draw, widths);
        if (eight.set(lane, made[std::size_t(lane)])) set |= 1U << lane;
    }
    set &= eight.start();
    int closed = 0;
    const Sticks sticks{draw.between(-0.8, 0.8), draw.between(-0.4, 0.4), draw.between(-0.4, 0.4),
                        draw.between(-0.8, 0.8)};
    for (const double azimuth : {0.0, 15.0, 115.0}) {
        set &= eight.pose(sticks, azimuth);
        for (int lane = 0; lane < lanes; ++lane) {
            if (!(set >> lane & 1U)) continue;
            ++closed;
            const auto head = Head::build(made[std::size_t(lane)]);
            EXPECT_TRUE(head && !head->neutral_failure());
            if (!head) continue;
            const auto pose = head->pose(sticks, azimuth);
            EXPECT_TRUE(pose) << like.description().name;
            if (!pose) continue;
            // Each closes within 1e-11 mm, from starts of their own.
            EXPECT_NEAR(eight.height_mm()[lane], pose->height_mm, 1e-9) << like.description().name;
            for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
                EXPECT_NEAR(eight.pitch_deg(int(k))[lane], pose->pitch_deg[k], 2e-9) << like.description().name;
        }
    }
    return closed;
}

TEST(LaneHeads, StandAsEachHeadBuiltAloneDoes) {
    std::mt19937_64 bits(21);
    Draw draw(bits);
    std::vector<Head> heads;
    for (int i = 0; i < 30; ++i)
        if (const auto head = plain_head(bits)) heads.push_back(*head);
    for (const Description& kind : testing::linkages())
        if (const auto head = Head::build(kind)) heads.push_back(*head);
    int closed = 0, wild = 0, tried = 0;
    for (const Head& head : heads)
        for (const Kernel* kernel : linkage::lane_kernels()) {
            auto eight = LaneHeads::make(head, *kernel);
            if (!eight) continue;
            for (int twice = 0; twice < 2; ++twice) {
                tried += 3 * lanes;
                closed += compare_heads(head, *eight, draw, 1);
                wild += compare_heads(head, *eight, draw, 100);  // 10 mm and 20 deg off: few are heads at all
            }
        }
    EXPECT_GT(closed, tried * 9 / 10);
    EXPECT_GT(wild, 0);
    EXPECT_LT(wild, tried);
}

TEST(LaneHeads, RefuseWhatIsNoHead) {
    std::mt19937_64 bits(5);
    const auto head = plain_head(bits);
    ASSERT_TRUE(head);
    auto eight = LaneHeads::make(*head);
    ASSERT_TRUE(eight);
    Description d = mixer_kept(*head);
    EXPECT_TRUE(eight->set(0, d));
    d.upper_links[0].length_mm = -1;
    EXPECT_FALSE(eight->set(0, d));
    d.upper_links[0].length_mm = 500;
    EXPECT_TRUE(eight->set(0, d));
    EXPECT_EQ(eight->start(), linkage::all_lanes & ~1U);
    d = mixer_kept(*head);
    EXPECT_TRUE(eight->set(0, d));
    EXPECT_EQ(eight->start(), linkage::all_lanes);
}

}  // namespace
}  // namespace swashwright::head
