#include "kinematics/head/standing.h"

#include <optional>

#include "kinematics/head/build.h"

namespace swashwright::head {

namespace {

Placement upon(const Placement& carrier, const Placement& frame) {
    return {carrier.turn * frame.turn, carrier * frame.origin};
}

bool alike(const Lever& a, const Lever& b) {
    return a.name == b.name && a.on == b.on && a.blade == b.blade && a.pivot_mm == b.pivot_mm && a.axis == b.axis &&
           a.zero == b.zero;
}
bool alike(const Slider& a, const Slider& b) {
    return a.name == b.name && a.on == b.on && a.blade == b.blade && a.at_mm == b.at_mm && a.axis == b.axis &&
           a.zero == b.zero;
}

/// Places levers and sliders one upon the other.
class Stander {
public:
    Stander(const Description& d, const Description& before, const Pose& known)
        : d_(d), before_(before), known_(known.skeleton) {}

    Placement carrier(const Carrier& on, std::size_t steps = 0) const {
        const auto i = static_cast<std::size_t>(on.index);
        using enum Carrier::On;
        switch (on.on) {
            case frame:
                break;
            case inner_ring:
                return known_.inner_ring;
            case outer_ring:
                return known_.outer_ring;
            case hub:
                return known_.hub;
            case grip:
                return i < known_.grips.size() ? known_.grips[i] : Placement{};
            case lever:
                return this->lever(i, steps + 1);
            case slider:
                return this->slider(i, steps + 1);
        }
        return {};
    }
    Placement lever(std::size_t i, std::size_t steps = 0) const {
        if (i >= d_.levers.size() || in_a_circle(steps)) return {};
        const Lever& lever = d_.levers[i];
        if (const auto was = as_it_was(lever, before_.levers, known_.levers)) return known_.levers[*was];
        return upon(upon(carrier(lever.on, steps), lever_frame(d_, lever)),
                    {turn_about_z(lever.angle_deg * degree), Vec3::Zero()});
    }
    Placement slider(std::size_t i, std::size_t steps = 0) const {
        if (i >= d_.sliders.size() || in_a_circle(steps)) return {};
        const Slider& slider = d_.sliders[i];
        if (const auto was = as_it_was(slider, before_.sliders, known_.sliders)) return known_.sliders[*was];
        return upon(upon(carrier(slider.on, steps), slider_frame(d_, slider)),
                    {Mat3::Identity(), {0, 0, slider.place_mm}});
    }
    /// Which one of the head as it was this is, if it was posed.
    template <class T>
    static std::optional<std::size_t> as_it_was(const T& part, const std::vector<T>& before,
                                                const std::vector<Placement>& posed) {
        for (std::size_t i = 0; i < before.size() && i < posed.size(); ++i)
            if (alike(part, before[i])) return i;
        return std::nullopt;
    }

private:
    bool in_a_circle(std::size_t steps) const { return steps > d_.levers.size() + d_.sliders.size(); }

    const Description& d_;
    const Description& before_;
    const Skeleton& known_;
};

template <class T>
std::vector<std::vector<Vec3>> balls_of(const std::vector<T>& parts, const std::vector<Placement>& placements) {
    std::vector<std::vector<Vec3>> out(parts.size());
    for (std::size_t i = 0; i < parts.size(); ++i)
        for (const Vec3& ball : parts[i].balls_mm) out[i].push_back(placements[i] * ball);
    return out;
}

}  // namespace

Pose standing(const Description& d, const Description& before, const Pose& known) {
    Pose out = known;
    const Stander stander(d, before, known);
    Skeleton& s = out.skeleton;
    s.levers.clear(), s.sliders.clear(), out.lever_deg.clear(), out.slider_mm.clear();
    for (std::size_t i = 0; i < d.levers.size(); ++i) {
        const auto was = Stander::as_it_was(d.levers[i], before.levers, known.skeleton.levers);
        s.levers.push_back(stander.lever(i));
        out.lever_deg.push_back(was ? known.lever_deg[*was] : d.levers[i].angle_deg);
    }
    for (std::size_t i = 0; i < d.sliders.size(); ++i) {
        const auto was = Stander::as_it_was(d.sliders[i], before.sliders, known.skeleton.sliders);
        s.sliders.push_back(stander.slider(i));
        out.slider_mm.push_back(was ? known.slider_mm[*was] : d.sliders[i].place_mm);
    }
    s.lever_balls = balls_of(d.levers, s.levers);
    s.slider_balls = balls_of(d.sliders, s.sliders);
    s.inner_balls.clear();
    for (const Polar& ball : d.swashplate.inner_balls) s.inner_balls.push_back(s.inner_ring * inner_ring_point(ball));
    s.outer_balls.clear();
    for (const Polar& ball : d.swashplate.outer_balls)
        s.outer_balls.push_back(s.outer_ring * outer_ring_point(d, ball));
    s.fixed_balls.clear();
    for (const FixedBall& ball : d.fixed_balls)
        s.fixed_balls.push_back(stander.carrier(ball.on) * (carrier_axes(d, ball.on, ball.blade) * ball.at_mm));
    out.misfit_mm.reset();
    return out;
}

}  // namespace swashwright::head
