// The options that say at which pose a verb looks: sticks, azimuth, or horn angles in place of the sticks.
#pragma once

#include <CLI/CLI.hpp>
#include <array>
#include <string>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::console {

struct PoseOptions {
    head::Sticks sticks;
    double azimuth_deg = 0;
    std::vector<double> horns_deg;  // empty: the sticks say
    bool sticks_given = false;
    std::vector<std::string> hands;  // "lever[1]=5", as typed
};

/// --collective, --aileron, --elevator and --rudder; `sticks` must outlive parsing.
std::array<CLI::Option*, 4> add_stick_options(CLI::App& verb, head::Sticks& sticks);
/// `options` must outlive parsing.
void add_pose_options(CLI::App& verb, PoseOptions& options);
/// --hand alone, of those.
void add_hand_option(CLI::App& verb, PoseOptions& options);
/// Why the horn angles or the parts moved by hand do not suit the head; empty if they do.
std::string pose_mistake(const PoseOptions& options, const head::Head& head);
/// Those given, or what the sticks command, deg.
std::vector<double> horns_of(const PoseOptions& options, const head::Head& head);

/// "collective +0.50, aileron +0.00, elevator +0.00", of a tail "rudder +0.50", with spaces at which no line breaks.
std::string unbroken_sticks(const head::Description& head, const head::Sticks& sticks);

/// Says on standard error where the transmitter would not let the sticks come to; `done`: "solved".
void note_if_held_back(const head::Head& head, const head::Sticks& sticks, const char* done);

/// The angle of each lever that is moved by hand, in the order of `head::Parts::hands`; of those not given the scene's.
std::vector<double> hands_of(const PoseOptions& options, const head::Head& head);

/// Says on standard error which of them lie beyond `by_hand_deg`.
void note_beyond_hand(const head::Head& head, const std::vector<double>& hands);

/// A pose of a turn, as near to closing as it can come. The first that does not close is told on standard error, and
/// `closes` is false from then on.
head::Pose pose_of_turn(const head::Head& head, const std::vector<double>& horns_deg,
                        const std::vector<double>& hands_deg, double azimuth_deg, bool& closes);

}  // namespace swashwright::console
