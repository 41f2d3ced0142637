#include "kinematics/scene/mesh_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <optional>
#include <sstream>
#include <string_view>
#include <vector>

namespace swashwright::scene {

namespace {

constexpr std::uintmax_t largest_mesh_file = 64 * 1024 * 1024;
constexpr float furthest_mm = 10000;                                  // as other coordinates of a scene
constexpr std::size_t header = 80, counted = header + 4, facet = 50;  // bytes of the binary form

using Corner = std::array<float, 3>;

bool named_stl(const std::string& path) {
    std::string end = std::filesystem::path(path).extension().string();
    std::ranges::transform(end, end.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; });
    return end == ".stl";
}

/// Of the binary form: 80 bytes of anything, the count of facets, then for each its normal, three corners and two bytes
/// more, all little-endian as every machine that this runs on. None where the size is not of so many facets.
std::optional<std::vector<Corner>> binary_corners(std::string_view bytes) {
    if (bytes.size() < counted) return std::nullopt;
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + header, sizeof(count));
    if (bytes.size() - counted != facet * static_cast<std::uintmax_t>(count)) return std::nullopt;
    std::vector<Corner> out(3 * static_cast<std::size_t>(count));
    for (std::size_t i = 0; i < count; ++i)
        std::memcpy(out.data() + 3 * i, bytes.data() + counted + facet * i + sizeof(Corner), 3 * sizeof(Corner));
    return out;
}

/// Of the text form: "solid", facets with three times "vertex x y z", "endsolid", once or oftener. None where it is not
/// that.
std::optional<std::vector<Corner>> text_corners(const std::string& text) {
    std::istringstream words(text);
    std::string word;
    if (!(words >> word) || word != "solid") return std::nullopt;
    std::getline(words, word);  // the name
    std::vector<Corner> out;
    bool ended = false;
    while (words >> word) {
        if (word == "solid" || word == "endsolid") {
            ended = word == "endsolid";
            std::getline(words, word);
            continue;
        }
        if (word != "vertex") continue;
        Corner& corner = out.emplace_back();
        for (float& number : corner)
            if (!(words >> number)) return std::nullopt;
    }
    return ended && out.size() % 3 == 0 ? std::optional(out) : std::nullopt;
}

/// Corners at one place are one point, so that what hangs together is known to.
head::Triangles joined(const std::vector<Corner>& corners) {
    head::Triangles out;
    std::map<Corner, int> known;
    std::array<int, 3> face{};
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const auto [found, made] = known.try_emplace(corners[i], static_cast<int>(out.points.size()));
        if (made) out.points.emplace_back(corners[i][0], corners[i][1], corners[i][2]);
        face[i % 3] = found->second;
        if (i % 3 == 2 && face[0] != face[1] && face[1] != face[2] && face[2] != face[0]) out.faces.push_back(face);
    }
    return out;
}

}  // namespace

tl::expected<head::Triangles, std::string> read_mesh(const std::string& path) {
    const auto fail = [&](std::string_view why) {
        return tl::unexpected(fmt::format("{}: {}; expected an STL file of triangles in mm", path, why));
    };
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) return fail("there is no such file");
    if (std::filesystem::file_size(path, error) > largest_mesh_file || error) return fail("the file is over 64 MB");
    if (!named_stl(path)) return fail("the name does not end in .stl");
    std::ifstream file(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    auto corners = binary_corners(bytes);  // first: some of them begin with "solid" too
    if (!corners) corners = text_corners(bytes);
    if (!corners) return fail("it is not one, or is cut short, or holds something else than numbers");
    for (const Corner& corner : *corners)
        for (const float number : corner) {
            if (!std::isfinite(number)) return fail("a corner is not a finite number");
            if (std::abs(number) > furthest_mm)
                return fail(fmt::format("a corner is more than {:.0f} mm away", furthest_mm));
        }
    head::Triangles out = joined(*corners);
    if (out.faces.empty()) return fail("it has no triangle");
    if (out.faces.size() > static_cast<std::size_t>(most_triangles))
        return fail(
            fmt::format("it has {} triangles, more than {}; make it coarser", out.faces.size(), most_triangles));
    return out;
}

}  // namespace swashwright::scene
