#include <benchmark/benchmark.h>

#include "tests/bench/contest.h"
#include "tests/peers/plain_head.h"
#ifdef SWASHWRIGHT_BENCH_SIMBODY
#include "tests/peers/simbody_head.h"
#endif
#ifdef SWASHWRIGHT_BENCH_MUJOCO
#include "tests/peers/mujoco_head.h"
#endif

namespace swashwright::bench {
namespace {

/// An outside library under the afresh rule: azimuth outermost, sticks changed at every pose, from the last pose.
template <class Peer>
[[maybe_unused]] Row peer_row(const std::string& name, std::shared_ptr<Peer> peer, const Sweep& sweep, int every) {
    Row row;
    row.name = name;
    row.rule = "afresh";
    row.note = peer->settings();
    row.every_azimuth = every;
    row.check = [peer](const std::array<double, 3>& horns, double azimuth, Reading& out, double& residual) {
        peers::PeerPose pose;
        if (!peer->pose({horns.begin(), horns.end()}, azimuth, pose)) return false;
        out = {pose.height_mm, pose.tilt_forward_deg, pose.tilt_right_deg, {pose.pitch_deg[0], pose.pitch_deg[1]}};
        residual = peer->residual_mm();
        return true;
    };
    row.run = [peer, &sweep, every] {
        Tally tally;
        peers::PeerPose pose;
        std::vector<double> angles(3);
        const long before = peer->steps();
        for (std::size_t a = 0; a < sweep.azimuths.size(); a += every) {
            for (const auto& horns : sweep.horns) {
                angles.assign(horns.begin(), horns.end());
                tally.failed += !peer->pose(angles, sweep.azimuths[a], pose);
                benchmark::DoNotOptimize(pose);
                tally.checksum += pose.height_mm + pose.tilt_forward_deg + pose.tilt_right_deg + pose.pitch_deg[0] +
                                  pose.pitch_deg[1];
                ++tally.poses;
            }
        }
        tally.newton_steps = peer->steps() - before;
        return tally;
    };
    return row;
}

}  // namespace

std::vector<Row> peers([[maybe_unused]] const head::Head& head, [[maybe_unused]] const Sweep& sweep) {
    std::vector<Row> rows;
#ifdef SWASHWRIGHT_BENCH_MUJOCO
    using Mujoco = peers::MujocoHead;
    const auto mujoco = [&](Mujoco::Way way) {
        return std::make_shared<Mujoco>(peers::plain_head(head.description()), way);
    };
    rows.push_back(peer_row("MuJoCo, its Jacobian", mujoco(Mujoco::Way::mujoco_jacobian), sweep, 1));
    rows.push_back(peer_row("MuJoCo, kinematics only", mujoco(Mujoco::Way::own_jacobian), sweep, 1));
#endif
#ifdef SWASHWRIGHT_BENCH_SIMBODY
    using Simbody = peers::SimbodyHead;
    const auto simbody = [&](Simbody::Way way) {
        return std::make_shared<Simbody>(peers::plain_head(head.description()), way);
    };
    rows.push_back(peer_row("Simbody, projectQ", simbody(Simbody::Way::project), sweep, 12));
    rows.push_back(peer_row("Simbody, its Jacobian", simbody(Simbody::Way::newton), sweep, 12));
    rows.push_back(peer_row("Simbody, kinematics only", simbody(Simbody::Way::kinematics), sweep, 3));
#endif
    return rows;
}

}  // namespace swashwright::bench
