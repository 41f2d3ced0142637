// Plain heads drawn at random, for tests that need many. All invented; the same seed gives the same head on every
// machine (no std distributions, whose sequences differ between standard libraries).
#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <string>

#include "kinematics/head/description.h"

namespace swashwright::testing {

struct RandomHeadOptions {
    int least_blades = 2;
    int most_blades = 6;
    double misfit_mm = 0.5;  // every link is off by up to this from the length that levels the ring at neutral
    bool guide_and_driver_turns = true;  // a few degrees of bent guide and slipped driver collar in a third of heads
};

/// Numbers from a generator, the same on every machine.
class Draw {
public:
    explicit Draw(std::mt19937_64& bits) : bits_(bits) {}

    /// Even in [low, high).
    double between(double low, double high) { return low + (high - low) * (double(bits_() >> 11) * 0x1p-53); }
    /// Even in low..high, both included.
    int whole(int low, int high) { return low + int(bits_() % std::uint64_t(high - low + 1)); }
    bool chance(double p) { return between(0, 1) < p; }

private:
    std::mt19937_64& bits_;
};

/// A point of the head frame by radius, azimuth (deg, anticlockwise from above) and height, mm.
inline Vec3 at_azimuth(double radius, double azimuth_deg, double height) {
    const double a = azimuth_deg * degree;
    return {radius * std::cos(a), radius * std::sin(a), height};
}

/// Three servos at any azimuths, horns pointing any way, under a ring that is level at `neutral_height_mm`.
inline void draw_servos(Draw& draw, const RandomHeadOptions& options, head::Description& head) {
    const double ring_height = head.swashplate.neutral_height_mm;
    const double first = draw.between(0, 360);
    const double ball_radius = draw.between(22, 30);
    const double drop = draw.between(22, 34);  // ring down to the horn balls
    for (int j = 0; j < 3; ++j) {
        const head::Polar ball{ball_radius + draw.between(-1, 1), first + 120.0 * j + draw.between(-18, 18),
                               draw.between(-1.5, 1.5)};
        const Vec3 ring_ball = at_azimuth(ball.radius_mm, ball.angle_deg, ring_height + ball.height_mm);
        const Vec3 horn_ball = ring_ball + Vec3(draw.between(-2, 2), draw.between(-2, 2), -drop);

        head::Servo servo;
        servo.name = "servo " + std::to_string(j + 1);
        servo.horn_mm = draw.between(11, 16);
        const double heading = draw.between(0, 360);  // of the horn at angle 0
        servo.horn_zero = at_azimuth(1, heading, 0);
        servo.axis = at_azimuth(1, heading + (draw.chance(0.5) ? 90 : -90), draw.between(-0.1, 0.1));
        if (draw.chance(0.3)) servo.axis *= draw.between(0.5, 2);  // axes need not be unit vectors
        servo.neutral_deg = draw.between(-5, 5);
        servo.trim_deg = draw.chance(0.3) ? draw.between(-2, 2) : 0;
        servo.travel_deg = {-60, 60};
        const Vec3 pivot = horn_ball - servo.horn_mm * servo.horn_zero;
        if (draw.chance(0.3)) {
            servo.pivot_mm =
                head::Polar{std::hypot(pivot.x(), pivot.y()), std::atan2(pivot.y(), pivot.x()) / degree, pivot.z()};
        } else {
            servo.pivot_mm = pivot;
        }
        head.servos.push_back(servo);
        head.swashplate.inner_balls.push_back(ball);

        // Where the ball really stands at neutral plus trim, so that the misfit below is all the misfit there is.
        const Vec3 k = servo.axis.normalized();
        const double a = (servo.neutral_deg + servo.trim_deg) * degree;
        const Vec3 ball_at_neutral =
            pivot + servo.horn_mm * (std::cos(a) * servo.horn_zero + std::sin(a) * k.cross(servo.horn_zero));
        head::Link link;
        link.length_mm = (ring_ball - ball_at_neutral).norm() + draw.between(-options.misfit_mm, options.misfit_mm);
        link.error_mm = draw.chance(0.2) ? draw.between(-0.1, 0.1) : 0;
        head.lower_links.push_back(link);
    }
}

/// Outer balls under the pitch arms, grips, upper links for zero pitch over a level ring, one driver pin.
inline void draw_rotor(Draw& draw, const RandomHeadOptions& options, head::Description& head) {
    const double along = draw.between(2, 12);
    const double lead = draw.between(17, 26) * (draw.chance(0.5) ? 1 : -1);
    const double up = draw.between(-2, 2);
    const double ball_radius = std::hypot(along, lead) + draw.between(-2.5, 2.5);
    const double ball_ahead = std::atan2(lead, along) / degree + draw.between(-6, 6);
    const double ball_height = draw.between(3, 7);
    const double precone = head.rotor.precone_deg * degree;
    const double s = head::spin_sign(head.rotor.direction);
    const int n = head.rotor.blades;
    for (int k = 0; k < n; ++k) {
        const double step = 360.0 * k / n;
        const auto slightly = [&](double by) { return draw.between(-by, by); };
        const head::Polar ball{ball_radius + slightly(0.2), ball_ahead + step + slightly(0.5),
                               ball_height + slightly(0.2)};
        head::Grip grip;
        grip.pitch_arm = {along + slightly(0.2), lead + slightly(0.2), up + slightly(0.2)};
        grip.pitch_offset_deg = slightly(0.3);
        // With blade 1 along +x; e_l is the horizontal direction of rotation and e_u is normal to it and to the axis.
        const Vec3 e_r = at_azimuth(std::cos(precone), s * step, std::sin(precone));
        const Vec3 e_l = s * at_azimuth(1, s * step + 90, 0);
        const Vec3 e_u = at_azimuth(-std::sin(precone), s * step, std::cos(precone));
        const Vec3 grip_ball = Vec3(0, 0, head.rotor.hub_height_mm) + grip.pitch_arm.along_mm * e_r +
                               grip.pitch_arm.lead_mm * e_l + grip.pitch_arm.up_mm * e_u;
        const Vec3 ring_ball =
            at_azimuth(ball.radius_mm, s * ball.angle_deg, head.swashplate.neutral_height_mm + ball.height_mm);
        head::Link link;
        link.length_mm = (grip_ball - ring_ball).norm() + slightly(options.misfit_mm);
        link.error_mm = draw.chance(0.2) ? slightly(0.1) : 0;
        head.swashplate.outer_balls.push_back(ball);
        head.grips.push_back(grip);
        head.upper_links.push_back(link);
    }
    head.swashplate.driver_pins = {{draw.between(17, 24), draw.between(0, 360), draw.between(2, 8)}};
}

/// A valid plain head: 2 to 6 blades, either direction, leading or trailing pitch arms, with or without precone,
/// one driver pin. Closes near level at neutral, and at nearly every pose up to full stick.
inline head::Description random_head(std::mt19937_64& bits, const RandomHeadOptions& options = {}) {
    Draw draw(bits);
    head::Description head;
    head.name = "random head";
    head.rotor.blades = draw.whole(options.least_blades, options.most_blades);
    head.rotor.direction = draw.chance(0.5) ? head::Direction::clockwise : head::Direction::anticlockwise;
    head.rotor.precone_deg = draw.chance(0.5) ? draw.between(0, 3) : 0;
    head.rotor.blade_tip_mm = draw.between(300, 700);
    head.rotor.head_speed_rpm = draw.between(1500, 2800);
    head.swashplate.neutral_height_mm = draw.between(35, 55);
    head.rotor.hub_height_mm = head.swashplate.neutral_height_mm + draw.between(50, 85);
    head.swashplate.guide_pin = {draw.between(30, 38), draw.between(0, 360), draw.between(-1, 1)};
    draw_servos(draw, options, head);
    draw_rotor(draw, options, head);
    if (options.guide_and_driver_turns && draw.chance(1.0 / 3)) {
        head.swashplate.guide_turn_deg = draw.between(-3, 3);
        head.swashplate.driver_turn_deg = draw.between(-3, 3);
    }
    head.mixing = {draw.between(12, 18), draw.between(5, 8), draw.chance(0.5) ? draw.between(-20, 20) : 0};
    return head;
}

inline head::Description random_head(std::uint64_t seed, const RandomHeadOptions& options = {}) {
    std::mt19937_64 bits(seed);
    return random_head(bits, options);
}

}  // namespace swashwright::testing
