// Any head from calliper readings: a scene lends the arrangement, the readings move its numbers, each gets its doubt.
// Weighted least squares; what the scene says of a number counts as one more reading, with the number's usual fault as
// its standard deviation. A reading that contradicts the others, or a scene that is known, has a large residual for its
// own standard deviation (Baarda 1968): it is named and, if it is the only one in question, not used, so that its error
// is not spread over the others.
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/measured/calliper_places.h"
#include "kinematics/studies/measured/least_squares.h"

namespace swashwright::studies {

struct CalliperReading {
    std::string place;  // its key
    double mm = 0;
    Jaws jaws = Jaws::centres;
    std::optional<double> sd_mm = {};  // in place of the usual one
};

/// What the scene's numbers are. Guessed: lengths anywhere near (100 times their usual fault), angles as seen (within
/// their usual fault); a single reading of a length is then believed if it is within 30 mm or so. Known: all within
/// usual faults, so that a slip shows even where no other reading checks it.
enum class SceneNumbers { guessed, known };

struct CalliperReadings {
    SceneNumbers scene = SceneNumbers::guessed;
    RoundSizes sizes;
    std::vector<CalliperReading> list;
};

/// By how far the readings narrowed a number: not at all, somewhat, to half its doubt or less.
enum class Told { no, partly, yes };

struct CalliperNumber {
    std::string path, label, part;
    head::Unit unit = head::Unit::mm;
    double before = 0, value = 0;     // as the scene has it; as measured
    double sd_before = 0, sd = 0;     // one standard deviation
    std::optional<double> pitch_deg;  // how far a blade's pitch goes with that doubt, at the worst azimuth
    Told told() const;
};

/// What tells the same as a reading does, and would contradict a slip of 15 times its usual error.
enum class CheckedBy { nothing, scene, readings };

struct PlacedReading {
    CalliperPlace place;
    double mm = 0, sd = 0;         // middle to middle
    std::optional<double> before;  // what the scene gives
    std::optional<double> fitted;  // what the measured head gives
    double times = 0;              // the residual in its own standard deviations, where others tell the same
    bool used = true;
    CheckedBy checked_by = CheckedBy::nothing;
};

struct CalliperFit {
    head::Description head;  // with the numbers as measured; the ring's nominal height is where it stands
    std::vector<CalliperNumber> numbers;
    std::vector<PlacedReading> readings;
    std::vector<CalliperPlace> places;          // all that the head has
    std::vector<measured::Conflict> conflicts;  // rows: of `readings`
    std::optional<double> pitch_sd_deg;         // of a blade, sticks in the middle, at the worst azimuth
    struct Next {
        CalliperPlace place;
        double pitch_sd_deg = 0;  // with it
    };
    std::optional<Next> next;        // the place that would narrow the pitch most, not read so far
    bool without_mid_stick = false;  // readings at mid stick were not used: the head does not close
    std::string does_not_close;      // why not; empty if it does
};

/// Fails with a sentence where a reading has no place on this head or is no number, where the jaws cannot be laid so,
/// or where the readings make no head at all.
tl::expected<CalliperFit, std::string> calliper_fit(const head::Head& start, const CalliperReadings& readings);

/// What is wrong, what to do, and where: keys of the places that are to be read, again or for the first time; empty
/// where no single place will do.
struct CalliperDoubt {
    std::string text;
    std::vector<std::string> places = {};
};
/// Worst kind first, and within a kind the worst first: a head that does not close; contradictions by how far they are
/// beyond what a reading is off by itself; numbers by what they leave open of a blade's pitch; what no reading tells.
std::vector<CalliperDoubt> ranked_doubts(const CalliperFit& fit);
/// Their texts alone.
std::vector<std::string> doubts(const CalliperFit& fit);
Answer answer(const CalliperFit& fit);

/// The places themselves, with what each reads as the head is described.
Answer places_answer(const head::Head& head);

}  // namespace swashwright::studies
