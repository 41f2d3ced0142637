// The registry of a head's numbers: each that moves something is written once, in numbers.cpp, with its name, its place
// in the description and the rate at which it moves the linkage.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::head {

class Head;

enum class Unit { mm, deg, none };
/// "mm", "deg" or "".
const char* words_of(Unit unit);

/// What kind of thing a number is: what a tool reads, how it goes wrong, what may be set.
enum class NumberKind {
    hub_height,
    precone,
    pivot,  // of a servo
    horn_length,
    neutral,
    trim,
    inner_ball,
    guide_place,
    guide_turn,
    outer_ball,
    driver_place,
    driver_turn,
    lower_length,
    upper_length,
    other_length,
    lower_error,
    upper_error,
    other_error,
    pitch_arm,
    pitch_offset,
    lever_pivot,
    lever_ball,
    hand_angle,  // where a lever that is moved by hand stands while nobody moves it
    slider_place,
    slider_ball,
    fixed_ball,
    travel,  // horn travel of the mixing
    phase,
};

bool is_length(NumberKind kind);  // of a link
bool is_error(NumberKind kind);   // of a link

struct Number {
    std::string path;   // as in a scene file, counted from 1: "upper_link[2].length_mm"
    std::string label;  // as a builder says it: "upper link 2, length"
    Unit unit = Unit::mm;
    NumberKind kind = NumberKind::lower_length;
    int index = 0;     // of its servo, link, ball, pin, blade or lever among its like, from 0
    std::string part;  // scene path of the part that it belongs to: "upper_link[2]", "swashplate.inner_balls[3]"
    /// Plus/minus, mm or deg, within which it is usually known: common practice, no source; links, horns and places by
    /// calliper, angles by pitch gauge. 0 for what the transmitter holds.
    double usual_tolerance = 0;

    std::function<double&(Description&)> at;
    std::function<double(const Description&)> value;
    /// Appends how the linkage changes with it, per mm or per deg. `sticks` say how far the mixing's numbers do; an
    /// inner ball's azimuth moves the ball, not the mixer (see `mixer_kept`). A pitch offset moves no body: it adds to
    /// its own blade's pitch one for one.
    std::function<void(const Head& head, const Sticks& sticks, std::vector<linkage::Change>& out)> rates;
};

/// Every number of the description that moves something, in the order of a scene file.
std::vector<Number> numbers(const Description& description);

/// The one with that path; null if there is none.
const Number* find_number(const std::vector<Number>& numbers, const std::string& path);
/// The same among all of a description's; none if there is none.
std::optional<Number> number_at(const Description& description, const std::string& path);

/// The number itself. The description must have the same parts as the one that the number was listed for.
inline double& value(Description& description, const Number& number) {
    return number.at(description);
}
inline double value(const Description& description, const Number& number) {
    return number.value(description);
}

/// The link whose length a number is; null for any other number.
const Link* link_of(const Description& description, const Number& number);

/// The head's description with what the transmitter holds written down: the azimuths that its mixer was set up with,
/// and each servo's sense. Balls and horns that are then moved are a matter of metal and leave the mixer as it is.
Description mixer_kept(const Head& head);

}  // namespace swashwright::head
