#include "viewer/panels/base/layout.h"

#include <algorithm>
#include <cmath>

namespace swashwright::panels {

namespace {

constexpr float sentence_height = 58, caption_height = 30, folds_width = 68;
constexpr float tray_height = 92, folded_tray_height = 37, tray_least_width = 752;
constexpr float column_width = 390, wide_width = 520;
constexpr float wide_least = 0.36F, column_most = 0.46F;  // shares of the window

}  // namespace

Layout lay_out(float width, float height, float scale, const Standing& standing) {
    Layout out;
    out.sentence = {0, 0, width, std::round(sentence_height * scale)};
    out.tools = {0, out.sentence.bottom(), width, standing.tools_height};

    const float top = out.tools.bottom();
    const float wanted = standing.wide ? std::max(wide_width * scale, wide_least * width) : column_width * scale;
    const float column = standing.column_folded ? 0 : std::round(std::min(wanted, column_most * width));
    const float tray = std::round((standing.tray_folded ? folded_tray_height : tray_height) * scale);
    const bool across = width - column < tray_least_width * scale;
    const float left = width - column;

    out.tray = {0, height - tray, across ? width : left, tray};
    const float hands = standing.tray_folded ? 0 : std::round(standing.hands_height);
    out.hands = {0, out.tray.y - hands, out.tray.width, hands};
    const float caption = std::round(caption_height * scale), folds = std::round(folds_width * scale);
    out.caption = {0, out.hands.y - caption, left - folds, caption};
    out.folds = {out.caption.right(), out.caption.y, folds, caption};
    out.picture = {0, top, left, std::max(1.0F, out.caption.y - top)};
    out.column = {left, top, column, std::max(1.0F, (across ? out.hands.y : height) - top)};
    return out;
}

Rect beside_item(const Rect& item, float note_width, float note_height, float window_width, float window_height,
                 float gap) {
    const float right = std::max(0.0F, window_width - note_width), low = std::max(0.0F, window_height - note_height);
    const auto at = [&](float x, float y) {
        return Rect{std::clamp(x, 0.0F, right), std::clamp(y, 0.0F, low), note_width, note_height};
    };
    if (item.y - gap - note_height >= 0) return at(item.x, item.y - gap - note_height);
    if (item.x - gap - note_width >= 0) return at(item.x - gap - note_width, item.y);
    if (item.right() + gap <= right) return at(item.right() + gap, item.y);
    return at(item.x, item.bottom() + gap);
}

}  // namespace swashwright::panels
