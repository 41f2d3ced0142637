// What does a tenth of a millimetre do? Every number of the head, by its effect on the blades' pitch.
#pragma once

#include <optional>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// What one blade does over a turn with one number changed by one unit.
struct BladeEffect {
    double mean_deg = 0;    // of its pitch over the turn, per mm or deg
    double cyclic_deg = 0;  // amplitude of the first harmonic of the change, per mm or deg
    double cyclic_azimuth =
        0;  // that blade's own azimuth where the change is most, deg from the tail in the direction of rotation
};

struct Effect {
    head::Number number;
    double value = 0;
    std::vector<BladeEffect> blades;
    double split_deg = 0;  // largest mean less least, over the blades: what it does to track
    /// Of a link: by one end of a plain rod, or a turnbuckle's body; half a turn where its ends let it be set.
    std::optional<double> mm_per_turn, mm_per_half_turn;

    double largest_mean() const;  // of the blade that it moves most, with its sign
    double largest_cyclic() const;
    /// What rows are sorted by: mean and cyclic of the blade that it moves most.
    double size_deg() const;
};

struct Sensitivity {
    head::Sticks sticks;
    std::vector<Effect> effects;  // largest first
    head::Kind kind = head::Kind::main;
};

/// The numbers worth asking about: all but a link's error (as its length) and a servo's trim (as its neutral).
std::vector<head::Number> measured_numbers(const head::Description& description);

/// Exact slopes at 24 places of the turn; nothing is differenced. What is moved is metal: the mixer keeps the inner
/// balls' azimuths that it was set up with.
head::Result<Sensitivity> sensitivity(const head::Head& head, const head::Sticks& sticks);

/// At most `rows` rows; 0 for all.
Answer answer(const Sensitivity& sensitivity, std::size_t rows = 0);

}  // namespace swashwright::studies
