// What a builder reads at the bench with a pitch gauge or a calliper, and what a head should have shown instead.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/diagnosis/faults.h"

namespace swashwright::studies {

/// A pitch gauge on one blade.
struct PitchReading {
    int blade = 0;  // from 0
    head::Sticks sticks;
    double azimuth_deg = 0;  // rotor azimuth psi: blade 1's, 0 over the tail, growing in the direction of rotation
    double reading_deg = 0;  // leading edge up positive
    double uncertainty_deg = 0.1;  // one standard deviation; common practice, no source
};

/// Where on the inner ring a height is taken: at the centre of a ball, or on the plane of the ring through its tilt
/// centre at a place round the shaft.
struct RingHeightReading {
    std::optional<int> ball;  // inner ball, from 0
    double azimuth_deg = 0;   // without a ball: from the nose, positive anticlockwise seen from above
    double radius_mm = 0;     // without a ball: from the shaft axis
    head::Sticks sticks;
    double reading_mm = 0;        // above the head frame's origin
    double uncertainty_mm = 0.1;  // one standard deviation; common practice, no source
};

/// What shows 0 on the gauge. Level: the bench or a spirit level, so a shaft that leans shows in every reading. Shaft:
/// the shaft or hub, so it does not. Blade: the blade itself at mid stick, so only differences are read.
enum class ZeroedOn { level, shaft, blade };

/// One number for all pitch readings of a sitting: the gauge's zero, or the model's stand.
struct Gauge {
    std::optional<ZeroedOn> zeroed_on = {};  // not said: taken as the shaft
    double zero_within_deg = 0.3;  // one standard deviation; 0 where it was checked. Common practice, no source
    double lean_within_deg = 1.0;  // of a shaft on its stand, each way; only where zeroed on level. As above
};

struct Readings {
    std::vector<PitchReading> pitch;
    std::vector<RingHeightReading> ring_height;
    Gauge gauge = {};
    std::shared_ptr<const Readings> before = {};  // of the same head when all was well: how it was built

    std::size_t size() const { return pitch.size() + ring_height.size(); }
};

/// Why these readings cannot be of this head: a blade or ball that it does not have, a number that is not finite, no
/// reading at all. Empty if they can.
std::string mistake(const Readings& readings, const head::Description& description);

/// Readings as the head should show them, each over its own uncertainty: pitch first, then ring heights.
struct Expected {
    Eigen::VectorXd value;
    Eigen::MatrixXd slopes;  // by the size of each fault, per its unit; a column of zeros for one that has no size
};

/// Which rows: one for each reading; or every blade, from the first, at each pitch reading's pose, then ring heights.
enum class RowsOf { readings, every_blade };

/// None where the head cannot take one of the poses, or stands at a dead point there. `numbers`: those of a description
/// with the same parts, as listing them is slow; needed only where there are faults.
std::optional<Expected> expected(const head::Head& head, const Readings& readings, std::span<const Fault> faults,
                                 const std::vector<head::Number>& numbers, RowsOf rows = RowsOf::readings);
/// The same by anything that moves numbers of the head.
std::optional<Expected> expected_along(const head::Head& head, const Readings& readings,
                                       std::span<const std::vector<std::pair<head::Number, double>>> rates,
                                       RowsOf rows);
/// The same with the head's own numbers.
std::optional<Expected> expected(const head::Head& head, const Readings& readings, std::span<const Fault> faults);

/// What was read, over the uncertainties, in the same order.
Eigen::VectorXd observed(const Readings& readings);

}  // namespace swashwright::studies
