// Four lanes at once: compiled for AVX2 and FMA, called only where the machine has them.
#include <immintrin.h>

#define SWASHWRIGHT_LANE_WIDTH 4
#include "kinematics/linkage/lane_vectors.inc"

namespace swashwright::linkage {
namespace {

unsigned bits(M mask) {
    return static_cast<unsigned>(_mm256_movemask_pd((__m256d)mask));
}
V root(V x) {
    return _mm256_sqrt_pd(x);
}

}  // namespace
}  // namespace swashwright::linkage

#include "kinematics/linkage/lane_kernel.inc"

namespace swashwright::linkage {
const LaneKernel wide_lane_kernel{"4 at once, AVX2", width, solve, settle, place_all, angles};
}
