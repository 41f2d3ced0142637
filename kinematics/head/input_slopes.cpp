#include "kinematics/head/input_slopes.h"

#include "kinematics/head/build.h"

namespace swashwright::head {

SpinWeights tilt_weights(const Vec3& n) {
    const double xx = n.x() * n.x(), yy = n.y() * n.y(), zz = n.z() * n.z();
    return {Vec3(-n.x() * n.y(), xx + zz, -n.y() * n.z()) / ((xx + zz) * degree),
            Vec3(yy + zz, -n.x() * n.y(), -n.x() * n.z()) / ((yy + zz) * degree)};
}

bool InputSlopes::at(Solver& solver) {
    if (!motion_.at(head_.plan(), solver.workspace())) return false;
    if (const Vec3 n = solver.ring_normal(); n != normal_) {
        normal_ = n;
        tilts_ = tilt_weights(n);
    }
    return true;
}

void InputSlopes::read(int input, double unit, Slopes& out) const {
    const Parts& parts = head_.parts();
    const int ring = parts.inner_ring.index;
    const auto rate = [&](int body, int k) { return unit * motion_.rate(body, input, k); };
    out.height_mm = rate(ring, 0);
    out.tilt_forward_deg = out.tilt_right_deg = 0;
    if (head_.model().ring_tilts()) {  // its joint turns it about the ground's axes
        const Vec3 spin(rate(ring, 1), rate(ring, 2), rate(ring, 3));
        out.tilt_forward_deg = tilts_.forward.dot(spin);
        out.tilt_right_deg = tilts_.right.dot(spin);
    }
    out.pitch_deg.resize(parts.grips.size());
    for (std::size_t k = 0; k < parts.grips.size(); ++k) out.pitch_deg[k] = rate(parts.grips[k].index, 0) / degree;
}

void InputSlopes::by_azimuth(Slopes& out) const {
    read(head_.parts().hub_input, spin_sign(head_.description().rotor.direction) * degree, out);
}

}  // namespace swashwright::head
