#include "viewer/panels/picture_view.h"

#include <algorithm>

#include "viewer/panels/answer_table.h"
#include "viewer/panels/pointing.h"
#include "viewer/panels/state.h"

namespace swashwright::panels {

bool watches_pair(const State& state) {
    return !state.gap.parts().empty() && state.touched() == draw::part_of(state.gap.parts());
}

bool link_chosen(const State& state) {
    return state.selected &&
           (state.selected->kind == draw::PartKind::lower_link || state.selected->kind == draw::PartKind::upper_link);
}

draw::Style picture_style(const State& state) {
    draw::Style style{.night = state.settings.night,
                      .exaggeration = state.view.exaggeration,
                      .hollows = !state.view.hurried,
                      .whole_blades = state.view.whole_blades,
                      .touched = state.touched(),
                      .touched_too = {},
                      .trouble = {}};
    style.lit = lesson_parts(state);
    if (const auto part = pointed_at(state)) style.lit.push_back(*part);
    style.ghost = state.extras.ghost();
    style.traces = state.extras.traces();
    if (state.view.cut) style.section_deg = state.view.camera.azimuth_deg;
    for (const head::Shortfall& shortfall : state.live().shortfalls)
        if (const auto part = draw::part_of(shortfall)) style.trouble.push_back(*part);
    if (watches_pair(state))
        style.touched_too = draw::part_of(state.gap.parts().substr(state.gap.parts().find('|') + 1));
    // Trouble is marked and told already; a dimension on the same link would stand in its way.
    if (style.touched && std::ranges::count(style.trouble, *style.touched)) style.touched.reset();
    return style;
}

void stand_at(State& state, draw::View view, double aspect) {
    if (view != draw::View::along) {
        move_camera(state, draw::camera_for(state.document.head(), view, state.view.whole_blades, aspect));
        return;
    }
    const auto& shown = state.live().shown;
    if (!shown || !link_chosen(state)) return;
    const auto along = [&](bool from_below) {
        return draw::camera_along(*state.selected, shown->description, shown->pose, aspect, from_below);
    };
    auto there = along(false);
    if (!there) return;
    const auto way = [](const draw::Camera& camera) { return Vec3((camera.eye() - camera.target).normalized()); };
    constexpr double same_way = 0.9999;  // within 0.8 deg
    if (way(state.view.camera).dot(way(*there)) > same_way) there = along(true);
    move_camera(state, *there);
}

void fit_camera(State& state, double aspect, bool at_once) {
    const draw::Camera there =
        draw::camera_for(state.document.head(), draw::View::corner, state.view.whole_blades, aspect);
    if (at_once) {
        state.view.camera = there;
        return;
    }
    draw::Camera camera = state.view.camera;  // where it stands, only nearer or farther
    camera.target = there.target;
    camera.distance_mm = there.distance_mm;
    camera.view_deg = there.view_deg;
    move_camera(state, camera);
}

}  // namespace swashwright::panels
