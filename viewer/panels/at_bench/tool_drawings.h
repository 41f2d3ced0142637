// The tool of a step, and which way something goes, as a line drawing.
#pragma once

#include <imgui.h>

#include <string>

#include "kinematics/studies/bench/bench_steps.h"
#include "viewer/panels/measure/measure_sketch.h"

namespace swashwright::panels {

struct ToolDrawing {
    studies::BenchTool tool = studies::BenchTool::eyes;
    studies::BenchWay way = studies::BenchWay::none;
    bool turnbuckle = false;                          // of a link that is turned
    float collective = 0, aileron = 0, elevator = 0;  // where the transmitter's sticks stand, -1 to 1
    std::string value = {};                           // that should be read; empty: none
    double pitch_deg = 0;                             // at which a pitch gauge is drawn
};

/// Fills the field between two corners; letters in the font that is pushed.
void draw_tool(ImDrawList& list, ImVec2 low, ImVec2 high, const SketchLook& look, const ToolDrawing& what);

}  // namespace swashwright::panels
