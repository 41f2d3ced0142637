#include "kinematics/studies/pitch/split_cause.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "kinematics/head/build.h"
#include "kinematics/head/inventory.h"
#include "kinematics/head/numbers.h"
#include "kinematics/head/references.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/answer/figures.h"

namespace swashwright::studies {

namespace {

using head::Description;
using head::Role;

constexpr double same_mm = 1e-9, same_deg = 1e-9;
constexpr double explained = 0.03, explained_deg = 0.005;  // what may be left once the cause is mended

double enough_deg(double effect_deg) {
    return std::max(explained_deg, explained * std::abs(effect_deg));
}

/// The middle value: what most blades have. Of two values, the first: either may be called the odd one.
double typical(std::vector<double> values) {
    if (values.size() <= 2) return values.empty() ? 0.0 : values.front();
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

void add_link_errors(std::vector<Suspect>& out, const Description& description, Role kind) {
    for (int i = 0; i < static_cast<int>(head::count_of(description, kind)); ++i) {
        const head::PartName link{kind, i};
        const double error = link_of(description, link)->error_mm;
        if (std::abs(error) < same_mm) continue;
        int blade = -1;  // on whose pitch arm it is
        if (const auto ends = ends_of(description, link); ends && kind == Role::upper_link)
            for (const head::BallName& end : *ends)
                if (end.of == head::BallName::Of::grip) blade = end.index;
        out.push_back({fmt::format("{} is {:.2f} mm {}", link_words(description, link), std::abs(error),
                                   error > 0 ? "too long" : "too short"),
                       blade, [link](Description& d) { link_of(d, link)->error_mm = 0; }});
    }
}

/// What a hand has moved: no fault, and no link is to be turned for it.
void add_hands(std::vector<Suspect>& out, const Description& description) {
    for (std::size_t i = 0; i < description.levers.size(); ++i) {
        const head::Lever& lever = description.levers[i];
        if (!lever.by_hand_deg || std::abs(lever.angle_deg) < explained_deg) continue;
        out.push_back({fmt::format("{} stands {} deg over, moved by hand", head::lever_words(description, i),
                                   signed_figure(lever.angle_deg, 1)),
                       -1, [i](Description& d) { d.levers[i].angle_deg = 0; }});
    }
}

/// One number that every blade (or lower link) has, and how to say that it is odd.
struct Feature {
    const char* part;  // "upper link"
    const char* more;  // "is set {} longer than"
    const char* less;
    const char* path;             // of the number: "upper_link[{}].length_mm"
    double turns_with_blade = 0;  // the value grows by this from one blade to the next
};
const Feature lower_length{"lower link", "is set {} longer than", "is set {} shorter than", "lower_link[{}].length_mm"};

/// The numbers of a feature, as many as the description has.
std::vector<head::Number> numbers_of(const Feature& feature, const std::vector<head::Number>& all) {
    std::vector<head::Number> out;
    while (const head::Number* next = head::find_number(all, fmt::format(fmt::runtime(feature.path), out.size() + 1)))
        out.push_back(*next);
    return out;
}

/// Those that every blade may have.
std::vector<Feature> features(const Description& description) {
    const double step = description.rotor.blades > 0 ? 360.0 / description.rotor.blades : 0;
    return {
        {"upper link", "is set {} longer than", "is set {} shorter than", "upper_link[{}].length_mm"},
        {"grip", "has {} more pitch offset than", "has {} less pitch offset than", "grip[{}].pitch_offset_deg"},
        {"pitch arm", "leads by {} more than", "leads by {} less than", "grip[{}].pitch_arm.lead_mm"},
        {"pitch arm ball", "stands {} higher than", "stands {} lower than", "grip[{}].pitch_arm.up_mm"},
        {"pitch arm ball", "stands {} farther out than", "stands {} farther in than", "grip[{}].pitch_arm.along_mm"},
        {"outer ball", "stands {} higher on the ring than", "stands {} lower on the ring than",
         "swashplate.outer_balls[{}].height_mm"},
        {"outer ball", "stands {} farther out on the ring than", "stands {} farther in on the ring than",
         "swashplate.outer_balls[{}].radius_mm"},
        {"outer ball", "is {} farther ahead of its blade than", "is {} less ahead of its blade than",
         "swashplate.outer_balls[{}].ahead_deg", step},
    };
}

/// A suspect for each of the numbers of a feature that is not as the others are.
void add_differences(std::vector<Suspect>& out, const Description& description, const Feature& feature,
                     const std::vector<head::Number>& numbers, bool one_for_each_blade) {
    const std::size_t count = numbers.size();
    std::vector<double> values(count);
    for (std::size_t k = 0; k < count; ++k)
        values[k] =
            std::remainder(head::value(description, numbers[k]) - feature.turns_with_blade * static_cast<double>(k),
                           feature.turns_with_blade > 0 ? 360.0 : 1e9);
    const double usual = typical(values);
    const auto odd_ones =
        std::count_if(values.begin(), values.end(), [&](double v) { return std::abs(v - usual) > same_deg; });
    for (std::size_t k = 0; k < count; ++k) {
        const double excess = values[k] - usual;
        if (std::abs(excess) <= same_deg) continue;
        const std::string others = count == 2      ? fmt::format("{} 1", feature.part)
                                   : odd_ones == 1 ? "the others"
                                                   : "the middle of the set";
        const std::string how = fmt::format(fmt::runtime(excess > 0 ? feature.more : feature.less),
                                            fmt::format("{:.2f} {}", std::abs(excess), words_of(numbers[k].unit)));
        out.push_back({fmt::format("{} {} {} {}", feature.part, k + 1, how, others),
                       one_for_each_blade ? static_cast<int>(k) : -1,
                       [number = numbers[k], excess](Description& d) { head::value(d, number) -= excess; }});
    }
}

/// What is left of an effect once some suspects are mended; none where the mended head cannot be posed.
using Effect = std::function<std::optional<double>(const head::Head&)>;

std::optional<double> left_after(const Description& description, const std::vector<const Suspect*>& mended,
                                 const Effect& effect) {
    Description copy = description;
    for (const Suspect* suspect : mended) suspect->mend(copy);
    const head::Result<head::Head> head = head::Head::build(copy);
    return head ? effect(*head) : std::nullopt;
}

/// The suspect whose mending takes the effect away; else the two that do so together; else an admission.
Cause find_cause(const Description& description, const std::vector<Suspect>& suspects, double effect_deg,
                 const Effect& effect) {
    struct Trial {
        const Suspect* suspect;
        double left_deg;
    };
    std::vector<Trial> trials;
    for (const Suspect& suspect : suspects)
        if (const auto left = left_after(description, {&suspect}, effect))
            trials.push_back({&suspect, std::abs(*left)});
    std::stable_sort(trials.begin(), trials.end(),
                     [](const Trial& a, const Trial& b) { return a.left_deg < b.left_deg; });

    const double enough = enough_deg(effect_deg);
    if (!trials.empty() && trials[0].left_deg <= enough)
        return {true, trials[0].suspect->words, trials[0].suspect->blade};
    if (trials.size() >= 2) {
        const auto left = left_after(description, {trials[0].suspect, trials[1].suspect}, effect);
        if (left && std::abs(*left) <= enough)
            return {true, trials[0].suspect->words + ", and " + trials[1].suspect->words, -1};
    }
    const double share = trials.empty() ? 0.0 : std::abs(effect_deg) - trials[0].left_deg;
    if (share <= enough) return {false, "no single link, and no single difference between parts, explains it", -1};
    return {false,
            fmt::format("no single part explains it; the largest share, {:.2f} deg, comes from this: {}", share,
                        trials[0].suspect->words),
            -1};
}

/// "one tooth clockwise, seen on the horn's face": a growing horn angle is anticlockwise there.
std::string trim_words(const head::Servo& servo) {
    const double teeth = servo.trim_deg * servo.spline_teeth / 360;
    if (std::abs(teeth) > 0.5 && std::abs(teeth - std::round(teeth)) < 0.01)
        return fmt::format("{} stands {} ({:.2f} deg of trim)", head::servo_words(servo),
                           teeth_words(static_cast<int>(std::round(teeth))), servo.trim_deg);
    return fmt::format("{} has {:.2f} deg of trim", head::servo_words(servo), servo.trim_deg);
}

/// A setting of one horn that levels the ring at these sticks: some teeth, else another neutral.
std::optional<Cause> horn_cause(const head::Head& head, const head::Sticks& sticks, double enough_deg) {
    const auto horn_deg = head.horn_angles_deg(sticks);
    head::Solver solver(head);
    const auto tilt_with = [&](std::size_t j, double more_deg) -> std::optional<double> {
        auto moved = horn_deg;
        moved[j] += more_deg;
        if (!solver.pose(moved, 0)) return std::nullopt;
        return std::hypot(solver.tilt_forward_deg(), solver.tilt_right_deg());
    };
    std::optional<Cause> best;
    double least = enough_deg;
    for (std::size_t j = 0; j < horn_deg.size(); ++j) {
        const head::Servo& servo = head.description().servos[j];
        for (const int teeth : {-2, -1, 1, 2})
            if (const auto left = tilt_with(j, 360.0 * teeth / servo.spline_teeth); left && *left <= least) {
                least = *left;
                best = {true,
                        fmt::format("the horn of {} set {}, levels it", head::servo_words(servo), teeth_words(teeth)),
                        -1};
            }
    }
    if (best) return best;
    for (std::size_t j = 0; j < horn_deg.size(); ++j) {
        double more_deg = 0;
        head::Slopes slopes;
        for (int step = 0; step < 8; ++step) {  // Gauss-Newton on both tilts
            if (!tilt_with(j, more_deg) || !solver.linearise()) break;
            solver.slopes_by_horn(static_cast<int>(j), slopes);
            const double f = slopes.tilt_forward_deg, r = slopes.tilt_right_deg, both = f * f + r * r;
            if (!(both > 1e-12)) break;
            more_deg -= (f * solver.tilt_forward_deg() + r * solver.tilt_right_deg()) / both;
        }
        more_deg = std::round(100 * more_deg) / 100;  // as it is said
        const auto left = tilt_with(j, more_deg);
        if (!left || *left > least) continue;
        least = *left;
        const head::Servo& servo = head.description().servos[j];
        best = {
            true,
            fmt::format("a neutral of {} deg in place of {} at {} levels it", figure(servo.neutral_deg + more_deg, 2),
                        figure(servo.neutral_deg, 2), head::servo_words(servo)),
            -1};
    }
    return best;
}

}  // namespace

std::vector<Suspect> blade_suspects(const Description& description) {
    std::vector<Suspect> out;
    add_hands(out, description);
    for (const Role kind : {Role::upper_link, Role::lower_link, Role::other_link})
        add_link_errors(out, description, kind);
    const auto blades = static_cast<std::size_t>(std::max(0, description.rotor.blades));
    const auto all = head::numbers(description);
    for (const Feature& feature : features(description))
        if (const auto numbers = numbers_of(feature, all); numbers.size() == blades)
            add_differences(out, description, feature, numbers, true);
    return out;
}

std::vector<Suspect> ring_suspects(const Description& description) {
    std::vector<Suspect> out;
    for (const Role kind : {Role::lower_link, Role::other_link}) add_link_errors(out, description, kind);
    add_differences(out, description, lower_length, numbers_of(lower_length, head::numbers(description)), false);
    for (std::size_t j = 0; j < description.servos.size(); ++j) {
        const head::Servo& servo = description.servos[j];
        if (servo.raise && linked_straight(description, j) &&
            *servo.raise * head::rise(servo, servo.neutral_deg + servo.trim_deg) < 0)
            out.push_back({fmt::format("{} is driven the wrong way round", head::servo_words(servo)), -1,
                           [j](Description& d) { d.servos[j].raise = -*d.servos[j].raise; }});
        if (std::abs(servo.trim_deg) < same_deg) continue;
        out.push_back({trim_words(servo), -1, [j](Description& d) { d.servos[j].trim_deg = 0; }});
    }
    return out;
}

Cause split_cause(const head::Head& head, const head::Sticks& sticks, const TurnCurve& curve) {
    const std::size_t high = curve.highest_blade, low = curve.lowest_blade;
    const int samples = static_cast<int>(curve.azimuth_deg.size());
    return find_cause(head::mixer_kept(head), blade_suspects(head.description()), curve.split_deg(),
                      [&](const head::Head& mended) -> std::optional<double> {
                          const auto turn = turn_curve(mended, sticks, std::min(samples, 24));
                          if (!turn) return std::nullopt;
                          return turn->blades[high].mean_deg - turn->blades[low].mean_deg;
                      });
}

Cause tilt_cause(const head::Head& head, const head::Sticks& sticks, double tilt_deg) {
    const Cause cause = find_cause(head::mixer_kept(head), ring_suspects(head.description()), tilt_deg,
                                   [&](const head::Head& mended) -> std::optional<double> {
                                       const auto pose = mended.pose(sticks, 0);
                                       if (!pose) return std::nullopt;
                                       return pose->tilt_deg;
                                   });
    if (cause.found) return cause;
    if (sticks == head::Sticks{})  // elsewhere a sound ring leans too, and some horn would always level it
        if (auto horn = horn_cause(head, sticks, enough_deg(tilt_deg))) return *horn;
    return {false, "no single link, trim, neutral or tooth of a horn explains it", -1};
}

}  // namespace swashwright::studies
