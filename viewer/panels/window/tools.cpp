#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viewer/document/own_files.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

constexpr double most_exaggeration = 20;

/// A thin rule between groups of tools; goes to the next row if the next group does not fit.
void next_group(State& state, float next_width) {
    const float gap = 9 * state.screen.scale();
    ImGui::SameLine(0, gap);
    if (ImGui::GetContentRegionAvail().x < next_width * state.screen.scale()) {
        ImGui::NewLine();
        return;
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddLine({at.x, at.y + 4}, {at.x, at.y + ImGui::GetFrameHeight() - 4},
                                        state.screen.inks().rule);
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + gap);
}

void file_tools(State& state) {
    const document::Document& document = state.bench.document();
    // In a page Ctrl+N is the browser's.
    if (word_button(state.screen, "new", "New",
                    document::files_are_apart() ? "A new head from a choice of layouts"
                                                : "A new head from a choice of layouts (Ctrl+N)"))
        ask(state, Dialog::new_head);
    ImGui::SameLine();
    if (word_button(state.screen, "open", "Open", "Open a head, or readings (Ctrl+O)")) ask(state, Dialog::open);
    ImGui::SameLine();
    // As wide without its mark, so that what stands beside it stays.
    const ImVec2 padding = ImGui::GetStyle().FramePadding;
    const float mark = document.unsaved() ? 0 : ImGui::CalcTextSize("Save *").x - ImGui::CalcTextSize("Save").x;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(padding.x + mark / 2, padding.y));
    if (word_button(state.screen, "save", document.unsaved() ? "Save *" : "Save", "Save the head in its file (Ctrl+S)"))
        state.save_wanted = true;
    ImGui::PopStyleVar();
    ImGui::SameLine();
    if (word_button(state.screen, "save as", "Save as", "Save the head as another file (Ctrl+Shift+S)"))
        ask(state, Dialog::save);
    ImGui::SameLine();
    if (word_button(state.screen, "build sheet", "Build sheet",
                    "Links in their true size, pitch, margins and boxes to tick, as a PDF file to print (Ctrl+P)",
                    !state.sheet_writer.running()))
        ask_for_sheet(state);
    if (document::files_are_apart()) {
        ImGui::SameLine();
        if (word_button(state.screen, "share", "Share",
                        "An address that opens this head, as it is now, in another browser")) {
            document::hand_out_address(scene::write(document.scene()));
            tell(state.screen,
                 "The address is on the clipboard and in the address bar. It holds the head as it is now.");
        }
    }
    next_group(state, 112);
    if (word_button(state.screen, "undo", "Undo", "Take back the last change of a number (Ctrl+Z)",
                    document.can_undo()))
        undo(state);
    ImGui::SameLine();
    if (word_button(state.screen, "redo", "Redo", "Do it again (Ctrl+Shift+Z)", document.can_redo())) redo(state);
}

void picture_tools(State& state) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Exaggerate");
    ImGui::SameLine(0, 14 * state.screen.scale());
    slide_line(state.screen, "exaggeration", state.view.exaggeration,
               {1, most_exaggeration, 1, 1, 56 * state.screen.scale()});
    tip(state.screen, "How much larger than true the blades' pitch differences are drawn. Numbers stay true.");
    ImGui::SameLine(0, 12 * state.screen.scale());
    ImGui::TextUnformatted(fmt::format("\xC3\x97{:.0f}", state.view.exaggeration).c_str());
    next_group(state, 335);
    if (word_button(state.screen, "blades", "Blades",
                    "Draw whole blades, or stubs so that the head fills the picture (B)", true,
                    state.view.whole_blades)) {
        state.view.whole_blades = !state.view.whole_blades;
        state.view.fit = Fit::moving;
    }
    ImGui::SameLine(0, 2);
    if (word_button(state.screen, "paths", "Paths", "Where the balls go in one turn, and the blade tips, magnified (T)",
                    true, state.view.paths))
        state.view.paths = !state.view.paths;
    ImGui::SameLine(0, 2);
    if (word_button(state.screen, "as meant", "Ideal", "The head as it would be without its errors, in dashes (V)",
                    true, state.view.as_meant))
        state.view.as_meant = !state.view.as_meant;
    ImGui::SameLine(0, 2);
    if (word_button(state.screen, "cut", "Cut", "Cut open through the shaft (X)", true, state.view.cut))
        state.view.cut = !state.view.cut;
    ImGui::SameLine(0, 2);
    if (word_button(state.screen, "labels", "Labels", "The name of every part in sight, in the margins (P)", true,
                    state.view.names))
        state.view.names = !state.view.names;
    ImGui::SameLine();
    if (word_button(state.screen, "night", "Night", "The dark sheet (N)", true, state.screen.settings.night))
        set_night(state.screen, !state.screen.settings.night);
}

void text_tools(State& state) {
    if (word_button(state.screen, "text", "Text",
                    "Larger text, and after the largest the smallest (Ctrl+plus, Ctrl+minus)"))
        next_text_scale(state.screen);
    ImGui::SameLine(0, 2);
    const bool inches = state.screen.settings.inches;
    if (word_button(state.screen, "inches", inches ? "in" : "mm",
                    inches ? "Lengths are read and typed in inches; press for millimetres. Files, the console and what "
                             "is printed stay in mm (I)"
                           : "Lengths are read and typed in millimetres; press for inches. \"0.492 in\" can be typed "
                             "either way"))
        set_inches(state.screen, !inches);
    ImGui::SameLine(0, 2);
    if (word_button(state.screen, "at the bench", "Bench",
                    "The set-up of this head, one step at a time in large letters: level, zero, ends, track (W)"))
        go_to_bench(state, BenchList::set_up);
    ImGui::SameLine(0, 2);
    if (word_button(state.screen, "about", "About", "Keys, safety, version (F1)")) ask(state, Dialog::about);
}

}  // namespace

void draw_tools(State& state, const Rect& place) {
    begin_panel("tools", place);
    // Narrow words, so that they keep to one row in a common window.
    const ImVec2 padding = ImGui::GetStyle().FramePadding;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0.65F * padding.x, padding.y));
    file_tools(state);
    next_group(state, 300);
    picture_tools(state);
    next_group(state, 202);
    text_tools(state);
    ImGui::PopStyleVar();
    state.tools_height = ImGui::GetCursorPosY() - ImGui::GetStyle().ItemSpacing.y + ImGui::GetStyle().WindowPadding.y;
    rule(state.screen, {place.x, place.bottom() - 1}, {place.right(), place.bottom() - 1});
    ImGui::End();
}

}  // namespace swashwright::panels
