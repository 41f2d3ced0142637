#include "kinematics/studies/diagnosis/faults.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/inventory.h"

namespace swashwright::studies {
namespace {

using head::Description;

constexpr double same_mm = 1e-6;

class List {
public:
    void add(FaultKind kind, int index, std::string part, std::string words, const char* unit) {
        all.push_back({kind, index, -1, 0, std::move(part), std::move(words), unit});
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
                     fmt::format("{}s {} and {} swapped", head::link_kind_words(of), i + 1, j + 1), "");
            list.all.back().other = j;
        }
}

void add_teeth(List& list, const Description& d, int teeth) {
    for (int j = 0; j < static_cast<int>(d.servos.size()); ++j)
        for (int t = -teeth; t <= teeth; ++t) {
            if (t == 0 || d.servos[j].spline_teeth <= 0) continue;
            list.add(FaultKind::horn_tooth, j, fmt::format("servo[{}]", j + 1),
                     fmt::format("{}: horn {:+d} {}", head::servo_words(d.servos[j]), t,
                                 std::abs(t) == 1 ? "tooth" : "teeth"),
                     "");
            list.all.back().teeth = t;
        }
}

void add_kind(List& list, FaultKind kind, const Description& d, int teeth) {
    const int servos = static_cast<int>(d.servos.size()), blades = d.rotor.blades;
    const auto each_link = [&](head::Role of) {
        for (int l = 0; l < static_cast<int>(head::count_of(d, of)); ++l)
            list.add(kind, l, head::path_of({of, l}), head::link_words(d, {of, l}), "mm");
    };
    const auto each_blade = [&](const char* words, const char* unit) {
        for (int k = 0; k < blades; ++k)
            list.add(kind, k, fmt::format("grip[{}]", k + 1), fmt::format(fmt::runtime(words), k + 1), unit);
    };
    switch (kind) {
        case FaultKind::lower_link:
            return each_link(head::Role::lower_link);
        case FaultKind::upper_link:
            return each_link(head::Role::upper_link);
        case FaultKind::other_link:
            return each_link(head::Role::other_link);
        case FaultKind::swapped_lower:
            return add_swaps(list, kind, d, head::Role::lower_link);
        case FaultKind::swapped_upper:
            return add_swaps(list, kind, d, head::Role::upper_link);
        case FaultKind::horn_tooth:
            return add_teeth(list, d, teeth);
        case FaultKind::trim:
            for (int j = 0; j < servos; ++j)
                list.add(kind, j, fmt::format("servo[{}]", j + 1), head::servo_words(d.servos[j]) + ": trim", "deg");
            break;
        case FaultKind::guide_turn:
            if (!d.swashplate.guided || !d.swashplate.tilts) return;
            return list.add(kind, 0, "swashplate", "guide turned", "deg");
        case FaultKind::driver_turn:
            if (d.swashplate.driver_pins.empty()) return;
            return list.add(kind, 0, "swashplate", "driver collar slipped", "deg");
        case FaultKind::bent_spindle:
            return each_blade("spindle {} bent upwards", "mm");
        case FaultKind::arm_lead:
            return each_blade("arm ball {} ahead", "mm");
        case FaultKind::arm_along:
            return each_blade("arm ball {} outwards", "mm");
        case FaultKind::arm_turn:
            return each_blade("arm ball {} turned up", "deg");
        case FaultKind::blade_offset:
            return each_blade("blade {} offset on its grip", "deg");
    }
}

/// Each in the other's place: the places keep their names and balls.
void swap_rods(head::Link& a, head::Link& b) {
    std::swap(a, b);
    std::swap(a.name, b.name);
    std::swap(a.ends, b.ends);
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
        case FaultKind::trim:
            return 4.0;
        case FaultKind::guide_turn:
        case FaultKind::driver_turn:
            return 10.0;
        default:
            return 2.5;
    }
}

std::vector<Fault> faults(const Description& description, std::span<const FaultKind> kinds, int teeth) {
    List list;
    for (const FaultKind kind : kinds) add_kind(list, kind, description, teeth);
    return std::move(list.all);
}

void apply(const Fault& fault, double size, Description& d) {
    const auto i = static_cast<std::size_t>(fault.index);
    const auto arm = [&]() -> head::PitchArm& { return d.grips[i].pitch_arm; };
    const auto link = [&](int index) { return link_of(d, {head::part_of(fault.part)->role, index}); };
    switch (fault.kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
            link(fault.index)->error_mm += size;
            break;
        case FaultKind::swapped_lower:
        case FaultKind::swapped_upper:
            swap_rods(*link(fault.index), *link(fault.other));
            break;
        case FaultKind::horn_tooth:
            d.servos[i].trim_deg += 360.0 * fault.teeth / d.servos[i].spline_teeth;
            break;
        case FaultKind::trim:
            d.servos[i].trim_deg += size;
            break;
        case FaultKind::guide_turn:
            d.swashplate.guide_turn_deg += size;
            break;
        case FaultKind::driver_turn:
            d.swashplate.driver_turn_deg += size;
            break;
        case FaultKind::bent_spindle:
            arm().up_mm += size;
            break;
        case FaultKind::arm_lead:
            arm().lead_mm += size;
            break;
        case FaultKind::arm_along:
            arm().along_mm += size;
            break;
        case FaultKind::arm_turn: {
            const double c = std::cos(size * degree), s = std::sin(size * degree);
            arm() = {arm().along_mm, c * arm().lead_mm - s * arm().up_mm, s * arm().lead_mm + c * arm().up_mm};
            break;
        }
        case FaultKind::blade_offset:
            d.grips[i].pitch_offset_deg += size;
            break;
    }
}

std::vector<std::pair<head::Number, double>> rates(const Fault& fault, const Description& d,
                                                   const std::vector<head::Number>& all) {
    const int i = fault.index + 1;
    using Rates = std::vector<std::pair<head::Number, double>>;
    const auto by = [&](Rates out, const std::string& path, double rate) {
        if (const head::Number* number = head::find_number(all, path)) out.emplace_back(*number, rate);
        return out;
    };
    const auto one = [&](const std::string& path) { return by({}, path, 1); };
    switch (fault.kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
            return one(fault.part + ".error_mm");
        case FaultKind::trim:
            return one(fmt::format("servo[{}].trim_deg", i));
        case FaultKind::guide_turn:
            return one("swashplate.guide_turn_deg");
        case FaultKind::driver_turn:
            return one("swashplate.driver_turn_deg");
        case FaultKind::bent_spindle:
            return one(fmt::format("grip[{}].pitch_arm.up_mm", i));
        case FaultKind::arm_lead:
            return one(fmt::format("grip[{}].pitch_arm.lead_mm", i));
        case FaultKind::arm_along:
            return one(fmt::format("grip[{}].pitch_arm.along_mm", i));
        case FaultKind::arm_turn: {
            const head::PitchArm& arm = d.grips[static_cast<std::size_t>(fault.index)].pitch_arm;
            return by(by({}, fmt::format("grip[{}].pitch_arm.lead_mm", i), -arm.up_mm * degree),
                      fmt::format("grip[{}].pitch_arm.up_mm", i), arm.lead_mm * degree);
        }
        case FaultKind::blade_offset:
            return one(fmt::format("grip[{}].pitch_offset_deg", i));
        default:
            return {};
    }
}

}  // namespace swashwright::studies
