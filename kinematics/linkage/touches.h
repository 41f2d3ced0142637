// Where the numbers of a description touch the equations of a linkage: by how much each opens the rows of `Linearised`
// and moves what is read. Found once from the plan; worked out anew at a pose only where blocks have moved.
#pragma once

#include <span>
#include <utility>
#include <vector>

#include "kinematics/linkage/linearised.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::linkage {

/// One share of what is read of a motion. `weight` is in the ground's axes and may be set anew from pose to pose.
struct ReadingTerm {
    enum class What {
        rate,   // of joint `index`, its freedom k, times weight.x: mm or rad
        spin,   // of body `index`, along the weight: rad
        point,  // motion of anchor `index`, along the weight: mm
    };
    What what = What::rate;
    int index = 0;
    int k = 0;
    Vec3 weight = Vec3::UnitX();
};
using Reading = std::vector<ReadingTerm>;  // their sum

/// Columns: one list of changes each, at unit rate. Rows behind those of `Linearised`: one for each reading's term.
class Touches {
public:
    Touches(const Plan& plan, const Linearised& linearised, std::span<const Reading> readings,
            std::span<const std::vector<Change>> columns);

    std::size_t columns() const { return inputs_.size(); }
    /// Puts other changes of inputs in place of a column's own.
    void set_inputs(const Plan& plan, std::size_t column, std::span<const Change> changes);
    /// Takes the pose of `ws`, for which `linearised` stands. Overwrites the motion in `ws` where a misfit is shared.
    void at(const Plan& plan, Workspace& ws, const Linearised& linearised, std::span<const Reading> readings);
    /// Each column of every reading, `width` readings side by side, even: from the multipliers of all rows and the
    /// weights of the inputs.
    void times(const double* multipliers, const double* weights, int width, double* table) const;

private:
    /// A row's gradient as seen from where a number counts.
    struct Pull {
        enum class In { body, frame_shift, frame_turn, plane };
        In in = In::body;
        int row = 0;     // of all blocks, or of a reading's term behind them
        int axes = 0;    // body in whose axes
        int body = 0;    // of a frame: whose joint
        int anchor = 0;  // the point that is moved; of a plane the two points
        int other = 0;
        double sign = 1;
        bool spins = false;  // a reading of spin: no point
        Vec3 value = Vec3::Zero();

        bool same(const Pull& o) const { return in == o.in && row == o.row && body == o.body && anchor == o.anchor; }
    };
    /// One number of the product: value = pull . amount.
    struct Touch {
        std::size_t at = 0;  // in values_
        int pull = 0;
        Vec3 amount = Vec3::Zero();
    };
    /// What a column does to the conditions of a block that shares a misfit.
    struct SharedTouch {
        std::size_t at = 0;  // the first of its conditions in values_
        std::vector<Change> changes;
        std::vector<int> rows, bodies;  // that it moves
    };
    /// What hangs on one block; behind the blocks, what hangs on the readings.
    struct Group {
        std::vector<Pull> pulls;
        std::vector<Touch> touches;
        std::vector<SharedTouch> shared;
        long taken = 0;  // as of `Linearised::Part`
    };

    void touch_row(const Plan& plan, Group& group, const Row& row, int index, const Change& change);
    void touch_term(const Plan& plan, Group& group, const ReadingTerm& term, int index, const Change& change);
    void touch_shared(const Plan& plan, const Block& block, const Linearised::Part& part, Group& group,
                      const std::vector<Change>& changes);
    void pull(Group& group, Pull pull, const Vec3& amount);
    void take(const Workspace& ws, Group& group, std::span<const Vec3> gradients, int first);
    void take_shared(const Plan& plan, Workspace& ws, const Block& block, const SharedSystem& system, Group& group,
                     int size);
    template <int W>
    void times_of(const double* multipliers, const double* weights, int width, double* table) const;

    int rows_ = 0;  // of the blocks
    std::vector<Group> groups_;
    std::vector<std::size_t> first_;  // of each column in values_, and where the last one ends
    std::vector<int> row_of_value_;
    std::vector<double> values_;
    std::vector<std::vector<std::pair<int, double>>> inputs_;  // of each column: freedom and amount
    std::vector<Vec3> weights_;                                // of the readings' terms
    Changes changes_;
};

}  // namespace swashwright::linkage
