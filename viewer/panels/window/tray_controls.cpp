#include "viewer/panels/window/tray_controls.h"

#include <algorithm>
#include <cmath>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/stick_envelope.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

using On = TrayFocus::On;

constexpr double wheel_step = 0.02;  // of full stick
constexpr double azimuth_notch = 2;  // deg

struct Frame {
    ImVec2 low;
    float size = 0;
    bool held = false;

    ImVec2 at(double right, double up) const {  // -1 to 1 each way
        return {low.x + size * static_cast<float>(0.5 + 0.5 * right),
                low.y + size * static_cast<float>(0.5 - 0.5 * up)};
    }
};

bool double_clicked() {
    return ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left);
}

float wheel() {
    return ImGui::IsItemHovered() ? ImGui::GetIO().MouseWheel : 0;
}

/// The control that the arrow keys move has a firmer edge and corner marks.
void draw_edge(const Screen& screen, const TrayFocus& focus, ImDrawList& list, ImVec2 low, ImVec2 high,
               TrayFocus::On which, bool held) {
    const Inks ink = screen.inks();
    list.AddRectFilled(low, high, ink.field);
    list.AddRect(low, high, held ? ink.accent : ink.soft, 0, ImDrawFlags_None, focus.on == which ? 2 : 1);
}

void knob(const Screen& screen, ImDrawList& list, ImVec2 at, bool held) {
    const Inks ink = screen.inks();
    list.AddCircleFilled(at, 10 * screen.scale(), held ? ink.accent : ink.ink, 32);
    list.AddCircleFilled(at, 3 * screen.scale(), ink.field, 16);
}

/// The field in which the cyclic stick moves, round or square, a half-way line, and what the collective leaves of it.
void draw_gate(const Screen& screen, const Bench& bench, const TrayFocus& focus, ImDrawList& list, const Frame& frame) {
    const Inks ink = screen.inks();
    const head::Mixing& mixing = bench.head().mixing;
    const bool square = mixing.cyclic_stick == head::CyclicStick::square;
    const ImVec2 low = frame.low, high{low.x + frame.size, low.y + frame.size};
    const auto line = [&](double out, ImU32 colour, float thickness) {
        if (square)
            list.AddRect(frame.at(-out, out), frame.at(out, -out), colour, 0, ImDrawFlags_None, thickness);
        else
            list.AddCircle(frame.at(0, 0), static_cast<float>(out) * frame.size / 2, colour, 64, thickness);
    };
    if (square)
        list.AddRectFilled(low, high, ink.field);
    else
        list.AddCircleFilled(frame.at(0, 0), frame.size / 2, ink.field, 64);
    line(0.5, ink.rule, 1);
    if (const double most = head::most_cyclic_out(mixing, bench.controls.sticks.collective); most < 1)
        line(std::max(0.0, most), ink.soft, 1.5F);
    line(1, frame.held ? ink.accent : ink.soft, focus.on == On::pad ? 2 : 1);
}

}  // namespace

void cyclic_pad(Screen& screen, Bench& bench, TrayFocus& focus, float size) {
    head::Sticks& sticks = bench.controls.sticks;
    Frame frame{ImGui::GetCursorScreenPos(), size};
    ImGui::InvisibleButton("pad", {size, size});
    key_stop(screen, Keyboard::Kind::stick);
    screen.report.item("pad");
    if (screen.keyboard.here()) focus = {On::pad};
    frame.held = ImGui::IsItemActive();
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemActivated()) focus = {On::pad};
    if (double_clicked()) {
        sticks.aileron = sticks.elevator = 0;
    } else if (frame.held && (ImGui::IsItemActivated() || io.MouseDelta.x != 0 || io.MouseDelta.y != 0)) {
        sticks.aileron = 2.0 * (io.MousePos.x - frame.low.x) / size - 1;
        sticks.elevator = 1 - 2.0 * (io.MousePos.y - frame.low.y) / size;
        hold_back(bench);
    }
    if (const double by = wheel_step * wheel(); by != 0) {
        (io.KeyShift ? sticks.aileron : sticks.elevator) += by;
        hold_back(bench);
    }
    tip(screen, "Cyclic stick: drag, arrow keys, wheel (Shift for aileron); double click centres");

    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Inks ink = screen.inks();
    draw_gate(screen, bench, focus, list, frame);
    list.AddLine(frame.at(-1, 0), frame.at(1, 0), ink.rule);
    list.AddLine(frame.at(0, -1), frame.at(0, 1), ink.rule);
    const ImVec2 at = frame.at(sticks.aileron, sticks.elevator);
    list.AddLine(frame.at(0, 0), at, ink.soft, 1.5F);
    knob(screen, list, at, frame.held);
}

void collective_strip(Screen& screen, Bench& bench, TrayFocus& focus, float width, float height) {
    double& value = bench.controls.sticks.collective;
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    ImGui::InvisibleButton("collective", {width, height});
    key_stop(screen, Keyboard::Kind::stick);
    screen.report.item("collective");
    if (screen.keyboard.here()) focus = {On::collective};
    const bool held = ImGui::IsItemActive();
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemActivated()) focus = {On::collective};
    if (double_clicked())
        value = 0;
    else if (held && (ImGui::IsItemActivated() || io.MouseDelta.y != 0))
        value = 1 - 2.0 * (io.MousePos.y - low.y) / height, hold_back(bench);
    if (const double by = wheel_step * wheel(); by != 0) value += by, hold_back(bench);
    tip(screen, "Collective stick: drag, wheel, Page Up and Page Down; double click centres");

    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Inks ink = screen.inks();
    const auto level = [&](double v) { return low.y + height * static_cast<float>(0.5 - 0.5 * v); };
    draw_edge(screen, focus, list, low, high, On::collective, held);
    for (int tick = -4; tick <= 4; ++tick) {
        const float y = level(tick / 4.0), inset = (tick == 0 ? 0.0F : 0.32F) * width;
        list.AddLine({low.x + inset, y}, {high.x - inset, y}, ink.rule);
    }
    const float middle = (low.x + high.x) / 2;
    list.AddLine({middle, level(0)}, {middle, level(value)}, held ? ink.accent : ink.soft, 3 * screen.scale());
    knob(screen, list, {middle, level(value)}, held);
}

void rudder_strip(Screen& screen, Bench& bench, TrayFocus& focus, float width, float height) {
    double& value = bench.controls.sticks.rudder;
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    ImGui::InvisibleButton("rudder", {width, height});
    key_stop(screen, Keyboard::Kind::stick);
    screen.report.item("rudder");
    if (screen.keyboard.here()) focus = {On::rudder};
    const bool held = ImGui::IsItemActive();
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemActivated()) focus = {On::rudder};
    if (double_clicked())
        value = 0;
    else if (held && (ImGui::IsItemActivated() || io.MouseDelta.x != 0))
        value = 2.0 * (io.MousePos.x - low.x) / width - 1;
    value = std::clamp(value + wheel_step * wheel(), -1.0, 1.0);
    tip(screen, "Rudder stick: drag, arrow keys, wheel; double click centres");

    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Inks ink = screen.inks();
    const auto at = [&](double v) { return low.x + width * static_cast<float>(0.5 + 0.5 * v); };
    draw_edge(screen, focus, list, low, high, On::rudder, held);
    for (int tick = -4; tick <= 4; ++tick) {
        const float x = at(tick / 4.0), inset = (tick == 0 ? 0.0F : 0.32F) * height;
        list.AddLine({x, low.y + inset}, {x, high.y - inset}, ink.rule);
    }
    const float middle = (low.y + high.y) / 2;
    list.AddLine({at(0), middle}, {at(value), middle}, held ? ink.accent : ink.soft, 3 * screen.scale());
    knob(screen, list, {at(value), middle}, held);
}

void azimuth_ring(Screen& screen, Bench& bench, TrayFocus& focus, float size) {
    Controls& controls = bench.controls;
    const head::Rotor& rotor = bench.head().rotor;
    const double spin = head::spin_sign(rotor.direction);
    Frame frame{ImGui::GetCursorScreenPos(), size};
    const ImVec2 centre = frame.at(0, 0);
    ImGui::InvisibleButton("azimuth", {size, size});
    key_stop(screen, Keyboard::Kind::stick);
    screen.report.item("azimuth");
    if (screen.keyboard.here()) focus = {On::azimuth};
    frame.held = ImGui::IsItemActive();
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemActivated()) focus = {On::azimuth};
    if (double_clicked()) {
        controls.azimuth_deg = 0;
    } else if (frame.held && (ImGui::IsItemActivated() || io.MouseDelta.x != 0 || io.MouseDelta.y != 0)) {
        const double left = centre.x - io.MousePos.x, ahead = centre.y - io.MousePos.y;
        controls.azimuth_deg = head::within_turn_deg(spin * (std::atan2(left, ahead) / degree - 180.0));
    }
    if (const float turns = wheel(); turns != 0)
        controls.azimuth_deg = head::within_turn_deg(controls.azimuth_deg + azimuth_notch * turns);
    tip(screen, bench.head().kind == head::Kind::tail
                    ? "Rotor seen from the blades' side, nose up: drag blade 1, wheel, comma and point keys; double "
                      "click: away from the nose"
                    : "Rotor seen from above, nose up: drag blade 1, wheel, comma and point keys; double click: over "
                      "the tail");

    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Inks ink = screen.inks();
    const auto at = [&](double azimuth_deg, double share) {
        return frame.at(-share * std::sin(azimuth_deg * degree), share * std::cos(azimuth_deg * degree));
    };
    list.AddCircleFilled(centre, 0.5F * size, ink.field, 64);
    list.AddCircle(centre, 0.5F * size, frame.held ? ink.accent : ink.soft, 64, focus.on == On::azimuth ? 2 : 1);
    for (int tick = 0; tick < 12; ++tick)
        list.AddLine(at(30 * tick, tick % 3 == 0 ? 0.88 : 0.94), at(30 * tick, 1), ink.soft);
    list.AddTriangleFilled(at(0, 1.0), at(6, 0.84), at(-6, 0.84), ink.soft);
    for (int k = rotor.blades - 1; k >= 0; --k) {
        const double place = 180 + spin * (controls.azimuth_deg + 360.0 * k / rotor.blades);
        list.AddLine(centre, at(place, 0.68), k == 0 && frame.held ? ink.accent : ink.ink,
                     (k == 0 ? 3.0F : 1.5F) * screen.scale());
        blade_chip(list, at(place, 0.68), k, screen.settings.night, screen.scale());
    }
    list.AddCircleFilled(centre, 4 * screen.scale(), ink.ink);
}

}  // namespace swashwright::panels
