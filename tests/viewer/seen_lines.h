// Lettering put together to lines of words, for tests that ask what the window says and where.
#pragma once

#include <string>
#include <vector>

#include "tests/viewer/seen_text.h"

namespace swashwright::testing {

struct Line {
    std::string words;
    ImVec2 low, high;
};

/// Signs that follow each other in a line; wider gaps than a blank begin another.
inline std::vector<Line> seen_lines(const std::vector<List>& lists) {
    std::vector<Line> out;
    const float blank = 0.2F * ImGui::GetFontSize(), apart = 0.75F * ImGui::GetFontSize();
    for (const List& list : lists) {
        const Sign* last = nullptr;
        for (const Sign& sign : list.signs) {
            const float height = sign.high.y - sign.low.y, gap = last ? sign.low.x - last->high.x : 0;
            const bool on = last && gap > -3 && gap < apart && sign.low.y < out.back().high.y + 2 &&
                            sign.high.y > out.back().low.y - 2;
            if (!on) out.push_back({"", sign.low, sign.high});
            Line& line = out.back();
            if (on && gap > blank) line.words += ' ';
            line.words += sign.letter;
            line.low = {std::min(line.low.x, sign.low.x), std::min(line.low.y, sign.low.y)};
            line.high = {std::max(line.high.x, sign.high.x), std::max(line.high.y, sign.high.y)};
            last = height > 0 ? &sign : last;
        }
    }
    return out;
}

}  // namespace swashwright::testing
