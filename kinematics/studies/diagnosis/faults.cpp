#include "kinematics/studies/diagnosis/faults.h"

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"

namespace swashwright::studies {
namespace {

using head::Description;

constexpr double same_mm = 1e-6;

class List {
public:
    Fault& add(FaultKind kind, int index, std::string part, std::string words, const char* unit) {
        return all.emplace_back(Fault{kind, index, -1, 0, std::move(part), std::move(words), unit});
    }
    std::vector<Fault> all;
};

void add_swaps(List& list, FaultKind kind, const Description& d, head::Role of) {
    const auto& links = links_of(d, of);
    const int count = static_cast<int>(links.size());
    for (int i = 0; i < count; ++i)
        for (int j = i + 1; j < count; ++j) {
            if (std::abs(links[i].actual_mm() - links[j].actual_mm()) < same_mm) continue;
            list.add(kind, i, head::path_of({of, i}),
                     fmt::format("{}s {} and {} swapped", head::link_kind_words(of), i + 1, j + 1), "")
                .other = j;
        }
}

void add_teeth(List& list, const Description& d, int teeth) {
    for (int j = 0; j < static_cast<int>(d.servos.size()); ++j)
        for (int t = -teeth; t <= teeth; ++t) {
            if (t == 0 || d.servos[j].spline_teeth <= 0) continue;
            list.add(FaultKind::horn_tooth, j, fmt::format("servo[{}]", j + 1),
                     fmt::format("{}: horn {}", head::servo_words(d.servos[j]), teeth_turned(t)), "")
                .teeth = t;
        }
}

void add_servos(List& list, FaultKind kind, const Description& d, const char* words, const char* unit) {
    for (int j = 0; j < static_cast<int>(d.servos.size()); ++j)
        list.add(kind, j, fmt::format("servo[{}]", j + 1), head::servo_words(d.servos[j]) + words, unit);
}

void add_end_points(List& list, const Description& d) {
    for (const int end : {0, 1})
        for (int j = 0; j < static_cast<int>(d.servos.size()); ++j)
            list.add(FaultKind::end_point, j, fmt::format("servo[{}]", j + 1),
                     fmt::format("{}: end point {}", head::servo_words(d.servos[j]), end ? "upwards" : "downwards"),
                     "%")
                .other = end;
}

void add_signs(List& list, const Description& d) {
    const bool tail = d.kind == head::Kind::tail;
    for (int stick = tail ? 3 : 0; stick < (tail ? 4 : 3); ++stick)
        list.add(FaultKind::mixer_sign, stick, "mixing", fmt::format("mix: {} has the wrong sign", stick_names[stick]),
                 "");
}

void add_links(List& list, FaultKind kind, const Description& d, head::Role of, const char* words, const char* unit) {
    for (int l = 0; l < static_cast<int>(head::count_of(d, of)); ++l)
        list.add(kind, l, head::path_of({of, l}), head::link_words(d, {of, l}) + words, unit).length_mm =
            head::link_of(d, {of, l})->length_mm;
}

void add_blades(List& list, FaultKind kind, const Description& d, const char* words, const char* unit) {
    for (int k = 0; k < d.rotor.blades; ++k) {
        const head::PitchArm& arm = d.grips[static_cast<std::size_t>(k)].pitch_arm;
        list.add(kind, k, fmt::format("grip[{}]", k + 1), fmt::format(fmt::runtime(words), k + 1), unit).length_mm =
            std::hypot(arm.along_mm, arm.lead_mm, arm.up_mm);
    }
}

/// The ring must tilt on a straight part of the shaft and hold nothing but balls: those are what `apply` moves.
void add_bent_shaft(List& list, const Description& d) {
    const auto on_outer_ring = [](const auto& thing) { return thing.on.on == head::Carrier::On::outer_ring; };
    if (!d.swashplate.tilts || d.swashplate.outer_balls.empty() || std::ranges::any_of(d.levers, on_outer_ring) ||
        std::ranges::any_of(d.sliders, on_outer_ring) || std::ranges::any_of(d.fixed_balls, on_outer_ring))
        return;
    list.add(FaultKind::bent_shaft, 0, "rotor.shaft", "main shaft bent towards blade 1", "deg");
    list.add(FaultKind::bent_shaft, 1, "rotor.shaft", "main shaft bent ahead of blade 1", "deg");
}

void add_kind(List& list, FaultKind kind, const Description& d, int teeth) {
    using head::Role;
    switch (kind) {
        case FaultKind::lower_link:
            return add_links(list, kind, d, Role::lower_link, "", "mm");
        case FaultKind::upper_link:
            return add_links(list, kind, d, Role::upper_link, "", "mm");
        case FaultKind::other_link:
            return add_links(list, kind, d, Role::other_link, "", "mm");
        case FaultKind::swapped_lower:
            return add_swaps(list, kind, d, Role::lower_link);
        case FaultKind::swapped_upper:
            return add_swaps(list, kind, d, Role::upper_link);
        case FaultKind::horn_tooth:
            return add_teeth(list, d, teeth);
        case FaultKind::trim:
            return add_servos(list, kind, d, ": trim", "deg");
        case FaultKind::servo_reversed:
            return add_servos(list, kind, d, " runs the wrong way", "");
        case FaultKind::mixer_sign:
            return add_signs(list, d);
        case FaultKind::end_point:
            return add_end_points(list, d);
        case FaultKind::guide_turn:
            if (!d.swashplate.guided || !d.swashplate.tilts) return;
            list.add(kind, 0, head::path_of({head::Role::guide, 0}), "guide turned", "deg");
            return;
        case FaultKind::driver_turn:
            if (d.swashplate.driver_pins.empty()) return;
            list.add(kind, 0, head::path_of({head::Role::driver, 0}), "driver collar slipped", "deg");
            return;
        case FaultKind::bent_spindle:
            return add_blades(list, kind, d, "spindle {} bent upwards", "mm");
        case FaultKind::arm_lead:
            return add_blades(list, kind, d, "arm ball {} ahead", "mm");
        case FaultKind::arm_along:
            return add_blades(list, kind, d, "arm ball {} outwards", "mm");
        case FaultKind::arm_turn:
            return add_blades(list, kind, d, "pitch arm {} turned on its grip", "deg");
        case FaultKind::blade_offset:
            return add_blades(list, kind, d, "blade {} offset on its grip", "deg");
        case FaultKind::bent_shaft:
            return add_bent_shaft(list, d);
        case FaultKind::stripped_gear:
            return add_servos(list, kind, d, ": stripped gear", "deg");
        case FaultKind::worn_end:
            for (const Role of : {Role::lower_link, Role::upper_link, Role::other_link})
                add_links(list, kind, d, of, ": worn end", "mm");
    }
}

}  // namespace

double Fault::usual_size() const {
    switch (kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
        case FaultKind::bent_spindle:
        case FaultKind::arm_lead:
        case FaultKind::arm_along:
            return 1.0;
        case FaultKind::worn_end:
            return 0.15;
        case FaultKind::bent_shaft:
            return 0.5;
        case FaultKind::trim:
            return 4.0;
        case FaultKind::end_point:
            return 8.0;
        case FaultKind::guide_turn:
        case FaultKind::driver_turn:
            return 10.0;
        default:
            return 2.5;
    }
}

double Fault::largest() const {
    // Links of 20 mm and pitch arms of 15 mm may be 3 mm off, smaller ones less.
    const auto part_of_length = [&](double share) { return length_mm > 0 ? std::min(3.0, share * length_mm) : 3.0; };
    switch (kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
            return part_of_length(0.15);
        case FaultKind::bent_spindle:
        case FaultKind::arm_lead:
        case FaultKind::arm_along:
            return part_of_length(0.2);
        case FaultKind::worn_end:
            return 0.6;
        case FaultKind::bent_shaft:
            return 2.0;
        case FaultKind::trim:
            return 15.0;
        case FaultKind::end_point:
            return 40.0;
        case FaultKind::guide_turn:
        case FaultKind::driver_turn:
            return 30.0;
        case FaultKind::arm_turn:
        case FaultKind::blade_offset:
            return 8.0;
        case FaultKind::stripped_gear:
            return 10.0;
        default:
            return std::numeric_limits<double>::infinity();
    }
}

std::vector<Fault> faults(const Description& description, std::span<const FaultKind> kinds, int teeth) {
    List list;
    for (const FaultKind kind : kinds) add_kind(list, kind, description, teeth);
    return std::move(list.all);
}

}  // namespace swashwright::studies
