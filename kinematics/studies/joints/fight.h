// Where more links or pins hold a part than can: how badly do they fit over the sticks, which servo fights which, and
// which length takes it away?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/joints/self_stress.h"

namespace swashwright::studies {

/// Where it is looked for: intervals or places over sticks and turn.
struct FightGrid {
    int azimuths = 12, collectives = 9, directions = 24, rings = 2, rudders = 21;
};
inline constexpr FightGrid coarse_fight{4, 3, 8, 1, 5};  // a first look

struct FightOptions {
    Give give;  // the servos' is that of `stiff`: a guess
    FightGrid grid = {};
};

/// A link, pin or driver pin that shares what does not fit, or is strained by it.
struct Fighter {
    int closure = 0;  // of the linkage
    std::string part = {}, words = {};
    bool shares = false;   // what does not fit is left over here
    bool is_link = false;  // its error and force have a sign
    double play_mm = 0;    // of a link: radial play of both its ball links together
};

/// All of it at one place of sticks and rotor.
struct FightPlace {
    head::Sticks sticks;
    double azimuth_deg = 0;
    double misfit_mm = 0;  // the largest error of those that share
    /// Of each fighter: of a link its balls' distance less its length in the best fit, so positive where it would have
    /// to stretch; of a pin its gap; of a driver pin how far it stands off its plane.
    std::vector<double> error_mm = {};
    bool rigid = false;                // nothing gives way, so the forces have no bound and are left out
    std::vector<double> force_n = {};  // of each fighter: of a link positive where it is pulled
    /// Of each servo: the moment that it holds, positive where it raises what it moves.
    std::vector<double> moment_nmm = {};
};

/// One length or trim set so that the largest misfit of the envelope is as small as it can make it.
struct Remedy {
    head::Number number;
    double change = 0;    // mm or deg
    double left_mm = 0;   // the misfit then, by solving the whole envelope again
    double tilt_deg = 0;  // of the ring at mid stick then
};

struct Fight {
    FightOptions options;
    std::vector<Fighter> fighters = {};  // none: nothing is held too often
    bool drivers_only = false;           // all that is too many are driver pins, which no servo feels
    bool turns = false;                  // the rotor's azimuth counts
    long places = 0, open = 0;           // looked at; those of them that do not close
    FightPlace worst = {}, middle = {};  // where the misfit is largest; at mid stick, of all azimuths the worst
    std::vector<Remedy> remedies = {};   // of what helps at all: best first, of equals the one that levels the ring

    /// Every link's error, everywhere, is no more than its own play: nothing is strained.
    bool within_play = false;
};

/// Fails where the head does not close at neutral or nowhere over the sticks, or when stopped.
head::Result<Fight> fight(const head::Head& head, const FightOptions& options = {}, const Going& going = {});

Answer answer(const Fight& fight, const head::Head& head);

}  // namespace swashwright::studies
