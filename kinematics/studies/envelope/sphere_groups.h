// Spheres side by side, so that one is held against many at once.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <vector>

#include "kinematics/studies/envelope/surface.h"

namespace swashwright::studies {

class SphereGroups {
public:
    void add(const Sphere& sphere) {
        if (size_ % side_by_side == 0) groups_.emplace_back();
        Group& group = groups_.back();
        const auto k = static_cast<int>(size_++ % side_by_side);
        for (int i = 0; i < 3; ++i) group.centre[static_cast<std::size_t>(i)][k] = static_cast<float>(sphere.centre[i]);
        group.radius[k] = static_cast<float>(sphere.radius);
    }
    /// Calls `with` their numbers where they may be nearer to another sphere than `than`, mm: for all of those, and for
    /// some that are up to a hundredth farther, since it is done in single precision (good for a few metres).
    void near(const Sphere& other, double than, auto&& with) const {
        const auto x = static_cast<float>(other.centre.x()), y = static_cast<float>(other.centre.y()),
                   z = static_cast<float>(other.centre.z());
        const auto more = static_cast<float>(std::min(other.radius + than + 0.005, everywhere));
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            const Group& group = groups_[g];
            const Numbers reach = group.radius + more;
            const Numbers within = reach * reach.abs() - (group.centre[0] - x).square() -
                                   (group.centre[1] - y).square() - (group.centre[2] - z).square();
            if (!(within.maxCoeff() > 0)) continue;
            for (std::size_t k = 0; k < side_by_side; ++k)
                if (within[static_cast<int>(k)] > 0) with(g * side_by_side + k);
        }
    }

private:
    static constexpr std::size_t side_by_side = 8;
    static constexpr double everywhere = 1e6, nowhere = -1e9;  // mm
    using Numbers = Eigen::Array<float, side_by_side, 1>;
    struct Group {
        std::array<Numbers, 3> centre{Numbers::Zero(), Numbers::Zero(), Numbers::Zero()};
        Numbers radius = Numbers::Constant(static_cast<float>(nowhere));  // where there is no sphere
    };
    std::vector<Group> groups_;
    std::size_t size_ = 0;
};

}  // namespace swashwright::studies
