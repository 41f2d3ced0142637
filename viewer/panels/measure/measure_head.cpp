// The last page of the Measure sheet: the head that the readings make.
#include <fmt/format.h>
#include <imgui.h>
// After imgui.
#include <imgui_stdlib.h>

#include <algorithm>

#include "viewer/panels/measure/measure_page.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

void measure_changed(State& state) {
    ++state.measure.revision;
    state.measure.said.clear();
}

void measure_text(const State& state, const std::string& words, bool soft) {
    paragraph(soft ? state.inks().soft : state.inks().ink, words);
}

void measure_doubt(const State& state, const std::string& words) {
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + trouble_mark(state));
    measure_text(state, words);
}

namespace {

void links_table(State& state, const studies::Measured& found) {
    measure_text(state, "Links, centre to centre, mm; needed for level ring and zero pitch", true);
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

void draw_measured_head(State& state) {
    MeasureSheet& sheet = state.measure;
    const auto& found = measured(state);
    if (!found) {
        measure_doubt(state, found.error());
        return;
    }
    const float wanted =
        ImGui::CalcTextSize(sheet.file.measured.layout.name.c_str()).x + 2 * ImGui::GetStyle().FramePadding.x + 2;
    ImGui::SetNextItemWidth(std::max(240 * state.scale(), std::min(wanted, ImGui::GetContentRegionAvail().x)));
    if (ImGui::InputText("##head name", &sheet.file.measured.layout.name)) measure_changed(state);
    state.report.item("measure name");
    same_line_if_it_fits("Make this head", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(state, "measure make", "Make this head", "Opens it as a new scene that is not saved yet",
                    !sheet.file.measured.taken.empty()))
        make_measured_head(state);
    measure_text(state, studies::answer(*found, sheet.file.measured.layout).text);
    ImGui::Spacing();
    links_table(state, *found);
    ImGui::Spacing();
    const auto doubtful = studies::doubts(*found, sheet.file.measured.layout);
    measure_text(state, doubtful.empty() ? "Nothing is doubtful." : fmt::format("Doubtful: {}", doubtful.size()), true);
    for (const std::string& doubt : doubtful) measure_doubt(state, doubt);
}

}  // namespace swashwright::panels
