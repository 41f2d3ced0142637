#include "viewer/console/out_file.h"

#include <fmt/format.h>

#include "viewer/console/verbs.h"
#include "viewer/document/atomic_file.h"

namespace swashwright::console {

int write_out(const std::string& path, const tl::expected<std::string, std::string>& bytes, bool closes) {
    const auto written = bytes ? document::write_atomically(path, *bytes)
                               : tl::expected<void, std::string>(tl::unexpected(bytes.error()));
    if (!written) fmt::print(stderr, "swashwright: {}\n", written.error());
    return written && closes ? ExitCode::closes : ExitCode::cannot_be_assembled;
}

}  // namespace swashwright::console
