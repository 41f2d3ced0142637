// Which kernels there are where no other was compiled than that for any machine.

#include "kinematics/linkage/lanes.h"

namespace swashwright::linkage {

std::span<const LaneKernel* const> lane_kernels() {
    static constexpr const LaneKernel* found[] = {&narrow_lane_kernel};
    return found;
}

}  // namespace swashwright::linkage
