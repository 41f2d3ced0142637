#include <algorithm>
#include <cfloat>
#include <cmath>
#include <string_view>
#include <vector>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/picture_panels.h"

namespace swashwright::panels {

namespace {

/// A mark before the words, so that colour is not the only sign: a triangle for trouble, a ring for a notice.
void draw_mark(ImDrawList& list, ImVec2 centre, float size, studies::Tone tone, const Inks& ink) {
    if (tone == studies::Tone::trouble) {
        list.AddTriangleFilled({centre.x, centre.y - size}, {centre.x + size, centre.y + 0.8F * size},
                               {centre.x - size, centre.y + 0.8F * size}, ink.trouble);
        list.AddLine({centre.x, centre.y - 0.4F * size}, {centre.x, centre.y + 0.25F * size}, ink.panel, 0.22F * size);
        list.AddCircleFilled({centre.x, centre.y + 0.53F * size}, 0.13F * size, ink.panel);
    } else if (tone == studies::Tone::notice) {
        list.AddCircle(centre, 0.8F * size, ink.ink, 0, 0.22F * size);
        list.AddCircleFilled(centre, 0.28F * size, ink.ink);
    }
}

/// Lines no wider than `wrap`, broken at spaces only: ImGui would break a number at its point.
std::vector<std::string_view> broken(std::string_view text, const ImFont& font, float size, float wrap) {
    const auto width = [&](std::string_view words) {
        return font.CalcTextSizeA(size, FLT_MAX, 0, words.data(), words.data() + words.size()).x;
    };
    std::vector<std::string_view> lines;
    while (width(text) > wrap) {
        std::size_t space = text.rfind(' ');
        while (space != std::string_view::npos && space > 0 && width(text.substr(0, space)) > wrap)
            space = text.rfind(' ', space - 1);
        if (space == std::string_view::npos || space == 0) break;
        lines.push_back(text.substr(0, space));
        text.remove_prefix(space + 1);
    }
    lines.push_back(text);
    return lines;
}

}  // namespace

void draw_sentence(Screen& screen, const Bench& bench, const Rect& place) {
    const Inks ink = screen.inks();
    begin_panel("sentence", place);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const studies::Sentence& sentence = bench.live().sentence;
    const float scale = screen.scale(), margin = 16 * scale;
    const bool marked = sentence.tone != studies::Tone::calm;
    const float left = place.x + margin + (marked ? 30 * scale : 0);
    const float wrap = place.right() - margin - left;

    // A long sentence takes two lines, then smaller letters; large text gives up some of its size before a word is cut.
    ImFont* font = screen.fonts.heading;
    float size = font->FontSize;
    const std::string text = lengths_read(sentence.text, screen.settings.inches);
    std::vector<std::string_view> lines = broken(text, *font, size, wrap);
    while (static_cast<float>(lines.size()) * size > place.height - 4 * scale &&
           size > 0.7F * font->FontSize / std::clamp(scale, 1.0F, 1.4F))
        lines = broken(text, *font, --size, wrap);
    float top = std::floor(place.y + std::max(2.0F, (place.height - static_cast<float>(lines.size()) * size) / 2));
    for (const std::string_view line : lines) {
        list.AddText(font, size, {left, top}, ink.ink, line.data(), line.data() + line.size());
        top += size;
    }
    if (marked)
        draw_mark(list, {place.x + margin + 11 * scale, place.y + place.height / 2}, 12 * scale, sentence.tone, ink);
    rule(screen, {place.x, place.bottom() - 1}, {place.right(), place.bottom() - 1});
    screen.report.rectangle("sentence", {place.x, place.y}, {place.right(), place.bottom()});
    ImGui::End();
}

}  // namespace swashwright::panels
