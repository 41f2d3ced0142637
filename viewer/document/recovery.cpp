#include "viewer/document/recovery.h"

#include <fcntl.h>
#include <fmt/chrono.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <utility>

#include "viewer/document/atomic_file.h"
#include "viewer/document/settings.h"

namespace swashwright::document {

namespace {

namespace fs = std::filesystem;

constexpr double seconds_between = 1;
constexpr const char* lock_ending = ".lock";

/// A file of this name that no running program holds, held; -1 otherwise.
int take_lock(const std::string& name) {
    const int lock = ::open(name.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (lock >= 0 && ::flock(lock, LOCK_EX | LOCK_NB) == 0) return lock;
    if (lock >= 0) ::close(lock);
    return -1;
}

std::string written_at(const fs::path& file) {
    struct stat of {};
    if (::stat(file.c_str(), &of) != 0) return {};
    return fmt::format("{:%Y-%m-%d %H:%M}", fmt::localtime(of.st_mtime));
}

std::optional<LeftWork> read_work(const fs::path& file) {
    std::ifstream stream(file);
    const auto json = nlohmann::json::parse(stream, nullptr, /*allow_exceptions=*/false);
    if (!json.is_object() || !json.contains("path") || !json.contains("scene") || !json["path"].is_string() ||
        !json["scene"].is_string())
        return std::nullopt;
    const auto text = [&](const char* key) {
        return json.contains(key) && json[key].is_string() ? json[key].get<std::string>() : std::string();
    };
    LeftWork work{file.string(),    json["path"],          json["scene"],    written_at(file),
                  text("readings"), text("readings_path"), text("gauge"),    text("gauge_path"),
                  text("places"),   text("places_path"),   text("practice"), text("practice_path")};
    return work.any() ? std::optional(std::move(work)) : std::nullopt;
}

}  // namespace

Recovery::Recovery(std::string folder) {
    if (folder.empty()) return;
    std::error_code none;
    fs::create_directories(folder, none);
    for (int i = 0; i < 100 && lock_ < 0; ++i) {  // one for each window that is open
        file_ = fmt::format("{}/{}.json", folder, i);
        if (!fs::exists(file_, none)) lock_ = take_lock(file_ + lock_ending);
    }
    if (lock_ < 0) file_.clear();
}

Recovery::~Recovery() {
    if (!stays_) forget();
    if (lock_ < 0) return;
    ::unlink((file_ + lock_ending).c_str());
    ::close(lock_);
}

bool Recovery::holds() const {
    return scene_.kept || std::ranges::any_of(others_, &Told::kept);
}

tl::expected<void, std::string> Recovery::keep(const Document& document, double now, const KeptReadings& calliper,
                                               const KeptReadings& gauge, const KeptReadings& places,
                                               const KeptReadings& practice) {
    constexpr std::array keys{"readings", "gauge", "places", "practice"};
    const std::array<const KeptReadings*, keys.size()> others{&calliper, &gauge, &places, &practice};
    waiting_ = false;
    const auto same = [](const KeptReadings* other, const Told& told) {
        return other->unsaved == told.kept && (!other->unsaved || other->revision == told.revision);
    };
    const bool same_scene =
        document.revision() == scene_.revision && document.path() == path_ && document.unsaved() == scene_.kept;
    if (file_.empty() || (same_scene && std::ranges::equal(others, others_, same))) return {};
    const bool any = document.unsaved() || std::ranges::any_of(others, &KeptReadings::unsaved);
    // A clock that went back keeps nothing waiting.
    if (any && written_ && now >= *written_ && now - *written_ < seconds_between) {
        waiting_ = true;
        return {};
    }
    path_ = document.path();
    scene_ = {document.revision(), false};
    for (std::size_t i = 0; i < keys.size(); ++i) others_[i] = {others[i]->revision, false};
    if (!any) {
        forget();
        return {};
    }
    written_ = now;
    std::error_code none;
    const std::string path = fs::absolute(document.path(), none).string();
    nlohmann::json json{{"path", path}, {"scene", document.unsaved() ? scene::write(document.scene()) : ""}};
    for (std::size_t i = 0; i < keys.size(); ++i) {
        if (!others[i]->unsaved) continue;
        json[keys[i]] = others[i]->text();
        if (!others[i]->path.empty())
            json[keys[i] + std::string("_path")] = fs::absolute(others[i]->path, none).string();
    }
    auto written = write_atomically(file_, json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n",
                                    Durable::no, Named::by_us);
    kept_ = kept_ || written;
    scene_.kept = written && document.unsaved();
    for (std::size_t i = 0; i < keys.size(); ++i) others_[i].kept = written && others[i]->unsaved;
    if (written || std::exchange(told_, true)) return {};
    return tl::unexpected("unsaved work cannot be kept against a crash: " + written.error());
}

void Recovery::start_anew() {
    scene_ = {};
    others_ = {};
    written_.reset();
}

void Recovery::forget() {
    if (std::exchange(kept_, false)) ::unlink(file_.c_str());
}

std::string recovery_folder() {
    const std::string settings = settings_path();
    return settings.empty() ? settings : (fs::path(settings).parent_path() / "unsaved").string();
}

std::vector<LeftWork> left_work(const std::string& folder) {
    std::vector<LeftWork> found;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
        if (entry.path().extension() != ".json") continue;
        const std::string lock = entry.path().string() + lock_ending;
        const int held = take_lock(lock);
        if (held < 0) continue;
        ::close(held);
        if (auto work = read_work(entry.path())) found.push_back(std::move(*work));
    }
    std::ranges::sort(found, std::greater<>(), &LeftWork::when);
    return found;
}

void remove_left_work(const LeftWork& work) {
    ::unlink(work.file.c_str());
    ::unlink((work.file + lock_ending).c_str());
}

scene::Result<Document> take_up(const LeftWork& work) {
    auto left = scene::parse(work.scene, work.path);
    if (!left) return tl::unexpected(left.error());
    auto on_disk = Document::open(work.path);
    if (!on_disk) return Document::never_saved(std::move(*left), work.path);
    Document document = std::move(*on_disk);
    document.edit(std::move(*left), "the work that was left");
    document.seal();
    return document;
}

}  // namespace swashwright::document
