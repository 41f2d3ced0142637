// A walk through the whole window without a screen: on every page, at two sizes of window and of text, nothing lies
// outside its panel, no two controls overlap, and no words are cut or lie on others.
#include "tests/viewer/walk.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <ctime>
#include <set>

#include "kinematics/head/change_parts.h"
#include "tests/viewer/linkage_files.h"
#include "tests/viewer/seen_text.h"

namespace swashwright::panels {
namespace {

using swashwright::testing::seen_text;

struct Look {
    float width, height;
    double scale;
    bool night = false;
    const char* scene = "two_blade_600.toml";
};

class Walk : public ::testing::Test {
protected:
    Walk() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
    }
    ~Walk() override { ImGui::DestroyContext(); }

    void look(State& state, const Look& look) {
        look_ = look;
        ImGui::GetIO().DisplaySize = {look.width, look.height};
        state.screen.settings.text_scale = look.scale;
        state.screen.settings.night = look.night;
        limit_text_scale(state.screen, look.width);
        apply_style(look.night, state.screen.scale());
        state.screen.fonts = load_fonts(*ImGui::GetIO().Fonts, state.screen.scale());
        ImGui::GetIO().Fonts->Build();
        letters_.emplace();
    }
    void draw(State& state, int frames) {
        for (int i = 0; i < frames; ++i) {
            ImGui::NewFrame();
            layout_ = draw_panels(state, ImGui::GetIO().DisplaySize);
            ImGui::Render();
            advance(state, 0.05, state.screen.clock + 0.05);
        }
    }

    static bool marks_picture(const std::string& id) {
        return id.starts_with("ball ") || id.starts_with("handle ") || id.starts_with("mark ");
    }
    static bool over_picture(const std::string& id) { return id.starts_with("part ") || id == "show all"; }

    void check(State& state, const std::string& name) {
        SCOPED_TRACE(
            fmt::format("{} at {:.0f} x {:.0f}, {:.0f} %", name, look_.width, look_.height, 100 * look_.scale));
        const auto text = seen_text(*letters_);
        std::vector<ImVec4> fields;
        for (const auto& [id, box] : state.screen.report.widgets())
            if (id.ends_with(", name") || id == "measure name") fields.push_back(box);
        std::vector<std::string> found = swashwright::testing::cut_words(text, fields);
        for (std::string& words : swashwright::testing::words_on_words(text)) found.push_back(std::move(words));
        const auto& widgets = state.screen.report.widgets();
        const auto outside = [](const ImVec4& box, float width, float height) {
            return box.x < -0.5F || box.y < -0.5F || box.z > width + 0.5F || box.w > height + 0.5F;
        };
        for (const char* word : {"open", "undo", "redo", "blades", "labels", "night", "text", "inches", "about", "fit",
                                 "view_link", "turn", "fold tray", "fold column",
                                 state.bench.head().kind == head::Kind::tail ? "rudder_number" : "collective_number"})
            if (!widgets.contains(word) && !(name.find("scrolled") != std::string::npos))
                found.push_back(std::string(word) + " is missing");
        for (const auto& [id, box] : widgets) {
            if (outside(box, look_.width, look_.height)) found.push_back(id + " is not in the window");
            if (name.starts_with("dialog")) continue;  // it lies on all the others
            if (marks_picture(id)) continue;
            for (const auto& [other, other_box] : widgets)
                if (id < other && id != "note" && other != "note" && !marks_picture(other) &&
                    !(over_picture(id) && other == "picture") && !(over_picture(other) && id == "picture") &&
                    box.x < other_box.z - 0.5F && other_box.x < box.z - 0.5F && box.y < other_box.w - 0.5F &&
                    other_box.y < box.w - 0.5F)
                    found.push_back(fmt::format("{} and {} overlap", id, other));
        }
        for (const std::string& what : found)
            if (told_.insert(what).second) ADD_FAILURE() << what;
    }

    /// Checks what is in sight, and what comes into sight as lists are scrolled.
    void check_scrolled(State& state, const std::string& name) {
        draw(state, 3);
        if (name.empty()) return;
        check(state, name);
        for (int turn = 0; turn < 12; ++turn) {
            bool more = false;
            for (ImGuiWindow* window : ImGui::GetCurrentContext()->Windows) {
                if (!window->WasActive || window->Hidden || window->Scroll.y >= window->ScrollMax.y) continue;
                ImGui::SetScrollY(
                    window, std::min(window->ScrollMax.y, window->Scroll.y + 0.8F * window->InnerRect.GetHeight()));
                more = true;
            }
            if (!more) break;
            draw(state, 2);
            check(state, fmt::format("{}, scrolled {}", name, turn + 1));
        }
        for (ImGuiWindow* window : ImGui::GetCurrentContext()->Windows) ImGui::SetScrollY(window, 0);
        if (std::getenv("SWASHWRIGHT_WALK_TIMES"))
            fmt::print("{} {:.2f}\n", name, static_cast<double>(std::clock()) / CLOCKS_PER_SEC);
    }

    Look look_{};
    Layout layout_;
    std::optional<swashwright::testing::Letters> letters_;
    std::set<std::string> told_;
};

TEST_F(Walk, NothingIsCutOrOverlapsOnAnyPage) {
    State state = swashwright::testing::state_to_walk("two_blade_600.toml");
    look(state, {1280, 800, 1});
    swashwright::testing::answer_all(state, [&] { draw(state, 1); });
    for (const Look& now :
         {Look{1280, 800, 1}, Look{1280, 800, 1.5}, Look{1600, 1000, 1}, Look{1600, 1000, 1.5, /*night=*/true}}) {
        look(state, now);
        swashwright::testing::walk(state, [&](const std::string& name) { check_scrolled(state, name); });
    }
}

TEST_F(Walk, NothingIsCutOrOverlapsOnTheFormsOfAnyLinkage) {
    for (const std::string& path : swashwright::testing::linkage_files()) {
        SCOPED_TRACE(path);
        State state = state_of(path);
        state.screen.settings.camera_moves = false;
        for (const Look& now : {Look{1280, 800, 1}, Look{1280, 800, 1.5}, Look{1600, 1000, 1.5, /*night=*/true}}) {
            look(state, now);
            swashwright::testing::visit_forms(state, [&](const std::string& name) { check_scrolled(state, name); });
            swashwright::testing::visit_every_place(state,
                                                    [&](const std::string& name) { check_scrolled(state, name); });
            for (Section& section : state.ledger.sections) section.open = section.adds;
            check_scrolled(state, "new parts");
            // Half way through putting in a lever, with a ball asked for.
            scene::Scene next = state.bench.document().scene();
            next.head = head::with_lever_added(next.head)->head;
            ASSERT_TRUE(try_build(state.screen, state.bench, std::move(next), "new parts, a lever"));
            state.screen.entry.assumed = "Lever 1 is taken to turn about a pivot on the frame, left of the shaft.";
            state.selection.pick = BallPick{"link 1, ends 1", "link 1's lower end", {}};
            check_scrolled(state, "put together");
            state.selection.pick.reset();
            undo(state);
            state.screen.notice.clear();  // it lies over the picture for a while
            ask(state, Dialog::new_head);
            check_scrolled(state, "dialog new head");
            state.dialogs.open = Dialog::none;
            draw(state, 3);
        }
    }
}

}  // namespace
}  // namespace swashwright::panels
