// `swashwright diagnose`: which part explains what was read at the bench?
#include <algorithm>
#include <array>
#include <string_view>

#include "kinematics/bench_files/readings.h"
#include "kinematics/studies/diagnosis/diagnose.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

using studies::FaultKind;

/// What the option calls each kind of suspect.
constexpr std::array<std::pair<std::string_view, FaultKind>, 14> names{{{"lower-links", FaultKind::lower_link},
                                                                        {"upper-links", FaultKind::upper_link},
                                                                        {"other-links", FaultKind::other_link},
                                                                        {"swaps", FaultKind::swapped_lower},
                                                                        {"swaps", FaultKind::swapped_upper},
                                                                        {"teeth", FaultKind::horn_tooth},
                                                                        {"trims", FaultKind::trim},
                                                                        {"guide", FaultKind::guide_turn},
                                                                        {"driver", FaultKind::driver_turn},
                                                                        {"spindles", FaultKind::bent_spindle},
                                                                        {"arms", FaultKind::arm_lead},
                                                                        {"arms", FaultKind::arm_along},
                                                                        {"arms", FaultKind::arm_turn},
                                                                        {"offsets", FaultKind::blade_offset}}};

std::vector<FaultKind> kinds_of(const std::vector<std::string>& words) {
    std::vector<FaultKind> out;
    for (const auto& [name, kind] : names)
        if (words.empty() || std::find(words.begin(), words.end(), name) != words.end()) out.push_back(kind);
    return out;
}

void add_suspects(CLI::App& verb, std::vector<std::string>& words) {
    std::vector<std::string> known;
    for (const auto& [name, kind] : names)
        if (known.empty() || known.back() != name) known.emplace_back(name);
    verb.add_option("--suspects", words, "Only these, with commas between; all if left out")
        ->delimiter(',')
        ->check(CLI::IsMember(known));
}

}  // namespace

void add_diagnose(CLI::App& program, ExitCode& exit_code) {
    const auto readings = std::make_shared<std::string>();
    const auto suspects = std::make_shared<std::vector<std::string>>();
    const auto study = [readings, suspects](const scene::Scene&, const head::Head& head) -> Answered {
        const auto file = scene::load_readings(*readings, &head.description());
        if (!file) return bad_input(file.error().text());
        studies::DiagnosisOptions options;
        options.kinds = kinds_of(*suspects);
        const auto diagnosis = studies::diagnose(head, file->readings, options);
        if (!diagnosis) return tl::unexpected(diagnosis.error().message);
        studies::Answer answer = studies::answer(*diagnosis, head);
        if (!file->note.empty()) answer.notes.insert(answer.notes.begin(), "Readings: " + file->note);
        return answer;
    };
    CLI::App* verb = add_study(program, exit_code, "diagnose",
                               "Find the part that explains pitch-gauge and ring-height readings", study);
    add_suspects(*verb, *suspects);
    verb->add_option("--readings", *readings, "File of readings (TOML)")->required()->type_name("FILE");
}

}  // namespace swashwright::console
