#include "viewer/panels/picture/picture_extras.h"

namespace swashwright::panels {

void PictureExtras::update(const Bench& bench, const View& view, const CompareSheet* compare) {
    update_ghost(bench, view, compare);
    update_traces(bench, view);
}

void PictureExtras::update_ghost(const Bench& bench, const View& view, const CompareSheet* compare) {
    const head::Description& now = bench.head();
    const head::Description* compared = compare ? compared_with(bench, *compare) : nullptr;
    const bool wanted = bench.live().closes && (compared || (view.as_meant && draw::has_errors(now)));
    std::optional<HeadKey> key;
    if (wanted)
        key = {bench.document().revision(),
               compared ? std::optional(std::pair(compare->with, compare->changed)) : std::nullopt};
    std::optional<GhostKey> place;
    if (wanted) place = {bench.controls.sticks, bench.controls.hands, bench.controls.azimuth_deg};
    if (key == other_key_ && place == ghost_key_) return;
    if (key != other_key_) {
        other_.reset();
        if (wanted) other_ = draw::GhostHead::of(compared ? *compared : draw::nominal(now));
    }
    ghost_ =
        other_ ? other_->at(place->sticks, place->azimuth_deg, hand_angles(*bench.live().head, place->hands)) : nullptr;
    other_key_ = key;
    ghost_key_ = place;
}

void PictureExtras::update_traces(const Bench& bench, const View& view) {
    const Readout& live = bench.live();
    std::optional<TracesKey> key;
    if (view.paths && live.head && live.closes)
        key = {bench.document().revision(), bench.controls.sticks, bench.controls.hands, view.whole_blades};
    if (key == traces_key_) return;
    constexpr int samples = 120;
    traces_ =
        key ? draw::traces_of(*live.head, key->sticks, key->whole_blades, samples, hand_angles(*live.head, key->hands))
            : nullptr;
    traces_key_ = key;
}

}  // namespace swashwright::panels
