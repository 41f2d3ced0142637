#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/answer/rod_thread.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/pitch/tracking.h"

namespace swashwright::studies {
namespace {

constexpr double together_deg = 0.05;  // half of what a pitch gauge tells; common practice, no source

std::string sentence_of(const Tracking& t, const head::Description& d) {
    if (t.split_deg < together_deg)
        return fmt::format("The blades agree: {:.2f} deg between the highest and the lowest.", t.split_deg);
    if (t.settings.empty())
        return fmt::format(
            "The blades are {:.2f} deg apart. No blade has an upper link of its own to set: the cause is "
            "a part; the question on which part explains what is read finds it.",
            t.split_deg);
    std::string todo;
    for (std::size_t k = 0; k < t.settings.size(); ++k)
        if (t.settings[k].steps != 0)
            todo += fmt::format("{}upper link {}: {}", todo.empty() ? "" : ", ", k + 1,
                                steps_in_words(*link_of(d, t.settings[k].link), t.settings[k].steps));
    if (todo.empty())
        return fmt::format("The blades are {:.2f} deg apart, and no step that the links allow makes it better.",
                           t.split_deg);
    std::string trouble;
    for (const LinkSetting& s : t.settings) {
        const head::Link& link = *link_of(d, s.link);
        if (trouble.empty() && s.steps != 0)
            trouble = thread_trouble(link_words(d, s.link), rod_thread(link, link.actual_mm() + s.change_mm));
    }
    return fmt::format("The blades are {:.2f} deg apart. Set {}: then {:.2f} deg is left and {}.{}{}", t.split_deg,
                       todo, t.split_after_deg, mean_words(mean(t.mean_deg), mean(t.after_deg)),
                       trouble.empty() ? "" : " But ", trouble);
}

Table pairs(const Tracking& t) {
    Table out{"pairs",
              "Pairs of blades, second minus first (higher pitch +), both at the same place on the disc",
              {{"second", "blade", "", 0},
               {"first", "minus blade", "", 0},
               {"mean_deg", "mean", "deg", 3, true},
               {"largest_deg", "largest", "deg", 3, true},
               {"largest_at_deg", "at azimuth", "deg", 0},
               {"tip_mm", "tip, about", "mm", 1, true}},
              {},
              {}};
    for (const BladePair& p : t.pairs) {
        out.rows.push_back({static_cast<double>(p.second + 1), static_cast<double>(p.first + 1), p.mean_deg,
                            p.largest_deg, p.largest_at_deg, p.tip_mm ? Cell(*p.tip_mm) : Cell()});
        out.parts.push_back(fmt::format("grip[{}]", p.second + 1));
    }
    return out;
}

Table settings(const Tracking& t, const head::Description& d) {
    Table out{"links",
              "Upper links: what would be exact, and what to set (longer +)",
              {{"link", "upper link", "", 0},
               {"mean_deg", "blade mean", "deg", 3, true},
               {"exact_mm", "exact", "mm", 3, true},
               {"exact_turns", "exact", "turns", 2, true},
               {"set", "set", ""},
               {"steps", "steps", "", 0, true},
               {"change_mm", "change", "mm", 3, true},
               {"after_deg", "mean after", "deg", 3, true}},
              {},
              {}};
    for (std::size_t k = 0; k < t.settings.size(); ++k) {
        const LinkSetting& s = t.settings[k];
        const head::Link& link = *link_of(d, s.link);
        out.rows.push_back({static_cast<double>(k + 1), t.mean_deg[k], s.exact_mm, turns_for(link, s.exact_mm),
                            steps_in_words(link, s.steps), static_cast<double>(s.steps), s.change_mm, t.after_deg[k]});
        out.parts.push_back(path_of(s.link));
    }
    return out;
}

std::vector<std::string> notes(const Tracking& t, const head::Description& d) {
    std::vector<std::string> out;
    out.push_back(fmt::format("Sticks: {}. Mean: over one turn.", stick_words(d.kind, t.sticks)));
    out.emplace_back(
        "A split that came by itself or in a crash is a bent spindle, arm, grip or blade bolt until these are shown to "
        "be straight: what is bent is replaced, with new bolts, never trimmed out by a link. By eye: tips marked in "
        "two colours, step back, and never have your head in the plane of the disc (common practice, no source).");
    if (!t.flap) {
        out.push_back(
            "No tip height: blade and head speed leave no flap balance (place of the tip, blade mass, head speed).");
        return out;
    }
    const auto guessed = [](bool guess) { return guess ? " (guessed)" : ""; };
    out.push_back(fmt::format(
        "Tip height at {:.0f} rpm is an upper-side estimate: hover, rigid blade, inflow unchanged; blades in flight "
        "part less. Blade: chord {:.0f} mm{}, mass {:.0f} g{} spread evenly from {:.0f} mm{} to {:.0f} mm, flap "
        "hinge at {:.0f} mm, dampers {:.0f} N m/rad, air {} kg/m3, lift slope {} per rad. Lock number {:.2f}, flap "
        "{:.2f} deg and tip {:.2f} mm for each deg of pitch.",
        d.rotor.head_speed_rpm, 1000 * t.blade.chord_m, guessed(t.blade.chord_guessed), 1000 * t.blade.mass_kg,
        guessed(t.blade.mass_guessed), 1000 * t.blade.bolt_m, guessed(t.blade.bolt_guessed), 1000 * t.blade.tip_m,
        1000 * t.blade.hinge_m, t.blade.stiffness_nm, air_kg_m3, lift_slope_per_rad, t.flap->lock_number,
        t.flap->flap_per_pitch, t.flap->tip_mm_per_deg));
    out.push_back(
        "Source of the balance: flap moments about the hinge as in Johnson, Helicopter Theory, and Leishman, "
        "Principles of "
        "Helicopter Aerodynamics; Lock number after C. N. H. Lock, ARC R&M 1127 (1927). Guesses: common practice, no "
        "source.");
    return out;
}

}  // namespace

std::string mean_words(double before_deg, double after_deg) {
    const std::string before = signed_figure(before_deg, 2), after = signed_figure(after_deg, 2);
    return before == after ? fmt::format("the mean pitch stays at {} deg", after)
                           : fmt::format("the mean pitch goes from {} to {} deg", before, after);
}

Answer answer(const Tracking& t, const head::Description& d) {
    return {"tracking",
            sentence_of(t, d),
            t.split_deg < together_deg ? Tone::calm : Tone::notice,
            {pairs(t), settings(t, d)},
            notes(t, d)};
}

}  // namespace swashwright::studies
