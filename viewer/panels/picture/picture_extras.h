// What is drawn besides the head when the user wants it: the head as it was meant or the one compared with, and the
// paths of balls and tips.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <utility>

#include "kinematics/head/head.h"
#include "viewer/draw/base/ghost.h"
#include "viewer/draw/base/traces.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/questions/compare_sheet.h"

namespace swashwright::panels {

class PictureExtras {
public:
    /// Works out anew what has changed; call once a frame, after the live values. `compare`: the sheet that is shown,
    /// null if another is.
    void update(const Bench& bench, const View& view, const CompareSheet* compare);
    const std::shared_ptr<const draw::Ghost>& ghost() const { return ghost_; }
    const std::shared_ptr<const draw::Traces>& traces() const { return traces_; }

private:
    struct HeadKey {
        std::uint64_t revision = 0;
        std::optional<std::pair<CompareSheet::With, std::uint64_t>> compared;  // with what, and which of these

        bool operator==(const HeadKey&) const = default;
    };
    struct GhostKey {
        head::Sticks sticks;
        Hands hands;
        double azimuth_deg = 0;

        bool operator==(const GhostKey&) const = default;
    };
    /// A path does not depend on where in the turn the rotor stands.
    struct TracesKey {
        std::uint64_t revision = 0;
        head::Sticks sticks;
        Hands hands;
        bool whole_blades = false;

        bool operator==(const TracesKey&) const = default;
    };
    void update_ghost(const Bench& bench, const View& view, const CompareSheet* compare);
    void update_traces(const Bench& bench, const View& view);

    std::optional<draw::GhostHead> other_;  // built when it changes, posed as the rotor turns
    std::optional<HeadKey> other_key_;
    std::shared_ptr<const draw::Ghost> ghost_;
    std::optional<GhostKey> ghost_key_;
    std::shared_ptr<const draw::Traces> traces_;
    std::optional<TracesKey> traces_key_;
};

}  // namespace swashwright::panels
