// What a head shows at one pose, by name: what lessons ask for and what their goals are about.
#pragma once

#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// The names that a head of these counts has, apart from its numbers (`head::parameters`), which are values too:
///   ring_height_mm, ring_tilt_deg, ring_forward_deg (nose down), ring_right_deg (right down)
///   blade[k].pitch_deg                    at the present azimuth
///   blade[k].mean_deg, blade[k].swing_deg over one turn, sticks held: mean, and half of most less least
///   split_deg                             between the blades' means
///   folded_mm                             tip of blade 1 above the tip opposite, both swung a quarter turn aside
///   servo[j].horn_deg, servo[j].horn_to_link_deg (0 to 180), grip[k].arm_to_link_deg (0 to 90; 0 is a dead point)
///   servo[j].friction_nmm                 at the horn, every ball link and bearing at the usual friction
///   servo[j].load_nmm, blade[k].load_nm   in flight at the scene's head speed: what the servo holds (positive where it
///                                         must raise its load), what turns the blade (positive leading edge up)
///   lower_link[i].force_n, upper_link[i].force_n, link[i].force_n
///                                         in flight, positive where the link is pulled
///   rotor.lift_n, rotor.first_w           of a main rotor at its blades' mean pitch, before the model has moved: lift,
///                                         and power at the rotor
///   rotor.climb_m_s, rotor.climb_w        in a steady climb at that pitch, the scene's head speed held
///   lever[i].angle_now_deg, slider[i].place_now_mm
///   misfit_mm                             the largest of the head, 0 where no link or pin is one too many
///   lower_link[i].misfit_mm, upper_link[i].misfit_mm, link[i].misfit_mm
///                                         by how much its balls stand farther apart than it is long
///   collective, aileron, elevator (of a tail rudder), azimuth_deg
/// A ring that only slides has no tilts; a horn or pitch arm without a link has no angle to one.
std::vector<std::string> live_value_names(const head::Description& description);

/// How a value is called and in which unit it comes: "mean pitch of blade 1", "deg"; a number by its label.
struct ValueWords {
    std::string words, unit;
};
ValueWords value_words(const head::Description& description, const std::string& name);

/// Fails with a sentence where there is no such value or the head cannot be posed there.
tl::expected<double, std::string> live_value(const head::Head& head, const head::Sticks& sticks, double azimuth_deg,
                                             const std::string& name);

/// A condition on one value.
struct Goal {
    std::string value;  // its name
    double wanted = 0;
    double within = 0;  // above 0; both ends included
};

/// True if all hold; a head that cannot be posed meets none.
bool met(const head::Head& head, const head::Sticks& sticks, double azimuth_deg, std::span<const Goal> goals);

}  // namespace swashwright::studies
