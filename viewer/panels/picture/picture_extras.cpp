#include "viewer/panels/picture/picture_extras.h"

#include "viewer/panels/window/state.h"

namespace swashwright::panels {

void PictureExtras::update(const State& state) {
    update_ghost(state);
    update_traces(state);
}

void PictureExtras::update_ghost(const State& state) {
    const head::Description& now = state.document.head();
    const head::Description* compared = state.sheet == Sheet::compare ? compared_with(state) : nullptr;
    const bool wanted = state.live().closes && (compared || (state.view.as_meant && draw::has_errors(now)));
    std::optional<HeadKey> key;
    if (wanted)
        key = {state.scenes_opened, state.document.revision(),
               compared ? std::optional(std::pair(state.compare.with, state.compare.changed)) : std::nullopt};
    std::optional<GhostKey> place;
    if (wanted) place = {state.controls.sticks, state.controls.azimuth_deg};
    if (key == other_key_ && place == ghost_key_) return;
    if (key != other_key_) {
        other_.reset();
        if (wanted) other_ = draw::GhostHead::of(compared ? *compared : draw::nominal(now));
    }
    ghost_ = other_ ? other_->at(place->sticks, place->azimuth_deg) : nullptr;
    other_key_ = key;
    ghost_key_ = place;
    ++stamp_;
}

void PictureExtras::update_traces(const State& state) {
    const Readout& live = state.live();
    std::optional<TracesKey> key;
    if (state.view.paths && live.head && live.closes)
        key = {state.scenes_opened, state.document.revision(), state.controls.sticks, state.view.whole_blades};
    if (key == traces_key_) return;
    traces_ = key ? draw::traces_of(*live.head, key->sticks, key->whole_blades) : nullptr;
    traces_key_ = key;
    ++stamp_;
}

}  // namespace swashwright::panels
