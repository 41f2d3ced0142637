// Keys that do something wherever the pointer is, and the words for them.
#pragma once

#include <span>

namespace swashwright::panels {

struct State;

struct Shortcut {
    int key = 0;        // GLFW_KEY_...
    int mods = 0;       // GLFW_MOD_..., without locks
    const char* keys;   // in words: "Ctrl+O"; empty where another line says it already
    const char* words;  // what it does
    void (*act)(State&);
};

std::span<const Shortcut> shortcuts();
/// In a page, where the program does not get it.
bool kept_by_browser(const Shortcut& shortcut);
/// Does what a pressed key stands for, if anything. Keys that type text are ignored while `typing`.
void press_key(State& state, int key, int mods, bool typing);
/// Does what a pressed key stands for where the keyboard's frame is concerned (base/keyboard.h). False if it is not;
/// then it means what it does without one.
bool press_frame_key(State& state, int key, int mods, bool typing);

}  // namespace swashwright::panels
