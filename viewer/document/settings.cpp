#include "viewer/document/settings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <system_error>
#include <utility>

#include "viewer/document/atomic_file.h"

namespace swashwright::document {

namespace {

constexpr std::size_t most_recent = 8, most_lessons = 1000, most_heads = 200, most_read = 200;

/// The value under a key where it has the wanted type, else what stands there already.
template <class T>
void read(const nlohmann::json& json, const char* key, T& value) {
    const auto found = json.find(key);
    if (found == json.end()) return;
    if constexpr (std::is_same_v<T, bool>) {
        if (found->is_boolean()) value = found->get<bool>();
    } else {
        if (found->is_number()) value = found->get<T>();
    }
}

template <class List>
void read_list(const nlohmann::json& json, const char* key, List& list, std::size_t most) {
    const auto found = json.find(key);
    if (found == json.end() || !found->is_array()) return;
    for (const auto& entry : *found)
        if (entry.is_string() && list.size() < most) list.insert(list.end(), entry.template get<std::string>());
}

std::string text_of(const nlohmann::json& json, const char* key) {
    const auto found = json.find(key);
    return found != json.end() && found->is_string() ? found->get<std::string>() : std::string();
}

BenchPlace place_of(const nlohmann::json& json, const char* key) {
    const auto entry = json.find(key);
    if (entry == json.end() || !entry->is_object()) return {};
    BenchPlace place{text_of(*entry, "stage"), text_of(*entry, "say"), 0, text_of(*entry, "day"), {}};
    double step = 0;
    read(*entry, "step", step);
    place.step = static_cast<std::size_t>(std::clamp(step, 0.0, 1000.0));
    if (const auto values = entry->find("read"); values != entry->end() && values->is_object())
        for (const auto& [name, value] : values->items())
            if (value.is_number() && place.read.size() < most_read) place.read[name] = value.get<double>();
    return place;
}

HeadsKept heads_of(const nlohmann::json& json) {
    HeadsKept out;
    const auto found = json.find("heads");
    if (found == json.end() || !found->is_object()) return out;
    for (const auto& [key, entry] : found->items()) {
        if (!entry.is_object()) continue;
        HeadKept head{place_of(entry, "set_up"), place_of(entry, "after_crash"), {}};
        if (const auto lines = entry.find("looked_at"); lines != entry.end() && lines->is_object())
            for (const auto& [line, day] : lines->items())
                if (day.is_string() && head.looked_at.size() < most_read) head.looked_at[line] = day.get<std::string>();
        if (!head.empty()) out[key] = std::move(head);
    }
    return out;
}

nlohmann::json json_of(const BenchPlace& place) {
    return {{"stage", place.stage}, {"say", place.say}, {"step", place.step}, {"day", place.day}, {"read", place.read}};
}

/// Those that stood at the bench last.
nlohmann::json json_of(HeadsKept heads) {
    while (heads.size() > most_heads)
        heads.erase(std::ranges::min_element(
            heads, [](const auto& a, const auto& b) { return a.second.last_day() < b.second.last_day(); }));
    nlohmann::json out = nlohmann::json::object();
    for (const auto& [key, head] : heads) {
        if (head.empty()) continue;
        nlohmann::json& of = out[key] = nlohmann::json::object();
        if (head.set_up != BenchPlace{}) of["set_up"] = json_of(head.set_up);
        if (head.after_crash != BenchPlace{}) of["after_crash"] = json_of(head.after_crash);
        if (!head.looked_at.empty()) of["looked_at"] = head.looked_at;
    }
    return out;
}

/// None if the file is missing or broken.
std::optional<Settings> read_settings(const std::string& path) {
    std::error_code none;
    if (!std::filesystem::is_regular_file(path, none)) return std::nullopt;
    std::ifstream file(path);
    const auto json = nlohmann::json::parse(file, nullptr, /*allow_exceptions=*/false);
    if (!json.is_object()) return std::nullopt;
    Settings settings;
    read(json, "safety_read", settings.safety_read);
    read(json, "night", settings.night);
    read(json, "inches", settings.inches);
    read(json, "letter", settings.letter);
    read(json, "text_scale", settings.text_scale);
    read(json, "tray_folded", settings.tray_folded);
    read(json, "camera_moves", settings.camera_moves);
    read(json, "width", settings.width);
    read(json, "height", settings.height);
    read_list(json, "lessons_done", settings.lessons_done, most_lessons);
    settings.heads = heads_of(json);
    read_list(json, "recent", settings.recent, most_recent);
    settings.width = std::clamp(settings.width, 640, 16384);
    settings.height = std::clamp(settings.height, 480, 16384);
    settings.text_scale = std::clamp(settings.text_scale, 1.0, 2.0);
    return settings;
}

/// What this window has not changed is as it stands on the disk.
template <class T>
void leave_alone(T& mine, const T& before, const T& on_disk) {
    if (mine == before) mine = on_disk;
}

Settings merged_settings(Settings mine, const Settings& before, const Settings& on_disk) {
    const auto each = [&](auto member) { leave_alone(mine.*member, before.*member, on_disk.*member); };
    each(&Settings::safety_read);
    each(&Settings::night);
    each(&Settings::inches);
    each(&Settings::letter);
    each(&Settings::text_scale);
    each(&Settings::tray_folded);
    each(&Settings::camera_moves);
    each(&Settings::width);
    each(&Settings::height);
    each(&Settings::recent);
    mine.lessons_done.insert(on_disk.lessons_done.begin(), on_disk.lessons_done.end());
    mine.heads = merged(mine.heads, before.heads, on_disk.heads);
    return mine;
}

}  // namespace

std::string settings_path() {
    const char* state = std::getenv("XDG_STATE_HOME");
    if (state && std::filesystem::path(state).is_absolute()) return std::string(state) + "/swashwright/window.json";
    const char* home = std::getenv("HOME");
    if (!home || !*home) return {};
    return std::string(home) + "/.local/state/swashwright/window.json";
}

Settings load_settings(const std::string& path) {
    return read_settings(path).value_or(Settings{});
}

void note_recent(Settings& settings, const std::string& path) {
    std::error_code none;
    std::string absolute = std::filesystem::absolute(path, none).lexically_normal().string();
    if (none) return;
    std::erase(settings.recent, absolute);
    settings.recent.insert(settings.recent.begin(), std::move(absolute));
    if (settings.recent.size() > most_recent) settings.recent.resize(most_recent);
}

tl::expected<void, std::string> save_settings(const std::string& path, const Settings& settings) {
    if (path.empty()) return tl::unexpected(std::string("there is no home folder to remember settings in"));
    std::error_code error;
    std::filesystem::create_directories(std::filesystem::path(path).parent_path(), error);
    if (error) return tl::unexpected(fmt::format("{}: {}", path, error.message()));
    const nlohmann::json json{{"safety_read", settings.safety_read},
                              {"night", settings.night},
                              {"inches", settings.inches},
                              {"letter", settings.letter},
                              {"text_scale", settings.text_scale},
                              {"tray_folded", settings.tray_folded},
                              {"camera_moves", settings.camera_moves},
                              {"width", settings.width},
                              {"height", settings.height},
                              {"lessons_done", settings.lessons_done},
                              {"heads", json_of(settings.heads)},
                              {"recent", settings.recent}};
    return write_atomically(path, json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n",
                            Durable::yes, Named::by_us);
}

tl::expected<void, std::string> remember_settings(const std::string& path, Settings& settings, Settings& before) {
    const auto on_disk = read_settings(path);
    const Settings both = on_disk ? merged_settings(settings, before, *on_disk) : settings;
    if (auto saved = save_settings(path, both); !saved) return saved;
    settings.lessons_done = both.lessons_done;
    settings.heads = both.heads;
    before = settings;
    return {};
}

}  // namespace swashwright::document
