#include "kinematics/bench_files/readings.h"

#include <fmt/format.h>

#include <memory>
#include <sstream>

#include "kinematics/scene/file_kind.h"
#include "kinematics/scene/reader.h"
#include "kinematics/studies/diagnosis/zeroed_on.h"

namespace swashwright::scene {
namespace {

constexpr Kind stick{"a stick position", -1, 1};
constexpr Kind pitch{"a blade pitch in degrees", -180, 180};
constexpr Kind height{"a height in mm", -10000, 10000};
constexpr Kind radius{"a radius in mm", 0, 10000};
constexpr Kind uncertainty_deg{"one standard deviation in degrees", 0.001, 90};
constexpr Kind uncertainty_mm{"one standard deviation in mm", 0.001, 1000};
constexpr Kind zero_within{"one standard deviation of the gauge's zero in degrees, 0 where it was checked,", 0, 90};
constexpr Kind lean_within{"one standard deviation of the shaft's lean in degrees", 0, 45};

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

studies::Gauge read_gauge(Keys& keys) {
    studies::Gauge out;
    if (keys.has("zeroed_on"))
        out.zeroed_on = static_cast<studies::ZeroedOn>(keys.word("zeroed_on", studies::zeroed_on_words, false));
    keys.allow("zeroed_on");
    out.zero_within_deg = keys.number("zero_within_deg", zero_within, out.zero_within_deg);
    out.lean_within_deg = keys.number("lean_within_deg", lean_within, out.lean_within_deg);
    keys.finish();
    return out;
}

/// The readings of one sitting: lists and gauge under `keys`, whose heads start with `under`.
studies::Readings read_sitting(Keys& keys, const Counts& counts, const std::string& under) {
    studies::Readings out;
    const std::string pitches = fmt::format("each headed [[{}pitch]]", under),
                      heights = fmt::format("each headed [[{}ring_height]]", under),
                      gauge = fmt::format("headed [{}gauge]", under);
    if (keys.has("pitch"))
        if (auto list = keys.tables("pitch", pitches.c_str()))
            for (Keys& one : *list) out.pitch.push_back(read_pitch(one, counts));
    if (keys.has("ring_height"))
        if (auto list = keys.tables("ring_height", heights.c_str()))
            for (Keys& one : *list) out.ring_height.push_back(read_ring_height(one, counts));
    if (keys.has("gauge"))
        if (auto table = keys.table("gauge", gauge.c_str())) out.gauge = read_gauge(*table);
    for (const char* key : {"pitch", "ring_height", "gauge"}) keys.allow(key);
    return out;
}

bool has_reading(const Keys& keys) {
    return keys.has("pitch") || keys.has("ring_height");
}

ReadingsFile read_file_of(Keys& top, const Counts& counts) {
    ReadingsFile out;
    if (is_of_another_kind(top, FileKind::readings)) return out;
    out.note = top.text("note", 0);
    if (!has_reading(top) && !top.has("before"))
        top.mistake("there is no reading; add one headed [[pitch]] or [[ring_height]]");
    out.readings = read_sitting(top, counts, "");
    if (top.has("before"))
        if (auto before = top.table("before", "of readings headed [[before.pitch]] or [[before.ring_height]]")) {
            if (!has_reading(*before))
                before->mistake("there is no reading; add one headed [[before.pitch]] or [[before.ring_height]]");
            out.readings.before = std::make_shared<const studies::Readings>(read_sitting(*before, counts, "before."));
            before->finish();
        }
    top.allow("before");
    top.finish();
    return out;
}

toml::table sticks_table(const head::Sticks& sticks) {
    toml::table out{{"collective", sticks.collective}, {"aileron", sticks.aileron}, {"elevator", sticks.elevator}};
    if (sticks.rudder != 0) out.insert("rudder", sticks.rudder);
    return out;
}

toml::table pitch_table(const studies::PitchReading& r) {
    toml::table out = sticks_table(r.sticks);
    out.insert("blade", r.blade + 1);
    out.insert("azimuth_deg", r.azimuth_deg);
    out.insert("reading_deg", r.reading_deg);
    out.insert("uncertainty_deg", r.uncertainty_deg);
    return out;
}

toml::table ring_height_table(const studies::RingHeightReading& r) {
    toml::table out = sticks_table(r.sticks);
    if (r.ball) {
        out.insert("ball", *r.ball + 1);
    } else {
        out.insert("azimuth_deg", r.azimuth_deg);
        out.insert("radius_mm", r.radius_mm);
    }
    out.insert("reading_mm", r.reading_mm);
    out.insert("uncertainty_mm", r.uncertainty_mm);
    return out;
}

/// What is as usual is left out.
toml::table gauge_table(const studies::Gauge& gauge) {
    const studies::Gauge usual;
    toml::table out;
    if (gauge.zeroed_on) out.insert("zeroed_on", studies::word_of(*gauge.zeroed_on));
    if (gauge.zero_within_deg != usual.zero_within_deg) out.insert("zero_within_deg", gauge.zero_within_deg);
    if (gauge.lean_within_deg != usual.lean_within_deg) out.insert("lean_within_deg", gauge.lean_within_deg);
    return out;
}

toml::table sitting_table(const studies::Readings& readings) {
    toml::table out, gauge = gauge_table(readings.gauge);
    toml::array pitch_list, height_list;
    for (const studies::PitchReading& r : readings.pitch) pitch_list.push_back(pitch_table(r));
    for (const studies::RingHeightReading& r : readings.ring_height) height_list.push_back(ring_height_table(r));
    if (!gauge.empty()) out.insert("gauge", std::move(gauge));
    if (!pitch_list.empty()) out.insert("pitch", std::move(pitch_list));
    if (!height_list.empty()) out.insert("ring_height", std::move(height_list));
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
    toml::table all = sitting_table(file.readings);
    all.insert("format", 1);
    if (!file.note.empty()) all.insert("note", file.note);
    if (file.readings.before) all.insert("before", sitting_table(*file.readings.before));
    std::ostringstream out;
    out << all << '\n';
    return out.str();
}

}  // namespace swashwright::scene
