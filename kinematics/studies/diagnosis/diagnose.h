// Which part is wrong? Every single fault and every pair among the suspects, fitted to what was read at the bench and
// ranked by how probable the readings make them; "nothing wrong" is ranked with them.
#pragma once

#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/diagnosis/correction.h"
#include "kinematics/studies/diagnosis/fault_fit.h"
#include "kinematics/studies/diagnosis/next_reading.h"
#include "kinematics/studies/diagnosis/observability.h"

namespace swashwright::studies {

/// How probable before anything is read: shared evenly among all single faults, and among all pairs that are weighed. A
/// guess; common practice, no source. How often a sound head is called sound has not been measured.
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
    FaultFit fit;                              // faults: none, one or two of the suspects
    double log_evidence = 0;                   // prior included
    double probability = 0;                    // among all that were weighed
    std::vector<Correction> corrections = {};  // of each fault; of the most probable few, else none
};

/// As many of them are worth a look.
inline constexpr std::size_t most_explanations = 8;

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
    head::Kind kind = head::Kind::main;

    const Hypothesis& best() const { return ranked.front(); }
};

/// The head as described is taken as what was meant. Fails where a reading cannot be of this head, or the head cannot
/// take its pose.
head::Result<Diagnosis> diagnose(const head::Head& head, const Readings& readings,
                                 const DiagnosisOptions& options = {});

Answer answer(const Diagnosis& diagnosis);

}  // namespace swashwright::studies
