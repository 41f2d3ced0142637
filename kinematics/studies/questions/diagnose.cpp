// Which part explains what was read at the bench?
#include "kinematics/studies/diagnosis/diagnose.h"

#include <array>
#include <string_view>
#include <utility>

#include "kinematics/studies/diagnosis/zeroed_on.h"
#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

/// What the option calls each kind of suspect.
constexpr std::array<std::pair<std::string_view, FaultKind>, 20> names{{{"lower-links", FaultKind::lower_link},
                                                                        {"upper-links", FaultKind::upper_link},
                                                                        {"other-links", FaultKind::other_link},
                                                                        {"swaps", FaultKind::swapped_lower},
                                                                        {"swaps", FaultKind::swapped_upper},
                                                                        {"teeth", FaultKind::horn_tooth},
                                                                        {"trims", FaultKind::trim},
                                                                        {"reversed", FaultKind::servo_reversed},
                                                                        {"signs", FaultKind::mixer_sign},
                                                                        {"end-points", FaultKind::end_point},
                                                                        {"guide", FaultKind::guide_turn},
                                                                        {"driver", FaultKind::driver_turn},
                                                                        {"spindles", FaultKind::bent_spindle},
                                                                        {"arms", FaultKind::arm_lead},
                                                                        {"arms", FaultKind::arm_along},
                                                                        {"arms", FaultKind::arm_turn},
                                                                        {"offsets", FaultKind::blade_offset},
                                                                        {"shaft", FaultKind::bent_shaft},
                                                                        {"gears", FaultKind::stripped_gear},
                                                                        {"worn-ends", FaultKind::worn_end}}};

std::vector<std::string> known() {
    std::vector<std::string> out;
    for (const auto& [name, kind] : names)
        if (out.empty() || out.back() != name) out.emplace_back(name);
    return out;
}

Outcome run(const Asked& asked) {
    if (asked.readings.size() == 0)
        return tl::unexpected(NoAnswer{"Type in what the pitch gauge reads, one row a reading."});
    Readings readings = asked.readings;
    const std::vector<std::string>& zeroed_on = asked.values.texts("zeroed-on");
    if (zeroed_on.size() > 1) return badly_asked("A gauge is zeroed on one thing: level, shaft or blade.");
    if (!zeroed_on.empty()) readings.gauge.zeroed_on = zeroed_on_of(zeroed_on.front());
    DiagnosisOptions options;
    options.kinds.clear();
    for (const auto& [name, kind] : names)
        if (asked.values.texts("suspects").empty() || asked.values.holds("suspects", name))
            options.kinds.push_back(kind);
    const auto told = [&](const Diagnosis& found) {
        Reply out{.answer = answer(found, readings), .take_again = readings_to_take_again(found)};
        if (!asked.readings_note.empty())
            out.answer.notes.insert(out.answer.notes.begin(), "Readings: " + asked.readings_note);
        return out;
    };
    std::function<void(const Diagnosis&)> so_far;
    if (asked.so_far)
        so_far = [&](const Diagnosis& early) { tell_so_far(asked, told(early), "single faults, no two at once"); };
    const auto found = diagnose(asked.head, readings, options, asked.going(), so_far);
    if (!found) return tl::unexpected(NoAnswer{found.error().message});
    return told(*found);
}

}  // namespace

Question diagnose_question() {
    return {.verb = "diagnose",
            .help = "Find the part that explains pitch-gauge and ring-height readings",
            .cards = {{.key = "diagnose", .words = "Which part explains what I read?"}},
            .options = {{.key = "suspects",
                         .kind = OptionKind::words,
                         .help = "Only these, with commas between; all if left out",
                         .words = known(),
                         .start = std::vector<std::string>{}},
                        {.key = "zeroed-on",
                         .kind = OptionKind::words,
                         .help = "What shows 0 on the pitch gauge, in place of what the readings' file says",
                         .words = {zeroed_on_words.begin(), zeroed_on_words.end()},
                         .start = std::vector<std::string>{}}},
            .reads_readings = true,
            .takes_long = true,
            .run = run};
}

}  // namespace swashwright::studies
