// The live values that every panel shows: worked out once whenever the scene or the controls change.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/live/sentence.h"
#include "kinematics/studies/pitch/turn_curve.h"
#include "viewer/document/document.h"

namespace swashwright::panels {

/// Angles (deg) of levers that a hand has moved, by their index; the others stand at their neutral.
using Hands = std::map<int, double>;

struct Controls {
    head::Sticks sticks;
    Hands hands;
    double azimuth_deg = 0;  // of the rotor, [0, 360)
    bool turning = false;
    double turn_rpm = 6;  // of the slow-motion turn
};

/// A head and a pose that belong together: what the picture shows.
struct Shown {
    head::Description description;
    head::Pose pose;
    std::uint64_t revision = 0;  // of the document when the description was taken
    head::Sticks sticks;         // for which the pose was solved, so that with the same of all it is the same pose
    double azimuth_deg = 0;      // likewise
    Hands hands = {};            // likewise
};

struct Readout {
    std::optional<head::Head> head;  // the last that could be built
    std::optional<Shown> shown;      // the last pose that closed, or the nearest fit; none if there was neither
    bool shown_is_nearest = false;   // `shown` is the nearest fit
    bool closes = false;             // the loop closes now
    bool hangs = false;              // no head comes of it now: some part hangs free, or is held rigid
    std::vector<head::Shortfall> shortfalls;  // why not
    std::optional<studies::TurnCurve> curve;  // none where the turn cannot be completed
    studies::Sentence sentence;
};

/// As `head::Head::pose` wants them.
std::vector<double> hand_angles(const head::Head& head, const Hands& hands);

/// Keeps a readout in step with a document and its controls.
class Follower {
public:
    /// True if anything was worked out anew.
    bool update(const document::Document& document, const Controls& controls,
                studies::Causes causes = studies::Causes::told);
    /// Forgets the last good pose: another scene was opened.
    void reset() { *this = Follower(); }
    const Readout& readout() const { return readout_; }

private:
    void build(const document::Document& document);
    void stand(const document::Document& document);
    void pose(const document::Document& document, const Controls& controls);

    Readout readout_;
    std::optional<head::Failure> build_failure_;
    std::uint64_t revision_ = 0;
    head::Sticks sticks_;
    Hands hands_;
    double azimuth_deg_ = 0;
    studies::Causes causes_ = studies::Causes::told;
};

}  // namespace swashwright::panels
