// What a gauge was zeroed on, as files and options write it.
#pragma once

#include <algorithm>
#include <initializer_list>
#include <string_view>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

/// In the order of `ZeroedOn`.
inline constexpr std::initializer_list<const char*> zeroed_on_words{"level", "shaft", "blade"};

inline const char* word_of(ZeroedOn zeroed_on) {
    return zeroed_on_words.begin()[static_cast<std::size_t>(zeroed_on)];
}

/// `word` is one of them.
inline ZeroedOn zeroed_on_of(std::string_view word) {
    return static_cast<ZeroedOn>(std::ranges::find(zeroed_on_words, word) - zeroed_on_words.begin());
}

}  // namespace swashwright::studies
