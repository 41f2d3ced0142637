// LU with partial pivoting for many right-hand sides that lie side by side: number s of row i at b[i * width + s].
// Plain and transposed, in place. Sizes 1 and 4, which plain heads have, are unrolled.
#pragma once

#include <cmath>
#include <type_traits>
#include <utility>
#include <vector>

namespace swashwright::linkage {

/// y += times x, `width` numbers; width is even. W gives the width at compile time, 0 at run time; so below.
template <int W>
inline void add_times(double* __restrict y, double times, const double* __restrict x, int width) {
    for (int s = 0; s < (W ? W : width); s += 2) {
        y[s] += times * x[s];
        y[s + 1] += times * x[s + 1];
    }
}

inline int even(int count) {
    return count + count % 2;
}

/// Calls `what` with the width as a compile-time number where it is one of the usual, with 0 otherwise.
template <class What>
inline void with_width(int width, What what) {
    switch (width) {
        case 2:
            return what(std::integral_constant<int, 2>());
        case 4:
            return what(std::integral_constant<int, 4>());
        case 6:
            return what(std::integral_constant<int, 6>());
        case 8:
            return what(std::integral_constant<int, 8>());
        default:
            return what(std::integral_constant<int, 0>());
    }
}

class LuMany {
public:
    explicit LuMany(int n)
        : n_(n), a_(static_cast<std::size_t>(n * n)), inverse_(static_cast<std::size_t>(n)), pivot_(inverse_.size()) {}

    int size() const { return n_; }
    double* row(int i) { return &a_[static_cast<std::size_t>(i * n_)]; }
    double& operator()(int i, int j) { return row(i)[j]; }
    void clear() {
        for (double& a : a_) a = 0;
    }

    /// False if a pivot is zero or not finite.
    bool factor() { return n_ == 1 ? factor_of<1>() : n_ == 4 ? factor_of<4>() : factor_of<0>(); }
    /// A x = b.
    template <int W>
    void solve(double* b, int width) const {
        n_ == 1 ? solve_of<1, W>(b, width) : n_ == 4 ? solve_of<4, W>(b, width) : solve_of<0, W>(b, width);
    }
    /// A' x = b.
    template <int W>
    void solve_transposed(double* b, int width) const {
        n_ == 1   ? solve_transposed_of<1, W>(b, width)
        : n_ == 4 ? solve_transposed_of<4, W>(b, width)
                  : solve_transposed_of<0, W>(b, width);
    }

private:
    template <int N>
    bool factor_of() {
        const int n = N ? N : n_;
        double* const a = a_.data();
        for (int k = 0; k < n; ++k) {
            int best = k;
            for (int i = k + 1; i < n; ++i)
                if (std::abs(a[i * n + k]) > std::abs(a[best * n + k])) best = i;
            pivot_[k] = best;
            if (best != k)
                for (int j = 0; j < n; ++j) std::swap(a[k * n + j], a[best * n + j]);
            const double p = a[k * n + k];
            if (!(std::abs(p) > 0) || !std::isfinite(p)) return false;
            inverse_[k] = 1.0 / p;
            for (int i = k + 1; i < n; ++i) {
                const double f = a[i * n + k] *= inverse_[k];
                for (int j = k + 1; j < n; ++j) a[i * n + j] -= f * a[k * n + j];
            }
        }
        return true;
    }
    template <int N, int W>
    void solve_of(double* b, int given) const {
        const int n = N ? N : n_, width = W ? W : given;
        const double* const a = a_.data();
        for (int k = 0; k < n; ++k) swap_rows<W>(b, k, pivot_[k], width);
        for (int k = 0; k < n; ++k)
            for (int i = k + 1; i < n; ++i) add_times<W>(b + i * width, -a[i * n + k], b + k * width, width);
        for (int i = n - 1; i >= 0; --i) {
            for (int j = i + 1; j < n; ++j) add_times<W>(b + i * width, -a[i * n + j], b + j * width, width);
            scale<W>(b + i * width, inverse_[i], width);
        }
    }
    /// P A = L U, so A' = U' L' P.
    template <int N, int W>
    void solve_transposed_of(double* b, int given) const {
        const int n = N ? N : n_, width = W ? W : given;
        const double* const a = a_.data();
        for (int k = 0; k < n; ++k) {
            scale<W>(b + k * width, inverse_[k], width);
            for (int j = k + 1; j < n; ++j) add_times<W>(b + j * width, -a[k * n + j], b + k * width, width);
        }
        for (int k = n - 1; k >= 0; --k)
            for (int i = k + 1; i < n; ++i) add_times<W>(b + k * width, -a[i * n + k], b + i * width, width);
        for (int k = n - 1; k >= 0; --k) swap_rows<W>(b, k, pivot_[k], width);
    }

    template <int W>
    static void scale(double* b, double by, int width) {
        for (int s = 0; s < (W ? W : width); ++s) b[s] *= by;
    }
    template <int W>
    static void swap_rows(double* b, int i, int j, int width) {
        if (i == j) return;
        for (int s = 0; s < (W ? W : width); ++s) std::swap(b[i * width + s], b[j * width + s]);
    }

    int n_;
    std::vector<double> a_, inverse_;
    std::vector<int> pivot_;
};

}  // namespace swashwright::linkage
