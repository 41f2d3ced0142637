#include "viewer/panels/questions/answer_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "kinematics/studies/answer/shown.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

constexpr std::size_t rows_at_first = 8;
constexpr float gap = 14;  // between columns, pixels at text scale 1

/// Text of each cell and the width that each column needs.
struct Laid {
    std::vector<std::vector<std::string>> text;
    std::vector<float> width;
    std::vector<bool> right;
    float total = 0;
};

Laid lay(const Screen& screen, const studies::Table& table) {
    Laid out;
    const std::size_t count = table.columns.size();
    out.width.resize(count);
    out.right.assign(count, false);
    const auto room = [](const std::string& text) { return ImGui::CalcTextSize(text.c_str()).x; };
    for (std::size_t c = 0; c < count; ++c)
        if (studies::shown(table.columns[c]))
            out.width[c] = std::max(room(table.columns[c].head), room(table.columns[c].unit));
    for (const auto& row : table.rows) {
        auto& line = out.text.emplace_back();
        for (std::size_t c = 0; c < count; ++c) {
            line.push_back(studies::shown(table.columns[c]) ? studies::as_text(row[c], table.columns[c]) : "");
            out.width[c] = std::max(out.width[c], room(line.back()));
            out.right[c] = out.right[c] || std::holds_alternative<double>(row[c]);
        }
    }
    for (const float width : out.width) out.total += width > 0 ? width + gap * screen.scale() : 0;
    return out;
}

void draw_line(const Screen& screen, const Laid& laid, ImVec2 at, ImU32 colour, const auto& text_of) {
    for (std::size_t c = 0; c < laid.width.size(); ++c) {
        if (laid.width[c] == 0) continue;  // not shown
        const std::string& text = text_of(c);
        const float shift = laid.right[c] ? laid.width[c] - ImGui::CalcTextSize(text.c_str()).x : 0;
        text_at(*ImGui::GetWindowDrawList(), {at.x + shift, at.y}, colour, text);
        at.x += laid.width[c] + gap * screen.scale();
    }
}

/// A row that names a place in the envelope takes the head there.
void go_where(Bench& bench, const studies::Table& table, std::size_t row) {
    const auto number = [&](const char* key) -> std::optional<double> {
        const auto column = std::ranges::find(table.columns, key, &studies::Column::key);
        if (column == table.columns.end()) return std::nullopt;
        const double* value =
            std::get_if<double>(&table.rows[row][static_cast<std::size_t>(column - table.columns.begin())]);
        return value ? std::optional(*value) : std::nullopt;
    };
    const auto collective = number("collective"), aileron = number("aileron"), elevator = number("elevator"),
               azimuth = number("azimuth_deg"), rudder = number("rudder");
    if (rudder && azimuth) go_to(bench, {.rudder = *rudder}, *azimuth);
    if (collective && aileron && elevator && azimuth) go_to(bench, {*collective, *aileron, *elevator}, *azimuth);
}

void draw_row(Screen& screen, Bench& bench, Selection& selection, const studies::Table& table, const Laid& laid,
              std::size_t row, const std::string& id, float width) {
    const Inks ink = screen.inks();
    const float scale = screen.scale(), height = ImGui::GetTextLineHeight() + 4 * scale;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton(fmt::format("row {}", row).c_str(), {width, height});
    screen.report.item(fmt::format("{} row {}", id, row + 1));
    const auto part = row < table.parts.size() ? draw::part_of(table.parts[row]) : std::nullopt;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (part) {
        if (ImGui::IsItemHovered()) {
            selection.hovered = part;
            list.AddRectFilled(at, {at.x + width, at.y + height}, ink.field);
        }
        if (ImGui::IsItemClicked()) {
            selection.selected = part;
            selection.pair = table.parts[row].find('|') == std::string::npos ? "" : table.parts[row];
            go_where(bench, table, row);
        }
        if (selection.touched() == part)
            list.AddRectFilled({at.x - 5 * scale, at.y}, {at.x - 2 * scale, at.y + height}, ink.accent);
    }
    draw_line(screen, laid, {at.x, at.y + 2 * scale}, ink.ink,
              [&](std::size_t c) -> const std::string& { return laid.text[row][c]; });
}

}  // namespace

void draw_table(Screen& screen, Bench& bench, Selection& selection, const studies::Table& table, const std::string& id,
                bool& whole) {
    const Inks ink = screen.inks();
    const float scale = screen.scale(), line = ImGui::GetTextLineHeight();
    ImGui::PushID(id.c_str());
    ImGui::Spacing();
    ImGui::PushTextWrapPos(0);
    ImGui::TextDisabled("%s", table.title.c_str());
    ImGui::PopTextWrapPos();
    const Laid laid = lay(screen, table);
    const std::size_t shown = whole ? table.rows.size() : std::min(table.rows.size(), rows_at_first);
    const float room = ImGui::GetContentRegionAvail().x, indent = 6 * scale;
    const bool wide = laid.total + indent > room;
    const bool units = std::ranges::any_of(
        table.columns, [](const auto& column) { return studies::shown(column) && !column.unit.empty(); });
    const float row_height = line + 4 * scale;
    const float height =
        static_cast<float>(shown + 1 + (units ? 1 : 0)) * row_height + (wide ? ImGui::GetStyle().ScrollbarSize : 0) + 2;
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, 0));
    ImGui::BeginChild("rows", {0, height}, false,
                      (wide ? ImGuiWindowFlags_HorizontalScrollbar : 0) | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + indent);
    const float width = std::max(laid.total, room - indent);
    const auto head_line = [&](const auto& text_of) {
        draw_line(screen, laid, ImGui::GetCursorScreenPos(), ink.soft, text_of);
        ImGui::SetCursorPosX(indent);
        ImGui::Dummy({width, row_height});
    };
    head_line([&](std::size_t c) -> const std::string& { return table.columns[c].head; });
    ImGui::SetCursorPosX(indent);
    if (units) head_line([&](std::size_t c) -> const std::string& { return table.columns[c].unit; });
    for (std::size_t row = 0; row < shown; ++row) {
        ImGui::SetCursorPosX(indent);
        draw_row(screen, bench, selection, table, laid, row, id, width);
    }
    ImGui::EndChild();
    ImGui::PopStyleVar();
    if (table.rows.size() > rows_at_first &&
        word_button(screen, (id + " all").c_str(),
                    whole ? "Fewer rows" : fmt::format("All {} rows", table.rows.size()).c_str(), nullptr))
        whole = !whole;
    ImGui::PopID();
}

void draw_tables(Screen& screen, Bench& bench, Selection& selection, const studies::Answer& answer,
                 const std::string& id, std::vector<bool>& whole) {
    whole.resize(answer.tables.size(), false);
    for (std::size_t t = 0; t < answer.tables.size(); ++t) {
        if (answer.tables[t].rows.empty()) continue;
        bool in_full = whole[t];
        draw_table(screen, bench, selection, answer.tables[t], fmt::format("{} {}", id, answer.tables[t].key), in_full);
        whole[t] = in_full;
    }
    for (const std::string& note : answer.notes) paragraph(screen.inks().soft, note);
}

}  // namespace swashwright::panels
