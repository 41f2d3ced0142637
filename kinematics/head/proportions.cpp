#include "kinematics/head/proportions.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace swashwright::head {
namespace {

double finite_or(double value, double otherwise) {
    return std::isfinite(value) ? value : otherwise;
}

struct Range {
    double low, mean, high;
};

/// Of the positive finite values; all `otherwise` if there are none.
Range range_of(const std::vector<double>& values, double otherwise) {
    Range range{1e300, 0, 0};
    int count = 0;
    for (double v : values) {
        if (!std::isfinite(v) || v <= 0) continue;
        range = {std::min(range.low, v), range.mean + v, std::max(range.high, v)};
        ++count;
    }
    if (count == 0) return {otherwise, otherwise, otherwise};
    range.mean /= count;
    return range;
}

double mean_height(const std::vector<Polar>& places) {
    double sum = 0;
    for (const auto& p : places) sum += finite_or(p.height_mm, 0);
    return places.empty() ? 0 : sum / static_cast<double>(places.size());
}

/// Least distance between neighbours on a ring; `otherwise` if there are fewer than two.
double least_gap(const std::vector<Polar>& places, double otherwise) {
    double least = otherwise;
    const auto point = [](const Polar& p) {
        const double a = p.angle_deg * degree;
        return Vec3(p.radius_mm * std::cos(a), p.radius_mm * std::sin(a), p.height_mm);
    };
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const double gap = (point(places[i]) - point(places[j])).norm();
            if (std::isfinite(gap) && gap > 0) least = std::min(least, gap);
        }
    }
    return least;
}

/// Radii of the lists of places, in one list.
std::vector<double> radii(std::initializer_list<const std::vector<Polar>*> lists) {
    std::vector<double> all;
    for (const auto* list : lists) {
        for (const auto& p : *list) all.push_back(p.radius_mm);
    }
    return all;
}

void set_rings(Proportions& p, const Swashplate& plate, double inner_least, double outer_least) {
    p.plate = 0.15 * p.ring;
    p.inner_height = mean_height(plate.inner_balls);
    p.outer_height = mean_height(plate.outer_balls);
    // The plates lie at the height of their balls where there is room, else one above the other.
    const double apart = std::abs(p.outer_height - p.inner_height);
    p.plate = std::clamp(0.8 * apart, 0.09 * p.ring, p.plate);
    if (apart < 1.25 * p.plate) {
        p.outer_height = p.inner_height + (p.outer_height < p.inner_height ? -1.25 : 1.25) * p.plate;
    }
    p.sleeve_hole = 1.35 * p.shaft;
    p.sleeve = 1.85 * p.shaft;
    p.bearing = 2.3 * p.shaft;
    p.inner_base = std::max(2.4 * p.shaft, std::min(0.62 * inner_least, inner_least - 3 * p.ball));
    p.outer_base = std::max(2.75 * p.shaft, std::min(0.70 * outer_least, outer_least - 3 * p.ball));
}

void set_head(Proportions& p, const Description& d) {
    const double blades = static_cast<double>(std::max<std::size_t>(d.grips.size(), 1));
    p.spindle = 0.5 * p.shaft;
    p.hub_half_height = 1.05 * p.shaft;
    p.grip = 1.0 * p.shaft;
    // With many blades the hub grows until neighbouring grips clear each other.
    p.hub = std::max(1.9 * p.shaft, 1.25 * p.grip / std::tan(pi / std::max(blades, 3.0)));
    p.grip_start = p.hub + 0.35 * p.shaft;
    p.grip_end = p.grip_start + 3.4 * p.shaft;
    p.bolt_out = p.grip_end + 1.5 * p.shaft;
    p.fork_end = p.bolt_out + 0.9 * p.shaft;
    const double tip = finite_or(d.rotor.blade_tip_mm, 0);
    p.chord = std::clamp(0.085 * tip, 4.5 * p.shaft, 11 * p.shaft);
    p.stub_end = p.fork_end + 1.45 * p.chord;
    p.blade_end = std::clamp(tip, p.stub_end, 40 * p.stub_end);
}

/// The largest ball that the arms of levers and the gaps between their balls leave room for.
double room_on_levers(const Description& d) {
    double room = 1e300;
    for (const Lever& lever : d.levers)
        for (std::size_t i = 0; i < lever.balls_mm.size(); ++i) {
            const auto leave = [&](double share, double mm) {
                if (std::isfinite(mm) && mm > 0) room = std::min(room, share * mm);
            };
            leave(0.3, lever.balls_mm[i].head<2>().norm());
            for (std::size_t j = 0; j < i; ++j) leave(0.25, (lever.balls_mm[i] - lever.balls_mm[j]).norm());
        }
    return room;
}

/// How far down the levers on the frame, and horns that are linked to them, may reach.
double lowest_of_levers(const Description& d, const Proportions& p) {
    double low = 1e300;
    for (const Lever& lever : d.levers) {
        if (lever.on.on != Carrier::On::frame) continue;
        double arm = 0;
        for (const Vec3& ball : lever.balls_mm) arm = std::max(arm, finite_or(ball.head<2>().norm(), 0));
        const double level = lever.axis.norm() > 0 ? lever.axis.normalized().head<2>().norm() : 1.0;
        low = std::min(low, finite_or(lever.pivot_mm.z(), low) - arm * level - 3 * p.ball);
    }
    if (low < 1e300)
        for (const Servo& servo : d.servos)
            low = std::min(low, finite_or(pivot_point(servo.pivot_mm).z() - servo.horn_mm, low) - 3 * p.ball);
    return low;
}

/// How far up the shaft the levers stand that turn with it.
double highest_of_levers(const Description& d) {
    double high = -1e300;
    for (const Lever& lever : d.levers)
        if (lever.on.on == Carrier::On::hub) high = std::max(high, finite_or(lever.pivot_mm.z(), high));
    return high;
}

}  // namespace

Proportions proportions_of(const Description& d) {
    Proportions p{};
    const Range inner = range_of(radii({&d.swashplate.inner_balls}), 25);
    const Range outer = range_of(radii({&d.swashplate.outer_balls, &d.swashplate.driver_pins}), inner.mean);
    p.ring = std::clamp(std::sqrt(inner.mean * outer.mean), 1e-2, 1e4);

    std::vector<double> links, horns;
    for (const auto& link : d.lower_links) links.push_back(link.actual_mm());
    for (const auto& link : d.upper_links) links.push_back(link.actual_mm());
    for (const auto& link : d.links) links.push_back(link.actual_mm());
    for (const auto& servo : d.servos) horns.push_back(servo.horn_mm);
    const Range link = range_of(links, p.ring), horn = range_of(horns, 0.6 * p.ring);
    const double gap =
        std::min(least_gap(d.swashplate.inner_balls, p.ring), least_gap(d.swashplate.outer_balls, p.ring));
    p.ball = std::max(std::min({0.09 * p.ring, 0.22 * gap, 0.12 * link.low, 0.22 * horn.low}), 0.01 * p.ring);
    p.ball = std::max(std::min(p.ball, room_on_levers(d)), 0.01 * p.ring);
    p.shaft = 0.19 * std::max(std::min({inner.low, outer.low, p.ring}), 0.1 * p.ring);
    p.horn = std::clamp(horn.mean, 0.15 * p.ring, 3 * p.ring);

    set_rings(p, d.swashplate, inner.low, outer.low);
    set_head(p, d);

    const double neutral = finite_or(d.swashplate.neutral_height_mm, 0), hub = finite_or(d.rotor.hub_height_mm, 0);
    p.swing = std::min(0.55 * p.horn, 0.5 * p.ring);
    double low = std::min(neutral - 1.6 * p.ring, hub - 1.6 * p.ring);
    for (const auto& servo : d.servos) {
        // A body lies on its side; where the output shaft is upright it reaches down by its depth.
        const double upright = servo.axis.norm() > 0 ? std::abs(servo.axis.normalized().z()) : 0.0;
        low = std::min(low, finite_or(pivot_point(servo.pivot_mm).z() - (0.75 + upright) * p.horn, low));
    }
    p.ground = std::min(low, lowest_of_levers(d, p));
    p.top = std::max(std::max(hub, neutral) + p.hub_half_height, highest_of_levers(d)) + 0.9 * p.shaft;
    return p;
}

}  // namespace swashwright::head
