// What format 2 adds: levers, sliders, fixed balls, other links and pins, and balls and carriers by their names.
// Internal to kinematics/scene.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/scene/reader.h"

namespace swashwright::scene {

inline constexpr std::size_t most_parts = 64;  // levers, links, ... of one kind

/// The keys of one link, in parse.cpp. Those that only a format 2 link has must be read before.
head::Link read_link(Keys& keys);

/// A link's ends as they are written, to be looked up when every ball is known.
struct Ends {
    Keys keys;
    std::vector<std::string> names;  // two, or none where they are left out or wrong
};
Ends read_ends_of(Keys& keys, bool required);
/// Looks them up; a ball that is not there is a mistake that names the nearest one that is.
std::optional<std::array<head::BallName, 2>> look_up(const head::Description& head, Ends& ends);
/// Gives links the ends that are written. Where none are, both balls that stand in for them must be there.
void name_ends(const head::Description& head, std::vector<Ends>& ends, std::vector<head::Link>& links,
               head::BallName::Of low, head::BallName::Of high);

/// The lever (from 0) on which a grip stands; none on the hub. `head` must know its levers: see `check_grip_lever`.
std::optional<int> read_grip_lever(Keys& keys);
void check_grip_lever(const head::Description& head, std::size_t grip, Keys& keys);

/// [[lever]], [[slider]], [[fixed_ball]], [[link]] and [[pin]]. Servos, rings and grips are read before.
void read_levers(Keys& top, Scene& scene);

}  // namespace swashwright::scene
