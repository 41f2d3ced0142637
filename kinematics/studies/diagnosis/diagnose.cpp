#include "kinematics/studies/diagnosis/diagnose.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <iterator>

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t most_pairs_refined = 24;
constexpr double near_best = 8.0;     // in log-evidence: pairs that a first look puts farther behind are not refined
constexpr double in_question = 0.01;  // probability from which a hypothesis' suspects matter for what to do next
constexpr std::size_t most_in_question = 6;
constexpr std::size_t advised = 5;

class Ranking {
public:
    Ranking(const head::Head& head, const Readings& readings, const DiagnosisOptions& options)
        : base_(head::mixer_kept(head)), readings_(readings), priors_(options.priors) {
        out_.suspects = faults(base_, options.kinds);
        std::erase_if(out_.suspects, [](const Fault& f) { return f.scatters(); });  // not weighed yet
        out_.readings = readings.size();
        out_.priors = options.priors;
    }

    bool begin() {
        auto nothing = fit(base_, readings_, out_.suspects, {}, {}, false);
        if (!nothing) return false;
        out_.nothing_chi_square = nothing->chi_square;
        add(std::move(*nothing), std::log(priors_.nothing));
        return true;
    }

    void singles() {
        const FaultFit nothing = out_.ranked.front().fit;
        const double prior =
            std::log(priors_.single / static_cast<double>(std::max<std::size_t>(1, out_.suspects.size())));
        for (int f = 0; f < static_cast<int>(out_.suspects.size()); ++f) {
            const double first = linear_fit(nothing.left, nothing.slopes.col(f), VectorXd::Zero(1), usual({f})).size[0];
            auto one = best_single(f, first);
            if (!one || one->deviation(0) > suspect(f).usual_size()) {
                out_.unseen.push_back(f);  // no size can be told, or the head cannot be posed with it
                continue;
            }
            singles_.push_back(*one);
            add(std::move(*one), prior);
        }
    }

    /// Every pair is weighed by linear theory about the fit of one of the two; those near the best are fitted for good.
    void pairs() {
        struct Look {
            int a, b;
            VectorXd start;
            double log_evidence;
        };
        std::vector<Look> looks;
        const VectorXd sound = out_.ranked.front().fit.left;
        for (const FaultFit& a : singles_)
            for (const FaultFit& b : singles_) {
                const int i = a.faults[0], j = b.faults[0];
                if (i >= j || same_part(i, j)) continue;
                const LinearFit from_a = look(a, b, sound), from_b = look(b, a, sound);
                const bool forward = from_a.log_evidence >= from_b.log_evidence;
                const VectorXd& start = forward ? from_a.size : from_b.size;
                looks.push_back({i, j, forward ? start : VectorXd(start.reverse()),
                                 std::max(from_a.log_evidence, from_b.log_evidence)});
            }
        out_.pairs_weighed = looks.size();
        std::ranges::stable_sort(looks, [](const Look& a, const Look& b) { return a.log_evidence > b.log_evidence; });
        const double prior = std::log(priors_.pair / static_cast<double>(std::max<std::size_t>(1, looks.size())));
        double best = -1e300;
        for (const Hypothesis& h : out_.ranked) best = std::max(best, h.log_evidence);
        for (std::size_t n = 0; n < looks.size(); ++n) {
            const Look& l = looks[n];
            if (n < most_pairs_refined && l.log_evidence + prior > best - near_best) {
                if (auto two = fit(base_, readings_, out_.suspects, {l.a, l.b}, l.start, true))
                    add(std::move(*two), prior);
            } else {
                unrefined_.push_back(l.log_evidence + prior);
            }
        }
    }

    Diagnosis finish() {
        std::ranges::stable_sort(
            out_.ranked, [](const Hypothesis& a, const Hypothesis& b) { return a.log_evidence > b.log_evidence; });
        const double top = out_.best().log_evidence;
        double sum = 0;
        for (const Hypothesis& h : out_.ranked) sum += std::exp(h.log_evidence - top);
        for (const double e : unrefined_) sum += std::exp(std::min(0.0, e - top));
        for (Hypothesis& h : out_.ranked) h.probability = std::exp(h.log_evidence - top) / sum;
        find_stand_ins();
        return std::move(out_);
    }

private:
    const Fault& suspect(int f) const { return out_.suspects[static_cast<std::size_t>(f)]; }
    bool same_part(int a, int b) const {
        return suspect(a).kind == suspect(b).kind && suspect(a).index == suspect(b).index && !suspect(a).sized();
    }

    /// Turned rings bend the readings: from one side the fit may run into a hollow that is not the lowest.
    std::optional<FaultFit> best_single(int f, double first) const {
        std::vector<double> starts{suspect(f).sized() ? first : 0.0};
        if (suspect(f).kind == FaultKind::guide_turn || suspect(f).kind == FaultKind::driver_turn)
            starts.insert(starts.end(), {suspect(f).usual_size(), -suspect(f).usual_size()});
        std::optional<FaultFit> best;
        for (const double start : starts) {
            auto found = fit(base_, readings_, out_.suspects, {f}, VectorXd::Constant(1, start), false);
            if (found && (!best || found->chi_square < best->chi_square)) best = std::move(found);
        }
        return best;
    }

    VectorXd usual(const std::vector<int>& chosen) const {
        VectorXd out(static_cast<Index>(chosen.size()));
        for (std::size_t i = 0; i < chosen.size(); ++i) out[static_cast<Index>(i)] = suspect(chosen[i]).usual_size();
        return out;
    }

    void add(FaultFit found, double log_prior) {
        std::vector<int> sized;
        std::vector<double> size;
        for (std::size_t i = 0; i < found.faults.size(); ++i)
            if (suspect(found.faults[i]).sized()) {
                sized.push_back(found.faults[i]);
                size.push_back(found.size[static_cast<Index>(i)]);
            }
        const double evidence =
            log_evidence(found.left, found.slopes(Eigen::all, sized),
                         Eigen::Map<VectorXd>(size.data(), static_cast<Index>(size.size())), usual(sized));
        out_.ranked.push_back({std::move(found), evidence + log_prior, 0});
    }

    /// The pair {a, b} by linear theory about the fit of `a` alone: sizes in that order.
    LinearFit look(const FaultFit& a, const FaultFit& b, const VectorXd& sound) const {
        std::vector<int> sized;
        std::vector<double> size;
        VectorXd left = a.left;
        if (suspect(a.faults[0]).sized()) sized.push_back(a.faults[0]), size.push_back(a.size[0]);
        if (suspect(b.faults[0]).sized())
            sized.push_back(b.faults[0]), size.push_back(0);
        else
            left -= sound - b.left;  // its effect on the sound head, taken as the same here
        LinearFit found = linear_fit(left, a.slopes(Eigen::all, sized),
                                     Eigen::Map<VectorXd>(size.data(), static_cast<Index>(size.size())), usual(sized));
        VectorXd full = VectorXd::Zero(2);
        Index next = 0;
        if (suspect(a.faults[0]).sized()) full[0] = found.size[next++];
        if (suspect(b.faults[0]).sized()) full[1] = found.size[next];
        found.size = full;
        return found;
    }

    /// Effect of a suspect on the readings: of a fitted single fault, sound readings less what it leaves.
    const FaultFit* single(int f) const {
        const auto it = std::ranges::find_if(singles_, [&](const FaultFit& s) { return s.faults[0] == f; });
        return it == singles_.end() ? nullptr : &*it;
    }

    void find_stand_ins() {
        const FaultFit& best = out_.best().fit;
        for (std::size_t i = 0; i < best.faults.size(); ++i) {
            const int member = best.faults[i];
            for (const FaultFit& rival : singles_) {
                const int r = rival.faults[0];
                if (std::ranges::find(best.faults, r) != best.faults.end()) continue;
                const double apart = chi_square_between(best, i, rival);
                if (apart < told_apart) out_.stand_ins.push_back({r, member, apart});
            }
        }
        std::ranges::stable_sort(out_.stand_ins,
                                 [](const StandIn& a, const StandIn& b) { return a.chi_square < b.chi_square; });
    }

    /// What of the effect of the best hypothesis' fault i no size of the rival (and of the other fault) can make.
    double chi_square_between(const FaultFit& best, std::size_t i, const FaultFit& rival) const {
        const int member = best.faults[i];
        const VectorXd sound = sound_left();
        VectorXd effect = suspect(member).sized() ? VectorXd(best.slopes.col(member) * best.size[static_cast<Index>(i)])
                          : single(member)        ? VectorXd(sound - single(member)->left)
                                                  : VectorXd(VectorXd::Zero(sound.size()));
        std::vector<int> free;
        if (suspect(rival.faults[0]).sized())
            free.push_back(rival.faults[0]);
        else
            effect -= sound - rival.left;
        for (const int other : best.faults)
            if (other != member && suspect(other).sized()) free.push_back(other);
        if (free.empty()) return effect.squaredNorm();
        const MatrixXd columns = best.slopes(Eigen::all, free);
        return (effect - columns * columns.colPivHouseholderQr().solve(effect)).squaredNorm();
    }

    VectorXd sound_left() const {
        for (const Hypothesis& h : out_.ranked)
            if (h.fit.faults.empty()) return h.fit.left;
        return {};
    }

    head::Description base_;
    const Readings& readings_;
    Priors priors_;
    Diagnosis out_;
    std::vector<FaultFit> singles_;
    std::vector<double> unrefined_;  // log-evidence of pairs only looked at
};

/// Suspects of the hypotheses that are still in question; all that the readings show if nothing seems wrong.
std::vector<Fault> still_in_question(const Diagnosis& d) {
    std::vector<int> chosen;
    const auto take = [&](int f) {
        if (chosen.size() < most_in_question && std::ranges::find(chosen, f) == chosen.end()) chosen.push_back(f);
    };
    for (const Hypothesis& h : d.ranked)
        if (h.probability > in_question)
            for (const int f : h.fit.faults) take(f);
    for (const StandIn& s : d.stand_ins) take(s.fault);
    std::vector<Fault> out;
    if (chosen.size() < 2) {
        std::ranges::copy_if(d.suspects, std::back_inserter(out), &Fault::sized);
        return out;
    }
    for (const int f : chosen) out.push_back(d.suspects[static_cast<std::size_t>(f)]);
    return out;
}

/// The head with a hypothesis' faults in it.
head::Result<head::Head> believed(const head::Head& head, const Diagnosis& d, const Hypothesis& hypothesis) {
    head::Description description = head::mixer_kept(head);
    const FaultFit& found = hypothesis.fit;
    for (std::size_t i = 0; i < found.faults.size(); ++i)
        apply(d.suspects[static_cast<std::size_t>(found.faults[i])], found.size[static_cast<Index>(i)], description);
    return head::Head::build(description);
}

void advise(const head::Head& head, const Readings& readings, Diagnosis& d) {
    d.twins = find_twins(head, d.suspects);
    const auto best = believed(head, d, d.best());
    if (!best) return;
    d.in_question = still_in_question(d);
    d.observability =
        observability(effect_rows(*best, readings, d.in_question) * usual_sizes(d.in_question).asDiagonal());
    d.next_readings = next_readings(*best, readings, d.in_question, advised);
    const auto rival = d.ranked.size() > 1 ? believed(head, d, d.ranked[1]) : best;
    for (Advice& advice : d.next_readings)
        if (const auto there = rival ? expected(*rival, {{advice.where}, {}}, {}) : std::nullopt)
            advice.rival_deg = there->value[0] * advice.where.uncertainty_deg;
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

}  // namespace

head::Result<Diagnosis> diagnose(const head::Head& head, const Readings& readings, const DiagnosisOptions& options) {
    if (std::string wrong = mistake(readings, head.description()); !wrong.empty())
        return tl::unexpected(head::Failure{std::move(wrong), {}});
    Ranking ranking(head, readings, options);
    if (!ranking.begin())
        return tl::unexpected(head::Failure{
            "the head as described cannot take the pose of every reading; correct the scene, or leave that reading out",
            {}});
    ranking.singles();
    if (options.pairs) ranking.pairs();
    Diagnosis diagnosis = ranking.finish();
    diagnosis.kind = head.description().kind;
    correct(head, diagnosis);
    if (options.advice) advise(head, readings, diagnosis);
    return diagnosis;
}

}  // namespace swashwright::studies
