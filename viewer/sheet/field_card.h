// The card for the field box: what is looked up beside the model, on one page. It takes its figures from the same
// studies as the build sheet.
#pragma once

#include <string>
#include <tl/expected.hpp>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/pitch/range.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

/// Link lengths, ring heights, ends of pitch, what is doubtful. `note`: what the scene says of itself; `made`: the date.
/// Fails with a sentence where the head has no pose at neutral, or if it was stopped ("stopped").
tl::expected<Sheet, std::string> field_card(const head::Head& head, const std::string& note, const std::string& made,
                                            const studies::Going& going = {});

/// Of low, middle and high stick alone: the ring's height, and each blade's pitch.
studies::Table ends_of_pitch(const head::Description& description, const studies::PitchRange& range);

}  // namespace swashwright::sheet
