#include "kinematics/head/change_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace swashwright::head {

namespace {

using Of = BallName::Of;

std::string first_upper(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
    return words;
}

/// A link or pin with the balls that it joins.
struct Joint {
    std::string words;
    std::array<BallName, 2> ends;
};

std::vector<Joint> joints_of(const Description& d) {
    std::vector<Joint> out;
    for (const PartName& link : links_of(d))
        if (const auto ends = ends_of(d, link)) out.push_back({link_words(d, link), *ends});
    for (std::size_t i = 0; i < d.pins.size(); ++i) out.push_back({pin_words(d, i), d.pins[i].ends});
    return out;
}

/// "servo rod 1 goes to it", of the first link or pin whose end is such a ball.
template <class Wanted>
std::string goes_to(const Description& d, const std::string& what, Wanted wanted) {
    for (const Joint& joint : joints_of(d))
        for (const BallName& end : joint.ends)
            if (wanted(end))
                return fmt::format("{} is still needed: {} goes to {}; move that end, or take it away, first",
                                   first_upper(what), joint.words, words_of(d, end));
    return {};
}

std::string stands_on(const Description& d, const Carrier& carrier) {
    const auto refuse = [&](const std::string& words) {
        return fmt::format("{} is still needed: {} stands on it; put that on another part, or take it away, first",
                           first_upper(words_of(d, carrier)), words);
    };
    for (std::size_t i = 0; i < d.levers.size(); ++i)
        if (d.levers[i].on == carrier) return refuse(lever_words(d, i));
    for (std::size_t i = 0; i < d.sliders.size(); ++i)
        if (d.sliders[i].on == carrier) return refuse(slider_words(d, i));
    for (std::size_t i = 0; i < d.fixed_balls.size(); ++i)
        if (d.fixed_balls[i].on == carrier) return refuse(fmt::format("fixed ball {}", i + 1));
    for (std::size_t k = 0; k < d.grips.size(); ++k)
        if (carrier.on == Carrier::On::lever && d.grips[k].lever == carrier.index)
            return refuse(fmt::format("grip {}", k + 1));
    for (const Solid& solid : d.solids)
        if (part_of(solid.part) == part_of(carrier)) return refuse("a shape of the scene ([[solid]])");
    return {};
}

/// Every name of a ball that is written down.
template <class Do>
void each_ball(Description& d, Do act) {
    for (auto* links : {&d.lower_links, &d.upper_links, &d.links})
        for (Link& link : *links)
            if (link.ends) std::ranges::for_each(*link.ends, act);
    for (Pin& pin : d.pins) std::ranges::for_each(pin.ends, act);
}

template <class Do>
void each_carrier(Description& d, Do act) {
    for (Lever& lever : d.levers) act(lever.on);
    for (Slider& slider : d.sliders) act(slider.on);
    for (FixedBall& ball : d.fixed_balls) act(ball.on);
}

void move_up(int& index, int removed) {
    if (index > removed) --index;
}

/// What comes after part `removed` of a kind is now called by a number less.
void renumber(Description& d, Of balls, std::optional<Carrier::On> carriers, int removed) {
    each_ball(d, [&](BallName& ball) {
        if (ball.of == balls) move_up(ball.index, removed);
    });
    if (!carriers) return;
    each_carrier(d, [&](Carrier& carrier) {
        if (carrier.on == *carriers) move_up(carrier.index, removed);
    });
    for (Grip& grip : d.grips)
        if (*carriers == Carrier::On::lever && grip.lever) move_up(*grip.lever, removed);
    for (Solid& solid : d.solids)
        if (auto on = part_of(solid.part); on && on->role == part_of(Carrier{*carriers, removed}).role) {
            move_up(on->index, removed);
            solid.part = path_of(*on);
        }
}

/// Where something new is taken to stand on the frame: to the left of the shaft, half as high as the ring.
Vec3 free_place(const Description& d) {
    double radius = 20;
    for (const Polar& ball : d.swashplate.inner_balls) radius = std::max(radius, ball.radius_mm);
    return {0, std::round(1.6 * radius), std::round(d.swashplate.neutral_height_mm / 2)};
}

template <class T>
bool within(const std::vector<T>& list, int index) {
    return index >= 0 && static_cast<std::size_t>(index) < list.size();
}

tl::unexpected<std::string> none_such(const std::string& what) {
    return tl::unexpected(fmt::format("there is no {}", what));
}

constexpr const char* hangs_free = "Until links or pins hold it, it hangs free and nothing can be posed.";

template <class T>
Change with_ball_on(const Description& description, std::vector<T> Description::*list, int index, const char* kind) {
    if (!within(description.*list, index)) return none_such(fmt::format("{} {}", kind, index + 1));
    Changed out{description, {}};
    T& part = (out.head.*list)[static_cast<std::size_t>(index)];
    // As far out as the last and a quarter of a turn on.
    const Vec3 last = part.balls_mm.empty() ? Vec3(10, 0, 0) : part.balls_mm.back();
    part.balls_mm.push_back(part.balls_mm.empty() ? last : Vec3(-last.y(), last.x(), last.z()));
    out.assumed = fmt::format("Ball {} is taken to stand a quarter of a turn from the one before it: type its place.",
                              part.balls_mm.size());
    return out;
}

std::vector<Polar>& ring_balls(Description& d, Of ring) {
    return ring == Of::inner_ball ? d.swashplate.inner_balls : d.swashplate.outer_balls;
}

}  // namespace

Change with_lever_added(const Description& description) {
    Changed out{description, {}};
    Lever lever;
    lever.name = fmt::format("lever {}", description.levers.size() + 1);
    lever.pivot_mm = free_place(description);
    lever.axis = Vec3::UnitX();
    lever.zero = -Vec3::UnitY();
    lever.balls_mm = {{12, 0, 0}, {0, 12, 0}};
    out.assumed = fmt::format(
        "{} is taken to turn about a pivot on the frame, left of the shaft, with two arms of 12 mm at right angles: "
        "type "
        "where it really stands. {}",
        first_upper(lever.name), hangs_free);
    out.head.levers.push_back(std::move(lever));
    return out;
}

Change with_slider_added(const Description& description) {
    Changed out{description, {}};
    Slider slider;
    slider.name = fmt::format("slider {}", description.sliders.size() + 1);
    slider.at_mm = free_place(description);
    slider.balls_mm = {Vec3::Zero()};
    out.assumed = fmt::format(
        "{} is taken to slide up and down on the frame, left of the shaft, with one ball: type where it really stands. "
        "{}",
        first_upper(slider.name), hangs_free);
    out.head.sliders.push_back(std::move(slider));
    return out;
}

Change with_fixed_ball_added(const Description& description) {
    Changed out{description,
                fmt::format("Fixed ball {} is taken to stand on the frame, left of the shaft: type where it "
                            "really stands.",
                            description.fixed_balls.size() + 1)};
    out.head.fixed_balls.push_back({Carrier{}, 0, free_place(description)});
    return out;
}

Change with_link_added(const Description& description, const std::array<BallName, 2>& ends, double length_mm) {
    Changed out{description, {}};
    Link link;
    link.name = fmt::format("link {}", description.links.size() + 1);
    link.length_mm = length_mm;
    link.ends = ends;
    out.assumed =
        fmt::format("{} goes from {} to {} and is as long as they stand apart, {:.2f} mm: type what you measure.",
                    first_upper(link.name), words_of(description, ends[0]), words_of(description, ends[1]), length_mm);
    out.head.links.push_back(std::move(link));
    return out;
}

Change with_pin_added(const Description& description, const std::array<BallName, 2>& ends) {
    Changed out{description, {}};
    Pin pin{fmt::format("pin {}", description.pins.size() + 1), ends};
    out.assumed = fmt::format("{} makes one point of {} and {}.", first_upper(pin.name), words_of(description, ends[0]),
                              words_of(description, ends[1]));
    out.head.pins.push_back(std::move(pin));
    return out;
}

Change with_lever_ball_added(const Description& description, int lever) {
    Change out = with_ball_on(description, &Description::levers, lever, "lever");
    if (!out) return out;
    Lever& made = out->head.levers[static_cast<std::size_t>(lever)];
    if (!made.studs.empty()) made.studs.resize(made.balls_mm.size(), Vec3::UnitZ());
    return out;
}

Change with_slider_ball_added(const Description& description, int slider) {
    return with_ball_on(description, &Description::sliders, slider, "slider");
}

Change with_ring_ball_added(const Description& description, Of ring) {
    Changed out{description, {}};
    std::vector<Polar>& balls = ring_balls(out.head, ring);
    Polar ball = balls.empty() ? Polar{20, 0, 0} : balls.back();
    std::vector<double> angles;
    for (const Polar& other : balls) angles.push_back(other.angle_deg);
    if (!balls.empty()) ball.angle_deg = widest_gap_deg(std::move(angles));
    balls.push_back(ball);
    out.assumed = fmt::format(
        "Ball {} is taken to be made as the one before it and to stand at {:.0f} deg, where the gap "
        "was widest.",
        balls.size(), ball.angle_deg);
    return out;
}

Change with_lever_removed(const Description& description, int lever) {
    if (!within(description.levers, lever)) return none_such(fmt::format("lever {}", lever + 1));
    const std::string words = lever_words(description, static_cast<std::size_t>(lever));
    if (auto needed = stands_on(description, {Carrier::On::lever, lever}); !needed.empty())
        return tl::unexpected(needed);
    if (auto needed =
            goes_to(description, words, [&](const BallName& b) { return b.of == Of::lever && b.index == lever; });
        !needed.empty())
        return tl::unexpected(needed);
    Changed out{description, first_upper(words) + " is gone."};
    out.head.levers.erase(out.head.levers.begin() + lever);
    renumber(out.head, Of::lever, Carrier::On::lever, lever);
    return out;
}

Change with_slider_removed(const Description& description, int slider) {
    if (!within(description.sliders, slider)) return none_such(fmt::format("slider {}", slider + 1));
    const std::string words = slider_words(description, static_cast<std::size_t>(slider));
    if (auto needed = stands_on(description, {Carrier::On::slider, slider}); !needed.empty())
        return tl::unexpected(needed);
    if (auto needed =
            goes_to(description, words, [&](const BallName& b) { return b.of == Of::slider && b.index == slider; });
        !needed.empty())
        return tl::unexpected(needed);
    Changed out{description, first_upper(words) + " is gone."};
    out.head.sliders.erase(out.head.sliders.begin() + slider);
    renumber(out.head, Of::slider, Carrier::On::slider, slider);
    return out;
}

Change with_ball_removed(const Description& description, const BallName& ball) {
    const auto all = every_ball(description);
    if (ball.of == Of::servo || ball.of == Of::grip || std::ranges::find(all, ball) == all.end())
        return none_such(fmt::format("ball {} that can be taken away", name_of(ball)));
    const std::string words = words_of(description, ball);
    if (auto needed = goes_to(description, words, [&](const BallName& b) { return b == ball; }); !needed.empty())
        return tl::unexpected(needed);
    Changed out{description, first_upper(words) + " is gone."};
    Description& d = out.head;
    const auto i = static_cast<std::size_t>(ball.index);
    if (ball.of == Of::lever || ball.of == Of::slider) {
        auto& balls = ball.of == Of::lever ? d.levers[i].balls_mm : d.sliders[i].balls_mm;
        balls.erase(balls.begin() + ball.ball);
        if (ball.of == Of::lever && !d.levers[i].studs.empty())
            d.levers[i].studs.erase(d.levers[i].studs.begin() + ball.ball);
        each_ball(d, [&](BallName& other) {
            if (other.of == ball.of && other.index == ball.index) move_up(other.ball, ball.ball);
        });
        return out;
    }
    // Links that name no ends go by the balls' numbers: they are written down before the numbers change.
    for (const PartName& link : links_of(d)) link_of(d, link)->ends = ends_of(description, link);
    if (ball.of == Of::fixed_ball)
        d.fixed_balls.erase(d.fixed_balls.begin() + ball.index);
    else
        ring_balls(d, ball.of).erase(ring_balls(d, ball.of).begin() + ball.index);
    renumber(d, ball.of, {}, ball.index);
    for (const PartName& link : links_of(d))
        if (const auto ends = ends_of(d, link)) set_ends(d, link, *ends);
    return out;
}

Change with_link_removed(const Description& description, const PartName& link) {
    if (link_of(description, link) == nullptr) return none_such(link_words(description, link));
    Changed out{description, first_upper(link_words(description, link)) + " is gone."};
    Description& d = out.head;
    std::vector<Link>& links = links_of(d, link.role);
    // Those after it go on joining what they joined.
    for (const PartName& each : links_of(d)) link_of(d, each)->ends = ends_of(description, each);
    links.erase(links.begin() + link.index);
    for (const PartName& each : links_of(d))
        if (const auto ends = ends_of(d, each)) set_ends(d, each, *ends);
    return out;
}

Change with_pin_removed(const Description& description, int pin) {
    if (!within(description.pins, pin)) return none_such(fmt::format("pin {}", pin + 1));
    Changed out{description, fmt::format("Pin {} is gone.", pin + 1)};
    out.head.pins.erase(out.head.pins.begin() + pin);
    return out;
}

std::optional<std::array<BallName, 2>> likely_ends(const Description& description) {
    const auto joints = joints_of(description);
    const auto held = [&](const BallName& ball) {
        return std::ranges::any_of(joints,
                                   [&](const Joint& joint) { return std::ranges::count(joint.ends, ball) > 0; });
    };
    const auto same_part = [](const BallName& a, const BallName& b) {
        const bool one_of_its_kind = a.of == Of::inner_ball || a.of == Of::outer_ball;
        return a.of == b.of && (one_of_its_kind || a.index == b.index);
    };
    std::vector<BallName> all = every_ball(description);
    std::ranges::stable_sort(all, {}, [&](const BallName& ball) { return held(ball) ? 1 : 0; });
    for (const BallName& first : all)
        for (const BallName& second : all)
            if (!same_part(first, second)) return std::array{first, second};
    return std::nullopt;
}

}  // namespace swashwright::head
