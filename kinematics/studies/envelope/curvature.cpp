#include "kinematics/studies/envelope/curvature.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

namespace swashwright::studies {

namespace {

constexpr double share_seen = 0.3, share_cut = 0.2;  // of the value: doubt between first neighbours, and later
constexpr double outer_half = 2;                     // from the middle of what was seen to the box's end, and more
constexpr int rounds = 8;                            // of the convex model's search

}  // namespace

void Curvature::see(std::size_t j, const Ways& before, const Ways& after, bool both, std::size_t ways) {
    for (std::size_t i = 0; i < ways; ++i) {
        const double apart = std::abs(before[i] - after[i]), most = std::max(std::abs(before[i]), std::abs(after[i]));
        values_[i][j] = static_cast<float>((before[i] + after[i]) / 2);
        doubts_[i][j] = static_cast<float>(both ? apart + share_seen * most : most);
    }
}

void Curvature::settle(std::size_t ways) {
    for (std::size_t i = 0; i < ways; ++i)
        for (std::size_t j = 0; j < i; ++j) {
            const float middle = (values_[i][j] + values_[j][i]) / 2, off = std::abs(values_[i][j] - middle);
            const float doubt = std::max(doubts_[i][j], doubts_[j][i]) + off;
            values_[i][j] = values_[j][i] = middle;
            doubts_[i][j] = doubts_[j][i] = doubt;
        }
}

void Curvature::see_half(std::size_t j, const Ways& outer, const Ways& inner, std::size_t ways) {
    for (std::size_t i = 0; i < ways; ++i) {
        const double doubt = outer_half * std::abs(outer[i] - inner[i]) + share_cut * std::abs(outer[i]);
        values_[i][j] = values_[j][i] = static_cast<float>(outer[i]);
        doubts_[i][j] = doubts_[j][i] = std::max(static_cast<float>(doubt), doubts_[i][j] / 2);
    }
}

void Curvature::widen(const Curvature& other) {
    for (std::size_t i = 0; i < most_ways; ++i)
        for (std::size_t j = 0; j < most_ways; ++j)
            doubts_[i][j] = std::max(doubts_[i][j], std::abs(other.values_[i][j]) + other.doubts_[i][j]);
}

void Curvature::doubt_at_least(const Curvature& other, double share, std::size_t ways) {
    for (std::size_t i = 0; i < ways; ++i)
        for (std::size_t j = 0; j < ways; ++j)
            doubts_[i][j] = std::max(doubts_[i][j], static_cast<float>(share) * other.doubts_[i][j]);
}

double Curvature::bend(std::size_t way, const Ways& half, std::size_t ways) const {
    double out = 0;
    for (std::size_t j = 0; j < ways; ++j) out += half[j] * (std::abs(values_[way][j]) + doubts_[way][j]);
    return out;
}

double Curvature::least(const Piece& middle, const Ways& half, std::size_t ways) const {
    double out = middle.margin;
    for (std::size_t w = 0; w < ways; ++w)
        if (half[w] > 0) out -= half[w] * (std::abs(middle.slope[w]) + bend(w, half, ways) / 2);
    return out;
}

double Curvature::close_least(const Piece& middle, const Ways& half, std::size_t ways) const {
    constexpr int most = static_cast<int>(most_ways);
    std::array<std::size_t, most_ways> open{};
    int n = 0;
    for (std::size_t w = 0; w < ways; ++w)
        if (half[w] > 0) open[static_cast<std::size_t>(n++)] = w;
    if (n == 0) return middle.margin;
    // In shares of the half-widths.
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, most, most> curve(n, n);
    Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most, 1> slope(n), at(n);
    double off = 0;
    for (int a = 0; a < n; ++a) {
        const std::size_t i = open[static_cast<std::size_t>(a)];
        slope[a] = middle.slope[i] * half[i];
        for (int b = 0; b < n; ++b) {
            const std::size_t j = open[static_cast<std::size_t>(b)];
            curve(a, b) = values_[i][j] * half[i] * half[j];
            off += doubts_[i][j] * half[i] * half[j] / 2;
        }
    }
    using Symmetric = Eigen::SelfAdjointEigenSolver<decltype(curve)>;
    const double lowest = Symmetric(curve, Eigen::EigenvaluesOnly).eigenvalues().minCoeff();
    if (lowest < 0) {
        curve.diagonal().array() -= lowest;
        off -= lowest * n / 2;
    }
    at.setZero();
    for (int round = 0; round < rounds; ++round)
        for (int a = 0; a < n; ++a) {
            const double rest = slope[a] + curve.row(a).dot(at) - curve(a, a) * at[a];
            at[a] = curve(a, a) > 0 ? std::clamp(-rest / curve(a, a), -1.0, 1.0) : (rest > 0 ? -1.0 : 1.0);
        }
    const auto downhill = (slope + curve * at).eval();
    const double model = slope.dot(at) + at.dot(curve * at) / 2 - downhill.dot(at) - downhill.cwiseAbs().sum();
    return middle.margin + model - off;
}

}  // namespace swashwright::studies
