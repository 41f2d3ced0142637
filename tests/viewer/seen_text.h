// Lettering as ImGui is about to draw it: each sign's place, and whether an edge cuts it. So a test sees what the eye
// would see, whichever control wrote it.
#pragma once

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

namespace swashwright::testing {

struct Sign {
    ImVec2 low, high;  // what is seen of it
    bool cut_across = false, cut_down = false;
    std::string letter;
};

struct List {
    std::string window;
    bool scrolls = false, scrolls_across = false;
    std::vector<Sign> signs;

    /// The words around a sign, for a message.
    std::string around(std::size_t at) const {
        std::string out;
        for (std::size_t i = at < 14 ? 0 : at - 14; i < std::min(signs.size(), at + 10); ++i)
            if (std::abs(signs[i].low.y - signs[at].low.y) < 12) out += signs[i].letter;
        return out;
    }
};

/// The signs of the typefaces by where they stand in the texture. Made once for every size of text.
class Letters {
public:
    Letters() {
        for (const ImFont* font : ImGui::GetIO().Fonts->Fonts)
            for (const ImFontGlyph& glyph : font->Glyphs) {
                from_low_.emplace(key(glyph.U0, glyph.V0), &glyph);
                from_high_.emplace(key(glyph.U1, glyph.V1), &glyph);
            }
    }
    /// The sign of which `low` to `high` is a part; null for none.
    const ImFontGlyph* at(const ImVec2& low, const ImVec2& high) const {
        if (const auto found = from_low_.find(key(low.x, low.y)); found != from_low_.end()) return found->second;
        const auto found = from_high_.find(key(high.x, high.y));
        return found == from_high_.end() ? nullptr : found->second;
    }

private:
    static std::uint64_t key(float u, float v) {
        constexpr float fine = 1 << 20;
        return static_cast<std::uint64_t>(std::lround(u * fine)) << 32U |
               static_cast<std::uint64_t>(std::lround(v * fine));
    }
    std::unordered_map<std::uint64_t, const ImFontGlyph*> from_low_, from_high_;
};

/// A sign, if the six indices from `i` draw one: an upright rectangle with a patch of the typeface on it.
inline std::optional<Sign> sign_at(const ImDrawList& list, const ImDrawCmd& command, unsigned i,
                                   const Letters& letters) {
    const ImDrawIdx* index = &list.IdxBuffer[static_cast<int>(i)];
    const unsigned first = index[0];
    constexpr unsigned order[6] = {0, 1, 2, 0, 2, 3};
    for (unsigned k = 0; k < 6; ++k)
        if (index[k] != first + order[k]) return std::nullopt;
    const ImDrawVert& a = list.VtxBuffer[static_cast<int>(command.VtxOffset + first)];
    const ImDrawVert& c = list.VtxBuffer[static_cast<int>(command.VtxOffset + first + 2)];
    if (!(c.uv.x > a.uv.x && c.uv.y > a.uv.y)) return std::nullopt;  // lines and fills have none
    Sign out{a.pos, c.pos, false, false, "?"};
    // Where a control cuts its own words, only a part of a sign's patch is drawn.
    if (const ImFontGlyph* glyph = letters.at(a.uv, c.uv)) {
        constexpr float rounding = 1e-5F;
        out.cut_across = c.uv.x < glyph->U1 - rounding || a.uv.x > glyph->U0 + rounding;
        out.cut_down = c.uv.y < glyph->V1 - rounding || a.uv.y > glyph->V0 + rounding;
        char letter[5];
        ImTextCharToUtf8(letter, glyph->Codepoint);
        out.letter = letter;
    } else {
        out.cut_down = true;  // at two corners
    }
    const ImVec4& clip = command.ClipRect;
    out.low = {std::max(a.pos.x, clip.x), std::max(a.pos.y, clip.y)};
    out.high = {std::min(c.pos.x, clip.z), std::min(c.pos.y, clip.w)};
    constexpr float hair = 0.6F;  // of a pixel: a sign's edge is softened
    out.cut_across = out.cut_across || a.pos.x < clip.x - hair || c.pos.x > clip.z + hair;
    out.cut_down = out.cut_down || a.pos.y < clip.y - hair || c.pos.y > clip.w + hair;
    return out;
}

/// What ImGui has made ready to draw, in the order in which it lies on the screen.
inline std::vector<List> seen_text(const Letters& letters) {
    std::vector<List> out;
    const ImDrawData& data = *ImGui::GetDrawData();
    for (int l = 0; l < data.CmdListsCount; ++l) {
        const ImDrawList& list = *data.CmdLists[l];
        List lettering{list._OwnerName ? list._OwnerName : "", false, false, {}};
        for (const ImGuiWindow* window : ImGui::GetCurrentContext()->Windows)
            if (window->DrawList == &list) {
                lettering.scrolls_across = (window->Flags & ImGuiWindowFlags_HorizontalScrollbar) != 0;
                for (const ImGuiWindow* w = window; w; w = w->ParentWindow) lettering.scrolls |= w->ScrollMax.y > 0;
            }
        for (const ImDrawCmd& command : list.CmdBuffer) {
            for (unsigned i = 0; i + 6 <= command.ElemCount;) {
                const auto sign = sign_at(list, command, command.IdxOffset + i, letters);
                if (sign && sign->high.x > sign->low.x && sign->high.y > sign->low.y) lettering.signs.push_back(*sign);
                i += sign ? 6 : 3;
            }
        }
        out.push_back(std::move(lettering));
    }
    return out;
}

/// Lines that say "mm" of a length, with what stands around it; not of a moment ("N mm") or a share ("mm/deg").
inline std::vector<std::string> says_millimetres(const std::vector<List>& lists) {
    constexpr float touching = 4, near = 11;  // pixels at scale 1: letters of a word, words of a line
    std::vector<std::string> out;
    for (const List& list : lists) {
        const auto follows = [&](std::size_t i, float gap) {  // the sign after `i`, at most so far to the right
            return i + 1 < list.signs.size() && std::abs(list.signs[i + 1].low.y - list.signs[i].low.y) < 12 &&
                   std::abs(list.signs[i + 1].low.x - list.signs[i].high.x) < gap;
        };
        const auto letter = [&](std::size_t i) {
            return std::isalpha(static_cast<unsigned char>(list.signs[i].letter[0]));
        };
        for (std::size_t i = 0; i + 1 < list.signs.size(); ++i) {
            if (list.signs[i].letter != "m" || list.signs[i + 1].letter != "m" || !follows(i, touching)) continue;
            if (i > 0 && letter(i - 1) && follows(i - 1, touching)) continue;  // "hammer"
            if (i > 0 && list.signs[i - 1].letter == "N" && follows(i - 1, near)) continue;
            if (follows(i + 1, touching) && (letter(i + 2) || list.signs[i + 2].letter == "/")) continue;
            out.push_back(list.window + ": " + list.around(i));
        }
    }
    return out;
}

/// Words that an edge cuts, told once a line. Not what is typed into `fields`: it may be as long as one likes.
inline std::vector<std::string> cut_words(const std::vector<List>& lists, const std::vector<ImVec4>& fields) {
    std::vector<std::string> out;
    for (const List& list : lists) {
        if (list.window.find("##note") != std::string::npos) continue;  // typed in, and as long as one likes
        float line = -1;
        for (std::size_t i = 0; i < list.signs.size(); ++i) {
            const Sign& sign = list.signs[i];
            // What scrolls is cut by the upper and lower edge of what it scrolls in.
            if ((!sign.cut_across || list.scrolls_across) && (!sign.cut_down || list.scrolls)) continue;
            if (std::ranges::any_of(fields, [&](const ImVec4& field) {
                    return sign.low.x >= field.x && sign.high.x <= field.z && sign.low.y >= field.y - 1 &&
                           sign.high.y <= field.w + 1;
                }))
                continue;
            if (std::abs(sign.low.y - line) < 6) continue;
            line = sign.low.y;
            out.push_back(list.window + ": cut: " + list.around(i));
        }
    }
    return out;
}

/// Words that lie on other words of the same window.
inline std::vector<std::string> words_on_words(const std::vector<List>& lists) {
    std::vector<std::string> out;
    for (const List& list : lists) {
        std::map<int, std::vector<std::size_t>> bands;  // by height
        constexpr float band = 32;
        float told = -1;
        for (std::size_t i = 0; i < list.signs.size(); ++i) {
            const Sign& a = list.signs[i];
            bool covered = false;
            for (int b = static_cast<int>(a.low.y / band); b <= static_cast<int>(a.high.y / band); ++b) {
                for (const std::size_t j : bands[b]) {
                    const Sign& other = list.signs[j];
                    const float across = std::min(a.high.x, other.high.x) - std::max(a.low.x, other.low.x);
                    const float down = std::min(a.high.y, other.high.y) - std::max(a.low.y, other.low.y);
                    // Neighbours in a word touch by a pixel or two.
                    covered = covered || (across > 2.5F && down > 2.5F);
                    if (across > 2.5F && down > 2.5F && std::abs(a.low.y - told) >= 6) {
                        told = a.low.y;
                        out.push_back(list.window + ": \"" + list.around(i) + "\" lies on \"" + list.around(j) + '"');
                    }
                }
                bands[b].push_back(i);
            }
        }
    }
    return out;
}

}  // namespace swashwright::testing
