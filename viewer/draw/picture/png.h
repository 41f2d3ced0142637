// Pictures as PNG files (ISO/IEC 15948), by libpng.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace swashwright::draw {

/// RGB, 8 bits each, rows from the top.
struct Pixels {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;
};

/// The bytes of a PNG file; the error is a sentence.
tl::expected<std::string, std::string> png_bytes(const Pixels& pixels);
/// None if the file is no PNG that can be read.
std::optional<Pixels> read_png(const std::string& path);

}  // namespace swashwright::draw
