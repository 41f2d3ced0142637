// A new head from a choice of layouts.
#pragma once

namespace swashwright::panels {

struct State;

/// The dialog's content: one line a layout. The choice opens unsaved, named and in no file.
void draw_new_head(State& state);

}  // namespace swashwright::panels
