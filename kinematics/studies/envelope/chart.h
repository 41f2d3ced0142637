// The envelope as a box: places by numbers that run from end to end whatever the others are, and how the linkage's
// inputs change with each.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/envelope/envelope.h"
#include "kinematics/studies/envelope/moment.h"

namespace swashwright::studies {

/// Ways, in this order. Of a main rotor: collective; cyclic; azimuth in rad; hands in deg. Cyclic in a circle: how far
/// out, 0 to 1 of what the combined limit leaves, and the direction of the stick as a blade sees it, rad: what turns
/// with the rotor then hardly depends on the azimuth. In a square: aileron and elevator, each in shares of what is
/// left. Of a tail: rudder, azimuth, hands.
class Chart {
public:
    /// The rotor's turn is cut into so many parts to begin with.
    Chart(const head::Head& head, const std::vector<Hand>& hands, std::size_t azimuths = 8);

    std::size_t ways() const { return cuts_.size(); }
    std::size_t azimuth_way() const { return tail_ ? 1 : 3; }
    /// The one input of the linkage that it moves, of azimuth and hands (the azimuth besides turns the sticks with it).
    std::optional<int> input(std::size_t way) const;
    bool comes_round(std::size_t way) const { return way == azimuth_way() || (!tail_ && !square_ && way == 2); }
    /// Ends of the parts into which a way is cut to begin with; where the sticks' limit has a kink there is one.
    const std::vector<double>& cuts(std::size_t way) const { return cuts_[way]; }

    Place place(const Ways& at) const;
    /// Rates of the linkage's inputs, rad or mm, for a unit rate of each way: `width` numbers a way, at least as many
    /// as there are inputs.
    void rates(const Ways& at, int width, std::vector<double>& out) const;

private:
    void cut_collective(std::size_t parts);

    head::Head head_;
    bool tail_, square_;
    double sense_;  // of the rotor
    std::vector<std::vector<double>> cuts_;
};

}  // namespace swashwright::studies
