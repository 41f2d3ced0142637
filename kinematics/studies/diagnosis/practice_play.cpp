#include "kinematics/studies/diagnosis/practice_play.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>

#include "kinematics/studies/diagnosis/diagnose.h"

namespace swashwright::studies {
namespace {

constexpr double settles_little = 0.3;  // nats of a next reading under which it is not taken for the sake of a part
constexpr int most_steps = 12;          // of Gauss and Newton

/// One thing is wrong, the gauge is honest, nobody mistypes.
DiagnosisOptions as_practised() {
    DiagnosisOptions out;
    out.kinds = kinds_hidden();
    out.pairs = false;
    out.priors = {.nothing = 1e-6, .single = 1, .pair = 1e-6};
    out.misread.chance = 1e-6;
    return out;
}

/// What is probable of each part, all that can be wrong with it together. Swapped links count for both.
std::map<std::string, double> by_part(const Diagnosis& d) {
    std::map<std::string, double> out;
    for (const Hypothesis& h : d.ranked)
        for (const int f : h.fit.faults)
            for (const std::string& key : keys_of(d.suspects[static_cast<std::size_t>(f)])) out[key] += h.probability;
    return out;
}

/// Nothing more to be had: what is left in question together is probable, and another reading settles little.
bool settles_no_more(const Diagnosis& d, const std::map<std::string, double>& parts) {
    if (d.best().fit.faults.empty() || d.next_readings.empty()) return d.next_readings.empty();
    if (d.next_readings.front().gain >= settles_little) return false;
    double together = 0;
    std::vector<std::string> counted;
    const auto add = [&](int f) {
        if (f == the_stand) return;
        for (const std::string& key : keys_of(d.suspects[static_cast<std::size_t>(f)])) {
            const auto found = parts.find(key);
            if (found == parts.end() || std::ranges::find(counted, key) != counted.end()) continue;
            counted.push_back(key);
            together += found->second;
        }
    };
    for (const int f : d.best().fit.faults) add(f);
    for (const StandIn& s : d.stand_ins) add(s.fault);
    return together >= sure;
}

/// The next place as the diagnosis has it; a reading that it doubts is taken again.
PitchReading next_place(const Diagnosis& d, const Readings& readings) {
    const NextStep& step = d.next_step;
    if (step.what == NextStep::What::take_again && step.reading < readings.pitch.size())
        return readings.pitch[step.reading];
    return d.next_readings.front().where;
}

/// The place at which the sizes of all suspects are least certain before anything is read.
std::optional<PitchReading> first_place(const HiddenFault& hidden) {
    std::vector<Fault> sized;
    std::ranges::copy_if(hidden.suspects, std::back_inserter(sized), &Fault::sized);
    Readings none;
    none.gauge = practice_gauge();
    const auto best = next_readings(hidden.described, none, sized, 1);
    return best.empty() ? std::nullopt : std::optional(best.front().where);
}

tl::unexpected<head::Failure> refused(std::string why) {
    return tl::unexpected(head::Failure{std::move(why), {}});
}

/// The head with a fault of some size, at these places, over the uncertainties.
std::optional<Eigen::VectorXd> with_fault(const head::Description& base, const Fault& fault, double size,
                                          const Readings& places) {
    head::Description changed = base;
    apply(fault, size, changed);
    const auto head = head::Head::build(changed);
    if (!head || head->neutral_failure()) return std::nullopt;
    auto there = expected(*head, places, {});
    return there ? std::optional(std::move(there->value)) : std::nullopt;
}

/// What this fault leaves of what is read, at its best size, in squared uncertainties; endless where it can leave none.
double left_by(const head::Description& base, const Fault& fault, const Readings& places, const Eigen::VectorXd& read) {
    double size = 0, least = std::numeric_limits<double>::infinity();
    const double h = 1e-3 * fault.usual_size();
    for (int step = 0; step < most_steps; ++step) {
        const auto here = with_fault(base, fault, size, places);
        if (!here) return least;
        const Eigen::VectorXd left = read - *here;
        if (left.squaredNorm() > 0.999 * least && step > 0) return std::min(least, left.squaredNorm());
        least = std::min(least, left.squaredNorm());
        const auto more = fault.sized() ? with_fault(base, fault, size + h, places) : std::nullopt;
        if (!more) return least;
        const Eigen::VectorXd slope = (*more - *here) / h;
        if (slope.squaredNorm() == 0) return least;
        size = std::clamp(size + slope.dot(left) / slope.squaredNorm(), -fault.largest(), fault.largest());
    }
    return least;
}

std::string words_of(const head::Description& d, const std::string& key) {
    const auto parts = parts_to_name(d);
    const auto found = std::ranges::find(parts, key, &PartToName::key);
    return found == parts.end() ? std::string() : found->words;
}

bool is_of(const Fault& fault, const std::string& key) {
    const auto keys = keys_of(fault);
    return std::ranges::find(keys, key) != keys.end();
}

Readings together(Readings all, const Readings& more) {
    all.pitch.insert(all.pitch.end(), more.pitch.begin(), more.pitch.end());
    all.ring_height.insert(all.ring_height.end(), more.ring_height.begin(), more.ring_height.end());
    return all;
}

/// By how many uncertainties the fault moves each reading.
std::vector<double> moved(const HiddenFault& hidden, const Readings& readings) {
    if (readings.size() == 0) return {};
    const auto with = expected(hidden.real, readings, {}), without = expected(hidden.described, readings, {});
    if (!with || !without) return std::vector<double>(readings.size());
    const Eigen::VectorXd by = with->value - without->value;
    return {by.begin(), by.end()};
}

}  // namespace

head::Result<OwnPlay> own_play(const HiddenFault& hidden, const std::stop_token& stop) {
    OwnPlay out;
    out.readings.gauge = practice_gauge();
    auto place = first_place(hidden);
    if (!place) return refused("the program finds no place to read in this head");
    while (!stop.stop_requested()) {
        out.readings.pitch.push_back(*place);
        auto read = read_hidden(hidden, out.readings);
        if (!read) return tl::unexpected(std::move(read.error()));
        out.readings = std::move(*read);
        const auto d = diagnose(hidden.described, out.readings, as_practised());
        if (!d) return tl::unexpected(d.error());
        const auto parts = by_part(*d);
        const auto best = std::ranges::max_element(parts, {}, [](const auto& part) { return part.second; });
        if (best != parts.end()) out.key = best->first, out.probable = std::min(1.0, best->second);
        out.settled = out.probable >= sure || settles_no_more(*d, parts);
        if (out.settled || out.readings.pitch.size() >= most_own_readings || d->next_readings.empty()) return out;
        place = next_place(*d, out.readings);
    }
    return tl::unexpected(was_stopped());
}

Readings long_sitting(const HiddenFault& hidden, Readings readings) {
    std::vector<Fault> sized;
    std::ranges::copy_if(hidden.suspects, std::back_inserter(sized), &Fault::sized);
    readings.gauge = practice_gauge();
    while (readings.pitch.size() < most_own_readings) {
        const auto best = next_readings(hidden.real, readings, sized, 1);
        if (best.empty()) break;
        readings.pitch.push_back(best.front().where);
    }
    return readings;
}

bool explains_as_well(const HiddenFault& hidden, const Readings& places, const std::string& key) {
    if (is_of(hidden.what(), key)) return true;
    if (places.size() == 0) return false;
    const auto read = expected(hidden.real, places, {});
    if (!read) return false;
    const head::Description base = head::mixer_kept(hidden.described);
    return std::ranges::any_of(hidden.suspects, [&](const Fault& fault) {
        return is_of(fault, key) && left_by(base, fault, places, read->value) < told_apart;
    });
}

head::Result<PracticeScore> practice_score(const HiddenFault& hidden, const Readings& places, const std::string& key,
                                           const std::stop_token& stop) {
    PracticeScore out;
    const head::Description& d = hidden.described.description();
    out.named = words_of(d, key);
    if (!key.empty() && out.named.empty()) return refused(fmt::format("this head has no part {} to be named", key));
    if (places.size() > 0) {
        auto read = read_hidden(hidden, places), sound = read_described(hidden, places);
        if (!read) return tl::unexpected(std::move(read.error()));
        if (!sound) return tl::unexpected(std::move(sound.error()));
        out.readings = std::move(*read), out.sound = std::move(*sound);
    }
    out.by_fault = moved(hidden, out.readings);
    auto own = own_play(hidden, stop);
    if (!own) return tl::unexpected(std::move(own.error()));
    out.own = std::move(*own);
    out.own_named = words_of(d, out.own.key);
    const Readings all = together(long_sitting(hidden, out.own.readings), out.readings);
    out.own_right = explains_as_well(hidden, all, out.own.key);
    if (key.empty()) return out;
    out.verdict = is_of(hidden.what(), key)            ? Verdict::right
                  : explains_as_well(hidden, all, key) ? Verdict::as_well
                                                       : Verdict::wrong;
    return out;
}

}  // namespace swashwright::studies
