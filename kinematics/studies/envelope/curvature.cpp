#include "kinematics/studies/envelope/curvature.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

namespace swashwright::studies {

namespace {

constexpr double share_seen = 0.3, share_cut = 0.2;  // of the value: doubt between first neighbours, and later
constexpr double outer_half = 2;                     // from the middle of what was seen to the box's end, and more
constexpr int rounds = 8;                            // of the convex model's search

/// A margin's change over a box as a quadratic in shares of its half-widths.
struct Model {
    static constexpr int most = static_cast<int>(most_ways);
    using Numbers = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most, 1>;

    int size = 0;
    Eigen::Matrix<double, most, most> curve;
    Eigen::Matrix<double, most, 1> slope;

    /// Makes it convex, every way's own curvature to outweigh what it shares with others (Gershgorin). Tells by how
    /// much at most it has grown.
    double make_convex() {
        double grown = 0;
        for (int a = 0; a < size; ++a) {
            double others = 0;
            for (int b = 0; b < size; ++b) others += b == a ? 0 : std::abs(curve(a, b));
            const double lacks = std::max(0.0, others - curve(a, a));
            curve(a, a) += lacks;
            grown += lacks / 2;
        }
        return grown;
    }
    /// Of a convex one: its least value coordinate by coordinate, less what its slopes there still could gain.
    double least() const {
        std::array<double, most> at{}, downhill{};
        for (int a = 0; a < size; ++a) downhill[static_cast<std::size_t>(a)] = slope[a];
        for (int round = 0; round < rounds; ++round) {
            double moved = 0;
            for (int a = 0; a < size; ++a) {
                double& x = at[static_cast<std::size_t>(a)];
                const double rest = downhill[static_cast<std::size_t>(a)] - curve(a, a) * x;
                const double to = curve(a, a) > 0 ? std::clamp(-rest / curve(a, a), -1.0, 1.0) : rest > 0 ? -1.0 : 1.0;
                const double step = to - x;
                if (step == 0) continue;
                for (int b = 0; b < size; ++b) downhill[static_cast<std::size_t>(b)] += curve(b, a) * step;
                x = to;
                moved = std::max(moved, std::abs(step));
            }
            if (moved < 1e-6) break;
        }
        // slope.x + x'Hx / 2 with downhill = slope + Hx; convex, so it nowhere lies below its tangent there.
        double out = 0;
        for (int a = 0; a < size; ++a) {
            const double x = at[static_cast<std::size_t>(a)], down = downhill[static_cast<std::size_t>(a)];
            out += (slope[a] + down) * x / 2 - down * x - std::abs(down);
        }
        return out;
    }
};

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

Curvature Curvature::between(const Curvature& one, const Curvature& other, double share) {
    Curvature out;
    const auto a = static_cast<float>(share), b = static_cast<float>(1 - share);
    for (std::size_t i = 0; i < most_ways; ++i)
        for (std::size_t j = 0; j < most_ways; ++j) {
            out.values_[i][j] = a * one.values_[i][j] + b * other.values_[i][j];
            out.doubts_[i][j] = a * one.doubts_[i][j] + b * other.doubts_[i][j];
        }
    return out;
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
    Model model;
    double off = 0;
    for (std::size_t i = 0; i < ways; ++i) {
        if (half[i] == 0) continue;
        const int a = model.size++;
        model.slope[a] = middle.slope[i] * half[i];
        double doubt = 0;
        int b = 0;
        for (std::size_t j = 0; j < ways; ++j) {
            if (half[j] == 0) continue;
            model.curve(a, b++) = values_[i][j] * half[i] * half[j];
            doubt += doubts_[i][j] * half[i] * half[j];
        }
        // Doubt |x y| is at most (x^2 + y^2) / 2. As far as a way's own curvature outweighs its doubt that is less
        // curvature; the rest is taken off as it would weigh at the box's sides.
        const double within = std::clamp(model.curve(a, a), 0.0, doubt);
        model.curve(a, a) -= within;
        off += (doubt - within) / 2;
    }
    off += model.make_convex();
    return middle.margin - off + model.least();
}

}  // namespace swashwright::studies
