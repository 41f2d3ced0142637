// The program in a page: one window, whose frames the browser calls for. page.js starts it and tells it what happens.
#include <GLFW/glfw3.h>
#include <emscripten.h>
#include <fmt/format.h>
#include <imgui_internal.h>
#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>

#include "viewer/document/data_folder.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/loop.h"
#include "viewer/panels/window/stage.h"
#include "viewer/panels/window/state.h"
#include "viewer/panels/window/window.h"

namespace swashwright::browser {

EM_JS(void, page_set_size, (int width, int height), { Browser.setCanvasSize(width, height); });
EM_JS(void, page_copied, (const char* text), { Module.page.copied(UTF8ToString(text)); });
EM_JS(void, page_fail, (const char* words), { Module.page.fail(UTF8ToString(words)); });

namespace {

using panels::Dialog;

struct Page {
    panels::Window window;
    panels::State state;
    panels::Stage stage;
    panels::Loop loop;
    std::string pasted;  // what the clipboard held when it was asked for

    Page(panels::Window opened, document::Document document, const std::string& report)
        : window(std::move(opened)),
          state(
              panels::make_state(std::move(document), document::settings_path(), report, document::recovery_folder())),
          loop(window.handle(), state, stage) {}
};
std::unique_ptr<Page> page;

/// The browser calls this at every picture of the screen.
void step() {
    const panels::Loop& loop = page->loop;
    if (!loop.busy() && !loop.news() && glfwGetTime() - loop.last() < loop.patience()) return;
    page->loop.frame();
    page->state.leave = false;  // a page is closed by the browser
}

std::string text_of(const std::string& path) {
    std::ifstream file(path);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

struct Start {
    document::Document document;
    std::string refused;  // why it is not what was asked for
};

/// The scene of the page's address, if it has one, else the first demo head.
scene::Result<Start> start_with(const std::string& given) {
    std::string refused;
    if (!given.empty()) {
        auto scene = scene::parse(text_of(given), "the head in the address");
        const std::string path = std::filesystem::absolute("head_from_address.toml").string();
        if (scene) return Start{document::Document::never_saved(std::move(*scene), path), {}};
        refused = scene.error().text();
    }
    return document::Document::open((document::scenes_folder() / "two_blade_600.toml").string())
        .map([&](document::Document document) {
            return Start{std::move(document), refused};
        });
}

/// `name`: of the lesson's file, without its ending.
void open_lesson(panels::State& state, const std::string& name) {
    state.sheet = panels::Sheet::lessons;
    panels::follow_sheet(state.bench, state.view, state.selection, state.lessons, true);  // reads them
    const auto found = std::ranges::find_if(state.lessons.files, [&](const panels::LessonFile& file) {
        return std::filesystem::path(file.path).stem() == name && file.lesson;
    });
    if (found == state.lessons.files.end())
        return panels::tell(state.screen, fmt::format("There is no lesson \"{}\"", name));
    panels::open_lesson(state.bench, state.view, state.selection, state.lessons,
                        static_cast<std::size_t>(found - state.lessons.files.begin()));
}

void use_clipboard() {
    ImGuiIO& io = ImGui::GetIO();
    io.SetClipboardTextFn = [](void*, const char* text) { page_copied(page->pasted.assign(text).c_str()); };
    io.GetClipboardTextFn = [](void*) { return page->pasted.c_str(); };
}

}  // namespace

extern "C" {

/// The canvas has another size, in the screen's own pixels.
EMSCRIPTEN_KEEPALIVE void swashwright_resized(int width, int height) {
    page_set_size(width, height);
}

/// A file has been handed in and stands in the page's memory now.
EMSCRIPTEN_KEEPALIVE void swashwright_handed_in(const char* path) {
    panels::State& state = page->state;
    if (state.dialogs.open == Dialog::compare) {
        state.dialogs.path = path;
        state.dialogs.choices = panels::files_beside(path);
    } else {
        page->loop.hand_in(path);
    }
    page->loop.wake();
}

/// The pointer, where it was last, is on the picture and not on a panel.
EMSCRIPTEN_KEEPALIVE int swashwright_on_picture() {
    const ImGuiWindow* under = ImGui::GetCurrentContext()->HoveredWindow;
    return under != nullptr && std::string_view(under->Name) == "picture" ? 1 : 0;
}

/// What the page has to say, in the picture's corner.
EMSCRIPTEN_KEEPALIVE void swashwright_tell(const char* words) {
    panels::tell(page->state.screen, words);
    page->loop.wake();
}

/// What is to be pasted by the Ctrl+V that follows.
EMSCRIPTEN_KEEPALIVE void swashwright_pasted(const char* text) {
    page->pasted = text;
}
}

}  // namespace swashwright::browser

/// SCENE OR "", LESSON OR "", REPORT OR "", WIDTH, HEIGHT, WHY THE ADDRESS HAS NO SCENE OR ""
int main(int, char** argv) {
    using namespace swashwright;
    ::umask(022);  // Emscripten's keeps files from their own owner
    auto start = browser::start_with(argv[1]);
    if (!start) return browser::page_fail(start.error().text().c_str()), 1;
    auto window = panels::Window::open(std::stoi(argv[4]), std::stoi(argv[5]), "");
    if (!window) return browser::page_fail(window.error().c_str()), 1;
    browser::page = std::make_unique<browser::Page>(std::move(*window), std::move(start->document), argv[3]);
    panels::State& state = browser::page->state;
    browser::use_clipboard();
    const std::string refused = *argv[6] ? argv[6] : start->refused;
    if (!refused.empty()) {
        panels::ask(state, panels::Dialog::open);
        state.dialogs.error = refused;
    }
    if (*argv[2]) browser::open_lesson(state, argv[2]);
    emscripten_set_main_loop(browser::step, 0, /*simulate_infinite_loop=*/false);
    return 0;
}
