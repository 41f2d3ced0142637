// Which part is wrong? Every single fault and every pair among the suspects, fitted to what was read at the bench and
// ranked by how probable the readings make them; "nothing wrong" is ranked with them.
#pragma once

#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/diagnosis/fault_fit.h"
#include "kinematics/studies/diagnosis/next_reading.h"
#include "kinematics/studies/diagnosis/observability.h"

namespace swashwright::studies {

/// How probable before anything is read; within each line all hypotheses alike. A judgement, not a measurement: chosen
/// so that a sound head is called sound nineteen times in twenty.
struct Priors {
    double nothing = 0.40;
    double single = 0.50;
    double pair = 0.10;
};

struct DiagnosisOptions {
    std::vector<FaultKind> kinds{std::begin(all_fault_kinds), std::end(all_fault_kinds)};
    bool pairs = true;
    bool advice = true;  // the next reading and what no reading can tell
    Priors priors;
};

struct Hypothesis {
    FaultFit fit;             // faults: none, one or two of the suspects
    double log_evidence = 0;  // prior included
    double probability = 0;   // among all that were weighed
};

/// A suspect that would explain the readings about as well in place of the leading one.
struct StandIn {
    int fault = 0, instead_of = 0;
    double chi_square = 0;  // what it would leave unexplained of the leading fault's effect, without noise
};

/// Noise-free chi-square under which two suspects count as not told apart: three standard deviations.
inline constexpr double told_apart = 9.0;

struct Diagnosis {
    std::vector<Fault> suspects;
    std::vector<Hypothesis> ranked;  // most probable first; pairs only where they come near the best
    std::size_t pairs_weighed = 0;
    std::vector<int> unseen;            // suspects that these readings do not show
    std::vector<StandIn> stand_ins;     // for the faults of the most probable hypothesis
    std::vector<Twins> twins;           // what no pitch or ring reading whatever can tell apart
    std::vector<Fault> in_question;     // suspects that the next reading is to tell apart
    Observability observability;        // of those by the readings taken
    std::vector<Advice> next_readings;  // best first
    double nothing_chi_square = 0;      // of the readings against the head as described
    std::size_t readings = 0;
    Priors priors;

    const Hypothesis& best() const { return ranked.front(); }
};

/// The head as described is taken as what was meant. Fails where a reading cannot be of this head, or the head cannot
/// take its pose.
head::Result<Diagnosis> diagnose(const head::Head& head, const Readings& readings,
                                 const DiagnosisOptions& options = {});

/// What to do about a fault of a size.
struct Correction {
    std::string part;                        // scene path of what is to be set
    std::string words;                       // "shorten upper link 2 by 3 half turns"
    std::optional<double> change_mm, turns;  // of a link: longer positive; turns of its turnbuckle or of one end
};

/// A link goes back by its error. A pitch arm or blade that is off is best replaced; its change is what its upper link
/// would have to take to hide it at mid stick.
Correction correction(const Fault& fault, double size, const head::Head& head);

Answer answer(const Diagnosis& diagnosis, const head::Head& head);

}  // namespace swashwright::studies
