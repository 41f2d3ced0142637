// How the slopes of a margin change over a box, and what is the least that the margin can be in it.
#pragma once

#include <array>

#include "kinematics/studies/envelope/moment.h"

namespace swashwright::studies {

/// Made for functions whose slopes do not jump. Those of servos with unequal ends do, and of nearly parallel capsules,
/// and of a hold where two ways of turning are alike: there what is told rests on differences across the jump.
///
/// Second derivatives as seen by differences of slopes, each with a doubt: by how much it may be off anywhere in the
/// box. Where both sides were seen the doubt is their difference, once between first neighbours and twice in what is
/// cut later, and 0.3 or 0.2 of the value; else the value itself. A box that is cut keeps half the doubt that it had.
class Curvature {
public:
    double value(std::size_t i, std::size_t j) const { return values_[i][j]; }
    double doubt(std::size_t i, std::size_t j) const { return doubts_[i][j]; }

    /// Changes of slopes along way `j` on either side; `both`: both were seen, else they are the same.
    void see(std::size_t j, const Ways& before, const Ways& after, bool both, std::size_t ways);
    /// Makes it symmetric, once all ways were seen.
    void settle(std::size_t ways);
    /// In place of what was known along way `j`, in the half of a box of which the outer half showed `outer` and the
    /// other one `inner`.
    void see_half(std::size_t j, const Ways& outer, const Ways& inner, std::size_t ways);
    /// Values and doubts to at least those of `other`, as doubts.
    void widen(const Curvature& other);
    /// A doubt of at least so many times what `other` has seen at most.
    void doubt_at_least(const Curvature& other, double share, std::size_t ways);

    /// Of `share` of one function and the rest of another.
    static Curvature between(const Curvature& one, const Curvature& other, double share);

    /// How much the slope along a way can change from the middle of a box to anywhere in it.
    double bend(std::size_t way, const Ways& half, std::size_t ways) const;
    /// The least that a margin can be in a box, given its value and slopes in the middle: quickly, and more closely.
    /// The latter is a convex quadratic model's least value, negative curvature and doubt taken off as they would weigh
    /// most.
    double least(const Piece& middle, const Ways& half, std::size_t ways) const;
    double close_least(const Piece& middle, const Ways& half, std::size_t ways) const;

private:
    std::array<std::array<float, most_ways>, most_ways> values_{}, doubts_{};
};

}  // namespace swashwright::studies
