#include "viewer/panels/base/typing.h"

#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cstring>
#include <utility>

#include "viewer/panels/base/screen.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

ImGuiInputTextState* typed_in() {
    if (ImGui::GetCurrentContext() == nullptr) return nullptr;
    const ImGuiID id = ImGui::GetActiveID();
    return id != 0 ? ImGui::GetInputTextState(id) : nullptr;
}

/// What was typed before speaks of places in another text.
void forget_typing(ImGuiInputTextState& typed) {
    auto& undo = typed.Stb.undostate;
    undo.undo_point = 0;
    undo.undo_char_point = 0;
    undo.redo_point = STB_TEXTEDIT_UNDOSTATECOUNT;
    undo.redo_char_point = STB_TEXTEDIT_UNDOCHARCOUNT;
}

}  // namespace

TypedField* Typing::of(ImGuiID id) {
    for (TypedField* field : {&now, &last})
        if (id != 0 && field->id == id) return field;
    return nullptr;
}

std::string text_of(Screen& screen, ImGuiID id, const std::string& stands) {
    const TypedField* field = screen.typing.of(id);
    return field ? field->text : stands;
}

std::optional<std::string> typed_text(Screen& screen, const std::string& text, const std::string& stands) {
    Typing& typing = screen.typing;
    const ImGuiID id = ImGui::GetItemID();
    if (ImGui::IsItemActive()) {
        if (typing.now.id != id) {
            typing.last = std::exchange(typing.now, {id, text, stands, {}});
            if (ImGuiInputTextState* typed = typed_in()) forget_typing(*typed);  // of the last time here
        }
        typing.now.text = text;
        if (typing.now.stands == stands) return std::nullopt;
        const bool untouched = text == std::exchange(typing.now.stands, stands);
        if (untouched) retype(screen, stands);
        return std::nullopt;
    }
    TypedField* found = typing.of(id);
    if (!found) return std::nullopt;
    const TypedField field = std::exchange(*found, {});
    if (!ImGui::IsItemDeactivated() || given_up() || text == field.stands) return std::nullopt;
    return text;
}

void retype(Screen& screen, const std::string& text) {
    screen.typing.now.text = screen.typing.now.stands = text;
    ImGuiInputTextState* typed = typed_in();
    if (!typed) return;
    const int room = static_cast<int>(text.size()) + 1;
    typed->TextA.resize(std::max(typed->TextA.Size, room));
    std::memcpy(typed->TextA.Data, text.c_str(), text.size() + 1);
    typed->TextW.resize(std::max(typed->TextW.Size, room));
    typed->CurLenW = ImTextStrFromUtf8(typed->TextW.Data, typed->TextW.Size, text.c_str(), nullptr);
    typed->CurLenA = static_cast<int>(text.size());
    typed->TextAIsValid = true;
    forget_typing(*typed);
    typed->SelectAll();
}

bool given_up() {
    return ImGui::IsItemDeactivated() && ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[ImGuiKey_Escape], false);
}

bool typing_can_undo() {
    const ImGuiInputTextState* typed = typed_in();
    return typed && typed->GetUndoAvailCount() > 0;
}

bool typing_can_redo() {
    const ImGuiInputTextState* typed = typed_in();
    return typed && typed->GetRedoAvailCount() > 0;
}

void refuse_text(Screen& screen, const std::string& text, const std::string& stands, bool length) {
    const std::string stays = stands.empty() ? "" : fmt::format(" {} stays.", stands);
    screen.typing.not_taken = {ImGui::GetItemID(),
                               fmt::format("\"{}\" is not a number.{} Type one such as {}.", text, stays,
                                           length ? "12.5, 12.5 mm or 0.492 in" : "0.3"),
                               stands, screen.revision};
}

void draw_not_taken(Screen& screen, const std::string& stands) {
    Typing::NotTaken& not_taken = screen.typing.not_taken;
    if (not_taken.id != ImGui::GetItemID() || not_taken.id == 0) return;
    if (ImGui::IsItemActive() || stands != not_taken.stands || screen.revision != not_taken.revision) {
        not_taken = {};
        return;
    }
    if (!ImGui::IsItemVisible() || screen.covered) return;
    const float scale = screen.scale(), pad = 8 * scale;
    const std::string words = wrapped(not_taken.words, 290 * scale);
    const ImVec2 text = ImGui::CalcTextSize(words.c_str()), window = ImGui::GetIO().DisplaySize;
    const float mark = 20 * scale;
    const ImVec2 size{text.x + mark + 2 * pad, text.y + 2 * pad};
    const ImVec2 field_low = ImGui::GetItemRectMin(), field_high = ImGui::GetItemRectMax();
    const Rect note = beside_item({field_low.x, field_low.y, field_high.x - field_low.x, field_high.y - field_low.y},
                                  size.x, size.y, window.x - 4, window.y - 4, 3 * scale);
    const ImVec2 low{note.x, note.y}, high{note.right(), note.bottom()};
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetForegroundDrawList();
    list.AddRectFilled(low, high, ink.panel);
    list.AddRect(low, high, ink.trouble);
    draw_trouble_mark(list, {low.x + pad, low.y + pad}, screen);
    text_at(list, {low.x + pad + mark, low.y + pad}, ink.ink, words);
    screen.report.rectangle("not taken", low, high);
}

}  // namespace swashwright::panels
