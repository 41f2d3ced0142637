// The typeface that words in pictures and in the window are drawn with.
#include "viewer/draw/base/font.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <clocale>
#include <cwctype>
#include <filesystem>
#include <string>

namespace swashwright::draw {
namespace {

/// Blocks of the Unicode standard. The last ten places of Cyrillic are younger than the typeface; no living language
/// of many speakers writes with them.
struct Block {
    const char* name;
    wchar_t first, last;
};
constexpr Block blocks[] = {{"Latin", 0x41, 0x24f},
                            {"more Latin", 0x1e00, 0x1efb},
                            {"Greek", 0x370, 0x3ff},
                            {"Greek with accents", 0x1f00, 0x1fff},
                            {"Cyrillic", 0x400, 0x525}};

TEST(Font, HasEveryLatinGreekAndCyrillicLetter) {
    if (!std::filesystem::exists("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"))
        GTEST_SKIP() << "fonts-dejavu-core is not installed";
    // What a letter is, says the C library's table, which is Unicode's.
    const std::string before = std::setlocale(LC_CTYPE, nullptr);
    if (std::setlocale(LC_CTYPE, "C.UTF-8") == nullptr) GTEST_SKIP() << "there is no locale C.UTF-8";
    ImFontAtlas atlas;
    const ImFont* font = add_font(atlas, 19);
    ASSERT_TRUE(atlas.Build());
    for (const Block& block : blocks) {
        int letters = 0;
        std::string lacking;
        for (wchar_t letter = block.first; letter <= block.last; ++letter) {
            if (std::iswalpha(static_cast<wint_t>(letter)) == 0) continue;
            ++letters;
            if (font->FindGlyphNoFallback(static_cast<ImWchar>(letter)) == nullptr)
                lacking += fmt::format(" U+{:04X}", static_cast<unsigned>(letter));
        }
        EXPECT_GT(letters, 100) << block.name;
        EXPECT_EQ(lacking, "") << block.name;
    }
    EXPECT_NE(font->FindGlyphNoFallback(0x301), nullptr);  // an accent that stands for itself
    std::setlocale(LC_CTYPE, before.c_str());
}

// B612's parentheses are all but square, so that words in them seem to stand in brackets.
TEST(Font, TakesParenthesesFromTheOtherFont) {
    const auto files = font_files();
    if (files.size() < 2) GTEST_SKIP() << "fonts-b612 and fonts-dejavu-core are not both installed";
    ImFontAtlas atlas, alone;
    const ImFont *body = add_font(atlas, 40), *large = add_large_font(atlas, 40);
    const ImFont *first = alone.AddFontFromFileTTF(files[0].c_str(), 40),
                 *other = alone.AddFontFromFileTTF(files[1].c_str(), 40);
    ASSERT_TRUE(atlas.Build() && alone.Build());
    const auto width = [](const ImFont* font, ImWchar letter) {
        const ImFontGlyph* glyph = font->FindGlyphNoFallback(letter);
        return glyph == nullptr ? -1 : glyph->AdvanceX;
    };
    for (const ImWchar letter : {ImWchar('('), ImWchar(')')}) {
        EXPECT_FLOAT_EQ(width(body, letter), width(other, letter));
        EXPECT_FLOAT_EQ(width(large, letter), width(other, letter));
        EXPECT_NE(width(first, letter), width(other, letter));
    }
    for (const ImWchar letter : {ImWchar('['), ImWchar(' '), ImWchar('\''), ImWchar('*'), ImWchar('a')})
        EXPECT_FLOAT_EQ(width(body, letter), width(first, letter)) << letter;
}

}  // namespace
}  // namespace swashwright::draw
