#include "viewer/panels/files/sheet_writer.h"

#include <fmt/format.h>

#include <utility>

#include "viewer/document/atomic_file.h"
#include "viewer/panels/files/files.h"
#include "viewer/panels/window/state.h"
#include "viewer/sheet/compose.h"
#include "viewer/sheet/print.h"

namespace swashwright::panels {
namespace {

/// The file that was written, or why there is none.
std::string written(const scene::Scene& scene, const std::string& path, sheet::Paper paper,
                    const std::stop_token& stop) {
    const auto head = head::Head::build(scene.head);
    if (!head) return "No build sheet: " + head.error().message;
    const auto sheet = sheet::compose(*head, scene.note, {.picture = true, .made = {}, .stop = stop});
    if (!sheet) return "No build sheet: " + sheet.error();
    const auto pdf = sheet::pdf(*sheet, paper);
    if (!pdf) return "No build sheet: " + pdf.error();
    const auto done = document::write_atomically(path, pdf->bytes);
    return done ? fmt::format("Build sheet written to {}", path) : "No build sheet: " + done.error();
}

}  // namespace

void SheetWriter::start(const scene::Scene& scene, const std::string& path, sheet::Paper paper) {
    thread_ = {};  // stops and joins
    work_ = std::make_shared<Work>();
    thread_ = std::jthread([work = work_, scene, path, paper](const std::stop_token& stop) {
        work->said = written(scene, path, paper, stop);
        work->done.store(true, std::memory_order_release);
    });
}

std::optional<std::string> SheetWriter::poll() {
    if (!work_ || !work_->done.load(std::memory_order_acquire)) return std::nullopt;
    thread_.join();
    return std::exchange(work_, nullptr)->said;
}

void ask_for_sheet(State& state) {
    ask_for_file(state, Dialog::sheet, path_beside(state, ".pdf"));
}

void write_sheet(State& state, const std::string& path) {
    if (!path.ends_with(".pdf")) {  // a scene that was pressed in the list is not to be written over
        state.dialog_error = "A build sheet is a PDF file: let its name end in .pdf.";
        return;
    }
    if (!may_replace(state, path, "Write")) return;
    state.dialog = Dialog::none;
    state.sheet_writer.start(state.document.scene(), path,
                             state.settings.letter ? sheet::Paper::letter : sheet::Paper::a4);
    tell(state, "The build sheet is being made");
}

}  // namespace swashwright::panels
