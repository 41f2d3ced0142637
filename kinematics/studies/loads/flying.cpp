#include "kinematics/studies/loads/flying.h"

#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/pitch/air.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {

namespace {

constexpr std::size_t most_airs = 500;  // kept: a stick that is dragged makes one a frame
constexpr int mean_samples = 6;         // of a turn: cyclic is centred, so what swings is little

}  // namespace

FlyingOptions usual_flight(const head::Description& description, std::optional<double> head_speed_rpm,
                           std::optional<double> coning_deg) {
    FlyingOptions out;
    out.head_speed_rpm = head_speed_rpm.value_or(description.rotor.head_speed_rpm);
    out.density = air_density(description.flight);
    out.coning_deg = coning_deg;
    return out;
}

Flying::Flying(const head::Head& head, const FlyingOptions& options)
    : solver_(head), options_(options), blade_(load_blade(head.description())), balance_(head, options.give) {
    for (const head::Grip& grip : head.description().grips) {
        MassMoments& sum = weights_.emplace_back();
        for (const head::BalanceWeight& weight : grip.weights) sum += mass_moments(weight);
    }
    moments_.resize(weights_.size());
    grip_nmm_.resize(weights_.size());
}

double Flying::cone(const Hover& air) const {
    return head().description().rotor.precone_deg * degree + air.coning;
}

const Hover& Flying::air(const head::Sticks& sticks) {
    const head::Description& d = head().description();
    const double stick = is_tail(d) ? sticks.rudder : sticks.collective;
    if (const auto known = airs_.find(stick); known != airs_.end()) return known->second;
    double sum = 0;
    int poses = 0;
    for (const double azimuth : turn_azimuths(mean_samples)) {
        if (!solver_.pose(main_stick_at(d, stick), azimuth)) continue;
        for (int k = 0; k < d.rotor.blades; ++k, ++poses) sum += solver_.pitch_deg(k);
    }
    const double mean = poses > 0 ? sum / poses * degree : 0;
    Hover air = hover(blade_, d.rotor.blades, mean, options_.density, options_.head_speed_rpm * pi / 30,
                      d.rotor.precone_deg * degree);
    if (options_.coning_deg) air.coning = *options_.coning_deg * degree;
    if (airs_.size() >= most_airs) airs_.clear();
    return airs_.emplace(stick, air).first->second;
}

std::optional<Balance> Flying::at(const head::Sticks& sticks, double azimuth_deg) {
    const Hover& here = air(sticks);
    if (!solver_.pose(sticks, azimuth_deg)) return std::nullopt;
    const std::vector<head::Grip>& grips = head().description().grips;
    for (std::size_t k = 0; k < moments_.size(); ++k) {
        const double pitch = solver_.pitch_deg(static_cast<int>(k));
        moments_[k] = blade_moment(blade_, weights_[k], here, pitch * degree,
                                   (pitch - grips[k].pitch_offset_deg) * degree, cone(here));
        grip_nmm_[k] = 1000 * moments_[k].total();
    }
    return balance_.at(solver_.workspace(), grip_nmm_);
}

}  // namespace swashwright::studies
