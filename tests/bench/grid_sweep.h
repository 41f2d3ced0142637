// The envelope as it was found before it was bounded: a fixed grid, then a search from the three worst cells of each
// check. The reference of the benchmark; its checks are today's, so clearance is the faster one of today.
#pragma once

#include "kinematics/studies/envelope/envelope.h"

namespace swashwright::bench {

head::Result<studies::Envelope> grid_sweep(const head::Head& head, const studies::Checkers& checkers,
                                           const studies::EnvelopeOptions& options = {});

}  // namespace swashwright::bench
