#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viewer/draw/base/palette.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/picture_panels.h"

namespace swashwright::panels {

namespace {

/// Rounded, without the minus that a rounded zero would keep, signed if asked.
std::string number(double value, int decimals, bool with_sign = false) {
    if (std::abs(value) < 0.5 * std::pow(10.0, -decimals)) value = 0;
    return with_sign && value != 0 ? fmt::format("{:+.{}f}", value, decimals) : fmt::format("{:.{}f}", value, decimals);
}

std::string degrees(double value, int decimals, bool with_sign = false) {
    return number(value, decimals, with_sign) + "\xC2\xB0";
}

/// A name on the left of the next cell, its value on the right.
void entry(const Screen& screen, const std::string& name, const std::string& value) {
    const Inks ink = screen.inks();
    ImGui::TableNextColumn();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float wide = ImGui::CalcTextSize(value.c_str()).x, line = ImGui::GetTextLineHeight();
    const bool below = ImGui::CalcTextSize(name.c_str()).x + wide > width;  // a name that the scene gives may be long
    const std::string words = below ? wrapped(name, width) : name;
    const float down = below ? static_cast<float>(1 + std::ranges::count(words, '\n')) * line : 0;
    text_at(list, at, ink.soft, words);
    text_at(list, {at.x + width - wide, at.y + down}, ink.ink, value);
    ImGui::Dummy({width, down + line});
}

/// Number, hue, line pattern and pitch of one blade; pointing at it lights the blade.
void blade_entry(const Screen& screen, Selection& selection, int index, double pitch_deg) {
    const float scale = screen.scale(), height = 26 * scale;
    ImGui::TableNextColumn();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, middle = at.y + height / 2;
    ImGui::Dummy({width, height});
    if (ImGui::IsItemHovered()) selection.hovered = draw::Part{head::Role::blade, index};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    blade_chip(list, {at.x + 13 * scale, middle}, index, screen.settings.night, scale);
    const ImVec2 sample[2]{{at.x + 32 * scale, middle}, {at.x + 82 * scale, middle}};
    dashed_line(list, sample, blade_colour(index, screen.settings.night, true), 2.5F * scale, draw::blade_dash(index));
    const std::string pitch = degrees(pitch_deg, 2, true);
    text_at(list, {at.x + width - ImGui::CalcTextSize(pitch.c_str()).x, middle - ImGui::GetTextLineHeight() / 2},
            screen.inks().ink, pitch);
}

void ring_entries(const Screen& screen, const head::Pose& pose, bool tilts) {
    entry(screen, tilts ? "Ring height" : "Slider at", length_text(pose.height_mm, screen.settings.inches));
    if (!tilts) return;
    entry(screen, "Ring tilt", degrees(pose.tilt_deg, 2));
    entry(screen, "Lowest at", pose.tilt_deg < 0.005 ? "-" : degrees(pose.lowest_azimuth_deg, 0));
}

void horn_entries(const Screen& screen, const Bench& bench, const head::Pose& pose) {
    const auto& servos = bench.live().shown->description.servos;
    for (std::size_t j = 0; j < pose.horn_deg.size() && j < servos.size(); ++j)
        entry(screen, "Horn " + servos[j].name, degrees(pose.horn_deg[j], 2, true));
}

/// Angles of levers that the scene names as something to read.
void output_entries(const Screen& screen, const Bench& bench, const head::Pose& pose) {
    const auto& levers = bench.live().shown->description.levers;
    for (std::size_t i = 0; i < levers.size() && i < pose.lever_deg.size(); ++i)
        if (!levers[i].reads.empty()) {
            std::string words = levers[i].reads;
            if (words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
            entry(screen, words, degrees(pose.lever_deg[i], 2, true));
        }
}

double largest(const std::vector<double>& values) {
    double most = 0;
    for (const double value : values) most = std::max(most, std::abs(value));
    return most;
}

}  // namespace

void draw_live_numbers(const Screen& screen, const Bench& bench, Selection& selection) {
    const Readout& live = bench.live();
    if (!live.shown) return;
    const head::Pose& pose = live.shown->pose;
    if (!ImGui::BeginTable("live", 2)) return;
    for (std::size_t k = 0; k < pose.pitch_deg.size(); ++k)
        blade_entry(screen, selection, static_cast<int>(k), pose.pitch_deg[k]);
    if (pose.pitch_deg.size() % 2) ImGui::TableNextColumn();
    entry(screen, "Split", live.curve ? degrees(live.curve->split_deg(), 2) : "none");
    ring_entries(screen, pose, live.shown->description.swashplate.tilts);
    horn_entries(screen, bench, pose);
    output_entries(screen, bench, pose);
    if (!pose.driver_misfit_mm.empty())
        entry(screen, "Driver play", length_text(largest(pose.driver_misfit_mm), screen.settings.inches));
    if (pose.misfit_mm) entry(screen, "Play needed", length_text(*pose.misfit_mm, screen.settings.inches));
    // Nothing to tell where the loop closes exactly, as it nearly always does; an open one is told over the picture.
    constexpr double exact_mm = 1e-9;
    if (live.closes && pose.residual_mm >= exact_mm)
        entry(screen, "Closure",
              screen.settings.inches ? fmt::format("{:.1e} in", pose.residual_mm / mm_per_inch)
                                     : fmt::format("{:.1e} mm", pose.residual_mm));
    ImGui::EndTable();
}

}  // namespace swashwright::panels
