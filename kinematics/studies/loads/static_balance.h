// What links, pins and servos must carry so that blades stay where they are, and how far all that is soft gives way.
#pragma once

#include <Eigen/Dense>
#include <optional>
#include <span>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/linkage/workspace.h"
#include "kinematics/studies/joints/self_stress.h"

namespace swashwright::studies {

struct Balance {
    std::vector<double> force_n;    // of every closure, by index: of a link positive where it is pulled, else its size
    std::vector<double> horn_nmm;   // moment of each servo on its horn, in the horn angle's own sense
    std::vector<double> lever_nmm;  // what links put on each lever one way; as much is put on it the other way
    std::vector<double> give_deg;   // by how much each blade's pitch goes with its load
};

/// Static balance of a linkage with a moment on each grip; no weight, no friction. Where nothing is held more often
/// than needed the forces follow from A' f = Q alone (closure_rows.h), so the horns' moments are those of virtual work
/// through the exact slopes. Where links or pins are too many, they share as springs at rest do: the energy in servos
/// and links is least (Castigliano, from memory); what is rigid shares evenly. That supposes lengths that fit: what
/// misfits adds to it (`fight`).
class StaticBalance {
public:
    StaticBalance(const head::Head& head, const Give& give) : head_(head), give_(give) {}

    /// At the pose at which `ws` stands, everything placed. `grip_nmm`: about each feathering axis, leading edge up
    /// positive. None at a dead point.
    std::optional<Balance> at(const linkage::Workspace& ws, std::span<const double> grip_nmm) const;
    /// True where something is held more often than needed; a second driver pin, which no servo feels, does not count.
    static bool shares(const head::Head& head);

private:
    head::Head head_;
    Give give_;
};

}  // namespace swashwright::studies
