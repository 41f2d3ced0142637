// The build sheet of a page: laid out as SVG in a worker, printed by the browser.
#include "viewer/panels/files/sheet_writer.h"

#include <emscripten.h>
#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <utility>

#include "viewer/browser/packing.h"
#include "viewer/browser/workers.h"
#include "viewer/draw/base/font.h"
#include "viewer/sheet/head_picture.h"

namespace swashwright::panels {

EM_JS(void, page_keep_picture, (const unsigned char* rgb, int width, int height),
      { Module.page.keepPicture(HEAPU8.subarray(rgb, rgb + 3 * width * height), width, height); });
EM_JS(void, page_print, (const char* svg, const char* paper),
      { Module.page.print(UTF8ToString(svg), UTF8ToString(paper)); });

struct SheetWriter::Work {
    browser::Work worker;
    sheet::Paper paper{};
    bool card = false;
};

namespace {

/// The page has its pixels from then on.
std::optional<sheet::Picture> drawn(const head::Description& description) {
    const auto head = head::Head::build(description);
    if (!head) return std::nullopt;
    const auto pose = head->pose(head::Sticks{}, 0);
    if (!pose) return std::nullopt;
    auto picture = sheet::head_picture(description, *pose);
    if (!picture) return std::nullopt;
    page_keep_picture(picture->pixels.rgb.data(), picture->pixels.width, picture->pixels.height);
    return std::move(*picture);
}

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace

void SheetWriter::start(const scene::Scene& scene, const std::string&, sheet::Paper paper, bool card) {
    browser::SheetOrder order{scene, paper, drawn(scene.head), {}, card};
    for (const bool bold : {false, true})
        for (const std::string& path : draw::font_files(bold)) order.fonts.emplace_back(path, bytes_of(path));
    work_ = std::make_shared<Work>();
    work_->paper = paper;
    work_->card = card;
    work_->worker.start(browser::Task::sheet, browser::packed(order));
}

std::optional<std::string> SheetWriter::poll() {
    if (!work_ || !work_->worker.done()) return std::nullopt;
    const auto work = std::exchange(work_, nullptr);
    const auto bytes = work->worker.take_result();
    const std::string none = work->card ? "No card: " : "No build sheet: ";
    if (!bytes) return none + "what was at work on it came to a bad end.";
    const auto pages = browser::unpacked_pages(*bytes);
    if (!pages) return none + pages.error();
    page_print(pages->c_str(), work->paper == sheet::Paper::letter ? "letter" : "A4");
    return fmt::format("The {} has gone to the browser's print. Print it at 100 %.",
                       work->card ? "card" : "build sheet");
}

}  // namespace swashwright::panels
