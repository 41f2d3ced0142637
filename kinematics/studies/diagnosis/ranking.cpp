#include "kinematics/studies/diagnosis/ranking.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int most_accounts_tried = 3;
constexpr std::array<double, 3> scatters{0.5, 1, 2};  // of the usual size, weighed alike
constexpr double never = -std::numeric_limits<double>::infinity();

bool same_list(const std::vector<Misread>& a, const std::vector<Misread>& b) {
    return std::ranges::equal(a, b, same);
}

/// Of effects without faults.
Effects none(const VectorXd& value) {
    return {value, MatrixXd(value.size(), 0), {}, {}, {}, {}};
}

/// Whether a bent shaft shows to the gauge as it turns depends on what the gauge was zeroed on.
std::vector<Fault> suspects_of(const head::Description& base, const Readings& readings,
                               const std::vector<FaultKind>& kinds) {
    std::vector<Fault> out = faults(base, kinds);
    const bool against_frame = readings.gauge.zeroed_on.value_or(ZeroedOn::shaft) != ZeroedOn::shaft;
    for (Fault& fault : out)
        if (fault.kind == FaultKind::bent_shaft) fault.against_frame = against_frame;
    return out;
}

}  // namespace

Effects Subject::effects(const std::vector<int>& chosen, const Expected& rows, const VectorXd& size) const {
    std::vector<Index> sized;
    std::vector<double> usual, largest, at;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        if (!suspect(chosen[i]).sized()) continue;
        sized.push_back(static_cast<Index>(i));
        usual.push_back(suspect(chosen[i]).usual_size());
        largest.push_back(suspect(chosen[i]).largest());
        at.push_back(size[static_cast<Index>(i)]);
    }
    const auto vector = [](const std::vector<double>& v) {
        return VectorXd(Eigen::Map<const VectorXd>(v.data(), static_cast<Index>(v.size())));
    };
    return {rows.value, rows.slopes(Eigen::all, sized), vector(at), vector(usual), vector(largest), {}};
}

Ranking::Ranking(const head::Head& head, const Readings& readings, const DiagnosisOptions& options)
    : subject_{head::mixer_kept(head), head::numbers(head.description()), {}, {}}, options_(options) {
    subject_.suspects = suspects_of(subject_.base, readings, options.kinds);
}

bool Ranking::begin(const Readings& readings) {
    const auto head = head::Head::build(subject_.base);
    if (!head) return false;
    auto sound = expected(*head, readings, subject_.suspects, subject_.numbers, RowsOf::every_blade);
    auto common = sound ? shared(*head, readings, subject_.numbers) : std::nullopt;
    if (!common) return false;
    subject_.sound = std::move(*sound);
    accounts_.emplace(readings, std::move(*common), subject_.base.rotor.blades, options_.misread);
    Weighing weighing = accounts_->weigh(none(subject_.sound.value));
    const Prepared& to = prepared(weighing.accounts.front().misread);
    const VectorXd left = to.whitened.whiten * (to.whitened.read - subject_.sound.value(to.whitened.rows));
    FaultFit fit{{}, {}, {}, left.squaredNorm()};
    add({{std::move(fit)}, {subject_.sound.value, MatrixXd(subject_.sound.value.size(), 0)}, std::move(weighing)},
        std::log(options_.priors.nothing));
    return true;
}

const Prepared& Ranking::prepared(const std::vector<Misread>& misread) {
    const auto known =
        std::ranges::find_if(prepared_, [&](const Prepared& p) { return same_list(p.account.misread, misread); });
    if (known != prepared_.end()) return *known;
    Prepared out{accounts_->account(misread), {}, {}};
    out.whitened = accounts_->whitened(out.account);
    out.slopes = out.whitened.whiten * subject_.sound.slopes(out.whitened.rows, Eigen::all);
    return prepared_.emplace_back(std::move(out));
}

double Ranking::single_prior() const {
    return std::log(options_.priors.single / static_cast<double>(std::max<std::size_t>(1, subject_.suspects.size())));
}

void Ranking::singles(const Going& going) {
    const int count = static_cast<int>(subject_.suspects.size());
    for (int f = 0; f < count && !going.stopped(); ++f) {
        going.tell(static_cast<double>(f) / count);
        const Fault& fault = subject_.suspect(f);
        if (fault.scatters())
            scattering(f);
        else if (fault.sized())
            sized(f);
        else
            unsized(f);
    }
}

/// Weighed on the head as described first: that tells the account to begin with, and whether the readings show it.
void Ranking::sized(int f) {
    const Fault& fault = subject_.suspect(f);
    const Effects effects =
        subject_.effects({f}, {subject_.sound.value, subject_.sound.slopes.col(f)}, VectorXd::Zero(1));
    const Weighing first = accounts_->weigh(effects);
    const auto hide = [&] {
        unseen_.push_back(f);
        if (first.log_evidence != never) looked_at_.push_back({f, f, first.log_evidence + single_prior(), 0});
    };
    std::vector<Misread> misread = first.accounts.empty() ? std::vector<Misread>{} : first.accounts.front().misread;
    const Prepared& to = prepared(misread);
    if (!(to.slopes.col(f).norm() * fault.usual_size() > 0.5)) return hide();
    const VectorXd start = accounts_->posterior(to.account, effects).size;
    auto one = settle({f}, std::move(misread), start, false);
    if (!one || one->hypothesis.fit.deviation(0) > fault.usual_size()) return hide();
    if (one->weighing.log_evidence == never) return;  // no part can be so far off
    singles_.push_back(*one);
    add(std::move(*one), single_prior());
}

void Ranking::unsized(int f) {
    auto one = settle({f}, {}, VectorXd::Zero(1), false);
    if (!one) return unseen_.push_back(f);
    const Whitened& as_read = prepared({}).whitened;
    if (!((as_read.whiten * (one->rows.value - subject_.sound.value)(as_read.rows)).norm() > 1)) {
        unseen_.push_back(f);
        return looked_at_.push_back({f, f, one->weighing.log_evidence + single_prior(), 0});
    }
    singles_.push_back(*one);
    add(std::move(*one), single_prior());
}

/// Each reading has the fault anew: it adds to the readings' variance, not to what is expected of them.
void Ranking::scattering(int f) {
    const Fault& fault = subject_.suspect(f);
    const VectorXd column = subject_.sound.slopes.col(f);
    if (!(column.norm() * fault.usual_size() > 0.5)) return unseen_.push_back(f);
    Candidate best{{}, {subject_.sound.value, MatrixXd(column.size(), 0)}, {{}, never, {}}};
    std::array<double, scatters.size()> evidence{};
    double chi_square = 0;
    for (std::size_t i = 0; i < scatters.size(); ++i) {
        Effects effects = none(subject_.sound.value);
        effects.scatter = (column * (scatters[i] * fault.usual_size())).cwiseAbs2();
        Weighing weighing = accounts_->weigh(effects);
        evidence[i] = weighing.log_evidence;
        if (!(weighing.log_evidence > best.weighing.log_evidence)) continue;
        best.weighing = std::move(weighing);
        chi_square =
            accounts_->posterior(accounts_->account(best.weighing.accounts.front().misread), effects).chi_square;
    }
    double sum = 0, mean = 0, square = 0;
    const double top = best.weighing.log_evidence;
    for (std::size_t i = 0; i < scatters.size(); ++i) {
        const double weight = std::exp(evidence[i] - top), size = scatters[i] * fault.usual_size();
        sum += weight, mean += weight * size, square += weight * size * size;
    }
    mean /= sum;
    best.hypothesis.fit = {{f},
                           VectorXd::Constant(1, mean),
                           MatrixXd::Constant(1, 1, std::max(0.0, square / sum - mean * mean)),
                           chi_square};
    best.weighing.log_evidence = top + std::log(sum / static_cast<double>(scatters.size()));
    add(std::move(best), single_prior() + std::log(options_.priors.scatter));
}

bool Ranking::believable(const FaultFit& fit) const {
    for (std::size_t i = 0; i < fit.faults.size(); ++i)
        if (!(std::abs(fit.size[static_cast<Index>(i)]) <= subject_.suspect(fit.faults[i]).largest())) return false;
    return true;
}

/// Turned rings bend the readings: from one side the fit may run into a hollow that is not the lowest.
std::optional<Fitted> Ranking::best_of_starts(const std::vector<int>& chosen, const Prepared& to, const VectorXd& start,
                                              bool prior) const {
    std::vector<VectorXd> starts{start};
    const Fault& first = subject_.suspect(chosen.front());
    if (chosen.size() == 1 && (first.kind == FaultKind::guide_turn || first.kind == FaultKind::driver_turn))
        for (const double side : {1.0, -1.0}) starts.push_back(VectorXd::Constant(1, side * first.usual_size()));
    const FitTo fit_to{subject_.base, subject_.suspects, subject_.numbers};
    std::optional<Fitted> best;
    for (const VectorXd& from : starts) {
        auto found = fit(fit_to, to.account, to.whitened, chosen, from, prior);
        if (found && (!best || found->fit.chi_square < best->fit.chi_square)) best = std::move(found);
    }
    return best;
}

/// Fits with one account, and once more where the fit makes another one likelier.
std::optional<Candidate> Ranking::settle(const std::vector<int>& chosen, std::vector<Misread> misread,
                                         const VectorXd& start, bool prior) {
    std::optional<Candidate> out;
    VectorXd from = start;
    for (int i = 0; i < most_accounts_tried; ++i) {
        auto found = best_of_starts(chosen, prepared(misread), from, prior);
        if (found && !prior && !believable(found->fit)) found = best_of_starts(chosen, prepared(misread), from, true);
        if (!found) return out;
        from = found->fit.size;
        out = {{std::move(found->fit)}, std::move(found->rows), {}};
        out->weighing = accounts_->weigh(subject_.effects(chosen, out->rows, from));
        if (!believable(out->hypothesis.fit)) out->weighing.log_evidence = never;
        if (out->weighing.accounts.empty() || same_list(out->weighing.accounts.front().misread, misread)) return out;
        misread = out->weighing.accounts.front().misread;
    }
    return out;
}

void Ranking::add(Candidate candidate, double log_prior) {
    candidate.hypothesis.log_evidence = candidate.weighing.log_evidence + log_prior;
    candidate.hypothesis.chance_wrong = candidate.weighing.chance_wrong;
    ranked_.push_back(std::move(candidate));
}

const Candidate* Ranking::single(int f) const {
    const auto it = std::ranges::find_if(singles_, [&](const Candidate& s) { return s.hypothesis.fit.faults[0] == f; });
    return it == singles_.end() ? nullptr : &*it;
}

void Ranking::finish() {
    std::ranges::stable_sort(ranked_, [](const Candidate& a, const Candidate& b) {
        return a.hypothesis.log_evidence > b.hypothesis.log_evidence;
    });
    const double top = ranked_.front().hypothesis.log_evidence;
    double sum = 0;
    for (const Candidate& c : ranked_) sum += std::exp(c.hypothesis.log_evidence - top);
    for (const LookedAt& l : looked_at_) sum += std::exp(std::min(0.0, l.log_evidence - top));
    for (LookedAt& l : looked_at_) l.probability = std::exp(std::min(0.0, l.log_evidence - top)) / sum;
    for (Candidate& c : ranked_) c.hypothesis.probability = std::exp(c.hypothesis.log_evidence - top) / sum;
    for (std::size_t i = 0; i < std::min(ranked_.size(), most_explanations); ++i) tell(ranked_[i]);
}

/// The stand, and what is misread, with the hypothesis' likeliest account.
void Ranking::tell(Candidate& c) {
    Hypothesis& h = c.hypothesis;
    const Account& account = prepared(c.weighing.accounts.front().misread).account;
    const Posterior posterior = accounts_->posterior(account, subject_.effects(h.fit.faults, c.rows, h.fit.size));
    h.stand = posterior.stand;
    h.misread = account.misread;
    for (Misread& m : h.misread) {
        m.expected = posterior.expected[accounts_->own_row(m.reading)] * accounts_->uncertainty(m.reading);
        m.chance = 0;
        for (const Weighed& w : c.weighing.accounts)
            if (std::ranges::any_of(w.misread, [&](const Misread& o) { return same(o, m); }))
                m.chance += std::exp(w.log_evidence - c.weighing.log_evidence);
    }
}

}  // namespace swashwright::studies
