// The day on the user's clock.
#pragma once

#include <string>

namespace swashwright::document {

/// "2026-11-29".
std::string today();

}  // namespace swashwright::document
