// What an edit is called, and why one is refused, without the keys of the file's format.
#pragma once

#include <string>

namespace swashwright::panels {

/// The number or choice of an edit of this name: "Upper links, link 1, length_mm" is "Upper links, link 1, length".
std::string edit_words(const std::string& name);

/// Why an edit of this name was refused, by the message of the file's rules: "[[servo]] 1 pulse_centre_us: expected a
/// pulse in microseconds from 100 to 5000, found 3" is "Expected a pulse from 100 µs to 5000 µs, found 3 µs."
std::string refusal_words(const std::string& name, const std::string& why);

}  // namespace swashwright::panels
