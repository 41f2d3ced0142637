// Which kernels an x86 machine can run.

#include "kinematics/linkage/lanes.h"

namespace swashwright::linkage {

std::span<const LaneKernel* const> lane_kernels() {
    static constexpr const LaneKernel* all[] = {&widest_lane_kernel, &wide_lane_kernel, &narrow_lane_kernel};
    static const std::size_t skipped = [] {
        const bool wide = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
        const bool widest = wide && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
                            __builtin_cpu_supports("avx512vl");
        return widest ? 0UL : wide ? 1UL : 2UL;
    }();
    return std::span(all).subspan(skipped);
}

}  // namespace swashwright::linkage
