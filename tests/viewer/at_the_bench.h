// The list of steps over the whole window, with keys and letters as a test gives them; settings in a file of its own.
#pragma once

#include <GLFW/glfw3.h>

#include <filesystem>
#include <string>

#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/window/shortcuts.h"

namespace swashwright::panels {

class AtTheBench : public HeldHead {
protected:
    AtTheBench() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml")) {
        state_.screen.settings_path = file_;
        std::filesystem::remove(file_);
    }
    void press(int key, int times = 1) {
        for (int i = 0; i < times; ++i) press_key(state_, key, 0, false), frame();
    }
    void type(const char* letters) {
        for (; *letters; ++letters) ImGui::GetIO().AddInputCharacter(static_cast<unsigned>(*letters));
        frame();
    }
    /// As the next start of the program has it.
    void start_the_program_again() {
        state_.at_bench = {};
        state_.screen.settings = state_.screen.remembered = document::load_settings(file_);
    }
    void open_scene(const document::Document& document) { show_document(state_, document), frame(); }
    const studies::BenchStep& step() const { return state_.at_bench.steps[state_.at_bench.at]; }
    document::HeadKept kept() const {
        const auto& heads = state_.screen.settings.heads;
        const auto found = heads.find(document::head_key(state_.bench.document(), state_.screen.unsaved_key));
        return found == heads.end() ? document::HeadKept{} : found->second;
    }
    void go_to_a_reading() {
        for (int i = 0; i < 100 && !step().reading; ++i) press(GLFW_KEY_SPACE);
        ASSERT_TRUE(step().reading);
    }

    // Tests run side by side.
    std::string file_ =
        ::testing::TempDir() + "/at_bench_" + ::testing::UnitTest::GetInstance()->current_test_info()->name() + ".json";
};

}  // namespace swashwright::panels
