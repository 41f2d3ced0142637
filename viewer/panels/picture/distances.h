// Distances between two places: taken by clicks in the picture or by names, kept as dimensions until they are taken
// away.
#pragma once

#include <optional>
#include <vector>

#include "viewer/draw/lines/pick.h"
#include "viewer/draw/overlay/overlay.h"
#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

void turn_distances(Sights& sights);  // opens what takes them, or closes it
void take_last_away(View& view);
/// From this place; a second one makes a distance of both.
void take_place(View& view, Sights& sights, const draw::Place& place);

/// The place that is meant by a pixel of the picture: a named one near it, else the face that is hit, else none.
/// Hidden parts have none. `scale`: pixels of what is one at text scale 1.
std::optional<draw::Place> place_at(const Shown& shown, const draw::Camera& camera, const draw::Style& style,
                                    const draw::Viewport& viewport, double x, double y, double scale,
                                    const std::optional<draw::Hit>& hit);
/// Those that are kept, as they are at the pose that is shown.
std::vector<draw::DistanceMark> distance_marks(const Screen& screen, const Bench& bench, const View& view);

/// Rings at the places with names, while one is asked for.
void draw_places(Screen& screen, const Bench& bench, const View& view, const Sights& sights, ImDrawList& list,
                 const Rect& place);
/// The fields for names, and the list; over the picture's corner while it is open.
void draw_distance_tool(Screen& screen, const Bench& bench, View& view, Sights& sights, const Rect& place);

}  // namespace swashwright::panels
