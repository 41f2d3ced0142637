// A check's least margin near a place of the envelope.
#pragma once

#include <limits>
#include <optional>

#include "kinematics/studies/envelope/polar.h"
#include "kinematics/studies/envelope/probe.h"

namespace swashwright::studies {

/// A pattern search: steps along each coordinate, and direction with azimuth both ways since blades see their
/// difference; halved when none helps. A step that gains next to nothing is none (sufficient decrease: Kolda, Lewis and
/// Torczon, SIAM Review 45, 2003): on ridges that are nearly level, as those of parts nearly alike, the search would
/// creep along for ever.
class Search {
public:
    /// `held`: collective and cyclic stay as they are. `until`: it ends where the margin is below that.
    Search(Probe& probe, std::size_t check, const Envelope& in, bool held, int halvings = 12,
           double until = -std::numeric_limits<double>::infinity())
        : probe_(probe), check_(check), in_(in), held_(held), halvings_(halvings), until_(until) {}

    /// None where `start` does not close.
    std::optional<Extreme> from(Point start, const Point& steps);

private:
    /// None also where the margin is above `enough`, as far as that is noticed.
    std::optional<Extreme> at(Point p, double enough);

    Probe& probe_;
    std::size_t check_;
    const Envelope& in_;
    bool held_;
    int halvings_;
    double until_;
    Point reached_;
};

}  // namespace swashwright::studies
