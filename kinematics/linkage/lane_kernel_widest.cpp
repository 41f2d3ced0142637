// Eight lanes at once: compiled for AVX-512, called only where the machine has it.
#include <immintrin.h>

#define SWASHWRIGHT_LANE_WIDTH 8
#include "kinematics/linkage/lane_vectors.inc"

namespace swashwright::linkage {
namespace {

unsigned bits(M mask) {
    return _mm512_movepi64_mask((__m512i)mask);
}
V root(V x) {
    return _mm512_mask_sqrt_pd(x, 0xff, x);
}

}  // namespace
}  // namespace swashwright::linkage

#include "kinematics/linkage/lane_kernel.inc"

namespace swashwright::linkage {
const LaneKernel widest_lane_kernel{"8 at once, AVX-512", width, solve, settle, place_all, angles};
}
