#include "kinematics/bench_files/readings.h"

#include <sstream>

#include "kinematics/scene/file_kind.h"
#include "kinematics/scene/reader.h"

namespace swashwright::scene {
namespace {

constexpr Kind stick{"a stick position", -1, 1};
constexpr Kind pitch{"a blade pitch in degrees", -180, 180};
constexpr Kind height{"a height in mm", -10000, 10000};
constexpr Kind radius{"a radius in mm", 0, 10000};
constexpr Kind uncertainty_deg{"one standard deviation in degrees", 0.001, 90};
constexpr Kind uncertainty_mm{"one standard deviation in mm", 0.001, 1000};
/// How many the head has; the most that any may have where it is not known.
struct Counts {
    int blades = 6, balls = 6;
    bool rudder = true;  // it may be a tail
};

/// Sticks that are left out are centred.
head::Sticks read_sticks(Keys& keys, bool rudder) {
    head::Sticks out{keys.number("collective", stick, 0), keys.number("aileron", stick, 0),
                     keys.number("elevator", stick, 0)};
    if (rudder) out.rudder = keys.number("rudder", stick, 0);
    return out;
}

studies::PitchReading read_pitch(Keys& keys, const Counts& counts) {
    studies::PitchReading r;
    r.blade = keys.integer("blade", 1, counts.blades).value_or(1) - 1;
    r.sticks = read_sticks(keys, counts.rudder);
    r.azimuth_deg = keys.number("azimuth_deg", angle);
    r.reading_deg = keys.number("reading_deg", pitch);
    r.uncertainty_deg = keys.number("uncertainty_deg", uncertainty_deg, r.uncertainty_deg);
    keys.finish();
    return r;
}

studies::RingHeightReading read_ring_height(Keys& keys, const Counts& counts) {
    studies::RingHeightReading r;
    if (keys.has("ball")) {
        r.ball = keys.integer("ball", 1, counts.balls).value_or(1) - 1;
        for (const char* key : {"azimuth_deg", "radius_mm"})
            if (keys.has(key))
                keys.mistake(key, "found beside ball; expected ball, or azimuth_deg and radius_mm, not both");
    } else if (!keys.has("azimuth_deg") && !keys.has("radius_mm")) {
        keys.mistake(
            "where on the ring is missing; add ball = 1 (counted as in the scene), or azimuth_deg and radius_mm");
    } else {
        r.azimuth_deg = keys.number("azimuth_deg", angle);
        r.radius_mm = keys.number("radius_mm", radius);
    }
    for (const char* key : {"ball", "azimuth_deg", "radius_mm"}) keys.allow(key);
    r.sticks = read_sticks(keys, counts.rudder);
    r.reading_mm = keys.number("reading_mm", height);
    r.uncertainty_mm = keys.number("uncertainty_mm", uncertainty_mm, r.uncertainty_mm);
    keys.finish();
    return r;
}

ReadingsFile read_file_of(Keys& top, const Counts& counts) {
    ReadingsFile out;
    if (is_of_another_kind(top, FileKind::readings)) return out;
    out.note = top.text("note", 0);
    if (!top.has("pitch") && !top.has("ring_height"))
        top.mistake("there is no reading; add one headed [[pitch]] or [[ring_height]]");
    if (top.has("pitch"))
        if (auto list = top.tables("pitch", "each headed [[pitch]]"))
            for (Keys& keys : *list) out.readings.pitch.push_back(read_pitch(keys, counts));
    if (top.has("ring_height"))
        if (auto list = top.tables("ring_height", "each headed [[ring_height]]"))
            for (Keys& keys : *list) out.readings.ring_height.push_back(read_ring_height(keys, counts));
    for (const char* key : {"pitch", "ring_height"}) top.allow(key);
    top.finish();
    return out;
}

toml::table sticks_table(const head::Sticks& sticks) {
    toml::table out{{"collective", sticks.collective}, {"aileron", sticks.aileron}, {"elevator", sticks.elevator}};
    if (sticks.rudder != 0) out.insert("rudder", sticks.rudder);
    return out;
}

}  // namespace

Result<ReadingsFile> parse_readings(std::string_view text, std::string file, const head::Description* head) {
    Counts counts;
    if (head)
        counts = {static_cast<int>(head->grips.size()), static_cast<int>(head->swashplate.inner_balls.size()),
                  head->kind == head::Kind::tail};
    return read_document(text, std::move(file), [&](Keys& top) { return read_file_of(top, counts); });
}

Result<ReadingsFile> load_readings(const std::string& path, const head::Description* head) {
    const auto text = read_file(path, "a file of readings");
    if (!text) return tl::unexpected(text.error());
    return parse_readings(*text, path, head);
}

std::string write(const ReadingsFile& file) {
    toml::table all{{"format", 1}};
    if (!file.note.empty()) all.insert("note", file.note);
    toml::array pitch_list, height_list;
    for (const studies::PitchReading& r : file.readings.pitch) {
        toml::table row = sticks_table(r.sticks);
        row.insert("blade", r.blade + 1);
        row.insert("azimuth_deg", r.azimuth_deg);
        row.insert("reading_deg", r.reading_deg);
        row.insert("uncertainty_deg", r.uncertainty_deg);
        pitch_list.push_back(std::move(row));
    }
    for (const studies::RingHeightReading& r : file.readings.ring_height) {
        toml::table row = sticks_table(r.sticks);
        if (r.ball) {
            row.insert("ball", *r.ball + 1);
        } else {
            row.insert("azimuth_deg", r.azimuth_deg);
            row.insert("radius_mm", r.radius_mm);
        }
        row.insert("reading_mm", r.reading_mm);
        row.insert("uncertainty_mm", r.uncertainty_mm);
        height_list.push_back(std::move(row));
    }
    if (!pitch_list.empty()) all.insert("pitch", std::move(pitch_list));
    if (!height_list.empty()) all.insert("ring_height", std::move(height_list));
    std::ostringstream out;
    out << all << '\n';
    return out.str();
}

}  // namespace swashwright::scene
