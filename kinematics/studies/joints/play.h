// How much pitch does the play in the ball links let through, and which links let most of it through?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/pitch/harmonics.h"

namespace swashwright::studies {

struct PlayOptions {
    head::Sticks sticks;
    std::optional<double> azimuth_deg;  // none: around the turn
    std::optional<double> play_mm;      // radial, in every ball link, in place of the links' own
};

/// Of one link: its two ball links together. By linear theory; rms over the azimuths looked at.
struct PlayShare {
    std::string part;  // scene path: "upper_link[2]"
    std::string words;
    double play_mm = 0;
    std::vector<double> worst_deg;  // pitch that it lets each blade take to either side, at that blade's worst azimuth
    std::vector<double> rms_deg;
    double share_percent = 0;  // of the rms play squared, all blades together
};

struct Play {
    std::vector<double> worst_deg;  // of each blade: every ball link at its worst, to either side, at its worst azimuth
    std::vector<double> worst_azimuth_deg;  // rotor azimuth psi where that is
    std::vector<double> rms_deg;            // of each blade
    std::vector<PlayShare> shares;          // largest first
};

/// A ball link with radial play p lets its end stand anywhere within p along the link, so the link is as if longer or
/// shorter by up to p at each end. Worst: both ends of every link push the same way. Rms: each end anywhere within its
/// play, all places equally likely and independent. Fails where the loop does not close or stands at a dead point.
head::Result<Play> play(const head::Head& head, const PlayOptions& options = {});

Answer answer(const Play& play, const PlayOptions& options);

}  // namespace swashwright::studies
