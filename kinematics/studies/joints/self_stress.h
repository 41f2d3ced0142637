// Forces inside a linkage in which more closures hold than can: who pulls and who pushes, to first order.
#pragma once

#include <Eigen/Dense>
#include <optional>
#include <span>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/linkage/workspace.h"

namespace swashwright::studies {

/// What gives way.
struct Give {
    double servo_nmm_per_deg = 100;       // at each horn
    std::optional<double> link_n_per_mm;  // of every link along itself; none: rigid
};

/// Of every closure at one pose, by its index; of every servo. Zeros where nothing is held too often.
struct SelfStress {
    std::vector<double> force_n;     // of a link, positive where it is pulled; of a pin or slot the size of its force
    std::vector<double> moment_nmm;  // of each servo on its horn, in the horn angle's own sense
};

/// Linear springs at rest where nothing is off: what is least is the energy in servos and links, with joints and pins
/// rigid and without friction. With A the derivatives of the closures' errors r by the joints, B those by the horns and
/// C = 1/k + B 1/K B' what closures give way by for each N, the forces f are
///
///     f = N y,  N' C N y = N' r,  N a basis of all f with A' f = 0: forces that hold each other.
///
/// Closures in `left_out` (by index) carry nothing. None where errors meet in closures of which nothing gives way: then
/// the force has no bound.
std::optional<SelfStress> self_stress(const head::Head& head, const linkage::Workspace& ws, const Give& give,
                                      std::span<const int> left_out);

}  // namespace swashwright::studies
