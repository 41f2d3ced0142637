#include "viewer/panels/questions/compare_sheet.h"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <optional>
#include <utility>
#include <variant>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/questions/answer_table.h"

namespace swashwright::panels {

namespace {

using With = CompareSheet::With;

std::string words(const CompareSheet& sheet) {
    switch (sheet.with) {
        case With::opened:
            return "as opened";
        case With::kept:
            return "as kept";
        case With::log:
            return sheet.log.chosen_words();
        case With::file:
            break;
    }
    return "the other";
}

void choose(Screen& screen, const Bench& bench, CompareSheet& sheet, Wishes& wishes) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Against");
    ImGui::SameLine();
    if (word_button(screen, "compare opened", "as opened", "The head as it was opened or last saved", true,
                    sheet.with == With::opened))
        sheet.with = With::opened;
    ImGui::SameLine(0, 2);
    if (word_button(screen, "compare kept", "as kept", "The head as it stood when it was kept", sheet.kept.has_value(),
                    sheet.with == With::kept))
        sheet.with = With::kept;
    same_line_if_it_fits("another file", 2);
    if (word_button(screen, "compare file", "another file", "Choose a head file", true, sheet.with == With::file))
        wishes.push_back(Wish::compare_with_file);
    same_line_if_it_fits("the log", 2);
    if (word_button(screen, "compare log", "the log", "What this head was on which day, in a file beside its own", true,
                    sheet.with == With::log))
        sheet.with = With::log;
    same_line_if_it_fits("Keep to compare", 18 * screen.scale());
    if (word_button(screen, "compare keep", "Keep to compare", "Keeps the head as it stands, to compare with later")) {
        sheet.kept = bench.head();
        sheet.with = With::kept;
        ++sheet.changed;
    }
    if (sheet.with == With::file) ImGui::TextDisabled("The other: %s", sheet.file_name.c_str());
}

void renew(const Bench& bench, CompareSheet& sheet) {
    const CompareSheet::Stamp now{sheet.with, bench.document().revision(), sheet.changed, bench.controls.sticks};
    const head::Description* other = compared_with(bench, sheet);
    if (now == sheet.stamp || !other) return;
    sheet.stamp = now;
    const bool held = sheet.with == With::log && sheet.log.held;
    const head::Description& after = held ? sheet.log.states.states[*sheet.log.held].scene.head : bench.head();
    sheet.answer = on_screen(studies::answer(studies::compare(*other, after, bench.controls.sticks), words(sheet),
                                             held ? scene::state_words(sheet.log.states, *sheet.log.held) : "now"));
}

/// What a row says changed; nothing where only one head has it.
std::optional<double> change_of(const studies::Table& table, std::size_t row) {
    const double* change = std::get_if<double>(&table.rows[row].back());
    return change ? std::optional(*change) : std::nullopt;
}

void leave_out_what_stays(studies::Table& table, double seen) {
    studies::Table kept = table;
    kept.rows.clear();
    kept.parts.clear();
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        const auto change = change_of(table, r);
        if (change && std::abs(*change) < seen) continue;
        kept.rows.push_back(std::move(table.rows[r]));
        kept.parts.push_back(std::move(table.parts[r]));
    }
    if (kept.rows.size() < table.rows.size()) kept.title += "; what stays is left out";
    table = std::move(kept);
}

}  // namespace

studies::Answer on_screen(studies::Answer compared) {
    constexpr double seen = 0.005;  // in two decimals
    for (studies::Table& table : compared.tables) {
        const bool of_numbers = table.key == "numbers";
        bool small = false;
        for (std::size_t r = 0; r < table.rows.size(); ++r)
            if (const auto change = change_of(table, r)) small = small || std::abs(*change) < seen;
        for (studies::Column& column : table.columns) {
            if (column.decimals == 3 && !(of_numbers && small)) column.decimals = 2;
            if (column.key != "change") column.sign = false;  // of heights, too
        }
        if (!of_numbers) leave_out_what_stays(table, seen);
    }
    return compared;
}

const head::Description* compared_with(const Bench& bench, const CompareSheet& sheet) {
    switch (sheet.with) {
        case With::opened:
            return &bench.document().as_opened().head;
        case With::kept:
            return sheet.kept ? &*sheet.kept : nullptr;
        case With::log:
            return sheet.log.chosen ? &sheet.log.states.states[*sheet.log.chosen].scene.head : nullptr;
        case With::file:
            break;
    }
    return sheet.file ? &*sheet.file : nullptr;
}

tl::expected<void, std::string> compare_with_file(CompareSheet& sheet, const std::string& path) {
    auto other = scene::load(path);
    if (!other) return tl::unexpected(other.error().text());
    sheet.file = std::move(other->head);
    sheet.file_name = std::filesystem::path(path).filename().string();
    sheet.with = With::file;
    ++sheet.changed;
    return {};
}

void draw_compare(Screen& screen, Bench& bench, Selection& selection, CompareSheet& sheet, Wishes& wishes) {
    choose(screen, bench, sheet, wishes);
    if (sheet.with == With::log && draw_head_log(screen, bench, sheet.log)) ++sheet.changed;
    if (!compared_with(bench, sheet)) return;
    renew(bench, sheet);
    const Inks ink = screen.inks();
    paragraph(ink.soft, fmt::format("In dashes in the picture: the {}, at the same sticks.",
                                    sheet.with == With::file ? "other head" : "head " + words(sheet)));
    paragraph(ink.ink, lengths_read(sheet.answer.text, screen.settings.inches));
    screen.report.item("compare answer");
    draw_tables(screen, bench, selection, sheet.answer, "compare", sheet.whole);
}

}  // namespace swashwright::panels
