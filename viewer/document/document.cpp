#include "viewer/document/document.h"

#include <atomic>
#include <fstream>
#include <sstream>
#include <utility>

#include "kinematics/scene/comments.h"
#include "viewer/document/atomic_file.h"

namespace swashwright::document {

namespace {

constexpr std::size_t most_steps = 500;  // a scene is a few kilobytes

/// Empty where it cannot be read.
std::string text_of_file(const std::string& path) {
    const std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    if (file) text << file.rdbuf();
    return text.str();
}

std::uint64_t next_revision() {
    static std::atomic<std::uint64_t> last = 0;
    return ++last;
}

}  // namespace

scene::Result<Document> Document::open(const std::string& path) {
    return scene::load(path).map([&](scene::Scene scene) { return Document(std::move(scene), path); });
}

Document::Document(scene::Scene scene, std::string path)
    : opened_(scene), path_(std::move(path)), on_disk_(text_of_file(path_)), revision_(next_revision()) {
    states_.push_back({std::move(scene), {}, 0});
}

Document Document::never_saved(scene::Scene scene, std::string path) {
    Document out(std::move(scene), std::move(path));
    out.states_[0].id = out.next_id_++;
    out.in_a_file_ = false;
    return out;
}

void Document::edit(scene::Scene next, const std::string& label) {
    revision_ = next_revision();
    const bool same_run = !sealed_ && now_ > 0 && states_[now_].label == label && !can_redo();
    sealed_ = false;
    if (same_run) {
        states_[now_].scene = std::move(next);
        states_[now_].id = next_id_++;
        return;
    }
    states_.resize(now_ + 1);
    states_.push_back({std::move(next), label, next_id_++});
    if (states_.size() > most_steps) states_.erase(states_.begin());
    now_ = states_.size() - 1;
}

void Document::undo() {
    if (!can_undo()) return;
    --now_;
    revision_ = next_revision();
    sealed_ = true;
}

void Document::redo() {
    if (!can_redo()) return;
    ++now_;
    revision_ = next_revision();
    sealed_ = true;
}

bool Document::changed_on_disk() const {
    const std::string now = text_of_file(path_);
    if (!in_a_file_ || now.empty() || now == on_disk_) return false;
    const auto there = scene::parse(now, path_);
    return !there || scene::write(*there) != scene::write(opened_);
}

tl::expected<void, std::string> Document::save(const std::string& path) {
    std::string text = scene::write_over(path_, scene());
    if (auto written = write_atomically(path, text); !written) return written;
    path_ = path;
    on_disk_ = std::move(text);
    in_a_file_ = true;
    saved_id_ = states_[now_].id;
    opened_ = scene();
    sealed_ = true;
    return {};
}

}  // namespace swashwright::document
