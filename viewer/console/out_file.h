// The last step of verbs that make a file.
#pragma once

#include <string>
#include <tl/expected.hpp>

namespace swashwright::console {

/// Writes what was made, or says on standard error why there is nothing; the exit code. `closes`: every pose in it did.
int write_out(const std::string& path, const tl::expected<std::string, std::string>& bytes, bool closes);

}  // namespace swashwright::console
