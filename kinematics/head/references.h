// What the parts of a head can refer to by name: its balls, which links and pins join, and its carriers, on which
// levers, sliders and fixed balls stand.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/inventory.h"

namespace swashwright::head {

/// Every ball, in the order in which `BallName::Of` lists their kinds.
std::vector<BallName> every_ball(const Description& description);

/// How many there are of the carriers of which there are several.
struct CarrierCounts {
    std::size_t grips = 0, levers = 0, sliders = 0;
};
inline CarrierCounts carrier_counts(const Description& d) {
    return {d.grips.size(), d.levers.size(), d.sliders.size()};
}
std::vector<Carrier> every_carrier(const CarrierCounts& counts);

/// The ball or carrier that a scene names so, or that is called so in a builder's words; none if there is none.
std::optional<BallName> ball_named(const Description& description, const std::string& name);
std::optional<Carrier> carrier_named(const Description& description, const std::string& name);

/// In a builder's words: "horn of servo left", "bellcrank 2, ball 1", "fixed ball 1"; "the frame", "bellcrank 2".
std::string words_of(const Description& description, const BallName& ball);
std::string words_of(const Description& description, const Carrier& carrier);

/// "bellcrank 2", or "lever 2" of one that has no name.
std::string lever_words(const Description& description, std::size_t lever);
std::string slider_words(const Description& description, std::size_t slider);
std::string pin_words(const Description& description, std::size_t pin);

/// Writes the balls that a link joins, or nothing where they are those that stand in.
void set_ends(Description& description, const PartName& link, const std::array<BallName, 2>& ends);

}  // namespace swashwright::head
