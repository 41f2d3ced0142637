#include "kinematics/studies/live/link_advice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "kinematics/head/build.h"
#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/rod_thread.h"
#include "kinematics/studies/live/less_travel.h"

namespace swashwright::studies {

namespace {

using head::Description;
using head::Head;
using head::Sticks;

constexpr double least_change_mm = 0.01;                      // as it is set
constexpr double near_pitch_deg = 1.0, near_level_deg = 3.0;  // of what was meant

struct LinkPlace {
    bool upper;
    int index;
};

/// Where a level ring's inner ball stands over the height of the tilt centre.
Vec3 level_ball(const Description& d, std::size_t j) {
    return Eigen::AngleAxisd(d.swashplate.guide_turn_deg * degree, Vec3::UnitZ()) *
           head::inner_ring_point(d.swashplate.inner_balls[j]);
}

/// The height at which the lower links but one hold a level ring; the nominal one if they cannot.
double height_without(const Description& d, const head::Skeleton& s, std::size_t left_out) {
    double sum = 0, count = 0;
    for (std::size_t j = 0; j < d.lower_links.size(); ++j) {
        if (j == left_out) continue;
        const Vec3 ball = level_ball(d, j), apart = ball - s.horn_balls[j];
        const double rise = std::pow(d.lower_links[j].actual_mm(), 2) - apart.head<2>().squaredNorm();
        if (!(rise >= 0)) return d.swashplate.neutral_height_mm;
        sum += s.horn_balls[j].z() + std::sqrt(rise) - ball.z(), ++count;
    }
    return count > 0 ? sum / count : d.swashplate.neutral_height_mm;
}

/// The middle pitch of all blades but one at mid stick: zero if their links do not reach either.
double pitch_without(const head::NearestFit& fit, std::size_t left_out) {
    std::vector<double> others;
    for (std::size_t k = 0; k < fit.pose.pitch_deg.size(); ++k) {
        const bool open = std::ranges::any_of(fit.shortfalls, [&](const head::Shortfall& s) {
            return s.part == head::PartName{head::Role::upper_link, static_cast<int>(k)};
        });
        if (k != left_out && !open) others.push_back(fit.pose.pitch_deg[k]);
    }
    if (others.empty()) return 0;
    std::ranges::nth_element(others, others.begin() + static_cast<std::ptrdiff_t>(others.size() / 2));
    return others[others.size() / 2];
}

/// A rod to cut where the present one would be left with too little thread or meet the bosses; one of unknown length
/// cannot be set by more than both ends can be turned in or out.
std::optional<double> new_rod_mm(const head::Link& link, double length_mm, double change_mm) {
    const RodThread thread = rod_thread(link, length_mm);
    if (thread.bare_mm < 0 || thread.ends_too_short()) return std::nullopt;
    const bool fits = thread.in_each_mm ? !thread.too_little() && !thread.too_much()
                                        : std::abs(change_mm) <= 2 * (thread.most_mm - thread.least_mm);
    return fits ? std::nullopt : std::optional(thread.cut_mm);
}

class LinkTrials {
public:
    explicit LinkTrials(const Head& head)
        : base_(head::mixer_kept(head)), fit_(head.nearest(head.horn_angles_deg({}), 0)) {}

    std::optional<LinkAdvice> try_link(const LinkPlace& place) const {
        const auto i = static_cast<std::size_t>(place.index);
        const double pitch_deg = place.upper ? pitch_without(fit_, i) : 0;
        const double meant = std::round(100 * (place.upper ? upper_mm(i, pitch_deg) : lower_mm(i))) / 100;
        Description changed = base_;
        head::Link& link = (place.upper ? changed.upper_links : changed.lower_links)[i];
        LinkAdvice out{place.upper, place.index, meant, meant - link.actual_mm(), {}, {}};
        out.rod_mm = new_rod_mm(link, meant, out.change_mm);
        if (!(std::abs(out.change_mm) >= least_change_mm)) return std::nullopt;
        link.length_mm = meant;
        link.error_mm = 0;
        const auto head = Head::build(changed);
        if (!head || head->neutral_failure() || !holds_all_round(*head, {})) return std::nullopt;
        auto neutral = head->pose(Sticks{}, 0);
        if (!neutral || neutral->tilt_deg > near_level_deg) return std::nullopt;
        if (place.upper && std::abs(neutral->pitch_deg[i] - pitch_deg) > near_pitch_deg) return std::nullopt;
        out.neutral = std::move(*neutral);
        return out;
    }

private:
    double lower_mm(std::size_t j) const {
        const double height = height_without(base_, fit_.pose.skeleton, j);
        return (level_ball(base_, j) + height * Vec3::UnitZ() - fit_.pose.skeleton.horn_balls[j]).norm();
    }
    /// The grip turned from where it stands to the pitch wanted, and the distance of its ball from the ring's.
    double upper_mm(std::size_t k, double pitch_deg) const {
        const Placement& grip = fit_.pose.skeleton.grips[k];
        const Eigen::AngleAxisd turn((pitch_deg - fit_.pose.pitch_deg[k]) * degree, grip.turn.col(2));
        const Vec3 arm = turn * Vec3(fit_.pose.skeleton.grip_balls[k] - grip.origin);
        return (grip.origin + arm - fit_.pose.skeleton.outer_balls[k]).norm();
    }

    Description base_;
    head::NearestFit fit_;
};

}  // namespace

std::optional<LinkAdvice> link_advice(const Head& head, const head::Failure& failure) {
    if (head::format_of(head.description()) > 1)
        return std::nullopt;  // what a length is meant to be is known of
                              // straight links from horn to ring to arm
    std::vector<LinkPlace> named;
    for (const head::Shortfall& s : failure.shortfalls)
        if (s.part) named.push_back({s.part->role == head::Role::upper_link, s.part->index});
    const LinkTrials trials(head);
    for (const LinkPlace& place : named)
        if (auto found = trials.try_link(place)) return found;
    // Another one may be at fault: the ring's loop is closed by all three lower links.
    for (const bool upper : {false, true})
        for (int i = 0; i < static_cast<int>((upper ? head.parts().upper_links : head.parts().lower_links).size()); ++i)
            if (auto found = trials.try_link({upper, i})) return found;
    return std::nullopt;
}

std::string advice_words(const LinkAdvice& advice, const head::Failure& failure) {
    const bool alone = failure.shortfalls.size() == 1 &&
                       failure.shortfalls[0].part ==
                           head::PartName{advice.upper ? head::Role::upper_link : head::Role::lower_link, advice.index};
    const std::string link =
        alone ? "it" : fmt::format("{} link {}", advice.upper ? "upper" : "lower", advice.index + 1);
    const std::string then =
        advice.upper ? fmt::format("blade {} then takes {} deg of pitch at mid stick", advice.index + 1,
                                   signed_figure(advice.neutral.pitch_deg[static_cast<std::size_t>(advice.index)], 2))
                     : fmt::format("the ring then stands at {:.2f} mm at mid stick, {:.2f} deg off level",
                                   advice.neutral.height_mm, advice.neutral.tilt_deg);
    const std::string rod =
        advice.rod_mm ? fmt::format(" That takes another rod, cut to {:.1f} mm.", *advice.rod_mm) : "";
    return fmt::format("Make {} {:.2f} mm, {:.2f} mm {}: {}.{}", link, advice.length_mm, std::abs(advice.change_mm),
                       advice.change_mm > 0 ? "longer" : "shorter", then, rod);
}

}  // namespace swashwright::studies
