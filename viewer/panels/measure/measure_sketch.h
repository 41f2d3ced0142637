// What to measure, as a small drawing with calliper jaws and a dimension. One for each kind of reading.
#pragma once

#include <imgui.h>

#include <string>

#include "kinematics/studies/measured/measured_readings.h"
#include "viewer/panels/base/theme.h"

namespace swashwright::panels {

struct SketchLook {
    Inks ink;
    float scale = 1;
};

/// In a rectangle; `label` stands at the dimension: the reading, or a question mark.
void draw_measure_sketch(ImDrawList& list, ImVec2 low, ImVec2 high, const SketchLook& look,
                         const studies::MeasuredLayout& layout, const studies::ReadingPlace& place,
                         const std::string& label);
/// The head from above: balls, horns and output shafts as they were chosen.
void draw_layout_sketch(ImDrawList& list, ImVec2 low, ImVec2 high, const SketchLook& look,
                        const studies::MeasuredLayout& layout);

}  // namespace swashwright::panels
