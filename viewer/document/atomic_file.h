// Writing a file so that a reader, or a power cut, finds the old one or the new one, never half of it.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace swashwright::document {

enum class Durable { yes, no };       // yes: on the disk when the call returns; no: for files that change every frame
enum class Named { by_user, by_us };  // by_user: the user named it, and can name another

/// Writes a new file in the same folder and renames it over `path`; follows a symbolic link, keeps the old file's
/// permissions. A device or a pipe is written into. The error is a sentence with the path and the system's reason; the
/// old file is then untouched.
tl::expected<void, std::string> write_atomically(const std::string& path, std::string_view text,
                                                 Durable durable = Durable::yes, Named named = Named::by_user);

}  // namespace swashwright::document
