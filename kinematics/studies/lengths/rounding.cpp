#include "kinematics/studies/lengths/rounding.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>

namespace swashwright::studies {

namespace {

/// Depth-first search over the grid from the last column of a triangular system to the first.
class RoundingSearch {
public:
    RoundingSearch(Eigen::MatrixXd upper, Eigen::VectorXd target, std::vector<const Grid*> grids, std::size_t keep,
                   int max_nodes)
        : upper_(std::move(upper)),
          target_(std::move(target)),
          grids_(std::move(grids)),
          keep_(keep),
          nodes_left_(max_nodes),
          value_(Eigen::VectorXd::Zero(upper_.cols())) {}

    struct Found {
        double cost;
        Eigen::VectorXd value;
    };
    std::vector<Found> run() {
        descend(upper_.cols() - 1, 0);
        return std::move(found_);
    }

private:
    double limit() const {
        return found_.size() < keep_ ? std::numeric_limits<double>::infinity() : found_.back().cost;
    }

    void descend(Eigen::Index k, double cost) {
        if (k < 0) {
            const auto place = std::ranges::lower_bound(found_, cost, {}, &Found::cost);
            found_.insert(place, {cost, value_});
            if (found_.size() > keep_) found_.pop_back();
            return;
        }
        const auto behind = upper_.cols() - 1 - k;
        const double rest = target_[k] - upper_.row(k).tail(behind).dot(value_.tail(behind));
        const double centre = rest / upper_(k, k);
        Grid tries = *grids_[static_cast<std::size_t>(k)];
        std::ranges::sort(tries, {}, [&](double v) { return std::abs(v - centre); });
        for (const double v : tries) {
            const double here = cost + std::pow(rest - upper_(k, k) * v, 2);
            if (here >= limit() || --nodes_left_ < 0) return;
            value_[k] = v;
            descend(k - 1, here);
        }
    }

    Eigen::MatrixXd upper_;
    Eigen::VectorXd target_;
    std::vector<const Grid*> grids_;
    std::size_t keep_;
    int nodes_left_;
    Eigen::VectorXd value_;
    std::vector<Found> found_;  // best first
};

Eigen::MatrixXd columns(const Eigen::MatrixXd& of, const std::vector<Eigen::Index>& which) {
    Eigen::MatrixXd out(of.rows(), static_cast<Eigen::Index>(which.size()));
    for (std::size_t i = 0; i < which.size(); ++i) out.col(static_cast<Eigen::Index>(i)) = of.col(which[i]);
    return out;
}

}  // namespace

Eigen::VectorXd round_each(const Eigen::VectorXd& x, const std::vector<Grid>& grids) {
    Eigen::VectorXd out = x;
    for (std::size_t i = 0; i < grids.size(); ++i)
        if (!grids[i].empty())
            out[static_cast<Eigen::Index>(i)] = *std::ranges::min_element(
                grids[i], {}, [&](double v) { return std::abs(v - x[static_cast<Eigen::Index>(i)]); });
    return out;
}

std::vector<Eigen::VectorXd> round_together(const Eigen::VectorXd& x, const Eigen::VectorXd& residual,
                                            const Eigen::MatrixXd& jacobian, const std::vector<Grid>& grids,
                                            std::size_t keep, int max_nodes) {
    std::vector<Eigen::Index> stepped, smooth;
    for (Eigen::Index i = 0; i < x.size(); ++i)
        (grids[static_cast<std::size_t>(i)].empty() ? smooth : stepped).push_back(i);
    if (stepped.empty()) return {x};

    // What the smooth unknowns can take up does not count; a faint pull towards x settles what nothing else does.
    constexpr double pull = 1e-4;
    const auto rows = jacobian.rows(), count = static_cast<Eigen::Index>(stepped.size());
    const Eigen::MatrixXd take_up = columns(jacobian, smooth);
    Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> smooth_fit;
    if (!smooth.empty()) smooth_fit.compute(take_up);
    const auto remove = [&](const Eigen::MatrixXd& m) -> Eigen::MatrixXd {
        return smooth.empty() ? m : Eigen::MatrixXd(m - take_up * smooth_fit.solve(m));
    };
    Eigen::VectorXd at(count);
    for (Eigen::Index i = 0; i < count; ++i) at[i] = x[stepped[static_cast<std::size_t>(i)]];
    const Eigen::MatrixXd slopes = columns(jacobian, stepped);
    Eigen::MatrixXd stacked = Eigen::MatrixXd::Zero(rows + count, count);
    stacked.topRows(rows) = remove(slopes);
    stacked.bottomRows(count).diagonal().setConstant(pull);
    Eigen::VectorXd right = stacked * at;
    right.head(rows) -= remove(residual);

    const Eigen::HouseholderQR<Eigen::MatrixXd> qr(stacked);
    const Eigen::VectorXd turned = qr.householderQ().transpose() * right;
    std::vector<const Grid*> tries;
    for (const auto i : stepped) tries.push_back(&grids[static_cast<std::size_t>(i)]);
    RoundingSearch search(qr.matrixQR().topRows(count).triangularView<Eigen::Upper>(), turned.head(count), tries, keep,
                          max_nodes);

    std::vector<Eigen::VectorXd> out;
    for (const auto& found : search.run()) {
        Eigen::VectorXd setting = x;
        for (Eigen::Index i = 0; i < count; ++i) setting[stepped[static_cast<std::size_t>(i)]] = found.value[i];
        if (!smooth.empty()) {
            const Eigen::VectorXd move = smooth_fit.solve(-(residual + slopes * (found.value - at)));
            for (std::size_t i = 0; i < smooth.size(); ++i) setting[smooth[i]] += move[static_cast<Eigen::Index>(i)];
        }
        out.push_back(std::move(setting));
    }
    return out;
}

}  // namespace swashwright::studies
