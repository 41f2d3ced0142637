#include "viewer/panels/picture_extras.h"

#include <utility>

#include "kinematics/head/proportions.h"
#include "viewer/panels/state.h"

namespace swashwright::panels {

void PictureExtras::update(const State& state) {
    const Readout& live = state.live();
    const bool drawable = live.head && live.closes;
    const head::Sticks& sticks = state.controls.sticks;
    const head::Description* other = state.sheet == Sheet::compare ? compared_with(state) : nullptr;
    const bool ghost = drawable && (other || (state.view.as_meant && draw::has_errors(state.document.head())));
    const bool paths = state.view.paths && drawable;
    // A path does not depend on where in the turn the rotor stands.
    Key ghost_key{ghost,
                  false,
                  other ? state.compare.stamp : CompareSheet::Stamp{},
                  state.scenes_opened,
                  state.document.revision(),
                  sticks,
                  state.controls.azimuth_deg};
    Key traces_key{paths, state.view.whole_blades, {}, state.scenes_opened, state.document.revision(), sticks, 0};
    if (!ghost) ghost_key = {};
    if (!paths) traces_key = {};
    if (ghost_key != ghost_key_) {
        // The other head's own mixing says what its horns do with the same sticks.
        const auto at = [&](const head::Description& d) {
            const auto built = head::Head::build(d);
            return built ? built->horn_angles_deg(sticks) : std::vector<double>();
        };
        ghost_ = !ghost  ? nullptr
                 : other ? draw::ghost_from(*other, at(*other), state.controls.azimuth_deg)
                         : draw::ghost_of(live.head->description(), at(live.head->description()),
                                          state.controls.azimuth_deg);
        ghost_key_ = ghost_key;
        ++stamp_;
    }
    if (traces_key != traces_key_) {
        traces_.reset();
        if (paths) {
            const head::Proportions p = head::proportions_of(live.head->description());
            constexpr double beyond = 1.04;  // just outside the blades that are drawn
            traces_ =
                draw::traces_of(*live.head, sticks, beyond * (state.view.whole_blades ? p.blade_end : p.stub_end));
        }
        traces_key_ = traces_key;
        ++stamp_;
    }
}

}  // namespace swashwright::panels
