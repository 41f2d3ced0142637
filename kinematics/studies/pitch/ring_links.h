// Which lower links, by how much, bring the ring to a place wanted, or to heights read at it? Newton's method on the
// whole head, so what comes out is exact there. Sticks centred, blade 1 where it is asked about.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

inline constexpr double most_link_change_mm = 5;  // more is no error of a link: a guess, common practice, no source

/// Something that is read of a head with some of its links changed, mm each, and how it goes with the ring: a column
/// each for its height (mm), its tilt forward and its tilt to the right (deg).
struct RingReading {
    std::function<head::Result<Eigen::VectorXd>(const head::Head&)> read;
    Eigen::MatrixXd by_ring;
};

/// The head with its lower links longer by so much, mm each, in errors.
head::Result<head::Head> with_lower_links(const head::Head& head, const Eigen::VectorXd& longer_mm);

/// A column for each lower link, mm: what height (mm), tilt forward and tilt right (deg) do with it, exact at mid
/// stick.
head::Result<Eigen::MatrixXd> ring_by_lower_links(const head::Head& head);

/// How much longer each lower link must be for `reading` to come to `wanted`, least squares on the readings, and where
/// several sets of links do it the one of least changes. Fails where lower links do not rule height and tilt, or where
/// one would have to change by more than `most_link_change_mm`.
head::Result<Eigen::VectorXd> links_for(const head::Head& head, const RingReading& reading,
                                        const Eigen::VectorXd& wanted);

/// The ring's own height (mm), tilt forward and right (deg) as a reading.
RingReading ring_place();

}  // namespace swashwright::studies
