// Swashwright: a console verb, or the window.
#include "viewer/console/console.h"
#include "viewer/panels/window/app.h"

int main(int argc, char** argv) {
    using namespace swashwright;
    // Console and panels do not know each other; they meet here.
    return console::run(argc, argv, [](const console::WindowWish& wish) {
        return panels::run_window({.scene_path = wish.scene, .report_path = wish.report, .frames = wish.frames});
    });
}
