#include "viewer/panels/files/sheet_writer.h"

#include <fmt/format.h>

#include <atomic>
#include <thread>
#include <utility>

#include "viewer/document/atomic_file.h"
#include "viewer/sheet/compose.h"
#include "viewer/sheet/print.h"

namespace swashwright::panels {
namespace {

/// The file that was written, or why there is none.
std::string written(const scene::Scene& scene, const std::string& path, sheet::Paper paper, bool card,
                    const std::stop_token& stop) {
    const std::string none = card ? "No card: " : "No build sheet: ";
    const auto head = head::Head::build(scene.head);
    if (!head) return none + head.error().message;
    const auto sheet = sheet::compose(*head, scene.note, {.card = card, .picture = true, .made = {}, .stop = stop});
    if (!sheet) return none + sheet.error();
    const auto pdf = sheet::pdf(*sheet, paper);
    if (!pdf) return none + pdf.error();
    const auto done = document::write_atomically(path, pdf->bytes);
    return done ? fmt::format("{} written to {}", card ? "Card" : "Build sheet", path) : none + done.error();
}

}  // namespace

struct SheetWriter::Work {
    std::atomic<bool> done = false;
    std::string said;
    std::jthread thread;  // last: it is stopped and joined first
};

void SheetWriter::start(const scene::Scene& scene, const std::string& path, sheet::Paper paper, bool card) {
    work_ = nullptr;  // stops and joins
    work_ = std::make_shared<Work>();
    work_->thread = std::jthread([&work = *work_, scene, path, paper, card](const std::stop_token& stop) {
        work.said = written(scene, path, paper, card, stop);
        work.done.store(true, std::memory_order_release);
    });
}

std::optional<std::string> SheetWriter::poll() {
    if (!work_ || !work_->done.load(std::memory_order_acquire)) return std::nullopt;
    work_->thread.join();
    return std::exchange(work_, nullptr)->said;
}

}  // namespace swashwright::panels
