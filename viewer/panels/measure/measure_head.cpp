// The last page of the Measure sheet: the head that the readings make.
#include <fmt/format.h>
#include <imgui.h>
// After imgui.
#include <imgui_stdlib.h>

#include <algorithm>

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
    measure_text(screen, words);
}

namespace {

void links_table(const Screen& screen, const studies::Measured& found) {
    measure_text(screen, "Links, centre to centre, mm; needed for level ring and zero pitch", true);
    if (!ImGui::BeginTable("measure links", 4, ImGuiTableFlags_SizingStretchProp)) return;
    ImGui::TableNextRow();
    for (const char* head : {"", "measured", "needed", "too long by"}) {
        ImGui::TableNextColumn();
        ImGui::TextDisabled("%s", head);
    }
    for (const studies::LinkFit& link : found.links) {
        ImGui::TableNextRow();
        for (const std::string& cell :
             {link.words, link.taken ? fmt::format("{:.2f}", link.measured_mm) : "-",
              fmt::format("{:.2f}", link.needed_mm),
              link.taken ? fmt::format("{:+.2f} \xC2\xB1 {:.2f}", link.over_mm(), link.sd_mm) : "-"}) {
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
    screen.report.item("measure name");
    same_line_if_it_fits("Make this head", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "measure make", "Make this head", "Opens it as a new scene that is not saved yet",
                    !sheet.file.measured.taken.empty()))
        wishes.push_back(Wish::open_measured_head);
    measure_text(screen, studies::answer(*found, sheet.file.measured.layout).text);
    ImGui::Spacing();
    links_table(screen, *found);
    ImGui::Spacing();
    const auto doubtful = studies::doubts(*found, sheet.file.measured.layout);
    measure_text(screen, doubtful.empty() ? "Nothing is doubtful." : fmt::format("Doubtful: {}", doubtful.size()),
                 true);
    for (const std::string& doubt : doubtful) measure_doubt(screen, doubt);
}

}  // namespace swashwright::panels
