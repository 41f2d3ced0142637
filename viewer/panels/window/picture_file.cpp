#include "viewer/panels/window/picture_file.h"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>

#include "viewer/document/atomic_file.h"
#include "viewer/document/own_files.h"
#include "viewer/draw/picture/picture.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/picture/picture_words.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

std::string pose_words(const Bench& bench) {
    const head::Sticks& s = bench.controls.sticks;
    const double azimuth = bench.controls.azimuth_deg;
    if (bench.head().kind == head::Kind::tail) return fmt::format("rudder {:+.2f}, azimuth {:.0f}°", s.rudder, azimuth);
    return fmt::format("collective {:+.2f}, aileron {:+.2f}, elevator {:+.2f}, azimuth {:.0f}°", s.collective,
                       s.aileron, s.elevator, azimuth);
}

tl::expected<draw::Pixels, std::string> picture_of(State& state, int times) {
    const auto& shown = state.bench.live().shown;
    if (!shown) return tl::unexpected(std::string("There is no picture to save: the head cannot be drawn."));
    const float pixels = state.sights.pixels * static_cast<float>(times);
    draw::PictureOrder order;
    order.width = static_cast<int>(std::lround(state.sights.size.x * pixels));
    order.height = static_cast<int>(std::lround(state.sights.size.y * pixels));
    order.scale = state.screen.scale() * pixels;
    order.camera = state.view.camera;
    order.style = picture_style(state.screen, state.bench, state.view, state.selection, state.sights);
    order.words = overlay_words(state.screen, state.bench, state.view, state.selection, state.sights);
    order.names = state.view.names;
    order.title = draw::title_of(shown->description);
    order.note = state.bench.document().scene().note;
    if (!state.view.hidden.empty()) order.note = fmt::format("Parts are hidden. {}", order.note);
    if (!state.bench.live().closes) order.note = fmt::format("The links do not reach here. {}", order.note);
    order.pose = pose_words(state.bench);
    return draw::picture_here(shown->description, shown->pose, order);
}

}  // namespace

void ask_for_picture(State& state) {
    namespace fs = std::filesystem;
    fs::path path = path_beside(state, ".png");
    std::error_code none;
    if (fs::is_directory(state.picture_folder, none)) path = fs::path(state.picture_folder) / path.filename();
    ask_for_file(state, Dialog::save_picture, path.string());
}

void save_picture_as(State& state, const std::string& path) {
    if (!path.ends_with(".png")) {  // a scene that was pressed in the list is not to be written over
        state.dialogs.error = "A picture is a PNG file: let its name end in .png.";
        return;
    }
    if (!may_replace(state.dialogs, path, "Save")) return;
    const auto pixels = picture_of(state, state.dialogs.times);
    const auto bytes = pixels ? draw::png_bytes(*pixels) : tl::unexpected(pixels.error());
    const auto saved = bytes ? document::write_atomically(path, *bytes) : tl::unexpected(bytes.error());
    if (!saved) {
        state.dialogs.error = saved.error();
        return;
    }
    state.picture_folder = std::filesystem::path(path).parent_path().string();
    state.dialogs.open = Dialog::none;
    tell(state.screen, fmt::format("Saved as {}", document::hand_out(path)));
}

}  // namespace swashwright::panels
