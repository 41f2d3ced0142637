#include "viewer/panels/window/hand_tray.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/references.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

constexpr int most_rows = 3;
constexpr float row_height = 32, margin = 14;  // pixels at scale 1
constexpr double step_deg = 0.1;

void draw_hand(Screen& screen, Bench& bench, TrayFocus& focus, int index) {
    const head::Lever& lever = bench.head().levers[static_cast<std::size_t>(index)];
    const std::string words = head::lever_words(bench.head(), static_cast<std::size_t>(index)) + " \xC2\xB0";
    const std::string id = fmt::format("hand lever {}", index + 1);
    const auto [least, most] = *lever.by_hand_deg;
    const float scale = screen.scale(), numbers = 92 * scale, gap = 14 * scale;
    const auto moved = bench.controls.hands.find(index);
    double value = moved != bench.controls.hands.end() ? moved->second : lever.angle_deg;
    const bool has_focus = focus == TrayFocus{TrayFocus::On::hand, index};

    ImGui::PushID(index);
    ImGui::AlignTextToFramePadding();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (has_focus)  // the firmer edge that sticks have
        ImGui::GetWindowDrawList()->AddRectFilled(
            {at.x - 8 * scale, at.y}, {at.x - 5 * scale, at.y + ImGui::GetFrameHeight()}, screen.inks().ink);
    ImGui::TextUnformatted(words.c_str());
    tip(screen, "Moved by hand: drag, arrow keys (F6), wheel, or type; double click: back to its neutral");
    ImGui::SameLine(0, gap + 6 * scale);
    const float button = ImGui::CalcTextSize("Neutral").x + 2 * ImGui::GetStyle().FramePadding.x;
    const float width = std::max(60 * scale, ImGui::GetContentRegionAvail().x - numbers - button - 3 * gap);
    if (slide_line(screen, id, value, {least, most, step_deg, lever.angle_deg, width})) {
        move_hand(bench, index, value);
        focus = {TrayFocus::On::hand, index};
    }
    ImGui::SameLine(0, gap + 6 * scale);
    if (number_field(screen, "number", value, {.decimals = 1, .step = step_deg, .width = 84}))
        move_hand(bench, index, value);
    screen.report.item(id + " number");
    ImGui::SameLine(0, gap);
    if (word_button(screen, (id + " neutral").c_str(), "Neutral", "Back to where it stands while nobody moves it",
                    moved != bench.controls.hands.end()))
        bench.controls.hands.erase(index);
    ImGui::PopID();
}

int count_of_hands(const head::Description& head) {
    return static_cast<int>(
        std::ranges::count_if(head.levers, [](const head::Lever& lever) { return lever.by_hand_deg.has_value(); }));
}

}  // namespace

float hands_height(const head::Description& head, float scale) {
    const int rows = std::min(most_rows, count_of_hands(head));
    return rows == 0 ? 0 : (static_cast<float>(rows) * row_height + margin) * scale;
}

void draw_hands(Screen& screen, Bench& bench, TrayFocus& focus, const Rect& place) {
    if (place.height <= 0) return;
    begin_panel("hands", place, /*scrolls=*/count_of_hands(bench.head()) > most_rows);
    rule(screen, {place.x, place.y}, {place.right(), place.y});
    ImGui::SetCursorPos({margin * screen.scale(), 8 * screen.scale()});
    ImGui::BeginGroup();
    for (std::size_t i = 0; i < bench.head().levers.size(); ++i)
        if (bench.head().levers[i].by_hand_deg) draw_hand(screen, bench, focus, static_cast<int>(i));
    ImGui::EndGroup();
    ImGui::End();
}

}  // namespace swashwright::panels
