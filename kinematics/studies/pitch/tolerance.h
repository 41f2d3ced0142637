// How far apart do heads come out that are measured and set with so much care? Spread of pitch and split.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"

namespace swashwright::studies {

/// A number that may be off by up to `plus_minus` either way, every value alike likely, and independently of all
/// others. Standard deviation: plus_minus over the root of 3 (JCGM 100:2008, 4.3.7).
struct Tolerance {
    head::Number number;
    double plus_minus = 0;  // mm or deg
};

/// Calliper and gauge practice (common practice, no source): lengths of links and horns within 0.1 mm, pitch arms and
/// balls of machined parts within 0.05 mm, pivots and hub within 0.2 mm, horn neutrals within 0.5 deg, all other angles
/// within 0.2 deg.
double usual_tolerance(const head::Number& number);
/// Of every number that someone measures or sets; what the transmitter holds (mixing) is exact.
std::vector<Tolerance> usual_tolerances(const head::Description& description);

struct ToleranceRequest {
    head::Sticks sticks;
    std::vector<Tolerance> tolerances;
    int samples = 10'000;
    std::uint64_t seed = 1;
    int workers = 0;                              // 0: as many as the machine has cores
    std::optional<double> wanted_split_deg = {};  // above 0; to be kept by 95 of 100 heads drawn
};

/// Of a quantity over many heads.
struct Spread {
    double nominal = 0;
    double linear = 0;           // standard deviation by exact slopes
    double sampled = 0;          // standard deviation over the samples
    double worst = 0;            // all tolerances at their ends, by exact slopes
    double least = 0, most = 0;  // met in the samples
};

/// What one tolerance adds.
struct Share {
    Tolerance tolerance;
    double pitch_deg = 0;  // standard deviation that it alone gives: of the blade that it moves most
    double split_deg = 0;  // of the difference of two blades, root mean square over the pairs
    double of_split = 0;   // share of the variance of that, 0 to 1
    double tightened = 0;  // plus/minus needed for the wanted split; as it is if it may stay
};

struct ToleranceStudy {
    ToleranceRequest request;
    head::Kind kind = head::Kind::main;
    std::vector<Spread> pitch_deg;  // of each blade's mean over a turn
    Spread split_deg;               // largest mean less least; `linear`, `sampled`: standard deviations
    double split_95_linear = 0;     // not passed in 95 of 100 heads: linear model, same draws
    double split_95 = 0;            // and on the real linkage
    double split_95_tightened = 0;  // the same with the tightened tolerances, heads that cannot be assembled taken to
                                    // lie beyond; 0 if nothing was wanted or they are too many
    std::vector<Share> shares;      // largest share of the split first
    int failed = 0;  // heads that cannot be assembled, all round the turn or in part of it: left out of all the above
    int failed_tightened = 0;
    /// Share of all heads drawn that can be assembled and keep the wanted split, 0 to 1.
    double keeping = 0, keeping_tightened = 0;

    bool held() const { return keeping >= 0.95; }
    bool held_tightened() const { return keeping_tightened >= 0.95; }
};

/// Every sample is a head of its own, under the transmitter as it was set up for the head described, solved on the real
/// linkage all round a turn. The same seed gives the same figures whatever the number of workers. Fails where the head
/// cannot be posed as described, or when stopped.
tl::expected<ToleranceStudy, std::string> tolerance(const head::Head& head, const ToleranceRequest& request,
                                                    const Going& going = {});

/// At most `rows` of the tolerances; 0 for all.
Answer answer(const ToleranceStudy& study, std::size_t rows = 0);

}  // namespace swashwright::studies
