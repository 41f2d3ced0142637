#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/part_path.h"
#include "kinematics/studies/answer/rod_thread.h"
#include "kinematics/studies/lengths/lengths.h"
#include "kinematics/studies/pitch/range.h"

namespace swashwright::studies {

namespace {

using head::NumberKind;

bool is_link(const Setting& s) {
    return is_length(s.free.number.kind);
}
bool is_horn(const Setting& s) {
    return s.free.number.kind == NumberKind::neutral || s.free.number.kind == NumberKind::horn_length;
}

/// "lower 1"; a link with a name by its name.
std::string short_words(const head::Number& length) {
    if (length.kind == NumberKind::other_length) return part_words(length);
    return fmt::format("{} {}", length.kind == NumberKind::lower_length ? "lower" : "upper", length.index + 1);
}

/// "3 half turns longer", "1.38 turns shorter".
std::string turning(const head::Link& link, double change_mm) {
    if (link.rod == head::Rod::plain)
        return steps_in_words(link, static_cast<int>(std::lround(change_mm / link_step(link).mm)));
    const double turns = turns_for(link, change_mm);
    if (std::abs(turns) < 0.005) return "as it is";
    return fmt::format("{:.2f} turns {}", std::abs(turns), turns > 0 ? "longer" : "shorter");
}

Table wish_table(const Lengths& lengths) {
    Table table{"wishes",
                "Wishes, and the most by which each is missed",
                {{"wish", "wish", ""},
                 {"exact", "exact", "", 3},
                 {"set", "as set", "", 3},
                 {"set_each", "rounded singly", "", 3},
                 {"unit", "unit", ""},
                 {"worst", "most off, as exact, at", ""}},
                {},
                {}};
    for (const WishOutcome& w : lengths.wishes)
        table.rows.push_back({w.words, w.exact, w.set, w.set_each, w.unit, w.met() ? Cell{} : Cell{w.worst}});
    return table;
}

Table link_table(const Lengths& lengths) {
    Table table{"links",
                "Links. Exact and set are ball centre to ball centre; gap, span and rod are of the link as set",
                {{"link", "link", ""},
                 {"present_mm", "present", "mm"},
                 {"exact_mm", "exact", "mm", 3},
                 {"set_mm", "set", "mm"},
                 {"turn", "turn", ""},
                 {"turns", "that is", "turns", 2, true},
                 {"gap_mm", "gap", "mm"},
                 {"span_mm", "span", "mm"},
                 {"bare_rod_mm", "rod", "mm"}},
                {},
                {}};
    for (const Setting& s : lengths.settings) {
        if (!is_link(s)) continue;
        const head::Link& link = *link_of(lengths.present, s.free.number);
        const LinkForms forms = link_forms(link, s.set);
        table.rows.push_back({short_words(s.free.number), s.present, s.exact, s.set, turning(link, s.set - s.present),
                              turns_for(link, s.set - s.present), forms.gap, forms.span, forms.bare_rod});
        table.parts.push_back(part_path(s.free.number));
    }
    return table;
}

Table horn_table(const Lengths& lengths) {
    Table table{"horns",
                "Horns. Teeth of the spline and trim are changes from the present neutral, seen on the horn's face "
                "(anticlockwise +)",
                {{"servo", "servo", ""},
                 {"present", "present", "", 3},
                 {"exact", "exact", "", 3},
                 {"set", "set", "", 3},
                 {"unit", "unit", ""},
                 {"teeth", "teeth", "", 0, true},
                 {"turn", "turn", ""},
                 {"trim_deg", "trim", "deg", 3, true}},
                {},
                {}};
    for (const Setting& s : lengths.settings) {
        if (!is_horn(s)) continue;
        const head::Servo& servo = lengths.present.servos[static_cast<std::size_t>(s.free.number.index)];
        const bool angle = s.free.number.kind == NumberKind::neutral;
        const HornMove move = horn_move(servo, s.set - s.present);
        table.rows.push_back({fmt::format("{}, {}", servo.name, angle ? "neutral" : "hole"), s.present, s.exact, s.set,
                              angle ? "deg" : "mm", angle ? Cell{double(move.teeth)} : Cell{},
                              angle ? Cell{teeth_turned(move.teeth)} : Cell{}, angle ? Cell{move.trim_deg} : Cell{}});
        table.parts.push_back(part_path(s.free.number));
    }
    return table;
}

Table centring_table(const Lengths& lengths) {
    Table table{"centring",
                "Horns with so many like arms: which arm to take, counted on anticlockwise from the present one (0: "
                "the same), and how to turn the horn, both seen on its face, to come nearest to the exact neutral",
                {{"servo", "servo", ""},
                 {"arms", "arms", "", 0},
                 {"step_deg", "finest step", "deg", 2},
                 {"arm", "take arm", "", 0},
                 {"teeth", "teeth", "", 0, true},
                 {"turn", "turn", ""},
                 {"left_deg", "left to trim", "deg", 2, true}},
                {},
                {}};
    constexpr double no_change_deg = 0.005;
    for (const Setting& s : lengths.settings) {
        const double change = s.exact - s.present;
        if (s.free.number.kind != NumberKind::neutral || std::abs(change) < no_change_deg) continue;
        const head::Servo& servo = lengths.present.servos[static_cast<std::size_t>(s.free.number.index)];
        double least = std::numeric_limits<double>::infinity();
        for (const int arms : {1, 2, 3, 4, 6}) {
            const Centring c = centring(servo, arms, change);
            if (std::abs(c.left_deg) > least - 0.005) continue;  // gains nothing
            least = std::abs(c.left_deg);
            table.rows.push_back({servo.name, double(arms), c.step_deg, double(c.arm), double(c.teeth),
                                  teeth_turned(c.teeth), c.left_deg});
            table.parts.push_back(part_path(s.free.number));
        }
    }
    return table;
}

std::vector<ThreadRow> threads(const Lengths& lengths) {
    std::vector<ThreadRow> out;
    for (const Setting& s : lengths.settings)
        if (is_link(s))
            out.push_back({short_words(s.free.number), part_path(s.free.number),
                           rod_thread(*link_of(lengths.present, s.free.number), s.set)});
    return out;
}

/// What is wrong with threads, a sentence for each link.
std::vector<std::string> thread_troubles(const Lengths& lengths) {
    std::vector<std::string> out;
    for (const Setting& s : lengths.settings) {
        if (!is_link(s)) continue;
        std::string trouble =
            thread_trouble(part_words(s.free.number), rod_thread(*link_of(lengths.present, s.free.number), s.set));
        if (!trouble.empty()) out.push_back(std::move(trouble));
    }
    return out;
}

Table other_table(const Lengths& lengths) {
    Table table{"others",
                "Other numbers that were free",
                {{"number", "number", ""},
                 {"present", "present", "", 3},
                 {"exact", "exact", "", 3},
                 {"set", "set", "", 3},
                 {"unit", "unit", ""}},
                {},
                {}};
    for (const Setting& s : lengths.settings) {
        if (is_link(s) || is_horn(s)) continue;
        table.rows.push_back(
            {s.free.number.label, s.present, s.exact, s.set, s.free.number.unit == head::Unit::mm ? "mm" : "deg"});
        table.parts.push_back(part_path(s.free.number));
    }
    return table;
}

std::string sentence_of(const Lengths& lengths) {
    std::string missed;
    for (const WishOutcome& w : lengths.wishes)
        if (!w.met())
            missed += fmt::format("{}{} (by up to {:.3g} {}, {})", missed.empty() ? "" : "; ", w.words, w.exact, w.unit,
                                  w.worst);
    std::string out = missed.empty() ? "Every wish can be met" : "Cannot be met: " + missed;
    const bool nothing_to_do = missed.empty() && std::ranges::all_of(lengths.settings, [](const Setting& s) {
                                   return std::abs(s.set - s.present) < 1e-6 && std::abs(s.exact - s.present) < 5e-4;
                               });
    if (nothing_to_do) return "Every wish is met as it stands; nothing is to be set.";
    const bool stepped = std::ranges::any_of(lengths.settings, [](const Setting& s) { return s.stepped; });
    if (!stepped) return out + "; nothing here is set in steps.";
    double pitch = 0, each = 0;
    std::string misfit;
    for (const WishOutcome& w : lengths.wishes) {
        if (w.kind == WishKind::misfit && w.set >= 5e-4)
            misfit = fmt::format(" and the links misfit by {:.3f} mm", w.set);
        if (w.kind == WishKind::pitch) {
            pitch = w.set;
            each = w.set_each;
        }
    }
    if (pitch == 0)
        return out + fmt::format("; set in steps, {:.3f} is left (weighted sum), {:.3f} if rounded one by one{}.",
                                 lengths.left_set, lengths.left_set_each, misfit);
    return out +
           fmt::format(
               "; set in steps, a blade is up to {:.3f} deg off {} ({:.3f} deg if each were rounded by itself){}.",
               pitch, lengths.wanted_deg == 0 ? "zero" : "that", each, misfit);
}

void add_notes(const Lengths& lengths, Answer& out) {
    if (lengths.carried_over)
        out.notes.push_back(
            "The links do not reach as they are; turns are counted from the lengths given all the same.");
    if (lengths.uneven_ends) out.notes.emplace_back(even_linkage);
    for (const Setting& s : lengths.settings)
        if (s.at_bound)
            out.notes.push_back(fmt::format("{} is at the end of its bounds, {:g} to {:g}.", s.free.number.label,
                                            s.free.least, s.free.most));
    out.notes.push_back(
        "Gap is between the bosses (length minus their mean diameter), span over them (plus it), rod what is left "
        "between both ends.");
    out.notes.push_back(
        "A plain rod is set in half turns of one end, in whole turns where its end presses on from one side; a "
        "turnbuckle to anything (one turn: twice the thread pitch). What is left is searched over all settings "
        "together. Common practice, no source. Settings within 5 % of the least step's effect of the best count as "
        "equal: then the fewest links are turned, first those known to be off, by the least.");
    if (std::ranges::any_of(lengths.settings, is_link)) out.notes.push_back(thread_rule());
}

}  // namespace

Answer answer(const Lengths& lengths) {
    Answer out;
    out.study = "lengths";
    out.text = sentence_of(lengths);
    const std::vector<std::string> troubles = thread_troubles(lengths);
    out.tone = std::ranges::all_of(lengths.wishes, &WishOutcome::met) && troubles.empty() ? Tone::calm : Tone::notice;
    if (!troubles.empty())
        out.text += fmt::format(
            " But {}{}", troubles.front(),
            troubles.size() == 1
                ? ""
                : fmt::format(" In all {} links have such trouble; the table of threads has them.", troubles.size()));
    out.tables = {wish_table(lengths), link_table(lengths),     thread_table(threads(lengths)),
                  horn_table(lengths), centring_table(lengths), other_table(lengths)};
    if (troubles.size() > 1) out.notes = troubles;
    add_notes(lengths, out);
    return out;
}

}  // namespace swashwright::studies
