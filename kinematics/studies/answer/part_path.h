// Which part does a number belong to, so that the window can light it?
#pragma once

#include <string>

#include "kinematics/head/numbers.h"

namespace swashwright::studies {

/// "upper_link[2]", "servo[1]", "grip[2]", "swashplate.inner_balls[3]".
inline const std::string& part_path(const head::Number& number) {
    return number.part;
}

/// "upper link 2": its label up to the comma.
inline std::string part_words(const head::Number& number) {
    return number.label.substr(0, number.label.find(','));
}

}  // namespace swashwright::studies
