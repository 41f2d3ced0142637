// What must hold at every pose of the envelope: a ball link tilted no further than its limit, a crank off its dead
// point, a servo within its travel, two parts apart.
#pragma once

#include <algorithm>
#include <limits>
#include <memory>
#include <string>
#include <vector>

#include "kinematics/head/solver.h"

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
    virtual std::unique_ptr<Checker> clone() const = 0;
    /// What this family cannot check in this head, a sentence each.
    virtual std::vector<std::string> left_out() const { return {}; }
};

}  // namespace swashwright::studies
