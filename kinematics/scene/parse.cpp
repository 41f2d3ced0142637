// Scene text to head description: every key that formats 1 and 2 share and every rule about it. The rest: servos.cpp,
// levers.cpp.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/scene/file_kind.h"
#include "kinematics/scene/flight.h"
#include "kinematics/scene/levers.h"
#include "kinematics/scene/limits.h"
#include "kinematics/scene/servos.h"
#include "kinematics/scene/solids.h"

namespace swashwright::scene {
namespace {

using head::Description;
using List = std::optional<std::vector<Keys>>;

constexpr Kind small_error{"an error in mm", -1000, 1000};
constexpr Kind horn_travel{"horn travel in degrees", -360, 360};
constexpr Kind head_speed{"a head speed in turns a minute", 0, 100000};
constexpr Kind thread_pitch{"a thread pitch in mm", 0.05, 10};
constexpr Kind end_size{"a size in mm", 0, 1000};
constexpr Kind play{"play in mm", 0, 10};
constexpr Kind gap{"a gap in mm", 0, 100};
constexpr Kind stick_sum{"a sum of stick travels", 0, 2};

// How tables are written.
constexpr auto on_outer_ring = "{ radius_mm, ahead_deg, height_mm }";
constexpr auto list_on_inner_ring = "[{ radius_mm, azimuth_deg, height_mm }, ...]";
constexpr auto list_on_outer_ring = "[{ radius_mm, ahead_deg, height_mm }, ...]";

constexpr std::size_t servo_count = 3;
constexpr int fewest_blades = 2, most_blades = 6;
constexpr std::size_t longest_name = 200, longest_face = 60;

constexpr int newest_format = 2;
constexpr std::size_t most_balls = 24;  // on either ring

/// Objects to a list with more or fewer elements than wanted, where the first extra one or the last one stands.
void expect_count(List& list, std::optional<std::size_t> wanted, std::string_view why) {
    if (!list || !wanted || list->size() == *wanted) return;
    const std::size_t found = list->size();
    Keys& there = found > *wanted ? (*list)[*wanted] : list->back();
    there.mistake(fmt::format("expected {} in all, {}, found {}; {}", *wanted, why, found,
                              found > *wanted ? "take out the extra ones" : "add what is missing"));
}

std::vector<head::Polar> read_polars(const List& list, const char* angle_key) {
    std::vector<head::Polar> polars;
    if (list)
        for (const Keys& keys : *list) polars.push_back(read_polar(keys, angle_key));
    return polars;
}

head::Rotor read_rotor(Keys& keys, std::optional<std::size_t>& blades) {
    head::Rotor rotor;
    if (const auto count = keys.integer("blades", fewest_blades, most_blades)) {
        rotor.blades = *count;
        blades = static_cast<std::size_t>(*count);
    }
    rotor.direction = keys.word("direction", {"clockwise", "anticlockwise"}, true) == 0
                          ? head::Direction::clockwise
                          : head::Direction::anticlockwise;
    rotor.hub_height_mm = keys.number("hub_height_mm", coordinate);
    rotor.precone_deg = keys.number("precone_deg", coning);
    rotor.blade_tip_mm = keys.number("blade_tip_mm", length);
    rotor.head_speed_rpm = keys.number("head_speed_rpm", head_speed);
    keys.finish();
    return rotor;
}

void read_driver(Keys& keys, head::Swashplate& ring, bool plain) {
    ring.driver_pins_as_list = keys.has("driver_pins");
    keys.allow("driver_pin");
    if (!plain && !keys.has("driver_pin") && !keys.has("driver_pins")) return;
    if (!ring.driver_pins_as_list) {
        if (auto pin = keys.table("driver_pin", on_outer_ring)) ring.driver_pins = {read_polar(*pin, "ahead_deg")};
        return;
    }
    if (keys.has("driver_pin"))
        keys.mistake("driver_pins",
                     "found beside driver_pin; expected only one of the two: driver_pin for a single arm, "
                     "driver_pins for several");
    ring.driver_pins = read_polars(keys.tables("driver_pins", list_on_outer_ring), "ahead_deg");
}

/// Balls of a ring: on a plain head one for each servo or blade, else any number.
std::vector<head::Polar> read_balls(Keys& keys, const char* key, const char* form, const char* angle_key, bool plain,
                                    std::optional<std::size_t> wanted, std::string_view why) {
    keys.allow(key);
    if (!plain && !keys.has(key)) return {};
    List list = plain ? keys.tables(key, form) : keys.tables(key, form, most_balls);
    if (plain) expect_count(list, wanted, why);
    return read_polars(list, angle_key);
}

head::Swashplate read_swashplate(Keys& keys, std::optional<std::size_t> blades, bool plain) {
    head::Swashplate ring;
    ring.neutral_height_mm = keys.number("neutral_height_mm", coordinate);
    if (!plain) ring.tilts = keys.word("moves", {"slides and tilts", "slides"}, false) == 0;
    ring.inner_balls =
        read_balls(keys, "inner_balls", list_on_inner_ring, "azimuth_deg", plain, servo_count, "one for each servo");
    ring.guided = plain || keys.has("guide_pin");
    keys.allow("guide_pin");
    if (!ring.tilts && keys.has("guide_pin"))
        keys.mistake("guide_pin",
                     "found on a ring that only slides; expected none, since it does not turn; take it out");
    else if (ring.guided)
        if (auto pin = keys.table("guide_pin", on_inner_ring)) ring.guide_pin = read_polar(*pin, "azimuth_deg");
    ring.guide_turn_deg = keys.number("guide_turn_deg", angle, 0);
    ring.outer_balls =
        read_balls(keys, "outer_balls", list_on_outer_ring, "ahead_deg", plain, blades, "one for each blade");
    read_driver(keys, ring, plain);
    keys.allow("driver_pins");
    ring.driver_turn_deg = keys.number("driver_turn_deg", angle, 0);
    read_ring_limits(keys, ring);
    keys.finish();
    return ring;
}

}  // namespace

head::Link read_link(Keys& keys) {
    head::Link link;
    link.length_mm = keys.number("length_mm", length);
    link.error_mm = keys.number("error_mm", small_error, 0);
    link.end_faces =
        keys.word("end_faces", {"either", "one side"}, false) == 0 ? head::EndFaces::either : head::EndFaces::one_side;
    link.rod = keys.word("rod", {"plain", "turnbuckle"}, false) == 0 ? head::Rod::plain : head::Rod::turnbuckle;
    link.thread_pitch_mm = keys.number("thread_pitch_mm", thread_pitch, link.thread_pitch_mm);
    link.boss_mm = read_ends(keys, "boss_mm", end_size, link.boss_mm);
    link.end_length_mm = read_ends(keys, "end_length_mm", end_size, link.end_length_mm);
    link.play_mm = keys.number("play_mm", play, link.play_mm);
    read_link_limits(keys, link);
    keys.finish();
    if (keys.sound() && link.actual_mm() < length.low)
        keys.mistake("error_mm",
                     fmt::format("expected an error that leaves a link of {} mm or more, found {} on a length of {}",
                                 length.low, link.error_mm, link.length_mm));
    return link;
}

namespace {

std::vector<head::Link> read_links(Keys& top, const char* key, const char* form, std::optional<std::size_t> wanted,
                                   std::string_view why, std::vector<Place>& places) {
    std::vector<head::Link> links;
    List list = top.tables(key, form);
    expect_count(list, wanted, why);
    if (!list) return links;
    for (Keys& keys : *list) {
        links.push_back(read_link(keys));
        places.push_back(keys.place("length_mm"));
    }
    return links;
}

/// Of format 2: any number, none too, each with ends of its own if it likes.
std::vector<head::Link> read_free_links(Keys& top, const char* key, std::vector<Place>& places,
                                        std::vector<Ends>& ends) {
    std::vector<head::Link> links;
    top.allow(key);
    if (!top.has(key)) return links;
    List list = top.tables(key, "each headed with its name", most_parts);
    if (!list) return links;
    for (Keys& keys : *list) {
        ends.push_back(read_ends_of(keys, false));
        links.push_back(read_link(keys));
        places.push_back(keys.place("length_mm"));
    }
    return links;
}

head::Grip read_grip(Keys& keys, bool plain) {
    head::Grip grip;
    if (auto arm = keys.table("pitch_arm", "{ along_mm, lead_mm, up_mm }")) {
        grip.pitch_arm.along_mm = arm->number("along_mm", coordinate);
        grip.pitch_arm.lead_mm = arm->number("lead_mm", coordinate);
        grip.pitch_arm.up_mm = arm->number("up_mm", coordinate);
        arm->finish();
    }
    grip.pitch_offset_deg = keys.number("pitch_offset_deg", angle);
    grip.stud = optional_direction(keys, "stud", "[along, lead, up]");
    if (!plain) grip.lever = read_grip_lever(keys);
    grip.weights = read_weights(keys);
    keys.finish();
    return grip;
}

head::Face read_face(Keys& keys) {
    head::Face face;
    face.name = keys.text("name", longest_face);
    face.height_mm = keys.number("height_mm", coordinate);
    keys.finish();
    return face;
}

head::Mixing read_mixing(Keys& keys, head::Kind kind) {
    head::Mixing mixing;
    if (kind == head::Kind::tail) {
        mixing.rudder_deg = keys.number("rudder_deg", horn_travel);
        keys.finish();
        return mixing;
    }
    mixing.collective_deg = keys.number("collective_deg", horn_travel);
    mixing.cyclic_deg = keys.number("cyclic_deg", horn_travel);
    mixing.phase_deg = keys.number("phase_deg", angle);
    mixing.cyclic_stick = keys.word("cyclic_stick", {"circle", "square"}, false) == 0 ? head::CyclicStick::circle
                                                                                      : head::CyclicStick::square;
    mixing.combined_limit = keys.number("combined_limit", stick_sum, mixing.combined_limit);
    keys.finish();
    return mixing;
}

/// One mistake in place of many, where a file of format 1 has tables that only format 2 knows.
bool is_of_format_2(Keys& top) {
    for (const char* key : {"lever", "slider", "fixed_ball", "link", "pin", "kind"})
        if (top.has(key)) {
            top.mistake("format", fmt::format("expected 2, since the file has \"{}\", which format 1 does not know, "
                                              "found 1; write format = 2",
                                              key));
            return true;
        }
    return false;
}

/// Links with ends of their own, levers and the like: all that names balls.
void read_linkage(Keys& top, bool plain, std::optional<std::size_t> blades, Scene& scene) {
    Description& head = scene.head;
    if (plain) {
        head.lower_links = read_links(top, "lower_link", "each headed [[lower_link]]", servo_count,
                                      "one for each servo", scene.places.lower_links);
        head.upper_links = read_links(top, "upper_link", "each headed [[upper_link]]", blades, "one for each blade",
                                      scene.places.upper_links);
        return;
    }
    std::vector<Ends> lower, upper;
    head.lower_links = read_free_links(top, "lower_link", scene.places.lower_links, lower);
    head.upper_links = read_free_links(top, "upper_link", scene.places.upper_links, upper);
    read_levers(top, scene);
    name_ends(head, lower, head.lower_links, head::BallName::Of::servo, head::BallName::Of::inner_ball);
    name_ends(head, upper, head.upper_links, head::BallName::Of::outer_ball, head::BallName::Of::grip);
}

Scene read_scene(Keys& top) {
    Scene scene;
    Description& head = scene.head;
    std::optional<std::size_t> blades;
    const bool plain = !top.has("format") || top.integer("format", 1, newest_format) == 1;

    if (is_of_another_kind(top, FileKind::scene)) return scene;
    if (plain && is_of_format_2(top)) return scene;
    head.name = top.text("name", longest_name);
    scene.note = top.text("note", 0);
    if (!plain && top.word("kind", {"main", "tail"}, false) == 1) head.kind = head::Kind::tail;
    if (auto keys = top.table("rotor", "headed [rotor]")) head.rotor = read_rotor(*keys, blades);
    top.allow("measure_from");
    if (top.has("measure_from"))
        if (auto keys = top.table("measure_from", "headed [measure_from]")) head.measured_from = read_face(*keys);
    List servo_list = plain ? top.tables("servo", "each headed [[servo]]")
                            : top.tables("servo", "each headed [[servo]]", head::most_servos);
    if (plain) expect_count(servo_list, servo_count, "since format 1 writes rings on three servos only");
    if (servo_list)
        for (Keys& keys : *servo_list) head.servos.push_back(read_servo(keys));
    if (auto keys = top.table("swashplate", "headed [swashplate]")) {
        scene.places.swashplate = keys->place();
        head.swashplate = read_swashplate(*keys, blades, plain);
    }
    if (plain) read_linkage(top, plain, blades, scene);
    List grips = top.tables("grip", "each headed [[grip]]");
    expect_count(grips, blades, "one for each blade");
    if (grips)
        for (Keys& keys : *grips) head.grips.push_back(read_grip(keys, plain));
    if (!plain) read_linkage(top, plain, blades, scene);  // its levers may stand on grips
    for (std::size_t j = 0; servo_list && j < head.servos.size(); ++j)
        if (Keys& keys = (*servo_list)[j]; keys.sound()) {
            check_directions(head.servos[j], plain || head::linked_straight(head, j), keys);
            if (!plain) check_weights(head, j, keys);
        }
    if (grips && !plain)
        for (std::size_t k = 0; k < head.grips.size(); ++k) check_grip_lever(head, k, (*grips)[k]);
    top.allow("blade");
    if (top.has("blade"))
        if (auto keys = top.table("blade", "headed [blade]")) head.blade = read_blade(*keys);
    top.allow("flight");
    if (top.has("flight"))
        if (auto keys = top.table("flight", "headed [flight]")) head.flight = read_flight(*keys);
    if (auto keys = top.table("mixing", "headed [mixing]")) head.mixing = read_mixing(*keys, head.kind);
    head.clearance_mm = top.number("clearance_mm", gap, head.clearance_mm);
    top.allow("solid");
    if (top.has("solid"))
        if (List solids = top.tables("solid", "each headed [[solid]]"))
            for (Keys& keys : *solids)
                head.solids.push_back(
                    read_solid(keys, head, blades.value_or(most_blades), scene.places.solids.emplace_back()));
    top.finish();
    return scene;
}

}  // namespace

Result<Scene> parse(std::string_view text, std::string file) {
    return read_document(text, std::move(file), read_scene, newest_format);
}

}  // namespace swashwright::scene
