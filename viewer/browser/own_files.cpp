// The page's files are in its memory and, below /kept, in the browser's storage. page.js hands them in and out.
#include "viewer/document/own_files.h"

#include <emscripten.h>

#include <filesystem>

namespace swashwright::document {

EM_JS(void, page_ask_for_files, (), { Module.page.askForFiles(); });
EM_JS(void, page_hand_out, (const char* path), { Module.page.handOut(UTF8ToString(path)); });
EM_JS(int, page_stores, (), { return Module.page.stores() ? 1 : 0; });
EM_JS(void, page_hand_out_address, (const char* text), { Module.page.handOutAddress(UTF8ToString(text)); });

bool files_are_apart() {
    return true;
}

void ask_for_files() {
    page_ask_for_files();
}

std::string hand_out(const std::string& path) {
    page_hand_out(path.c_str());
    return std::filesystem::path(path).filename().string() +
           (page_stores() != 0 ? ": it stays in this browser, and a copy is downloaded"
                               : ": a copy is downloaded; this page keeps nothing in the browser");
}

void hand_out_address(const std::string& scene_text) {
    page_hand_out_address(scene_text.c_str());
}

}  // namespace swashwright::document
