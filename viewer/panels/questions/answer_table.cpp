#include "viewer/panels/questions/answer_table.h"

#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/questions/table_text.h"

namespace swashwright::panels {

namespace {

constexpr std::size_t rows_at_first = 8;
constexpr float gap = 14, indent = 6;  // pixels at text scale 1: between columns, and on the left for a mark

/// Text of each cell, the width of each column, and what stands below a row.
struct Laid {
    std::vector<std::vector<std::string>> text;  // of the rows
    std::vector<std::string> head, unit, below;  // of the columns; of the rows
    std::vector<float> width;
    std::vector<bool> right;
    Fold fold;
    bool units = false;
};

/// "aileron 0.50, azimuth 130 deg": what has no room beside the rest.
std::string below_words(const Laid& laid, const std::vector<std::string>& text) {
    std::string out;
    for (const std::size_t c : laid.fold.below) {
        if (text[c] == "-") continue;
        const std::string& unit = laid.unit[c];
        const std::string head = laid.head[c].empty() ? "" : laid.head[c] + " ";
        out += (out.empty() ? "" : ", ") + head + text[c] + (unit.empty() ? "" : " " + unit);
    }
    return out;
}

Laid lay(const Screen& screen, const studies::Table& table, float room) {
    const bool inches = screen.settings.inches;
    const std::size_t count = table.columns.size();
    Laid out;
    out.width.resize(count);
    out.right.assign(count, false);
    std::vector<bool> shown;
    std::vector<int> decimals;
    for (std::size_t c = 0; c < count; ++c) {
        shown.push_back(shown_in_window(table, c));
        decimals.push_back(decimals_shown(table, c));
    }
    const auto wide = [](const std::string& text) { return ImGui::CalcTextSize(text.c_str()).x; };
    for (std::size_t c = 0; c < count; ++c) {
        out.head.push_back(head_text(table.columns[c], inches));
        out.unit.push_back(unit_text(table.columns[c], inches));
        if (shown[c]) out.width[c] = std::max(wide(out.head[c]), wide(out.unit[c]));
    }
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        auto& line = out.text.emplace_back(count);
        for (std::size_t c = 0; c < count; ++c) {
            if (!shown[c]) continue;
            line[c] = cell_text(table, r, c, decimals[c], inches);
            out.width[c] = std::max(out.width[c], wide(line[c]));
            out.right[c] = out.right[c] || std::holds_alternative<double>(table.rows[r][c]);
        }
    }
    out.fold = fold(out.width, gap * screen.scale(), room, kept_columns(table));
    for (const auto& text : out.text) out.below.push_back(wrapped(below_words(out, text), room));
    for (const std::size_t c : out.fold.across) out.units = out.units || !out.unit[c].empty();
    return out;
}

/// The columns that stand side by side; the first is broken where it is wider than its place.
void draw_line(const Screen& screen, const Laid& laid, ImVec2 at, ImU32 colour, const std::vector<std::string>& text) {
    for (const std::size_t c : laid.fold.across) {
        const bool first = c == laid.fold.across.front();
        const float width = first ? laid.fold.first : laid.width[c];
        const std::string words = first ? wrapped(text[c], width) : text[c];
        const float shift = laid.right[c] ? width - ImGui::CalcTextSize(words.c_str()).x : 0;
        text_at(*ImGui::GetWindowDrawList(), {at.x + shift, at.y}, colour, words);
        at.x += width + gap * screen.scale();
    }
}

float height_of(const std::string& words) {
    const auto lines = static_cast<float>(1 + std::ranges::count(words, '\n'));
    return words.empty() ? 0 : lines * ImGui::GetTextLineHeight();
}

/// What a row begins with, or its number where that is no word.
std::string name_of(const studies::Table& table, std::size_t row) {
    const auto* words = std::get_if<std::string>(&table.rows[row].front());
    return words ? *words : fmt::format("{}", row);
}

/// The place in the envelope that a row names; none where the sticks do not go so far.
std::optional<PlaceNamed> place_of(const studies::Table& table, std::size_t row, const std::string& id) {
    const auto number = [&](const char* key) -> std::optional<double> {
        const auto column = std::ranges::find(table.columns, key, &studies::Column::key);
        if (column == table.columns.end()) return std::nullopt;
        const double* value =
            std::get_if<double>(&table.rows[row][static_cast<std::size_t>(column - table.columns.begin())]);
        return value ? std::optional(*value) : std::nullopt;
    };
    const auto collective = number("collective"), aileron = number("aileron"), elevator = number("elevator"),
               azimuth = number("azimuth_deg"), rudder = number("rudder");
    const auto reached = [](const std::optional<double>& stick) { return stick && std::abs(*stick) <= 1; };
    if (!azimuth) return std::nullopt;
    if (reached(rudder)) return PlaceNamed{id, name_of(table, row), {.rudder = *rudder}, *azimuth};
    if (reached(collective) && reached(aileron) && reached(elevator))
        return PlaceNamed{id, name_of(table, row), {*collective, *aileron, *elevator}, *azimuth};
    return std::nullopt;
}

/// Lights the row's parts; where it names a place the camera goes to them.
void choose(Selection& selection, const studies::Table& table, std::size_t row, const std::string& id) {
    selection.selected = draw::part_of(table.parts[row]);
    selection.pair = table.parts[row].find('|') == std::string::npos ? "" : table.parts[row];
    selection.place = place_of(table, row, id);
    if (selection.place) selection.place->part = table.parts[row];
    if (selection.place && selection.selected) selection.look_at = LookAt{*selection.selected, std::nullopt};
}

void draw_row(Screen& screen, Selection& selection, const studies::Table& table, const Laid& laid, std::size_t row,
              const std::string& id, float width) {
    const Inks ink = screen.inks();
    const float scale = screen.scale();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float first = height_of(wrapped(laid.text[row][laid.fold.across.front()], laid.fold.first));
    const float above = std::max(first, ImGui::GetTextLineHeight()),
                height = std::round(above + height_of(laid.below[row]) + 4 * scale);  // ImGui goes on at whole pixels
    const bool pressed = ImGui::InvisibleButton(fmt::format("row {}", row).c_str(), {width, height});
    const auto part = row < table.parts.size() ? draw::part_of(table.parts[row]) : std::nullopt;
    if (part) key_stop(screen, Keyboard::Kind::row, ImGui::GetID("rows"));
    screen.report.item(fmt::format("{} row {}", id, row + 1));
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (part) {
        const bool pointed = ImGui::IsItemHovered() || screen.keyboard.here();
        if (pointed) selection.hovered = part;
        if (pointed) list.AddRectFilled(at, {at.x + width, at.y + height}, ink.field);
        if (pressed) choose(selection, table, row, id);
        if (selection.touched() == part)
            list.AddRectFilled({at.x - 5 * scale, at.y}, {at.x - 2 * scale, at.y + height}, ink.accent);
    }
    draw_line(screen, laid, {at.x, at.y + 2 * scale}, ink.ink, laid.text[row]);
    text_at(list, {at.x, at.y + 2 * scale + above}, ink.soft, laid.below[row]);
}

/// The second step after a press on a row that names a place, below that row.
void draw_stand(Screen& screen, Bench& bench, Selection& selection, const studies::Table& table, std::size_t row,
                const std::string& id) {
    if (!selection.place || selection.place->table != id || selection.place->row != name_of(table, row)) return;
    if (row >= table.parts.size() || selection.place->part != table.parts[row]) return;
    const auto now = place_of(table, row, id);
    if (!now || !selection.selected) return;
    PlaceNamed& place = *selection.place;
    place.sticks = now->sticks;
    place.azimuth_deg = now->azimuth_deg;
    if (word_button(screen, (id + " stand").c_str(), "Stand there", "Sticks and rotor go where the chosen row says")) {
        go_to(bench, place.sticks, place.azimuth_deg);
        for (const auto& [lever, angle_deg] : place.hands) bench.controls.hands[lever] = angle_deg;
    }
    if (place.bring > 0) {  // the part's numbers come up above the answers meanwhile
        --place.bring;
        screen.settle = true;
        ImGui::ScrollToBringRectIntoView(ImGui::GetCurrentWindow(), ImGui::GetCurrentContext()->LastItemData.Rect);
    }
    ImGui::Dummy({0, 4 * screen.scale()});
}

void draw_rows(Screen& screen, Bench& bench, Selection& selection, const studies::Table& table, const std::string& id,
               std::size_t shown) {
    const Inks ink = screen.inks();
    const float left = indent * screen.scale(), line = ImGui::GetTextLineHeight();
    const float room = ImGui::GetContentRegionAvail().x - left;
    const Laid laid = lay(screen, table, room);
    if (laid.fold.across.empty()) return;
    const auto head_line = [&](const std::vector<std::string>& text) {
        const float height = std::max(line, height_of(wrapped(text[laid.fold.across.front()], laid.fold.first)));
        draw_line(screen, laid, ImGui::GetCursorScreenPos(), ink.soft, text);
        ImGui::Dummy({room, height + 4 * screen.scale()});
    };
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, 0));
    ImGui::Indent(left);
    head_line(laid.head);
    if (laid.units) head_line(laid.unit);
    for (std::size_t row = 0; row < shown; ++row) {
        draw_row(screen, selection, table, laid, row, id, room);
        draw_stand(screen, bench, selection, table, row, id);
    }
    ImGui::Unindent(left);
    ImGui::PopStyleVar();
}

}  // namespace

void draw_table(Screen& screen, Bench& bench, Selection& selection, const studies::Table& table, const std::string& id,
                bool& whole) {
    ImGui::PushID(id.c_str());
    ImGui::Spacing();
    paragraph(screen.inks().soft, title_text(table.title, screen.settings.inches));
    draw_rows(screen, bench, selection, table, id,
              whole ? table.rows.size() : std::min(table.rows.size(), rows_at_first));
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
    for (const std::string& note : answer.notes)
        paragraph(screen.inks().soft, lengths_read(note, screen.settings.inches));
}

}  // namespace swashwright::panels
