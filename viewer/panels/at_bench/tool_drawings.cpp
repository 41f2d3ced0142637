#include "viewer/panels/at_bench/tool_drawings.h"

#include <cmath>

#include "kinematics/linkage/geometry.h"
#include "viewer/panels/measure/sketch_pen.h"

namespace swashwright::panels {
namespace {

using studies::BenchTool;
using studies::BenchWay;

constexpr float thick = 3.2F;

void arrow(Sketch& s, Point from, Point to) {
    const Point along = unit(to - from), across{-along.y, along.x};
    s.line(from, to, thick);
    s.line(to, to - 4.0F * along + 2.2F * across, thick);
    s.line(to, to - 4.0F * along - 2.2F * across, thick);
}

/// Three quarters round a centre, with a point at its end; clockwise on the page, or the other way.
void round_arrow(Sketch& s, Point centre, float radius, bool clockwise) {
    const float way = clockwise ? 1.0F : -1.0F;
    const auto on = [&](float deg) {
        const float a = way * deg * static_cast<float>(degree);
        return centre + radius * Point{std::cos(a), std::sin(a)};
    };
    for (float deg = -135; deg < 120; deg += 15) s.line(on(deg), on(deg + 15), thick);
    const Point tip = on(120), along = unit(on(121) - on(119)), out = unit(tip - centre);
    s.line(tip, tip - 4.0F * along + 2.4F * out, thick);
    s.line(tip, tip - 4.0F * along - 2.4F * out, thick);
}

void transmitter(Sketch& s, const ToolDrawing& what) {
    s.box(8, 6, 92, 50);
    for (const float x : {31.0F, 69.0F}) {
        s.hole({x, 24}, 12);
        s.line({x, 13}, {x, 35}, 1);
        s.line({x - 11, 24}, {x + 11, 24}, 1);
    }
    s.ball({31, 24 - 9 * what.collective}, 4, true);
    s.ball({69 + 9 * what.aileron, 24 - 9 * what.elevator}, 4, true);
    s.note({31, 43}, "collective", /*outwards=*/false);
    s.note({69, 43}, "cyclic", /*outwards=*/false);
    if (what.collective != 0)
        arrow(s, {14, what.collective > 0 ? 36.0F : 12.0F}, {14, what.collective > 0 ? 12.0F : 36.0F});
    if (what.elevator != 0) arrow(s, {86, what.elevator > 0 ? 36.0F : 12.0F}, {86, what.elevator > 0 ? 12.0F : 36.0F});
    if (what.aileron != 0) arrow(s, {what.aileron > 0 ? 57.0F : 81.0F, 3}, {what.aileron > 0 ? 81.0F : 57.0F, 3});
}

/// A servo from the side, its horn level; once that stands square, the link upright on it.
void horn(Sketch& s, BenchWay way) {
    s.box(8, 34, 44, 52);
    s.bar({26, 30}, {62, 30}, 3);
    s.ball({26, 30}, 4);
    if (way == BenchWay::none) s.bar({62, 30}, {62, 6}, 1.2F);
    s.ball({62, 30}, 3.4F, true);
    if (way == BenchWay::none) {
        s.ball({62, 6}, 3.4F);
        s.line({62, 21}, {53, 21}, thick);
        s.line({53, 21}, {53, 30}, thick);
        s.note({80, 20}, "90\xC2\xB0");
        return;
    }
    const bool up = way == BenchWay::ball_up;
    arrow(s, {78, up ? 40.0F : 14.0F}, {78, up ? 14.0F : 40.0F});
}

void depth_rod(Sketch& s, const std::string& value) {
    s.box(14, 46, 80, 52);
    s.bar({36, 46}, {36, 4}, 3);
    s.bar({20, 19}, {64, 19}, 2.4F);
    s.ball({66, 17}, 4, true);
    s.upright({66, 13}, {66, 46}, 84, value);
}

/// A blade's section with the gauge on it, and the level.
void pitch_gauge(Sketch& s, const std::string& value, double pitch_deg) {
    const float a = static_cast<float>(-pitch_deg * degree), c = std::cos(a), w = std::sin(a);
    const Point middle{50, 40};
    const auto on = [&](float along, float up) { return middle + Point{c * along + w * up, w * along - c * up}; };
    // Leading edge to the right; thickest at a third.
    Point last = on(-36, 0);
    for (const auto& [along, up] :
         {std::pair(-10.0F, 3.0F), std::pair(16.0F, 4.4F), std::pair(30.0F, 2.6F), std::pair(36.0F, 0.0F),
          std::pair(30.0F, -2.6F), std::pair(16.0F, -4.4F), std::pair(-10.0F, -3.0F), std::pair(-36.0F, 0.0F)}) {
        s.line(last, on(along, up), 2.4F);
        last = on(along, up);
    }
    s.bar(on(-6, 7), on(34, 7), 1.6F);
    s.bar(on(14, 7), on(14, 26), 1.6F);
    s.centre_line({8, 40}, {92, 40});
    s.note({30, 12}, value.c_str());
}

void turned_link(Sketch& s, BenchWay way, bool turnbuckle) {
    const bool longer = way == BenchWay::longer;
    s.bar({22, 26}, {72, 26}, 1.4F);
    for (const float x : {16.0F, 78.0F}) {
        s.ball({x, 26}, 6);
        s.hole({x, 26}, 3);
    }
    s.bar({22, 26}, {32, 26}, 2.6F);
    s.bar({62, 26}, {72, 26}, 2.6F);
    if (turnbuckle) s.box(41, 21, 53, 31);
    const float near = 40, far = 10;
    arrow(s, {longer ? near : far, 10}, {longer ? far : near, 10});
    arrow(s, {94 - (longer ? near : far), 10}, {94 - (longer ? far : near), 10});
    if (turnbuckle) return;
    round_arrow(s, {84, 44}, 7, !longer);
    s.note({46, 41}, "seen from");
    s.note({46, 50}, "this end");
}

void hex_key(Sketch& s) {
    s.elbow({24, 12}, {24, 46}, {82, 46}, 2.4F);
    round_arrow(s, {58, 22}, 13, true);
}

void eye(Sketch& s) {
    constexpr int pieces = 16;
    const auto lid = [](float t, float side) { return Point{18 + 64 * t, 28 + side * 17 * std::sin(3.1416F * t)}; };
    for (const float side : {-1.0F, 1.0F})
        for (int i = 0; i < pieces; ++i)
            s.line(lid(static_cast<float>(i) / pieces, side), lid(static_cast<float>(i + 1) / pieces, side), thick);
    s.ball({50, 28}, 10);
    s.hole({50, 28}, 4);
}

}  // namespace

void draw_tool(ImDrawList& list, ImVec2 low, ImVec2 high, const SketchLook& look, const ToolDrawing& what) {
    Sketch sketch(list, low, high, look);
    if (what.way == BenchWay::longer || what.way == BenchWay::shorter)
        return turned_link(sketch, what.way, what.turnbuckle);
    if (what.way != BenchWay::none) return horn(sketch, what.way);
    switch (what.tool) {
        case BenchTool::transmitter:
            return transmitter(sketch, what);
        case BenchTool::square:
            return horn(sketch, BenchWay::none);
        case BenchTool::calliper:
            return depth_rod(sketch, what.value);
        case BenchTool::pitch_gauge:
            return pitch_gauge(sketch, what.value, what.pitch_deg);
        case BenchTool::hex_key:
        case BenchTool::hands:
            return hex_key(sketch);
        case BenchTool::eyes:
            return eye(sketch);
    }
}

}  // namespace swashwright::panels
