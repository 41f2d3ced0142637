// Which readings of calliper and rule make a head, in the order in which one takes them at the bench.
// Millimetres. The ring is held level at mid travel, horns stand at neutral, blades lie flat.
#pragma once

#include <array>
#include <compare>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "kinematics/head/description.h"

namespace swashwright::studies {

/// What is chosen or seen, not measured. Blades, servos and balls of one ring are taken to be alike.
struct MeasuredLayout {
    enum class LinkForm { gap, span };  // between the bosses, or over them

    struct ServoPlace {
        std::string name;
        double ball_azimuth_deg = 0;  // of its inner ball, from the nose, positive anticlockwise from above
        double horn_azimuth_deg = 0;  // where its horn points at neutral
        bool axis_left = true;  // the output shaft points to the left of the horn, seen from above; else to its right
    };

    std::string name = "Measured head";
    int blades = 2;
    head::Direction direction = head::Direction::clockwise;
    bool trailing_arm = false;    // the pitch arm's ball runs behind its blade
    double outer_ahead_deg = 90;  // of outer ball 1, from blade 1's feathering axis
    double guide_azimuth_deg = 180;
    std::vector<double> driver_ahead_deg{0, 180};
    double precone_deg = 0;
    double block_height_mm = 0;  // of the bearing block's upper face above the datum: as you like
    double head_speed_rpm = 2000;
    double collective_deg = 19, cyclic_deg = 12;  // horn travel at full stick
    LinkForm links = LinkForm::gap;
    std::array<ServoPlace, 3> servos{{{"left", 60, 0, true}, {"right", -60, 0, false}, {"rear", 180, 90, false}}};
};

/// What a reading is of. One step at the bench each, with one drawing; some have several numbers.
enum class Taking {
    ball,
    shaft,
    cross_bolt,
    barrel,
    boss_lower,
    boss_upper,
    inner_span,
    outer_span,
    outer_to_shaft,
    sleeve,
    sleeve_below,
    inner_ball,
    faces,
    outer_ball,
    block_to_face,
    block_to_ball,
    face_to_bolt,
    block_to_bolt,
    bolt_to_axis,
    arm_span,
    arm_along,
    arm_lead,
    arm_up,
    horn,
    servo_height,
    servo_along,
    servo_across,
    horn_span,
    lower_link,
    upper_link,
    guide_pin,
    driver_pin,
    tip,
};

struct TakingInfo {
    Taking taking;
    const char* key;     // in files: "over_inner_balls"
    const char* title;   // "Over two inner balls"
    const char* words;   // in a list, before which of its kind it is: "over inner balls"
    const char* how;     // what is measured between what
    double low, high;    // usual sizes, mm: outside, a unit or a jaw was mistaken
    double sd;           // one standard deviation of one reading, mm
    bool check = false;  // others give the same number: it may be left out, and finds mistakes if it is taken
};

/// In bench order.
std::span<const TakingInfo> takings();
const TakingInfo& info(Taking taking);
/// By the key in files; null if there is none of that name.
const TakingInfo* taking_by_key(std::string_view key);

/// One number to be read: which of its kind, from 0.
struct ReadingPlace {
    Taking taking = Taking::ball;
    int index = 0;
    auto operator<=>(const ReadingPlace&) const = default;
};

struct TakenReading {
    double mm = 0;
    std::optional<double> sd_mm;  // in place of the usual one
};
using TakenReadings = std::map<ReadingPlace, TakenReading>;  // what is not here was not taken

struct MeasuredHead {
    MeasuredLayout layout;
    TakenReadings taken;
};

/// How many numbers of a kind this head has.
int count(const MeasuredLayout& layout, Taking taking);
/// Which two balls a reading goes over, from 0.
std::array<int, 2> span_balls(const MeasuredLayout& layout, Taking taking, int index);
/// "over inner balls 1 and 2", "lower link 3, gap between the bosses".
std::string words(const MeasuredLayout& layout, const ReadingPlace& place);
/// Every number of the head, in bench order.
std::vector<ReadingPlace> reading_places(const MeasuredLayout& layout);

}  // namespace swashwright::studies
