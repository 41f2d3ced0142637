// How much thread does a link's rod have in each of its ends, and how long must the rod be cut?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// What holds: thread in each end, alike on both, over its diameter. An end that is moulded of plastic wants two
/// diameters, one cut in metal one and a half; the scene does not know which, so two are asked for. Common practice, no
/// source (of steel in steel one diameter is the usual least, from memory of any machine elements handbook).
inline constexpr double thread_diameters = 2, thread_diameters_in_metal = 1.5;

/// Lengths in mm; the rod's ends are taken to reach equally deep into both link ends.
struct RodThread {
    double bare_mm = 0;                // between the two ends' shanks, at the length asked about
    double least_mm = 0;               // of thread that each end must have
    double most_mm = 0;                // that an end can take: its shank up to the boss, the shorter of the two
    double cut_mm = 0;                 // of a rod that leaves as much room for turning in as for turning out, to 0.5 mm
    std::optional<double> in_each_mm;  // with the rod that the scene gives

    bool too_little() const { return in_each_mm && *in_each_mm < least_mm - 1e-9; }
    bool too_much() const { return in_each_mm && *in_each_mm > most_mm + 1e-9; }
    bool ends_too_short() const { return most_mm < least_mm; }
};

/// Of a link set to `centre_mm` between its ball centres. An end's shank runs from half its boss to `end_length_mm`.
RodThread rod_thread(const head::Link& link, double centre_mm);

/// A sentence of what is wrong and what mends it; empty where nothing is. `words` name the link.
std::string thread_trouble(const std::string& words, const RodThread& thread);

/// "threads": of each link the rod to cut and the thread in each end.
struct ThreadRow {
    std::string link, part;  // in words, and its scene path
    RodThread thread;
};
Table thread_table(const std::vector<ThreadRow>& rows);

/// The rule, for notes.
std::string thread_rule();

}  // namespace swashwright::studies
