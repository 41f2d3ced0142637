// What a worker does: this program without a window. Its messages go to page.js, by worker.js.
#include <emscripten.h>
#include <fmt/format.h>

#include <array>
#include <atomic>
#include <filesystem>
#include <fstream>
#include <stop_token>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "viewer/browser/packing.h"
#include "viewer/browser/workers.h"
#include "viewer/sheet/compose.h"

namespace swashwright::browser {

EM_JS(void, worker_tell, (int what, const char* bytes, int size),
      { Module.tell(what, what == 0 ? size : HEAPU8.slice(bytes, bytes + size)); });

namespace {

void tell(int what, const std::string& bytes) {
    worker_tell(what, bytes.data(), static_cast<int>(bytes.size()));
}

std::atomic<int> percent = 0;

/// Between two pieces of work, where a study asks whether it shall stop.
void tell_percent() {
    static int told = 0;
    if (const int now = percent; now != told) worker_tell(0, nullptr, told = now);
}

std::string answered(std::string_view bytes) {
    auto order = unpacked_order(bytes);
    if (!order) return packed(panels::Outcome(tl::unexpected(order.error())));
    panels::Asked& asked = order->asked;
    percent = 0;
    asked.percent = &percent;
    asked.so_far = [](panels::Reply reply) { tell(1, packed(panels::Outcome(std::move(reply)))); };
    std::stop_token::at_ask = tell_percent;
    return packed(order->study(asked).map_error(&studies::NoAnswer::why));
}

tl::expected<std::string, std::string> laid_out(std::string_view bytes) {
    const auto order = unpacked_sheet_order(bytes);
    if (!order) return tl::unexpected(order.error());
    for (const auto& [path, font] : order->fonts) {
        std::filesystem::create_directories(std::filesystem::path(path).parent_path());
        std::ofstream(path, std::ios::binary) << font;
    }
    const auto head = head::Head::build(order->scene.head);
    if (!head) return tl::unexpected(head.error().message);
    const auto sheet =
        sheet::compose(*head, order->scene.note,
                       {.card = order->card, .picture = true, .made = {}, .stop = {}, .drawn = order->picture});
    if (!sheet) return tl::unexpected(sheet.error());
    return sheet::pdf(*sheet, order->paper).map(&sheet::Pdf::bytes);  // SVG, of this canvas
}

}  // namespace

extern "C" {

EMSCRIPTEN_KEEPALIVE void swashwright_do(int task, const char* bytes, int size) {
    const std::string_view given(bytes, static_cast<std::size_t>(size));
    switch (static_cast<Task>(task)) {
        case Task::study:
            return tell(2, answered(given));
        case Task::sheet:
            return tell(2, packed(laid_out(given)));
    }
}

/// The numbers of one pose, in the order of `swashwright pose --json` and with commas between, or why there are none:
/// by this a test holds the page's numbers against the desktop's. The text stands until the next call.
EMSCRIPTEN_KEEPALIVE const char* swashwright_pose(const char* scene_text, double collective, double aileron,
                                                  double elevator, double rudder, double azimuth_deg) {
    static std::string said;
    const auto scene = scene::parse(scene_text, "scene");
    if (!scene) return (said = scene.error().text()).c_str();
    const auto head = head::Head::build(scene->head);
    if (!head) return (said = head.error().message).c_str();
    const auto pose = head->pose(head::Sticks{collective, aileron, elevator, rudder}, azimuth_deg);
    if (!pose) return (said = pose.error().message).c_str();
    std::vector<double> all = pose->horn_deg;
    const auto add = [&](const auto& numbers) { all.insert(all.end(), numbers.begin(), numbers.end()); };
    add(std::array{pose->height_mm, pose->tilt_deg, pose->lowest_azimuth_deg});
    add(pose->pitch_deg);
    add(pose->lever_deg);
    add(pose->slider_mm);
    if (pose->misfit_mm) all.push_back(*pose->misfit_mm);
    return (said = fmt::format("{}", fmt::join(all, ","))).c_str();
}
}

}  // namespace swashwright::browser
