// What the picture shows of the head, and from where.
#pragma once

#include "viewer/draw/gl/drawing.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

draw::Style picture_style(const Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                          const Sights& sights);
/// A pair of parts was chosen in a table and its first part is still the chosen one.
bool watches_pair(const Selection& selection);
/// The part that was clicked is a link.
bool link_chosen(const Selection& selection);
/// Sends the camera to one of the fixed views, near enough for all that is drawn to fill a picture of this aspect.
/// Asked for once more where the eye stands there already, from the other side; `along` looks down the chosen link.
void stand_at(const Screen& screen, const Bench& bench, View& view, const Selection& selection, const Sights& sights,
              draw::View from, double aspect);
/// Sends the camera near to a part, or to the gap to its other part where a pair is watched; from outside.
void look_closer(const Screen& screen, const Bench& bench, View& view, const Selection& selection, Sights& sights,
                 const LookAt& at, double aspect);
/// Sends the camera where all that is drawn fills the picture, without turning it.
void fit_camera(const Screen& screen, const Bench& bench, View& view, const Selection& selection, const Sights& sights,
                double aspect, bool at_once);
/// Sends the camera where the chosen part fills the picture with room around it; turns then go about its middle.
void fit_chosen(const Screen& screen, const Bench& bench, View& view, const Selection& selection, const Sights& sights,
                double aspect);
/// Again where the picture or what is drawn has become larger or smaller and the camera has not been moved since.
void follow_frame(const Screen& screen, const Bench& bench, View& view, const Selection& selection,
                  const Sights& sights, double aspect);

}  // namespace swashwright::panels
