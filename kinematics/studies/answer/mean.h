// The mean of some numbers.
#pragma once

#include <numeric>
#include <vector>

namespace swashwright::studies {

/// `values` must not be empty.
inline double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

}  // namespace swashwright::studies
