// One thread's means to ask all checks at any place of the envelope.
#pragma once

#include <memory>
#include <vector>

#include "kinematics/studies/envelope/check.h"
#include "kinematics/studies/envelope/envelope.h"

namespace swashwright::studies {

class Probe {
public:
    Probe(const head::Head& head, const Checkers& checkers);

    /// False where a loop does not close; values are then those of the last place that did.
    bool go(const Place& place);
    /// Back to neutral: the next place is approached from there.
    void reset() { solver_.reset(); }
    std::size_t size() const { return owners_.size(); }
    const Check& check(std::size_t i) const { return families_[owners_[i].family]->checks()[owners_[i].own]; }
    /// Of check `i` at the place; none where its family can say nothing there.
    std::optional<double> value(std::size_t i);

    std::size_t poses = 0;  // solved so far

private:
    struct Owner {
        std::size_t family, own;
    };
    enum class Look { not_yet, done, nothing };

    head::Solver solver_;
    std::vector<std::unique_ptr<Checker>> families_;
    std::vector<Look> looks_;
    std::vector<Owner> owners_;
};

}  // namespace swashwright::studies
