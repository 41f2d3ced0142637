// A head with a lever, slider, ball, link or pin more or less; the rest of it stays as it was measured, and what names
// other parts goes on naming them.
#pragma once

#include "kinematics/head/change_count.h"
#include "kinematics/head/references.h"

namespace swashwright::head {

// Something new at the end of its list. It holds nothing yet, and nothing holds it: a lever, slider or pin hangs free
// until links or pins are made for it. Its numbers are to be typed over; what they are taken to be is said.
Change with_lever_added(const Description& description);
Change with_slider_added(const Description& description);
Change with_fixed_ball_added(const Description& description);
/// Between two balls. `length_mm`: as far apart as they stand.
Change with_link_added(const Description& description, const std::array<BallName, 2>& ends, double length_mm);
Change with_pin_added(const Description& description, const std::array<BallName, 2>& ends);
/// One more ball on a lever or slider.
Change with_lever_ball_added(const Description& description, int lever);
Change with_slider_ball_added(const Description& description, int slider);
/// One more ball on the inner or the outer ring (`BallName::Of`), in the widest gap.
Change with_ring_ball_added(const Description& description, BallName::Of ring);

// Without it. Refused, with a sentence, while something stands on it or goes to it; what comes after it moves up.
Change with_lever_removed(const Description& description, int lever);
Change with_slider_removed(const Description& description, int slider);
/// A fixed ball, or one of a lever, slider or ring.
Change with_ball_removed(const Description& description, const BallName& ball);
Change with_link_removed(const Description& description, const PartName& link);
Change with_pin_removed(const Description& description, int pin);

/// Two balls on different parts of which nothing holds one yet, or at least two on different parts: where a new link or
/// pin is taken to go. None if the head has no two such balls.
std::optional<std::array<BallName, 2>> likely_ends(const Description& description);

}  // namespace swashwright::head
