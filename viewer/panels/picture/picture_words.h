// What is written over the picture, in the window and in a file of it.
#pragma once

#include <string>
#include <vector>

#include "viewer/draw/overlay/overlay.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

draw::OverlayWords overlay_words(const Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                                 Sights& sights);
/// What must not be overlooked, from the bottom upwards.
std::vector<std::string> patch_words(const Bench& bench, const View& view, const Selection& selection,
                                     const Sights& sights);

}  // namespace swashwright::panels
