#include "viewer/console/study.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "viewer/console/changes.h"
#include "viewer/console/loading.h"
#include "viewer/console/numbers.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/streams.h"

namespace swashwright::console {
namespace {

struct Request {
    std::string scene;
    Changes changes;
    bool json = false, csv = false;
};

/// Those that the verb was given; centred where it takes none.
head::Sticks sticks_of(const CLI::App& verb) {
    const auto stick = [&](const char* name) {
        const CLI::Option* option = verb.get_option_no_throw(name);
        return option && option->count() > 0 ? finite_number(option->results().back()).value_or(0) : 0;
    };
    return {stick("--collective"), stick("--aileron"), stick("--elevator"), stick("--rudder")};
}

int run(const Request& request, const head::Sticks& sticks, const Study& study, bool must_close) {
    const auto loaded = load(request.scene, request.changes, /*out=*/"", must_close);
    if (!loaded) return loaded.error();
    note_if_held_back(loaded->head, sticks, "worked out");
    auto answer = study(loaded->scene, loaded->head);
    if (!answer) {
        const Refusal& refusal = answer.error();
        put_error(refusal.why.ends_with('\n') ? refusal.why : fmt::format("swashwright: {}\n", refusal.why));
        if (refusal.all_the_same) print(*refusal.all_the_same, request.json, request.csv);
        return refusal.exit_code;
    }
    if (!request.changes.empty())
        answer->notes.insert(answer->notes.begin(), words_of(request.changes, loaded->scene.head));
    print(*answer, request.json, request.csv);
    return ExitCode::closes;
}

/// Of the JSON form. It grows when a key goes, or changes its unit or meaning; not when one is added.
constexpr int answer_format = 1;

nlohmann::ordered_json json_cell(const studies::Cell& cell) {
    if (const auto* words = std::get_if<std::string>(&cell)) return *words;
    if (const auto* number = std::get_if<double>(&cell)) return *number + 0.0;  // a minus zero is a zero
    return nullptr;
}

}  // namespace

CLI::App* add_study(CLI::App& program, ExitCode& exit_code, const std::string& name, const std::string& help,
                    Study study, bool must_close) {
    CLI::App* verb = program.add_subcommand(name, help);
    const auto request = std::make_shared<Request>();
    verb->add_option("SCENE", request->scene, "Scene file")->required()->type_name("FILE");
    add_changes(*verb, request->changes);
    CLI::Option* json = verb->add_flag("--json", request->json, "Print JSON instead of tables");
    verb->add_flag("--csv", request->csv, "Print comma-separated values instead of tables")->excludes(json);
    verb->callback([request, verb, must_close, &exit_code, study = std::move(study)] {
        exit_code.value = run(*request, sticks_of(*verb), study, must_close);
    });
    return verb;
}

void print(const studies::Answer& answer, bool json, bool csv) {
    put(json ? as_json(answer) + '\n' : csv ? studies::as_csv(answer) : studies::as_text(answer));
}

std::string as_json(const studies::Answer& answer) {
    nlohmann::ordered_json tables = nlohmann::ordered_json::object();
    for (const studies::Table& table : answer.tables) {
        auto& rows = tables[table.key] = nlohmann::ordered_json::array();
        for (const auto& row : table.rows) {
            nlohmann::ordered_json object;
            for (std::size_t c = 0; c < row.size(); ++c) object[table.columns[c].key] = json_cell(row[c]);
            rows.push_back(std::move(object));
        }
    }
    const nlohmann::ordered_json all = {{"swashwright", "answer"}, {"format", answer_format}, {"study", answer.study},
                                        {"answer", answer.text},   {"tables", tables},        {"notes", answer.notes}};
    return all.dump(2);
}

}  // namespace swashwright::console
