#include "kinematics/bench_files/calliper.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "kinematics/scene/file_kind.h"
#include "kinematics/scene/files.h"
#include "kinematics/scene/reader.h"

namespace swashwright::scene {
namespace {

using studies::calliper_places;
using studies::CalliperPlace;
using studies::CalliperReading;
using studies::Jaws;
using studies::SceneNumbers;

constexpr Kind size{"a reading in mm", -2000, 2000};
constexpr Kind uncertainty{"one standard deviation in mm", 0.001, 100};
constexpr Kind diameter{"a diameter in mm", 0.1, 200};
constexpr std::size_t longest_line = 250;

const CalliperPlace* nearest(const std::vector<CalliperPlace>& places, std::string_view key) {
    const auto found =
        std::ranges::min_element(places, {}, [&](const CalliperPlace& place) { return edits(key, place.key); });
    return found == places.end() ? nullptr : &*found;
}

/// Reads the tables; without places, their names go unchecked.
class Reader {
public:
    explicit Reader(const std::vector<CalliperPlace>* places) : places_(places) {}

    /// `scene` has been read.
    CalliperFile operator()(Keys& top) {
        CalliperFile out;
        out.note = top.text("note", 0);
        out.readings.scene =
            top.word("numbers", {"guessed", "known"}, false) == 1 ? SceneNumbers::known : SceneNumbers::guessed;
        if (top.has("sizes"))
            if (auto sizes = top.table("sizes", "headed [sizes]")) read_sizes(*sizes, out.readings.sizes);
        if (auto list = top.tables("reading", "each headed [[reading]]"))
            for (Keys& keys : *list) read_reading(keys, out.readings);
        top.allow("sizes");
        top.finish();
        return out;
    }

private:
    static void read_sizes(Keys& keys, studies::RoundSizes& sizes) {
        sizes.ball_mm = keys.optional_number("ball_mm", diameter);
        sizes.boss_mm = keys.optional_number("boss_mm", diameter);
        sizes.shaft_mm = keys.optional_number("shaft_mm", diameter);
        sizes.pin_mm = keys.optional_number("pin_mm", diameter);
        keys.finish();
    }

    void read_reading(Keys& keys, studies::CalliperReadings& out) {
        CalliperReading reading;
        reading.place = keys.text("place", longest_line);
        reading.mm = keys.number("mm", size);
        reading.sd_mm = keys.optional_number("sd", uncertainty);
        reading.jaws = std::array{Jaws::centres, Jaws::over,
                                  Jaws::between}[keys.word("jaws", {"centres", "over", "between"}, false)];
        if (places_ && !reading.place.empty()) check(keys, reading, out);
        keys.finish();
        out.list.push_back(std::move(reading));
    }
    void check(Keys& keys, CalliperReading& reading, const studies::CalliperReadings& out) const {
        const CalliperPlace* place = find_place(*places_, reading.place);
        if (!place) {
            const CalliperPlace* alike = nearest(*places_, reading.place);
            return keys.mistake(
                "place",
                fmt::format("this head has no place \"{}\"{}", reading.place,
                            alike ? fmt::format("; did you mean \"{}\" ({})?", alike->key, alike->words) : ""));
        }
        reading.place = place->key;
        if (std::ranges::find(out.list, reading.place, &CalliperReading::place) != out.list.end())
            return keys.mistake("place", fmt::format("this reading is given twice ({}); keep one", place->words));
        if (!centre_to_centre(*place, reading.mm, reading.jaws, out.sizes))
            keys.mistake("jaws", cannot_lay(*place, out.sizes));
    }

    const std::vector<CalliperPlace>* places_;
};

/// The scene that is named, built; notes a mistake where there is none.
void read_scene(Keys& top, const std::string& name, const std::string& file, LoadedCalliper& out,
                std::optional<std::vector<CalliperPlace>>& places) {
    auto scene = load(beside(file, name));
    if (!scene)
        return top.mistake("scene", fmt::format("the scene cannot be read: {}", scene.error().list.front().message));
    auto head = head::Head::build(scene->head);
    if (!head) return top.mistake("scene", fmt::format("the scene is no head: {}", head.error().message));
    out.scene = std::move(*scene);
    out.head = std::move(*head);
    places = calliper_places(out.head);
}

}  // namespace

Result<CalliperFile> parse_calliper(std::string_view text, std::string file, const head::Head* head) {
    std::optional<std::vector<CalliperPlace>> places;
    if (head) places = calliper_places(*head);
    return read_document(text, std::move(file), [&](Keys& top) {
        if (is_of_another_kind(top, FileKind::calliper)) return CalliperFile{};
        const std::string scene = top.text("scene", longest_line);
        CalliperFile out = Reader(places ? &*places : nullptr)(top);
        out.scene_file = scene;
        return out;
    });
}

Result<CalliperFile> load_calliper(const std::string& path, const head::Head* head) {
    const auto text = read_file(path, "a file of calliper readings");
    if (!text) return tl::unexpected(text.error());
    return parse_calliper(*text, path, head);
}

Result<LoadedCalliper> parse_calliper(std::string_view text, std::string file) {
    const std::string path = file;
    return read_document(text, std::move(file), [&](Keys& top) {
        LoadedCalliper out;
        if (is_of_another_kind(top, FileKind::calliper)) return out;
        const std::string scene = top.text("scene", longest_line);
        std::optional<std::vector<CalliperPlace>> places;
        if (!scene.empty()) read_scene(top, scene, path, out, places);
        out.file = Reader(places ? &*places : nullptr)(top);
        out.file.scene_file = scene;
        return out;
    });
}

Result<LoadedCalliper> load_calliper(const std::string& path) {
    const auto text = read_file(path, "a file of calliper readings");
    if (!text) return tl::unexpected(text.error());
    return parse_calliper(*text, path);
}

std::string write(const CalliperFile& file, const std::vector<CalliperPlace>& places) {
    std::string out =
        fmt::format("# Calliper readings of a head whose arrangement the scene lends, in mm.\nformat = 1\nscene = {}\n",
                    toml_string(file.scene_file));
    if (!file.note.empty()) out += fmt::format("note = {}\n", toml_string(file.note));
    const studies::CalliperReadings& readings = file.readings;
    out += fmt::format("numbers = \"{}\"                 # of the scene\n",
                       readings.scene == SceneNumbers::known ? "known" : "guessed");
    std::string rows;  // before the tables, so that they stay at the top level
    const auto row = [&](const CalliperReading& reading) {
        const std::string jaws = reading.jaws == Jaws::over      ? ", jaws = \"over\""
                                 : reading.jaws == Jaws::between ? ", jaws = \"between\""
                                                                 : "";
        const std::string sd = reading.sd_mm ? fmt::format(", sd = {}", toml_number(*reading.sd_mm)) : "";
        rows += fmt::format("    {{ place = {}, mm = {}{}{} }},\n", toml_string(reading.place), toml_number(reading.mm),
                            jaws, sd);
    };
    for (const CalliperPlace& place : places)
        if (const auto found = std::ranges::find(readings.list, place.key, &CalliperReading::place);
            found != readings.list.end())
            row(*found);
    for (const CalliperReading& reading : readings.list)
        if (!find_place(places, reading.place)) row(reading);
    out += fmt::format(
        "\nreading = [                         # in the order of work; what is not here was not read\n{}]\n", rows);
    std::string sizes;
    const auto size_of = [&](const char* key, const std::optional<double>& mm) {
        if (mm) sizes += fmt::format("{} = {}\n", key, toml_number(*mm));
    };
    size_of("ball_mm", readings.sizes.ball_mm);
    size_of("boss_mm", readings.sizes.boss_mm);
    size_of("shaft_mm", readings.sizes.shaft_mm);
    size_of("pin_mm", readings.sizes.pin_mm);
    return sizes.empty() ? out : out + "\n[sizes]                             # diameters, as measured\n" + sizes;
}

Scene measured_scene(const LoadedCalliper& loaded, const studies::CalliperFit& fit) {
    Scene out = loaded.scene;
    out.head = fit.head;
    out.places = {};
    out.note = "Numbers from calliper readings." + (loaded.file.note.empty() ? "" : " " + loaded.file.note);
    return out;
}

}  // namespace swashwright::scene
