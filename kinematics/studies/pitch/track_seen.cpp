#include "kinematics/studies/pitch/track_seen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/answer/rod_thread.h"
#include "kinematics/studies/answer/shown.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/pitch/whole_steps.h"

namespace swashwright::studies {
namespace {

constexpr int most_steps = 200;  // of one link, either way
constexpr double least_gain_deg = 0.005;

tl::unexpected<head::Failure> refused(std::string why) {
    return tl::unexpected(head::Failure{std::move(why), {}});
}

head::Link& upper(head::Description& d, std::size_t blade) {
    return *link_of(d, {head::Role::upper_link, static_cast<int>(blade)});
}

const head::Link& upper(const head::Description& d, std::size_t blade) {
    return *link_of(d, {head::Role::upper_link, static_cast<int>(blade)});
}

double split(const std::vector<double>& values) {
    const auto [low, high] = std::ranges::minmax_element(values);
    return *high - *low;
}

/// All links with whole steps on either side of what would be exact, the best of them by the slopes at the start.
std::vector<int> search(const Tracking& from, const head::Description& d) {
    const std::size_t count = from.settings.size();
    std::vector<int> low(count), now(count, 0), best(count, 0);
    std::vector<double> step_mm(count);
    for (std::size_t k = 0; k < count; ++k) {
        step_mm[k] = hand_step(upper(d, k)).mm;
        low[k] = static_cast<int>(std::floor(from.settings[k].exact_mm / step_mm[k]));
    }
    const double target = mean(from.mean_deg);
    const auto cost = [&] {
        std::vector<double> pitch = from.mean_deg;
        int turned = 0;
        for (std::size_t k = 0; k < count; ++k) {
            pitch[k] += from.settings[k].deg_per_mm * step_mm[k] * now[k];
            turned += std::abs(now[k]);
        }
        return split(pitch) + shift_counts * std::abs(mean(pitch) - target) + 1e-6 * turned;
    };
    double least = cost() - least_gain_deg;  // doing nothing; less than this is no gain
    for (std::size_t mix = 0; mix < (std::size_t{1} << (2 * count)); ++mix) {
        for (std::size_t k = 0; k < count; ++k) now[k] = low[k] - 1 + static_cast<int>((mix >> (2 * k)) & 3);
        if (const double c = cost(); c < least) least = c, best = now;
    }
    return best;
}

head::Result<std::pair<head::Description, Tracking>> turned(const head::Head& head, const head::Sticks& sticks,
                                                            const std::vector<int>& steps) {
    head::Description d = head.description();
    for (std::size_t k = 0; k < steps.size(); ++k) {
        if (std::abs(steps[k]) > most_steps) return refused("no link has so much thread; turn it back");
        upper(d, k).length_mm += steps[k] * hand_step(upper(d, k)).mm;
    }
    const auto made = head::Head::build(d);
    if (!made) return tl::unexpected(made.error());
    if (const head::Failure* open = made->neutral_failure()) return tl::unexpected(*open);
    auto tracked = tracking(*made, sticks);
    if (!tracked) return tl::unexpected(std::move(tracked.error()));
    return std::pair(std::move(d), std::move(*tracked));
}

double to_mm(const Tracking& t, double deg) {
    return t.flap ? t.flap->tip_mm_per_deg * deg : 0;
}

/// "up to about 6.2 mm", "under 0.5 mm"; of a head whose tips are not known the pitch.
std::string apart_words(const TrackSeen& seen, double deg, double mm) {
    if (!seen.now.flap) return figure(deg, 2) + " deg";
    return mm < 0.5 ? "under 0.5 mm" : fmt::format("up to about {} mm", figure(mm, 1));
}

/// From the steps tried so far: "upper link 2: half a turn shorter".
std::string further_words(const TrackSeen& seen) {
    std::vector<std::string> out;
    for (std::size_t k = 0; k < seen.best.size(); ++k)
        if (const int more = seen.best[k] - seen.steps[k]; more != 0)
            out.push_back(fmt::format("upper link {}: {}", k + 1, hand_steps_in_words(upper(seen.turned, k), more)));
    return listed(out);
}

/// What a link that is turned on trial lacks of thread, the first that does; empty where none does.
std::string thread_of_tried(const TrackSeen& seen) {
    for (std::size_t k = 0; k < seen.steps.size(); ++k) {
        const head::Link& link = upper(seen.turned, k);
        const std::string trouble = seen.steps[k] == 0 ? ""
                                                       : thread_trouble(fmt::format("upper link {}", k + 1),
                                                                        rod_thread(link, link.actual_mm()));
        if (!trouble.empty()) return trouble;
    }
    return {};
}

std::string sentence_of(const TrackSeen& seen) {
    const char* where = seen.now.flap ? "at the tip" : "in pitch";
    const std::string apart = apart_words(seen, seen.now.split_deg, seen.split_mm),
                      further = seen.gains() ? further_words(seen) : "";
    const bool one_line = seen.now.split_deg < 0.05;  // half of what a pitch gauge tells; common practice, no source
    std::string out = one_line ? fmt::format("The tips run in one line: {} between the highest and the lowest.", apart)
                               : fmt::format("Blade {} runs highest, blade {} lowest: {} apart {}.", seen.highest() + 1,
                                             seen.lowest() + 1, apart, where);
    if (!further.empty())
        out += fmt::format(" Closest with {}; then {} is left and {}.", further,
                           apart_words(seen, seen.best_split_deg, seen.best_split_mm),
                           mean_words(mean(seen.now.mean_deg), seen.best_mean_deg));
    else if (!one_line)
        out += " No further step of the links brings them closer.";
    const std::string trouble = thread_of_tried(seen);
    return trouble.empty() ? out : out + " But " + trouble;
}

Table blades_table(const TrackSeen& seen) {
    Table out{"tips",
              "Blades at the sticks' present place; tips over the mean of all",
              {{"blade", "blade", "", 0},
               {"mean_deg", "mean pitch", "deg", 2, true},
               {"tip_mm", "tip, about", "mm", 1, true},
               {"steps", "steps", "", data_only, true},
               {"tried", "link tried", ""}},
              {},
              {}};
    for (std::size_t k = 0; k < seen.now.mean_deg.size(); ++k) {
        out.rows.push_back({static_cast<double>(k + 1), seen.now.mean_deg[k],
                            k < seen.tip_mm.size() ? Cell(seen.tip_mm[k]) : Cell(), static_cast<double>(seen.steps[k]),
                            hand_steps_in_words(upper(seen.turned, k), seen.steps[k])});
        out.parts.push_back(fmt::format("upper_link[{}]", k + 1));
    }
    return out;
}

}  // namespace

const char* const out_of_the_plane =
    "Nobody stands in the plane of the disc: a blade, or a piece of one, that lets go flies in it. Look from far off, "
    "eyes well above or below the disc, and turn links only with the rotor at rest and the motor disconnected (common "
    "practice, no source).";

HandStep hand_step(const head::Link& link) {
    if (!takes_half_turns(link)) return {link.thread_pitch_mm, "whole turn", "whole turns"};
    return {half_turn_mm(link), "half turn", "half turns"};
}

std::string hand_steps_in_words(const head::Link& link, int steps) {
    const HandStep step = hand_step(link);
    return steps_in_words(steps, step.one, step.many);
}

std::size_t TrackSeen::highest() const {
    return static_cast<std::size_t>(std::ranges::max_element(now.mean_deg) - now.mean_deg.begin());
}

std::size_t TrackSeen::lowest() const {
    return static_cast<std::size_t>(std::ranges::min_element(now.mean_deg) - now.mean_deg.begin());
}

bool TrackSeen::gains() const {
    return best_split_deg < now.split_deg &&
           apart_words(*this, best_split_deg, best_split_mm) != apart_words(*this, now.split_deg, split_mm);
}

head::Result<TrackSeen> track_seen(const head::Head& head, const head::Sticks& sticks, std::vector<int> steps) {
    const auto described = tracking(head, sticks);
    if (!described) return tl::unexpected(described.error());
    const std::size_t blades = described->mean_deg.size();
    if (described->settings.size() != blades)
        return refused("no blade of this head has an upper link of its own to turn");
    steps.resize(blades, 0);
    auto now = turned(head, sticks, steps);
    if (!now) return tl::unexpected(std::move(now.error()));
    TrackSeen out{
        std::move(now->second), std::move(steps), std::move(now->first), {}, search(*described, head.description())};
    const auto best = turned(head, sticks, out.best);
    const bool better = best && best->second.split_deg <= described->split_deg;
    if (!better) out.best.assign(blades, 0);
    const Tracking& closest = better ? best->second : *described;
    out.best_split_deg = closest.split_deg;
    out.best_mean_deg = mean(closest.mean_deg);
    out.split_mm = to_mm(out.now, out.now.split_deg);
    out.best_split_mm = to_mm(out.now, out.best_split_deg);
    const double middle = mean(out.now.mean_deg);
    for (const double pitch : out.now.mean_deg)
        if (out.now.flap) out.tip_mm.push_back(to_mm(out.now, pitch - middle));
    return out;
}

Answer answer(const TrackSeen& seen) {
    Answer from = answer(seen.now, seen.turned);
    std::vector<std::string> notes{
        out_of_the_plane,
        "Not in it: blades that differ in mass, balance, twist or bend, lead and lag, play, and "
        "what the air does to one blade and not the other. What is seen in flight counts."};
    notes.insert(notes.end(), from.notes.begin(), from.notes.end());
    return {"track", sentence_of(seen), from.tone, {blades_table(seen)}, std::move(notes)};
}

}  // namespace swashwright::studies
