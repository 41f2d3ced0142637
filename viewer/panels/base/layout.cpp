#include "viewer/panels/base/layout.h"

#include <algorithm>
#include <cmath>

namespace swashwright::panels {

namespace {

constexpr float sentence_height = 66, caption_height = 32, tray_height = 196, tray_least_width = 700;
constexpr float tray_most = 0.27F;  // share of the window
constexpr float column_width = 412, wide_width = 560;
constexpr float wide_least = 0.42F, column_most = 0.46F;  // shares of the window

}  // namespace

Layout lay_out(float width, float height, float scale, float tools_height, bool wide, float hands_height) {
    Layout out;
    out.sentence = {0, 0, width, std::round(sentence_height * scale)};
    out.tools = {0, out.sentence.bottom(), width, tools_height};

    const float top = out.tools.bottom();
    const float wanted = wide ? std::max(wide_width * scale, wide_least * width) : column_width * scale;
    const float column = std::round(std::min(wanted, column_most * width));
    const float tray = std::round(std::min(tray_height * scale, tray_most * height));
    const bool across = width - column < tray_least_width * scale;
    const float left = width - column;

    out.tray = {0, height - tray, across ? width : left, tray};
    out.hands = {0, out.tray.y - std::round(hands_height), out.tray.width, std::round(hands_height)};
    const float caption = std::round(caption_height * scale);
    out.caption = {0, out.hands.y - caption, left, caption};
    out.picture = {0, top, left, std::max(1.0F, out.caption.y - top)};
    out.column = {left, top, column, std::max(1.0F, (across ? out.hands.y : height) - top)};
    return out;
}

}  // namespace swashwright::panels
