// The card for the field box: what is looked up beside the model, on one page. It takes its figures from the same
// studies as the build sheet.
#pragma once

#include <stop_token>
#include <string>
#include <tl/expected.hpp>

#include "kinematics/head/head.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

/// Link lengths, ring heights, ends of pitch, what is doubtful. `made`: the date. Fails with a sentence where the head
/// has no pose at neutral, or if it was stopped ("stopped").
tl::expected<Sheet, std::string> field_card(const head::Head& head, const std::string& made, std::stop_token stop = {});

}  // namespace swashwright::sheet
