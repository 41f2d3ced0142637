// The last page of the Measure sheet: the head that the readings make.
#include <fmt/format.h>
#include <imgui.h>
// After imgui.
#include <imgui_stdlib.h>

#include <algorithm>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/measure/measure_page.h"

namespace swashwright::panels {

void measure_changed(MeasureSheet& sheet) {
    ++sheet.revision;
    sheet.said.clear();
}

void measure_text(const Screen& screen, const std::string& words, bool soft) {
    paragraph(soft ? screen.inks().soft : screen.inks().ink, words);
}

void measure_doubt(const Screen& screen, const std::string& words) {
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + trouble_mark(screen));
    measure_text(screen, lengths_read(words, screen.settings.inches));
}

bool doubt_row(Screen& screen, const std::string& id, std::size_t number, const std::string& words, bool leads) {
    const Inks ink = screen.inks();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float scale = screen.scale(), mark = 20 * scale, width = ImGui::GetContentRegionAvail().x;
    const std::string text = wrapped(fmt::format("{}. {}", number, lengths_read(words, screen.settings.inches)),
                                     width - mark - (leads ? mark : 0));
    const float height = ImGui::CalcTextSize(text.c_str()).y + 4 * scale;
    const bool pressed = ImGui::InvisibleButton(id.c_str(), {width, height}) && leads;
    if (leads) key_stop(screen, Keyboard::Kind::row, ImGui::GetID("doubts"));
    screen.report.item(id);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (leads && ImGui::IsItemHovered()) list.AddRectFilled(at, {at.x + width, at.y + height}, ink.field);
    draw_trouble_mark(list, {at.x, at.y + 2 * scale}, screen);
    text_at(list, {at.x + mark, at.y + 2 * scale}, ink.ink, text);
    if (leads) {
        tip(screen, "Goes to its field");
        const ImVec2 point{at.x + width - 4 * scale, at.y + 2 * scale + ImGui::GetTextLineHeight() / 2};
        const ImVec2 arrow[3]{
            {point.x - 6 * scale, point.y - 6 * scale}, point, {point.x - 6 * scale, point.y + 6 * scale}};
        list.AddPolyline(arrow, 3, ink.ink, 0, 2 * scale);
    }
    return pressed;
}

namespace {

void links_table(const Screen& screen, const studies::Measured& found) {
    const bool inches = screen.settings.inches;
    measure_text(screen,
                 fmt::format("Links, centre to centre, {}; needed for level ring and zero pitch", inches ? "in" : "mm"),
                 true);
    if (!ImGui::BeginTable("measure links", 4, ImGuiTableFlags_SizingStretchProp)) return;
    ImGui::TableNextRow();
    for (const char* head : {"", "measured", "needed", "too long by"}) {
        ImGui::TableNextColumn();
        ImGui::TextDisabled("%s", head);
    }
    for (const studies::LinkFit& link : found.links) {
        ImGui::TableNextRow();
        for (const std::string& cell :
             {link.words, link.taken ? length_number(link.measured_mm, inches) : "-",
              length_number(link.needed_mm, inches),
              link.taken ? fmt::format("{}{} \xC2\xB1 {}", link.over_mm() > 0 ? "+" : "",
                                       length_number(link.over_mm(), inches), length_number(link.sd_mm, inches))
                         : "-"}) {
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(cell.c_str());
        }
    }
    ImGui::EndTable();
}

}  // namespace

void draw_measured_head(Screen& screen, MeasureSheet& sheet, Wishes& wishes) {
    const auto& found = measured(sheet);
    if (!found) {
        measure_doubt(screen, found.error());
        return;
    }
    const float wanted =
        ImGui::CalcTextSize(sheet.file.measured.layout.name.c_str()).x + 2 * ImGui::GetStyle().FramePadding.x + 2;
    ImGui::SetNextItemWidth(std::max(240 * screen.scale(), std::min(wanted, ImGui::GetContentRegionAvail().x)));
    if (ImGui::InputText("##head name", &sheet.file.measured.layout.name)) measure_changed(sheet);
    key_stop(screen, Keyboard::Kind::text);
    screen.report.item("measure name");
    same_line_if_it_fits("Make this head", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "measure make", "Make this head", "Opens it as a new head that is not saved yet",
                    !sheet.file.measured.taken.empty()))
        wishes.push_back(Wish::open_measured_head);
    measure_text(screen,
                 lengths_read(studies::answer(*found, sheet.file.measured.layout).text, screen.settings.inches));
    ImGui::Spacing();
    links_table(screen, *found);
    ImGui::Spacing();
    const auto doubtful = studies::ranked_doubts(*found, sheet.file.measured.layout);
    measure_text(screen,
                 doubtful.empty() ? "Nothing is doubtful."
                                  : fmt::format("Doubtful: {}, the most doubtful first", doubtful.size()),
                 true);
    std::optional<studies::ReadingPlace> chosen;
    for (std::size_t i = 0; i < doubtful.size(); ++i) {
        const auto& [text, places] = doubtful[i];
        if (doubt_row(screen, fmt::format("measure doubt {}", i + 1), i + 1, text, !places.empty()))
            chosen = places.front();
    }
    if (chosen) go_to_reading(sheet, *chosen);  // last: the page is another one then
}

}  // namespace swashwright::panels
