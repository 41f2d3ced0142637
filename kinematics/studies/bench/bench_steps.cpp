#include "kinematics/studies/bench/bench_steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/bench/bench_stages.h"

namespace swashwright::studies {
namespace {

using head::Result;

std::string how_to_turn(const head::Link& link, double change_mm) {
    if (link.rod == head::Rod::turnbuckle)
        return fmt::format("Hold both ends, turn the hexagon so that the ends go {}; {:.2f} mm altogether.",
                           change_mm > 0 ? "apart" : "together", std::abs(change_mm));
    return fmt::format(
        "One end off its ball. Turn it {}, seen with that end towards you; {:.2f} mm altogether. Right-hand thread.",
        change_mm > 0 ? "anticlockwise" : "clockwise", std::abs(change_mm));
}

}  // namespace

bool BenchRound::none() const {
    return std::ranges::none_of(typed, [](const auto& value) { return value.has_value(); });
}

bool BenchRound::all() const {
    return std::ranges::all_of(typed, [](const auto& value) { return value.has_value(); });
}

Result<std::vector<BenchStep>> BenchStages::all() {
    for (auto stage : {&BenchStages::servos, &BenchStages::level, &BenchStages::cyclic, &BenchStages::zero,
                       &BenchStages::ends, &BenchStages::track})
        if (const auto done = (this->*stage)(); !done) return tl::unexpected(done.error());
    return std::move(out_);
}

std::optional<double> BenchStages::ask(BenchStep step) {
    const BenchReading reading = *step.reading;
    add(std::move(step));
    const auto found = read_.find(reading.key);
    if (found == read_.end() || !bench_slip(reading, found->second).empty()) return std::nullopt;
    return found->second;
}

void BenchStages::turn(const std::string& stage, const head::PartName& name, int steps, double change_mm,
                       bool measured) {
    const head::Link& link = *head::link_of(head_.description(), name);
    add({.stage = stage,
         .say = fmt::format("Make {} {} by {}.", head::link_words(head_.description(), name),
                            change_mm > 0 ? "longer" : "shorter", by_steps(link, steps)),
         .more = (measured ? "" : "By the open head's numbers, nothing was measured. ") + how_to_turn(link, change_mm),
         .tool = BenchTool::hands,
         .way = change_mm > 0 ? BenchWay::longer : BenchWay::shorter,
         .part = head::path_of(name),
         .turn = BenchTurn{name, change_mm, steps, link.rod}});
}

void BenchStages::other_cause(const std::string& stage, const std::string& say, const std::string& part) {
    add({.stage = stage,
         .say = say,
         .more = "Something else is off: a bent part, a wrong ball, a link that was not the one named. Ask which "
                 "part explains the readings, on the sheet of questions.",
         .part = part});
}

Result<std::vector<BenchStep>> bench_steps(const head::Head& head, const BenchReadings& read) {
    if (head.description().kind == head::Kind::tail)
        return tl::unexpected(
            head::Failure{"of a tail there are no such steps: its order of work is on the build sheet", {}});
    if (head.neutral_failure()) return tl::unexpected(*head.neutral_failure());
    return BenchStages(head, read).all();
}

std::string bench_slip(const BenchReading& reading, double value) {
    if (std::abs(value - reading.wanted) <= reading.off_at_most) return {};
    const bool other_way = reading.unit == "deg" && std::abs(value + reading.wanted) <= reading.off_at_most;
    return fmt::format(
        "{:.2f} {} is {:.1f} {} from what it should be: another place, or a slip? Read again, and type it anew.{}",
        value, reading.unit, std::abs(value - reading.wanted), reading.unit,
        other_way ? " If it stays so, collective runs the wrong way: reverse it in the transmitter." : "");
}

}  // namespace swashwright::studies
