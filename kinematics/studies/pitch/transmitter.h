// How is the transmitter set for this head? The mix, the servos' order and senses, travels in percent and degrees, and
// what to set to nothing before anything is measured.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"

namespace swashwright::studies {

/// How the servos share the sticks.
enum class Mix {
    shared,     // a servo takes part in several sticks, or a stick moves several servos
    separate,   // one servo for each stick: levers do the mixing
    one_servo,  // of a tail
};
/// By the servos' weights, whether or not a stick has travel.
Mix mix_of(const head::Description& description);

/// One servo and its channel. A share is what its ball is told of a stick's travel, percent, raising positive.
struct Channel {
    std::string name, part;
    std::optional<double> azimuth_deg = {};  // of its inner ball
    std::array<std::optional<double>, 3> share =
        {};                              // collective, aileron, elevator; none where the stick has no travel
    bool against_first = false;          // its channel must run opposite to that of servo 1, servos of one make
    double least_deg = 0, most_deg = 0;  // horn about neutral, over all that the sticks can ask
    double end_percent = 0;              // the larger of both, of a channel's full travel: for both end points
};

/// A stick at full deflection, up, right or forward.
struct StickTravel {
    std::string stick;
    double horn_deg = 0;    // at a servo straight in line, raising positive
    double percent = 0;     // of a channel's full travel
    double pitch_deg = 0;   // collective, rudder: mean pitch of the blades there; cyclic: swing to either side
    bool as_wanted = true;  // up raises the pitch, right and forward tilt the disc that way; a tail: not judged
};

/// A stick on its way, and what follows.
struct StickPosition {
    std::string stick;
    double position = 0;  // -1 to 1; percent are a hundred times that
    double horn_deg = 0;  // as above
    double pulse_us = 0;  // change at that servo
    double pitch_deg = 0;
};

struct Transmitter {
    double full_us = 500;
    bool gain_given = false;  // a pulse_deg_per_us of the scene is not the usual one, so it was measured
    double deg_per_us = 0.1;  // of servo 1, in size
    Mix mix = Mix::shared;
    std::vector<double> gaps_deg;  // between the inner balls of the servos, round the ring; none where they are not its
    bool own_weights = false;      // the scene gives servos weights in place of the rule by azimuth
    std::vector<Channel> channels;
    std::vector<StickTravel> sticks;
    std::vector<StickPosition> positions;
};

/// `full_us`: by how much a channel at 100 % changes its pulse, microseconds, above 0. Fails where a full stick does
/// not close.
head::Result<Transmitter> transmitter(const head::Head& head, double full_us = 500, const Going& going = {});

/// What the figures rest on.
std::vector<std::string> transmitter_notes(const Transmitter& transmitter);
/// What to do in which order; common practice, no source.
std::vector<std::string> transmitter_steps(const head::Description& description);

Answer answer(const Transmitter& transmitter, const head::Description& description);

}  // namespace swashwright::studies
