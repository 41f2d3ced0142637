#include "viewer/draw/picture/png.h"

#include <png.h>

namespace swashwright::draw {
namespace {

png_image rgb_image() {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.format = PNG_FORMAT_RGB;
    return image;
}

}  // namespace

tl::expected<std::string, std::string> png_bytes(const Pixels& pixels) {
    png_image image = rgb_image();
    image.width = static_cast<png_uint_32>(pixels.width);
    image.height = static_cast<png_uint_32>(pixels.height);
    std::string bytes(PNG_IMAGE_PNG_SIZE_MAX(image), '\0');
    png_alloc_size_t size = bytes.size();
    if (png_image_write_to_memory(&image, bytes.data(), &size, 0, pixels.rgb.data(), 0, nullptr) == 0) {
        return tl::unexpected(std::string("the picture cannot be packed as PNG: ") + image.message);
    }
    bytes.resize(size);
    return bytes;
}

std::optional<Pixels> read_png(const std::string& path) {
    png_image image = rgb_image();
    if (png_image_begin_read_from_file(&image, path.c_str()) == 0) return std::nullopt;
    image.format = PNG_FORMAT_RGB;
    Pixels pixels{static_cast<int>(image.width), static_cast<int>(image.height), {}};
    pixels.rgb.resize(PNG_IMAGE_SIZE(image));
    if (png_image_finish_read(&image, nullptr, pixels.rgb.data(), 0, nullptr) == 0) return std::nullopt;
    return pixels;
}

}  // namespace swashwright::draw
