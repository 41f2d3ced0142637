#include "viewer/panels/ledger/ledger_rows.h"

#include <fmt/format.h>

#include <variant>

namespace swashwright::panels {

namespace {

using draw::Part;
using head::Description;
using head::Polar;
using head::Role;

Section links(const char* title, std::vector<head::Link> Description::*list, std::size_t count, Role kind) {
    Section section{title, {"length", "error"}, {}, true};
    for (std::size_t i = 0; i < count; ++i)
        section.rows.push_back(
            {fmt::format("link {}", i + 1),
             {kind, static_cast<int>(i)},
             {{"length_mm", [list, i](Description& d) -> double& { return (d.*list)[i].length_mm; }},
              {"error_mm", [list, i](Description& d) -> double& { return (d.*list)[i].error_mm; }, true}}});
    return section;
}

/// Radius, angle, height of a place that `at` finds.
Row place(std::string name, Part part, const char* angle_name, const std::function<Polar&(Description&)>& at) {
    return {std::move(name),
            part,
            {{"radius_mm", [at](Description& d) -> double& { return at(d).radius_mm; }},
             {angle_name, [at](Description& d) -> double& { return at(d).angle_deg; }},
             {"height_mm", [at](Description& d) -> double& { return at(d).height_mm; }}}};
}

Section servos(const Description& description) {
    Section section{"Servos", {"horn mm", "neutral \xC2\xB0", "trim \xC2\xB0"}, {}, false};
    for (std::size_t j = 0; j < description.servos.size(); ++j)
        section.rows.push_back({description.servos[j].name,
                                {Role::servo, static_cast<int>(j)},
                                {{"horn_mm", [j](Description& d) -> double& { return d.servos[j].horn_mm; }},
                                 {"neutral_deg", [j](Description& d) -> double& { return d.servos[j].neutral_deg; }},
                                 {"trim_deg", [j](Description& d) -> double& { return d.servos[j].trim_deg; }}}});
    return section;
}

Section travel(const Description& description) {
    Section section{"Servo travel about neutral", {"from \xC2\xB0", "to \xC2\xB0"}, {}, false};
    for (std::size_t j = 0; j < description.servos.size(); ++j)
        section.rows.push_back(
            {description.servos[j].name,
             {Role::servo, static_cast<int>(j)},
             {{"travel_deg", [j](Description& d) -> double& { return d.servos[j].travel_deg[0]; }},
              {"travel_deg", [j](Description& d) -> double& { return d.servos[j].travel_deg[1]; }}}});
    return section;
}

Row point(std::string name, Part part, std::size_t j) {
    const auto coordinate = [j](int axis) {
        return [j, axis](Description& d) -> double& { return std::get<Vec3>(d.servos[j].pivot_mm)[axis]; };
    };
    return {std::move(name),
            part,
            {{"pivot_mm x", coordinate(0)}, {"pivot_mm y", coordinate(1)}, {"pivot_mm z", coordinate(2)}}};
}

Section pivots(const Description& description) {
    Section section{"Servo pivots", {}, {}, false};
    bool polar = false, cartesian = false;
    for (std::size_t j = 0; j < description.servos.size(); ++j) {
        const Part part{Role::servo, static_cast<int>(j)};
        const bool is_polar = std::holds_alternative<Polar>(description.servos[j].pivot_mm);
        (is_polar ? polar : cartesian) = true;
        section.rows.push_back(
            is_polar ? place(description.servos[j].name, part, "azimuth_deg",
                             [j](Description& d) -> Polar& { return std::get<Polar>(d.servos[j].pivot_mm); })
                     : point(description.servos[j].name, part, j));
    }
    if (polar && cartesian)
        section.heads = {"x, radius", "y, azimuth", "z, height"};
    else if (polar)
        section.heads = {"radius", "azimuth", "height"};
    else
        section.heads = {"x", "y", "z"};
    return section;
}

Section inner_ring(const Description& description) {
    Section section{"Inner ring", {"radius", "azimuth", "height"}, {}, false};
    for (std::size_t j = 0; j < description.swashplate.inner_balls.size(); ++j)
        section.rows.push_back(place(fmt::format("ball {}", j + 1), {Role::inner_ring, 0}, "azimuth_deg",
                                     [j](Description& d) -> Polar& { return d.swashplate.inner_balls[j]; }));
    section.rows.push_back(place("guide pin", {Role::guide, 0}, "azimuth_deg",
                                 [](Description& d) -> Polar& { return d.swashplate.guide_pin; }));
    return section;
}

Section outer_ring(const Description& description) {
    Section section{"Outer ring", {"radius", "ahead", "height"}, {}, false};
    for (std::size_t k = 0; k < description.swashplate.outer_balls.size(); ++k)
        section.rows.push_back(place(fmt::format("ball {}", k + 1), {Role::outer_ring, 0}, "ahead_deg",
                                     [k](Description& d) -> Polar& { return d.swashplate.outer_balls[k]; }));
    const std::size_t pins = description.swashplate.driver_pins.size();
    for (std::size_t i = 0; i < pins; ++i)
        section.rows.push_back(place(pins == 1 ? "driver pin" : fmt::format("driver {}", i + 1),
                                     {Role::driver, static_cast<int>(i)}, "ahead_deg",
                                     [i](Description& d) -> Polar& { return d.swashplate.driver_pins[i]; }));
    return section;
}

Section grips(const Description& description) {
    Section section{"Pitch arms", {"along", "lead", "up"}, {}, false};
    for (std::size_t k = 0; k < description.grips.size(); ++k)
        section.rows.push_back({fmt::format("grip {}", k + 1),
                                {Role::grip, static_cast<int>(k)},
                                {{"along_mm", [k](Description& d) -> double& { return d.grips[k].pitch_arm.along_mm; }},
                                 {"lead_mm", [k](Description& d) -> double& { return d.grips[k].pitch_arm.lead_mm; }},
                                 {"up_mm", [k](Description& d) -> double& { return d.grips[k].pitch_arm.up_mm; }}}});
    return section;
}

Section offsets(const Description& description) {
    Section section{"Blade pitch offsets", {"offset \xC2\xB0"}, {}, false};
    for (std::size_t k = 0; k < description.grips.size(); ++k)
        section.rows.push_back(
            {fmt::format("blade {}", k + 1),
             {Role::blade, static_cast<int>(k)},
             {{"pitch_offset_deg", [k](Description& d) -> double& { return d.grips[k].pitch_offset_deg; }}}});
    return section;
}

Section settings() {
    Section section{"Mixing and turns", {"\xC2\xB0"}, {}, false};
    const auto row = [&](const char* name, Role kind, const char* key, auto value) {
        section.rows.push_back({name, {kind, 0}, {{key, value}}});
    };
    row("collective travel", Role::frame, "collective_deg",
        [](Description& d) -> double& { return d.mixing.collective_deg; });
    row("cyclic travel", Role::frame, "cyclic_deg", [](Description& d) -> double& { return d.mixing.cyclic_deg; });
    row("phase", Role::frame, "phase_deg", [](Description& d) -> double& { return d.mixing.phase_deg; });
    row("guide turned", Role::guide, "guide_turn_deg",
        [](Description& d) -> double& { return d.swashplate.guide_turn_deg; });
    row("driver turned", Role::driver, "driver_turn_deg",
        [](Description& d) -> double& { return d.swashplate.driver_turn_deg; });
    row("precone", Role::hub, "precone_deg", [](Description& d) -> double& { return d.rotor.precone_deg; });
    return section;
}

Section sizes() {
    Section section{"Shaft and rotor", {""}, {}, false};
    const auto row = [&](const char* name, Role kind, const char* key, auto value) {
        section.rows.push_back({name, {kind, 0}, {{key, value}}});
    };
    row("ring height, neutral mm", Role::inner_ring, "neutral_height_mm",
        [](Description& d) -> double& { return d.swashplate.neutral_height_mm; });
    row("hub height mm", Role::hub, "hub_height_mm", [](Description& d) -> double& { return d.rotor.hub_height_mm; });
    row("blade tip mm", Role::blade, "blade_tip_mm", [](Description& d) -> double& { return d.rotor.blade_tip_mm; });
    row("head speed rpm", Role::shaft, "head_speed_rpm",
        [](Description& d) -> double& { return d.rotor.head_speed_rpm; });
    return section;
}

}  // namespace

std::vector<Section> ledger_sections(const Description& description) {
    const auto with = [](Role more, Section section) {
        section.more = more;
        return section;
    };
    return {with(Role::servo, servos(description)),
            with(Role::lower_link,
                 links("Lower links", &Description::lower_links, description.lower_links.size(), Role::lower_link)),
            with(Role::upper_link,
                 links("Upper links", &Description::upper_links, description.upper_links.size(), Role::upper_link)),
            with(Role::blade, offsets(description)),
            with(Role::frame, settings()),
            travel(description),
            with(Role::grip, grips(description)),
            with(Role::outer_ring, outer_ring(description)),
            with(Role::inner_ring, inner_ring(description)),
            pivots(description),
            with(Role::hub, sizes())};
}

bool stands_for(const Row& row, const Part& part) {
    if (row.part == part) return true;
    return row.part.role == Role::servo && part.role == Role::horn && row.part.index == part.index;
}

}  // namespace swashwright::panels
