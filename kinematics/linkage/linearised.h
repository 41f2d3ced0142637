// A linkage made linear at one pose: each block's Jacobian factored, and how far each of its rows is opened by the
// joints before it and by the inputs. What sensitivities are worked out from, forwards (`InputMotion`) and backwards
// (`Adjoint`).
//
//     J_b q_b + (what earlier joints and inputs open) + (what numbers of the description open) = 0   for each block b
#pragma once

#include <span>
#include <vector>

#include "kinematics/linkage/lu_many.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/shared.h"

namespace swashwright::linkage {

/// Bodies from this one down to the ground, the ground left out.
std::vector<int> chain_of(const Plan& plan, int body);
/// Does `body` move with the joint of `on`, or is it the same?
bool rides_on(const Plan& plan, int body, int on);
/// Does the joint of `body` move one end of the row and not the other?
bool moves_one_end(const Plan& plan, const Row& row, int body);

/// The motion of all bodies put to nothing.
void hold_all_still(Workspace& ws);

/// A joint's freedom is called by its place in `Workspace::rates`: 4 body + k, mm or rad about the ground's axes.
class Linearised {
public:
    /// How a row is opened by a freedom of an earlier block or of an input.
    struct Entry {
        int row = 0, freedom = 0;
        double value = 0;
    };
    /// The same of all freedoms of one joint, at `entries[first]` and behind it.
    struct Outer {
        Term term;
        std::size_t first = 0;
        int count = 0;
    };
    struct Part {
        explicit Part(int size) : lu(size) {}

        int first = 0;                            // of its rows among those of all blocks
        std::vector<int> freedoms;                // its unknowns
        std::vector<int> watched;                 // bodies on which its Jacobian depends
        std::vector<std::vector<int>> followers;  // where a misfit is shared: those of `watched` that move with each
        std::vector<Entry> entries;
        std::vector<int> feeders;  // blocks whose freedoms are among those of `entries`
        std::vector<Outer> outer;  // what `entries` are of where the block closes
        int shared = -1;  // where a misfit is shared: which of them. Its rows are its conditions (see shared.h)
        LuMany lu;        // rows by unknowns, and multipliers where a misfit is shared
        long taken = 0;   // counts up whenever the block is taken anew

        int size() const { return lu.size(); }
    };

    explicit Linearised(const Plan& plan);

    /// Takes the pose at which `ws` stands, settled. Blocks that stand as they stood the last time are kept. Where a
    /// misfit is shared the motion in `ws` is overwritten. False where a block is singular: a dead point, no derivative
    /// exists.
    bool at(const Plan& plan, Workspace& ws);

    const std::vector<Part>& parts() const { return parts_; }
    int rows() const { return rows_; }  // of all blocks
    const SharedSystem& shared(const Part& part) const { return shared_[static_cast<std::size_t>(part.shared)]; }
    /// Of each row, how its residual grows with the place of its point (see `row_value`); zero where a misfit is
    /// shared.
    std::span<const Vec3> gradients() const { return gradients_; }

    /// What `forward` worked out the last time, by block.
    struct Known {
        std::vector<long> taken;
        std::vector<char> anew;  // was it worked out in the last call
    };
    /// From the rates of inputs those of all joints. `rates`: of every freedom, `width` directions side by side, even,
    /// at most 64. Blocks for which nothing has changed since the last call with these rates are left as they are.
    void forward(double* rates, int width, Known& known);
    /// From what a reading weighs each freedom with, what it weighs the inputs with once the loops are closed; leaves
    /// the multiplier of each row, which is how much less the reading becomes when the row is opened by 1 mm. `width`
    /// readings side by side, even.
    void backward(double* weights, double* multipliers, int width) const;
    /// Has the body moved between the last two calls of `at`?
    bool moved(int body) const { return moved_[static_cast<std::size_t>(body)] != 0; }

private:
    void describe(const Plan& plan, const Block& block, Part& part);
    void describe_shared(const Plan& plan, const Block& block, Part& part);
    /// Marks the bodies that have moved since the last time.
    void note_moved(const Plan& plan, const Workspace& ws);
    bool take(const Plan& plan, Workspace& ws, std::size_t block);
    bool take_shared(const Plan& plan, Workspace& ws, const Block& block, Part& part);

    template <int W>
    void forward_part(const Part& part, double* rates, int width);
    template <int W>
    void backward_part(const Part& part, double* weights, double* multipliers, int width) const;

    std::vector<Part> parts_;
    std::vector<SharedSystem> shared_;
    std::vector<Vec3> gradients_;
    std::vector<JointState> stood_;
    std::vector<char> moved_;
    bool any_ = false;  // was any pose taken
    int rows_ = 0;
    std::vector<double> scratch_;
};

}  // namespace swashwright::linkage
