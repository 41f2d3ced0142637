// Random heads posed by ours and by an outside solver.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/head.h"
#include "tests/peers/plain_head.h"
#include "tests/support/random_head.h"

namespace swashwright::peers {

struct Agreement {
    int poses = 0;
    int unreachable = 0;                                // by ours
    double height_mm = 0, tilt_deg = 0, pitch_deg = 0;  // largest differences
    double peer_residual_mm = 0;
};

/// Walks the peer from neutral to a pose, so that it stays on the branch that is continuous with neutral.
template <class Peer>
bool walk(Peer& peer, const std::vector<double>& neutral_deg, const std::vector<double>& horn_deg, double azimuth_deg,
          PeerPose& out) {
    constexpr int steps = 4;
    bool closed = peer.pose(neutral_deg, 0, out);
    std::vector<double> here = neutral_deg;
    for (int i = 1; i <= steps; ++i) {
        const double part = double(i) / steps;
        for (std::size_t j = 0; j < here.size(); ++j) here[j] = neutral_deg[j] + part * (horn_deg[j] - neutral_deg[j]);
        closed = peer.pose(here, i == steps ? azimuth_deg : 0, out) && closed;
    }
    return closed;
}

/// Poses `heads` random heads (2 to 6 blades) `poses` times each in both and gathers the largest differences.
template <class Peer>
void compare(int heads, int poses, Agreement& found) {
    for (int seed = 1; seed <= heads; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const head::Description description = testing::random_head(std::uint64_t(seed));
        const auto ours = head::Head::build(description);
        ASSERT_TRUE(ours) << ours.error().message;
        ASSERT_EQ(ours->neutral_failure(), nullptr) << ours->neutral_failure()->message;
        Peer peer(plain_head(description));
        std::vector<double> neutral;
        for (const head::Servo& servo : description.servos) neutral.push_back(servo.neutral_deg + servo.trim_deg);
        std::mt19937_64 bits{std::uint64_t(seed)};
        testing::Draw draw(bits);
        for (int i = 0; i < poses; ++i) {
            const double size = std::sqrt(draw.between(0, 1)), way = draw.between(0, 2 * pi);
            const head::Sticks sticks{draw.between(-1, 1), size * std::cos(way), size * std::sin(way)};
            const double azimuth = draw.between(0, 360);
            const std::vector<double> horns = ours->horn_angles_deg(sticks);
            ++found.poses;
            const auto pose = ours->pose(horns, azimuth);
            PeerPose theirs;
            if (!pose) {
                ++found.unreachable;
                continue;
            }
            ASSERT_TRUE(walk(peer, neutral, horns, azimuth, theirs)) << "at azimuth " << azimuth;
            const auto keep = [](double& worst, double difference) { worst = std::max(worst, std::abs(difference)); };
            keep(found.peer_residual_mm, peer.residual_mm());
            keep(found.height_mm, pose->height_mm - theirs.height_mm);
            keep(found.tilt_deg, pose->tilt_forward_deg - theirs.tilt_forward_deg);
            keep(found.tilt_deg, pose->tilt_right_deg - theirs.tilt_right_deg);
            for (std::size_t k = 0; k < theirs.pitch_deg.size(); ++k) {
                keep(found.pitch_deg, std::remainder(pose->pitch_deg[k] - theirs.pitch_deg[k], 360.0));
            }
        }
    }
}

inline void expect_agreement(const Agreement& found, double within) {
    ::testing::Test::RecordProperty("poses", found.poses);
    ::testing::Test::RecordProperty("height_mm", std::to_string(found.height_mm));
    EXPECT_LE(found.peer_residual_mm, 1e-10);
    EXPECT_LE(found.height_mm, within);
    EXPECT_LE(found.tilt_deg, within);
    EXPECT_LE(found.pitch_deg, within);
    EXPECT_LE(found.unreachable, found.poses / 100);
}

}  // namespace swashwright::peers
