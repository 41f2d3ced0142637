// Least squares over readings and assumptions, and what the residuals tell: which reading contradicts the others
// (W. Baarda, "A testing procedure for use in geodetic networks", 1968). A row has `sd`, `assumed` (stands in for
// readings that were not taken) and `used`. Internal to studies/measured.
#pragma once

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

namespace swashwright::studies::measured {

struct Fit {
    Eigen::VectorXd x;
    Eigen::MatrixXd jacobian;    // of all rows, used or not, at x
    Eigen::VectorXd residual;    // reading less what the numbers give
    Eigen::MatrixXd covariance;  // of x
};

/// Readings that cannot all be right, by the numbers of their rows.
struct Conflict {
    std::vector<std::size_t> rows;  // one of these; all fit the contradiction equally well
    std::vector<double> off;        // by how much each would be off, if it is that one
    double times = 0;               // the residual in its own standard deviations
    bool left_out = false;          // the row, being the only one in question, was not used
};

template <class Row>
Eigen::VectorXd weights(const std::vector<Row>& rows) {
    Eigen::VectorXd out(static_cast<Eigen::Index>(rows.size()));
    for (std::size_t i = 0; i < rows.size(); ++i)
        out[static_cast<Eigen::Index>(i)] = rows[i].used ? 1 / rows[i].sd : 0.0;
    return out;
}

/// Gauss's method; readings are nearly linear in the numbers, so it converges in a few steps. `evaluate` fills jacobian
/// and residual at `fit.x`, false where it cannot: a step that leads there, or to a worse fit, is halved. False if it
/// cannot at the start.
template <class Row, class Evaluate>
bool least_squares(const std::vector<Row>& rows, const Evaluate& evaluate, Fit& fit) {
    constexpr int most_steps = 30, most_halvings = 8;
    const Eigen::VectorXd weight = weights(rows);
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr;
    const auto cost = [&] { return weight.cwiseProduct(fit.residual).squaredNorm(); };
    /// The largest change of a number; 0 where no step is for the better.
    const auto step = [&] {
        qr.compute(weight.asDiagonal() * fit.jacobian);
        Eigen::VectorXd change = qr.solve(weight.cwiseProduct(fit.residual));
        const Eigen::VectorXd from = fit.x;
        const double before = cost();
        for (int halving = 0; halving < most_halvings; ++halving, change *= 0.5) {
            fit.x = from + change;
            if (evaluate(fit) && cost() <= before * (1 + 1e-9) + 1e-12)
                return change.template lpNorm<Eigen::Infinity>();
        }
        fit.x = from;
        evaluate(fit);
        return 0.0;
    };
    if (!evaluate(fit)) return false;
    for (int i = 0; i < most_steps; ++i)
        if (step() < 1e-12 * (1 + fit.x.template lpNorm<Eigen::Infinity>())) break;
    qr.compute(weight.asDiagonal() * fit.jacobian);
    // (J'WJ)^-1 = (P R' R P')^-1
    const Eigen::Index n = fit.x.size();
    const Eigen::MatrixXd inverse =
        qr.matrixR().topLeftCorner(n, n).template triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n));
    const Eigen::MatrixXd back = qr.colsPermutation() * inverse;
    fit.covariance = back * back.transpose();
    return true;
}

/// Standard deviation of a reading's residual; 0 if nothing else tells what the reading tells.
template <class Row>
double residual_sd(const Fit& fit, const std::vector<Row>& rows, std::size_t i) {
    const auto row = fit.jacobian.row(static_cast<Eigen::Index>(i));
    const double square = rows[i].sd * rows[i].sd - (row * fit.covariance * row.transpose()).value();
    return square > 1e-6 * rows[i].sd * rows[i].sd ? std::sqrt(square) : 0.0;
}

/// Share of a number's variance that comes from what was assumed.
template <class Row>
double assumed_share(const Fit& fit, const std::vector<Row>& rows, int unknown) {
    double assumed = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!rows[i].assumed) continue;
        const double gain =
            (fit.jacobian.row(static_cast<Eigen::Index>(i)) * fit.covariance.col(unknown)).value() / rows[i].sd;
        assumed += gain * gain;
    }
    return assumed / fit.covariance(unknown, unknown);
}

/// The residual of each reading in its own standard deviations; 0 where nothing else tells what it tells.
template <class Row>
std::vector<double> normalised_residuals(const Fit& fit, const std::vector<Row>& rows) {
    std::vector<double> out(rows.size(), 0);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const double sd = rows[i].used && !rows[i].assumed ? residual_sd(fit, rows, i) : 0;
        if (sd > 0) out[i] = std::abs(fit.residual[static_cast<Eigen::Index>(i)]) / sd;
    }
    return out;
}

/// One contradiction after another, the largest first, as long as one is beyond `sds` standard deviations. A reading
/// that alone explains one is not used any more; where several explain it equally well all stay in use. `solve` fits
/// anew.
template <class Row, class Solve>
std::vector<Conflict> find_conflicts(std::vector<Row>& rows, Fit& fit, double sds, const Solve& solve) {
    constexpr double as_well = 0.95;  // of the largest normalised residual
    constexpr std::size_t most = 20;  // with more of them the readings are of another head
    std::vector<Conflict> out;
    std::vector<std::size_t> set_aside;
    for (std::size_t tries = 0; tries < std::min(rows.size(), most); ++tries) {
        const std::vector<double> times = normalised_residuals(fit, rows);
        const auto worst = static_cast<std::size_t>(std::ranges::max_element(times) - times.begin());
        if (times[worst] <= sds) break;
        Conflict found;
        found.times = times[worst];
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (times[i] < as_well * times[worst]) continue;
            const double sd = residual_sd(fit, rows, i), share = sd * sd / (rows[i].sd * rows[i].sd);
            found.rows.push_back(i);
            found.off.push_back(fit.residual[static_cast<Eigen::Index>(i)] / share);
        }
        found.left_out = found.rows.size() == 1;
        rows[worst].used = false;
        if (!found.left_out) set_aside.push_back(worst);
        out.push_back(std::move(found));
        solve(fit);
    }
    if (set_aside.empty()) return out;
    for (const std::size_t i : set_aside) rows[i].used = true;
    solve(fit);
    return out;
}

}  // namespace swashwright::studies::measured
