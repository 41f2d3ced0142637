// The stages of a set-up, one after the other written into one list of steps.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/studies/bench/bench_steps.h"
#include "kinematics/studies/pitch/ring.h"
#include "kinematics/studies/pitch/tracking.h"

namespace swashwright::studies {

// Common practice, no source.
inline constexpr double even_deg = 0.2;     // blades that agree so well agree: two marks of a pitch gauge
inline constexpr double shown_stick = 0.3;  // by which a servo or the ring is asked to move

/// What is read in one round: of each place the number typed, else none.
struct BenchRound {
    std::vector<std::optional<double>> typed;

    bool none() const;
    bool all() const;
};

class BenchStages {
public:
    /// Both must outlive it.
    BenchStages(const head::Head& head, const BenchReadings& read) : head_(head), read_(read) {}

    head::Result<std::vector<BenchStep>> all();

private:
    head::Result<void> servos();
    head::Result<void> level();
    head::Result<void> cyclic();
    head::Result<void> zero();
    head::Result<void> ends();
    head::Result<void> track();

    void add(BenchStep step) { out_.push_back(std::move(step)); }
    std::optional<double> ask(BenchStep step);
    /// `measured`: what was read asks for it, not the numbers of the open head.
    void turn(const std::string& stage, const head::PartName& name, int steps, double change_mm, bool measured);
    void other_cause(const std::string& stage, const std::string& say, const std::string& part);

    BenchStep collective_way(std::size_t servo, const Vec3& moved) const;
    std::string other_way(bool elevator) const;

    BenchStep height(const std::string& stage, const Ring& open, std::size_t ball, int round) const;
    head::Head after(const SeenRing& seen) const;

    std::size_t blades() const;
    /// Pitch of each blade, itself over the tail, on the head as it stands by now.
    head::Result<std::vector<double>> pitches(const head::Sticks& sticks) const;
    BenchStep gauge(const std::string& stage, std::size_t blade, const head::Sticks& sticks, const std::string& stick,
                    int round, double wanted, double as_open) const;
    std::vector<LinkSetting> to_zero(const std::vector<std::optional<double>>& read) const;
    head::Head with(const std::vector<LinkSetting>& settings) const;
    /// `as_open`: what to turn where nothing is read.
    void read_to_zero(const std::vector<double>& open_deg, const std::vector<LinkSetting>& as_open);
    BenchStep at_zero(const BenchRound& read, const std::vector<double>& open_deg) const;

    /// Both ends of the collective, read on blade 1.
    struct Ends {
        double up_deg = 0, down_deg = 0;
    };
    /// What follows from them; true where they are to be read again.
    bool tell_ends(const Ends& wanted, const Ends& read);
    double step_deg() const;
    /// Every blade was read with the sticks centred, and no link was turned since.
    bool zero_is_known() const;
    bool apart_as_at_zero(const std::vector<double>& off_deg) const;

    const head::Head& head_;
    const BenchReadings& read_;
    head::Head stand_ = head_;  // as it stands by now: links turned, level and at zero once read
    /// How far each blade was read off where it stands there at mid stick; none where its links were turned since.
    std::vector<std::optional<double>> off_deg_;
    std::vector<BenchStep> out_;
};

}  // namespace swashwright::studies
