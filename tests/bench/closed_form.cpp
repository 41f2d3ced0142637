#include "tests/bench/closed_form.h"

#include <algorithm>
#include <cmath>

// The compiler's own judgement keeps these as calls, which costs a tenth of the speed.
#define SWASHWRIGHT_INLINE [[gnu::always_inline]] inline

namespace swashwright::bench {
namespace {

SWASHWRIGHT_INLINE Four operator+(const Four& x, const Four& y) {
    return {x.a + y.a, x.b + y.b};
}
SWASHWRIGHT_INLINE Four operator-(const Four& x, const Four& y) {
    return {x.a - y.a, x.b - y.b};
}
SWASHWRIGHT_INLINE Four operator*(const Four& x, const Four& y) {
    return {x.a * y.a, x.b * y.b};
}
SWASHWRIGHT_INLINE Four operator*(double x, const Four& y) {
    return {x * y.a, x * y.b};
}
SWASHWRIGHT_INLINE Four operator+(const Four& x, double y) {
    return {x.a + y, x.b + y};
}

Four four(const std::array<double, 4>& x) {
    return {Two{x[0], x[1]}, Two{x[2], x[3]}};
}

Two root(Two x) {
    return Two{std::sqrt(x[0]), std::sqrt(x[1])};
}

/// The largest size among the first three lanes.
double largest(const Four& x) {
    return std::max({std::abs(x.a[0]), std::abs(x.a[1]), std::abs(x.b[0])});
}

/// Cosine and sine of an angle in deg: a quarter of the angle by Taylor's series (to 1e-17), then doubled twice.
template <class Lanes>
SWASHWRIGHT_INLINE void circle(Lanes deg, Lanes& cosine, Lanes& sine) {
    constexpr double whole = 6755399441055744.0;  // 1.5 x 2^52: adding it rounds to a whole number
    const Lanes turns = (deg * (1.0 / 360.0) + whole) - whole;
    const Lanes x = (deg - 360.0 * turns) * (degree / 4);
    const Lanes z = x * x;
    const Lanes s =
        x + x * z *
                (-1.0 / 6 +
                 z * (1.0 / 120 + z * (-1.0 / 5040 + z * (1.0 / 362880 +
                                                          z * (-1.0 / 39916800 + z * (1.0 / 6227020800.0 -
                                                                                      z * (1.0 / 1307674368000.0)))))));
    const Lanes c =
        1.0 +
        z * (-0.5 + z * (1.0 / 24 + z * (-1.0 / 720 +
                                         z * (1.0 / 40320 + z * (-1.0 / 3628800 +
                                                                 z * (1.0 / 479001600 - z * (1.0 / 87178291200.0)))))));
    const Lanes sin_half = 2.0 * s * c;
    const Lanes cos_half = 1.0 - 2.0 * s * s;
    sine = 2.0 * sin_half * cos_half;
    cosine = 1.0 - 2.0 * sin_half * sin_half;
}

SWASHWRIGHT_INLINE void circle(const Four& deg, Four& cosine, Four& sine) {
    circle(deg.a, cosine.a, sine.a);
    circle(deg.b, cosine.b, sine.b);
}

/// Angle in deg from the tangent of half of it: a polynomial up to 45 deg (fitted at Chebyshev points, error under
/// 2e-16), the library's atan beyond.
SWASHWRIGHT_INLINE Two twice_arctangent(Two y) {
    constexpr double limit = 0.1716;  // square of tan 22.5 deg, rounded up
    const Two z = y * y;
    if (z[0] < limit && z[1] < limit) {
        const Two p =
            1.0 + z * (-0.3333333333332843 +
                       z * (0.19999999998853618 +
                            z * (-0.14285714180856576 +
                                 z * (0.11111106175584769 +
                                      z * (-0.09090772961650327 +
                                           z * (0.07689951902451446 +
                                                z * (-0.0664022008540203 +
                                                     z * (0.056882767804654844 +
                                                          z * (-0.0434784293457331 + z * 0.021132810313338496)))))))));
        return (2.0 / degree) * (y * p);
    }
    return Two{2 / degree * std::atan(y[0]), 2 / degree * std::atan(y[1])};
}

}  // namespace

// Half-square closure errors of the three links, and how they change with height, a and b.
struct ClosedForm::Trial {
    Four error, by_h, by_a, by_b;
};

SWASHWRIGHT_INLINE ClosedForm::Trial ClosedForm::try_ring() const {
    const Four y = ring_.ca * inner_y_ - ring_.sa * inner_z_;  // after Rx(a)
    const Four z = ring_.sa * inner_y_ + ring_.ca * inner_z_;
    const Four qx = ring_.cb * inner_x_ + ring_.sb * z;  // after Ry(b)
    const Four qz = ring_.cb * z - ring_.sb * inner_x_;
    const Four dx = qx - horn_x_;
    const Four dy = y - horn_y_;
    const Four dz = qz - horn_z_ + ring_.h;
    return {0.5 * (dx * dx + dy * dy + dz * dz) - half_square_, dz, y * (ring_.sb * dx + ring_.cb * dz) - z * dy,
            dx * qz - dz * qx};
}

SWASHWRIGHT_INLINE Four ClosedForm::ring_error() const {
    const Four z = ring_.sa * inner_y_ + ring_.ca * inner_z_;
    const Four dx = ring_.cb * inner_x_ + ring_.sb * z - horn_x_;
    const Four dy = ring_.ca * inner_y_ - ring_.sa * inner_z_ - horn_y_;
    const Four dz = ring_.cb * z - ring_.sb * inner_x_ - horn_z_ + ring_.h;
    return 0.5 * (dx * dx + dy * dy + dz * dz) - half_square_;
}

// Turns the ring by a Newton step: by Taylor's series where that is exact to 1e-15, else by rotations whose
// half-angle tangents are half the step (equal to it to third order, and exact rotations).
SWASHWRIGHT_INLINE void ClosedForm::move_ring(double dh, double da, double db) {
    const Two step{da, db}, z = step * step;
    Two c, s;
    if (z[0] < 1e-3 && z[1] < 1e-3) {
        c = 1.0 - z * (0.5 - z * (1.0 / 24 - z * (1.0 / 720)));
        s = step - step * z * (1.0 / 6 - z * (1.0 / 120 - z * (1.0 / 5040)));
    } else {
        const Two size = 1.0 / (1.0 + 0.25 * z);
        c = (1.0 - 0.25 * z) * size;
        s = step * size;
    }
    const Two cosine{ring_.ca, ring_.cb}, sine{ring_.sa, ring_.sb};
    const Two c_new = cosine * c - sine * s, s_new = sine * c + cosine * s;
    ring_ = {ring_.h + dh, c_new[0], s_new[0], c_new[1], s_new[1]};
}

SWASHWRIGHT_INLINE bool ClosedForm::solve_ring() {
    // Worst curvature of a closure is about a lever (under 50 mm), so a step of size d from a place where the matrix
    // was made at a distance m leaves an error under 50 d (d + 2 m) / 2.
    constexpr double close_enough = 2e-11;  // mm
    const Ring before = ring_;
    for (int round = 0; round < 12; ++round) {
        const Trial t = try_ring();
        // Cramer's rule on rows j: by_h dh + by_a da + by_b db = -error.
        const double h0 = t.by_h.a[0], h1 = t.by_h.a[1], h2 = t.by_h.b[0];
        const double a0 = t.by_a.a[0], a1 = t.by_a.a[1], a2 = t.by_a.b[0];
        const double b0 = t.by_b.a[0], b1 = t.by_b.a[1], b2 = t.by_b.b[0];
        const double ab0 = a1 * b2 - a2 * b1, ab1 = a2 * b0 - a0 * b2, ab2 = a0 * b1 - a1 * b0;
        const double bh0 = b1 * h2 - b2 * h1, bh1 = b2 * h0 - b0 * h2, bh2 = b0 * h1 - b1 * h0;
        const double ha0 = h1 * a2 - h2 * a1, ha1 = h2 * a0 - h0 * a2, ha2 = h0 * a1 - h1 * a0;
        const double scale = -1 / (h0 * ab0 + h1 * ab1 + h2 * ab2);
        // A second step with the same matrix costs little and makes each round of third order.
        Four error = t.error;
        double moved = 0;
        for (int again = 0; again < 2; ++again) {
            if (again) error = ring_error();
            const double e0 = error.a[0], e1 = error.a[1], e2 = error.b[0];
            const double dh = (e0 * ab0 + e1 * ab1 + e2 * ab2) * scale;
            const double da = (e0 * bh0 + e1 * bh1 + e2 * bh2) * scale;
            const double db = (e0 * ha0 + e1 * ha1 + e2 * ha2) * scale;
            move_ring(dh, da, db);
            ++newton_steps_;
            const double size = std::max(std::max(std::abs(da), std::abs(db)), 0.04 * std::abs(dh));
            if (60 * size * (size + 2 * moved) < close_enough) {
                read_ring();
                return true;
            }
            moved += size;
        }
    }
    ring_ = before;
    return false;
}

SWASHWRIGHT_INLINE void ClosedForm::place_horns(const Four& cosine, const Four& sine) {
    horn_x_ = pivot_x_ + cosine * zero_x_ + sine * quarter_x_;
    horn_y_ = pivot_y_ + cosine * zero_y_ + sine * quarter_y_;
    horn_z_ = pivot_z_ + cosine * zero_z_ + sine * quarter_z_;
}

// The ring's axes and its tilt in the head frame.
SWASHWRIGHT_INLINE void ClosedForm::read_ring() {
    const double fa = 1.5 - 0.5 * (ring_.ca * ring_.ca + ring_.sa * ring_.sa);  // cosines and sines stay so
    const double fb = 1.5 - 0.5 * (ring_.cb * ring_.cb + ring_.sb * ring_.sb);
    ring_ = {ring_.h, ring_.ca * fa, ring_.sa * fa, ring_.cb * fb, ring_.sb * fb};
    const auto& [h, ca, sa, cb, sb] = ring_;
    const double bx = sb * ca, bz = cb * ca;
    const double nx = cb * sin_pin_ + bx * cos_pin_, ny = -sa * cos_pin_, nz = -sb * sin_pin_ + bz * cos_pin_;
    axes_ = {
        cb * cos_pin_ - bx * sin_pin_, sa * sin_pin_, -sb * cos_pin_ - bz * sin_pin_, sb * sa, ca, cb * sa, nx, ny, nz};
    const double fx = nx * cos_guide_ - ny * sin_guide_, fy = nx * sin_guide_ + ny * cos_guide_;
    const Two length = root(Two{fx, fy} * Two{fx, fy} + nz * nz);
    tilt_deg_ = twice_arctangent(Two{fx, -fy} / (nz + length));
}

SWASHWRIGHT_INLINE bool ClosedForm::solve_rotor(ClosedFormPose& out) {
    const double h = ring_.h;
    const auto& [ux, uy, uz, vx, vy, vz, nx, ny, nz] = axes_;

    // Spin: the driver pin lies in the plane through the shaft along (dx, dy).
    const double turn = spin_ * sin_psi_;
    const double dx = driver_x_ * cos_psi_ - driver_y_ * turn, dy = driver_x_ * turn + driver_y_ * cos_psi_;
    const double A = dx * uy - dy * ux, B = dx * vy - dy * vx, C = -driver_rise_ * (dx * ny - dy * nx);
    const double square = A * A + B * B, under = square - C * C;
    if (!(under > 0)) return false;
    const double D = 1 / square, q = std::sqrt(under);
    const double cw = (A * C + B * q) * D, sw = (B * C - A * q) * D;
    pin_off_ = A * cw + B * sw - C;

    // Outer balls, both blades at once.
    const Two c = cw * ball_cos_ - sw * ball_sin_, s = sw * ball_cos_ + cw * ball_sin_;
    outer_x_ = c * ux + s * vx + ball_height_ * nx;
    outer_y_ = c * uy + s * vy + ball_height_ * ny;
    outer_z_ = h + c * uz + s * vz + ball_height_ * nz;

    // Grips: A cos t + B sin t = C.
    const Two rx = blade_x_ * cos_psi_ - blade_y_ * turn, ry = blade_x_ * turn + blade_y_ * cos_psi_;
    const Two out_level = outer_x_ * rx + outer_y_ * ry, ahead = spin_ * (outer_y_ * rx - outer_x_ * ry);
    const Two rise = outer_z_ - hub_;
    const Two r = out_level * cos_cone_ + rise * sin_cone_ - along_, u = rise * cos_cone_ - out_level * sin_cone_;
    const Two GA = lead_ * ahead + up_ * u, GB = lead_ * u - up_ * ahead;
    const Two GC = 0.5 * (r * r + ahead * ahead + u * u) + grip_constant_;
    const Two grip_square = GA * GA + GB * GB, grip_under = grip_square - GC * GC;
    if (!(grip_under[0] > 0 && grip_under[1] > 0)) return false;
    const Two Q = branch_ * root(grip_under), GD = 1.0 / grip_square;
    grip_cos_ = (GA * GC + GB * Q) * GD;
    grip_sin_ = (GB * GC - GA * Q) * GD;
    const Two pitch = twice_arctangent(grip_sin_ / (1.0 + grip_cos_)) + offset_deg_;

    out = {h, tilt_deg_[0], tilt_deg_[1], {pitch[0], pitch[1]}};
    return true;
}

bool ClosedForm::pose(const std::array<double, 3>& horn_deg, double azimuth_deg, ClosedFormPose& out) {
    Four cosine, sine;
    circle(Four{Two{horn_deg[0], horn_deg[1]}, Two{horn_deg[2], azimuth_deg}}, cosine, sine);
    place_horns(cosine, sine);
    cos_psi_ = cosine.b[1];
    sin_psi_ = sine.b[1];
    return solve_ring() && solve_rotor(out);
}

bool ClosedForm::pose_ring(const std::array<double, 3>& horn_deg) {
    Four cosine, sine;
    circle(Four{Two{horn_deg[0], horn_deg[1]}, Two{horn_deg[2], 0}}, cosine, sine);
    place_horns(cosine, sine);
    return solve_ring();
}

bool ClosedForm::pose_rotor(double azimuth_deg, ClosedFormPose& out) {
    circle(azimuth_deg, cos_psi_, sin_psi_);
    return solve_rotor(out);
}

double ClosedForm::residual_mm() const {
    const Trial t = try_ring();
    double worst = largest(t.error * per_length_);  // to first order in the error, exact enough below 1e-6
    worst = std::max(worst, std::abs(pin_off_));
    const double turn = spin_ * sin_psi_;
    for (int k = 0; k < 2; ++k) {
        const double rx = blade_x_[k] * cos_psi_ - blade_y_[k] * turn, ry = blade_x_[k] * turn + blade_y_[k] * cos_psi_;
        const double ahead = lead_[k] * grip_cos_[k] - up_[k] * grip_sin_[k];
        const double u = lead_[k] * grip_sin_[k] + up_[k] * grip_cos_[k];
        const double level = along_[k] * cos_cone_ - u * sin_cone_;
        const Vec3 grip_ball(level * rx - spin_ * ahead * ry, level * ry + spin_ * ahead * rx,
                             hub_ + along_[k] * sin_cone_ + u * cos_cone_);
        const double length = std::sqrt(lead_[k] * lead_[k] + up_[k] * up_[k] - 2 * grip_constant_[k]);
        worst = std::max(worst, std::abs((grip_ball - Vec3(outer_x_[k], outer_y_[k], outer_z_[k])).norm() - length));
    }
    return worst;
}

std::optional<ClosedForm> ClosedForm::build(const head::Description& head) {
    const head::Swashplate& plate = head.swashplate;
    if (head.rotor.blades != 2 || head.servos.size() != 3 || plate.driver_pins.size() != 1) return std::nullopt;
    ClosedForm f;
    const double guide = (plate.guide_pin.angle_deg + plate.guide_turn_deg) * degree;
    const double slope = std::atan2(plate.guide_pin.height_mm, plate.guide_pin.radius_mm);
    f.cos_guide_ = std::cos(guide), f.sin_guide_ = std::sin(guide);
    f.cos_pin_ = std::cos(slope), f.sin_pin_ = std::sin(slope);
    const Mat3 to_guide = turn_about_z(-guide);
    const Mat3 to_pin =
        Eigen::AngleAxisd(slope, Vec3::UnitY()).toRotationMatrix() * turn_about_z(-plate.guide_pin.angle_deg * degree);

    std::array<std::array<double, 4>, 14> lane{};
    std::array<double, 3> neutral{};
    for (int j = 0; j < 3; ++j) {
        const head::Servo& servo = head.servos[j];
        neutral[j] = servo.neutral_deg + servo.trim_deg;
        const head::Polar& ball = plate.inner_balls[j];
        const double at = ball.angle_deg * degree;
        const Vec3 k = servo.axis.normalized();
        const Vec3 pointing = (servo.horn_zero - k * k.dot(servo.horn_zero)).normalized();
        const Vec3 pivot =
            to_guide * (std::holds_alternative<Vec3>(servo.pivot_mm) ? std::get<Vec3>(servo.pivot_mm)
                                                                     : head::pivot_point(servo.pivot_mm));
        const Vec3 zero = to_guide * (servo.horn_mm * pointing);
        const Vec3 quarter = to_guide * (servo.horn_mm * k.cross(pointing));
        const Vec3 inner = to_pin * Vec3(ball.radius_mm * std::cos(at), ball.radius_mm * std::sin(at), ball.height_mm);
        for (int i = 0; i < 3; ++i) {
            lane[i][j] = pivot[i], lane[3 + i][j] = zero[i], lane[6 + i][j] = quarter[i], lane[9 + i][j] = inner[i];
        }
        const double length = head.lower_links[j].actual_mm();
        lane[12][j] = 0.5 * length * length;
        lane[13][j] = 1 / length;
    }
    f.pivot_x_ = four(lane[0]), f.pivot_y_ = four(lane[1]), f.pivot_z_ = four(lane[2]);
    f.zero_x_ = four(lane[3]), f.zero_y_ = four(lane[4]), f.zero_z_ = four(lane[5]);
    f.quarter_x_ = four(lane[6]), f.quarter_y_ = four(lane[7]), f.quarter_z_ = four(lane[8]);
    f.inner_x_ = four(lane[9]), f.inner_y_ = four(lane[10]), f.inner_z_ = four(lane[11]);
    f.half_square_ = four(lane[12]), f.per_length_ = four(lane[13]);

    const head::Polar& pin = plate.driver_pins.front();
    const double s = head::spin_sign(head.rotor.direction);
    const double driver = pi + s * (pin.angle_deg + plate.driver_turn_deg) * degree - guide;
    f.spin_ = s;
    f.driver_x_ = std::cos(driver), f.driver_y_ = std::sin(driver);
    f.driver_rise_ = pin.height_mm / pin.radius_mm;
    f.hub_ = head.rotor.hub_height_mm;
    f.cos_cone_ = std::cos(head.rotor.precone_deg * degree), f.sin_cone_ = std::sin(head.rotor.precone_deg * degree);
    for (int k = 0; k < 2; ++k) {
        const head::Polar& ball = plate.outer_balls[k];
        const double from_pin = s * (ball.angle_deg - pin.angle_deg) * degree;
        f.ball_cos_[k] = ball.radius_mm * std::cos(from_pin), f.ball_sin_[k] = ball.radius_mm * std::sin(from_pin);
        f.ball_height_[k] = ball.height_mm;
        const double blade = pi + s * pi * k - guide;
        f.blade_x_[k] = std::cos(blade), f.blade_y_[k] = std::sin(blade);
        const head::PitchArm& arm = head.grips[k].pitch_arm;
        const double length = head.upper_links[k].actual_mm();
        f.along_[k] = arm.along_mm, f.lead_[k] = arm.lead_mm, f.up_[k] = arm.up_mm;
        f.grip_constant_[k] = 0.5 * (arm.lead_mm * arm.lead_mm + arm.up_mm * arm.up_mm - length * length);
        f.offset_deg_[k] = head.grips[k].pitch_offset_deg;
    }

    // Neutral: the ring from level, then on each grip the branch whose pitch is nearest zero.
    f.ring_ = {plate.neutral_height_mm, 1, 0, f.cos_pin_, -f.sin_pin_};
    if (!f.pose_ring(neutral)) return std::nullopt;
    ClosedFormPose ignored;
    std::array<Two, 2> cosine;
    for (int way = 0; way < 2; ++way) {
        f.branch_ = Two{1, 1} * (way == 0 ? 1.0 : -1.0);
        if (!f.pose_rotor(0, ignored)) return std::nullopt;
        cosine[way] = f.grip_cos_;
    }
    for (int k = 0; k < 2; ++k) f.branch_[k] = cosine[0][k] > cosine[1][k] ? 1 : -1;
    f.pose_rotor(0, ignored);
    f.newton_steps_ = 0;
    return f;
}

}  // namespace swashwright::bench
