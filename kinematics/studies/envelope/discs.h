// How far the cyclic stick may go every way at one collective with every check kept.
#pragma once

#include <optional>
#include <stop_token>
#include <utility>
#include <vector>

#include "kinematics/studies/envelope/search.h"

namespace swashwright::studies {

/// Visits places all round at one collective and cyclic distance, with every place of what hands move.
struct Round {
    int directions = 24, azimuths = 36;
    std::vector<std::vector<double>> hand_places;

    void visit(const Envelope& in, double collective, double cyclic, const std::stop_token& stop,
               const auto& work) const {
        for (const auto& hand_deg : hand_places)
            for (int d = 0; d < directions && !stop.stop_requested(); ++d)
                for (int a = 0; a < azimuths; ++a)
                    work(Point{collective, cyclic, 360.0 * d / directions, 360.0 * a / azimuths, hand_deg}.place(in), d,
                         a);
    }
};

class DiscFinder {
public:
    /// `in`: its map, and its worst values as far as they are known. `opens`: of each cell, one place where a loop does
    /// not close. `steps`: of searches.
    DiscFinder(const Envelope& in, const std::vector<std::optional<Place>>& opens, const Round& round,
               const Point& steps, std::stop_token stop)
        : in_(in), opens_(opens), round_(round), steps_(steps), stop_(std::move(stop)) {}

    Disc largest(Probe& probe, std::size_t collective_index) const;

private:
    std::size_t cell(std::size_t c, std::size_t r) const { return c * in_.cyclic.size() + r; }
    bool cannot_fail(std::size_t k) const;
    bool keeps(Probe& probe, std::size_t k, double collective, double cyclic, const Place& near) const;
    std::optional<std::pair<std::size_t, Place>> failing(Probe& probe, double collective, double cyclic) const;

    const Envelope& in_;
    const std::vector<std::optional<Place>>& opens_;
    const Round& round_;
    const Point& steps_;
    std::stop_token stop_;
};

}  // namespace swashwright::studies
