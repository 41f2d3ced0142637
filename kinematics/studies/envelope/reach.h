// Does the head stay free over the whole stick envelope: what binds, runs into its stops or touches, where, and how
// much cyclic can be given?
#pragma once

#include <string>
#include <vector>

#include "kinematics/studies/envelope/dead_point_distance.h"
#include "kinematics/studies/envelope/envelope.h"

namespace swashwright::studies {

struct ReachRequest {
    bool clearance = true;  // takes most of the time
    EnvelopeOptions sweep = {};
};

struct Reach {
    Envelope envelope;
    std::vector<DeadPointWay> dead_points;  // empty unless the sweep refines
    std::vector<std::string> unchecked;     // what the scene gives no limit for, a sentence each
    bool sought = true;                     // extremes between the places of the sweep were
};

/// The bound that a value comes nearest to: "at least 40.00 deg".
std::string bound_words(const Check& check, double value);
/// How near to true a worst value is: " (or up to 0.01 mm less)"; nothing where it is proved, or no more than a bound.
std::string how_sure(const Check& check, const Extreme& worst);
/// Looked for all over the envelope, it is still not sure that check `k` is kept.
bool unsure(const Reach& reach, std::size_t k);
/// Checks: what fails, then what may fail, then by how near they come to their bounds.
std::vector<std::size_t> nearest_first(const Reach& reach);

/// All families of checks that this head has numbers for.
Checkers checkers_of(const head::Head& head, bool clearance);

/// Fails as `envelope` does.
head::Result<Reach> reach(const head::Head& head, const ReachRequest& request = {});

/// At most `rows` checks, nearest to their bounds first; 0 for all.
Answer answer(const Reach& reach, std::size_t rows = 12);

}  // namespace swashwright::studies
