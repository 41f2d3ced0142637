// The head as it was meant to be, beside the one that is: the same sticks, every error set to zero.
#pragma once

#include <memory>
#include <span>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"

namespace swashwright::draw {

struct Ghost {
    std::shared_ptr<const head::Description> description;
    head::Pose pose;
};

/// The description without link errors, a bent guide, a slipped driver or pitch offsets.
head::Description nominal(head::Description description);
bool has_errors(const head::Description& description);
/// Another head at these horn angles; none if it cannot be built or has not as many servos.
std::shared_ptr<const Ghost> ghost_from(const head::Description& other, std::span<const double> horn_deg,
                                        double azimuth_deg);
/// None if the nominal head cannot be built. `horn_deg`: one for each servo.
std::shared_ptr<const Ghost> ghost_of(const head::Description& description, std::span<const double> horn_deg,
                                      double azimuth_deg);

}  // namespace swashwright::draw
