#include "viewer/document/settings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "viewer/document/atomic_file.h"

namespace swashwright::document {

namespace {

constexpr std::size_t most_recent = 8, most_lessons = 1000;

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

void read_places(const nlohmann::json& json, std::map<std::string, BenchPlace>& places) {
    constexpr std::size_t most_places = 200, most_steps = 1000, most_read = 200;
    const auto found = json.find("at_bench");
    if (found == json.end() || !found->is_object()) return;
    for (const auto& [head, entry] : found->items()) {
        if (places.size() >= most_places || !entry.is_object()) continue;
        BenchPlace place;
        double step = 0;
        read(entry, "step", step);
        place.step = static_cast<std::size_t>(std::clamp(step, 0.0, static_cast<double>(most_steps)));
        if (const auto values = entry.find("read"); values != entry.end() && values->is_object())
            for (const auto& [key, value] : values->items())
                if (value.is_number() && place.read.size() < most_read) place.read[key] = value.get<double>();
        places[head] = std::move(place);
    }
}

nlohmann::json json_of(const std::map<std::string, BenchPlace>& places) {
    nlohmann::json out = nlohmann::json::object();
    for (const auto& [head, place] : places) out[head] = {{"step", place.step}, {"read", place.read}};
    return out;
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
    Settings settings;
    std::ifstream file(path);
    const auto json = nlohmann::json::parse(file, nullptr, /*allow_exceptions=*/false);
    if (!json.is_object()) return settings;
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
    read_list(json, "crash_ticked", settings.crash_ticked, most_lessons);
    read_places(json, settings.at_bench);
    read_list(json, "recent", settings.recent, most_recent);
    settings.width = std::clamp(settings.width, 640, 16384);
    settings.height = std::clamp(settings.height, 480, 16384);
    settings.text_scale = std::clamp(settings.text_scale, 1.0, 2.0);
    return settings;
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
                              {"crash_ticked", settings.crash_ticked},
                              {"at_bench", json_of(settings.at_bench)},
                              {"recent", settings.recent}};
    return write_atomically(path, json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n");
}

}  // namespace swashwright::document
