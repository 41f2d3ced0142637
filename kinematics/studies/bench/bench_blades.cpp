// Zero pitch on every blade, by a gauge that is read and upper links that are turned.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/bench/bench_stages.h"
#include "kinematics/studies/pitch/whole_steps.h"

namespace swashwright::studies {
namespace {

using head::Head;
using head::Result;
using head::Role;

// Common practice, no source.
constexpr double slip_deg = 15;      // a reading farther off is one of another place, or a slip of the pen
constexpr double step_gains = 0.04;  // as far as a gauge's doubt goes, a step that gains less is not worth a turn

std::string blade_words(std::size_t blade) {
    return fmt::format("blade {}", blade + 1);
}

/// Rotor azimuth with a blade over the tail boom.
double over_tail_deg(const Head& head, std::size_t blade) {
    return head::within_turn_deg(-360.0 * static_cast<double>(blade) / head.description().rotor.blades);
}

}  // namespace

std::size_t BenchStages::blades() const {
    return static_cast<std::size_t>(head_.description().rotor.blades);
}

Result<std::vector<double>> BenchStages::pitches(const head::Sticks& sticks) const {
    std::vector<double> out;
    for (std::size_t k = 0; k < blades(); ++k) {
        const auto pose = stand_.pose(sticks, over_tail_deg(stand_, k));
        if (!pose) return tl::unexpected(pose.error());
        out.push_back(pose->pitch_deg[k]);
    }
    return out;
}

BenchStep BenchStages::gauge(const std::string& stage, std::size_t blade, const head::Sticks& sticks,
                             const std::string& stick, int round, double wanted, double as_open) const {
    return {.stage = stage,
            .say = fmt::format("{}{}, {} over the tail: read its pitch.", round == 1 ? "" : "Once more: ", stick,
                               blade_words(blade)),
            .more = fmt::format("Wanted: {} deg. On the head as it is open: {} deg. Leading edge up is plus.",
                                signed_figure(wanted, 1), signed_figure(as_open, 1)),
            .tool = BenchTool::pitch_gauge,
            .part = head::path_of({Role::blade, static_cast<int>(blade)}),
            .sticks = sticks,
            .azimuth_deg = over_tail_deg(head_, blade),
            .reading = BenchReading{fmt::format("{}, blade {}, round {}", stick, blade + 1, round),
                                    "pitch of " + blade_words(blade), "deg", wanted, as_open, slip_deg}};
}

/// Upper links that bring the blades from what they read to zero, in whole steps; empty where no blade has its own.
std::vector<LinkSetting> BenchStages::to_zero(const std::vector<std::optional<double>>& read) const {
    const auto track = tracking(stand_, head::Sticks{});
    if (!track) return {};
    std::vector<LinkSetting> out = track->settings;
    std::vector<double> pitch_deg, step_deg;
    for (LinkSetting& s : out) s.exact_mm = s.change_mm = s.steps = 0;
    for (std::size_t k = 0; k < out.size(); ++k) {
        if (!read[k]) continue;
        out[k].exact_mm = -*read[k] / out[k].deg_per_mm;
        pitch_deg.push_back(*read[k]);
        step_deg.push_back(out[k].deg_per_mm * link_step(*head::link_of(head_.description(), out[k].link)).mm);
    }
    const std::vector<int> steps = whole_steps(pitch_deg, step_deg, {.each_step = step_gains});
    for (std::size_t k = 0, of_read = 0; k < out.size(); ++k) {
        if (!read[k]) continue;
        out[k].steps = steps[of_read++];
        out[k].change_mm = out[k].steps * link_step(*head::link_of(head_.description(), out[k].link)).mm;
    }
    return out;
}

/// The head with its links set so.
Head BenchStages::with(const std::vector<LinkSetting>& settings) const {
    head::Description set = stand_.description();
    for (const LinkSetting& s : settings) head::link_of(set, s.link)->length_mm += s.change_mm;
    return Head::build(set).value_or(stand_);
}

Result<void> BenchStages::zero() {
    const auto open = pitches(head::Sticks{});
    if (!open) return tl::unexpected(open.error());
    const std::vector<LinkSetting> as_open = to_zero({open->begin(), open->end()});
    off_deg_.assign(blades(), std::nullopt);
    read_to_zero(*open, as_open);
    stand_ = with(as_open);  // and so the model stands, whatever was wrong with it
    const auto stands = pitches(head::Sticks{});
    for (std::size_t k = 0; k < blades(); ++k)
        if (off_deg_[k]) off_deg_[k] = stands ? std::optional(*off_deg_[k] - (*stands)[k]) : std::nullopt;
    return {};
}

/// No link is to be turned any more: how near the blades are.
BenchStep BenchStages::at_zero(const BenchRound& read, const std::vector<double>& open_deg) const {
    std::vector<double> at;
    for (std::size_t k = 0; k < read.typed.size(); ++k)
        if (read.typed[k] || read.none()) at.push_back(read.typed[k].value_or(open_deg[k]));
    const auto [low, high] = std::ranges::minmax_element(at);
    const double off = std::max(std::abs(*low), std::abs(*high)), apart = *high - *low;
    const std::string how = at.size() == 1 ? fmt::format("{:.2f} deg off", off)
                                           : fmt::format("{:.2f} deg off, {:.2f} deg apart", off, apart);
    const std::string whose = read.none()  ? "By the open head's numbers every blade"
                              : read.all() ? "Every blade"
                                           : "Every blade that was read";
    BenchStep out{.stage = "Zero pitch", .say = {}, .more = {}};
    if (off <= even_deg)
        out.say = whose + " is at zero.";
    else
        out.say = fmt::format("{} is as near to zero as {} allow: {}.", whose,
                              link_step(head_.description().upper_links.front()).many, how);
    if (read.none())
        out.more = "Nothing was measured. Only pitch that you read and type tells of your model.";
    else
        out.more = (off <= even_deg ? how + ". " : "") + "Track in the air is seen in the air.";
    return out;
}

void BenchStages::read_to_zero(const std::vector<double>& open_deg, const std::vector<LinkSetting>& as_open) {
    const std::string stage = "Zero pitch";
    for (int round = 1; round <= most_bench_rounds; ++round) {
        BenchRound now;
        for (std::size_t k = 0; k < blades(); ++k)
            now.typed.push_back(ask(gauge(stage, k, head::Sticks{}, "Sticks centred", round, 0, open_deg[k])));
        if (now.none() && round > 1) return;
        const std::vector<LinkSetting> settings = now.none() ? as_open : to_zero(now.typed);
        if (settings.empty())
            return add({.stage = stage,
                        .say = "Every blade at zero with the sticks centred.",
                        .more = "No blade of this head has an upper link of its own: ask how long its links must "
                                "be, on the sheet of questions."});
        if (std::ranges::none_of(settings, [](const LinkSetting& s) { return s.steps != 0; })) {
            off_deg_ = now.typed;
            return add(at_zero(now, open_deg));
        }
        for (const LinkSetting& s : settings)
            if (s.steps != 0) turn(stage, s.link, s.steps, s.change_mm, !now.none());
        if (now.none()) return;
    }
    other_cause(stage, "The blades will not come to zero by their links.", "");
}

}  // namespace swashwright::studies
