// A table's cell for what may not be known.
#pragma once

#include <optional>

#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// Empty where there is none.
template <class T>
Cell cell(const std::optional<T>& value) {
    return value ? Cell(*value) : Cell();
}

}  // namespace swashwright::studies
