// Is the ring level? The heights that a calliper reads for it, what turning the rotor shows, what a tenth of a
// millimetre does, and what heights that were read tell: which lower link to turn, and by how much.
//
// All heights are along the shaft, in mm above the face that the scene names (`[measure_from]`), or above the scene's
// zero height where it names none. Sticks centred unless said otherwise.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// Where heights are read.
enum class ReadAt {
    ball_tops,  // of the inner ring's balls, rotor anywhere
    face,       // the inner ring's lower face, beneath each inner ball; the scene must give `lower_face_mm`
    outer_ball  // top of outer ball 1, the rotor turned until it stands over each inner ball
};

struct RingRequest {
    head::Sticks sticks;  // one more position to tell heights at
    double lean_deg = 1;  // a lean whose signs are told, towards the nose; above 0 to 10
    ReadAt read_at = ReadAt::ball_tops;
    std::vector<std::optional<double>> seen_mm = {};  // heights read, one an inner ball; empty: none were
    double doubt_mm = 0.1;  // standard deviation of a height read; a depth rod by hand: common practice, no source
};

/// One inner ball in a pose.
struct RingBall {
    std::string part, words;  // "inner ball 1 (servo left)"
    double centre_mm = 0, top_mm = 0;
    std::optional<double> face_mm = {};  // the ring's lower face beneath it
    double level_top_mm = 0;             // on a level ring: at mid stick in the scene's place, else in the pose's
};

struct RingPlace {
    std::string words;  // "mid stick"
    head::Sticks sticks;
    double height_mm = 0;  // of the tilt centre
    double tilt_deg = 0, lowest_azimuth_deg = 0;
    std::vector<RingBall> balls;
};

/// One stop of the rotor: on a level ring `outer_top_mm` is the same at all, and so is `pitch_deg`.
struct RotorStop {
    std::string words;  // "blade 1 over the tail", "outer ball 1 over inner ball 2"
    double azimuth_deg = 0;
    std::optional<double> outer_top_mm;  // of outer ball 1; none where there is none
    double pitch_deg = 0;                // of blade 1
};

/// What a ring that leans so shows, highest less lowest.
struct LeanShows {
    double lean_deg = 0;
    double inner_mm = 0;             // between the inner balls
    std::optional<double> outer_mm;  // outer ball 1 through a turn
    double pitch_deg = 0;            // blade 1 through a turn
};

/// What 0.1 mm more of a link does to the ring.
struct RingLink {
    std::string part, words;
    double height_mm = 0, tilt_deg = 0, lowest_azimuth_deg = 0;
};

/// One height that was read, against the ring that fits them best.
struct SeenHeight {
    std::string part, words;
    double seen_mm = 0, fitted_mm = 0, level_mm = 0;
};

struct LinkTurn {
    std::string part, words;
    double exact_mm = 0;  // longer for a level ring at the scene's height
    int steps = 0;        // as it can be set
    double change_mm = 0, turns = 0;
    std::string set;  // "2 half turns longer"
};

/// What the heights tell. Plus/minus are 95 %.
struct SeenRing {
    double tilt_deg = 0, plus_minus_deg = 0, lowest_azimuth_deg = 0;
    double height_mm = 0, plus_minus_mm = 0;  // of the tilt centre, above the scene's
    bool leans = false;                       // by more than the readings' doubt can make, at 95 %
    bool stands_off = false;                  // the same of its height
    double least_shown_deg = 0;               // a lean of this much would show
    bool fits = true;                         // the heights are those of one ring, within their doubt
    std::vector<SeenHeight> heights;
    std::vector<LinkTurn> turns;
    double left_tilt_deg = 0, left_mm = 0;  // with these settings made, solved again
};

struct Ring {
    std::string face;               // "the top of the bearing block"
    bool face_given = false;        // in the scene
    bool tilts = true;              // a tail's slider does not
    std::vector<RingPlace> places;  // mid stick first, then both ends, then the sticks asked for if they are others
    std::vector<std::string> out_of_reach;  // ends at which the links no longer reach
    std::vector<RotorStop> stops;           // none of a tail
    std::optional<LeanShows> lean;          // none where lower links do not rule the ring
    std::vector<RingLink> links;            // each that moves it
    std::optional<SeenRing> seen;
};

/// Fails where a pose does not close, and where heights were read that cannot be such.
head::Result<Ring> ring(const head::Head& head, const RingRequest& request = {});

Answer answer(const Ring& ring, const RingRequest& request);

}  // namespace swashwright::studies
