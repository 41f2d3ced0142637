#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "viewer/draw/base/palette.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/picture_panels.h"

namespace swashwright::panels {

namespace {

/// A step of 1, 2 or 5 times a power of ten that divides `range` into at most `most` parts.
double round_step(double range, int most) {
    const double raw = range / most, unit = std::pow(10.0, std::floor(std::log10(raw)));
    for (const double factor : {1.0, 2.0, 5.0})
        if (factor * unit >= raw * (1 - 1e-9)) return factor * unit;
    return 10 * unit;
}

struct Axes {
    Rect frame;
    double low_deg = 0, high_deg = 1, step_deg = 1;

    float x(double azimuth_deg) const { return frame.x + frame.width * static_cast<float>(azimuth_deg / 360.0); }
    float y(double pitch_deg) const {
        return frame.bottom() - frame.height * static_cast<float>((pitch_deg - low_deg) / (high_deg - low_deg));
    }
};

/// Never less than a degree high, so that a constant does not look like noise.
Axes axes_for(const studies::TurnCurve& curve, const Rect& frame) {
    double low = curve.blades[0].least_deg, high = curve.blades[0].most_deg;
    for (const studies::BladeTurn& blade : curve.blades) {
        low = std::min(low, blade.least_deg);
        high = std::max(high, blade.most_deg);
    }
    const double middle = 0.5 * (low + high), half = std::max(0.5 * (high - low) * 1.15, 0.5);
    Axes axes{frame, middle - half, middle + half};
    axes.step_deg = round_step(2 * half, 4);
    return axes;
}

void draw_grid(const Screen& screen, ImDrawList& list, const Axes& axes) {
    const Inks ink = screen.inks();
    const float line = ImGui::GetTextLineHeight(), scale = screen.scale();
    const int decimals = axes.step_deg < 0.0999 ? 2 : axes.step_deg < 0.999 ? 1 : 0;
    for (double tick = std::ceil(axes.low_deg / axes.step_deg) * axes.step_deg; tick <= axes.high_deg;
         tick += axes.step_deg) {
        const float y = std::round(axes.y(tick));
        const bool zero = std::abs(tick) < 0.01 * axes.step_deg;
        list.AddLine({axes.frame.x, y}, {axes.frame.right(), y}, zero ? ink.soft : ink.rule);
        const std::string label = fmt::format("{:.{}f}", zero ? 0.0 : tick, decimals);
        text_at(list, {axes.frame.x - ImGui::CalcTextSize(label.c_str()).x - 6 * scale, y - line / 2}, ink.soft, label);
    }
    for (int azimuth = 0; azimuth <= 360; azimuth += 90) {
        const float x = std::round(axes.x(azimuth));
        list.AddLine({x, axes.frame.y}, {x, axes.frame.bottom() + 4 * scale}, ink.rule);
        const std::string label = std::to_string(azimuth);
        const float width = ImGui::CalcTextSize(label.c_str()).x;
        text_at(list,
                {std::min(x - width / 2, axes.frame.right() + 8 * scale - width), axes.frame.bottom() + 4 * scale},
                ink.soft, label);
    }
}

void draw_curves(const Screen& screen, ImDrawList& list, const Axes& axes, const studies::TurnCurve& curve) {
    const float scale = screen.scale();
    const std::size_t samples = curve.azimuth_deg.size(), count = curve.blades.size();
    if (samples == 0) return;
    std::vector<ImVec2> points(samples + 1);
    for (std::size_t k = 0; k < count; ++k) {
        for (std::size_t i = 0; i <= samples; ++i)
            points[i] = {axes.x(i < samples ? curve.azimuth_deg[i] : 360.0),
                         axes.y(curve.blades[k].pitch_deg[i % samples])};
        dashed_line(list, points, blade_colour(static_cast<int>(k), screen.settings.night, true), 2.2F * scale,
                    draw::blade_dash(static_cast<int>(k)));
    }
    for (std::size_t k = 0; k < count;
         ++k) {  // numbers spread along the turn, so that they stay apart where curves meet
        const std::size_t i = samples * (2 * k + 1) / (2 * count);
        blade_chip(list, {axes.x(curve.azimuth_deg[i]), axes.y(curve.blades[k].pitch_deg[i])}, static_cast<int>(k),
                   screen.settings.night, scale);
    }
}

void draw_marker(const Screen& screen, const Bench& bench, ImDrawList& list, const Axes& axes) {
    const Inks ink = screen.inks();
    const float x = axes.x(bench.controls.azimuth_deg), scale = screen.scale();
    list.AddLine({x, axes.frame.y}, {x, axes.frame.bottom()}, ink.ink, 1.5F * scale);
    if (!bench.live().closes || !bench.live().shown) return;
    const std::vector<double>& pitch = bench.live().shown->pose.pitch_deg;
    for (std::size_t k = 0; k < pitch.size(); ++k)
        list.AddCircleFilled({x, axes.y(pitch[k])}, 4 * scale,
                             blade_colour(static_cast<int>(k), screen.settings.night, true));
}

std::string answer(const studies::TurnCurve& curve) {
    if (curve.split_deg() < 0.005) return "No split: over a turn the blades take the same.";
    return fmt::format("Split {:.2f} deg: blade {} above blade {}.", curve.split_deg(), curve.highest_blade + 1,
                       curve.lowest_blade + 1);
}

}  // namespace

void draw_turn_card(Screen& screen, Bench& bench, float height) {
    const Inks ink = screen.inks();
    const float scale = screen.scale(), line = ImGui::GetTextLineHeight();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddLine(at, {at.x + width, at.y}, ink.rule);
    const auto& curve = bench.live().curve;
    ImGui::InvisibleButton("turn card", {width, height});
    screen.report.item("turn card");
    text_at(list, {at.x, at.y + 6 * scale}, ink.ink, "Blade pitch by rotor azimuth, degrees");
    text_at(list, {at.x, at.y + 8 * scale + line}, ink.soft, curve ? answer(*curve) : "The turn cannot be completed.");
    if (!curve) return;

    const Rect frame{at.x + 46 * scale, at.y + 18 * scale + 2 * line, width - 56 * scale, 0};
    const Axes axes = axes_for(*curve, {frame.x, frame.y, frame.width, at.y + height - frame.y - line - 8 * scale});
    draw_grid(screen, list, axes);
    list.PushClipRect({axes.frame.x - 1, axes.frame.y - 12 * scale},
                      {axes.frame.right() + 1, axes.frame.bottom() + 12 * scale}, true);
    draw_curves(screen, list, axes, *curve);
    draw_marker(screen, bench, list, axes);
    list.PopClipRect();
    if (ImGui::IsItemActive()) {  // dragging in the plot turns the rotor
        const double turn = std::clamp((ImGui::GetIO().MousePos.x - axes.frame.x) / axes.frame.width, 0.0F, 0.9999F);
        bench.controls.azimuth_deg = 360.0 * turn;
    }
}

}  // namespace swashwright::panels
