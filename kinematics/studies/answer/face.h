// The face from which heights are told.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <string>

#include "kinematics/head/description.h"

namespace swashwright::studies {

/// From where a head's numbers count heights.
inline constexpr const char* zero_height = "the head's zero height";

/// "the top of the bearing block"; the head's zero height where it names no face.
inline std::string face_words(const head::Description& description) {
    if (!description.measured_from) return zero_height;
    const std::string& name = description.measured_from->name;
    return name.starts_with("the ") ? name : "the " + name;
}

/// Its height above the head frame's origin, mm.
inline double face_height_mm(const head::Description& description) {
    return description.measured_from ? description.measured_from->height_mm : 0;
}

/// "the head's zero height (20.00 mm below the top of the bearing block)": how a calliper finds it.
inline std::string zero_words(const head::Description& description) {
    const double face_mm = face_height_mm(description);
    if (!description.measured_from) return zero_height;
    if (face_mm == 0) return face_words(description);
    return fmt::format("{} ({:.2f} mm {} {})", zero_height, std::abs(face_mm), face_mm > 0 ? "below" : "above",
                       face_words(description));
}

}  // namespace swashwright::studies
