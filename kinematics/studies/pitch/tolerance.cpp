#include "kinematics/studies/pitch/tolerance.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/sensitivity.h"
#include "kinematics/studies/pitch/tolerance_samples.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {

namespace {

double split(const Eigen::VectorXd& mean) {
    return mean.maxCoeff() - mean.minCoeff();
}

double deviation(const Eigen::VectorXd& v) {
    return v.size() > 1 ? std::sqrt((v.array() - v.mean()).square().sum() / static_cast<double>(v.size() - 1)) : 0;
}

/// The value that 95 of 100 of `drawn` do not pass, those that are not among `v` taken to lie beyond; none where they
/// are too many.
std::optional<double> percentile_95(Eigen::VectorXd v, Eigen::Index drawn) {
    const Eigen::Index place = (95 * drawn + 99) / 100 - 1;
    if (place < 0 || place >= v.size()) return std::nullopt;
    double* at = v.data() + place;
    std::nth_element(v.data(), at, v.data() + v.size());
    return *at;
}

Eigen::VectorXd splits(const Eigen::MatrixXd& means) {
    return means.cols() > 0 ? Eigen::VectorXd((means.colwise().maxCoeff() - means.colwise().minCoeff()).transpose())
                            : Eigen::VectorXd();
}

/// Root mean square over the pairs of the difference between two blades' slopes.
double pair_slope(const Eigen::VectorXd& slopes) {
    double sum = 0, pairs = 0;
    for (Eigen::Index a = 0; a < slopes.size(); ++a)
        for (Eigen::Index b = 0; b < a; ++b, ++pairs) sum += std::pow(slopes[a] - slopes[b], 2);
    return pairs > 0 ? std::sqrt(sum / pairs) : 0;
}

/// The largest part that each share may keep so that their squares sum to `allowed`: only those above it need
/// tightening.
double cap_for(std::vector<double> shares, double allowed) {
    std::ranges::sort(shares);
    double below = 0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const double above = static_cast<double>(shares.size() - i);
        const double cap = std::sqrt(std::max(0.0, allowed - below) / above);
        if (cap <= shares[i]) return cap;
        below += shares[i] * shares[i];
    }
    return shares.empty() ? 0 : shares.back();
}

/// Tolerances in the order of the request, tightened so that the split comes down by `ratio`.
std::vector<double> tightened(const ToleranceRequest& request, const std::vector<double>& pair_deg, double ratio) {
    double variance = 0;
    for (const double p : pair_deg) variance += p * p;
    const double cap = cap_for(pair_deg, variance * ratio * ratio);
    std::vector<double> out;
    for (std::size_t i = 0; i < pair_deg.size(); ++i)
        out.push_back(request.tolerances[i].plus_minus * (pair_deg[i] > cap ? cap / pair_deg[i] : 1.0));
    return out;
}

/// One way to build: the split of the heads that can be assembled, and how many of all keep the wanted one.
struct Outcome {
    Eigen::VectorXd splits;
    int drawn = 0;

    double split_95() const { return percentile_95(splits, splits.size()).value_or(0); }
    std::optional<double> split_95_of_all() const { return percentile_95(splits, drawn); }
    double keeping(double wanted_deg) const {
        return static_cast<double>((splits.array() <= wanted_deg).count()) / drawn;
    }
};

/// Tolerances that let 95 of 100 heads keep the wanted split, and what comes of them; those of the request where no
/// tightening gets there: too many heads cannot be assembled, or the head as described is split by more (`nominal`).
/// `draw` builds heads by given tolerances, for the next round of so many.
struct Tightening {
    std::vector<double> needed;
    Outcome outcome;
};
template <class Draw>
Tightening tighten(const ToleranceRequest& request, const std::vector<double>& plus_minus, const Outcome& as_asked,
                   double nominal, const std::vector<double>& pair_deg, Draw&& draw, const Going& going) {
    const double wanted = *request.wanted_split_deg;
    Tightening out{plus_minus, as_asked};
    double ratio = 1;
    // What is drawn beyond the split that is there already shrinks nearly in proportion: a few corrections.
    for (int round = 0; round < 8 && !going.stopped(); ++round) {
        const auto now = out.outcome.split_95_of_all();
        if (now && (*now <= wanted || nominal >= wanted)) return out;
        ratio *= now ? 0.995 * (wanted - nominal) / (*now - nominal) : 0.5;
        out.needed = tightened(request, pair_deg, ratio);
        // How many rounds there will be is not known: each is told as half of what is left.
        const double left = std::exp2(-round);
        out.outcome = draw(out.needed, going.part(1 - left, 1 - left / 2));
    }
    if (!out.outcome.split_95_of_all()) out.needed = plus_minus;
    return out;
}

std::string mistake_of(const head::Head& head, const ToleranceRequest& request) {
    if (request.tolerances.empty()) return "no tolerance is given";
    if (request.samples < 2) return "at least two samples are needed";
    for (const Tolerance& t : request.tolerances)
        if (!(t.plus_minus >= 0) || !std::isfinite(t.plus_minus))
            return t.number.label + ": a tolerance must not be below 0";
    if (request.wanted_split_deg && !(*request.wanted_split_deg > 0 && std::isfinite(*request.wanted_split_deg)))
        return "the split to be held must be above 0 deg: no tolerance keeps two blades exactly alike";
    return head.neutral_failure() ? head.neutral_failure()->message : std::string();
}

Spread spread_of(double nominal, double linear, double worst, const Eigen::VectorXd& real) {
    Spread out{nominal, linear, deviation(real), worst, 0, 0};
    if (real.size() > 0) {
        out.least = real.minCoeff();
        out.most = real.maxCoeff();
    }
    return out;
}

/// The head as described and how it answers to the numbers of the request: what all parts of the study go by.
struct Linear {
    Eigen::MatrixXd slopes;   // mean pitch of each blade (rows) by each number (columns), deg for each of its unit
    Eigen::VectorXd nominal;  // mean pitch of each blade, deg
    Eigen::VectorXd width;    // of each tolerance, to either side

    /// Standard deviation of an even spread over the whole of each tolerance is its width over the root of three.
    double deviation_of(Eigen::Index number, double slope) const { return slope * width[number] / std::sqrt(3.0); }
};

std::vector<Spread> pitch_spreads(const Linear& linear, const Samples& samples) {
    std::vector<Spread> out;
    for (Eigen::Index k = 0; k < linear.slopes.rows(); ++k) {
        const Eigen::VectorXd parts = linear.slopes.row(k).transpose().cwiseProduct(linear.width);
        out.push_back(spread_of(linear.nominal[k], parts.norm() / std::sqrt(3.0), parts.lpNorm<1>(),
                                samples.real.row(k).transpose()));
    }
    return out;
}

/// With all tolerances used up the worst way for two blades.
double worst_split(const Linear& linear) {
    const Eigen::MatrixXd& slopes = linear.slopes;
    double worst = 0;
    for (Eigen::Index a = 0; a < slopes.rows(); ++a)
        for (Eigen::Index b = 0; b < slopes.rows(); ++b)
            worst =
                std::max(worst, linear.nominal[a] - linear.nominal[b] +
                                    (slopes.row(a) - slopes.row(b)).transpose().cwiseProduct(linear.width).lpNorm<1>());
    return worst;
}

/// What each tolerance does to the difference between two blades, root mean square over the pairs, deg.
std::vector<double> pair_deviations(const Linear& linear) {
    std::vector<double> out;
    for (Eigen::Index p = 0; p < linear.slopes.cols(); ++p)
        out.push_back(linear.deviation_of(p, pair_slope(linear.slopes.col(p))));
    return out;
}

std::vector<Share> shares_of(const ToleranceRequest& request, const Linear& linear, const std::vector<double>& pair_deg,
                             const std::vector<double>& needed) {
    double variance = 0;
    for (const double deg : pair_deg) variance += deg * deg;
    std::vector<Share> out;
    for (std::size_t p = 0; p < pair_deg.size(); ++p) {
        const auto i = static_cast<Eigen::Index>(p);
        out.push_back({request.tolerances[p], linear.deviation_of(i, linear.slopes.col(i).cwiseAbs().maxCoeff()),
                       pair_deg[p], variance > 0 ? pair_deg[p] * pair_deg[p] / variance : 0, needed[p]});
    }
    // Rounded, so that equals keep the scene's order.
    std::ranges::stable_sort(out, std::greater<>(), [](const Share& s) {
        return std::pair(std::round(1e9 * s.split_deg), std::round(1e9 * s.pitch_deg));
    });
    return out;
}

}  // namespace

std::vector<Tolerance> usual_tolerances(const head::Description& description) {
    std::vector<Tolerance> out;
    for (const head::Number& p : measured_numbers(description))
        if (p.usual_tolerance > 0) out.push_back({p, p.usual_tolerance});
    return out;
}

tl::expected<ToleranceStudy, std::string> tolerance(const head::Head& head, const ToleranceRequest& request,
                                                    const Going& going) {
    if (auto mistake = mistake_of(head, request); !mistake.empty()) return tl::unexpected(mistake);
    std::vector<head::Number> numbers;
    std::vector<double> plus_minus;
    for (const Tolerance& t : request.tolerances) {
        numbers.push_back(t.number);
        plus_minus.push_back(t.plus_minus);
    }
    const auto turn = turn_slopes(head, request.sticks, numbers, turn_azimuths(turn_samples));
    if (!turn) return tl::unexpected(turn.error().message);
    const Linear linear{turn->mean_slopes(), turn->mean_pitch_deg(),
                        Eigen::Map<const Eigen::VectorXd>(plus_minus.data(), std::ssize(plus_minus))};

    const head::Description base = head::mixer_kept(head);
    const auto draw = [&](std::span<const double> by, const Going& part) {
        return sampled(head, base, request, by, linear.nominal, linear.slopes, part);
    };
    const double first = request.wanted_split_deg ? 0.4 : 1;
    const Samples samples = draw(plus_minus, going.part(0, first));
    if (going.stopped()) return tl::unexpected(was_stopped().message);
    ToleranceStudy out;
    out.request = request;
    out.kind = base.kind;
    out.failed = samples.failed;
    out.pitch_deg = pitch_spreads(linear, samples);
    const Outcome real{splits(samples.real), request.samples};
    const Eigen::VectorXd linear_splits = splits(samples.linear);
    out.split_deg = spread_of(split(linear.nominal), deviation(linear_splits), worst_split(linear), real.splits);
    out.split_95 = real.split_95();
    out.split_95_linear = percentile_95(linear_splits, linear_splits.size()).value_or(0);

    const std::vector<double> pair_deg = pair_deviations(linear);
    std::vector<double> needed = plus_minus;
    if (request.wanted_split_deg) {
        const auto outcome = [&](std::span<const double> by, const Going& part) {
            return Outcome{splits(draw(by, part).real), request.samples};
        };
        const Tightening tight =
            tighten(request, plus_minus, real, split(linear.nominal), pair_deg, outcome, going.part(first, 1));
        if (going.stopped()) return tl::unexpected(was_stopped().message);
        needed = tight.needed;
        out.split_95_tightened = tight.outcome.split_95_of_all().value_or(0);
        out.failed_tightened = request.samples - static_cast<int>(tight.outcome.splits.size());
        out.keeping = real.keeping(*request.wanted_split_deg);
        out.keeping_tightened = tight.outcome.keeping(*request.wanted_split_deg);
    }
    out.shares = shares_of(request, linear, pair_deg, needed);
    return out;
}

}  // namespace swashwright::studies
