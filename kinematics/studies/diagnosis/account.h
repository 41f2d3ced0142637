// Accounts of what was read: all as it stands, or one or two readings mistyped or misread; and how probable each makes
// the readings together with a fault, by linear algebra about a head that has been posed.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "kinematics/studies/diagnosis/misread.h"
#include "kinematics/studies/diagnosis/stand.h"

namespace swashwright::studies {

/// The readings as they are taken to be.
struct Account {
    Readings readings;             // signs and blades put right
    std::vector<bool> left_out;    // can be anything
    std::vector<Misread> misread;  // none, one or two; chance and expected are not filled in
    double log_prior = 0;          // with the density of what is left out
};
Account as_read(const Readings& readings);

/// An account as a fit needs it: covariance of the readings' rows with noise as `whiten`^T `whiten` inverted, rows of
/// zeros for what is left out.
struct Whitened {
    Eigen::MatrixXd whiten;
    Eigen::VectorXd read;            // less the shared mean
    std::vector<Eigen::Index> rows;  // of every blade's
    double log_evidence = 0;         // of the account alone: its prior, less half the covariance's log determinant
};

/// A fault, or some together, about sizes at which the head was posed.
struct Effects {
    Eigen::VectorXd value;   // every blade's rows at those sizes
    Eigen::MatrixXd slopes;  // by the sizes, every blade's rows
    Eigen::VectorXd size, usual, largest;
    Eigen::VectorXd scatter;  // variance more of each row, each reading by itself; empty for none
};

/// Effects with one account.
struct Weighed {
    std::vector<Misread> misread;
    double log_evidence = 0;
};

/// All accounts of a fault, the most probable first.
struct Weighing {
    std::vector<Weighed> accounts;
    double log_evidence = 0;       // of all together; minus infinity where each asks for a size no part can have
    Eigen::VectorXd chance_wrong;  // of each reading
};

/// What is left to say of one account: sizes and stand given the readings, and what each row should then read.
struct Posterior {
    Eigen::VectorXd size, deviation;
    Stand stand;
    Eigen::VectorXd expected;  // every blade's rows, over the uncertainties
    double chi_square = 0;     // what the readings leave, over all that may vary
};

class Accounts {
public:
    Accounts(const Readings& readings, Shared shared, int blades, const MisreadPriors& priors);

    Account account(const std::vector<Misread>& misread) const;
    Whitened whitened(const Account& account) const;
    /// Sizes normal about 0, cut off at the largest that a part can have.
    Weighing weigh(const Effects& effects) const;
    Posterior posterior(const Account& account, const Effects& effects) const;
    /// The same readings with the gauge zeroed otherwise.
    Accounts with(const Gauge& gauge) const;
    double uncertainty(std::size_t reading) const;
    Eigen::Index own_row(std::size_t reading) const;  // of every blade's
    const Readings& readings() const { return readings_; }

private:
    struct Normal;
    Normal normal(const Account& account, const Effects& effects) const;
    void one_more(const std::vector<Misread>& base, const Effects& effects, std::vector<Weighed>& out) const;
    double log_prior(const Misread& misread) const;
    Eigen::Index row(std::size_t reading, int blade) const;

    Readings readings_;
    Shared shared_;
    int blades_;
    MisreadPriors priors_;
};

}  // namespace swashwright::studies
