// Any bytes as a scene file: a head or mistakes, each with words; never a crash. What is read is written back and read
// again to the same text, and posed: finite numbers or a reason.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace swashwright;
    const auto read = scene::parse({reinterpret_cast<const char*>(data), size}, "any.toml");  // NOLINT: bytes are text
    if (!read) {
        if (read.error().text().empty()) std::abort();
        return 0;
    }
    const std::string written = scene::write(*read);
    const auto again = scene::parse(written, "again.toml");
    if (!again || scene::write(*again) != written) std::abort();
    const auto head = head::Head::build(read->head);
    if (!head) return 0;
    const auto pose = head->pose(head::Sticks{.collective = 0.5, .aileron = 0.25, .elevator = -0.25}, 77);
    if (!pose) return 0;
    if (!std::isfinite(pose->height_mm) || !std::isfinite(pose->residual_mm)) std::abort();
    for (const double pitch : pose->pitch_deg)
        if (!std::isfinite(pitch)) std::abort();
    return 0;
}
