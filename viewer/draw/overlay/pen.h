// What the overlay draws with: head-frame points as pixels, labels with leader lines, arrow heads. Internal to draw/.
#pragma once

#include <imgui.h>

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "viewer/draw/base/camera.h"
#include "viewer/draw/base/palette.h"
#include "viewer/draw/base/style.h"
#include "viewer/draw/overlay/name_columns.h"

namespace swashwright::draw {

/// A line of words that points at a place.
struct Label {
    std::string text;
    int number = 0;        // in a filled circle before the text; 0 for none
    bool trouble = false;  // framed, with a mark
    bool may_go = false;   // left out where there is no room
    std::uint32_t ink = 0;
    ImVec2 tip, low;  // where it points; its top left corner
};

struct Pen {
    ImDrawList& list;
    const Camera& camera;
    const Viewport& viewport;
    const Sheet& colours;
    float scale;
    std::vector<NameBox>* words = nullptr;  // written already: leaders stop short of them and go on behind

    /// None if the point is not in front of the eye.
    std::optional<ImVec2> at(const Vec3& point) const {
        const glm::dvec3 p = camera.project(point, viewport);
        if (!(p.z >= 0 && p.z <= 1)) return std::nullopt;
        return ImVec2(static_cast<float>(p.x), static_cast<float>(p.y));
    }
    bool inside(const ImVec2& p) const {
        const auto x = static_cast<float>(viewport.x), y = static_cast<float>(viewport.y);
        return p.x > x && p.y > y && p.x < x + static_cast<float>(viewport.width) &&
               p.y < y + static_cast<float>(viewport.height);
    }
    /// A corner from which a box of this size lies inside the picture.
    ImVec2 kept_inside(const ImVec2& low, const ImVec2& size) const {
        const float x0 = static_cast<float>(viewport.x) + 6, y0 = static_cast<float>(viewport.y) + 6;
        const float x1 = x0 + static_cast<float>(viewport.width) - 12,
                    y1 = y0 + static_cast<float>(viewport.height) - 12;
        return {std::max(x0, std::min(low.x, x1 - size.x)), std::max(y0, std::min(low.y, y1 - size.y))};
    }
    void written(const NameBox& box) const {
        if (words) words->push_back(box);
    }
    /// Paper under words, so that lines behind do not run through them.
    void backing(const ImVec2& low, const ImVec2& high) const {
        list.AddRectFilled({low.x - 2 * scale, low.y - scale}, {high.x + 2 * scale, high.y + scale},
                           packed(colours.paper, 0.84F), 2 * scale);
    }
    void arrow_head(const ImVec2& from, const ImVec2& tip, ImU32 ink) const;
    /// A thin line to what words tell of; broken where other words stand.
    void leader(const ImVec2& from, const ImVec2& to, ImU32 ink, float width) const;
    ImVec2 size_of(const Label& label) const;
    void draw(const Label& label) const;
};

}  // namespace swashwright::draw
