#include "kinematics/studies/diagnosis/diagnose.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <iterator>

#include "kinematics/studies/diagnosis/ranking.h"
#include "kinematics/studies/diagnosis/told_apart.h"

namespace swashwright::studies {
namespace {

using Eigen::Index;

constexpr double in_question = 0.01;  // probability from which a hypothesis' suspects matter for what to do next
constexpr double worth_repeating = 0.2;
constexpr std::size_t most_in_question = 6;
constexpr std::size_t advised = 5;

/// Suspects of the hypotheses that are still in question; all that the readings show if nothing seems wrong.
std::vector<Fault> still_in_question(const Diagnosis& d) {
    std::vector<int> chosen;
    const auto take = [&](int f) {
        if (f == the_stand || d.suspects[static_cast<std::size_t>(f)].scatters()) return;
        if (chosen.size() < most_in_question && std::ranges::find(chosen, f) == chosen.end()) chosen.push_back(f);
    };
    for (const Hypothesis& h : d.ranked)
        if (h.probability > in_question)
            for (const int f : h.fit.faults) take(f);
    for (const StandIn& s : d.stand_ins) take(s.fault);
    std::vector<Fault> out;
    if (chosen.size() < 2 || d.best().fit.faults.empty()) {
        std::ranges::copy_if(d.suspects, std::back_inserter(out), &Fault::sized);
        return out;
    }
    for (const int f : chosen) out.push_back(d.suspects[static_cast<std::size_t>(f)]);
    return out;
}

/// The head with a hypothesis' faults in it.
head::Result<head::Head> believed(const head::Description& base, const Diagnosis& d, const Hypothesis& hypothesis) {
    head::Description description = base;
    const FaultFit& found = hypothesis.fit;
    for (std::size_t i = 0; i < found.faults.size(); ++i) {
        const Fault& fault = d.suspects[static_cast<std::size_t>(found.faults[i])];
        if (!fault.scatters()) apply(fault, found.size[static_cast<Index>(i)], description);
    }
    return head::Head::build(description);
}

/// The readings as the most probable explanation takes them, without those that can be anything.
Readings put_right(const Account& account) {
    Readings out = account.readings;
    out.pitch.clear();
    out.ring_height.clear();
    const std::size_t pitches = account.readings.pitch.size();
    for (std::size_t i = 0; i < pitches; ++i)
        if (!account.left_out[i]) out.pitch.push_back(account.readings.pitch[i]);
    for (std::size_t i = 0; i < account.readings.ring_height.size(); ++i)
        if (!account.left_out[pitches + i]) out.ring_height.push_back(account.readings.ring_height[i]);
    return out;
}

void advise(const head::Head& head, const head::Head& best, const head::Description& base, const Readings& readings,
            Diagnosis& d, const Going& going) {
    d.twins = find_twins(head, d.suspects);
    if (going.stopped()) return;
    going.tell(0.4);
    d.in_question = still_in_question(d);
    d.observability =
        observability(effect_rows(best, readings, d.in_question) * usual_sizes(d.in_question).asDiagonal());
    if (going.stopped()) return;
    going.tell(0.6);
    d.next_readings = next_readings(best, readings, d.in_question, advised);
    note_shown(best, readings, d.suspects, d.unseen, d.next_readings);
    const auto rival = d.ranked.size() > 1 ? believed(base, d, d.ranked[1]) : head::Result<head::Head>(best);
    for (Advice& advice : d.next_readings)
        if (const auto there = rival ? expected(*rival, {{advice.where}, {}}, {}) : std::nullopt)
            advice.rival_deg = there->value[0] * advice.where.uncertainty_deg;
}

/// The reading that a part which is never twice at the same place moves most, if such a part may be the matter.
std::optional<std::size_t> to_repeat(const Ranking& ranking) {
    for (const Candidate& c : ranking.ranked()) {
        const auto& chosen = c.hypothesis.fit.faults;
        if (c.hypothesis.probability < worth_repeating) return std::nullopt;
        if (chosen.empty() || !ranking.subject().suspect(chosen[0]).scatters()) continue;
        std::size_t most = 0;
        const auto moved = [&](std::size_t i) {
            return std::abs(ranking.subject().sound.slopes(ranking.accounts().own_row(i), chosen[0]));
        };
        for (std::size_t i = 1; i < ranking.accounts().readings().size(); ++i)
            if (moved(i) > moved(most)) most = i;
        return most;
    }
    return std::nullopt;
}

NextStep next_step(const head::Head& best, const Readings& readings, const Ranking& ranking, const Diagnosis& d) {
    const auto doubtful = std::ranges::max_element(d.checked, {}, &CheckedReading::chance_wrong);
    if (doubtful->chance_wrong >= doubted)
        return {NextStep::What::take_again, static_cast<std::size_t>(doubtful - d.checked.begin()), 0};
    if (const auto reading = to_repeat(ranking)) return {NextStep::What::repeat, *reading, 0};
    NextStep out;
    if (!d.next_readings.empty()) out = {NextStep::What::read_on, 0, d.next_readings.front().gain};
    const double shaft = gain_on_shaft(best, readings, d.in_question);
    if (shaft > out.gain) out = {NextStep::What::zero_on_shaft, 0, shaft};
    return out;
}

std::vector<CheckedReading> check(Ranking& ranking) {
    const Accounts& accounts = ranking.accounts();
    const Candidate& best = ranking.ranked().front();
    const Account account = ranking.prepared(best.weighing.accounts.front().misread).account;
    const Posterior posterior = accounts.posterior(
        account, ranking.subject().effects(best.hypothesis.fit.faults, best.rows, best.hypothesis.fit.size));
    const Eigen::VectorXd read = observed(accounts.readings());
    double weighed = 0;
    Eigen::VectorXd wrong = Eigen::VectorXd::Zero(read.size());
    for (const Candidate& c : ranking.ranked()) {
        weighed += c.hypothesis.probability;
        wrong += c.hypothesis.probability * c.hypothesis.chance_wrong;
    }
    std::vector<CheckedReading> out;
    for (std::size_t i = 0; i < accounts.readings().size(); ++i) {
        const auto at = static_cast<Index>(i);
        const double unit = accounts.uncertainty(i);
        out.push_back({read[at] * unit, posterior.expected[accounts.own_row(i)] * unit, wrong[at] / weighed});
        for (const Weighed& w : best.weighing.accounts) {  // the most probable first
            const auto it = std::ranges::find(w.misread, i, &Misread::reading);
            if (it == w.misread.end()) continue;
            out.back().how = it->how, out.back().blade = it->blade;
            break;
        }
    }
    return out;
}

void correct(const head::Head& head, Diagnosis& d) {
    for (std::size_t h = 0; h < std::min(d.ranked.size(), most_explanations); ++h) {
        Hypothesis& hypothesis = d.ranked[h];
        if (h > 0 && hypothesis.probability < in_question) continue;
        for (std::size_t i = 0; i < hypothesis.fit.faults.size(); ++i)
            hypothesis.corrections.push_back(correction(d.suspects[static_cast<std::size_t>(hypothesis.fit.faults[i])],
                                                        hypothesis.fit.size[static_cast<Index>(i)], head));
    }
}

/// What the explanations have together that name a part of the best or one that is not told from it, whatever is wrong
/// with the part.
double told_alike(const Ranking& ranking, const Diagnosis& d) {
    std::vector<std::string> parts;
    bool nothing = d.best().fit.faults.empty();
    const auto part = [&](int f) -> const std::string& { return d.suspects[static_cast<std::size_t>(f)].part; };
    for (const int f : d.best().fit.faults) parts.push_back(part(f));
    for (const StandIn& s : d.stand_ins) {
        nothing = nothing || s.fault == the_stand;
        if (s.fault != the_stand) parts.push_back(part(s.fault));
    }
    const auto in = [&](int f) { return std::ranges::find(parts, part(f)) != parts.end(); };
    double sum = 0;
    for (const Hypothesis& h : d.ranked)
        if (h.fit.faults.empty() ? nothing : std::ranges::any_of(h.fit.faults, in)) sum += h.probability;
    for (const LookedAt& l : ranking.looked_at())
        if (in(l.a) || in(l.b)) sum += l.probability;
    return sum;
}

/// Unfinished where it is stopped.
Diagnosis told(const head::Head& head, const Readings& readings, Ranking& ranking, const DiagnosisOptions& options,
               const Going& going) {
    Diagnosis d;
    const Subject& subject = ranking.subject();
    d.suspects = subject.suspects;
    for (const Candidate& c : ranking.ranked()) {
        d.ranked.push_back(c.hypothesis);
        if (c.hypothesis.fit.faults.empty()) d.nothing_chi_square = c.hypothesis.fit.chi_square;
    }
    d.pairs_weighed = ranking.pairs_weighed();
    d.unseen = ranking.unseen();
    d.checked = check(ranking);
    d.readings = readings.size();
    d.gauge = readings.gauge;
    d.has_before = readings.before != nullptr;
    d.priors = options.priors;
    d.misread = options.misread;
    d.kind = head.description().kind;
    correct(head, d);
    const auto best = believed(subject.base, d, d.best());
    if (!best) return d;
    if (const auto at = expected(*best, readings, d.suspects, subject.numbers, RowsOf::every_blade))
        d.stand_ins = find_stand_ins(ranking, *at);
    d.told_alike = told_alike(ranking, d);
    if (!options.advice || going.stopped()) return d;
    if (!d.has_before) d.described_within_deg = described_within_deg(head, readings, subject.numbers);
    const Readings right =
        put_right(ranking.prepared(ranking.ranked().front().weighing.accounts.front().misread).account);
    advise(head, *best, subject.base, right, d, going);
    if (going.stopped()) return d;
    d.next_step = next_step(*best, right, ranking, d);
    return d;
}

}  // namespace

head::Result<Diagnosis> diagnose(const head::Head& head, const Readings& readings, const DiagnosisOptions& options,
                                 const Going& going, const std::function<void(const Diagnosis&)>& so_far) {
    if (std::string wrong = mistake(readings, head.description()); !wrong.empty())
        return tl::unexpected(head::Failure{std::move(wrong), {}});
    Ranking ranking(head, readings, options);
    if (!ranking.begin(readings))
        return tl::unexpected(head::Failure{
            "the head as described cannot take the pose of every reading; correct the scene, or leave that reading out",
            {}});
    ranking.singles(going.part(0, 0.4));
    if (so_far && !going.stopped()) {
        Ranking early = ranking;
        early.finish();
        DiagnosisOptions only = options;
        only.advice = false;
        so_far(told(head, readings, early, only, going));
    }
    if (options.pairs) ranking.pairs(going.part(0.45, 0.7));
    if (going.stopped()) return tl::unexpected(was_stopped());
    ranking.finish();
    Diagnosis out = told(head, readings, ranking, options, going.part(0.7, 1));
    if (going.stopped()) return tl::unexpected(was_stopped());
    return out;
}

}  // namespace swashwright::studies
