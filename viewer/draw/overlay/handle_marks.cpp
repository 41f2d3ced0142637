#include "viewer/draw/overlay/handle_marks.h"

#include <cmath>

#include "viewer/draw/overlay/pen.h"

namespace swashwright::draw {

void draw_handle_marks(ImDrawList& list, const std::vector<Handle>& handles, const Handle* firm, const Camera& camera,
                       const Viewport& viewport, bool night, float scale) {
    const Pen pen{list, camera, viewport, sheet(night), scale};
    const ImU32 ink = packed(pen.colours.ink), paper = packed(pen.colours.paper), accent = packed(pen.colours.accent);
    const float radius = 7 * scale, far = 22 * scale;
    for (const Handle& handle : handles) {
        const auto at = pen.at(handle.at), on = pen.at(handle.moved(handle.turns ? 1 : 0.5));
        if (!at || !on) continue;
        const bool filled = firm != nullptr && firm->same(handle);
        const float run = std::hypot(on->x - at->x, on->y - at->y);
        const ImVec2 way = run > 0.2F ? ImVec2((on->x - at->x) / run, (on->y - at->y) / run) : ImVec2(0, -1);
        for (const float side : {-1.0F, 1.0F}) {
            const ImVec2 tip(at->x + side * far * way.x, at->y + side * far * way.y);
            list.AddLine(*at, tip, paper, 5 * scale);
            list.AddLine(*at, tip, ink, 1.5F * scale);
            pen.arrow_head(*at, tip, ink);
        }
        list.AddCircleFilled(*at, radius + 2 * scale, paper, 24);
        list.AddCircleFilled(*at, radius, filled ? accent : paper, 24);
        list.AddCircle(*at, radius, ink, 24, (filled ? 2.5F : 1.5F) * scale);
    }
}

}  // namespace swashwright::draw
