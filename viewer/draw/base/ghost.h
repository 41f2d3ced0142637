// The head as it was meant to be, beside the one that is: the same sticks, every error set to zero.
#pragma once

#include <memory>
#include <optional>
#include <span>

#include "kinematics/head/head.h"
#include "kinematics/head/pose.h"

namespace swashwright::draw {

struct Ghost {
    std::shared_ptr<const head::Description> description;
    head::Pose pose;
};

/// The description without link errors, a bent guide, a slipped driver or pitch offsets.
head::Description nominal(head::Description description);
bool has_errors(const head::Description& description);
/// A head that is drawn as a ghost: built once, its meshes kept as long as it lives, posed as often as wanted.
class GhostHead {
public:
    /// None if it cannot be built.
    static std::optional<GhostHead> of(const head::Description& description);
    /// None if it has not as many servos. `hand_deg` as of `head::Head::pose`.
    std::shared_ptr<const Ghost> at(std::span<const double> horn_deg, double azimuth_deg,
                                    std::span<const double> hand_deg = {}) const;
    /// What its own mixing does with these sticks; its hands at neutral where it has not as many.
    std::shared_ptr<const Ghost> at(const head::Sticks& sticks, double azimuth_deg,
                                    std::span<const double> hand_deg = {}) const;

private:
    explicit GhostHead(head::Head head);

    head::Head head_;
    std::shared_ptr<const head::Description> description_;
};

/// The head without its errors, in the same place; none if that head cannot be built.
std::shared_ptr<const Ghost> ghost_of(const head::Description& description, std::span<const double> horn_deg,
                                      double azimuth_deg, std::span<const double> hand_deg = {});

}  // namespace swashwright::draw
