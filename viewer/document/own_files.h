// Whose files they are. On a desktop the program reads and writes where the user does. In a page it has files of its
// own, which the user hands in and gets back as copies (viewer/browser).
#pragma once

#include <string>

namespace swashwright::document {

/// The user cannot reach the program's files but by what stands below.
bool files_are_apart();
/// Asks the user for files; they come in like what is let go over the window.
void ask_for_files();
/// Gives the user a copy of a file that was written, where its own place is out of reach. What is said of where it is.
std::string hand_out(const std::string& path);
/// An address that opens this scene, text and all, on the clipboard.
void hand_out_address(const std::string& scene_text);

}  // namespace swashwright::document
