#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/ledger/ledger.h"
#include "viewer/panels/ledger/linkage_fields.h"
#include "viewer/panels/ledger/linkage_form.h"

namespace swashwright::panels {

namespace {

constexpr double fine_step = 0.01;                             // mm or deg: finer than a turnbuckle can be set
constexpr float number_width = 84, number_width_of_many = 78;  // pixels at text scale 1; three in a row and more

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
void change(Screen& screen, Bench& bench, Selection& selection, const Entry& entry, double value, bool run) {
    scene::Scene next = bench.document().scene();
    entry.cell.value(next.head) = value;
    selection.selected = entry.row.part;
    try_edit(screen, bench, std::move(next), entry.name, run);
}

/// A small square with a sign drawn in it; repeats while it is held.
bool step_button(Screen& screen, const char* id, const char* sign, const char* words) {
    ImGui::PushButtonRepeat(true);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0, ImGui::GetStyle().FramePadding.y));
    ImGui::PushID(id);
    const bool pressed = ImGui::Button(sign, {ImGui::GetFrameHeight(), 0});
    ImGui::PopID();
    ImGui::PopStyleVar();
    ImGui::PopButtonRepeat();
    key_stop(screen);
    tip(screen, lengths_read(words, screen.settings.inches).c_str());
    return pressed;
}

void error_steps(Screen& screen, Bench& bench, Selection& selection, const Entry& entry) {
    const double value = entry.cell.read(bench.head());
    const auto stepped = [&](double by) { return std::round((value + by) / fine_step) * fine_step; };
    ImGui::SameLine(0, 3);
    if (step_button(screen, "less", "\xE2\x88\x92", "0.01 mm shorter"))
        change(screen, bench, selection, entry, stepped(-fine_step), true);
    screen.report.item(entry.name + ", less");
    ImGui::SameLine(0, 3);
    if (step_button(screen, "more", "+", "0.01 mm longer"))
        change(screen, bench, selection, entry, stepped(fine_step), true);
    screen.report.item(entry.name + ", more");
    ImGui::SameLine(0, 3);
    ImGui::BeginDisabled(value == 0);
    if (step_button(screen, "zero", "0", "Back to zero")) change(screen, bench, selection, entry, 0, false);
    ImGui::EndDisabled();
    screen.report.item(entry.name + ", zero");
}

void draw_cell(Screen& screen, Bench& bench, Selection& selection, Ledger& ledger, const Entry& entry, float width) {
    double value = entry.cell.read(bench.head());
    const double opened = ledger.as_opened_fits ? entry.cell.read(bench.document().as_opened().head) : value;
    const bool length = entry.cell.is_length();
    ImGui::PushID(&entry.cell);
    if (std::exchange(ledger.focus, false)) ImGui::SetKeyboardFocusHere();
    if (number_field(screen, "number", value,
                     {.step = fine_step, .width = width, .changed_mark = value != opened, .length = length}))
        change(screen, bench, selection, entry, value, ImGui::IsItemActive());
    screen.report.item(entry.name);
    if (screen.keyboard.here()) selection.hovered = entry.row.part;
    if (ImGui::IsItemDeactivated()) bench.end_run();
    if (ImGui::IsItemActivated()) selection.selected = entry.row.part;
    if (value != opened) {
        tip(screen, fmt::format("Right click: back to {}, as opened",
                                length ? length_text(opened, screen.settings.inches) : studies::figure(opened, 2))
                        .c_str());
        if (ImGui::IsItemClicked(ImGuiMouseButton_Right)) change(screen, bench, selection, entry, opened, false);
    }
    if (entry.cell.is_error) error_steps(screen, bench, selection, entry);
    ImGui::PopID();
}

/// A name in lines of this width at most: broken at blanks, and within a word that is wider by itself.
std::string name_lines(const std::string& name, float width) {
    std::string out = wrapped(name, width);
    std::size_t line = 0;
    for (std::size_t i = 0; i < out.size(); ++i) {
        if (out[i] == '\n') line = i + 1;
        const bool begins_sign = (static_cast<unsigned char>(out[i]) & 0xC0U) != 0x80U;
        if (i <= line || !begins_sign || ImGui::CalcTextSize(out.data() + line, out.data() + i + 1).x <= width)
            continue;
        out.insert(i, "\n");
        line = ++i;
    }
    return out;
}

/// "wash-out arm 1, ball 2" in two: whose it is, and what; all in the second where there is nothing before.
std::pair<std::string, std::string> parted_name(const std::string& name) {
    const std::size_t comma = name.rfind(", ");
    if (comma == std::string::npos) return {"", name};
    return {name.substr(0, comma), name.substr(comma + 2)};
}

constexpr float name_indent = 6;  // pixels at text scale 1: room for the mark of a row that is lit

bool some_name_is_too_long(const Section& section, const std::optional<draw::Part>& only, float width) {
    return std::ranges::any_of(section.rows, [&](const Row& row) {
        return (!only || stands_for(row, *only)) && ImGui::CalcTextSize(row.name.c_str()).x > width;
    });
}

/// Whose the next rows are, on a line of its own that goes on over the columns of numbers.
void draw_owner(const Screen& screen, const std::string& owner) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::Dummy({1, 2 * screen.scale()});
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x - at.x;
    const std::string words = name_lines(owner, width - 2 * name_indent * screen.scale());
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImRect clip = ImGui::GetCurrentWindow()->InnerClipRect;
    list.PushClipRect(clip.Min, clip.Max);
    text_at(list, {at.x + name_indent * screen.scale(), at.y}, screen.inks().ink, words);
    list.PopClipRect();
    ImGui::Dummy({1, ImGui::CalcTextSize(words.c_str()).y});
}

/// The row's name; the whole row lights its part, and is lit by it. `indent` in pixels at text scale 1.
void draw_name(const Screen& screen, Selection& selection, const Row& row, const std::string& shown, float indent) {
    const auto touched = selection.touched();
    const bool lit = touched && stands_for(row, *touched);
    const Inks ink = screen.inks();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::AlignTextToFramePadding();
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + indent * screen.scale());
    const std::string name = in_reading_unit(shown, screen.settings.inches);
    ImGui::TextUnformatted(name_lines(name, ImGui::GetContentRegionAvail().x).c_str());
    const float width = ImGui::GetContentRegionMax().x, height = ImGui::GetFrameHeight();
    if (lit)
        ImGui::GetWindowDrawList()->AddRectFilled({at.x - 3, at.y}, {at.x + 2 * screen.scale(), at.y + height},
                                                  ink.accent);
    const ImVec2 high{ImGui::GetWindowPos().x + width, at.y + height};
    if (ImGui::IsWindowHovered() && ImGui::IsMouseHoveringRect(at, high)) {
        selection.hovered = row.part;
        if (ImGui::IsMouseClicked(ImGuiMouseButton_Left)) selection.selected = row.part;
    }
    if (selection.show_selected && selection.selected && stands_for(row, *selection.selected)) {
        ImGui::SetScrollHereY(0.3F);
        selection.show_selected = false;
    }
}

/// Unfolds the rest of the chosen part below the rows; as low as the heads beside it, so that no row is pushed away.
/// In fewer words where `room` is narrow.
void more_word(Screen& screen, Section& section, float room) {
    const float padding = 4 * screen.scale();
    const char* word = section.more_open ? "Fewer fields" : "All fields";
    if (ImGui::CalcTextSize(word).x + 2 * padding > room) word = section.more_open ? "Fewer" : "Fields";
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(padding, 0));
    if (word_button(screen, ("more " + section.title).c_str(), word,
                    "Every other number, name and choice of the part that is chosen here"))
        section.more_open = !section.more_open;
    ImGui::PopStyleVar();
}

/// What a coordinate's head means where the rows stand on parts of several kinds; nothing where the head says it.
const char* axis_words(const std::string& head) {
    if (head == "x mm")
        return "Places on frame and inner ring: forward; on hub, outer ring and grip: along the blade. Others: the "
               "part's own x";
    if (head == "y mm")
        return "Places on frame and inner ring: to the left; on hub, outer ring and grip: in the direction of "
               "rotation. Others: the part's own y";
    if (head == "z mm") return "Places on all but levers and sliders: height, or up. Others: the part's own z";
    return nullptr;
}

/// "left mm, azimuth °", in the unit that lengths are read in.
std::string head_words(std::string head, bool inches) {
    const std::size_t comma = head.find(", ");
    std::string first = in_reading_unit(head.substr(0, comma), inches);
    if (comma == std::string::npos) return first;
    return first + ", " + in_reading_unit(head.substr(comma + 2), inches);
}

/// A column's head; in more lines where it is wider than the column.
void draw_head(Screen& screen, const std::string& head) {
    const std::string words = wrapped(head_words(head, screen.settings.inches), ImGui::GetContentRegionAvail().x);
    const char* explained = axis_words(head);
    if (explained == nullptr) return ImGui::TextDisabled("%s", words.c_str());
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton(head.c_str(), ImGui::CalcTextSize(words.c_str()));
    text_at(*ImGui::GetWindowDrawList(), at, screen.inks().soft, words);
    tip(screen, explained);
}

float width_of_column(const Screen& screen, const Section& section, const std::string& head) {
    const float number = section.heads.size() >= 3 ? number_width_of_many : number_width;
    const bool with_steps = section.rows.front().cells.back().is_error && head.starts_with("error");
    return (with_steps ? number + 93 : number) * screen.scale();
}

/// Begins the table of a section with its heads; false where nothing of it is drawn. `names`: what its names have.
bool begin_section(Screen& screen, Section& section, bool more, float& names) {
    names = ImGui::GetContentRegionAvail().x;
    for (const std::string& head : section.heads)
        names -= width_of_column(screen, section, head) + 2 * ImGui::GetStyle().CellPadding.x;
    const int columns = 1 + static_cast<int>(section.heads.size());
    if (!ImGui::BeginTable(section.title.c_str(), columns)) return false;
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
    for (const std::string& head : section.heads)
        ImGui::TableSetupColumn(head.c_str(), ImGuiTableColumnFlags_WidthFixed, width_of_column(screen, section, head));
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    if (more) more_word(screen, section, names);
    for (const std::string& head : section.heads) {
        ImGui::TableNextColumn();
        draw_head(screen, head);
    }
    return true;
}

/// `only`: the rows of this part, else all.
void draw_section(Screen& screen, Bench& bench, Selection& selection, Ledger& ledger, Section& section,
                  const std::optional<draw::Part>& only = {}) {
    float names = 0;
    if (!begin_section(screen, section, section.more && !only, names)) return;
    const bool owners = some_name_is_too_long(section, only, names - name_indent * screen.scale());
    std::string owner;  // of the row before
    for (std::size_t r = 0; r < section.rows.size(); ++r) {
        const Row& row = section.rows[r];
        if (only && !stands_for(row, *only)) continue;
        const auto [whose, what] = parted_name(row.name);
        if (owners && whose != owner && !whose.empty()) draw_owner(screen, whose);
        owner = whose;
        ImGui::PushID(static_cast<int>(r));
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        const bool below = owners && !whose.empty();
        draw_name(screen, selection, row, below ? what : row.name, below ? 3 * name_indent : name_indent);
        for (const Cell& cell : row.cells) {
            ImGui::TableNextColumn();
            draw_cell(screen, bench, selection, ledger, entry(section, row, cell),
                      section.heads.size() >= 3 ? number_width_of_many : number_width);
        }
        ImGui::PopID();
    }
    ImGui::EndTable();
}

/// A link's error as a line with a knob, for a look at what it does.
void error_line(Screen& screen, Bench& bench, Selection& selection, const Entry& entry) {
    constexpr double most = 1;  // mm
    double value = entry.cell.read(bench.head());
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("%s, error", entry.row.name.c_str());
    ImGui::SameLine(0, 14 * screen.scale());
    const float width = std::min(220 * screen.scale(), ImGui::GetContentRegionAvail().x - 10 * screen.scale());
    const bool moved =
        slide_line(screen, entry.name + ", line", value, {-most, most, fine_step, 0, width, /*wheel=*/false});
    const std::string range = lengths_read("From 1.00 mm too short to 1.00 mm too long.", screen.settings.inches);
    tip(screen, (range + " Double click: back to zero.").c_str());
    if (moved) change(screen, bench, selection, entry, value, true);
    if (ImGui::IsItemDeactivated()) bench.end_run();
}

/// Below a list of links: the one that was clicked, by the turns in which a builder sets it.
void draw_turn_buttons(Screen& screen, Bench& bench, Selection& selection, const Section& section) {
    const head::Role kind = section.rows.front().part.role;
    if (!draw::is_link(kind)) return;
    if (!selection.selected || selection.selected->role != kind) return;
    const int index = selection.selected->index;
    const Row& row = section.rows[static_cast<std::size_t>(index)];
    const head::Description& head = bench.head();
    const head::Link& link = *head::link_of(head, *selection.selected);
    const bool turnbuckle = link.rod == head::Rod::turnbuckle, whole = link.end_faces == head::EndFaces::one_side;
    const double mm = turnbuckle ? studies::half_turn_mm(link) : studies::link_step(link).mm;
    const Entry length = entry(section, row, row.cells.front());
    const double now = length.cell.read(head);
    // What was read of the head is not looked at again: an edit puts another in its place.
    error_line(screen, bench, selection, entry(section, row, row.cells.back()));
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("%s, %s, %s", row.name.c_str(), !turnbuckle && whole ? "a whole turn" : "half a turn",
                        length_text(mm, screen.settings.inches).c_str());
    same_line_if_it_fits("Shorter      Longer", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, (section.title + ", turn shorter").c_str(), "Shorter",
                    turnbuckle ? "Half a turn of the body" : "A turn of one end"))
        change(screen, bench, selection, length, now - mm, true);
    ImGui::SameLine();
    if (word_button(screen, (section.title + ", turn longer").c_str(), "Longer",
                    turnbuckle ? "Half a turn of the body" : "A turn of one end"))
        change(screen, bench, selection, length, now + mm, true);
}

bool holds(const Section& section, const draw::Part& part) {
    return std::ranges::any_of(section.rows, [&](const Row& row) { return stands_for(row, part); });
}

}  // namespace

void draw_part_numbers(Screen& screen, Bench& bench, Selection& selection, Ledger& ledger) {
    if (!selection.selected) return;
    const std::optional<draw::Part> part = selection.selected;
    for (Section& section : ledger.sections) {
        if (!holds(section, *part)) continue;
        ImGui::PushID(section.title.c_str());
        ImGui::TextUnformatted(section.title.c_str());
        draw_section(screen, bench, selection, ledger, section, part);
        draw_turn_buttons(screen, bench, selection, section);
        draw_refusal(screen, bench, section.title + ", ");
        ImGui::PopID();
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    rule(screen, {ImGui::GetWindowPos().x, at.y}, {ImGui::GetWindowPos().x + ImGui::GetWindowWidth(), at.y});
}

namespace {

/// A part that was made just now: its section opens, with its form.
void unfold(Selection& selection, Ledger& ledger, const draw::Part& part) {
    selection.selected = part;
    selection.show_selected = true;
    for (Section& section : ledger.sections)
        if (section.more == part.role) section.open = section.more_open = true;
}

}  // namespace

void draw_ledger(Screen& screen, Bench& bench, View& view, Selection& selection, Ledger& ledger) {
    // Where none that is open holds the part that was clicked in the picture, the first that does opens.
    if (selection.show_selected && selection.selected) {
        const auto holding = [&](const Section& section) { return holds(section, *selection.selected); };
        const bool in_sight = std::ranges::any_of(
            ledger.sections, [&](const Section& section) { return section.open && holding(section); });
        const auto first = std::ranges::find_if(ledger.sections, holding);
        if (!in_sight && first != ledger.sections.end()) first->open = true;
    }
    draw_hanging(screen, bench);
    std::optional<draw::Part> added;
    for (Section& section : ledger.sections) {
        ImGui::PushID(section.title.c_str());
        const bool open = section_title(screen, "section " + section.title, section.title, section.open);
        if (open && section.adds) added = draw_new_parts(screen, bench, view, selection);
        if (open && !section.rows.empty()) {
            draw_section(screen, bench, selection, ledger, section);
            draw_turn_buttons(screen, bench, selection, section);
            draw_refusal(screen, bench, section.title + ", ");
            draw_more(screen, bench, view, selection, section);
        }
        ImGui::PopID();
        // The rows below tell of blades that may be gone now: they are made anew first.
        if (counts_of(bench.head()) != ledger.counts) break;
    }
    selection.show_selected = false;
    follow_parts(bench, selection, ledger);  // a blade may have come or gone
    if (added) unfold(selection, ledger, *added);
}

namespace {

/// A lever that no hand moves any more, or not so far, is let go.
void let_go_of_hands(Bench& bench) {
    std::erase_if(bench.controls.hands, [&](const auto& hand) {
        const auto lever = static_cast<std::size_t>(hand.first);
        if (lever >= bench.head().levers.size() || !bench.head().levers[lever].by_hand_deg) return true;
        const auto& range = *bench.head().levers[lever].by_hand_deg;
        return hand.second < range[0] || hand.second > range[1];
    });
}

}  // namespace

void follow_parts(Bench& bench, Selection& selection, Ledger& ledger) {
    // A row of an answer may name a part of another head.
    if (selection.selected && !has_part(bench.head(), *selection.selected)) selection.selected.reset();
    let_go_of_hands(bench);
    const PartCounts now = counts_of(bench.head()), opened = counts_of(bench.document().as_opened().head);
    ledger.as_opened_fits = now.counts == opened.counts;
    if (now == ledger.counts) return;
    const bool other_parts = now.counts != ledger.counts.counts;
    ledger.counts = now;
    std::vector<Section> rows = ledger_sections(bench.head());
    for (Section& section : rows)
        for (const Section& before : ledger.sections)
            if (before.title == section.title) {
                section.open = before.open;
                section.more_open = before.more_open;
            }
    ledger.sections = std::move(rows);
    if (!other_parts) return;
    // A head that comes back to the bench after a lesson stands as it stood.
    const auto& shown = bench.live().shown;
    if (!shown || counts_of(shown->description).counts != now.counts) {
        bench.controls.hands.clear();
        bench.follow();
        if (!bench.live().hangs) bench.forget_pose();
    }
    selection.hovered.reset();
    selection.pair.clear();
    selection.pick.reset();
}

}  // namespace swashwright::panels
