// How an answer writes a number, a place round the shaft, and the teeth of a spline.
#pragma once

#include <string>

namespace swashwright::studies {

/// With so many decimals. What rounds to nothing is written "0.00", never "-0.00".
std::string figure(double value, int decimals);
/// The same with a plus before what is above nothing.
std::string signed_figure(double value, int decimals);

/// A place round the shaft in words: "the nose", "the left", "the tail on the right". Azimuth in degrees from the
/// nose, positive anticlockwise seen from above.
std::string place_in_words(double azimuth_deg);

/// By how many teeth of its spline a horn is turned, anticlockwise positive: "one tooth clockwise", "as it is" for none;
/// and with where it is seen: "one tooth clockwise, seen on the horn's face".
std::string teeth_turned(int teeth);
std::string teeth_words(int teeth);

}  // namespace swashwright::studies
