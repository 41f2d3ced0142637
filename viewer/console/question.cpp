#include "viewer/console/question.h"

#include <fmt/format.h>

#include <map>
#include <memory>

#include "kinematics/bench_files/readings.h"
#include "viewer/console/numbers.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

using studies::Option;
using studies::OptionKind;

/// What the command line says.
struct Typed {
    head::Sticks sticks;
    studies::Values values;
    std::map<std::string, bool> flags;  // given, by key
    std::string readings;               // path
};

void add_sticks(CLI::App& verb, studies::AsksSticks asks, head::Sticks& sticks) {
    if (asks == studies::AsksSticks::yes) add_stick_options(verb, sticks);
    if (asks != studies::AsksSticks::one_more) return;
    add_number(verb, "--collective", sticks.collective, -1, 1, "One more stick position to look at, up positive");
    add_number(verb, "--aileron", sticks.aileron, -1, 1, "The same, right positive");
    add_number(verb, "--elevator", sticks.elevator, -1, 1, "The same, forward positive");
    add_number(verb, "--rudder", sticks.rudder, -1, 1, "The same of a tail, right positive");
}

void add_two_angles(CLI::App& verb, const Option& option, const std::function<void(studies::Value)>& set) {
    const auto read = [&option, set](const std::string& text) {
        const auto ends = finite_numbers(text, option.low, option.high);
        if (!ends || ends->size() != 2)
            throw CLI::ValidationError(option.argument(),
                                       fmt::format("expected two angles from {} to {} with a comma between, found {}",
                                                   option.low, option.high, text));
        set(std::array{(*ends)[0], (*ends)[1]});
    };
    verb.add_option_function<std::string>(option.argument(), read, option.help)->type_name("DEG,DEG");
}

void add_texts(CLI::App& verb, const Option& option, const std::function<void(studies::Value)>& set) {
    CLI::Option* added = verb.add_option_function<std::vector<std::string>>(
        option.argument(), [set](const std::vector<std::string>& texts) { set(texts); }, option.help);
    if (option.commas || option.kind == OptionKind::words) added->delimiter(',');
    if (option.kind == OptionKind::words) added->check(CLI::IsMember(option.words));
    if (const auto& start = std::get<std::vector<std::string>>(option.start); !start.empty())
        added->default_str(fmt::format("[{}]", fmt::join(start, ",")));
}

void add_option(CLI::App& verb, const Option& option, Typed& typed) {
    const std::string name = option.argument();
    const auto set = [&option, &typed](studies::Value value) { typed.values.set(option.key, std::move(value)); };
    switch (option.kind) {
        case OptionKind::number: {
            CLI::Option* added = add_number(verb, name, option.low, option.high, option.help, set);
            if (option.help_tells_start) added->default_str(fmt::format("{}", std::get<double>(option.start)));
            break;
        }
        case OptionKind::whole:
            add_whole(verb, name, option.least, option.most, option.help, set)
                ->default_str(std::to_string(std::get<std::int64_t>(option.start)));
            break;
        case OptionKind::yes_no:
            verb.add_flag(name, typed.flags[option.key], option.help);
            break;
        case OptionKind::words:
        case OptionKind::texts:
            add_texts(verb, option, set);
            break;
        case OptionKind::two_angles:
            add_two_angles(verb, option, set);
            break;
    }
}

Answered study(const studies::Question& question, const Typed& typed, const head::Head& head) {
    studies::Asked asked{head, typed.sticks, typed.values};
    for (const auto& [key, given] : typed.flags)
        if (given) asked.values.set(key, !asked.values.flag(key));
    if (question.reads_readings) {
        auto file = scene::load_readings(typed.readings, &head.description());
        if (!file) return bad_input(file.error().text());
        asked.readings = std::move(file->readings);
        asked.readings_note = std::move(file->note);
    }
    auto reply = question.run(asked);
    if (reply) return std::move(reply->answer);
    const studies::NoAnswer& none = reply.error();
    return tl::unexpected(Refusal(none.why, none.badly_asked ? ExitCode::bad_input : ExitCode::cannot_be_assembled));
}

}  // namespace

void add_question(CLI::App& program, ExitCode& exit_code, const studies::Question& question) {
    const auto typed = std::make_shared<Typed>();
    typed->values = studies::Values(question.options);
    CLI::App& verb = *add_study(
        program, exit_code, question.verb, question.help,
        [&question, typed](const scene::Scene&, const head::Head& head) { return study(question, *typed, head); },
        question.must_close);
    add_sticks(verb, question.sticks, typed->sticks);
    for (const Option& option : question.options) add_option(verb, option, *typed);
    for (const Option& option : question.options)
        if (!option.needs.empty())
            verb.get_option(option.argument())->needs(verb.get_option(question.option(option.needs).argument()));
    if (question.reads_readings)
        verb.add_option("--readings", typed->readings, "File of readings (TOML)")->required()->type_name("FILE");
}

}  // namespace swashwright::console
