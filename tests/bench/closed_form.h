// The plain two-blade head solved by a program written for it alone: three servos, one driver pin, nothing general.
// It is the limit that the general solver is measured against, so everything that can be hard-wired is.
//
// Ring: the guide pin's plane is met exactly by writing the ring's attitude as Ry(b) Rx(a) in a frame whose x axis
// lies in that plane, with the pin turned onto the ring's own x axis. Height, a and b are then three unknowns
// for three links: Newton with a hand-written Jacobian, Cramer's rule, no trigonometry (angles are turned by
// rational half-angle steps). Spin of the outer ring and both grips: A cos + B sin = C, one square root each.
#pragma once

#include <array>
#include <optional>

#include "kinematics/head/description.h"

namespace swashwright::bench {

/// What the head does at one pose: mm, deg.
struct ClosedFormPose {
    double height_mm = 0;
    double tilt_forward_deg = 0;
    double tilt_right_deg = 0;
    std::array<double, 2> pitch_deg{};
};

/// Two lanes of the machine's vector registers.
using Two = double __attribute__((vector_size(16)));

/// One value for each servo in the first three lanes; the fourth is spare.
struct Four {
    Two a, b;
};

class ClosedForm {
public:
    /// Empty unless the head has two blades, three servos and one driver pin, and closes at neutral.
    static std::optional<ClosedForm> build(const head::Description& description);

    /// Ring and rotor anew. Horn angles and azimuth in deg. False if the loop cannot close.
    bool pose(const std::array<double, 3>& horn_deg, double azimuth_deg, ClosedFormPose& out);
    /// The ring alone, from where it last stood; then the rotor alone, on the ring as it stands.
    bool pose_ring(const std::array<double, 3>& horn_deg);
    bool pose_rotor(double azimuth_deg, ClosedFormPose& out);

    /// Newton steps taken since `build`.
    long newton_steps() const { return newton_steps_; }
    /// The largest closure error of the pose that was solved last, worked out from the plain geometry, mm.
    double residual_mm() const;

private:
    struct Ring {  // unknowns: height, and cos and sin of a and b
        double h = 0, ca = 1, sa = 0, cb = 1, sb = 0;
    };
    struct Axes {  // of the ring: in its plane towards the guide pin, across that, and its normal
        double ux, uy, uz, vx, vy, vz, nx, ny, nz;
    };
    struct Trial;  // the three link closures at one ring position, with what the Jacobian needs

    bool solve_ring();
    void read_ring();
    bool solve_rotor(ClosedFormPose& out);
    void place_horns(const Four& cosine, const Four& sine);
    Trial try_ring() const;
    Four ring_error() const;
    void move_ring(double dh, double da, double db);

    // Fixed by the head. All places in the guide's frame (x in the guide's plane) or the ring's turned frame.
    Four pivot_x_, pivot_y_, pivot_z_;        // servo pivots
    Four zero_x_, zero_y_, zero_z_;           // horn at angle 0, times its length
    Four quarter_x_, quarter_y_, quarter_z_;  // horn at angle 90 deg, times its length
    Four inner_x_, inner_y_, inner_z_;        // inner balls on the ring
    Four half_square_;                        // half the square of each lower link's length
    Four per_length_;                         // 1 / length: turns half-square errors into mm
    double cos_pin_ = 1, sin_pin_ = 0;        // the guide pin's slope on the ring
    double cos_guide_ = 1, sin_guide_ = 0;    // the guide plane's azimuth
    double spin_ = 1;                         // +1 anticlockwise
    double driver_x_ = 1, driver_y_ = 0;      // direction of the driver's plane at azimuth 0
    double driver_rise_ = 0;                  // driver pin's height over its radius
    Two ball_cos_, ball_sin_, ball_height_;   // outer balls from the driver pin, times radius
    Two blade_x_, blade_y_;                   // feathering axes at azimuth 0, level part
    double cos_cone_ = 1, sin_cone_ = 0, hub_ = 0;
    Two along_, lead_, up_, grip_constant_, branch_, offset_deg_;

    // The pose.
    Four horn_x_, horn_y_, horn_z_;
    Ring ring_;
    Axes axes_{};
    Two tilt_deg_;  // forward, right
    double cos_psi_ = 1, sin_psi_ = 0;
    Two grip_cos_, grip_sin_;
    Two outer_x_, outer_y_, outer_z_;
    double pin_off_ = 0;
    long newton_steps_ = 0;
};

}  // namespace swashwright::bench
