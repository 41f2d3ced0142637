#include "kinematics/studies/lengths/rounding.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>

namespace swashwright::studies {

namespace {

struct Found {
    double cost;  // what the search makes least
    Eigen::VectorXd value;
};

/// Puts it among those kept, the least first.
void insert(std::vector<Found>& found, std::size_t keep, double cost, const Eigen::VectorXd& value) {
    found.insert(std::ranges::lower_bound(found, cost, {}, &Found::cost), {cost, value});
    if (found.size() > keep) found.pop_back();
}

/// What one more must stay below to be kept.
double limit(const std::vector<Found>& found, std::size_t keep) {
    return found.size() < keep ? std::numeric_limits<double>::infinity() : found.back().cost;
}

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

    std::vector<Found> run() {
        descend(upper_.cols() - 1, 0);
        return std::move(found_);
    }

private:
    void descend(Eigen::Index k, double cost) {
        if (k < 0) return insert(found_, keep_, cost, value_);
        const auto behind = upper_.cols() - 1 - k;
        const double rest = target_[k] - upper_.row(k).tail(behind).dot(value_.tail(behind));
        const double centre = rest / upper_(k, k);
        Grid tries = *grids_[static_cast<std::size_t>(k)];
        std::ranges::sort(tries, {}, [&](double v) { return std::abs(v - centre); });
        for (const double v : tries) {
            const double here = cost + std::pow(rest - upper_(k, k) * v, 2);
            if (here >= limit(found_, keep_) || --nodes_left_ < 0) return;
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

/// The same for the least price among values whose sum of squares stays within `bound`.
class SparingSearch {
public:
    struct Try {
        double value, price;
    };

    SparingSearch(const Eigen::MatrixXd& upper, const Eigen::VectorXd& target, std::vector<std::vector<Try>> tries,
                  double bound, std::size_t keep, int max_nodes)
        : upper_(upper),
          target_(target),
          tries_(std::move(tries)),
          bound_(bound),
          keep_(keep),
          nodes_left_(max_nodes),
          value_(Eigen::VectorXd::Zero(upper.cols())) {
        for (auto& tries_of_one : tries_) std::ranges::stable_sort(tries_of_one, {}, &Try::price);
    }

    std::vector<Found> run() {
        descend(upper_.cols() - 1, 0, 0);
        return std::move(found_);
    }

private:
    void descend(Eigen::Index k, double squares, double price) {
        if (k < 0) return insert(found_, keep_, price, value_);
        const auto behind = upper_.cols() - 1 - k;
        const double rest = target_[k] - upper_.row(k).tail(behind).dot(value_.tail(behind));
        for (const auto& [value, more] : tries_[static_cast<std::size_t>(k)]) {
            if (price + more >= limit(found_, keep_)) return;
            const double here = squares + std::pow(rest - upper_(k, k) * value, 2);
            if (here > bound_) continue;
            if (--nodes_left_ < 0) return;
            value_[k] = value;
            descend(k - 1, here, price + more);
        }
    }

    const Eigen::MatrixXd& upper_;
    const Eigen::VectorXd& target_;
    std::vector<std::vector<Try>> tries_;
    double bound_;
    std::size_t keep_;
    int nodes_left_;
    Eigen::VectorXd value_;
    std::vector<Found> found_;  // cheapest first
};

Eigen::MatrixXd columns(const Eigen::MatrixXd& of, const std::vector<Eigen::Index>& which) {
    Eigen::MatrixXd out(of.rows(), static_cast<Eigen::Index>(which.size()));
    for (std::size_t i = 0; i < which.size(); ++i) out.col(static_cast<Eigen::Index>(i)) = of.col(which[i]);
    return out;
}

/// Least squares over grids, brought to triangular form.
class GridFit {
public:
    GridFit(const Eigen::VectorXd& x, const Eigen::VectorXd& residual, const Eigen::MatrixXd& jacobian,
            const std::vector<Grid>& grids)
        : x_(x), residual_(residual), grids_(grids) {
        for (Eigen::Index i = 0; i < x.size(); ++i)
            (grids[static_cast<std::size_t>(i)].empty() ? smooth_ : stepped_).push_back(i);
        if (none()) return;
        slopes_ = columns(jacobian, stepped_);
        at_ = x(stepped_);
        reduce(columns(jacobian, smooth_));
    }

    bool none() const { return stepped_.empty(); }

    std::vector<Found> nearest(std::size_t keep, int max_nodes) const {
        std::vector<const Grid*> tries;
        for (const auto i : stepped_) tries.push_back(&grids_[static_cast<std::size_t>(i)]);
        return RoundingSearch(upper_, target_, std::move(tries), keep, max_nodes).run();
    }

    std::vector<Found> cheapest(const Prices& prices, double slack, std::size_t keep, int max_nodes) const {
        const auto best = nearest(1, max_nodes);
        if (best.empty()) return best;
        std::vector<std::vector<SparingSearch::Try>> tries;
        for (const auto i : stepped_) {
            const auto k = static_cast<std::size_t>(i);
            tries.emplace_back();
            for (std::size_t v = 0; v < grids_[k].size(); ++v) tries.back().push_back({grids_[k][v], prices[k][v]});
        }
        const double most = std::sqrt(best[0].cost + out_of_reach_) + slack;
        return SparingSearch(upper_, target_, std::move(tries), most * most - out_of_reach_, keep, max_nodes).run();
    }

    /// With the smooth unknowns at their best.
    std::vector<Eigen::VectorXd> settings(const std::vector<Found>& found) const {
        std::vector<Eigen::VectorXd> out;
        for (const Found& one : found) {
            Eigen::VectorXd setting = x_;
            setting(stepped_) = one.value;
            if (!smooth_.empty()) setting(smooth_) += smooth_fit_.solve(-(residual_ + slopes_ * (one.value - at_)));
            out.push_back(std::move(setting));
        }
        return out;
    }

private:
    void reduce(const Eigen::MatrixXd& take_up) {
        // What the smooth unknowns can take up does not count; a faint pull towards x settles what nothing else does.
        constexpr double pull = 1e-4;
        const auto rows = slopes_.rows(), count = slopes_.cols();
        if (!smooth_.empty()) smooth_fit_.compute(take_up);
        const auto remove = [&](const Eigen::MatrixXd& m) -> Eigen::MatrixXd {
            return smooth_.empty() ? m : Eigen::MatrixXd(m - take_up * smooth_fit_.solve(m));
        };
        Eigen::MatrixXd stacked = Eigen::MatrixXd::Zero(rows + count, count);
        stacked.topRows(rows) = remove(slopes_);
        stacked.bottomRows(count).diagonal().setConstant(pull);
        Eigen::VectorXd right = stacked * at_;
        right.head(rows) -= remove(residual_);
        const Eigen::HouseholderQR<Eigen::MatrixXd> qr(stacked);
        const Eigen::VectorXd turned = qr.householderQ().transpose() * right;
        upper_ = qr.matrixQR().topRows(count).triangularView<Eigen::Upper>();
        target_ = turned.head(count);
        out_of_reach_ = turned.tail(rows).squaredNorm();
    }

    const Eigen::VectorXd &x_, &residual_;
    const std::vector<Grid>& grids_;
    std::vector<Eigen::Index> stepped_, smooth_;
    Eigen::MatrixXd slopes_;  // by the stepped unknowns
    Eigen::VectorXd at_;      // where x has them
    Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> smooth_fit_;
    Eigen::MatrixXd upper_;
    Eigen::VectorXd target_;
    double out_of_reach_ = 0;  // sum of squares that no setting takes away
};

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
    const GridFit fit(x, residual, jacobian, grids);
    return fit.none() ? std::vector{x} : fit.settings(fit.nearest(keep, max_nodes));
}

std::vector<Eigen::VectorXd> round_sparingly(const Eigen::VectorXd& x, const Eigen::VectorXd& residual,
                                             const Eigen::MatrixXd& jacobian, const std::vector<Grid>& grids,
                                             const Prices& prices, double slack, std::size_t keep, int max_nodes) {
    const GridFit fit(x, residual, jacobian, grids);
    return fit.none() ? std::vector{x} : fit.settings(fit.cheapest(prices, slack, keep, max_nodes));
}

}  // namespace swashwright::studies
