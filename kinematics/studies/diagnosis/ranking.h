// All explanations of the readings, weighed. Internal to the diagnosis.
#pragma once

#include <deque>
#include <span>
#include <vector>

#include "kinematics/studies/diagnosis/diagnose.h"

namespace swashwright::studies {

/// An account with what fits to it need, and the slopes of all suspects on the head as described.
struct Prepared {
    Account account;
    Whitened whitened;
    Eigen::MatrixXd slopes;  // whitened
};

struct Candidate {
    Hypothesis hypothesis;
    Expected rows;  // every blade's, by the hypothesis' faults
    Weighing weighing;
};

/// What is asked and known of the head as described.
struct Subject {
    head::Description base;             // the mixer kept
    std::vector<head::Number> numbers;  // of the base
    std::vector<Fault> suspects;
    Expected sound;  // every blade's rows, by all suspects

    const Fault& suspect(int f) const { return suspects[static_cast<std::size_t>(f)]; }
    Effects effects(const std::vector<int>& faults, const Expected& rows, const Eigen::VectorXd& size) const;
};

/// One fault that the readings do not show, or two at once, weighed by a first look alone.
struct LookedAt {
    int a = 0, b = 0;  // the same for one
    double log_evidence = 0, probability = 0;
};

class Ranking {
public:
    Ranking(const head::Head& head, const Readings& readings, const DiagnosisOptions& options);

    /// False where the head as described cannot take the readings' poses.
    bool begin(const Readings& readings);
    /// Both unfinished where they are stopped.
    void singles(const Going& going);
    void pairs(const Going& going);
    /// Sorted, with their probabilities; what only the most probable need is filled in.
    void finish();

    const Subject& subject() const { return subject_; }
    const Accounts& accounts() const { return *accounts_; }
    const std::vector<Candidate>& ranked() const { return ranked_; }
    const Candidate* single(int fault) const;
    const std::vector<int>& unseen() const { return unseen_; }
    const std::vector<LookedAt>& looked_at() const { return looked_at_; }
    std::size_t pairs_weighed() const { return pairs_weighed_; }
    const Prepared& prepared(const std::vector<Misread>& misread);

private:
    struct Look {
        std::size_t a = 0, b = 0;  // of the singles; the account is that of `a`
        Eigen::VectorXd start;
        double log_evidence = 0;
    };

    void sized(int fault);
    void unsized(int fault);
    void scattering(int fault);
    std::optional<Candidate> settle(const std::vector<int>& faults, std::vector<Misread> misread,
                                    const Eigen::VectorXd& start, bool prior);
    std::optional<Fitted> best_of_starts(const std::vector<int>& faults, const Prepared& to,
                                         const Eigen::VectorXd& start, bool prior) const;
    bool believable(const FaultFit& fit) const;
    std::vector<Look> looks();
    void look_beside(std::size_t a, std::vector<Look>& best);
    void add(Candidate candidate, double log_prior);
    double single_prior() const;
    void tell(Candidate& candidate);

    Subject subject_;
    DiagnosisOptions options_;
    std::optional<Accounts> accounts_;
    std::deque<Prepared> prepared_;  // stay where they are
    std::vector<Candidate> singles_, ranked_;
    std::vector<int> unseen_;
    std::vector<LookedAt> looked_at_;
    std::size_t pairs_weighed_ = 0;
};

}  // namespace swashwright::studies
