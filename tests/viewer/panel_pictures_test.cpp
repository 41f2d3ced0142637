// Pictures of the panels against ones that were looked at and found good, in grey and half as large as on the screen,
// at two sizes of window and of text. Of most pages only the column, because the rest is that of the first picture.
// The head itself is left out: it has pictures of its own. They are drawn in B612 and skipped where that is missing.
// To make them anew (and then look at them): SWASHWRIGHT_MAKE_GOLDEN=1 viewer_tests --gtest_filter='PanelPictures.*'
// To see each page whole, in colour and as large as on the screen: the same with SWASHWRIGHT_PICTURES_IN=FOLDER.
#include <backends/imgui_impl_opengl3.h>
#include <epoxy/gl.h>
#include <gtest/gtest.h>
#include <png.h>

#include <cmath>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <optional>
#include <set>
#include <string>

#include "kinematics/head/change_parts.h"
#include "tests/viewer/walk.h"
#include "viewer/draw/base/font.h"
#include "viewer/draw/gl/offscreen.h"
#include "viewer/draw/picture/png.h"

namespace swashwright::panels {
namespace {

struct Grey {
    int width = 0, height = 0;
    std::vector<std::uint8_t> level = {};
};

/// Half as large, in 16 levels: small files in which lettering can still be read.
Grey halved(const std::vector<std::uint8_t>& rgb, int width, int height) {
    Grey out{width / 2, height / 2};
    out.level.resize(static_cast<std::size_t>(out.width * out.height));
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            int sum = 0;
            for (const int dy : {0, 1})
                for (const int dx : {0, 1})
                    for (const int channel : {0, 1, 2})
                        sum += rgb[static_cast<std::size_t>(3 * ((2 * y + dy) * width + 2 * x + dx) + channel)];
            out.level[static_cast<std::size_t>(y * out.width + x)] =
                static_cast<std::uint8_t>(17 * ((sum / 12 + 8) / 17));
        }
    return out;
}

/// The part of a picture in which a place of the screen, twice as large, is seen.
Grey cut_out(const Grey& all, const Rect& place) {
    const int x = static_cast<int>(place.x) / 2, y = static_cast<int>(place.y) / 2;
    Grey out{all.width - x, static_cast<int>(place.bottom()) / 2 - y};
    for (int line = y; line < y + out.height; ++line) {
        const auto row = all.level.begin() + line * all.width;
        out.level.insert(out.level.end(), row + x, row + all.width);
    }
    return out;
}

png_image png_of(const Grey& grey) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.format = PNG_FORMAT_GRAY;
    image.width = static_cast<png_uint_32>(grey.width);
    image.height = static_cast<png_uint_32>(grey.height);
    return image;
}

std::optional<Grey> read(const std::string& path) {
    png_image image = png_of({});
    if (png_image_begin_read_from_file(&image, path.c_str()) == 0) return std::nullopt;
    image.format = PNG_FORMAT_GRAY;
    Grey out{static_cast<int>(image.width), static_cast<int>(image.height)};
    out.level.resize(PNG_IMAGE_SIZE(image));
    if (png_image_finish_read(&image, nullptr, out.level.data(), 0, nullptr) == 0) return std::nullopt;
    return out;
}

void write(const Grey& grey, const std::string& path) {
    png_image image = png_of(grey);
    EXPECT_NE(png_image_write_to_file(&image, path.c_str(), 0, grey.level.data(), 0, nullptr), 0) << path;
}

/// The largest difference of the means of blocks of 8 x 8 points; levels from 0 to 255.
double difference(const Grey& a, const Grey& b) {
    if (a.width != b.width || a.height != b.height) return 255;
    constexpr int side = 8;
    double most = 0;
    for (int top = 0; top < a.height; top += side)
        for (int left = 0; left < a.width; left += side) {
            double sum = 0, count = 0;
            for (int y = top; y < std::min(top + side, a.height); ++y)
                for (int x = left; x < std::min(left + side, a.width); ++x, ++count) {
                    const auto i = static_cast<std::size_t>(y * a.width + x);
                    sum += static_cast<double>(a.level[i]) - b.level[i];
                }
            most = std::max(most, std::abs(sum) / count);
        }
    return most;
}

// One letter more or less changes a block by 20 and more; a renderer that softens edges otherwise, by less than half.
constexpr double most_difference = 12;

class PanelPictures : public ::testing::Test {
protected:
    void SetUp() override {
        if (draw::font_path().find("B612") == std::string::npos) GTEST_SKIP() << "B612 is not installed";
    }
    void TearDown() override { close(); }
    void close() {
        if (!surface_) return;
        ImGui_ImplOpenGL3_Shutdown();
        ImGui::DestroyContext();
        surface_.reset();
    }

    /// False where nothing can be drawn without a window.
    bool open(State& state, int width, int height, double text_scale, bool night) {
        auto surface = draw::Offscreen::open(width, height);
        if (!surface) return false;
        surface_.emplace(std::move(*surface));
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
        state.screen.settings.text_scale = text_scale;
        state.screen.settings.night = night;
        limit_text_scale(state.screen, io.DisplaySize.x);
        apply_style(night, state.screen.scale());
        state.screen.fonts = load_fonts(*io.Fonts, state.screen.scale());
        ImGui_ImplOpenGL3_Init("#version 330 core");
        return true;
    }
    void draw(State& state) {
        if (state.screen.large_px > 0 && state.screen.fonts.large == nullptr) {
            state.screen.fonts = load_fonts(*ImGui::GetIO().Fonts, state.screen.scale(), state.screen.large_px);
            ImGui_ImplOpenGL3_DestroyFontsTexture();
            ImGui_ImplOpenGL3_CreateFontsTexture();
        }
        ImGui_ImplOpenGL3_NewFrame();
        ImGui::NewFrame();
        layout_ = draw_panels(state, ImGui::GetIO().DisplaySize);
        ImGui::Render();
        advance(state, 0.05, state.screen.clock + 0.05);
    }
    Grey picture(const State& state, bool whole) const {
        const Grey all = halved(rgb(state), surface_->width(), surface_->height());
        return whole ? all : cut_out(all, layout_.column);
    }
    std::vector<std::uint8_t> rgb(const State& state) const {
        const auto clear = [&](ImU32 colour, const Rect& place) {
            const ImVec4 c = ImGui::ColorConvertU32ToFloat4(colour);
            glEnable(GL_SCISSOR_TEST);
            glScissor(static_cast<int>(place.x), surface_->height() - static_cast<int>(place.bottom()),
                      static_cast<int>(place.width), static_cast<int>(place.height));
            glClearColor(c.x, c.y, c.z, 1);
            glClear(GL_COLOR_BUFFER_BIT);
            glDisable(GL_SCISSOR_TEST);
        };
        const Inks ink = state.screen.inks();
        clear(ink.panel, {0, 0, static_cast<float>(surface_->width()), static_cast<float>(surface_->height())});
        clear(ink.paper, layout_.tools);
        clear(ink.paper, layout_.picture);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        return surface_->read();
    }
    void write_whole(const State& state, const std::string& folder, const std::string& name) const {
        const auto bytes = draw::png_bytes({surface_->width(), surface_->height(), rgb(state)});
        ASSERT_TRUE(bytes) << bytes.error();
        const std::filesystem::path path = folder + "/" + name + ".png";
        std::filesystem::create_directories(path.parent_path());
        std::ofstream(path, std::ios::binary) << *bytes;
    }
    void look(State& state, std::string name, const std::string& before) {
        for (Question& question : state.questions) {
            question.show = question.open ? frames_to_show : 0;
            question.slow = question.study->takes_long;  // not as slow as it was on a machine at other work
        }
        for (int i = 0; i < 8; ++i) draw(state);
        for (int tries = 0; state.places.at_work && tries < 1000; ++tries) {  // the fit of calliper readings
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
            draw(state);
        }
        for (int i = 0; i < 2; ++i) draw(state);
        if (name.empty()) return;
        std::ranges::replace(name, ' ', '_');
        name = before + name;
        looked_at_.insert(name + ".png");
        if (const char* folder = std::getenv("SWASHWRIGHT_PICTURES_IN")) write_whole(state, folder, name);
        const std::string path = std::string(SWASHWRIGHT_TEST_DATA "/golden/panels/") + name + ".png";
        const bool whole = name == before + "parts" || name.starts_with(before + "dialog") ||
                           name.starts_with(before + "bench") || before.starts_with("linkages");
        const Grey now = picture(state, whole);
        if (std::getenv("SWASHWRIGHT_MAKE_GOLDEN") != nullptr) {
            std::filesystem::create_directories(std::filesystem::path(path).parent_path());
            return write(now, path);
        }
        const auto golden = read(path);
        if (!golden) {
            ADD_FAILURE() << "no picture " << path;
            return;
        }
        const double off = difference(*golden, now);
        EXPECT_LT(off, most_difference) << name;
        if (off >= most_difference) {
            std::ranges::replace(name, '/', '_');
            write(now, name + ".drawn.png");
        }
    }

    /// A picture that nothing is compared with any more guards nothing.
    void expect_all_looked_at(const std::string& before) const {
        const std::string folder = SWASHWRIGHT_TEST_DATA "/golden/panels/" + before;
        for (const auto& entry : std::filesystem::directory_iterator(folder)) {
            const std::string name = before + entry.path().filename().string();
            EXPECT_TRUE(looked_at_.contains(name)) << name << " is of no page";
        }
    }

    Layout layout_;
    std::optional<draw::Offscreen> surface_;
    std::set<std::string> looked_at_;
};

TEST_F(PanelPictures, OfEveryPageAreTheOnesLookedAt) {
    State state = swashwright::testing::state_to_walk("two_blade_600.toml");
    struct Screen {
        const char* name;
        int width, height;
        double text_scale;
        bool night;
    };
    for (const Screen& screen :
         {Screen{"small/", 1280, 800, 1, false}, Screen{"small_large_text/", 1280, 800, 1.5, false},
          Screen{"wide/", 1600, 1000, 1, false}, Screen{"wide_large_text/", 1600, 1000, 1.5, true}}) {
        if (!open(state, screen.width, screen.height, screen.text_scale, screen.night))
            GTEST_SKIP() << "no OpenGL without a window here";
        swashwright::testing::answer_all(state, [&] { draw(state); });
        const auto visit = [&](const std::string& name) { look(state, name, screen.name); };
        swashwright::testing::walk(state, visit);
        swashwright::testing::visit_bench(state, visit);
        close();
        expect_all_looked_at(screen.name);
    }
}

/// What other linkages have more: a rudder, hands, forms, and the steps of putting one together.
TEST_F(PanelPictures, OfOtherLinkagesAreTheOnesLookedAt) {
    struct Shown {
        const char *name, *scene, *section;
        draw::Part part;
    };
    using head::Role;
    for (const auto& [before, text_scale] : {std::pair{"linkages/", 1.0}, {"linkages_large_text/", 1.5}}) {
        for (const Shown& shown : {Shown{"tail", "tail_600", "Sliders", {Role::inner_ring, 0}},
                                   Shown{"spindle", "rocking_spindle_600", "Levers", {Role::lever, 0}},
                                   Shown{"bar", "stabiliser_bar_600", "Levers", {Role::lever, 1}},
                                   Shown{"bellcrank link", "bellcranks_500", "Other links", {Role::other_link, 0}}}) {
            State state = state_of(std::string(SWASHWRIGHT_SCENES "/") + shown.scene + ".toml");
            if (!open(state, 1280, 1500, text_scale, false)) GTEST_SKIP() << "no OpenGL without a window here";
            for (Section& section : state.ledger.sections)
                section.open = section.more_open = section.title == shown.section;
            state.selection.selected = shown.part;
            state.selection.show_selected = true;
            look(state, shown.name, before);
            if (shown.name == std::string("bar")) {
                scene::Scene next = state.bench.document().scene();
                next.head = head::with_lever_added(next.head)->head;
                EXPECT_TRUE(try_build(state.screen, state.bench, next, "new parts, a lever"));
                draw(state);
                for (Section& section : state.ledger.sections)
                    section.open = section.more_open = section.adds || section.title == "Levers";
                state.selection.selected = draw::Part{Role::lever, static_cast<int>(next.head.levers.size()) - 1};
                state.selection.pick = BallPick{"link 1, ends 1", "link 1's lower end", {}};
                look(state, "put together", before);
                state.selection.pick.reset();
                ask(state, Dialog::new_head);
                look(state, "new head", before);
            }
            close();
        }
        expect_all_looked_at(before);
    }
}

}  // namespace
}  // namespace swashwright::panels
