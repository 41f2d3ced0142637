#include "viewer/panels/picture/ball_pick.h"

#include "kinematics/head/ball_places.h"
#include "kinematics/head/references.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

void draw_ball_pick(Screen& screen, const Bench& bench, const View& view, Selection& selection, ImDrawList& list,
                    const Rect& place) {
    const auto& shown = bench.live().shown;
    if (!selection.pick || selection.pick->ball || !shown) return;
    if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))) {
        selection.pick.reset();
        return;
    }
    const Inks ink = screen.inks();
    const float scale = screen.scale();
    const draw::Viewport viewport{static_cast<int>(place.x), static_cast<int>(place.y), static_cast<int>(place.width),
                                  static_cast<int>(place.height)};
    for (const head::BallName& ball : head::every_ball(shown->description)) {
        const Vec3* at = head::ball_place(shown->pose.skeleton, ball);
        if (at == nullptr) continue;
        const glm::dvec3 seen = view.camera.project(*at, viewport);
        if (seen.z > 1) continue;
        const ImVec2 middle{static_cast<float>(seen.x), static_cast<float>(seen.y)};
        list.AddCircle(middle, 9 * scale, ink.paper, 24, 4 * scale);
        list.AddCircle(middle, 9 * scale, ink.accent, 24, 2 * scale);
        screen.report.rectangle("ball " + name_of(ball), {middle.x - 5 * scale, middle.y - 5 * scale},
                                {middle.x + 5 * scale, middle.y + 5 * scale});
    }
}

}  // namespace swashwright::panels
