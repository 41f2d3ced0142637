// What must servos, links and levers hold in flight, are the servos strong and fast enough, and how far do blades give
// way?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/joints/stiff.h"
#include "kinematics/studies/loads/flying.h"

namespace swashwright::studies {

struct LoadsOptions {
    head::Sticks sticks;                   // one more place to look at
    std::optional<double> head_speed_rpm;  // in place of the description's
    std::optional<double> coning_deg;      // in place of what the flap balance gives
    double usable_share = 0.5;    // of the rated torque that a servo may be asked for; common practice, no source
    std::optional<double> volts;  // at the servos, in place of the rated voltage
    double full_stick_s = 0.15;   // wanted from one end of a stick to the other; common practice, no source
    double ball_nmm = 1.0, bearing_nmm = 0.5;  // friction, as `stiff` has it
    Give give = FlyingOptions{}.give;
};

struct LoadPlace {
    head::Sticks sticks;
    double azimuth_deg = 0;
};

/// The largest of something over all sticks and azimuths, and where.
struct Peak {
    double value = 0;
    LoadPlace place;
};

/// What turns blade 1 at one position of the main stick, cyclic centred, blade 1 over the tail.
struct BladeRow {
    double stick = 0, pitch_deg = 0, coning_deg = 0;  // coning above the precone
    BladeMoment moment;                               // N m
    double doubt_nm = 0;
};

/// A horn's own moments are those that its servo must hold, positive where it must raise what it moves, N mm.
struct HornLoad {
    Peak peak;  // by size, without friction
    /// At the sticks of the peak, over the turn: the mean, the part that swings once, and the most that is left of a
    /// sample when both are taken out.
    double steady_nmm = 0, once_nmm = 0, more_nmm = 0;
    double friction_nmm = 0;           // there, worst of the turn, without load; centred where the turn does not close
    double here_nmm = 0;               // largest by size at the sticks asked for
    double holds_nmm() const;          // peak and friction together, as a size
    std::optional<double> usable_nmm;  // share of the rated torque at the voltage; none where it is not rated
    std::optional<double> margin() const;  // usable over held; none where nothing is held or nothing is rated

    double travel_deg = 0;                   // of the horn, from end to end of the stick that moves it farthest
    std::optional<double> free_s, loaded_s;  // for that travel; none where it is not rated, or stalls
};

struct LinkLoad {
    head::PartId part;
    Peak pull, push;                          // N; 0 where it is never pulled or pushed
    double here_pull_n = 0, here_push_n = 0;  // most at the sticks asked for
};

struct LeverLoad {
    std::string part, words;
    Peak moment;  // N mm, what links put on it one way: as much holds it the other way
};

/// How far blade 1 gives way, over the turn.
struct GiveRow {
    head::Sticks sticks;
    double pitch_deg = 0, give_deg = 0;        // mean pitch, and what comes to it: minus where the blade goes flat
    double swing_deg = 0, swing_give_deg = 0;  // amplitude once a turn, and by how much it changes
};

struct Loads {
    LoadsOptions options;
    LoadBlade blade;
    double head_speed_rpm = 0, density = 0;
    bool weights = false;  // any on a grip
    std::vector<BladeRow> blades;
    std::vector<HornLoad> horns;
    std::vector<LinkLoad> links;
    std::vector<LeverLoad> levers;  // horns are not among them
    std::vector<GiveRow> gives;
    double doubt_share =
        0;                // of the loads, by what is guessed of the blades: at the end of the main stick that is worst
    bool shared = false;  // something is held more often than needed, so forces are shared as springs share them
    long places = 0, open = 0;  // looked at; those of them that do not close
};

/// A quasi-steady balance: rigid blades in hover, the disc not yet tilted by cyclic. Peaks are sought on a grid over
/// the sticks that the transmitter lets through and the azimuth, then between its points. Fails where the head does not
/// close at neutral or stands at a dead point there, or when stopped.
head::Result<Loads> loads(const head::Head& head, const LoadsOptions& options = {}, const Going& going = {});

Answer answer(const Loads& loads, const head::Head& head);

}  // namespace swashwright::studies
