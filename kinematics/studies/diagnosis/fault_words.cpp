#include "kinematics/studies/diagnosis/fault_words.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/studies/answer/figures.h"

namespace swashwright::studies {
namespace {

std::string with_size(const Fault& fault, double size) {
    const std::string amount = fmt::format("{:.2f} {}", std::abs(size), fault.unit);
    const bool plus = size > 0;
    const int blade = fault.index + 1;
    switch (fault.kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
            return fmt::format("{} is {} too {}", fault.words, amount, plus ? "long" : "short");
        case FaultKind::trim:
            return fmt::format("{} is {} too far {}, seen on the horn's face", fault.words, amount,
                               plus ? "anticlockwise" : "clockwise");
        case FaultKind::end_point:
            return fmt::format("{} is {} too {}", fault.words, amount, plus ? "far" : "near");
        case FaultKind::guide_turn:
            return fmt::format("the guide is turned {} {}, seen from above", amount,
                               plus ? "anticlockwise" : "clockwise");
        case FaultKind::driver_turn:
            return fmt::format("the driver collar has slipped {} {}", amount, plus ? "ahead" : "back");
        case FaultKind::bent_spindle:
            return fmt::format("spindle {} is bent, its arm's ball {} too {}", blade, amount, plus ? "high" : "low");
        case FaultKind::arm_lead:
            return fmt::format("the ball of pitch arm {} is {} too far {}", blade, amount, plus ? "ahead" : "back");
        case FaultKind::arm_along:
            return fmt::format("the ball of pitch arm {} is {} too far {}", blade, amount, plus ? "out" : "in");
        case FaultKind::arm_turn:
            return fmt::format("pitch arm {} is turned {} on its grip, the way a blade turns for {} pitch", blade,
                               amount, plus ? "more" : "less");
        case FaultKind::blade_offset:
            return fmt::format("blade {} sits on its grip with {} too {} pitch", blade, amount,
                               plus ? "much" : "little");
        case FaultKind::bent_shaft:
            if (fault.index == 0)
                return fmt::format("the main shaft is bent {} {} blade 1", amount, plus ? "towards" : "away from");
            return fmt::format("the main shaft is bent {} {} blade 1", amount, plus ? "ahead of" : "behind");
        default:
            return fmt::format("{}, {} {}", fault.words, signed_figure(size, 2), fault.unit);
    }
}

}  // namespace

std::string spread_words(double deviation, const std::string& unit) {
    return fmt::format("± {:.2f} {}, 95 %", for_95_percent * deviation, unit);
}

std::string fault_words(const Fault& fault, double size) {
    if (fault.kind == FaultKind::horn_tooth) return fault.words + ", seen on the horn's face";
    return fault.sized() ? with_size(fault, size) : fault.words;
}

std::string fault_words(const Fault& fault, double size, double deviation) {
    const std::string words = fault_words(fault, size);
    return fault.sized() ? fmt::format("{} ({})", words, spread_words(deviation, fault.unit)) : words;
}

}  // namespace swashwright::studies
