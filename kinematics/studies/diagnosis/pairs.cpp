// Two faults at once.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "kinematics/studies/diagnosis/ranking.h"

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t most_pairs_refined = 24;
constexpr double near_best = 8.0;  // in log-evidence: pairs that a first look puts farther behind are not refined

}  // namespace

/// The first of each pair as fitted, the second by its slopes on the head as described, both held towards 0 by their
/// usual sizes: the best of two unknowns in closed form. Keeps the better of the looks from either side.
void Ranking::look_beside(std::size_t at, std::vector<Look>& best) {
    const Candidate& a = singles_[at];
    const int i = a.hypothesis.fit.faults[0];
    const Fault& first = subject_.suspect(i);
    const Prepared& to = prepared(a.weighing.accounts.front().misread);
    const auto& rows = to.whitened.rows;
    const double usual = first.sized() ? first.usual_size() : 0;
    const double u = first.sized() ? a.hypothesis.fit.size[0] / usual : 0;
    const VectorXd left = to.whitened.whiten * (to.whitened.read - a.rows.value(rows));
    const VectorXd own = to.whitened.whiten * a.rows.slopes(rows, 0) * usual;
    for (std::size_t b = 0; b < singles_.size(); ++b) {
        const int j = singles_[b].hypothesis.fit.faults[0];
        const Fault& second = subject_.suspect(j);
        if (b == at || (second.kind == first.kind && second.index == first.index && !second.sized())) continue;
        VectorXd rest = left, other = VectorXd::Zero(left.size());
        double usual_b = 0;
        if (second.sized())
            usual_b = second.usual_size(), other = to.slopes.col(j) * usual_b;
        else  // its effect on the sound head, taken as the same here
            rest -= to.whitened.whiten * (singles_[b].rows.value - subject_.sound.value)(rows);
        const double aa = 1 + own.squaredNorm(), bb = 1 + other.squaredNorm(), ab = own.dot(other);
        const double ga = own.dot(rest) - u, gb = other.dot(rest), det = aa * bb - ab * ab;
        const double da = (bb * ga - ab * gb) / det, db = (aa * gb - ab * ga) / det;
        if (std::abs(u + da) * usual > first.largest() || std::abs(db) * usual_b > second.largest()) continue;
        const double cost = rest.squaredNorm() + u * u - ga * da - gb * db;
        const double evidence = to.whitened.log_evidence - 0.5 * (cost + std::log(det));
        Look& look = best[std::min(at, b) * singles_.size() + std::max(at, b)];
        if (look.start.size() > 0 && look.log_evidence >= evidence) continue;
        look = {at, b, Eigen::Vector2d((u + da) * usual, db * usual_b), evidence};
    }
}

std::vector<Ranking::Look> Ranking::looks() {
    std::vector<Look> out(singles_.size() * singles_.size());
    for (std::size_t a = 0; a < singles_.size(); ++a) look_beside(a, out);
    std::erase_if(out, [](const Look& look) { return look.start.size() == 0; });
    std::ranges::stable_sort(out, [](const Look& x, const Look& y) { return x.log_evidence > y.log_evidence; });
    return out;
}

void Ranking::pairs(const Going& going) {
    const std::vector<Look> all = looks();
    pairs_weighed_ = all.size();
    const double prior = std::log(options_.priors.pair / static_cast<double>(std::max<std::size_t>(1, all.size())));
    double best = ranked_.front().hypothesis.log_evidence;
    for (const Candidate& c : ranked_) best = std::max(best, c.hypothesis.log_evidence);
    for (std::size_t n = 0; n < all.size() && !going.stopped(); ++n) {
        going.tell(static_cast<double>(n) / static_cast<double>(std::min(all.size(), most_pairs_refined)));
        const Look& look = all[n];
        const Candidate &a = singles_[look.a], &b = singles_[look.b];
        if (n >= most_pairs_refined || look.log_evidence + prior <= best - near_best) {
            looked_at_.push_back(
                {a.hypothesis.fit.faults[0], b.hypothesis.fit.faults[0], look.log_evidence + prior, 0});
            continue;
        }
        const bool forward = a.hypothesis.fit.faults[0] < b.hypothesis.fit.faults[0];
        std::vector<int> both{a.hypothesis.fit.faults[0], b.hypothesis.fit.faults[0]};
        if (!forward) std::swap(both[0], both[1]);
        auto two = settle(both, a.weighing.accounts.front().misread,
                          forward ? look.start : VectorXd(look.start.reverse()), true);
        if (two && std::isfinite(two->weighing.log_evidence)) add(std::move(*two), prior);
    }
}

}  // namespace swashwright::studies
