#include "viewer/panels/window/panels.h"

#include <algorithm>
#include <utility>

#include "viewer/panels/files/files.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

void begin_panel(const char* name, const Rect& place, bool scrolls) {
    ImGui::SetNextWindowPos({place.x, place.y});
    ImGui::SetNextWindowSize({place.width, place.height});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowMinSize, ImVec2(1, 1));
    ImGui::Begin(name, nullptr,
                 (scrolls ? 0 : ImGuiWindowFlags_NoDecoration) | ImGuiWindowFlags_NoBackground |
                     ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    ImGui::PopStyleVar();
}

namespace {

void place_camera(State& state, double aspect) {
    follow_frame(state, aspect);
    if (const Fit fit = std::exchange(state.view.fit, Fit::none); fit != Fit::none)
        fit_camera(state, aspect, fit == Fit::at_once);
    if (const auto view = std::exchange(state.view.view_wanted, std::nullopt)) stand_at(state, *view, aspect);
    look_from_standpoint(state, aspect);
}

}  // namespace

Layout draw_panels(State& state, ImVec2 window) {
    constexpr float least_width = 640, least_height = 480;  // below this panels are cut off rather than squeezed
    window = {std::max(window.x, least_width), std::max(window.y, least_height)};
    const Layout layout = lay_out(window.x, window.y, state.scale(), state.tools_height, state.sheet != Sheet::parts);
    take_answers(state);
    follow_sheet(state);
    state.report.begin_frame();
    state.hovered.reset();
    state.tip_pending = false;
    // Controls first, then what follows from them, so that the picture answers in the same frame.
    draw_tray(state, layout.tray);
    draw_tools(state, layout.tools);
    state.follower.update(state.document, state.controls);
    draw_column(state, layout.column);
    if (std::exchange(state.save_wanted, false)) save(state);
    state.follower.update(state.document, state.controls);
    renew_answers(state);
    state.extras.update(state);
    place_camera(state, layout.picture.width / layout.picture.height);
    draw_sentence(state, layout.sentence);
    draw_picture(state, layout.picture);
    draw_caption(state, layout.caption);
    draw_dialogs(state, window);
    return layout;
}

}  // namespace swashwright::panels
