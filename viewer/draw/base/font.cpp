#include "viewer/draw/base/font.h"

#include <imgui.h>

#include <array>
#include <filesystem>
#include <string_view>
#include <system_error>
#include <vector>

namespace swashwright::draw {
namespace {

bool exists(const std::string& path) {
    std::error_code error;
    return std::filesystem::is_regular_file(path, error);
}

// Blocks of Unicode, first and last letter of each. ImGui keeps the pointer.
constexpr std::array<ImWchar, 17> glyphs{
    0x20,   0x58f,   // Latin, marks that stand on letters, Greek, Cyrillic, Armenian
    0x10a0, 0x10ff,  // Georgian
    0x1d00, 0x1fff,  // more Latin and Greek
    0x2010, 0x22ff,  // punctuation, signs, numbers, arrows, mathematics
    0x2c60, 0x2c7f,  // more Latin
    0xa640, 0xa69f,  // more Cyrillic
    0xa720, 0xa7ff,  // more Latin
    0xfb00, 0xfb06,  // joined Latin letters
    0};
// Large letters take much room: those that names are written in.
constexpr std::array<ImWchar, 5> large_glyphs{0x20, 0x52f,     // Latin, Greek, Cyrillic
                                              0x2010, 0x2044,  // punctuation
                                              0};

/// The same letters without parentheses: B612's are all but square, those of the next font tell them from brackets.
template <std::size_t count>
constexpr std::array<ImWchar, count + 2> without_parentheses(const std::array<ImWchar, count>& all) {
    std::array<ImWchar, count + 2> out{0x20, '(' - 1, ')' + 1};
    for (std::size_t i = 1; i < count; ++i) out[i + 2] = all[i];
    return out;
}
constexpr auto first_glyphs = without_parentheses(glyphs);
constexpr auto first_large_glyphs = without_parentheses(large_glyphs);

}  // namespace

std::vector<std::string> font_files(bool bold) {
    const std::string b612 = bold ? "B612-Bold" : "B612-Regular", deja = bold ? "DejaVuSans-Bold" : "DejaVuSans";
    std::vector<std::string> found;
    for (const std::string& path :
         {"/usr/share/fonts/opentype/b612/" + b612 + ".otf", "/usr/share/fonts/truetype/b612/" + b612 + ".ttf",
          "/usr/share/fonts/truetype/dejavu/" + deja + ".ttf"}) {
        if (exists(path)) found.push_back(path);
    }
    return found;
}

std::string font_path(bool bold) {
    const auto files = font_files(bold);
    return files.empty() ? std::string() : files.front();
}

namespace {

/// `first`: the letters of the first font where another comes after it.
ImFont* add(ImFontAtlas& atlas, float pixels, bool bold, const ImWchar* letters, const ImWchar* first, int oversample) {
    ImFont* font = nullptr;
    const auto files = font_files(bold);
    for (const std::string& path : files) {
        ImFontConfig config;
        config.MergeMode = font != nullptr;
        config.OversampleH = oversample;
        const bool alone = font != nullptr || files.size() == 1;
        ImFont* added = atlas.AddFontFromFileTTF(path.c_str(), pixels, &config, alone ? letters : first);
        if (font == nullptr) font = added;
    }
    if (font != nullptr) return font;
    ImFontConfig config;
    config.SizePixels = pixels;
    return atlas.AddFontDefault(&config);
}

}  // namespace

ImFont* add_font(ImFontAtlas& atlas, float pixels, bool bold) {
    return add(atlas, pixels, bold, glyphs.data(), first_glyphs.data(), 2);
}

ImFont* add_large_font(ImFontAtlas& atlas, float pixels) {
    return add(atlas, pixels, false, large_glyphs.data(), first_large_glyphs.data(), 1);
}

}  // namespace swashwright::draw
