// Where in the whole stick envelope does each check come nearest to its bounds, and how much cyclic keeps them all?
#pragma once

#include <atomic>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <stop_token>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/envelope/check.h"
#include "kinematics/studies/envelope/hands.h"

namespace swashwright::studies {

/// A place in the envelope: sticks, the rotor's azimuth in deg, and where each part that a hand moves stands.
struct Place {
    head::Sticks sticks;
    double azimuth_deg = 0;
    std::vector<double> hand_deg = {};
};

struct Envelope;

/// The sweep: collective from -1 to 1, cyclic stick by how far out it is (0 to 1 at the edge of its circle or square)
/// and direction, azimuth; of a tail the rudder in place of the collective. All of that with every part that a hand
/// moves at neutral and at its ends. Steps are intervals, at least 1; a check's true extreme is then sought between
/// them.
struct EnvelopeOptions {
    int collective_steps = 10, cyclic_steps = 4, directions = 24, azimuths = 36;
    bool refine = true;
    int workers = 0;  // 0: as many as there are cores
    std::stop_token stop = {};
    std::atomic<int>* percent = nullptr;  // how far it is, for a progress bar
    /// Called with what is known so far: first the whole map with worst values of the sweep, then as `Extreme::within`
    /// comes down, each time whole and true as far as it says. By one thread at a time, not always the caller's.
    std::function<void(const Envelope&)> so_far = {};
};

/// The least margin of one check over the envelope, and where.
struct Extreme {
    double value = 0;   // in the check's unit
    double margin = 0;  // negative where the check fails
    Place place;
    /// By how much at most the true least margin lies below this one; infinite where that is not known.
    double within = std::numeric_limits<double>::infinity();
};

/// How far the cyclic stick may go every way at one collective with every check kept.
struct Disc {
    std::optional<double> cyclic;      // 0 to 1; none where not even the centred stick keeps them
    std::optional<std::size_t> check;  // the one that ends it; none where a loop opens or the stick's own limit is met
    bool opens = false;                // a loop opens there
};

struct Envelope {
    std::vector<Check> checks;
    std::vector<Extreme> worst;  // of each check, true extremes if refined

    // The map: one cell for each collective and each way out of the cyclic stick. Of a tail `collective` is the rudder,
    // and only the cells of cyclic 0 are inside.
    std::vector<double> collective, cyclic;
    /// Of each check: [collective * cyclic.size() + cyclic], of the sweep; a worst place between is told in the
    /// nearest.
    std::vector<std::vector<Extreme>> cells;
    /// False in cells that the combined stick's limit leaves out.
    bool inside(std::size_t collective_index, std::size_t cyclic_index) const;
    head::Kind kind = head::Kind::main;
    head::Mixing mixing;  // what the sticks may do
    std::vector<Hand> hands;
    std::vector<bool> open;  // of each cell: somewhere in it a loop does not close

    std::vector<Disc> discs;  // of each collective; empty unless refined, and of a tail

    /// Where a loop opens, nearest to centred sticks as swept; and the sentence about it.
    std::optional<Place> opens;
    std::string opens_message;

    std::size_t poses = 0;  // solved
};

/// The check that comes nearest to its bound in one cell: its margin in shares of what counts as close (below 0 fails,
/// below 1 is close), cut to -2..3; -2 and no check where a loop opens, 3 where there is nothing to check.
struct Nearest {
    double share = 3;
    std::optional<std::size_t> check;
};
Nearest nearest(const Envelope& envelope, std::size_t collective_index, std::size_t cyclic_index);

/// The families of checks to keep: each is cloned for every worker.
using Checkers = std::vector<std::unique_ptr<Checker>>;

/// Fails if the head has no pose at neutral, or if it was stopped ("stopped").
head::Result<Envelope> envelope(const head::Head& head, const Checkers& checkers, const EnvelopeOptions& options = {});

/// A margin in shares of what counts as close, so that margins in different units compare.
double share_of_close(const Check& check, double margin);

/// Kept as far as was seen, but known too loosely to say that it is.
inline bool may_fail(const Extreme& worst) {
    return worst.margin >= 0 && worst.margin - worst.within < 0;
}

enum class CheckState { pass, close, fail };
CheckState state_of(const Check& check, double margin);
/// "pass", "close" or "fail".
const char* state_word(const Check& check, double margin);

}  // namespace swashwright::studies
