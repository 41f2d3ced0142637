#include "kinematics/studies/diagnosis/fault_fit.h"

#include <Eigen/Dense>
#include <cmath>

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int most_steps = 12, most_halvings = 8;
constexpr double settled = 0.02;  // of a standard deviation: what is left of chi-square is then under 0.001
constexpr double told = 1e-5;     // a column smaller than this share of the rest is told by no reading

/// One try: the head with the faults at these sizes, against what was read.
struct Trial {
    Expected rows;  // every blade's, by the chosen faults
    VectorXd left;  // whitened, as are the slopes
    MatrixXd slopes;
    double cost = 0;  // chi-square, with the prior's share
};

class FaultSearch {
public:
    FaultSearch(const FitTo& to, const Account& account, const Whitened& whitened, const std::vector<int>& chosen,
                bool prior)
        : to_(to), readings_(account.readings), whitened_(whitened), chosen_(chosen) {
        for (std::size_t i = 0; i < chosen.size(); ++i) {
            mine_.push_back(to.suspects[static_cast<std::size_t>(chosen[i])]);
            if (mine_.back().sized()) sized_.push_back(static_cast<Index>(i));
        }
        weight_ = VectorXd::Zero(static_cast<Index>(sized_.size()));
        if (prior)
            for (Index i = 0; i < weight_.size(); ++i) weight_[i] = 1 / fault(sized_[i]).usual_size();
    }

    std::optional<Trial> attempt(const VectorXd& size) const {
        head::Description description = to_.base;
        for (std::size_t i = 0; i < chosen_.size(); ++i)
            apply(fault(static_cast<Index>(i)), size[static_cast<Index>(i)], description);
        const auto head = head::Head::build(description);
        if (!head || head->neutral_failure()) return std::nullopt;
        auto now = expected(*head, readings_, mine_, to_.numbers, RowsOf::every_blade);
        if (!now) return std::nullopt;
        Trial out{std::move(*now), {}, {}, 0};
        out.left = whitened_.whiten * (whitened_.read - out.rows.value(whitened_.rows));
        out.slopes = whitened_.whiten * out.rows.slopes(whitened_.rows, Eigen::all);
        out.cost = out.left.squaredNorm() + held(size).squaredNorm();
        return out;
    }

    /// The Gauss-Newton step of the sizes, and how long it is in standard deviations; none if they are not told.
    std::optional<VectorXd> step(const Trial& at, const VectorXd& size, double& length) const {
        const Index n = static_cast<Index>(sized_.size()), m = at.left.size();
        VectorXd full = VectorXd::Zero(size.size());
        length = 0;
        if (n == 0) return full;
        MatrixXd rows(m + n, n);
        VectorXd aim(m + n);
        for (Index i = 0; i < n; ++i) rows.col(i).head(m) = at.slopes.col(sized_[i]);
        rows.bottomRows(n) = weight_.asDiagonal();
        aim << at.left, -held(size);
        const VectorXd norms = rows.colwise().norm();
        if (!(norms.minCoeff() > 0)) return std::nullopt;
        const Eigen::ColPivHouseholderQR<MatrixXd> qr(rows * norms.cwiseInverse().asDiagonal());
        if (std::abs(qr.matrixR()(n - 1, n - 1)) < told) return std::nullopt;
        const VectorXd scaled = qr.solve(aim);
        length = (rows * norms.cwiseInverse().asDiagonal() * scaled).norm();
        for (Index i = 0; i < n; ++i) full[sized_[i]] = scaled[i] / norms[i];
        return full;
    }

    /// The fit a last small step on, by the slopes.
    Fitted finish(Trial at, VectorXd size, const VectorXd& step) const {
        size += step;
        at.rows.value += at.rows.slopes * step;
        at.left -= at.slopes * step;
        const Index n = static_cast<Index>(sized_.size());
        const bool prior = n > 0 && weight_[0] > 0;
        const MatrixXd spread =
            covariance(at.slopes(Eigen::all, sized_), prior ? VectorXd(weight_.cwiseInverse()) : VectorXd());
        Fitted out{{chosen_, size, MatrixXd::Zero(size.size(), size.size()), at.left.squaredNorm()},
                   std::move(at.rows)};
        for (Index i = 0; i < spread.rows(); ++i)
            for (Index j = 0; j < spread.cols(); ++j) out.fit.covariance(sized_[i], sized_[j]) = spread(i, j);
        return out;
    }

private:
    const Fault& fault(Index i) const { return mine_[static_cast<std::size_t>(i)]; }
    VectorXd held(const VectorXd& size) const {
        VectorXd out(weight_.size());
        for (Index i = 0; i < out.size(); ++i) out[i] = weight_[i] * size[sized_[i]];
        return out;
    }

    const FitTo& to_;
    const Readings& readings_;
    const Whitened& whitened_;
    const std::vector<int>& chosen_;
    std::vector<Fault> mine_;   // the chosen ones
    std::vector<Index> sized_;  // which of the chosen have a size
    VectorXd weight_;           // of the prior, 1 over the usual size, or 0
};

}  // namespace

double FaultFit::deviation(std::size_t i) const {
    return std::sqrt(covariance(static_cast<Index>(i), static_cast<Index>(i)));
}

std::optional<Fitted> fit(const FitTo& to, const Account& account, const Whitened& whitened,
                          const std::vector<int>& chosen, const VectorXd& start, bool prior) {
    const FaultSearch search(to, account, whitened, chosen, prior);
    VectorXd size = start;
    std::optional<Trial> now = search.attempt(size);
    for (int halving = 0; !now && halving < most_halvings; ++halving) now = search.attempt(size *= 0.5);
    if (!now) return std::nullopt;
    for (int i = 0; i < most_steps; ++i) {
        double length = 0;
        auto step = search.step(*now, size, length);
        if (!step) return std::nullopt;
        if (length < settled) return search.finish(std::move(*now), size, *step);
        std::optional<Trial> next;
        for (int halving = 0; halving < most_halvings; ++halving, *step *= 0.5) {
            next = search.attempt(size + *step);
            if (next && next->cost < now->cost) break;
            next.reset();
        }
        if (!next) break;  // no better place is within reach
        size += *step;
        now = std::move(next);
    }
    return search.finish(std::move(*now), size, VectorXd::Zero(size.size()));
}

MatrixXd covariance(const MatrixXd& slopes, const VectorXd& usual) {
    if (slopes.cols() == 0) return {};
    MatrixXd information = slopes.transpose() * slopes;
    if (usual.size() > 0) information.diagonal() += usual.cwiseAbs2().cwiseInverse();
    const VectorXd scale = information.diagonal().cwiseSqrt();  // units differ: a bare determinant would mean nothing
    if (!(scale.minCoeff() > 0)) return {};
    const VectorXd unit = scale.cwiseInverse();
    const Eigen::LDLT<MatrixXd> ldlt(unit.asDiagonal() * information * unit.asDiagonal());
    if (!(ldlt.vectorD().minCoeff() > told * told)) return {};
    return unit.asDiagonal() * ldlt.solve(MatrixXd::Identity(scale.size(), scale.size())) * unit.asDiagonal();
}

}  // namespace swashwright::studies
