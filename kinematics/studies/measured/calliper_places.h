// Where a calliper can be laid on any head: derived from its parts and what is fixed on each, not from its kind.
// Millimetres. Between the middles of balls, pins and shafts; how what jaws read becomes that: `centre_to_centre`.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kinematics/head/build.h"
#include "kinematics/head/head.h"

namespace swashwright::studies {

/// How the jaws go on: the reading is already from middle to middle, goes over the outsides of both ends, or is the gap
/// between their insides.
enum class Jaws { centres, over, between };

/// What the jaws meet at an end; they can be laid over or between only where both are round.
enum class RoundEnd { none, ball, boss, shaft, pin };

/// Diameters that were measured; what is not here is as the scene has it. It has balls and bosses of links, neither
/// shafts nor pins.
struct RoundSizes {
    std::optional<double> ball_mm = {}, boss_mm = {}, shaft_mm = {}, pin_mm = {};

    bool operator==(const RoundSizes&) const = default;
};

/// A description and its linkage, unposed: what a part reads that is held in the hand.
struct AtRest {
    const head::Description& description;
    head::Assembly assembly;
};

struct CalliperPlace {
    std::string key;    // in files: "lever[1].ball[2] to pivot"
    std::string words;  // "bellcrank 1: ball 2 to pivot"
    std::string part;   // the part that it is about, as a scene path
    std::string group;  // what is measured in one go: "links", "bellcrank 1", "frame"
    double sd = 0.1;    // one standard deviation of one reading, mm
    std::array<RoundEnd, 2> ends{RoundEnd::none, RoundEnd::none};
    std::array<double, 2> end_mm{0, 0};  // diameters as the scene has them; 0 where it has none

    /// The value, or the share of it that needs no pose; to this `slides` adds where a body stands on its slide, with
    /// the sticks in the middle and blade 1 over the tail.
    std::function<double(const AtRest&)> at_rest;
    linkage::BodyId slides;
    double slide_sense = 1;
    bool at_mid_stick() const { return slides.index >= 0; }
};

/// All of a head's, in the order of work: loose links and levers, horns, rings, grips, then what is fixed on hub and
/// frame, at last what is read with the sticks in the middle.
std::vector<CalliperPlace> calliper_places(const head::Head& head);

/// By the key, either end first; null if there is none.
const CalliperPlace* find_place(const std::vector<CalliperPlace>& places, std::string_view key);

/// Diameters at both ends together, halved: what is to be taken off over the outsides, added between insides. None
/// where the jaws cannot be laid so, or where a diameter is not known.
std::optional<double> half_ends(const CalliperPlace& place, const RoundSizes& sizes);
/// Why there are none: "its ends are not round", "sizes has no shaft_mm".
std::string cannot_lay(const CalliperPlace& place, const RoundSizes& sizes);
/// From what the calliper shows to middle to middle.
std::optional<double> centre_to_centre(const CalliperPlace& place, double mm, Jaws jaws, const RoundSizes& sizes);

/// What the place reads as the head is described; none where it needs a pose that the head does not take.
std::optional<double> present_value(const CalliperPlace& place, const head::Head& head);

}  // namespace swashwright::studies
