#include "viewer/panels/questions/plot_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "viewer/draw/base/palette.h"
#include "viewer/panels/base/layout.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/sheet/plots.h"

namespace swashwright::panels {

namespace {

struct Frame {
    Rect at;
    double x_low, x_high;
    sheet::Range range;

    ImVec2 point(double x, double y) const {
        return {at.x + at.width * static_cast<float>((x - x_low) / (x_high - x_low)),
                at.bottom() - at.height * static_cast<float>((y - range.low) / (range.high - range.low))};
    }
};

void draw_axes(const Screen& screen, ImDrawList& list, const sheet::Plot& plot, const Frame& frame) {
    const Inks ink = screen.inks();
    const float line = ImGui::GetTextLineHeight(), gap = 4 * screen.scale();
    const sheet::Range& range = frame.range;
    for (int i = 0; range.low + i * range.step <= range.high + range.step / 2; ++i) {
        const double value = range.low + i * range.step;
        const ImVec2 from = frame.point(plot.x_low, value), to = frame.point(plot.x_high, value);
        list.AddLine(from, to, ink.rule);
        const std::string label = fmt::format("{:g}", value);
        text_at(list, {from.x - ImGui::CalcTextSize(label.c_str()).x - gap, from.y - line / 2}, ink.soft, label);
    }
    for (double x = plot.x_low; x <= plot.x_high + plot.x_step / 1000; x += plot.x_step) {
        const std::string label = fmt::format("{:.{}f}", x, plot.x_decimals);
        const ImVec2 foot = frame.point(x, range.low);
        list.AddLine(foot, frame.point(x, range.high), ink.rule);
        text_at(list, {foot.x - ImGui::CalcTextSize(label.c_str()).x / 2, foot.y + gap}, ink.soft, label);
    }
    text_at(list, {frame.at.x, frame.at.bottom() + gap + line}, ink.soft, plot.x_label);
}

/// A line's dashes tell it from others; a thin one has a square at each of its points.
void stroke(const Screen& screen, ImDrawList& list, const sheet::Line& line, const std::vector<ImVec2>& points) {
    const Inks ink = screen.inks();
    const float scale = screen.scale();
    if (line.bold) {
        dashed_line(list, points, ink.ink, 2 * scale, draw::blade_dash(line.index));
        return;
    }
    list.AddPolyline(points.data(), static_cast<int>(points.size()), ink.soft, ImDrawFlags_None, 1.5F * scale);
    for (const ImVec2& p : points)
        list.AddRectFilled({p.x - 3 * scale, p.y - 3 * scale}, {p.x + 3 * scale, p.y + 3 * scale}, ink.soft);
}

/// A sample of each line before its name, one below the other.
void draw_names(const Screen& screen, ImDrawList& list, const sheet::Plot& plot) {
    const float scale = screen.scale(), line = ImGui::GetTextLineHeight();
    for (const sheet::Line& one : plot.lines) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        stroke(screen, list, one, {{at.x + 4 * scale, at.y + line / 2}, {at.x + 50 * scale, at.y + line / 2}});
        ImGui::Dummy({54 * scale, line});
        ImGui::SameLine();
        ImGui::TextUnformatted(one.name.c_str());
    }
}

}  // namespace

void draw_plot(Screen& screen, const std::string& name, const sheet::Plot& plot) {
    const float scale = screen.scale(), line = ImGui::GetTextLineHeight();
    paragraph(screen.inks().soft, plot.title);
    paragraph(screen.inks().soft, plot.y_label);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = 200 * scale;
    ImGui::InvisibleButton(name.c_str(), {width, height + 3 * line});
    screen.report.item(name);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Frame frame{{at.x + 52 * scale, at.y + line / 2, width - 68 * scale, height},
                      plot.x_low,
                      plot.x_high,
                      sheet::y_range(plot)};
    draw_axes(screen, list, plot, frame);
    for (const sheet::Line& one : plot.lines) {
        std::vector<ImVec2> points;
        for (std::size_t i = 0; i < one.x.size(); ++i) points.push_back(frame.point(one.x[i], one.y[i]));
        stroke(screen, list, one, points);
    }
    draw_names(screen, list, plot);
}

}  // namespace swashwright::panels
