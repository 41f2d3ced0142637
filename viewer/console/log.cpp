// `swashwright log`: what a head was on which day: list, put in, compare, take out again.
#include "kinematics/bench_files/head_log.h"

#include <fmt/format.h>

#include <charconv>
#include <memory>

#include "kinematics/studies/pitch/compare.h"
#include "viewer/console/out_file.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"
#include "viewer/document/atomic_file.h"
#include "viewer/document/today.h"

namespace swashwright::console {
namespace {

struct LogRequest {
    std::string file, date;
    std::optional<std::string> note;
    std::vector<int> between;
    std::vector<std::string> take;  // a state's number, and the scene file to write
    head::Sticks sticks;
};

/// From 1 in the log; else why there is none.
tl::expected<const scene::LogState*, std::string> state_of(const scene::HeadLog& log, int number) {
    if (number >= 1 && static_cast<std::size_t>(number) <= log.states.size())
        return &log.states[static_cast<std::size_t>(number - 1)];
    return tl::unexpected(fmt::format("state {} is not in the log; it has {}", number, log.states.size()));
}

Answered put_in(scene::HeadLog& log, const LogRequest& request, const scene::Scene& scene) {
    const scene::LogState state{request.date.empty() ? document::today() : request.date, *request.note, scene};
    if (const std::string why = scene::log_complaint(log, state); !why.empty()) return bad_input(why);
    log.states.push_back(state);
    if (const auto written = document::write_atomically(request.file, scene::write(log)); !written)
        return tl::unexpected(Refusal(written.error(), ExitCode::not_written));
    return scene::answer(log, scene.head);
}

Answered compared(const scene::HeadLog& log, const LogRequest& request) {
    const auto first = state_of(log, request.between[0]), second = state_of(log, request.between[1]);
    if (!first) return bad_input(first.error());
    if (!second) return bad_input(second.error());
    const auto words = [&](int number) { return scene::state_words(log, static_cast<std::size_t>(number - 1)); };
    return studies::answer(studies::compare((*first)->scene.head, (*second)->scene.head, request.sticks),
                           words(request.between[0]), words(request.between[1]));
}

Answered taken(const scene::HeadLog& log, const LogRequest& request, const scene::Scene& scene) {
    const std::string &number = request.take[0], &out = request.take[1];
    int which = 0;
    if (std::from_chars(number.data(), number.data() + number.size(), which).ptr != number.data() + number.size())
        return bad_input(fmt::format("--take: a state is named by its number, not \"{}\"", number));
    const auto state = state_of(log, which);
    if (!state) return bad_input(state.error());
    if (ending_of(out) != ".toml") return bad_input(fmt::format("--take: {} must end in .toml, as scenes do", out));
    if (const auto written = document::write_atomically(out, scene::write((*state)->scene)); !written)
        return tl::unexpected(Refusal(written.error(), ExitCode::not_written));
    studies::Answer answer = scene::answer(log, scene.head);
    answer.text = fmt::format("State {}, of {}, is in {}. {}", which, (*state)->date, out, answer.text);
    return answer;
}

}  // namespace

void add_log(CLI::App& program, ExitCode& exit_code) {
    const auto request = std::make_shared<LogRequest>();
    const auto path = std::make_shared<std::string>();
    CLI::App* verb = add_study(
        program, exit_code, "log", "Print what a head was on which day, and put its present state in",
        [request, path](const scene::Scene& scene, const head::Head&) -> Answered {
            request->file = scene::log_path(*path);
            auto log = scene::load_log(request->file);
            if (!log) return bad_input(log.error().text());
            if (!request->take.empty())
                if (const auto refusal = overwrites(request->take[1], {*path, request->file}))
                    return bad_input(*refusal);
            if (request->note) return put_in(*log, *request, scene);
            if (!request->between.empty()) return compared(*log, *request);
            if (!request->take.empty()) return taken(*log, *request, scene);
            return scene::answer(*log, scene.head);
        },
        /*must_close=*/false);
    // Where the log stands is told by the scene's own name.
    verb->parse_complete_callback([verb, path] { *path = verb->get_option("SCENE")->as<std::string>(); });
    auto* note = verb->add_option("--note", request->note, "Put the state in as it is now, with these words");
    verb->add_option("--date", request->date, "Of that state, as in 2026-11-29; today if it is left out")->needs(note);
    auto* between = verb->add_option("--between", request->between, "Compare two states, by their numbers")
                        ->expected(2)
                        ->type_name("STATE STATE");
    auto* take = verb->add_option("--take", request->take, "Write a state as a scene file again")
                     ->expected(2)
                     ->type_name("STATE FILE");
    note->excludes(between)->excludes(take);
    between->excludes(take);
    add_stick_options(*verb, request->sticks);  // for --between
}

}  // namespace swashwright::console
