// One thread's means to ask all checks at any place of the envelope.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "kinematics/linkage/input_motion.h"
#include "kinematics/studies/envelope/chart.h"
#include "kinematics/studies/envelope/check.h"
#include "kinematics/studies/envelope/envelope.h"
#include "kinematics/studies/envelope/opening.h"

namespace swashwright::studies {

class Probe {
public:
    Probe(const head::Head& head, const Checkers& checkers);

    /// False where a loop does not close; values are then those of the last place that did.
    bool go(const Place& place);
    /// Back to neutral: the next place is approached from there.
    void reset() { solver_.reset(); }
    std::size_t size() const { return owners_.size(); }
    const Check& check(std::size_t i) const { return family(i).checks()[owners_[i].own]; }
    /// Of check `i` at the place; none where its family can say nothing there.
    std::optional<double> value(std::size_t i);
    /// The same; where its margin is above `enough`, anything from `enough` to the true one.
    std::optional<double> value_below(std::size_t i, double enough);

    /// Goes there and finds how everything moves along all ways of the chart. False where a loop does not close, which
    /// `opening` then knows, or at a dead point.
    bool move(const Chart& chart, const Ways& at);
    const Opening& opening() const { return opening_; }
    /// As of the last `move`.
    const Moment& moment() const { return moment_; }
    /// One piece of check `i` there, at a moment of the same head. Of a family that does not know its slopes
    /// differences of its values, for which places near `at` are posed.
    std::optional<Piece> piece(const Chart& chart, const Ways& at, const Moment& moment, std::size_t i, int piece);

    bool knows_slopes(std::size_t i) const { return family(i).pieces(owners_[i].own) > 0; }
    int pieces(std::size_t i) const { return std::max(1, family(i).pieces(owners_[i].own)); }
    bool larger_of_two(std::size_t i) const { return family(i).larger_of_two(owners_[i].own); }
    bool smooth(std::size_t i, int piece) const { return family(i).smooth(owners_[i].own, piece); }
    double fall(const Moment& at, std::size_t i, const Ways& half) const {
        return family(i).fall(at, owners_[i].own, half);
    }
    /// Pieces that may come below `best`.
    void near_pieces(const Moment& at, std::size_t i, const Ways& half, double best, std::vector<int>& out) const;
    /// Whether the value can differ where only this input of the linkage does.
    bool depends(std::size_t i, int input) const { return family(i).inputs(owners_[i].own) >> input & 1; }
    int only_servo(std::size_t i) const { return family(i).only_servo(owners_[i].own); }

    std::size_t poses = 0;  // solved so far

private:
    struct Owner {
        std::size_t family, own;
    };
    enum class Look { not_yet, done, nothing };

    const Checker& family(std::size_t i) const { return *families_[owners_[i].family]; }
    bool looked(std::size_t family);
    std::optional<Piece> by_differences(const Chart& chart, const Ways& at, std::size_t i);

    head::Solver solver_;
    linkage::InputMotion motion_;
    std::vector<double> rates_;  // of the inputs by each way
    Moment moment_;
    Opening opening_;
    std::vector<std::unique_ptr<Checker>> families_;
    std::vector<Look> looks_;
    std::vector<Owner> owners_;
};

}  // namespace swashwright::studies
