#include "kinematics/studies/answer/rod_thread.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace swashwright::studies {

RodThread rod_thread(const head::Link& link, double centre_mm) {
    RodThread out;
    out.bare_mm = centre_mm - link.end_length_mm[0] - link.end_length_mm[1];
    out.least_mm = thread_diameters * link.rod_mm;
    out.most_mm = std::min(link.end_length_mm[0] - link.boss_mm[0] / 2, link.end_length_mm[1] - link.boss_mm[1] / 2);
    const double wanted = out.ends_too_short() ? out.most_mm : (out.least_mm + out.most_mm) / 2;
    out.cut_mm = std::round(2 * (out.bare_mm + 2 * wanted)) / 2;
    if (link.rod_length_mm) out.in_each_mm = (*link.rod_length_mm - out.bare_mm) / 2;
    return out;
}

namespace {

/// "holds", or what is wrong in few words.
std::string state_of(const RodThread& thread) {
    if (thread.bare_mm < 0) return "ends meet";
    if (thread.ends_too_short()) return "ends too short";
    if (thread.too_little()) return "too little";
    if (thread.too_much()) return "rod meets the boss";
    return thread.in_each_mm ? "holds" : "not cut yet";
}

}  // namespace

std::string thread_trouble(const std::string& words, const RodThread& thread) {
    if (thread.bare_mm < 0)
        return fmt::format(
            "{}: by the sizes in the scene its two ends meet before that; measure them, or take shorter ends.", words);
    if (thread.ends_too_short())
        return fmt::format(
            "{}: an end takes {:.1f} mm of thread at most, where {:.1f} mm are wanted; longer ends are needed.", words,
            thread.most_mm, thread.least_mm);
    if (thread.too_little())
        return fmt::format(
            "{}: its rod would have {:.1f} mm of thread in each end, where {:.1f} mm are wanted; cut a rod of {:.1f} "
            "mm.",
            words, std::max(0.0, *thread.in_each_mm), thread.least_mm, thread.cut_mm);
    if (thread.too_much())
        return fmt::format(
            "{}: its rod would go {:.1f} mm into each end, where {:.1f} mm are free before the boss; shorten the rod "
            "to {:.1f} mm.",
            words, *thread.in_each_mm, thread.most_mm, thread.cut_mm);
    return {};
}

Table thread_table(const std::vector<ThreadRow>& rows) {
    Table table{"threads",
                "Rods at the length set: how long to cut a new one, the least and the most thread for an end, and "
                "what the present rod has in each end",
                {{"link", "link", ""},
                 {"cut_mm", "cut rod to", "mm", 1},
                 {"least_mm", "least", "mm", 1},
                 {"most_mm", "most", "mm", 1},
                 {"in_each_mm", "in each end", "mm", 1},
                 {"state", "state", ""}},
                {},
                {}};
    for (const auto& [link, part, thread] : rows) {
        table.rows.push_back({link, thread.cut_mm, thread.least_mm, thread.most_mm,
                              thread.in_each_mm ? Cell{*thread.in_each_mm} : Cell{}, state_of(thread)});
        table.parts.push_back(part);
    }
    return table;
}

std::string thread_rule() {
    return fmt::format(
        "Thread: as much in one end as in the other, so share turns between both, and at least {:g} diameters of it in "
        "each ({:g} will do where the "
        "ends are cut in metal); no end may be turned out beyond that. Common practice, no source; the maker's manual "
        "comes first. The rod to cut leaves as much room for turning in as for turning out. An end is taken to be "
        "hollow up to its boss: measure yours.",
        thread_diameters, thread_diameters_in_metal);
}

}  // namespace swashwright::studies
