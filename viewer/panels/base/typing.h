// Fields that are typed in: what was typed counts when the keyboard leaves the field, Escape gives back what stood
// there, and a field in which nothing has been typed follows what changes behind it.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <optional>
#include <string>

namespace swashwright::panels {

struct Screen;

/// A field that has the keyboard, or had it until a moment ago.
struct TypedField {
    ImGuiID id = 0;
    std::string text;              // in the field
    std::string stands;            // what it shows where nothing is typed
    std::optional<double> before;  // of a number: as the keyboard came
};

struct Typing {
    TypedField now;
    TypedField last;  // drawn after `now` and left for it: it has not been looked at since

    /// Words that could not be taken for a number, shown at their field while that is so.
    struct NotTaken {
        ImGuiID id = 0;
        std::string words, stands;
        std::uint64_t revision = 0;  // of the document
    } not_taken;

    /// None if the field has not had the keyboard.
    TypedField* of(ImGuiID id);
};

/// The text to hand to ImGui for a field where `stands` stands.
std::string text_of(Screen& screen, ImGuiID id, const std::string& stands);
/// Call after the field was drawn, with the text that ImGui gave back. Gives what was typed on the frame in which the
/// keyboard leaves the field, if it is another text and was not given up by Escape.
std::optional<std::string> typed_text(Screen& screen, const std::string& text, const std::string& stands);
/// Rewrites the field that is being typed in, all of it selected.
void retype(Screen& screen, const std::string& text);
/// Escape was pressed, and the keyboard left the field that was drawn last.
bool given_up();
/// Ctrl+Z, or with Shift too, has something to do in the field that is being typed in.
bool typing_can_undo();
bool typing_can_redo();

/// Says at the field drawn last that what was typed is no number, until another is taken.
void refuse_text(Screen& screen, const std::string& text, const std::string& stands, bool length);
/// Draws that, if it is of the field drawn last and still so.
void draw_not_taken(Screen& screen, const std::string& stands);

}  // namespace swashwright::panels
