// A head from calliper readings: least squares over all of them, with an uncertainty for every number, and what is
// doubtful. Mistaken readings are found by their normalised residuals (W. Baarda, "A testing procedure for use in
// geodetic networks", 1968).
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/measured/measured_readings.h"

namespace swashwright::studies {

/// A number of the head that the readings give.
struct DerivedNumber {
    std::string words;                 // "inner balls, radius"
    std::string part;                  // a scene path, or empty
    double value = 0;                  // mm
    double sd = 0;                     // one standard deviation, mm
    bool from_default = false;         // not all readings that it needs were taken
    std::optional<double> pitch_deg;   // by how much one standard deviation moves a blade's pitch, at the worst place
    std::optional<ReadingPlace> from;  // the reading, taken or assumed, from which most of its uncertainty comes
};

/// Readings that cannot all be right.
struct Contradiction {
    std::vector<ReadingPlace> places;  // one of these; all fit the contradiction equally well
    std::vector<double> off_mm;        // by how much each would be off, if it is that one
    double times = 0;                  // the residual in its own standard deviations
    bool left_out = false;             // the reading, being the only one in question, was not used
};

/// How a link fits between level ring, flat blades and horns at neutral.
struct LinkFit {
    std::string words, part;
    double measured_mm = 0, needed_mm = 0, sd_mm = 0;  // the last of the difference
    bool taken = false;                                // else the length is the one that is needed
    double over_mm() const { return measured_mm - needed_mm; }
};

struct Measured {
    head::Description head;
    std::vector<DerivedNumber> numbers;
    std::vector<Contradiction> contradictions;  // residuals beyond 3 standard deviations
    std::vector<ReadingPlace> unusual;          // outside usual sizes, used all the same
    std::vector<ReadingPlace> missing;          // not taken, and no other reading stands in for them
    std::vector<std::string> taken_for_them;    // what was assumed instead, a sentence each
    std::vector<LinkFit> links;                 // lower, then upper
    int readings = 0, checked = 0;              // taken; and of these, such as others would contradict
    std::optional<double> pitch_sd_deg;         // of blade 1 at mid stick, from all readings together
    std::string does_not_close;                 // why the head does not close at neutral; empty if it does
    std::string name;
};

/// Residuals beyond so many standard deviations are a contradiction.
inline constexpr double contradiction_sds = 3;
/// A number whose uncertainty moves a blade by more than this is doubtful, deg.
inline constexpr double doubtful_pitch_deg = 0.1;

/// Fails with a sentence if the readings make no head at all (a length below 0).
tl::expected<Measured, std::string> measured_head(const MeasuredHead& measured);

/// What is wrong, what to do, and where: readings to be taken, again or for the first time; empty where no single one
/// will do.
struct MeasuredDoubt {
    std::string text;
    std::vector<ReadingPlace> places = {};
};
/// Worst kind first, and within a kind the worst first: a head that does not close; contradictions; unusual sizes; what
/// was not taken; numbers by what they leave open of a blade's pitch.
std::vector<MeasuredDoubt> ranked_doubts(const Measured& measured, const MeasuredLayout& layout);
/// Their texts alone.
std::vector<std::string> doubts(const Measured& measured, const MeasuredLayout& layout);
Answer answer(const Measured& measured, const MeasuredLayout& layout);

}  // namespace swashwright::studies
