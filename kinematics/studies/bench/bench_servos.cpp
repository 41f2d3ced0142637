// Which way every servo goes, horns square to their links, which way the ring leans.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/part.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/bench/bench_stages.h"
#include "kinematics/studies/pitch/directions.h"
#include "kinematics/studies/pitch/transmitter.h"

namespace swashwright::studies {
namespace {

using head::Result;
using head::Role;

constexpr double least_mm = 0.05, least_deg = 0.05;  // below, it takes no part

/// "up", "towards the tail": the way along which it goes farthest.
std::string way_words(const Vec3& moved) {
    static constexpr std::array<std::array<const char*, 2>, 3> ways{
        {{"towards the nose", "towards the tail"}, {"to the left", "to the right"}, {"up", "down"}}};
    Eigen::Index axis = 0;
    moved.cwiseAbs().maxCoeff(&axis);
    return ways[static_cast<std::size_t>(axis)][moved[axis] > 0 ? 0 : 1];
}

bool upright(const Vec3& moved) {
    return std::abs(moved.z()) >= moved.head<2>().cwiseAbs().maxCoeff();
}

}  // namespace

BenchStep BenchStages::collective_way(std::size_t servo, const Vec3& moved) const {
    BenchStep out{.stage = "Servos",
                  .say = fmt::format("Collective up a little: the horn ball of {} goes {}.",
                                     head::servo_words(head_.description().servos[servo]), way_words(moved)),
                  .more = "If it goes the other way, reverse that servo's channel in the transmitter, and look again.",
                  .tool = BenchTool::transmitter,
                  .part = head::path_of({Role::horn, static_cast<int>(servo)}),
                  .sticks = {.collective = shown_stick}};
    if (upright(moved)) out.way = moved.z() > 0 ? BenchWay::ball_up : BenchWay::ball_down;
    return out;
}

Result<void> BenchStages::servos() {
    const std::string stage = "Servos";
    add({.stage = stage,
         .say = "Sticks centred, trims and sub-trims at zero. Stabiliser electronics in set-up mode, or off.",
         .more = "Curves straight, end points equal. Horns off their servos for the first power-up: one can run to "
                 "its end.",
         .tool = BenchTool::transmitter});
    const auto& servos = head_.description().servos;
    if (!servos.empty())
        add({.stage = stage,
             .say = "Power on, sticks centred: every horn loosely on its servo, about square to its link.",
             .more = "Every link still off its horn, the horn's screw still out.",
             .tool = BenchTool::transmitter});
    const auto middle = head_.pose(head::Sticks{}, 0), up = head_.pose(head::Sticks{.collective = shown_stick}, 0);
    for (std::size_t j = 0; middle && up && j < servos.size(); ++j)
        if (const Vec3 moved = up->skeleton.horn_balls[j] - middle->skeleton.horn_balls[j]; moved.norm() >= least_mm)
            add(collective_way(j, moved));
    for (std::size_t j = 0; j < servos.size(); ++j)
        add({.stage = stage,
             .say =
                 fmt::format("Sticks centred: the horn of {} stands square to its link.", head::servo_words(servos[j])),
             .more = "The nearest tooth of the spline first, then sub-trim for the rest. Then its screw in, and its "
                     "link on.",
             .tool = BenchTool::square,
             .part = head::path_of({Role::horn, static_cast<int>(j)})});
    return {};
}

/// What to do where the ring leans the other way.
std::string BenchStages::other_way(bool elevator) const {
    const std::string stick = elevator ? "elevator" : "aileron";
    if (mix_of(head_.description()) != Mix::separate)
        return fmt::format(
            "If it goes the other way, change the sign of the {} mix: reverse no servo. If it goes elsewhere, two "
            "servos are on each other's channel, or another phase is set.",
            stick);
    const auto& servos = head_.description().servos;
    const auto share = [&](std::size_t j) {
        return std::abs(head_.stick_gains_deg(static_cast<int>(j))[elevator ? 2 : 1]);
    };
    std::size_t most = 0;
    for (std::size_t j = 1; j < servos.size(); ++j)
        if (share(j) > share(most)) most = j;
    return fmt::format("If it goes the other way, reverse the channel of {}.", head::servo_words(servos[most]));
}

/// The way the ring leans is that of the pose; up stick was looked at servo by servo, and tells nothing of it.
Result<void> BenchStages::cyclic() {
    const auto middle = stand_.pose(head::Sticks{}, 0);
    const auto way = directions(head_);
    for (const bool elevator : {false, true}) {
        const head::Sticks sticks{.aileron = elevator ? 0 : shown_stick, .elevator = elevator ? shown_stick : 0};
        const auto moved = stand_.pose(sticks, 0);
        if (!middle || !moved) continue;
        const double forward = moved->tilt_forward_deg - middle->tilt_forward_deg,
                     right = moved->tilt_right_deg - middle->tilt_right_deg;
        if (std::hypot(forward, right) < least_deg) continue;
        const bool wrong = way && (elevator ? way->elevator : way->aileron).wrong_way();
        add({.stage = "Cyclic",
             .say = fmt::format("{} a little: the ring goes down towards {}.",
                                elevator ? "Elevator forward" : "Aileron right",
                                place_in_words(std::atan2(-right, forward) / degree)),
             .more =
                 (wrong ? "As this head is described, that tilts the disc the wrong way: ask which way servos turn, "
                          "on the sheet of questions. "
                        : "") +
                 other_way(elevator),
             .tool = BenchTool::transmitter,
             .part = "inner_ring",
             .sticks = sticks});
    }
    return {};
}

}  // namespace swashwright::studies
