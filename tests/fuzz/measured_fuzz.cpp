// Any bytes as a measured file: an answer or mistakes, each with a place and words; never a crash.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "kinematics/bench_files/measured.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read =
        swashwright::scene::parse_measured({reinterpret_cast<const char*>(data), size}, "any.toml");  // NOLINT
    if (!read && read.error().text().empty()) std::abort();
    return 0;
}
