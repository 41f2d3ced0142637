// How far are the blades apart in pitch, and which upper links bring them together?
#pragma once

#include <optional>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/pitch/flap.h"

namespace swashwright::studies {

/// Two blades compared at the same place on the disc.
struct BladePair {
    int first = 0, second = 0;     // from 0
    double mean_deg = 0;           // mean pitch over a turn, second less first
    double largest_deg = 0;        // the difference farthest from zero around the turn, second less first
    double largest_at_deg = 0;     // the blades' own azimuth there, 0 over the tail, in the direction of rotation
    std::optional<double> tip_mm;  // second tip above the first at the head speed, an upper-side estimate
};

/// How an upper link is to be set.
struct LinkSetting {
    head::PartName link;
    double exact_mm = 0;    // change that would bring the blade to the mean of all; longer positive
    int steps = 0;          // half turns, whole turns or flats as the link is made; longer positive
    double change_mm = 0;   // what the steps make
    double deg_per_mm = 0;  // mean pitch for each mm of this link
};

struct Tracking {
    head::Sticks sticks;
    std::vector<double> mean_deg;  // of each blade over a turn
    std::vector<BladePair> pairs;
    std::vector<LinkSetting> settings;  // of each upper link; none where a blade has no upper link of its own
    std::vector<double> after_deg;      // mean of each blade with the links so set, posed anew; as it is where none are
    double split_deg = 0, split_after_deg = 0;  // highest less lowest mean
    double mean_shift_deg = 0;                  // of the mean of all blades, by the setting
    BladeNumbers blade;
    std::optional<Flap> flap;
};

/// Steps of all links are searched together for the least of the split that is left plus a fifth of the mean's shift.
/// Fails where the loop does not close somewhere in the turn.
head::Result<Tracking> tracking(const head::Head& head, const head::Sticks& sticks);

/// "the mean pitch stays at +0.34 deg": what a setting makes of the mean of all blades.
std::string mean_words(double before_deg, double after_deg);

Answer answer(const Tracking& tracking, const head::Description& description);

}  // namespace swashwright::studies
