// The head on white, in shades of grey, for print.
#pragma once

#include <tl/expected.hpp>

#include "kinematics/head/head.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

/// At one pose, with the blades' numbers. Fails with a sentence where there is no OpenGL.
tl::expected<Picture, std::string> head_picture(const head::Description& description, const head::Pose& pose);

}  // namespace swashwright::sheet
