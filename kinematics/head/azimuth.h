// Azimuths as people write them.
#pragma once

#include <cmath>

namespace swashwright::head {

/// The same direction from 0 to below 360 deg.
inline double within_turn_deg(double deg) {
    return deg - 360 * std::floor(deg / 360);
}

}  // namespace swashwright::head
