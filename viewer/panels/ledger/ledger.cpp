#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

constexpr double fine_step = 0.01;  // mm or deg: finer than a turnbuckle can be set

/// One number of the table: where it stands and what it is called ("Upper links, link 2, error_mm").
struct Entry {
    const Row& row;
    const Cell& cell;
    std::string name;
};

Entry entry(const Section& section, const Row& row, const Cell& cell) {
    return {row, cell, fmt::format("{}, {}, {}", section.title, row.name, cell.name)};
}

/// Writes one number into the document. Edits of the same number in a run are one step of undo.
void change(State& state, const Entry& entry, double value, bool run) {
    scene::Scene next = state.document.scene();
    entry.cell.value(next.head) = value;
    state.selected = entry.row.part;
    try_edit(state, std::move(next), entry.name, run);
}

/// A small square with a sign drawn in it; repeats while it is held.
bool step_button(State& state, const char* id, const char* sign, const char* words) {
    ImGui::PushButtonRepeat(true);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0, ImGui::GetStyle().FramePadding.y));
    ImGui::PushID(id);
    const bool pressed = ImGui::Button(sign, {ImGui::GetFrameHeight(), 0});
    ImGui::PopID();
    ImGui::PopStyleVar();
    ImGui::PopButtonRepeat();
    tip(state, words);
    return pressed;
}

void error_steps(State& state, const Entry& entry) {
    const double value = entry.cell.read(state.document.head());
    const auto stepped = [&](double by) { return std::round((value + by) / fine_step) * fine_step; };
    ImGui::SameLine(0, 3);
    if (step_button(state, "less", "\xE2\x88\x92", "0.01 mm shorter")) change(state, entry, stepped(-fine_step), true);
    state.report.item(entry.name + ", less");
    ImGui::SameLine(0, 3);
    if (step_button(state, "more", "+", "0.01 mm longer")) change(state, entry, stepped(fine_step), true);
    state.report.item(entry.name + ", more");
    ImGui::SameLine(0, 3);
    ImGui::BeginDisabled(value == 0);
    if (step_button(state, "zero", "0", "Back to zero")) change(state, entry, 0, false);
    ImGui::EndDisabled();
    state.report.item(entry.name + ", zero");
}

void draw_cell(State& state, const Entry& entry, float width) {
    double value = entry.cell.read(state.document.head());
    const double opened = state.form.as_opened_fits ? entry.cell.read(state.document.as_opened().head) : value;
    const bool length = entry.cell.is_length();
    ImGui::PushID(&entry.cell);
    if (std::exchange(state.focus_ledger, false)) ImGui::SetKeyboardFocusHere();
    if (number_field(state, "number", value,
                     {.step = fine_step, .width = width, .changed_mark = value != opened, .length = length}))
        change(state, entry, value, ImGui::IsItemActive());
    state.report.item(entry.name);
    if (ImGui::IsItemDeactivated()) state.document.seal();
    if (ImGui::IsItemActivated()) state.selected = entry.row.part;
    if (value != opened) {
        tip(state, fmt::format("Right click: back to {}, as opened",
                               length ? length_text(opened, state.settings.inches) : studies::figure(opened, 2))
                       .c_str());
        if (ImGui::IsItemClicked(ImGuiMouseButton_Right)) change(state, entry, opened, false);
    }
    if (entry.cell.is_error) error_steps(state, entry);
    ImGui::PopID();
}

/// The row's name; the whole row lights its part, and is lit by it.
void draw_name(State& state, const Row& row) {
    const auto touched = state.touched();
    const bool lit = touched && stands_for(row, *touched);
    const Inks ink = state.inks();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::AlignTextToFramePadding();
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 6 * state.scale());
    ImGui::TextUnformatted(in_reading_unit(row.name, state.settings.inches).c_str());
    const float width = ImGui::GetContentRegionMax().x, height = ImGui::GetFrameHeight();
    if (lit)
        ImGui::GetWindowDrawList()->AddRectFilled({at.x - 3, at.y}, {at.x + 2 * state.scale(), at.y + height},
                                                  ink.accent);
    const ImVec2 high{ImGui::GetWindowPos().x + width, at.y + height};
    if (ImGui::IsWindowHovered() && ImGui::IsMouseHoveringRect(at, high)) {
        state.hovered = row.part;
        if (ImGui::IsMouseClicked(ImGuiMouseButton_Left)) state.selected = row.part;
    }
    if (state.show_selected && state.selected && stands_for(row, *state.selected)) {
        ImGui::SetScrollHereY(0.3F);
        state.show_selected = false;
    }
}

/// Unfolds the rest of the chosen part below the rows; as low as the heads beside it, so that no row is pushed away.
void more_word(State& state, Section& section) {
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(ImGui::GetStyle().FramePadding.x, 0));
    if (word_button(state, ("more " + section.title).c_str(), section.more_open ? "Less" : "More",
                    "Every other number, name and choice of the part that is chosen here", true, section.more_open))
        section.more_open = !section.more_open;
    ImGui::PopStyleVar();
}

/// `only`: the rows of this part, else all.
void draw_section(State& state, Section& section, const std::optional<draw::Part>& only = {}) {
    const float scale = state.scale();
    const int columns = 1 + static_cast<int>(section.heads.size());
    if (!ImGui::BeginTable(section.title.c_str(), columns)) return;
    const bool with_error = section.rows.front().cells.back().is_error;
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
    const float number_width = columns >= 4 ? 78 : 84;
    for (const std::string& head : section.heads)
        ImGui::TableSetupColumn(head.c_str(), ImGuiTableColumnFlags_WidthFixed,
                                (with_error && head == "error" ? number_width + 93 : number_width) * scale);
    ImGui::TableNextRow();
    for (int i = 0; i < columns; ++i) {
        ImGui::TableSetColumnIndex(i);
        if (i == 0 && section.more && !only) more_word(state, section);
        if (i == 0) continue;
        const std::string head = in_reading_unit(section.heads[i - 1], state.settings.inches);
        ImGui::TextDisabled("%s", head.c_str());
    }
    for (std::size_t r = 0; r < section.rows.size(); ++r) {
        const Row& row = section.rows[r];
        if (only && !stands_for(row, *only)) continue;
        ImGui::PushID(static_cast<int>(r));
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        draw_name(state, row);
        for (const Cell& cell : row.cells) {
            ImGui::TableNextColumn();
            draw_cell(state, entry(section, row, cell), number_width);
        }
        ImGui::PopID();
    }
    ImGui::EndTable();
}

/// A link's error as a line with a knob, for a look at what it does.
void error_line(State& state, const Entry& entry) {
    constexpr double most = 1;  // mm
    double value = entry.cell.read(state.document.head());
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("%s, error", entry.row.name.c_str());
    ImGui::SameLine(0, 14 * state.scale());
    const float width = std::min(220 * state.scale(), ImGui::GetContentRegionAvail().x - 10 * state.scale());
    const bool moved = slide_line(state, entry.name + ", line", value, {-most, most, fine_step, 0, width});
    tip(state, "From 1 mm too short to 1 mm too long. Double click: back to zero.");
    if (moved) change(state, entry, value, true);
    if (ImGui::IsItemDeactivated()) state.document.seal();
}

/// Below a list of links: the one that was clicked, by the turns in which a builder sets it.
void draw_turn_buttons(State& state, const Section& section) {
    const head::Role kind = section.rows.front().part.role;
    if (kind != head::Role::lower_link && kind != head::Role::upper_link) return;
    if (!state.selected || state.selected->role != kind) return;
    const int index = state.selected->index;
    const Row& row = section.rows[static_cast<std::size_t>(index)];
    const head::Description& head = state.document.head();
    const head::Link& link =
        (kind == head::Role::lower_link ? head.lower_links : head.upper_links)[static_cast<std::size_t>(index)];
    const bool turnbuckle = link.rod == head::Rod::turnbuckle, whole = link.end_faces == head::EndFaces::one_side;
    const double mm = turnbuckle ? studies::half_turn_mm(link) : studies::link_step(link).mm;
    const Entry length = entry(section, row, row.cells.front());
    const double now = length.cell.read(head);
    // What was read of the head is not looked at again: an edit puts another in its place.
    error_line(state, entry(section, row, row.cells.back()));
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("%s, %s, %s", row.name.c_str(), !turnbuckle && whole ? "a whole turn" : "half a turn",
                        length_text(mm, state.settings.inches).c_str());
    ImGui::SameLine();
    if (word_button(state, (section.title + ", turn shorter").c_str(), "Shorter",
                    turnbuckle ? "Half a turn of the body" : "A turn of one end"))
        change(state, length, now - mm, true);
    ImGui::SameLine();
    if (word_button(state, (section.title + ", turn longer").c_str(), "Longer",
                    turnbuckle ? "Half a turn of the body" : "A turn of one end"))
        change(state, length, now + mm, true);
}

bool holds(const Section& section, const draw::Part& part) {
    return std::ranges::any_of(section.rows, [&](const Row& row) { return stands_for(row, part); });
}

}  // namespace

void draw_part_numbers(State& state) {
    if (!state.selected) return;
    const std::optional<draw::Part> part = state.selected;
    for (Section& section : state.ledger) {
        if (!holds(section, *part)) continue;
        ImGui::PushID(section.title.c_str());
        ImGui::TextUnformatted(section.title.c_str());
        draw_section(state, section, part);
        draw_turn_buttons(state, section);
        draw_refusal(state, section.title + ", ");
        ImGui::PopID();
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    rule(state, {ImGui::GetWindowPos().x, at.y}, {ImGui::GetWindowPos().x + ImGui::GetWindowWidth(), at.y});
}

void draw_ledger(State& state) {
    // The first section that holds the part that was clicked in the picture opens.
    if (state.show_selected && state.selected)
        for (Section& section : state.ledger)
            if (holds(section, *state.selected)) {
                section.open = true;
                break;
            }
    for (Section& section : state.ledger) {
        ImGui::PushID(section.title.c_str());
        if (section_title(state, "section " + section.title, section.title, section.open) && !section.rows.empty()) {
            draw_section(state, section);
            draw_turn_buttons(state, section);
            draw_refusal(state, section.title + ", ");
            draw_more(state, section);
        }
        ImGui::PopID();
        // The rows below tell of blades that may be gone now: they are made anew first.
        if (counts_of(state.document.head()) != state.form.counts) break;
    }
    state.show_selected = false;
    follow_parts(state);  // a blade may have come or gone
}

}  // namespace swashwright::panels
