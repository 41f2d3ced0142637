// A small valid scene file for tests to spoil. Invented.
#pragma once

#include <stdexcept>
#include <string>

#include "kinematics/scene/scene.h"

namespace swashwright::scene::testing {

inline const std::string small_text = R"(format = 1
name = "spoil me"
[rotor]
blades = 2
direction = "clockwise"
hub_height_mm = 111
precone_deg = 0.0
blade_tip_mm = 660.0
head_speed_rpm = 2000
[[servo]]
name = "left"
pivot_mm = [-3.0, 22.5, 10.0]
axis = [0, 1, 0]
horn_zero = [1, 0, 0]
horn_mm = 16
neutral_deg = 0.0
travel_deg = [-45.0, 45.0]
[[servo]]
name = "right"
pivot_mm = { radius_mm = 22.5, azimuth_deg = 264.0, height_mm = 10.0 }
axis = [0, 1, 0]
horn_zero = [1, 0, 0]
horn_mm = 16.0
neutral_deg = 0.0
travel_deg = [-45.0, 45.0]
[[servo]]
name = "rear"
pivot_mm = [-26.0, -16.0, 10.0]
axis = [1, 0, 0]
horn_zero = [0, 1, 0]
horn_mm = 16.0
neutral_deg = 0.0
travel_deg = [-45.0, 45.0]
[swashplate]
neutral_height_mm = 45.0
inner_balls = [ { radius_mm = 26.0, azimuth_deg = 60.0, height_mm = 0.0 },
                { radius_mm = 26.0, azimuth_deg = -60.0, height_mm = 0.0 },
                { radius_mm = 26.0, azimuth_deg = 180.0, height_mm = 0.0 } ]
guide_pin = { radius_mm = 36.0, azimuth_deg = 180.0, height_mm = 0.0 }
outer_balls = [ { radius_mm = 26.0, ahead_deg = 90.0, height_mm = 6.0 },
                { radius_mm = 26.0, ahead_deg = 270.0, height_mm = 6.0 } ]
driver_pin = { radius_mm = 20.0, ahead_deg = 0.0, height_mm = 0.0 }
[[lower_link]]
length_mm = 35.0
[[lower_link]]
length_mm = 35.0
[[lower_link]]
length_mm = 35.0
[[upper_link]]
length_mm = 61.0
[[upper_link]]
length_mm = 61.0
[[grip]]
pitch_arm = { along_mm = 11.0, lead_mm = 26.0, up_mm = 0.0 }
pitch_offset_deg = 0.0
[[grip]]
pitch_arm = { along_mm = 11.0, lead_mm = 26.0, up_mm = 0.0 }
pitch_offset_deg = 0.0
[mixing]
collective_deg = 19.0
cyclic_deg = 12.0
phase_deg = 0.0
)";

inline Scene small_scene() {
    return parse(small_text, "small").value();
}

/// The small scene with the first occurrence of `old` replaced; fails loudly if there is none.
inline std::string spoilt(const std::string& old, const std::string& replacement) {
    std::string text = small_text;
    const std::size_t at = text.find(old);
    if (at == std::string::npos) throw std::logic_error("the scene to spoil has no: " + old);
    return text.replace(at, old.size(), replacement);
}

}  // namespace swashwright::scene::testing
