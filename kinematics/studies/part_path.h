// Which part does a number belong to, so that the window can light it?
#pragma once

#include <string>

#include "kinematics/head/parameters.h"

namespace swashwright::studies {

/// "upper_link[2]", "servo[1]", "grip[2]", "swashplate.inner_balls[3]".
inline std::string part_path(const head::Parameter& parameter) {
    const std::string& path = parameter.path;
    std::size_t end = path.find('.');
    if (path.starts_with("swashplate.") && path.find('[') != std::string::npos) end = path.find(']') + 1;
    return path.substr(0, end);
}

/// "upper link 2": its label up to the comma.
inline std::string part_words(const head::Parameter& parameter) {
    return parameter.label.substr(0, parameter.label.find(','));
}

}  // namespace swashwright::studies
