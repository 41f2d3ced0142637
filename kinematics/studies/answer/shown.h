// Which columns of a table people are shown.
#pragma once

#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// As `Column::decimals`: the column stands in JSON and CSV only.
inline constexpr int data_only = -1;

inline bool shown(const Column& column) {
    return column.decimals != data_only;
}

}  // namespace swashwright::studies
