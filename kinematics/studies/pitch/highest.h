// Where is a smooth function largest, between samples too?
#pragma once

#include <functional>
#include <optional>

namespace swashwright::studies {

struct Highest {
    double at = 0, value = 0;
};

/// Of `of` from `from` to `to`: so many intervals are sampled, then sought by golden section (Kiefer, Proc. AMS 4,
/// 1953) round each sample that stands above its neighbours, unless it lies too low to matter. Samples must be close
/// enough to see every hill. None if `of` has no value at one of the places.
std::optional<Highest> highest(const std::function<std::optional<double>(double)>& of, double from, double to,
                               int intervals);

}  // namespace swashwright::studies
