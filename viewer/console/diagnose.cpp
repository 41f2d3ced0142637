// `swashwright diagnose`: which part explains what was read at the bench?
#include "kinematics/scene/readings.h"
#include "kinematics/studies/diagnosis.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_diagnose(CLI::App& program, ExitCode& exit_code) {
    const auto file = std::make_shared<scene::ReadingsFile>();
    const auto study = [file](const scene::Scene&,
                              const head::Head& head) -> tl::expected<studies::Answer, std::string> {
        const auto diagnosis = studies::diagnose(head, file->readings);
        if (!diagnosis) return tl::unexpected(diagnosis.error().message);
        studies::Answer answer = studies::answer(*diagnosis, head);
        if (!file->note.empty()) answer.notes.insert(answer.notes.begin(), "Readings: " + file->note);
        return answer;
    };
    add_study(program, exit_code, "diagnose", "Find the part that explains pitch-gauge and ring-height readings", study)
        ->add_option_function<std::string>(
            "--readings",
            [file](const std::string& path) {  // read while parsing: a bad file is bad usage
                auto read = scene::load_readings(path);
                if (!read) throw CLI::ValidationError("--readings", "\n" + read.error().text());
                *file = std::move(*read);
            },
            "File of readings (TOML)")
        ->required()
        ->type_name("FILE");
}

}  // namespace swashwright::console
