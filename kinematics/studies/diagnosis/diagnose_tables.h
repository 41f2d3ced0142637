// The tables of a diagnosis' answer.
#pragma once

#include <string>
#include <vector>

#include "kinematics/studies/diagnosis/diagnose.h"

namespace swashwright::studies {

/// A suspect as tables and sentences name it; also `the_stand`.
std::string suspect_words(const Diagnosis& diagnosis, int suspect);
/// What would tell a stand-in from what it stands in for, beside other readings: "zeroing the gauge on the shaft".
/// Empty where nothing of the gauge would.
std::string cure_words(const Diagnosis& diagnosis, const StandIn& stand_in);
/// How much a reading settles, from its gain in nats: "a lot", "some", "little".
const char* settles_words(double gain);

/// In the order in which people read them. `readings`: those that were diagnosed.
std::vector<Table> tables_of(const Diagnosis& diagnosis, const Readings& readings);

}  // namespace swashwright::studies
