// Any bytes as a file of calliper readings, of either kind: an answer or mistakes, each with a place and words; never a
// crash.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "kinematics/bench_files/calliper.h"
#include "kinematics/bench_files/measured.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);  // NOLINT
    const auto read = swashwright::scene::parse_measured(text, "any.toml");
    if (!read && read.error().text().empty()) std::abort();
    const auto places = swashwright::scene::parse_calliper(text, "any.toml");
    if (!places && places.error().text().empty()) std::abort();
    return 0;
}
