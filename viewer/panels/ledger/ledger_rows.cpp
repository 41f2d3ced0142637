#include "viewer/panels/ledger/ledger_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <initializer_list>
#include <variant>

#include "kinematics/head/inventory.h"
#include "kinematics/head/numbers.h"

namespace swashwright::panels {

namespace {

using draw::Part;
using head::Description;
using head::Number;
using head::NumberKind;
using head::Polar;
using head::Role;

/// What the numbers of a row have in common: the path without its last key, or without which coordinate it is.
std::string stem_of(const std::string& path) {
    return path.substr(0, path.ends_with(']') ? path.rfind('[') : path.rfind('.'));
}

/// "length_mm"; of a coordinate "pivot_mm x".
std::string key_of(const std::string& path) {
    std::string key = path.substr(path.rfind('.') + 1);
    if (!path.ends_with(']')) return key;
    const char which = path[path.size() - 2];
    return key.substr(0, key.find('[')) + (which == '1' ? " x" : which == '2' ? " y" : " z");
}

Part part_of(const Number& number) {
    switch (number.kind) {
        case NumberKind::driver_place:
            return {Role::driver, number.index};
        case NumberKind::pitch_offset:
            return {Role::blade, number.index};
        default:
            return head::part_of(number.part).value_or(Part{Role::frame, 0});
    }
}

/// The words of a point's coordinate without the coordinate: "bellcrank 1, ball 2".
std::string point_words(const Number& number) {
    std::string words = number.label.substr(0, number.label.rfind(' '));
    if (words.ends_with(',')) words.pop_back();
    return words;
}

std::string row_name(const Number& number, const Description& d) {
    const auto i = static_cast<std::size_t>(number.index);
    switch (number.kind) {
        case NumberKind::pivot:
        case NumberKind::horn_length:
            return d.servos[i].name;
        case NumberKind::lower_length:
        case NumberKind::upper_length:
            return fmt::format("link {}", i + 1);
        case NumberKind::other_length:
            return d.links[i].name.empty() ? fmt::format("link {}", i + 1) : d.links[i].name;
        case NumberKind::inner_ball:
        case NumberKind::outer_ball:
            return fmt::format("ball {}", i + 1);
        case NumberKind::driver_place:
            return d.swashplate.driver_pins.size() == 1 ? "driver pin" : fmt::format("driver {}", i + 1);
        case NumberKind::pitch_arm:
            return fmt::format("grip {}", i + 1);
        case NumberKind::pitch_offset:
            return fmt::format("blade {}", i + 1);
        default:
            return point_words(number);
    }
}

Cell cell_of(const Number& number) {
    return {key_of(number.path), number.at, head::is_error(number.kind)};
}

/// A section of the numbers of some kinds, those of one stem in a row.
Section section_of(const Description& d, const std::vector<Number>& numbers, std::string title,
                   std::vector<std::string> heads, std::initializer_list<NumberKind> kinds, bool open = false) {
    Section section{std::move(title), std::move(heads), {}, open};
    std::string stem;
    for (const Number& number : numbers) {
        if (std::ranges::find(kinds, number.kind) == kinds.end()) continue;
        if (std::string own = stem_of(number.path); own != stem || section.rows.empty()) {
            stem = std::move(own);
            section.rows.push_back({row_name(number, d), part_of(number), {}});
        }
        section.rows.back().cells.push_back(cell_of(number));
    }
    return section;
}

Section servo_travel(const Description& description) {
    Section section{"Servo travel about neutral", {"from \xC2\xB0", "to \xC2\xB0"}, {}, false};
    for (std::size_t j = 0; j < description.servos.size(); ++j)
        section.rows.push_back(
            {description.servos[j].name,
             {Role::servo, static_cast<int>(j)},
             {{"travel_deg", [j](Description& d) -> double& { return d.servos[j].travel_deg[0]; }},
              {"travel_deg", [j](Description& d) -> double& { return d.servos[j].travel_deg[1]; }}}});
    return section;
}

/// Of places by radius, an angle of this name, and height.
std::vector<std::string> polar_heads(const std::string& angle) {
    return {"radius mm", angle + " \xC2\xB0", "height mm"};
}

std::vector<std::string> pivot_heads(const Description& description) {
    bool polar = false, cartesian = false;
    for (const head::Servo& servo : description.servos)
        (std::holds_alternative<Polar>(servo.pivot_mm) ? polar : cartesian) = true;
    if (polar && cartesian) return {"forward or radius mm", "left mm, azimuth \xC2\xB0", "height mm"};
    if (polar) return polar_heads("azimuth");
    return {"forward mm", "left mm", "height mm"};
}

/// The heads over places that stand on these parts, and over balls in a part's `own` frame: see "Carrier's terms" in
/// scenes/README.md.
template <class Parts>
std::vector<std::string> place_heads(const Parts& parts, bool own) {
    using enum head::Carrier::On;
    bool turning = false, fixed = false;
    for (const auto& part : parts) {
        const auto on = part.on.on;
        if (on == hub || on == outer_ring || on == grip)
            turning = true;
        else if (on == lever || on == slider)
            own = true;
        else
            fixed = true;
    }
    // Several kinds in one table: x, y and z, which scenes/README.md explains.
    const std::array<const char*, 3> words = own || (turning && fixed) ? std::array{"x", "y", "z"}
                                             : turning                 ? std::array{"along", "lead", "up"}
                                                                       : std::array{"forward", "left", "height"};
    std::vector<std::string> heads;
    for (const char* word : words) heads.push_back(std::string(word) + " mm");
    return heads;
}

/// Its radius and height move nothing, and so are none of the head's numbers.
Row guide_pin() {
    const auto at = [](auto member) {
        return [member](Description& d) -> double& { return d.swashplate.guide_pin.*member; };
    };
    return {"guide pin",
            {Role::guide, 0},
            {{"radius_mm", at(&Polar::radius_mm)},
             {"azimuth_deg", at(&Polar::angle_deg)},
             {"height_mm", at(&Polar::height_mm)}}};
}

Section inner_ring(const Description& d, const std::vector<Number>& numbers) {
    Section section = section_of(d, numbers, d.swashplate.tilts ? "Inner ring" : "Pitch slider", polar_heads("azimuth"),
                                 {NumberKind::inner_ball});
    if (head::find_number(numbers, "swashplate.guide_turn_deg")) section.rows.push_back(guide_pin());
    return section;
}

Section settings(const std::vector<Number>& numbers) {
    struct Setting {
        const char *path, *name;
        Role role;
    };
    constexpr std::array<Setting, 7> all{{{"mixing.collective_deg", "collective travel", Role::frame},
                                          {"mixing.cyclic_deg", "cyclic travel", Role::frame},
                                          {"mixing.rudder_deg", "rudder travel", Role::frame},
                                          {"mixing.phase_deg", "phase", Role::frame},
                                          {"swashplate.guide_turn_deg", "guide turned", Role::guide},
                                          {"swashplate.driver_turn_deg", "driver turned", Role::driver},
                                          {"rotor.precone_deg", "precone", Role::hub}}};
    Section section{"Mixing and turns", {"angle \xC2\xB0"}, {}, false};
    for (const Setting& setting : all)
        if (const Number* number = head::find_number(numbers, setting.path))
            section.rows.push_back({setting.name, {setting.role, 0}, {cell_of(*number)}});
    return section;
}

Section sizes(const Description& description) {
    Section section{"Shaft and rotor", {""}, {}, false};
    const auto row = [&](const char* name, Role kind, const char* key, auto value) {
        section.rows.push_back({name, {kind, 0}, {{key, value}}});
    };
    row(description.swashplate.tilts ? "ring height, neutral mm" : "slider height, neutral mm", Role::inner_ring,
        "neutral_height_mm", [](Description& d) -> double& { return d.swashplate.neutral_height_mm; });
    row("hub height mm", Role::hub, "hub_height_mm", [](Description& d) -> double& { return d.rotor.hub_height_mm; });
    row("blade tip mm", Role::blade, "blade_tip_mm", [](Description& d) -> double& { return d.rotor.blade_tip_mm; });
    row("head speed rpm", Role::shaft, "head_speed_rpm",
        [](Description& d) -> double& { return d.rotor.head_speed_rpm; });
    return section;
}

}  // namespace

std::vector<Section> ledger_sections(const Description& d) {
    using enum NumberKind;
    const std::vector<Number> numbers = head::numbers(d);
    std::vector<Section> all;
    const auto add = [&](Section section, std::optional<Role> more) {
        section.more = more;
        if (!section.rows.empty()) all.push_back(std::move(section));
    };
    const auto add_of = [&](Role more, const char* title, std::vector<std::string> heads,
                            std::initializer_list<NumberKind> kinds, bool open = false) {
        add(section_of(d, numbers, title, std::move(heads), kinds, open), more);
    };
    add_of(Role::servo, "Servos", {"horn mm", "neutral \xC2\xB0", "trim \xC2\xB0"}, {horn_length, neutral, trim});
    add_of(Role::lower_link, "Lower links", {"length mm", "error mm"}, {lower_length, lower_error}, true);
    add_of(Role::upper_link, "Upper links", {"length mm", "error mm"}, {upper_length, upper_error}, true);
    add_of(Role::other_link, "Other links", {"length mm", "error mm"}, {other_length, other_error}, true);
    add_of(Role::blade, "Blade pitch offsets", {"offset \xC2\xB0"}, {pitch_offset});
    add(settings(numbers), Role::frame);
    add(servo_travel(d), {});
    add_of(Role::grip, "Pitch arms", {"along mm", "lead mm", "up mm"}, {pitch_arm});
    add_of(Role::lever, "Levers", place_heads(d.levers, true), {lever_pivot, lever_ball});
    add_of(Role::slider, "Sliders", place_heads(d.sliders, true), {slider_place, slider_ball});
    add(section_of(d, numbers, "Fixed balls", place_heads(d.fixed_balls, false), {fixed_ball}), {});
    add_of(Role::outer_ring, "Outer ring", polar_heads("ahead"), {outer_ball, driver_place});
    add(inner_ring(d, numbers), Role::inner_ring);
    add(section_of(d, numbers, "Servo pivots", pivot_heads(d), {pivot}), {});
    add(sizes(d), Role::hub);
    all.push_back({.title = "New parts, pins", .heads = {}, .rows = {}, .adds = true});
    return all;
}

bool has_part(const Description& d, const Part& part) {
    if (part.role == Role::guide) return d.swashplate.guided;
    const std::size_t count =
        part.role == Role::driver ? d.swashplate.driver_pins.size() : head::count_of(d, part.role);
    return part.index >= 0 && static_cast<std::size_t>(part.index) < count;
}

bool stands_for(const Row& row, const Part& part) {
    if (row.part == part) return true;
    return row.part.role == Role::servo && part.role == Role::horn && row.part.index == part.index;
}

}  // namespace swashwright::panels
