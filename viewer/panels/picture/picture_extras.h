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
#include "viewer/panels/questions/compare_sheet.h"

namespace swashwright::panels {

struct State;

class PictureExtras {
public:
    /// Works out anew what has changed; call once a frame, after the live values.
    void update(const State& state);
    const std::shared_ptr<const draw::Ghost>& ghost() const { return ghost_; }
    const std::shared_ptr<const draw::Traces>& traces() const { return traces_; }
    /// Another number for another picture.
    long stamp() const { return stamp_; }

private:
    struct HeadKey {
        long scene = 0;
        std::uint64_t revision = 0;
        std::optional<std::pair<CompareSheet::With, std::uint64_t>> compared;  // with what, and which of these

        bool operator==(const HeadKey&) const = default;
    };
    struct GhostKey {
        head::Sticks sticks;
        double azimuth_deg = 0;

        bool operator==(const GhostKey&) const = default;
    };
    /// A path does not depend on where in the turn the rotor stands.
    struct TracesKey {
        long scene = 0;
        std::uint64_t revision = 0;
        head::Sticks sticks;
        bool whole_blades = false;

        bool operator==(const TracesKey&) const = default;
    };
    void update_ghost(const State& state);
    void update_traces(const State& state);

    std::optional<draw::GhostHead> other_;  // built when it changes, posed as the rotor turns
    std::optional<HeadKey> other_key_;
    std::shared_ptr<const draw::Ghost> ghost_;
    std::optional<GhostKey> ghost_key_;
    std::shared_ptr<const draw::Traces> traces_;
    std::optional<TracesKey> traces_key_;
    long stamp_ = 0;
};

}  // namespace swashwright::panels
