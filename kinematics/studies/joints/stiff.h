// What do stiff ball links cost: moment at the horns, and how far can a blade stay off?
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// Friction moments in N mm. Levels of a ball link, by what the hand feels (a link of 3 g whose middle is 15 mm from
/// the ball falls by its own weight below 0.44 N mm: computed; the others are guesses):
struct FrictionLevel {
    const char* words;
    double nmm;
};
inline constexpr FrictionLevel friction_levels[] = {{"falls under its own weight", 0.4},
                                                    {"stays where it is put", 1.0},
                                                    {"needs a light push", 4.0},
                                                    {"needs a firm twist", 15.0}};

/// One link whose ball links are stiffer or freer than the rest.
struct OddLink {
    std::string part;  // its path: "upper_link[2]"
    double nmm = 0;
};

struct FrictionOptions {
    head::Sticks sticks;
    double ball_nmm = 1.0;     // in each ball link
    double bearing_nmm = 0.5;  // in the bearings of each grip and lever, and in the ring's ball; a guess
    std::vector<OddLink> odd;
    double servo_nmm_per_deg = 100;  // moment for each degree by which a servo gives way; a guess
};

/// Where moment goes when one horn moves alone.
struct FrictionShare {
    std::string part, words;
    double nmm = 0;  // at the horn
};

struct HornFriction {
    double nmm = 0;  // needed to move this horn alone, the others held: worst of the turn
    double azimuth_deg = 0;
    std::vector<FrictionShare> shares;  // largest first, there
};

struct Friction {
    FrictionOptions options;
    std::vector<HornFriction> horns;
    /// How far each blade may stay off to either side: every servo gives way by its moment over its stiffness, all the
    /// worst way; worst of the turn.
    std::vector<double> off_deg;
};

/// Virtual work with the exact Jacobian: moment times horn rate = sum of friction moment times rate of turning in each
/// joint. A rod's own roll goes the easiest way. Fails where the head cannot be posed or stands at a dead point.
head::Result<Friction> friction(const head::Head& head, const FrictionOptions& options = {});

Answer answer(const Friction& friction, const head::Description& description);

/// Least sum of the turning rates |a - s u| + |b - s u| over all rolls s of a rod along u (unit): those of the parts at
/// its ends less the rod's own.
double least_turning(const Vec3& a, const Vec3& b, const Vec3& u);

}  // namespace swashwright::studies
