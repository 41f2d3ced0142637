// Does every ball link stay within its tilt? A rod with its two sockets is one rigid piece that rolls freely about its
// own axis: both ends share the roll.
#pragma once

#include <array>
#include <memory>

#include "kinematics/studies/envelope/check.h"

namespace swashwright::studies {

/// Tilt (deg) at which the socket's rim meets the stud's neck: acos(C / D) - asin(d / D) of a ball of diameter D in a
/// socket of width C on a neck of diameter d (plane geometry through the ball's centre).
double tilt_limit_deg(double ball_mm, double socket_mm, double neck_mm);
/// Of both ends of a link: as given, else by the sizes of ball, socket and neck.
std::array<double, 2> tilt_limits_deg(const head::Link& link);

/// Angle (deg, 0 to 90) between socket's axis and stud at both ends of a rod along `rod` (unit, from the lower end to
/// the upper), where the free roll makes the larger share of the two limits least. The sockets' axes are square to the
/// rod, the upper one turned about it by the twist. `studs` are unit vectors of either sense.
std::array<double, 2> shared_tilt_deg(const Vec3& rod, const std::array<Vec3, 2>& studs, double twist_deg,
                                      const std::array<double, 2>& limits_deg);

/// Two checks a link: its lower end, its upper end.
std::unique_ptr<Checker> ball_tilt_checker(const head::Head& head);

}  // namespace swashwright::studies
