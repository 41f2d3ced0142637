#include "viewer/panels/picture/picture_view.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "viewer/draw/lines/contents.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/picture/pointing.h"

namespace swashwright::panels {

bool watches_pair(const Selection& selection) {
    return !selection.pair.empty() && selection.touched() == draw::part_of(selection.pair);
}

bool link_chosen(const Selection& selection) {
    return selection.selected && draw::is_link(selection.selected->role);
}

draw::Style picture_style(const Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                          const Sights& sights) {
    draw::Style style{.night = screen.settings.night,
                      .exaggeration = view.exaggeration,
                      .ambient_occlusion = !view.flat_hollows,
                      .whole_blades = view.whole_blades,
                      .touched = selection.touched(),
                      .touched_too = {},
                      .trouble = {}};
    style.lit = selection.spoken_of;
    if (const auto part = pointed_at(screen, sights)) style.lit.push_back(*part);
    style.ghost = sights.extras.ghost();
    style.traces = sights.extras.traces();
    style.hidden = view.hidden;
    if (view.cut) style.section_deg = view.camera.azimuth_deg;
    for (const head::Shortfall& shortfall : bench.live().shortfalls)
        if (shortfall.part) style.trouble.push_back(*shortfall.part);
    if (watches_pair(selection)) style.touched_too = draw::part_of(selection.pair.substr(selection.pair.find('|') + 1));
    // Trouble is marked and told already; a dimension on the same link would stand in its way.
    if (style.touched && std::ranges::count(style.trouble, *style.touched)) style.touched.reset();
    return style;
}

namespace {

/// The camera that frames what is drawn, without turning it.
draw::Camera framed(const Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                    const Sights& sights, draw::Camera camera, double aspect) {
    const auto& shown = bench.live().shown;
    if (!shown) {
        camera.fit(Vec3(0, 0, draw::proportions_of(bench.head()).top / 2),
                   draw::extent_of(bench.head(), view.whole_blades).radius_mm, aspect);
        return camera;
    }
    const draw::Contents contents = draw::contents_of(
        shown->description, shown->pose, picture_style(screen, bench, view, selection, sights), bench.controls.turning);
    camera.frame(contents.points, contents.swept, aspect);
    return camera;
}

void keep_framed(const Bench& bench, View& view, const draw::Camera& camera, double aspect) {
    view.framed = Framed{camera, aspect, bench.controls.turning, view.paths, view.as_meant};
}

}  // namespace

void fit_chosen(const Screen& screen, const Bench& bench, View& view, const Selection& selection, const Sights& sights,
                double aspect) {
    const auto& shown = bench.live().shown;
    if (!shown || !selection.selected) return;
    const std::vector<Vec3> points = draw::points_of(*selection.selected, shown->description, shown->pose,
                                                     picture_style(screen, bench, view, selection, sights));
    if (points.empty()) return;
    draw::Camera there = view.move ? view.move->to : view.camera;
    there.view_deg = draw::Camera().view_deg;
    there.frame(points, {}, aspect);
    constexpr double room = 0.55;  // of the picture for the part; the rest shows where it is
    there.zoom(room);
    view.framed.reset();
    move_camera(screen, view, there);
}

namespace {

bool same_way(const draw::Camera& a, const draw::Camera& b) {
    constexpr double within = 0.9999;  // 0.8 deg
    return (a.eye() - a.target).normalized().dot((b.eye() - b.target).normalized()) > within;
}

draw::View other_side(draw::View from) {
    using draw::View;
    switch (from) {
        case View::front:
            return View::back;
        case View::side:
            return View::right;
        case View::top:
            return View::below;
        default:
            return from;
    }
}

}  // namespace

void stand_at(const Screen& screen, const Bench& bench, View& view, const Selection& selection, const Sights& sights,
              draw::View from, double aspect) {
    if (from != draw::View::along) {
        const auto camera_from = [&](draw::View side) {
            return draw::camera_for(bench.head(), side, view.whole_blades, aspect);
        };
        if (same_way(view.move ? view.move->to : view.camera, camera_from(from))) from = other_side(from);
        const draw::Camera there = framed(screen, bench, view, selection, sights, camera_from(from), aspect);
        move_camera(screen, view, there);
        return keep_framed(bench, view, there, aspect);
    }
    const auto& shown = bench.live().shown;
    if (!shown || !link_chosen(selection)) return;
    const auto along = [&](bool from_below) {
        return draw::camera_along(*selection.selected, shown->description, shown->pose, aspect, from_below);
    };
    auto there = along(false);
    if (!there) return;
    if (same_way(view.camera, *there)) there = along(true);
    move_camera(screen, view, *there);
}

void fit_camera(const Screen& screen, const Bench& bench, View& view, const Selection& selection, const Sights& sights,
                double aspect, bool at_once) {
    draw::Camera there = view.move ? view.move->to : view.camera;
    there.view_deg = draw::Camera().view_deg;
    there = framed(screen, bench, view, selection, sights, there, aspect);
    if (at_once) {
        view.move.reset();
        view.camera = there;
    } else {
        move_camera(screen, view, there);
    }
    keep_framed(bench, view, there, aspect);
}

namespace {

/// The two ends of a gap, or the place on the part that is asked for; empty if it is nowhere.
std::vector<Vec3> places_to_see(const Bench& bench, const Selection& selection, Sights& sights, const LookAt& at,
                                const draw::Style& style) {
    const auto& shown = bench.live().shown;
    if (watches_pair(selection) && bench.live().head && bench.live().closes && bench.controls.hands.empty())
        if (const auto gap = sights.gap.measure(selection.pair, *bench.live().head, bench.document().revision(),
                                                bench.controls.sticks, bench.controls.azimuth_deg))
            return {gap->at[0], gap->at[1]};
    if (const auto length = draw::length_of(at.part, shown->description, shown->pose))
        return {at.end ? (*at.end == 0 ? length->a : length->b) : Vec3((length->a + length->b) / 2)};
    const auto anchor = draw::anchor_of(at.part, shown->description, shown->pose, style);
    return anchor ? std::vector<Vec3>{*anchor} : std::vector<Vec3>{};
}

}  // namespace

void look_closer(const Screen& screen, const Bench& bench, View& view, const Selection& selection, Sights& sights,
                 const LookAt& at, double aspect) {
    if (!bench.live().shown) return;
    const std::vector<Vec3> places =
        places_to_see(bench, selection, sights, at, picture_style(screen, bench, view, selection, sights));
    if (places.empty()) return;
    const Vec3 middle = (places.front() + places.back()) / 2;
    constexpr double share = 0.3, near_shaft_mm = 8, from_above_deg = 12;  // of what the whole head takes
    draw::Camera there = view.move ? view.move->to : view.camera;
    there.view_deg = draw::Camera().view_deg;
    if (std::hypot(middle.x(), middle.y()) > near_shaft_mm)
        there.azimuth_deg = std::atan2(middle.y(), middle.x()) / degree;
    there.height_deg = from_above_deg;
    const double whole = draw::extent_of(bench.head(), /*whole_blades=*/false).radius_mm;
    there.fit(middle, std::max(share * whole, (places.back() - places.front()).norm()), aspect);
    move_camera(screen, view, there);
    view.framed.reset();
}

void follow_frame(const Screen& screen, const Bench& bench, View& view, const Selection& selection,
                  const Sights& sights, double aspect) {
    const std::optional<Framed> last = view.framed;
    if (!last || view.move) return;
    if (!(last->camera == view.camera)) return view.framed.reset();
    const Framed now{last->camera, aspect, bench.controls.turning, view.paths, view.as_meant};
    if (!(now == *last))
        fit_camera(screen, bench, view, selection, sights, aspect, /*at_once=*/now.aspect != last->aspect);
}

}  // namespace swashwright::panels
