#include "viewer/console/out_file.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>

#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"
#include "viewer/document/atomic_file.h"

namespace swashwright::console {
namespace {

namespace fs = std::filesystem;

/// Which takes what is written under any name: /dev/stdout, /dev/full.
bool device_or_pipe(const std::string& path) {
    if (path.starts_with("/dev/")) return true;  // /dev/stdout may lead to a file
    std::error_code none;
    const fs::file_status status = fs::status(path, none);
    return fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status);
}

}  // namespace

std::string ending_of(const std::string& path) {
    std::string end = fs::path(path).extension().string();
    std::ranges::transform(end, end.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; });
    return end;
}

CLI::Option* add_out(CLI::App& verb, std::string& path, const FileKind& kind, const std::string& help) {
    const auto right_name = [kind](const std::string& name) {
        if (device_or_pipe(name) || std::ranges::find(kind.endings, ending_of(name)) != kind.endings.end())
            return std::string();
        return fmt::format("{}: let the file's name end in {}, found {}", kind.what, fmt::join(kind.endings, " or "),
                           name.empty() ? "no name" : name);
    };
    return verb.add_option("--out", path, help)->type_name("FILE")->check(right_name);
}

std::optional<std::string> overwrites(const std::string& path, const std::vector<std::string>& read) {
    for (const std::string& input : read) {
        std::error_code none;
        if (!fs::is_regular_file(path, none) || !fs::equivalent(path, input, none)) continue;
        return fmt::format("{} is {}, which was read to make it; nothing is written. Name another file.", path,
                           path == input ? "the file" : "the same file as " + input);
    }
    return std::nullopt;
}

int write_out(const std::string& path, const tl::expected<std::string, std::string>& bytes, bool closes) {
    const auto written = bytes ? document::write_atomically(path, *bytes)
                               : tl::expected<void, std::string>(tl::unexpected(bytes.error()));
    if (!written) {
        complain("swashwright: {}\n", written.error());
        return ExitCode::not_written;
    }
    return closes ? ExitCode::closes : ExitCode::cannot_be_assembled;
}

}  // namespace swashwright::console
