#include "kinematics/scene/levers.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/check.h"
#include "kinematics/head/references.h"
#include "kinematics/scene/limits.h"

namespace swashwright::scene {

namespace {

using head::BallName;
using head::Carrier;
using head::Description;

constexpr std::size_t most_balls = 24;
constexpr std::size_t longest_name = 60, longest_ball_name = 40;
constexpr Kind hand_angle{"an angle in degrees", -180, 180};

using List = std::optional<std::vector<Keys>>;

/// A list of tables that may be missing.
List optional_tables(Keys& top, const char* key, const char* form) {
    top.allow(key);
    return top.has(key) ? top.tables(key, form, most_parts) : std::nullopt;
}

template <class T>
struct Named {
    std::string name;
    T what;
};
template <class T>
std::vector<Named<T>> with_names(const std::vector<T>& all) {
    std::vector<Named<T>> out;
    for (const T& one : all) out.push_back({name_of(one), one});
    return out;
}

/// The one that is called so; else a mistake at `key` that offers the nearest.
template <class T>
std::optional<T> choose(const std::vector<Named<T>>& known, const std::string& name, const char* what, Keys& keys,
                        const char* key) {
    const auto found = std::ranges::find(known, name, &Named<T>::name);
    if (found != known.end()) return found->what;
    const auto nearest =
        std::ranges::min_element(known, {}, [&](const Named<T>& one) { return edits(name, one.name); });
    keys.mistake(key, nearest == known.end()
                          ? fmt::format("there is no {} \"{}\", nor any other", what, name)
                          : fmt::format("there is no {} \"{}\"; did you mean {}?", what, name, nearest->name));
    return std::nullopt;
}

std::vector<Named<BallName>> all_balls(const Description& head) {
    return with_names(head::every_ball(head));
}

using Counts = head::CarrierCounts;

/// `on`, and `blade` where the carrier's terms are those of a blade.
Carrier read_carrier(Keys& keys, const Counts& counts, int blades, int& blade) {
    const std::string name = keys.text("on", longest_ball_name);
    const auto carrier =
        name.empty() ? std::nullopt : choose(with_names(head::every_carrier(counts)), name, "part", keys, "on");
    const auto which = keys.optional_integer("blade", 1, blades);
    if (which && carrier && carrier->on != Carrier::On::hub && carrier->on != Carrier::On::outer_ring)
        keys.mistake("blade",
                     fmt::format("found on {}; expected only on hub and outer_ring, whose terms are those of a "
                                 "blade; take it out",
                                 name));
    blade = which.value_or(1) - 1;
    return carrier.value_or(Carrier{});
}

Vec3 read_point(Keys& keys, const char* key) {
    const auto xyz = keys.numbers(key, 3, coordinate, "[a, b, c] in the terms of the part on which it stands");
    return xyz ? Vec3((*xyz)[0], (*xyz)[1], (*xyz)[2]) : Vec3(0, 0, 0);
}

Vec3 read_direction(Keys& keys, const char* key) {
    const auto form = "[a, b, c] in the terms of the part on which it stands";
    if (!keys.has(key)) keys.numbers(key, 3, coordinate, form);  // notes that it is missing
    return optional_direction(keys, key, form).value_or(Vec3(0, 0, 0));
}

/// What `check` in head/ says of a part that reads well by itself, at its table.
void note_check(Keys& keys, const std::string& complaint) {
    if (!complaint.empty()) keys.mistake(complaint);
}

head::Lever read_lever(Keys& keys, const Counts& counts, int blades) {
    head::Lever lever;
    lever.name = keys.text("name", longest_name);
    lever.on = read_carrier(keys, counts, blades, lever.blade);
    lever.pivot_mm = read_point(keys, "pivot_mm");
    lever.axis = read_direction(keys, "axis");
    lever.zero = read_direction(keys, "zero");
    lever.angle_deg = keys.number("angle_deg", hand_angle, 0);
    lever.balls_mm = keys.points("balls_mm", most_balls, coordinate);
    lever.studs = keys.points("studs", most_balls, coordinate);
    lever.by_hand_deg = optional_range(keys, "by_hand_deg", hand_angle);
    keys.allow("reads");
    if (keys.has("reads")) lever.reads = keys.text("reads", longest_name);
    keys.finish();
    if (keys.sound() && lever.by_hand_deg &&
        (lever.angle_deg < (*lever.by_hand_deg)[0] || lever.angle_deg > (*lever.by_hand_deg)[1]))
        keys.mistake("by_hand_deg", fmt::format("expected a range that holds angle_deg, {}, found [{}, {}]",
                                                lever.angle_deg, (*lever.by_hand_deg)[0], (*lever.by_hand_deg)[1]));
    return lever;
}

head::Slider read_slider(Keys& keys, const Counts& counts, int blades) {
    head::Slider slider;
    slider.name = keys.text("name", longest_name);
    slider.on = read_carrier(keys, counts, blades, slider.blade);
    slider.at_mm = read_point(keys, "at_mm");
    slider.axis = read_direction(keys, "axis");
    slider.zero = read_direction(keys, "zero");
    slider.place_mm = keys.number("place_mm", coordinate, 0);
    slider.balls_mm = keys.points("balls_mm", most_balls, coordinate);
    keys.finish();
    return slider;
}

head::FixedBall read_fixed_ball(Keys& keys, const Counts& counts, int blades) {
    head::FixedBall ball;
    ball.on = read_carrier(keys, counts, blades, ball.blade);
    ball.at_mm = read_point(keys, "at_mm");
    keys.finish();
    return ball;
}

void read_other_links(Keys& top, Scene& scene) {
    List list = optional_tables(top, "link", "each headed [[link]]");
    if (!list) return;
    for (Keys& keys : *list) {
        const std::string name = keys.text("name", longest_name);
        Ends ends = read_ends_of(keys, true);
        head::Link link = read_link(keys);
        link.name = name;
        // A ball that is not there is told; the first two stand in for it.
        link.ends = look_up(scene.head, ends).value_or(std::array<BallName, 2>{});
        scene.head.links.push_back(link);
        scene.places.links.push_back(keys.place("length_mm"));
    }
}

void read_pins(Keys& top, Scene& scene) {
    List list = optional_tables(top, "pin", "each headed [[pin]]");
    if (!list) return;
    for (Keys& keys : *list) {
        head::Pin pin;
        pin.name = keys.text("name", longest_name);
        Ends ends = read_ends_of(keys, true);
        keys.finish();
        pin.ends = look_up(scene.head, ends).value_or(std::array<BallName, 2>{});
        scene.head.pins.push_back(pin);
    }
}

}  // namespace

Ends read_ends_of(Keys& keys, bool required) {
    keys.allow("ends");
    if (!required && !keys.has("ends")) return {keys, {}};
    auto names = keys.texts("ends", 2, 2, longest_ball_name);
    return {keys, std::move(names)};
}

std::optional<std::array<BallName, 2>> look_up(const Description& head, Ends& ends) {
    if (ends.names.size() != 2) return std::nullopt;
    const auto known = all_balls(head);
    const auto a = choose(known, ends.names[0], "ball", ends.keys, "ends");
    const auto b = choose(known, ends.names[1], "ball", ends.keys, "ends");
    if (!a || !b) return std::nullopt;
    if (*a == *b) {
        ends.keys.mistake("ends", fmt::format("expected two different balls, found {} twice", ends.names[0]));
        return std::nullopt;
    }
    return std::array{*a, *b};
}

void name_ends(const Description& head, std::vector<Ends>& ends, std::vector<head::Link>& links, BallName::Of low,
               BallName::Of high) {
    const auto known = all_balls(head);
    for (std::size_t i = 0; i < ends.size() && i < links.size(); ++i) {
        if (ends[i].keys.has("ends")) {
            links[i].ends = look_up(head, ends[i]);
            continue;
        }
        for (const auto of : {low, high}) {
            const std::string name = name_of(BallName{of, static_cast<int>(i)});
            if (std::ranges::find(known, name, &Named<BallName>::name) == known.end())
                ends[i].keys.mistake(
                    fmt::format("without ends it goes to {}, and there is none; add ends = [\"...\", \"...\"]", name));
        }
    }
}

std::optional<int> read_grip_lever(Keys& keys) {
    keys.allow("on");
    if (!keys.has("on")) return std::nullopt;
    const std::string on = keys.text("on", longest_ball_name);
    int lever = 0;
    for (std::size_t i = 1; i <= most_parts; ++i)
        if (on == fmt::format("lever[{}]", i)) lever = static_cast<int>(i);
    if (lever > 0) return lever - 1;
    if (on != "hub" && keys.sound())
        keys.mistake("on", fmt::format("expected \"hub\" or \"lever[1]\" and so on, found \"{}\"", on));
    return std::nullopt;
}

void check_grip_lever(const Description& head, std::size_t grip, Keys& keys) {
    if (keys.sound()) note_check(keys, head::check_grip(head, grip));
}

void read_levers(Keys& top, Scene& scene) {
    Description& head = scene.head;
    List levers = optional_tables(top, "lever", "each headed [[lever]]");
    List sliders = optional_tables(top, "slider", "each headed [[slider]]");
    List fixed = optional_tables(top, "fixed_ball", "each headed [[fixed_ball]]");
    const Counts counts{head.grips.size(), levers ? levers->size() : 0, sliders ? sliders->size() : 0};
    const int blades = head.rotor.blades;
    if (levers)
        for (Keys& keys : *levers) {
            scene.places.levers.push_back(keys.place());
            head.levers.push_back(read_lever(keys, counts, blades));
        }
    if (sliders)
        for (Keys& keys : *sliders) head.sliders.push_back(read_slider(keys, counts, blades));
    if (fixed)
        for (Keys& keys : *fixed) head.fixed_balls.push_back(read_fixed_ball(keys, counts, blades));
    // Only where each reads well: else the parts on which they stand may be stand-ins.
    const auto sound = [](const List& list) { return !list || std::ranges::all_of(*list, &Keys::sound); };
    if (sound(levers) && sound(sliders)) {
        for (std::size_t i = 0; levers && i < levers->size(); ++i) note_check((*levers)[i], head::check_lever(head, i));
        for (std::size_t i = 0; sliders && i < sliders->size(); ++i)
            note_check((*sliders)[i], head::check_slider(head, i));
    }
    read_other_links(top, scene);
    read_pins(top, scene);
}

}  // namespace swashwright::scene
