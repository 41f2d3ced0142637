#include "kinematics/studies/live/live_value.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/inventory.h"
#include "kinematics/head/numbers.h"
#include "kinematics/studies/envelope/cranks.h"
#include "kinematics/studies/joints/stiff.h"
#include "kinematics/studies/loads/flying.h"
#include "kinematics/studies/pitch/folded.h"
#include "kinematics/studies/pitch/turn_curve.h"
#include "kinematics/studies/power/craft.h"

namespace swashwright::studies {
namespace {

using Value = tl::expected<double, std::string>;

struct Asked {
    const head::Head& head;
    const head::Sticks& sticks;
    double azimuth_deg;
};

Value of_pose(const Asked& asked, const std::function<double(const head::Pose&)>& read) {
    const auto pose = asked.head.pose(asked.sticks, asked.azimuth_deg);
    if (!pose) return tl::unexpected(pose.error().message);
    return read(*pose);
}

Value of_turn(const Asked& asked, const std::function<double(const TurnCurve&)>& read) {
    const auto curve = turn_curve(asked.head, asked.sticks);
    if (!curve) return tl::unexpected(curve.error().message);
    return read(*curve);
}

double angle_between_deg(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b)) / degree;
}

double horn_to_link_deg(const head::Skeleton& s, std::size_t j, const head::BallName& other) {
    const Vec3 ball = *head::ball_place(s, head::horn_ball(j));
    const Placement& horn = *head::place_of(s, {head::Role::horn, static_cast<int>(j)});
    return angle_between_deg(horn.origin - ball, *head::ball_place(s, other) - ball);
}

/// The arm's ball moves about the feathering axis, z of the grip's frame.
double arm_to_link_deg(const head::Skeleton& s, std::size_t k, const head::BallName& other) {
    const Vec3 ball = *head::ball_place(s, head::arm_ball(k));
    const Placement& grip = *head::place_of(s, {head::Role::grip, static_cast<int>(k)});
    return transmission_angle_deg(ball - *head::ball_place(s, other), grip.turn.col(2).cross(ball - grip.origin));
}

Value folded_mm(const Asked& asked) {
    FoldedOptions options;
    options.sticks = asked.sticks;
    options.azimuth_deg = asked.azimuth_deg;
    const auto found = folded(asked.head, options);
    if (!found) return tl::unexpected(found.error().message);
    if (!found->opposite) return tl::unexpected(std::string("no blade stands opposite blade 1"));
    return found->difference_mm;
}

Value friction_nmm(const Asked& asked, std::size_t j) {
    FrictionOptions options;
    options.sticks = asked.sticks;
    const auto found = friction(asked.head, options);
    if (!found) return tl::unexpected(found.error().message);
    return found->horns[j].nmm;
}

/// In flight, at the scene's head speed, with what it does not say of blades guessed.
Value in_flight(const Asked& asked, const std::function<double(const Flying&, const Balance&)>& read) {
    Flying flying(asked.head, usual_flight(asked.head.description()));
    const auto balance = flying.at(asked.sticks, asked.azimuth_deg);
    if (!balance) return tl::unexpected(std::string("the links do not reach here, or stand at a dead point"));
    return read(flying, *balance);
}

struct Named {
    std::string name;
    ValueWords words;
    std::function<Value(const Asked&)> read;
};

Named by_pose(std::string name, ValueWords words, std::function<double(const head::Pose&)> read) {
    return {std::move(name), std::move(words),
            [read = std::move(read)](const Asked& asked) { return of_pose(asked, read); }};
}

Named by_turn(std::string name, ValueWords words, std::function<double(const TurnCurve&)> read) {
    return {std::move(name), std::move(words),
            [read = std::move(read)](const Asked& asked) { return of_turn(asked, read); }};
}

void add_blade(std::vector<Named>& out, const head::Description& d, std::size_t k) {
    const std::string path = fmt::format("blade[{}].", k + 1), blade = fmt::format(" of blade {}", k + 1);
    out.push_back(by_pose(path + "pitch_deg", {"pitch" + blade, "deg"},
                          [k](const head::Pose& pose) { return pose.pitch_deg[k]; }));
    out.push_back(by_turn(path + "mean_deg", {"mean pitch" + blade, "deg"},
                          [k](const TurnCurve& curve) { return curve.blades[k].mean_deg; }));
    out.push_back(by_turn(path + "swing_deg", {"swing" + blade, "deg"}, [k](const TurnCurve& curve) {
        return (curve.blades[k].most_deg - curve.blades[k].least_deg) / 2;
    }));
    out.push_back({path + "load_nm", {"moment that turns" + blade, "N m"}, [k](const Asked& asked) {
                       return in_flight(
                           asked, [k](const Flying& flying, const Balance&) { return flying.moments()[k].total(); });
                   }});
    if (const auto other = head::other_end(d, {head::BallName::Of::grip, static_cast<int>(k)}))
        out.push_back(
            by_pose(fmt::format("grip[{}].arm_to_link_deg", k + 1),
                    {fmt::format("angle between pitch arm {0} and its link", k + 1), "deg"},
                    [k, other](const head::Pose& pose) { return arm_to_link_deg(pose.skeleton, k, *other); }));
}

void add_servo(std::vector<Named>& out, const head::Description& d, std::size_t j) {
    const std::string& name = d.servos[j].name;
    const std::string servo = fmt::format("servo[{}].", j + 1);
    out.push_back(by_pose(servo + "horn_deg", {"horn of servo " + name, "deg"},
                          [j](const head::Pose& pose) { return pose.horn_deg[j]; }));
    if (const auto other = head::other_end(d, {head::BallName::Of::servo, static_cast<int>(j)}))
        out.push_back(
            by_pose(servo + "horn_to_link_deg", {"horn to link, servo " + name, "deg"},
                    [j, other](const head::Pose& pose) { return horn_to_link_deg(pose.skeleton, j, *other); }));
    out.push_back({servo + "friction_nmm", {"friction at the horn of servo " + name, "N mm"}, [j](const Asked& asked) {
                       return friction_nmm(asked, j);
                   }});
    out.push_back(
        {servo + "load_nmm", {"moment that servo " + name + " holds in flight", "N mm"}, [j](const Asked& asked) {
             return in_flight(asked, [&](const Flying& flying, const Balance& balance) {
                 return balance.horn_nmm[j] * flying.head().raise_signs()[j];
             });
         }});
}

void add_levers(std::vector<Named>& out, const head::Description& d) {
    const auto called = [](const std::string& name, const char* kind, std::size_t i) {
        return name.empty() ? fmt::format("{} {}", kind, i + 1) : name;
    };
    for (std::size_t i = 0; i < d.levers.size(); ++i)
        out.push_back(by_pose(fmt::format("lever[{}].angle_now_deg", i + 1),
                              {"angle of " + called(d.levers[i].name, "lever", i), "deg"},
                              [i](const head::Pose& pose) { return pose.lever_deg[i]; }));
    for (std::size_t i = 0; i < d.sliders.size(); ++i)
        out.push_back(by_pose(fmt::format("slider[{}].place_now_mm", i + 1),
                              {"place of " + called(d.sliders[i].name, "slider", i), "mm"},
                              [i](const head::Pose& pose) { return pose.slider_mm[i]; }));
}

void add_misfits(std::vector<Named>& out, const head::Description& d) {
    out.push_back(by_pose("misfit_mm", {"largest misfit of links and pins", "mm"},
                          [](const head::Pose& pose) { return pose.misfit_mm.value_or(0); }));
    for (const head::PartName& link : head::links_of(d))
        if (const auto ends = head::ends_of(d, link))
            out.push_back(by_pose(head::path_of(link) + ".misfit_mm", {"misfit of " + head::link_words(d, link), "mm"},
                                  [length = head::link_of(d, link)->actual_mm(), ends = *ends](const head::Pose& pose) {
                                      return (*head::ball_place(pose.skeleton, ends[1]) -
                                              *head::ball_place(pose.skeleton, ends[0]))
                                                 .norm() -
                                             length;
                                  }));
}

void add_forces(std::vector<Named>& out, const head::Description& d) {
    for (const head::PartName& link : head::links_of(d))
        out.push_back({head::path_of(link) + ".force_n",
                       {"pull in flight of " + head::link_words(d, link), "N"},
                       [path = head::path_of(link)](const Asked& asked) {
                           return in_flight(asked, [&](const Flying& flying, const Balance& balance) {
                               const head::Model& model = flying.head().model();
                               const head::RodId rod = model.part(*model.find(path)).rod;
                               return balance.force_n[static_cast<std::size_t>(model.rod(rod).closure.index)];
                           });
                       }});
}

/// At the blades' mean pitch, what the scene does not say guessed.
void add_power(std::vector<Named>& out) {
    const auto add = [&](std::string name, ValueWords words, std::function<double(const Craft&, double)> read) {
        out.push_back({std::move(name), std::move(words), [read = std::move(read)](const Asked& asked) {
                           return of_turn(asked, [&](const TurnCurve& curve) {
                               double mean_deg = 0;
                               for (const BladeTurn& blade : curve.blades)
                                   mean_deg += blade.mean_deg / static_cast<double>(curve.blades.size());
                               return read(craft(asked.head.description()), mean_deg);
                           });
                       }});
    };
    add("rotor.lift_n", {"lift before the model has moved", "N"},
        [](const Craft& c, double deg) { return lift(c.disc, c.air(), deg * degree).thrust_n; });
    add("rotor.first_w", {"power before the model has moved", "W"}, standing_w);
    add("rotor.climb_m_s", {"steady climb", "m/s"}, [](const Craft& c, double deg) { return climb(c, deg).m_s; });
    add("rotor.climb_w", {"power in a steady climb", "W"},
        [](const Craft& c, double deg) { return climb(c, deg).power_w; });
}

std::vector<Named> all_named(const head::Description& description) {
    const bool tail = description.kind == head::Kind::tail, tilts = description.swashplate.tilts;
    std::vector<Named> out{
        by_pose("ring_height_mm", {tilts ? "ring height" : "height of the pitch slider", "mm"},
                [](const head::Pose& pose) { return pose.height_mm; }),
        by_pose("ring_tilt_deg", {"ring tilt", "deg"}, [](const head::Pose& pose) { return pose.tilt_deg; }),
        by_pose("ring_forward_deg", {"ring tilt, nose down", "deg"},
                [](const head::Pose& pose) { return pose.tilt_forward_deg; }),
        by_pose("ring_right_deg", {"ring tilt, right down", "deg"},
                [](const head::Pose& pose) { return pose.tilt_right_deg; }),
        by_turn("split_deg", {"split between the blades", "deg"},
                [](const TurnCurve& curve) { return curve.split_deg(); }),
        {"folded_mm", {"tip of blade 1 above the other, folded to the side where blade 1 leads", "mm"}, folded_mm},
        {"collective", {"collective stick", ""}, [](const Asked& asked) { return asked.sticks.collective; }},
        {"aileron", {"aileron stick", ""}, [](const Asked& asked) { return asked.sticks.aileron; }},
        {"elevator", {"elevator stick", ""}, [](const Asked& asked) { return asked.sticks.elevator; }},
        {"azimuth_deg", {"rotor azimuth", "deg"}, [](const Asked& asked) { return asked.azimuth_deg; }},
    };
    if (!tilts) std::erase_if(out, [](const Named& n) { return n.words.words.starts_with("ring tilt"); });
    if (tail) {
        std::erase_if(out, [](const Named& n) { return n.words.words.ends_with(" stick"); });
        out.push_back({"rudder", {"rudder stick", ""}, [](const Asked& asked) { return asked.sticks.rudder; }});
    }
    for (std::size_t k = 0; k < head::count_of(description, head::Role::blade); ++k) add_blade(out, description, k);
    for (std::size_t j = 0; j < description.servos.size(); ++j) add_servo(out, description, j);
    add_levers(out, description);
    add_misfits(out, description);
    add_forces(out, description);
    if (!tail) add_power(out);
    return out;
}

}  // namespace

std::vector<std::string> live_value_names(const head::Description& description) {
    std::vector<std::string> out;
    for (const Named& named : all_named(description)) out.push_back(named.name);
    return out;
}

ValueWords value_words(const head::Description& description, const std::string& name) {
    for (const Named& named : all_named(description))
        if (named.name == name) return named.words;
    for (const head::Number& number : head::numbers(description))
        if (number.path == name)
            return {number.label, number.unit == head::Unit::mm ? "mm" : number.unit == head::Unit::deg ? "deg" : ""};
    return {name, ""};
}

Value live_value(const head::Head& head, const head::Sticks& sticks, double azimuth_deg, const std::string& name) {
    for (const Named& named : all_named(head.description()))
        if (named.name == name) return named.read({head, sticks, azimuth_deg});
    for (const head::Number& number : head::numbers(head.description()))
        if (number.path == name) return head::value(head.description(), number);
    return tl::unexpected(fmt::format("there is no value named {}", name));
}

bool met(const head::Head& head, const head::Sticks& sticks, double azimuth_deg, std::span<const Goal> goals) {
    return std::ranges::all_of(goals, [&](const Goal& goal) {
        const Value value = live_value(head, sticks, azimuth_deg, goal.value);
        return value && std::abs(*value - goal.wanted) <= goal.within;
    });
}

}  // namespace swashwright::studies
