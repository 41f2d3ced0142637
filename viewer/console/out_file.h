// The files that verbs make: which names they may have, and the last step.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace swashwright::console {

/// A kind of file: "pictures are written as PNG", and how the names of such files end.
struct FileKind {
    std::string what;
    std::vector<std::string> endings;  // with the point, small letters
};

/// In small letters, with the point: ".png"; empty if the name has none.
std::string ending_of(const std::string& path);

/// Adds --out. A name that does not end as such files do is bad usage, unless it is a device or a pipe. `path` must
/// outlive parsing.
CLI::Option* add_out(CLI::App& verb, std::string& path, const FileKind& kind, const std::string& help);

/// Why a file may not be written: it is one of those that were read, under whichever name; none if it may.
std::optional<std::string> overwrites(const std::string& path, const std::vector<std::string>& read);

/// Writes what was made, or says on standard error why there is nothing; the exit code. `closes`: every pose in it did.
int write_out(const std::string& path, const tl::expected<std::string, std::string>& bytes, bool closes);

}  // namespace swashwright::console
