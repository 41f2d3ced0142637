#include "viewer/panels/picture/picture_view.h"

#include <algorithm>

#include "viewer/draw/lines/contents.h"
#include "viewer/panels/picture/pointing.h"
#include "viewer/panels/questions/answer_table.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

bool watches_pair(const State& state) {
    return !state.gap.parts().empty() && state.touched() == draw::part_of(state.gap.parts());
}

bool link_chosen(const State& state) {
    return state.selected &&
           (state.selected->role == head::Role::lower_link || state.selected->role == head::Role::upper_link);
}

draw::Style picture_style(const State& state) {
    draw::Style style{.night = state.settings.night,
                      .exaggeration = state.view.exaggeration,
                      .ambient_occlusion = !state.view.hurried,
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
        if (shortfall.part) style.trouble.push_back(*shortfall.part);
    if (watches_pair(state))
        style.touched_too = draw::part_of(state.gap.parts().substr(state.gap.parts().find('|') + 1));
    // Trouble is marked and told already; a dimension on the same link would stand in its way.
    if (style.touched && std::ranges::count(style.trouble, *style.touched)) style.touched.reset();
    return style;
}

namespace {

/// The camera that frames what is drawn, without turning it.
draw::Camera framed(const State& state, draw::Camera camera, double aspect) {
    const auto& shown = state.live().shown;
    if (!shown) {
        camera.fit(Vec3(0, 0, draw::proportions_of(state.document.head()).top / 2),
                   draw::extent_of(state.document.head(), state.view.whole_blades).radius_mm, aspect);
        return camera;
    }
    const draw::Contents contents =
        draw::contents_of(shown->description, shown->pose, picture_style(state), state.controls.turning);
    camera.frame(contents.points, contents.swept, aspect);
    return camera;
}

void keep_framed(State& state, const draw::Camera& camera, double aspect) {
    state.view.framed = Framed{camera, aspect, state.controls.turning, state.view.paths, state.view.as_meant};
}

}  // namespace

void stand_at(State& state, draw::View view, double aspect) {
    if (view != draw::View::along) {
        const draw::Camera there =
            framed(state, draw::camera_for(state.document.head(), view, state.view.whole_blades, aspect), aspect);
        move_camera(state, there);
        return keep_framed(state, there, aspect);
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
    draw::Camera there = state.view.move ? state.view.move->to : state.view.camera;
    there.view_deg = draw::Camera().view_deg;
    there = framed(state, there, aspect);
    if (at_once) {
        state.view.move.reset();
        state.view.camera = there;
    } else {
        move_camera(state, there);
    }
    keep_framed(state, there, aspect);
}

void follow_frame(State& state, double aspect) {
    const std::optional<Framed> last = state.view.framed;
    if (!last || state.view.move) return;
    if (!(last->camera == state.view.camera)) return state.view.framed.reset();
    const Framed now{last->camera, aspect, state.controls.turning, state.view.paths, state.view.as_meant};
    if (!(now == *last)) fit_camera(state, aspect, /*at_once=*/now.aspect != last->aspect);
}

}  // namespace swashwright::panels
