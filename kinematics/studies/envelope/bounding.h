// The least margin of one check over the whole envelope, and how much less it might be: branch and bound.
#pragma once

#include <array>
#include <functional>
#include <limits>
#include <memory>
#include <queue>
#include <stop_token>
#include <utility>
#include <vector>

#include "kinematics/studies/envelope/curvature.h"
#include "kinematics/studies/envelope/grid.h"

namespace swashwright::studies {

/// Branch and bound (Horst and Tuy, Global Optimization, 1996): the envelope is cut into boxes; in each the margin is
/// at least what its value and slopes in the middle say and a second-order model of how slopes change (`Curvature`),
/// with its doubt taken off. Boxes that cannot come below the least margin known are left; of others the lowest is cut
/// next. Where a slope cannot change its sign the least value is on one side of the box, and it becomes that side.
///
/// Where a margin is the larger of two pieces (of ball links that share a roll) either bounds it, and any share of one
/// with the rest of the other.
///
/// The doubt is a margin, no proof: it is taken from how differently slopes were seen to change on either side, see
/// `Curvature`. It stands against slopes that bend between the places looked at.
class Bounding {
public:
    /// `best`: the least margin known so far and where. `finest`: the tolerance with which it may end at last.
    Bounding(const Grid& grid, std::size_t check, Extreme best, double finest)
        : grid_(grid), check_(check), best_(std::move(best)), finest_(finest) {}

    /// Goes on until nothing can lie more than `tolerance` below the best, or after so many more places.
    void go_on(Probe& probe, double tolerance, std::size_t most_places, const std::stop_token& stop);

    /// The least margin seen, its place, and how far below the true one may lie. Its value is not filled in.
    Extreme best() const;
    /// A place found otherwise.
    void improve(const Extreme& to) {
        if (to.margin < best_.margin) best_ = to;
    }
    bool done(double tolerance) const { return begun_ && best().within <= tolerance; }

private:
    /// Of a check whose margin is the larger of two pieces, the other one.
    struct Other {
        Piece value;
        Curvature curve{};
    };
    struct Box {
        Ways at{}, half{};
        int piece = 0;
        Piece value;
        Curvature curve{};
        double least = 0;                         // the margin is no less in it
        bool known = false;                       // the loop closes in its middle, and what is above was worked out
        std::shared_ptr<const Other> other = {};  // null also where it is nowhere the larger
    };
    struct Higher {
        bool operator()(const Box& a, const Box& b) const { return a.least > b.least; }
    };

    void begin(Probe& probe, const std::stop_token& stop);
    /// A piece's value and curvature at every node; none of a value where the loop does not close.
    struct Look {
        std::vector<std::optional<Piece>> values;
        std::vector<Curvature> curves;
        Curvature widest{};  // the most that any neighbours showed of it
    };
    std::optional<Look> look(Probe& probe, int piece);
    void begin_piece(Probe& probe, int piece);
    void begin_larger(Probe& probe);
    void begin_near_pieces(Probe& probe, const std::stop_token& stop);
    /// What neighbours' slopes say, given a piece's value at a node, if it is there.
    bool shrink(std::size_t node, Box& box) const;
    Curvature seen_between(std::size_t node, const std::function<const Piece*(std::size_t)>& value);
    void take_least(const Probe& probe, Box& box, const Moment& at) const;
    void take_least_of_larger(Box& box) const;
    bool evaluate(Probe& probe, Box& box);
    void find_near(const Probe& probe, const Moment& at, const Ways& half, std::vector<int>& out);
    void find_pieces(Probe& probe, const Box& box);
    bool draw_to_side(Probe& probe, const Box& box);
    void cut(Probe& probe, const Box& box);
    void cut_unknown(Probe& probe, const Box& box);
    void keep(Box box);
    std::size_t longest(const Box& box) const;

    const Grid& grid_;
    std::size_t check_;
    Extreme best_;
    double finest_;
    double left_ = std::numeric_limits<double>::infinity();  // least bound of all boxes that were left
    bool begun_ = false;
    std::array<bool, most_ways> depends_{};  // on each way
    std::size_t places_ = 0;                 // looked at
    std::priority_queue<Box, std::vector<Box>, Higher> boxes_;
    Curvature widest_;  // the most that any neighbours showed
};

}  // namespace swashwright::studies
