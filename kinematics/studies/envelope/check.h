// What must hold at every pose of the envelope: a ball link tilted no further than its limit, a crank off its dead
// point, a servo within its travel, two parts apart.
#pragma once

#include <algorithm>
#include <cstdint>
#include <limits>
#include <memory>
#include <string>
#include <vector>

#include "kinematics/head/solver.h"
#include "kinematics/studies/envelope/moment.h"

namespace swashwright::studies {

enum class CheckKind { ball_tilt, transmission, dead_point, travel, clearance };

/// Its value must stay from `low` to `high`; an infinite bound does not bound.
struct Check {
    CheckKind kind = CheckKind::ball_tilt;
    std::string key;                 // stable, for JSON: "ball_tilt.upper_link[2].lower_end"
    std::string words;               // "tilt of upper link 2 at the outer ring"
    std::string label;               // shorter, for tables: "tilt, upper link 2 at outer ring"
    std::string unit;                // "deg", "mm", "mm/mm"
    std::vector<std::string> parts;  // scene paths, to be lit: one or two
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    double close = 0;  // a margin below this is told as close

    /// How far inside the bounds a value is, in `unit`; negative outside.
    double margin(double value) const { return std::min(value - low, high - value); }
};

/// A family of checks. Holds a workspace: one for each thread, made by `clone`.
class Checker {
public:
    virtual ~Checker() = default;
    virtual const std::vector<Check>& checks() const = 0;
    /// Before values are asked for, once for each pose: `solver` holds a pose that closes. False where this family can
    /// say nothing at this pose (a dead point, for what needs derivatives).
    virtual bool look(head::Solver& solver) = 0;
    /// Of check `i` at the pose last looked at.
    virtual double value(std::size_t i) = 0;
    /// The same, where the margin may be told as anything from `enough` to the true one if that is above `enough`.
    virtual double value_below(std::size_t i, double enough) {
        static_cast<void>(enough);
        return value(i);
    }
    virtual std::unique_ptr<Checker> clone() const = 0;

    // What bounds of the worst value are made of, for those that know their slopes.
    /// How many smooth functions the margin of check `i` is the least of; 0: this family does not know its slopes.
    virtual int pieces(std::size_t i) const {
        static_cast<void>(i);
        return 0;
    }
    /// The margin is the largest of two pieces instead: its slopes jump upwards where they cross.
    virtual bool larger_of_two(std::size_t i) const {
        static_cast<void>(i);
        return false;
    }
    /// One of them at a moment.
    virtual Piece piece(const Moment& at, std::size_t i, int piece) const {
        static_cast<void>(at), static_cast<void>(i), static_cast<void>(piece);
        return {};
    }
    /// Whether its slopes have no jumps; else only `fall` bounds it.
    virtual bool smooth(std::size_t i, int piece) const {
        static_cast<void>(i), static_cast<void>(piece);
        return true;
    }
    /// How far the margin of check `i` may fall no farther from the moment than `half` each way, by speeds alone.
    virtual double fall(const Moment& at, std::size_t i, const Ways& half) const {
        static_cast<void>(at), static_cast<void>(i), static_cast<void>(half);
        return std::numeric_limits<double>::infinity();
    }
    /// Those that may come below `best` no farther from the moment than `half` each way, by what speeds there say.
    virtual void near_pieces(const Moment& at, std::size_t i, const Ways& half, double best,
                             std::vector<int>& out) const {
        static_cast<void>(at), static_cast<void>(half), static_cast<void>(best);
        for (int p = 0; p < pieces(i); ++p) out.push_back(p);
    }
    /// The linkage's inputs on which check `i` depends, a bit each.
    virtual std::uint64_t inputs(std::size_t i) const {
        static_cast<void>(i);
        return ~std::uint64_t{0};
    }
    /// A servo whose horn angle alone check `i` reads, so that its worst value is proved; -1: none.
    virtual int only_servo(std::size_t i) const {
        static_cast<void>(i);
        return -1;
    }
    /// What this family cannot check in this head, a sentence each.
    virtual std::vector<std::string> left_out() const { return {}; }
};

}  // namespace swashwright::studies
