// Pictures as PNG files without libpng, which the page does not have: rows as they are, in stored blocks of RFC 1951
// inside RFC 1950's frame, chunks by ISO/IEC 15948.
#include "viewer/draw/picture/png.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string_view>

namespace swashwright::draw {
namespace {

std::uint32_t crc_of(std::string_view bytes) {
    std::uint32_t crc = 0xFFFFFFFFU;
    for (const char byte : bytes) {
        crc ^= static_cast<unsigned char>(byte);
        for (int bit = 0; bit < 8; ++bit) crc = (crc >> 1U) ^ ((crc & 1U) != 0 ? 0xEDB88320U : 0U);
    }
    return ~crc;
}

std::uint32_t adler_of(std::string_view bytes) {
    std::uint32_t a = 1, b = 0;
    for (const char byte : bytes) {
        a = (a + static_cast<unsigned char>(byte)) % 65521U;
        b = (b + a) % 65521U;
    }
    return (b << 16U) | a;
}

void put(std::string& out, std::uint32_t number) {
    for (const unsigned shift : {24U, 16U, 8U, 0U}) out += static_cast<char>((number >> shift) & 0xFFU);
}

void put_chunk(std::string& out, const std::string& name, const std::string& content) {
    put(out, static_cast<std::uint32_t>(content.size()));
    out += name + content;
    put(out, crc_of(name + content));
}

std::string stored(const std::string& bytes) {
    std::string out("\x78\x01", 2);
    constexpr std::size_t most = 65535;
    for (std::size_t from = 0; from < bytes.size(); from += most) {
        const std::size_t count = std::min(most, bytes.size() - from);
        out += from + count == bytes.size() ? '\x01' : '\x00';
        for (const std::size_t length : {count, most - count}) {
            out += static_cast<char>(length & 0xFFU);
            out += static_cast<char>(length >> 8U);
        }
        out += bytes.substr(from, count);
    }
    put(out, adler_of(bytes));
    return out;
}

}  // namespace

tl::expected<std::string, std::string> png_bytes(const Pixels& pixels) {
    if (pixels.width < 1 || pixels.height < 1) return tl::unexpected(std::string("the picture is empty"));
    const std::size_t row = 3 * static_cast<std::size_t>(pixels.width);
    std::string rows;
    for (std::size_t y = 0; y < static_cast<std::size_t>(pixels.height); ++y) {
        rows += '\0';  // no filter
        for (std::size_t i = 0; i < row; ++i) rows += static_cast<char>(pixels.rgb[y * row + i]);
    }
    std::string head;
    put(head, static_cast<std::uint32_t>(pixels.width));
    put(head, static_cast<std::uint32_t>(pixels.height));
    head += std::string("\x08\x02\x00\x00\x00", 5);  // eight bits of red, green and blue each
    std::string out("\x89PNG\r\n\x1A\n", 8);
    put_chunk(out, "IHDR", head);
    put_chunk(out, "IDAT", stored(rows));
    put_chunk(out, "IEND", {});
    return out;
}

std::optional<Pixels> read_png(const std::string&) {
    return std::nullopt;  // nothing in the page reads one
}

}  // namespace swashwright::draw
