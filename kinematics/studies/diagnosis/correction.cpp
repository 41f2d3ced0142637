#include "kinematics/studies/diagnosis/correction.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"

namespace swashwright::studies {
namespace {

bool of_a_blade(FaultKind kind) {
    return kind == FaultKind::bent_spindle || kind == FaultKind::arm_lead || kind == FaultKind::arm_along ||
           kind == FaultKind::arm_turn || kind == FaultKind::blade_offset;
}

/// The link on a blade's pitch arm; none where there is none.
const head::LinkRod* link_on_arm(const head::Head& head, int blade) {
    const head::Model& model = head.model();
    const auto grip = model.find(head::Role::grip, blade);
    for (const head::LinkRod& rod : model.rods())
        for (const head::BallEnd& end : rod.ends)
            if (end.part == grip) return &rod;
    return nullptr;
}

/// Change of the link on its pitch arm that hides a fault of a blade at mid stick, mm.
std::optional<double> hiding_change(const Fault& fault, double size, const head::Head& head, const head::LinkRod& rod) {
    head::Solver solver(head);
    if (!solver.pose(head::Sticks{}, 0) || !solver.linearise()) return std::nullopt;
    const auto blade = static_cast<std::size_t>(fault.index);
    head::Slopes slopes;
    double by_fault = 0;
    for (const auto& [parameter, speed] : rates(fault, head.description(), head::numbers(head.description()))) {
        solver.slopes_by(parameter, slopes);
        by_fault += speed * slopes.pitch_deg[blade];
    }
    const auto own_link = head::number_at(head.description(), head.model().part(rod.part).path + ".error_mm");
    if (!own_link) return std::nullopt;
    solver.slopes_by(*own_link, slopes);
    if (!(std::abs(slopes.pitch_deg[blade]) > 1e-6)) return std::nullopt;
    return -size * by_fault / slopes.pitch_deg[blade];
}

/// The steps that it takes.
int set_link(Correction& out, const head::Link& link, double change_mm) {
    const int steps = static_cast<int>(std::lround(change_mm / link_step(link).mm));
    out.change_mm = change_mm;
    out.turns = turns_for(link, change_mm);
    out.words = steps_in_words(link, steps);
    return steps;
}

}  // namespace

Correction correction(const Fault& fault, double size, const head::Head& head) {
    Correction out{fault.part, {}, {}, {}};
    switch (fault.kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
            set_link(out, *link_of(head.description(), *head::part_of(fault.part)), -size);
            break;
        case FaultKind::swapped_lower:
        case FaultKind::swapped_upper:
            out.words = "swap them back";
            break;
        case FaultKind::horn_tooth:
            out.words = "turn the horn " + teeth_words(-fault.teeth);
            break;
        case FaultKind::trim:
            out.words = fmt::format("{} deg of horn angle", signed_figure(-size, 1));
            break;
        case FaultKind::guide_turn:
            out.words = fmt::format("turn the guide {:.1f} deg {}, seen from above", std::abs(size),
                                    size > 0 ? "clockwise" : "anticlockwise");
            break;
        case FaultKind::driver_turn:
            out.words = fmt::format("turn the collar {:.1f} deg {}", std::abs(size), size > 0 ? "back" : "ahead");
            break;
        default:
            break;
    }
    if (!of_a_blade(fault.kind)) return out;
    const head::LinkRod* rod = link_on_arm(head, fault.index);
    const auto change = rod ? hiding_change(fault, size, head, *rod) : std::nullopt;
    if (change && set_link(out, rod->made, *change) != 0)
        out.words = fmt::format("mend it; or {}: {}", head.model().part(rod->part).words, out.words);
    else
        out.words = "mend it";
    return out;
}

}  // namespace swashwright::studies
