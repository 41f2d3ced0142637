#include "viewer/panels/questions/compare_sheet.h"

#include <fmt/format.h>

#include <filesystem>

#include "viewer/panels/questions/answer_table.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

using With = CompareSheet::With;

const char* words(const CompareSheet& sheet) {
    switch (sheet.with) {
        case With::opened:
            return "as opened";
        case With::kept:
            return "set aside";
        case With::file:
            break;
    }
    return "the other";
}

void choose(State& state) {
    CompareSheet& sheet = state.compare;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Against");
    ImGui::SameLine();
    if (word_button(state, "compare opened", "as opened", "The head as it was opened or last saved", true,
                    sheet.with == With::opened))
        sheet.with = With::opened;
    ImGui::SameLine(0, 2);
    if (word_button(state, "compare kept", "set aside", "The head as it stood when it was set aside",
                    sheet.kept.has_value(), sheet.with == With::kept))
        sheet.with = With::kept;
    ImGui::SameLine(0, 2);
    if (word_button(state, "compare file", "another file", "Choose a scene file", true, sheet.with == With::file))
        ask(state, Dialog::compare);
    same_line_if_it_fits("Set this aside", 18 * state.scale());
    if (word_button(state, "compare keep", "Set this aside", "Keeps the head as it stands, to compare with later")) {
        sheet.kept = state.document.head();
        sheet.with = With::kept;
        ++sheet.changed;
    }
    if (sheet.with == With::file) ImGui::TextDisabled("The other: %s", sheet.file_name.c_str());
}

void renew(State& state) {
    CompareSheet& sheet = state.compare;
    const CompareSheet::Stamp now{sheet.with, state.document.revision(), sheet.changed, state.scenes_opened,
                                  state.controls.sticks};
    const head::Description* other = compared_with(state);
    if (now == sheet.stamp || !other) return;
    sheet.stamp = now;
    sheet.answer =
        studies::answer(studies::compare(*other, state.document.head(), state.controls.sticks), words(sheet), "now");
}

}  // namespace

const head::Description* compared_with(const State& state) {
    const CompareSheet& sheet = state.compare;
    switch (sheet.with) {
        case With::opened:
            return &state.document.as_opened().head;
        case With::kept:
            return sheet.kept ? &*sheet.kept : nullptr;
        case With::file:
            break;
    }
    return sheet.file ? &*sheet.file : nullptr;
}

void compare_with_file(State& state, const std::string& path) {
    auto other = document::load_plain(path);
    if (!other) {
        state.dialog_error = other.error().text();
        return;
    }
    state.compare.file = std::move(other->head);
    state.compare.file_name = std::filesystem::path(path).filename().string();
    state.compare.with = With::file;
    ++state.compare.changed;
    state.dialog = Dialog::none;
}

void draw_compare(State& state) {
    choose(state);
    renew(state);
    CompareSheet& sheet = state.compare;
    const Inks ink = state.inks();
    paragraph(ink.soft, fmt::format("In dashes in the picture: the head {}, at the same sticks.", words(sheet)));
    paragraph(ink.ink, sheet.answer.text);
    state.report.item("compare answer");
    draw_tables(state, sheet.answer, "compare", sheet.whole);
}

}  // namespace swashwright::panels
