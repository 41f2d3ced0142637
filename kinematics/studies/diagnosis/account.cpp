#include "kinematics/studies/diagnosis/account.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t second_looks = 3;  // single misreadings beside which a second one is looked for
constexpr double far_behind = 3;         // in log-evidence: accounts whose sizes need no look
constexpr double never = -std::numeric_limits<double>::infinity();

MatrixXd varied(const MatrixXd& slopes, const VectorXd& usual) {
    return slopes * usual.asDiagonal();
}

bool touches(const std::vector<Misread>& list, std::size_t reading) {
    return std::ranges::find(list, reading, &Misread::reading) != list.end();
}

}  // namespace

Account as_read(const Readings& readings) {
    return {readings, std::vector<bool>(readings.size(), false), {}, 0};
}

/// Readings and one account, sizes and stand averaged over: what is left about no fault, and its inverse covariance,
/// with rows of zeros for what is left out.
struct Accounts::Normal {
    std::vector<Index> rows;
    std::vector<Index> kept;
    VectorXd left, weighted;   // weighted: inverse times left
    MatrixXd inverse, varied;  // varied: slopes of every blade's rows, per usual size
    double log_likelihood = 0;

    /// Of any row with the readings.
    VectorXd covariance_with(Index row, const Shared& shared) const {
        VectorXd out = VectorXd::Zero(left.size());
        for (const Index i : kept) {
            const Index other = rows[static_cast<std::size_t>(i)];
            out[i] = shared.covariance(row, other) + varied.row(row).dot(varied.row(other));
        }
        return out;
    }
};

Accounts::Accounts(const Readings& readings, Shared shared, int blades, const MisreadPriors& priors)
    : readings_(readings), shared_(std::move(shared)), blades_(blades), priors_(priors) {}

Accounts Accounts::with(const Gauge& gauge) const {
    Accounts out = *this;
    out.readings_.gauge = gauge;
    out.shared_.usual = usual_stand(gauge);
    const Eigen::Vector3d more = out.shared_.usual.cwiseAbs2() - shared_.usual.cwiseAbs2();
    out.shared_.covariance += shared_.stand * more.asDiagonal() * shared_.stand.transpose();
    return out;
}

double Accounts::uncertainty(std::size_t reading) const {
    return reading < readings_.pitch.size() ? readings_.pitch[reading].uncertainty_deg
                                            : readings_.ring_height[reading - readings_.pitch.size()].uncertainty_mm;
}

Index Accounts::row(std::size_t reading, int blade) const {
    return static_cast<Index>(reading) * blades_ + blade;
}

Index Accounts::own_row(std::size_t reading) const {
    const std::size_t pitches = readings_.pitch.size();
    return reading < pitches ? row(reading, readings_.pitch[reading].blade)
                             : static_cast<Index>(pitches) * blades_ + static_cast<Index>(reading - pitches);
}

/// Against standing as it is: odds of being wrong times the share of this way of it. What can be anything has an even
/// density in place of the normal one, whose root of 2 pi is left out everywhere.
double Accounts::log_prior(const Misread& misread) const {
    const double odds = priors_.chance / (1 - priors_.chance);
    const bool pitch = misread.reading < readings_.pitch.size();
    const double rest = pitch ? 1 - priors_.sign - priors_.blade : 1;
    switch (misread.how) {
        case Misreading::sign:
            return std::log(odds * priors_.sign);
        case Misreading::blade:
            return std::log(odds * priors_.blade / (blades_ - 1));
        default:
            return std::log(odds * rest * std::sqrt(2 * pi) * uncertainty(misread.reading) /
                            (2 * (pitch ? priors_.within_deg : priors_.within_mm)));
    }
}

Account Accounts::account(const std::vector<Misread>& misread) const {
    Account out = as_read(readings_);
    for (const Misread& m : misread) {
        if (m.how == Misreading::sign) out.readings.pitch[m.reading].reading_deg *= -1;
        if (m.how == Misreading::blade) out.readings.pitch[m.reading].blade = m.blade;
        if (m.how == Misreading::anything) out.left_out[m.reading] = true;
        out.log_prior += log_prior(m);
    }
    out.misread = misread;
    return out;
}

Whitened Accounts::whitened(const Account& account) const {
    const Normal n =
        normal(account, {VectorXd::Zero(shared_.mean.size()), MatrixXd(shared_.mean.size(), 0), {}, {}, {}, {}});
    Whitened out{MatrixXd::Zero(n.left.size(), n.left.size()), n.left, n.rows, 0};
    const MatrixXd kept = n.inverse(n.kept, n.kept);
    const Eigen::LLT<MatrixXd> llt(kept);
    const MatrixXd upper = llt.matrixU();
    out.whiten(n.kept, n.kept) = upper;
    out.log_evidence = account.log_prior + MatrixXd(llt.matrixL()).diagonal().array().log().sum();
    return out;
}

Accounts::Normal Accounts::normal(const Account& account, const Effects& effects) const {
    const auto m = static_cast<Index>(readings_.size());
    Normal n;
    n.varied = varied(effects.slopes, effects.usual);
    n.left = VectorXd::Zero(m);
    const VectorXd read = observed(account.readings);
    const VectorXd sound = effects.value - effects.slopes * effects.size + shared_.mean;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        n.rows.push_back(i < account.readings.pitch.size() ? row(i, account.readings.pitch[i].blade) : own_row(i));
        if (account.left_out[i]) continue;
        n.kept.push_back(static_cast<Index>(i));
        n.left[static_cast<Index>(i)] = read[static_cast<Index>(i)] - sound[n.rows.back()];
    }
    std::vector<Index> rows;
    for (const Index i : n.kept) rows.push_back(n.rows[static_cast<std::size_t>(i)]);
    const MatrixXd slopes = n.varied(rows, Eigen::all);
    MatrixXd covariance = shared_.covariance(rows, rows) + slopes * slopes.transpose();
    covariance.diagonal().array() += 1;
    if (effects.scatter.size() > 0) covariance.diagonal() += effects.scatter(rows);
    const Eigen::LLT<MatrixXd> llt(covariance);
    n.inverse = MatrixXd::Zero(m, m);
    const MatrixXd inverse = llt.solve(MatrixXd::Identity(covariance.rows(), covariance.cols()));
    n.inverse(n.kept, n.kept) = inverse;
    n.weighted = n.inverse * n.left;
    n.log_likelihood = -0.5 * n.left.dot(n.weighted) - MatrixXd(llt.matrixL()).diagonal().array().log().sum();
    return n;
}

/// One reading more that is wrong, by what leaving a row out (or putting another in its place) does to a normal
/// distribution: e.g. Rasmussen and Williams 2006, section 5.4.2, leave-one-out; from memory.
void Accounts::one_more(const std::vector<Misread>& base, const Effects& effects, std::vector<Weighed>& out) const {
    const Account from = account(base);
    const Normal n = normal(from, effects);
    const auto add = [&](Misread more, double change) {
        std::vector<Misread> all = base;
        all.push_back(more);
        out.push_back({std::move(all), from.log_prior + log_prior(more) + n.log_likelihood + change});
    };
    const auto& pitch = readings_.pitch;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        if (touches(base, i)) continue;
        const auto at = static_cast<Index>(i);
        const double own = n.inverse(at, at), pull = n.weighted[at];
        const double without = 0.5 * pull * pull / own - 0.5 * std::log(own);
        add({i, Misreading::anything}, without);
        if (i >= pitch.size()) continue;
        const double turned = -2 * pitch[i].reading_deg / pitch[i].uncertainty_deg;
        if (turned != 0) add({i, Misreading::sign}, -turned * pull - 0.5 * turned * turned * own);
        const VectorXd others = n.weighted - n.inverse.col(at) * (pull / own);
        for (int k = 0; k < blades_; ++k) {
            if (k == pitch[i].blade) continue;
            const Index a = row(i, k);
            VectorXd with = n.covariance_with(a, shared_);
            with[at] = 0;
            VectorXd solved = n.inverse * with;
            solved -= n.inverse.col(at) * (solved[at] / own);
            const double spread = 1 + shared_.covariance(a, a) + n.varied.row(a).squaredNorm() +
                                  (effects.scatter.size() > 0 ? effects.scatter[a] : 0) - with.dot(solved);
            const double left = pitch[i].reading_deg / pitch[i].uncertainty_deg - effects.value[a] +
                                effects.slopes.row(a).dot(effects.size) - shared_.mean[a] - with.dot(others);
            add({i, Misreading::blade, k}, without - 0.5 * left * left / spread - 0.5 * std::log(spread));
        }
    }
}

namespace {

/// Those of the accounts whose sizes a part can have, and of all others the few that do not matter.
template <class Believable>
void drop_unbelievable(std::vector<Weighed>& accounts, const Believable& believable) {
    double best = never;
    for (Weighed& w : accounts) {
        if (w.log_evidence < best - far_behind) break;
        if (believable(w.misread))
            best = std::max(best, w.log_evidence);
        else
            w.log_evidence = never;
    }
    std::erase_if(accounts, [](const Weighed& w) { return w.log_evidence == never; });
}

}  // namespace

Weighing Accounts::weigh(const Effects& effects) const {
    const auto better = [](const Weighed& a, const Weighed& b) { return a.log_evidence > b.log_evidence; };
    Weighing out;
    out.accounts.push_back({{}, normal(as_read(readings_), effects).log_likelihood});
    const double standing = out.accounts.front().log_evidence;
    if (priors_.chance > 0) one_more({}, effects, out.accounts);
    std::ranges::stable_sort(out.accounts, better);
    if (readings_.size() > priors_.two_from) {
        std::vector<Misread> first;
        for (std::size_t i = 0; i < out.accounts.size() && first.size() < second_looks; ++i) {
            if (out.accounts[i].log_evidence <= standing) break;
            first.push_back(out.accounts[i].misread.front());
        }
        for (std::size_t f = 0; f < first.size(); ++f) {
            std::vector<Weighed> two;
            one_more({first[f]}, effects, two);
            for (Weighed& w : two)
                if (std::none_of(first.begin(), first.begin() + static_cast<std::ptrdiff_t>(f),
                                 [&](const Misread& known) { return same(known, w.misread[1]); }))
                    out.accounts.push_back(std::move(w));
        }
        std::ranges::stable_sort(out.accounts, better);
    }
    if (effects.size.size() > 0)
        drop_unbelievable(out.accounts, [&](const std::vector<Misread>& misread) {
            const VectorXd size = posterior(account(misread), effects).size;
            return (size.cwiseAbs().array() <= effects.largest.array()).all();
        });
    out.chance_wrong = VectorXd::Zero(static_cast<Index>(readings_.size()));
    if (out.accounts.empty()) return out.log_evidence = never, out;
    const double top = out.accounts.front().log_evidence;
    double sum = 0;
    for (const Weighed& w : out.accounts) sum += std::exp(w.log_evidence - top);
    for (const Weighed& w : out.accounts)
        for (const Misread& m : w.misread)
            out.chance_wrong[static_cast<Index>(m.reading)] += std::exp(w.log_evidence - top) / sum;
    out.log_evidence = top + std::log(sum);
    return out;
}

Posterior Accounts::posterior(const Account& account, const Effects& effects) const {
    const Normal n = normal(account, effects);
    std::vector<Index> rows = n.rows;
    const MatrixXd slopes = n.varied(rows, Eigen::all), stand = shared_.stand(rows, Eigen::all);
    Posterior out;
    out.size = effects.usual.cwiseProduct(slopes.transpose() * n.weighted);
    out.deviation = effects.usual.cwiseProduct(
        (1 - (slopes.transpose() * n.inverse * slopes).diagonal().array()).max(0).sqrt().matrix());
    const Eigen::Vector3d variance = shared_.usual.cwiseAbs2();
    const VectorXd value = variance.cwiseProduct(stand.transpose() * n.weighted);
    const VectorXd told = (stand.transpose() * n.inverse * stand).diagonal();
    const auto estimate = [&](Index k) -> Estimate {
        return {value[k], std::sqrt(std::max(0.0, variance[k] - variance[k] * variance[k] * told[k]))};
    };
    out.chi_square = n.left.dot(n.weighted);
    out.stand = {estimate(0), estimate(1), estimate(2)};
    out.expected = effects.value - effects.slopes * effects.size + shared_.mean;
    for (Index row = 0; row < out.expected.size(); ++row)
        out.expected[row] += n.covariance_with(row, shared_).dot(n.weighted);
    return out;
}

}  // namespace swashwright::studies
