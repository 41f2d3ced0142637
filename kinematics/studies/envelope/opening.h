// Where in the envelope a loop does not close.
#pragma once

#include <array>
#include <cmath>
#include <optional>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/envelope/envelope.h"

namespace swashwright::studies {

/// Of the places met, the one nearest to centred sticks; of several alike always the same, whichever was met first.
class Opening {
public:
    void meet(const Place& place, head::CyclicStick shape) {
        const head::Sticks& s = place.sticks;
        const double far = std::abs(s.collective + s.rudder) + head::cyclic_out(shape, s.aileron, s.elevator);
        const std::array<double, 6> order{far,        s.collective, s.aileron,
                                          s.elevator, s.rudder,     std::abs(place.azimuth_deg)};
        if (place_ && order >= order_) return;
        place_ = place;
        order_ = order;
    }
    void meet(const Opening& other, head::CyclicStick shape) {
        if (other.place_) meet(*other.place_, shape);
    }
    const std::optional<Place>& place() const { return place_; }

private:
    std::optional<Place> place_;
    std::array<double, 6> order_{};
};

}  // namespace swashwright::studies
