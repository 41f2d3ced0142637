// What is drawn besides the head when the user wants it: the head as it was meant, and the paths of balls and tips.
#pragma once

#include <memory>

#include "viewer/draw/ghost.h"
#include "viewer/draw/traces.h"
#include "viewer/panels/compare_sheet.h"

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
    struct Key {
        bool wanted = false, whole_blades = false;
        CompareSheet::Stamp compared;
        long scene = 0;
        std::uint64_t revision = 0;
        head::Sticks sticks;
        double azimuth_deg = 0;

        bool operator==(const Key&) const = default;
    };

    std::shared_ptr<const draw::Ghost> ghost_;
    std::shared_ptr<const draw::Traces> traces_;
    Key ghost_key_, traces_key_;
    long stamp_ = 0;
};

}  // namespace swashwright::panels
