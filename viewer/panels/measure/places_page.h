// The page of the Measure sheet on which the open head is measured place by place.
#pragma once

#include "viewer/panels/base/screen.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/wishes.h"
#include "viewer/panels/measure/places_sheet.h"

namespace swashwright::panels {

/// The two words that choose between a new head and the open one.
void measure_choice(Screen& screen, PlacesSheet& sheet);
/// Lists the places by part, with a field for each, and what the readings come to. `document`: the user's own.
void draw_places(Screen& screen, const document::Document& document, Selection& selection, PlacesSheet& sheet,
                 Wishes& wishes);

}  // namespace swashwright::panels
