// `swashwright sheet`: the build sheet as a PDF file or as text. `swashwright plot`: one of its plots as an SVG file.
#include <fmt/format.h>

#include <memory>

#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/envelope/reach.h"
#include "viewer/console/changes.h"
#include "viewer/console/loading.h"
#include "viewer/console/out_file.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"
#include "viewer/sheet/compose.h"
#include "viewer/sheet/plots.h"
#include "viewer/sheet/print.h"

namespace swashwright::console {
namespace {

struct SheetRequest {
    std::string scene, out, paper = "a4";
    Changes changes;
    bool text = false, card = false;
};

int fail(const std::string& sentence, int code = ExitCode::cannot_be_assembled) {
    complain("swashwright: {}\n", sentence);
    return code;
}

int run(const SheetRequest& request) {
    const auto loaded = load(request.scene, request.changes, request.out, /*must_close=*/true);
    if (!loaded) return loaded.error();
    sheet::Wishes wishes;
    wishes.picture = !request.text;
    wishes.card = request.card;
    const auto sheet = sheet::compose(loaded->head, noted(request.changes, loaded->scene), wishes);
    if (!sheet) return fail(sheet.error());
    for (const std::string& missing : sheet->missing) complain("swashwright: no answer: {}\n", missing);
    if (request.text) {
        say("{}", sheet::as_text(*sheet));
    } else {
        const auto pdf = sheet::pdf(*sheet, *sheet::paper_named(request.paper));
        return write_out(request.out, pdf.map(&sheet::Pdf::bytes), sheet->missing.empty());
    }
    return sheet->missing.empty() ? ExitCode::closes : ExitCode::cannot_be_assembled;
}

struct PlotRequest {
    std::string scene, what, out;
    Changes changes;
    head::Sticks sticks;
};

/// The plot's picture, or why there is none.
tl::expected<std::string, std::string> drawn(const head::Head& head, const PlotRequest& request) {
    const auto reason = [](const head::Failure& failure) { return tl::unexpected(failure.message); };
    if (request.what == "range") {
        const auto range = studies::pitch_range(head);
        if (!range) return reason(range.error());
        return sheet::svg(sheet::range_plot(*range, head.description()));
    }
    if (request.what == "turn") {
        const auto curve = studies::turn_curve(head, request.sticks);
        if (!curve) return reason(curve.error());
        return sheet::svg(sheet::turn_plot(*curve, request.sticks, head.description()));
    }
    if (request.what == "loads") {
        if (const head::Failure* open = head.neutral_failure()) return reason(*open);
        studies::Flying flying(head, studies::usual_flight(head.description()));
        const auto turn = studies::load_turn(flying, request.sticks);
        if (!turn)
            return tl::unexpected(
                std::string("at these sticks the links do not reach all the way round the turn, or meet a dead point"));
        return sheet::svg(sheet::loads_plot(*turn, request.sticks, {}, head.description()));
    }
    if (request.what == "power") {
        const auto power = studies::power(head, {.sticks = request.sticks});
        if (!power) return reason(power.error());
        return sheet::svg(sheet::power_plot(*power, "sticks' present place", power->now_deg));
    }
    if (studies::is_tail(head.description()))
        return tl::unexpected(
            std::string("a tail has one stick, so there is no envelope to draw; reach tells what binds"));
    const auto reach = studies::reach(head);
    if (!reach) return reason(reach.error());
    return sheet::svg(sheet::envelope_map(reach->envelope));
}

int run(const PlotRequest& request) {
    const auto loaded = load(request.scene, request.changes, request.out, /*must_close=*/true);
    if (!loaded) return loaded.error();
    return write_out(request.out, drawn(loaded->head, request), /*closes=*/true);
}

void add_plot(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("plot", "Draw one of the sheet's plots into an SVG file");
    const auto request = std::make_shared<PlotRequest>();
    verb->add_option("SCENE", request->scene, "Scene file")->required()->type_name("FILE");
    add_changes(*verb, request->changes);
    verb->add_option("WHAT", request->what,
                     "range: pitch over the collective, or a tail's rudder; turn: pitch through one turn; loads: "
                     "what servos must hold through one turn; envelope: what binds, and where; power: what the rotor "
                     "takes over pitch")
        ->required()
        ->check(CLI::IsMember({"range", "turn", "loads", "envelope", "power"}));
    add_out(*verb, request->out, {"plots are written as SVG", {".svg"}}, "The SVG file to write")->required();
    add_stick_options(*verb, request->sticks);  // for turn, loads and power
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace

void add_sheet(CLI::App& program, ExitCode& exit_code) {
    add_plot(program, exit_code);
    CLI::App* verb =
        program.add_subcommand("sheet", "Write a build sheet with links in their true size, to print as PDF");
    const auto request = std::make_shared<SheetRequest>();
    verb->add_option("SCENE", request->scene, "Scene file")->required()->type_name("FILE");
    CLI::Option* out =
        add_out(*verb, request->out, {"build sheets are written as PDF", {".pdf"}}, "The PDF file to write");
    add_changes(*verb, request->changes);
    verb->add_option("--paper", request->paper, "a4 or letter")
        ->check(CLI::IsMember({"a4", "letter"}))
        ->capture_default_str();
    verb->add_flag("--card", request->card,
                   "In its place the card for the field box, one page: links, heights, ends, what is doubtful");
    verb->add_flag("--text", request->text, "Print the same content as text instead")->excludes(out);
    verb->callback([request, &exit_code] {
        if (!request->text && request->out.empty()) throw CLI::RequiredError("--out or --text");
        exit_code.value = run(*request);
    });
}

}  // namespace swashwright::console
