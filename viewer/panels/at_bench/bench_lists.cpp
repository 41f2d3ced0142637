#include "viewer/panels/at_bench/bench_lists.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "viewer/sheet/words.h"

namespace swashwright::panels {
namespace {

using studies::BenchStep;
using studies::BenchTool;

const std::string crash_stage = "After a crash", cautions_stage = "First";

/// The first sentence is the instruction, the rest what to know about it.
BenchStep of_words(const std::string& stage, const std::string& words, BenchTool tool) {
    BenchStep out{.stage = stage, .say = words, .more = {}, .tool = tool};
    if (const auto end = words.find(". "); end != std::string::npos)
        out.say = words.substr(0, end + 1), out.more = words.substr(end + 2);
    return out;
}

void add(std::vector<BenchStep>& steps, const std::string& stage, const std::vector<std::string>& lines,
         BenchTool tool) {
    for (const std::string& line : lines) steps.push_back(of_words(stage, line, tool));
}

/// What comes behind the cautions.
std::vector<BenchStep> work_of(const head::Description& d, const AtBench& at_bench) {
    std::vector<BenchStep> out;
    if (at_bench.list == BenchList::after_crash) {
        add(out, crash_stage, sheet::after_crash(d), BenchTool::eyes);
        return out;
    }
    const auto head = head::Head::build(d);
    const auto steps = head ? studies::bench_steps(*head, at_bench.read)
                            : head::Result<std::vector<BenchStep>>(tl::unexpected(head.error()));
    if (steps)
        out.insert(out.end(), steps->begin(), steps->end());
    else {
        if (d.kind == head::Kind::main)
            out.push_back({.stage = "Set-up",
                           .say = "This head cannot be led through as it stands.",
                           .more = steps.error().message + ". What follows is the usual order of work."});
        add(out, "Set-up", sheet::order_of_work(d), BenchTool::hands);
    }
    add(out, "Before it runs", sheet::retention_checks(d), BenchTool::hex_key);
    return out;
}

std::vector<BenchStep> cautions() {
    std::vector<BenchStep> out;
    add(out, cautions_stage, sheet::cautions("this program"), BenchTool::eyes);
    return out;
}

std::string count_words(std::size_t count) {
    return count == 1 ? "1 reading" : fmt::format("{} readings", count);
}

/// `steps`: all but this one.
BenchStep left_step(const document::BenchPlace& left, const std::vector<BenchStep>& steps) {
    const std::size_t at = step_of(steps, left);
    return {.stage = "Left on " + left.day,
            .say = fmt::format("Left on {} at step {} of {}: Space goes on there, Home starts again.", left.day, at + 1,
                               steps.size()),
            .more = steps[at].say +
                    (left.read.empty() ? "" : fmt::format(" With {} of that day.", count_words(left.read.size()))),
            .tool = BenchTool::eyes};
}

}  // namespace

std::vector<BenchStep> steps_of(const Bench& bench, const AtBench& at_bench) {
    std::vector<BenchStep> out = cautions();
    const auto behind = static_cast<std::ptrdiff_t>(out.size());
    const std::vector<BenchStep> work = work_of(bench.head(), at_bench);
    out.insert(out.end(), work.begin(), work.end());
    if (at_bench.left) out.insert(out.begin() + behind, left_step(*at_bench.left, out));
    return out;
}

bool tells_left(const AtBench& at_bench, std::size_t step) {
    return at_bench.left && step < at_bench.steps.size() && at_bench.steps[step].stage.starts_with("Left on ");
}

bool is_caution(const BenchStep& step) {
    return step.stage == cautions_stage;
}

std::size_t step_of(const std::vector<BenchStep>& steps, const document::BenchPlace& place) {
    const auto far = [&](std::size_t i) { return i > place.step ? i - place.step : place.step - i; };
    std::optional<std::size_t> same;
    for (std::size_t i = 0; i < steps.size(); ++i)
        if (steps[i].stage == place.stage && steps[i].say == place.say && (!same || far(i) < far(*same))) same = i;
    if (same) return *same;
    const auto stage = std::ranges::find(steps, place.stage, &BenchStep::stage);
    return stage == steps.end() ? 0 : static_cast<std::size_t>(stage - steps.begin());
}

std::string crash_line(const BenchStep& step) {
    if (step.stage != crash_stage) return {};
    return step.say + (step.more.empty() ? "" : " " + step.more);
}

bool all_looked_at(const std::vector<BenchStep>& steps, const document::HeadKept& kept) {
    return std::ranges::all_of(steps, [&](const BenchStep& step) {
        return step.stage != crash_stage || kept.looked_at.contains(crash_line(step));
    });
}

}  // namespace swashwright::panels
