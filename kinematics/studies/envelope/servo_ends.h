// The worst travel of a servo, proved: its horn angle is linear in the sticks on either side of neutral.
#pragma once

#include <optional>

#include "kinematics/studies/envelope/probe.h"

namespace swashwright::studies {

/// Sticks among which a servo's command is greatest and least: corners of what the transmitter lets through, with
/// cyclic in line with what the servo takes of it. A linear function on a convex set has its ends there.
std::vector<head::Sticks> servo_ends(const head::Head& head, int servo);

/// Of a check that reads one servo's horn angle only; none where the loop does not close at one of its ends.
std::optional<Extreme> proved_worst(const head::Head& head, Probe& probe, std::size_t check,
                                    const std::vector<double>& hand_deg);

}  // namespace swashwright::studies
