// The places of a calliper as functions of a head's numbers, with slopes. Internal to calliper_fit.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "kinematics/head/numbers.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/measured/calliper_places.h"

namespace swashwright::studies::measured {

/// What moves metal and is known to some tolerance. A trim does what the neutral does, a link's error what its length
/// does: they stay as they are.
std::vector<head::Number> numbers_of_metal(const head::Description& description);

class Bench {
public:
    explicit Bench(const head::Head& start);

    /// Those of metal: the order of every vector here.
    const std::vector<head::Number>& numbers() const { return numbers_; }
    Eigen::VectorXd numbers_of(const head::Description& description) const;
    void set(const Eigen::VectorXd& x, head::Description& description) const;
    /// That with which poses are found: the mixer as it was, neutral sought where the last pose stood.
    head::Description described(const Eigen::VectorXd& x) const;
    /// What a place reads on the head at the start; none where the head does not take the pose.
    std::optional<double> start_value(const CalliperPlace& place) const { return present_value(place, start_); }

    /// What each place reads, and how that changes with each number; false where a pose is needed that the head does
    /// not take. Without a pose by central differences, the share of the pose exactly.
    bool read(const std::vector<const CalliperPlace*>& places, const Eigen::VectorXd& x, Eigen::VectorXd& value,
              Eigen::MatrixXd& slopes);
    /// Goes from one set of numbers to another in small steps, so that poses are found near where the last one stood.
    void follow(const Eigen::VectorXd& from, const Eigen::VectorXd& to);
    /// Where neutral is sought, as the last pose stood.
    void copy_place(head::Description& to) const;

private:
    void at_rest(const std::vector<const CalliperPlace*>& places, const Eigen::VectorXd& x, Eigen::VectorXd& value,
                 Eigen::MatrixXd& slopes) const;
    void keep_place(const head::Head& head, head::Solver& solver);

    head::Head start_;
    std::vector<head::Number> numbers_;
    head::Description base_;
};

}  // namespace swashwright::studies::measured
