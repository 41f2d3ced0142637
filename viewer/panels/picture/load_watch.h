// Forces in links and moments at horns at the pose on the screen, in flight, measured anew as the head moves.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>

#include "kinematics/studies/loads/flying.h"
#include "viewer/draw/overlay/overlay.h"
#include "viewer/panels/bench/readout.h"
#include "viewer/panels/bench/view.h"

namespace swashwright::panels {

class LoadWatch {
public:
    /// Marks for `shown`, the pose of `head`; `revision`: of the document of which `head` is made. Empty where a hand
    /// has moved a lever, or at a dead point.
    draw::LoadMarks measure(const FlownAs& flown, const head::Head& head, std::uint64_t revision, const Shown& shown);

private:
    std::uint64_t revision_ = 0;
    FlownAs flown_;
    std::unique_ptr<studies::Flying> flying_;
};

}  // namespace swashwright::panels
