// What the picture shows of the state, and from where.
#pragma once

#include "viewer/draw/gl/drawing.h"
#include "viewer/draw/picture/picture.h"

namespace swashwright::panels {

struct State;

draw::Style picture_style(const State& state);
/// A pair of parts was chosen in a table and its first part is still the chosen one.
bool watches_pair(const State& state);
/// The part that was clicked is a link.
bool link_chosen(const State& state);
/// Sends the camera to one of the fixed views, near enough for all that is drawn to fill a picture of this aspect.
/// `along` looks down the chosen link; asked for once more, from its other end.
void stand_at(State& state, draw::View view, double aspect);
/// Sends the camera where all that is drawn fills the picture, without turning it.
void fit_camera(State& state, double aspect, bool at_once);
/// Again where the picture or what is drawn has become larger or smaller and the camera has not been moved since.
void follow_frame(State& state, double aspect);

}  // namespace swashwright::panels
