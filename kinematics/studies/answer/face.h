// The face from which heights are told.
#pragma once

#include <string>

#include "kinematics/head/description.h"

namespace swashwright::studies {

/// "the top of the bearing block"; "the scene's zero height" where the scene names no face.
inline std::string face_words(const head::Description& description) {
    if (!description.measured_from) return "the scene's zero height";
    const std::string& name = description.measured_from->name;
    return name.starts_with("the ") ? name : "the " + name;
}

/// Its height above the head frame's origin, mm.
inline double face_height_mm(const head::Description& description) {
    return description.measured_from ? description.measured_from->height_mm : 0;
}

}  // namespace swashwright::studies
