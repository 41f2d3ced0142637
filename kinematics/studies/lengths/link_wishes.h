// What a builder wants of a head before links are cut, as residuals with exact slopes.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"

namespace swashwright::studies {

struct Wishes {
    bool level_ring = true;             // at neutral
    std::optional<double> height_mm{};  // of the tilt centre at neutral; the scene's neutral height if not given
    bool zero_pitch = true;             // of every blade at mid stick (a tail: centred rudder), all round the turn
    std::optional<double> pitch_deg{};  // in place of zero; `link_lengths` fills in a tail's pitch as drawn
    bool square_horns = false;          // at neutral, each horn at right angles to its link
    std::optional<std::array<double, 2>>
        range_deg{};  // mean pitch of every blade at collective (a tail: rudder) -1 and +1
};

enum class WishKind { height, level, pitch, square, range, misfit };

/// One row of the least squares. `weight` says how much a unit of this row counts against a degree of pitch.
struct WishRow {
    WishKind kind = WishKind::pitch;
    int index = 0;  // blade or servo, from 0; misfit: block of the linkage
    int place = 0;  // level: 0 forward, 1 right; pitch: which azimuth; range: 0 low, 1 high; misfit: row of its block
    double weight = 1;
};

/// The rows that the wishes come to on this head. Pitch is asked for at six azimuths evenly round the turn: they fix
/// its mean and its first two harmonics, and together they weigh as one. Where links or pins are too many, that they
/// fit at mid stick (rotor at 0) is wished along with whatever else is.
std::vector<WishRow> wish_rows(const head::Description& description, const Wishes& wishes);

/// Deviations from the wishes, row by row, unweighted: deg, mm for height and misfit.
struct WishValues {
    Eigen::VectorXd off;
    Eigen::MatrixXd slopes;  // rows by numbers: per mm or deg of each
};

/// Evaluates the rows on the real linkage; slopes by the given numbers. None where the head cannot be posed or stands
/// at a dead point.
std::optional<WishValues> wish_values(const head::Head& head, const Wishes& wishes, std::span<const WishRow> rows,
                                      std::span<const head::Number> numbers);

}  // namespace swashwright::studies
