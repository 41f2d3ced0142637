#include "viewer/panels/window/tray.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <string>
#include <utility>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/references.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/words.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/window/tray_controls.h"

namespace swashwright::panels {

namespace {

using On = TrayFocus::On;

void soft_words(const Screen& screen, const char* words) {
    ImGui::AlignTextToFramePadding();
    ImGui::PushStyleColor(ImGuiCol_Text, screen.inks().soft);
    ImGui::TextUnformatted(words);
    ImGui::PopStyleColor();
}

/// Says what became of a stick that was typed: `held` of it, and what is left for others; nothing where all is as
/// typed.
void tell_held(Screen& screen, const std::string& held, const std::string& left) {
    if (held.empty() && left.empty()) return;
    tell(screen, studies::capitalised(held + (held.empty() || left.empty() ? "" : "; ") + left));
}

std::string held_words(const char* stick, double typed, double now) {
    if (typed == now) return {};
    return fmt::format("{} held to {}", stick, studies::figure(now, 2));
}

/// What is typed for one axis of the cyclic stick stands as far as it can; the other gives way.
void hold_back_typed(Screen& screen, const Bench& bench, const char* words, double& typed, const char* other_words,
                     double& other) {
    const double typed_before = typed, other_before = other;
    const head::Mixing& mixing = bench.head().mixing;
    const double most = std::max(0.0, head::most_cyclic_out(mixing, bench.controls.sticks.collective));
    typed = std::clamp(typed, -most, most);
    const double room =
        mixing.cyclic_stick == head::CyclicStick::square ? most : std::sqrt(most * most - typed * typed);
    other = std::clamp(other, -room, room);
    const std::string left =
        other == other_before
            ? ""
            : fmt::format("{} leaves {} for the {}",
                          mixing.cyclic_stick == head::CyclicStick::square ? "the collective" : "the stick's circle",
                          studies::figure(other, 2), other_words);
    tell_held(screen, held_words(words, typed_before, typed), left);
}

constexpr float number_width = 72;

/// A name, as wide as the column's longest, before a typed number.
bool named_number(Screen& screen, const char* words, const char* id, double& value, int decimals, float label) {
    const float left = ImGui::GetCursorScreenPos().x;
    soft_words(screen, words);
    ImGui::SameLine();
    ImGui::SetCursorScreenPos({left + label + 6 * screen.scale(), ImGui::GetCursorScreenPos().y});
    const bool changed = number_field(screen, id, value,
                                      {.decimals = decimals, .step = std::pow(10.0, -decimals), .width = number_width});
    screen.report.item(id);
    return changed;
}

/// A stick's number from -1 to 1 and, where there is room, what a transmitter shows for it.
bool stick_number(Screen& screen, const char* words, const char* id, double& value, float label, bool roomy) {
    const bool changed = named_number(screen, words, id, value, 2, label);
    if (!roomy) return changed;
    ImGui::SameLine(0, 8 * screen.scale());
    const float left = ImGui::GetCursorScreenPos().x, wide = ImGui::CalcTextSize("-100 %").x;
    soft_words(screen, fmt::format("{} %", studies::signed_figure(100 * value, 0)).c_str());
    ImGui::SameLine();
    ImGui::SetCursorScreenPos({left + wide, ImGui::GetCursorScreenPos().y});
    ImGui::Dummy({0, ImGui::GetFrameHeight()});
    return changed;
}

void elevator_number(Screen& screen, Bench& bench, float label, bool roomy) {
    head::Sticks& sticks = bench.controls.sticks;
    if (stick_number(screen, "Elevator", "elevator_number", sticks.elevator, label, roomy))
        hold_back_typed(screen, bench, "elevator", sticks.elevator, "aileron", sticks.aileron);
}

void aileron_number(Screen& screen, Bench& bench, float label, bool roomy) {
    head::Sticks& sticks = bench.controls.sticks;
    if (stick_number(screen, "Aileron", "aileron_number", sticks.aileron, label, roomy))
        hold_back_typed(screen, bench, "aileron", sticks.aileron, "elevator", sticks.elevator);
}

void collective_number(Screen& screen, Bench& bench, float label, bool roomy) {
    head::Sticks& sticks = bench.controls.sticks;
    if (!stick_number(screen, "Collective", "collective_number", sticks.collective, label, roomy)) return;
    const head::Sticks typed = sticks;
    hold_back(bench);
    const bool drawn_in = typed.aileron != sticks.aileron || typed.elevator != sticks.elevator;
    tell_held(screen, held_words("collective", typed.collective, sticks.collective),
              drawn_in ? fmt::format("the limit of sticks together leaves aileron {}, elevator {}",
                                     studies::figure(sticks.aileron, 2), studies::figure(sticks.elevator, 2))
                       : "");
}

void rudder_number(Screen& screen, Bench& bench, float label, bool roomy) {
    double& value = bench.controls.sticks.rudder;
    if (!stick_number(screen, "Rudder", "rudder_number", value, label, roomy)) return;
    const double typed = std::exchange(value, std::clamp(value, -1.0, 1.0));
    tell_held(screen, held_words("rudder", typed, value), "");
}

void azimuth_number(Screen& screen, Controls& controls, float label) {
    if (named_number(screen, "Azimuth", "azimuth_number", controls.azimuth_deg, 1, label))
        controls.azimuth_deg = head::within_turn_deg(controls.azimuth_deg);
    ImGui::SameLine(0, 5 * screen.scale());
    soft_words(screen, "\xC2\xB0");
}

struct Places {
    float x, top, gap, margin, size;  // where the next column begins; the side of pad, strip and ring
    bool roomy;                       // for what a transmitter shows beside each number
};

/// Starts a column; it ends with `end_column`.
void column(const Places& at) {
    place_at(at.x, at.top);
    ImGui::BeginGroup();
}

void end_column(Places& at) {
    ImGui::EndGroup();
    at.x = ImGui::GetItemRectMax().x + at.gap;
}

/// Two rows of numbers, as high together as the pad is; their fields stand below each other.
struct NumberRows {
    NumberRows(const Places& at, std::initializer_list<const char*> words) {
        const float rows = 2 * ImGui::GetFrameHeight() + ImGui::GetStyle().ItemSpacing.y;
        const float down = std::max(0.0F, (at.size - rows) / 2);
        for (const char* word : words) label = std::max(label, ImGui::CalcTextSize(word).x);
        top = at.top + down;
        left = at.x;
    }
    void row(int index) const {
        place_at(left, top + static_cast<float>(index) * (ImGui::GetFrameHeight() + ImGui::GetStyle().ItemSpacing.y));
    }
    float left = 0, top = 0, label = 0;
};

void centre_button(Screen& screen, Bench& bench) {
    if (word_button(screen, "centre", "Centre", "All sticks, and what is moved by hand, to the middle (Home)"))
        centre_sticks(bench);
}

void turn_button(Screen& screen, Controls& controls) {
    if (word_button(screen, "turn", controls.turning ? "Stop" : "Turn", "Turn the rotor slowly (Space)", true,
                    controls.turning))
        controls.turning = !controls.turning;
}

void rotor_columns(Screen& screen, Bench& bench, TrayFocus& focus, Places& at) {
    column(at);
    azimuth_ring(screen, bench, focus, at.size);
    end_column(at);
    column(at);
    Controls& controls = bench.controls;
    const NumberRows rows(at, {"Azimuth", controls.turning ? "Stop  " : "Turn  "});
    rows.row(0);
    azimuth_number(screen, controls, rows.label);
    rows.row(1);
    turn_button(screen, controls);
    ImGui::SameLine();
    ImGui::SetCursorScreenPos({rows.left + rows.label + 6 * screen.scale(), ImGui::GetCursorScreenPos().y});
    if (number_field(screen, "rpm_number", controls.turn_rpm, {.decimals = 1, .step = 0.1, .width = number_width}))
        controls.turn_rpm = std::clamp(controls.turn_rpm, 0.1, 60.0);
    screen.report.item("rpm_number");
    ImGui::SameLine(0, 6 * screen.scale());
    soft_words(screen, "rpm");
    end_column(at);
}

void tail_tray(Screen& screen, Bench& bench, TrayFocus& focus, const Rect& place, Places at) {
    const float scale = screen.scale();
    column(at);
    const float rudder = std::clamp(place.width - at.size - 460 * scale, 120 * scale, 420 * scale);
    const float strip = at.size - ImGui::GetTextLineHeight() - 6 * scale;
    rudder_strip(screen, bench, focus, rudder, strip);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float below = at.top + strip + 4 * scale;
    text_at(list, {at.x, below}, screen.inks().soft, "left");
    text_at(list, {at.x + rudder - ImGui::CalcTextSize("right").x, below}, screen.inks().soft, "right");
    end_column(at);
    column(at);
    const NumberRows rows(at, {"Rudder", "Centre"});
    rows.row(0);
    rudder_number(screen, bench, rows.label, at.roomy);
    rows.row(1);
    centre_button(screen, bench);
    end_column(at);
    rotor_columns(screen, bench, focus, at);
}

void main_tray(Screen& screen, Bench& bench, TrayFocus& focus, Places at) {
    column(at);
    cyclic_pad(screen, bench, focus, at.size);
    end_column(at);
    column(at);
    const NumberRows cyclic(at, {"Elevator", "Aileron"});
    cyclic.row(0);
    elevator_number(screen, bench, cyclic.label, at.roomy);
    cyclic.row(1);
    aileron_number(screen, bench, cyclic.label, at.roomy);
    end_column(at);
    column(at);
    collective_strip(screen, bench, focus, 38 * screen.scale(), at.size);
    end_column(at);
    column(at);
    const NumberRows collective(at, {"Collective"});
    collective.row(0);
    collective_number(screen, bench, collective.label, at.roomy);
    collective.row(1);
    centre_button(screen, bench);
    end_column(at);
    rotor_columns(screen, bench, focus, at);
}

/// Which number of the line the arrow keys move: a bar below it.
void draw_line_focus(const Screen& screen, ImVec2 from, float right) {
    const float y = ImGui::GetItemRectMax().y + 2 * screen.scale();
    ImGui::GetWindowDrawList()->AddRectFilled({from.x, y}, {right, y + 2 * screen.scale()}, screen.inks().ink);
}

/// The folded tray: the same numbers in one line, and what the arrow keys move marked.
void tray_line(Screen& screen, Bench& bench, const TrayFocus& focus, const Rect& place) {
    const float scale = screen.scale(), gap = 13 * scale;
    float x = place.x + 14 * scale;
    const float y = place.y + (place.height - ImGui::GetFrameHeight()) / 2;
    const auto put = [&](const char* words, On on, const auto& number) {
        place_at(x, y);
        const ImVec2 from = ImGui::GetCursorScreenPos();
        number(ImGui::CalcTextSize(words).x);
        const float right = ImGui::GetItemRectMax().x;
        if (focus.on == on) draw_line_focus(screen, from, right);
        x = right + gap;
    };
    if (bench.head().kind == head::Kind::tail) {
        put("Rudder", On::rudder, [&](float label) { rudder_number(screen, bench, label, false); });
    } else {
        put("Collective", On::collective, [&](float label) { collective_number(screen, bench, label, false); });
        put("Aileron", On::pad, [&](float label) { aileron_number(screen, bench, label, false); });
        put("Elevator", On::pad, [&](float label) { elevator_number(screen, bench, label, false); });
    }
    put("Azimuth", On::azimuth, [&](float label) { azimuth_number(screen, bench.controls, label); });
    place_at(x, y);
    turn_button(screen, bench.controls);
    if (focus.on != On::hand) return;
    x = ImGui::GetItemRectMax().x + gap;
    const auto lever = static_cast<std::size_t>(focus.hand);
    const auto moved = bench.controls.hands.find(focus.hand);
    const double now = moved != bench.controls.hands.end() ? moved->second : bench.head().levers[lever].angle_deg;
    place_at(x, y);
    const ImVec2 from = ImGui::GetCursorScreenPos();
    soft_words(screen, fmt::format("{} {:.1f}\xC2\xB0", head::lever_words(bench.head(), lever), now).c_str());
    draw_line_focus(screen, from, ImGui::GetItemRectMax().x);
}

}  // namespace

std::vector<TrayFocus> all_in_tray(const head::Description& head) {
    std::vector<TrayFocus> out;
    if (head.kind == head::Kind::tail)
        out = {{On::rudder}, {On::azimuth}};
    else
        out = {{On::pad}, {On::collective}, {On::azimuth}};
    for (std::size_t i = 0; i < head.levers.size(); ++i)
        if (head.levers[i].by_hand_deg) out.push_back({On::hand, static_cast<int>(i)});
    return out;
}

void keep_focus(TrayFocus& focus, const head::Description& head) {
    const auto all = all_in_tray(head);
    if (std::ranges::find(all, focus) == all.end()) focus = all.front();
}

void draw_tray(Screen& screen, Bench& bench, TrayFocus& focus, const Rect& place, bool folded) {
    begin_panel("tray", place);
    rule(screen, {place.x, place.y}, {place.right(), place.y});
    keep_focus(focus, bench.head());
    const float scale = screen.scale(), down = 8 * scale, margin = 14 * scale;
    const Places at{place.x + margin, place.y + down,          12 * scale,
                    margin,           place.height - 2 * down, place.width > 1000 * scale};
    if (folded)
        tray_line(screen, bench, focus, place);
    else if (bench.head().kind == head::Kind::tail)
        tail_tray(screen, bench, focus, place, at);
    else
        main_tray(screen, bench, focus, at);
    ImGui::End();
}

}  // namespace swashwright::panels
