#include <benchmark/benchmark.h>

#include "tests/bench/contest.h"
#include "tests/peers/plain_head.h"
#ifdef SWASHWRIGHT_BENCH_SIMBODY
#include "tests/peers/simbody_head.h"
#endif
#ifdef SWASHWRIGHT_BENCH_MUJOCO
#include "kinematics/head/build.h"
#include "tests/peers/mujoco_head.h"
#include "tests/peers/mujoco_linkage.h"
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

#ifdef SWASHWRIGHT_BENCH_MUJOCO
/// Any linkage on MuJoCo, in the terms of `peer_row`.
class GeneralMujoco {
public:
    explicit GeneralMujoco(const head::Head& head)
        : head_(head), peer_(head.plan().description()), inputs_(head.plan().neutral_inputs()) {
        peer_.pose(inputs_);
    }
    bool pose(const std::vector<double>& horn_deg, double azimuth_deg, peers::PeerPose& out) {
        const head::Parts& parts = head_.parts();
        for (std::size_t j = 0; j < horn_deg.size(); ++j) inputs_[j] = horn_deg[j] * degree;
        inputs_[static_cast<std::size_t>(parts.hub_input)] = head::hub_angle(head_.description(), azimuth_deg);
        if (!peer_.pose(inputs_)) return false;
        const Vec3 normal = peer_.z_axis(parts.inner_ring);
        out.height_mm = peer_.joint(parts.inner_ring);
        out.tilt_forward_deg = head::tilt_forward_deg(normal);
        out.tilt_right_deg = head::tilt_right_deg(normal);
        out.pitch_deg.resize(parts.grips.size());
        for (std::size_t k = 0; k < parts.grips.size(); ++k)
            out.pitch_deg[k] = peer_.joint(parts.grips[k]) / degree + head_.description().grips[k].pitch_offset_deg;
        return true;
    }
    double residual_mm() const { return peer_.residual_mm(); }
    long steps() const { return peer_.steps(); }
    std::string settings() const { return peer_.settings(); }

private:
    head::Head head_;
    peers::MujocoLinkage peer_;
    std::vector<double> inputs_;
};
#endif

}  // namespace

std::vector<Row> peers_of_a_linkage([[maybe_unused]] const head::Head& head, [[maybe_unused]] const Sweep& sweep) {
    std::vector<Row> rows;
#ifdef SWASHWRIGHT_BENCH_MUJOCO
    rows.push_back(peer_row("MuJoCo, its Jacobian", std::make_shared<GeneralMujoco>(head), sweep, 12));
#endif
    return rows;
}

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
