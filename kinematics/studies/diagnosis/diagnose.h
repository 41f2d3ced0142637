// Which part is wrong? Every single fault and every pair among the suspects, fitted to what was read at the bench and
// ranked by how probable the readings make them; "nothing wrong" is ranked with them.
#pragma once

#include <functional>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/diagnosis/correction.h"
#include "kinematics/studies/diagnosis/fault_fit.h"
#include "kinematics/studies/diagnosis/misread.h"
#include "kinematics/studies/diagnosis/next_reading.h"
#include "kinematics/studies/diagnosis/observability.h"
#include "kinematics/studies/diagnosis/stand.h"

namespace swashwright::studies {

/// How probable before anything is read: shared evenly among all single faults, and among all pairs that are weighed. A
/// guess; common practice, no source. How often a sound head is called sound has not been measured.
struct Priors {
    double nothing = 0.40;
    double single = 0.50;
    double pair = 0.10;
    /// Of a single fault's share, that of one which scatters: with each reading free to go its own way it fits anything
    /// a little, and who reads each place once cannot tell it from readings that contradict the scene.
    double scatter = 0.1;
};

struct DiagnosisOptions {
    std::vector<FaultKind> kinds{std::begin(all_fault_kinds), std::end(all_fault_kinds)};
    bool pairs = true;
    bool advice = true;  // the next reading and what no reading can tell
    Priors priors;
    MisreadPriors misread;
};

struct Hypothesis {
    FaultFit fit;                       // faults: none, one or two of the suspects; sizes are of the likeliest account
    double log_evidence = 0;            // prior included, summed over what may be misread
    double probability = 0;             // among all that were weighed
    Eigen::VectorXd chance_wrong = {};  // of each reading, with these faults: pitch first, then ring heights
    /// Of the most probable few, else none:
    Stand stand = {};
    std::vector<Misread> misread = {};         // of its likeliest account; empty: all readings stand as they are
    std::vector<Correction> corrections = {};  // of each fault; of the most probable few, else none
};

/// As many of them are worth a look.
inline constexpr std::size_t most_explanations = 8;

/// In place of a suspect: no part at all, but the gauge's zero and the shaft's lean.
inline constexpr int the_stand = -1;

/// A suspect that would explain the readings about as well in place of the leading one. Where nothing wrong leads,
/// `instead_of` is `the_stand`: a fault that these readings would show if zero and lean were known, and do not show as
/// it is.
struct StandIn {
    int fault = 0, instead_of = 0;    // suspects, or `the_stand`
    double chi_square = 0;            // what it would leave unexplained of the leading fault's effect, without noise
    bool told_by_shaft = false;       // the same readings would tell it with the gauge zeroed on the shaft
    bool told_by_known_zero = false;  // and with its zero checked as well
};

/// Noise-free chi-square under which two suspects count as not told apart: three standard deviations.
inline constexpr double told_apart = 9.0;

/// What one reading says beside what the most probable explanation expects.
struct CheckedReading {
    double read = 0, expected = 0;          // deg or mm; the gauge's zero and the lean included
    double chance_wrong = 0;                // over all explanations
    Misreading how = Misreading::anything;  // the likeliest way, if it is wrong
    int blade = -1;                         // whose it is then, if taken on another
};

/// Chance from which a reading is worth taking again.
inline constexpr double doubted = 0.5;

/// What settles most: one more reading, the same readings with the gauge zeroed on the shaft, a doubtful reading taken
/// again, or one repeated to see whether it stays (a part whose effect is never twice the same).
struct NextStep {
    enum class What { none, read_on, zero_on_shaft, take_again, repeat };
    What what = What::none;
    std::size_t reading = 0;  // to be taken again or repeated: pitch first, then ring heights, from 0
    double gain = 0;          // nats; of `read_on` and `zero_on_shaft`
};

struct Diagnosis {
    std::vector<Fault> suspects;
    std::vector<Hypothesis> ranked;  // most probable first; pairs only where they come near the best
    std::size_t pairs_weighed = 0;
    std::vector<int> unseen;         // suspects that these readings do not show: less sure than they are usually large
    std::vector<StandIn> stand_ins;  // for the faults of the most probable hypothesis
    double told_alike = 0;           // probability of all explanations that name a part of the best or of a stand-in
    std::vector<Twins> twins;        // what no pitch or ring reading whatever can tell apart
    std::vector<Fault> in_question;  // suspects that the next reading is to tell apart
    Observability observability;     // of those by the readings taken
    std::vector<Advice> next_readings;  // best first
    NextStep next_step;
    std::vector<CheckedReading> checked;  // each reading: pitch first, then ring heights
    double nothing_chi_square = 0;        // of the readings against the head as described
    std::size_t readings = 0;
    Gauge gauge;
    double described_within_deg = 0;  // see stand.h; with advice, and without readings from before
    bool has_before = false;          // readings from before made the prior
    Priors priors;
    MisreadPriors misread;
    head::Kind kind = head::Kind::main;

    const Hypothesis& best() const { return ranked.front(); }
};

/// The head as described is taken as what was meant; what readings from before say of how it was built goes with it.
/// Fails where a reading cannot be of this head, or the head cannot take its pose, or when stopped. `so_far` takes what
/// can be said before pairs of faults are weighed, and without advice.
head::Result<Diagnosis> diagnose(const head::Head& head, const Readings& readings, const DiagnosisOptions& options = {},
                                 const Going& going = {}, const std::function<void(const Diagnosis&)>& so_far = {});

/// Readings whose chance to be wrong is above `doubted`, the most doubtful first.
std::vector<std::size_t> readings_to_take_again(const Diagnosis& diagnosis);

/// `readings`: those that were diagnosed.
Answer answer(const Diagnosis& diagnosis, const Readings& readings);

}  // namespace swashwright::studies
