#include "kinematics/bench_files/measured.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/scene/file_kind.h"
#include "kinematics/scene/reader.h"

namespace swashwright::scene {
namespace {

using studies::MeasuredLayout;
using studies::ReadingPlace;
using studies::TakingInfo;

constexpr Kind height{"a height in mm", -1000, 1000};
constexpr Kind horn_travel{"horn travel in degrees", 0, 90};
constexpr Kind head_speed{"a head speed in turns a minute", 0, 100000};
constexpr Kind size{"a reading in mm", -2000, 2000};
constexpr Kind uncertainty{"one standard deviation in mm", 0.001, 100};
constexpr std::size_t longest_name = 120, most_driver_pins = 6;

void read_servo(Keys& keys, MeasuredLayout::ServoPlace& servo) {
    servo.name = keys.text("name", longest_name);
    servo.ball_azimuth_deg = keys.number("ball_azimuth_deg", angle);
    servo.horn_azimuth_deg = keys.number("horn_azimuth_deg", angle);
    servo.axis_left = keys.word("axis", {"left", "right"}, true) == 0;
    keys.finish();
}

void read_layout(Keys& keys, MeasuredLayout& layout) {
    const MeasuredLayout usual;
    layout.blades = keys.integer("blades", 2, 6).value_or(usual.blades);
    layout.direction = keys.word("direction", {"clockwise", "anticlockwise"}, true) == 0
                           ? head::Direction::clockwise
                           : head::Direction::anticlockwise;
    layout.trailing_arm = keys.word("pitch_arm", {"leading", "trailing"}, true) == 1;
    layout.links =
        keys.word("links", {"gap", "span"}, true) == 0 ? MeasuredLayout::LinkForm::gap : MeasuredLayout::LinkForm::span;
    layout.outer_ahead_deg =
        keys.number("outer_ahead_deg", angle, layout.trailing_arm ? -usual.outer_ahead_deg : usual.outer_ahead_deg);
    layout.guide_azimuth_deg = keys.number("guide_azimuth_deg", angle, usual.guide_azimuth_deg);
    if (keys.has("driver_ahead_deg"))
        layout.driver_ahead_deg = keys.optional_list("driver_ahead_deg", most_driver_pins, angle,
                                                     "one angle for each driver arm, as in [0.0, 180.0]");
    layout.precone_deg = keys.number("precone_deg", coning, usual.precone_deg);
    layout.block_height_mm = keys.number("block_height_mm", height, usual.block_height_mm);
    layout.head_speed_rpm = keys.number("head_speed_rpm", head_speed, usual.head_speed_rpm);
    layout.collective_deg = keys.number("collective_deg", horn_travel, usual.collective_deg);
    layout.cyclic_deg = keys.number("cyclic_deg", horn_travel, usual.cyclic_deg);
    if (auto servos = keys.tables("servo", "three, each headed [[layout.servo]]")) {
        if (servos->size() != layout.servos.size())
            keys.mistake("servo",
                         fmt::format("expected three servos, each headed [[layout.servo]], found {}", servos->size()));
        for (std::size_t j = 0; j < servos->size() && j < layout.servos.size(); ++j)
            read_servo((*servos)[j], layout.servos[j]);
    }
    keys.finish();
}

void read_reading(Keys& keys, MeasuredFile& out) {
    const std::string what = keys.text("what", longest_name);
    const TakingInfo* taking = studies::taking_by_key(what);
    if (!taking && !what.empty()) {
        std::string known;
        for (const TakingInfo& t : studies::takings()) known += (known.empty() ? "" : ", ") + std::string(t.key);
        keys.mistake("what", fmt::format("\"{}\" is no reading; expected one of: {}", what, known));
    }
    const int count = taking ? studies::count(out.measured.layout, taking->taking) : 6;
    ReadingPlace place{taking ? taking->taking : studies::Taking::ball, 0};
    if (count > 1 || keys.has("which")) place.index = keys.integer("which", 1, count).value_or(1) - 1;
    keys.allow("which");
    studies::TakenReading reading;
    reading.mm = keys.number("mm", size);
    reading.sd_mm = keys.optional_number("uncertainty_mm", uncertainty);
    if (taking && keys.sound() && !out.measured.taken.emplace(place, reading).second)
        keys.mistake("what", fmt::format("this reading is given twice ({}); keep one",
                                         studies::words(out.measured.layout, place)));
    keys.finish();
}

MeasuredFile read_file_of(Keys& top) {
    MeasuredFile out;
    if (is_of_another_kind(top, FileKind::measured)) return out;
    out.measured.layout.name = top.text("name", longest_name);
    out.note = top.text("note", 0);
    if (auto layout = top.table("layout", "headed [layout]")) read_layout(*layout, out.measured.layout);
    if (top.has("reading"))
        if (auto list = top.tables("reading", "each written as { what = \"ball_diameter\", mm = 4.8 }"))
            for (Keys& keys : *list) read_reading(keys, out);
    top.allow("reading");
    top.finish();
    return out;
}

/// A name as it may stand in a file: one that was cleared or never ends would keep the readings from being read again.
std::string name_text(const std::string& name, const std::string& otherwise) {
    std::size_t end = 0, characters = 0;
    while (end < name.size() && characters < longest_name) {
        ++end, ++characters;
        while (end < name.size() && (static_cast<unsigned char>(name[end]) & 0xC0U) == 0x80U) ++end;
    }
    return toml_string(name.empty() ? otherwise : name.substr(0, end));
}

std::string layout_text(const MeasuredLayout& layout) {
    std::string out = fmt::format("\n[layout]                            # chosen or seen, not measured\nblades = {}\n",
                                  layout.blades);
    const auto word = [&](const char* key, const char* value) { out += fmt::format("{} = \"{}\"\n", key, value); };
    const auto number = [&](const char* key, double value) {
        out += fmt::format("{} = {}\n", key, toml_number(value));
    };
    word("direction", layout.direction == head::Direction::clockwise ? "clockwise" : "anticlockwise");
    word("pitch_arm", layout.trailing_arm ? "trailing" : "leading");
    word("links", layout.links == MeasuredLayout::LinkForm::gap ? "gap" : "span");
    number("outer_ahead_deg", layout.outer_ahead_deg);
    number("guide_azimuth_deg", layout.guide_azimuth_deg);
    out += fmt::format("driver_ahead_deg = {}\n", toml_list(layout.driver_ahead_deg));
    number("precone_deg", layout.precone_deg);
    number("block_height_mm", layout.block_height_mm);
    number("head_speed_rpm", layout.head_speed_rpm);
    number("collective_deg", layout.collective_deg);
    number("cyclic_deg", layout.cyclic_deg);
    for (std::size_t j = 0; j < layout.servos.size(); ++j) {
        const MeasuredLayout::ServoPlace& servo = layout.servos[j];
        out += fmt::format("\n[[layout.servo]]\nname = {}\n", name_text(servo.name, fmt::format("servo {}", j + 1)));
        number("ball_azimuth_deg", servo.ball_azimuth_deg);
        number("horn_azimuth_deg", servo.horn_azimuth_deg);
        word("axis", servo.axis_left ? "left" : "right");
    }
    return out;
}

}  // namespace

Result<MeasuredFile> parse_measured(std::string_view text, std::string file) {
    return read_document(text, std::move(file), read_file_of);
}

Result<MeasuredFile> load_measured(const std::string& path) {
    const auto text = read_file(path, "a file of calliper readings");
    if (!text) return tl::unexpected(text.error());
    return parse_measured(*text, path);
}

std::string write(const MeasuredFile& file) {
    const MeasuredLayout& layout = file.measured.layout;
    std::string out =
        fmt::format("# Calliper readings that make a head, in mm; angles in degrees.\nformat = 1\nname = {}\n",
                    name_text(layout.name, MeasuredLayout{}.name));
    if (!file.note.empty()) out += fmt::format("note = {}\n", toml_string(file.note));
    std::string rows;  // before the tables, so that they stay at the top level
    for (const ReadingPlace& place : studies::reading_places(layout)) {
        const auto found = file.measured.taken.find(place);
        if (found == file.measured.taken.end()) continue;
        const TakingInfo& taking = studies::info(place.taking);
        const std::string which =
            studies::count(layout, place.taking) > 1 ? fmt::format("which = {}, ", place.index + 1) : "";
        const std::string sd =
            found->second.sd_mm ? fmt::format(", uncertainty_mm = {}", toml_number(*found->second.sd_mm)) : "";
        rows += fmt::format("    {{ what = \"{}\", {}mm = {}{} }},\n", taking.key, which, toml_number(found->second.mm),
                            sd);
    }
    if (!rows.empty())
        out += fmt::format(
            "\nreading = [                         # in bench order; what is not here was not taken\n{}]\n", rows);
    return out + layout_text(layout);
}

std::string note_of_measured(const MeasuredFile& file) {
    return "Made from calliper readings." + (file.note.empty() ? "" : " " + file.note);
}

}  // namespace swashwright::scene
