// LU with partial pivoting for the few unknowns of a block. N fixes the size at compile time; N = 0 takes it at run
// time. Row-major, in place, no allocation.
#pragma once

#include <cmath>
#include <utility>

namespace swashwright::linkage {

inline constexpr int max_block = 32;  // unknowns of the largest block

template <int N>
class SmallLu {
public:
    explicit SmallLu(int n = N) : n_(N ? N : n) {}

    double& operator()(int row, int column) { return a_[row * stride + column]; }
    int size() const { return N ? N : n_; }

    void clear() {
        for (int i = 0; i < size() * stride; ++i) a_[i] = 0;
    }
    /// Factors in place. False if a pivot is zero or not finite.
    bool factor() {
        determinant_sign_ = 1;
        for (int k = 0; k < size(); ++k) {
            int best = k;
            for (int i = k + 1; i < size(); ++i)
                if (std::abs((*this)(i, k)) > std::abs((*this)(best, k))) best = i;
            pivot_[k] = best;
            if (best != k) {
                determinant_sign_ = -determinant_sign_;
                for (int j = 0; j < size(); ++j) std::swap((*this)(k, j), (*this)(best, j));
            }
            const double p = (*this)(k, k);
            if (!(std::abs(p) > 0) || !std::isfinite(p)) return false;
            if (p < 0) determinant_sign_ = -determinant_sign_;
            inverse_[k] = 1.0 / p;
            for (int i = k + 1; i < size(); ++i) {
                const double f = (*this)(i, k) *= inverse_[k];
                for (int j = k + 1; j < size(); ++j) (*this)(i, j) -= f * (*this)(k, j);
            }
        }
        return true;
    }
    /// Solves for one right-hand side, in place.
    void solve(double* b) const {
        for (int k = 0; k < size(); ++k) std::swap(b[k], b[pivot_[k]]);
        for (int k = 0; k < size(); ++k)
            for (int i = k + 1; i < size(); ++i) b[i] -= a_[i * stride + k] * b[k];  // NOLINT: factor() filled it
        for (int i = size() - 1; i >= 0; --i) {
            for (int j = i + 1; j < size(); ++j) b[i] -= a_[i * stride + j] * b[j];
            b[i] *= inverse_[i];  // NOLINT: factor() filled it
        }
    }
    double determinant_sign() const { return determinant_sign_; }

private:
    static constexpr int capacity = N ? N : max_block;
    static constexpr int stride = capacity;
    int n_;
    double a_[capacity * capacity];
    double inverse_[capacity];
    int pivot_[capacity];
    double determinant_sign_ = 1;
};

}  // namespace swashwright::linkage
