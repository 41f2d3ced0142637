// Two lanes at once by whatever vectors every machine of the kind has.
#define SWASHWRIGHT_LANE_WIDTH 2
#include "kinematics/linkage/lane_vectors.inc"

namespace swashwright::linkage {
namespace {

unsigned bits(M mask) {
    return static_cast<unsigned>(mask[0] & 1) | static_cast<unsigned>(mask[1] & 2);
}
V root(V x) {
    return V{__builtin_sqrt(x[0]), __builtin_sqrt(x[1])};
}

}  // namespace
}  // namespace swashwright::linkage

#include "kinematics/linkage/lane_kernel.inc"

namespace swashwright::linkage {
const LaneKernel narrow_lane_kernel{"2 at once", width, solve, settle, place_all, angles};
}
