// How an answer writes a number.
#pragma once

#include <string>

namespace swashwright::studies {

/// With so many decimals. What rounds to nothing is written "0.00", never "-0.00".
std::string figure(double value, int decimals);
/// The same with a plus before what is above nothing.
std::string signed_figure(double value, int decimals);

}  // namespace swashwright::studies
