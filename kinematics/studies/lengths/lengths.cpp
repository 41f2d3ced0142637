#include "kinematics/studies/lengths/lengths.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/lengths/problem.h"
#include "kinematics/studies/lengths/settings.h"
#include "kinematics/studies/lengths/wish_misses.h"
#include "kinematics/studies/pitch/harmonics.h"

namespace swashwright::studies {

namespace {

using head::Description;
using head::NumberKind;

/// Lengthens or shortens every link to what the nearest pose leaves between its balls. What each link then has too much
/// is returned, to be taken back bit by bit.
using Slack = std::map<head::PartName, double>;  // mm

Slack slack_of(const head::Head& head) {
    const auto fit = head.nearest(head.horn_angles_deg({}), 0);
    const Description& d = head.description();
    Slack out;
    for (const head::PartName& link : links_of(d)) {
        const auto ends = *ends_of(d, link);
        const Vec3 span = *ball_place(fit.pose.skeleton, ends[1]) - *ball_place(fit.pose.skeleton, ends[0]);
        out[link] = span.norm() - link_of(d, link)->actual_mm();
    }
    return out;
}

Description with_slack(Description d, const Slack& slack, double share) {
    for (const auto& [link, more] : slack) link_of(d, link)->error_mm += share * more;
    return d;
}

/// Where the fit can go on with every link `margin` mm beyond what the nearest pose asks for: there a link just
/// reaches, which is a dead point. Free links take their slack at once; that of the others is taken back in steps while
/// the free numbers follow.
std::optional<Eigen::VectorXd> closing_start(Problem& problem, const LengthsRequest& request, Slack slack,
                                             const Bounds& bounds, double margin) {
    constexpr double none = 1e-6;  // mm
    for (auto& [link, mine] : slack)
        if (std::abs(mine) > none) mine += std::copysign(margin, mine);
    Eigen::VectorXd x = problem.present();
    for (std::size_t i = 0; i < request.free.size(); ++i) {
        const head::Number& number = request.free[i].number;
        if (!is_length(number.kind)) continue;
        double& mine = slack.at(*head::part_of(number.part));
        const auto k = static_cast<Eigen::Index>(i);
        const double to = std::clamp(x[k] + mine, bounds.least[k], bounds.most[k]);
        mine -= to - x[k];
        x[k] = to;
    }
    const Description plain = problem.base();
    constexpr int parts = 8;
    for (int part = 0; part <= parts; ++part) {
        problem.base() = with_slack(plain, slack, 1 - static_cast<double>(part) / parts);
        const BoundedFit fit = problem.fit(x, bounds.least, bounds.most);
        problem.base() = plain;
        if (!fit.started) return std::nullopt;
        x = fit.x;
    }
    return x;
}

tl::expected<Eigen::VectorXd, std::string> closing_start(Problem& problem, const LengthsRequest& request,
                                                         const head::Head& head, const Bounds& bounds) {
    const Slack slack = slack_of(head);
    for (const double margin : {1.0, 3.0, 6.0, 12.0})
        if (const auto start = closing_start(problem, request, slack, bounds, margin)) return *start;
    const std::string why = head.neutral_failure() ? head.neutral_failure()->message : "it stands at a dead point";
    return tl::unexpected(
        fmt::format("the links do not reach ({}), and the numbers that may be changed cannot bring "
                    "it together; free more of them or widen their bounds",
                    why));
}

/// A tail's mean pitch at centred rudder with every link as long as the scene means it; none if it does not close so.
std::optional<double> pitch_as_drawn(Description d) {
    for (const head::PartName& link : links_of(d)) link_of(d, link)->error_mm = 0;
    const auto head = head::Head::build(d);
    const auto pitch = head ? pitch_harmonics(*head, {}) : tl::unexpected(head.error());
    if (!pitch || pitch->empty()) return std::nullopt;
    double sum = 0;
    for (const Harmonics& blade : *pitch) sum += blade.mean;
    return sum / static_cast<double>(pitch->size());
}

std::string pitch_words(const Wishes& wishes, bool as_drawn, const Description& d) {
    const double wanted = wishes.pitch_deg.value_or(0);
    const char* at = mid_stick_words(d);
    if (as_drawn) return fmt::format("pitch at {} as drawn, {} deg", at, signed_figure(wanted, 2));
    return wanted == 0 ? fmt::format("zero pitch at {}", at)
                       : fmt::format("{} deg of pitch at {}", signed_figure(wanted, 1), at);
}

std::string words_of(WishKind kind, const Wishes& wishes, bool as_drawn, const Description& d) {
    switch (kind) {
        case WishKind::height:
            return fmt::format("{} at {:.2f} mm", d.swashplate.tilts ? "ring" : "slider",
                               wishes.height_mm.value_or(d.swashplate.neutral_height_mm));
        case WishKind::level:
            return "ring level at neutral";
        case WishKind::pitch:
            return pitch_words(wishes, as_drawn, d);
        case WishKind::square:
            return "horns square to their links";
        case WishKind::misfit:
            return "links fit each other";
        case WishKind::range:
            break;
    }
    return fmt::format("pitch {} and {} deg at the ends", signed_figure((*wishes.range_deg)[0], 1),
                       signed_figure((*wishes.range_deg)[1], 1));
}

/// What every wish comes to with the exact settings, with those that can be set, and rounded one by one.
head::Result<std::vector<WishOutcome>> outcomes(const Wishes& wishes, bool as_drawn, const Description& exact,
                                                const Description& set, const Description& each) {
    const auto left = wish_misses(exact, wishes), left_set = wish_misses(set, wishes);
    if (!left) return tl::unexpected(left.error());
    if (!left_set) return tl::unexpected(left_set.error());
    const auto left_each = wish_misses(each, wishes);
    std::vector<WishOutcome> out;
    for (std::size_t w = 0; w < left->size(); ++w) {
        const WishMiss& miss = (*left)[w];
        const bool length = miss.kind == WishKind::height || miss.kind == WishKind::misfit;
        out.push_back({miss.kind, words_of(miss.kind, wishes, as_drawn, exact), length ? "mm" : "deg", miss.most,
                       (*left_set)[w].most, (left_each ? *left_each : *left_set)[w].most, miss.at});
    }
    return out;
}

/// `to`: exact, as it can be set with the others, as it can be set by itself; of links without their errors.
Setting setting_of(const Description& d, const FreeNumber& free, const std::array<double, 3>& to, bool stepped) {
    const head::Link* link = link_of(d, free.number);
    const double error = link ? link->error_mm : 0;
    const bool at_bound = to[0] <= free.least || to[0] >= free.most;
    return {free, head::value(d, free.number) + error, to[0] + error, to[1] + error, to[2] + error, at_bound, stepped};
}

std::string mistake_of(const LengthsRequest& request, const Problem& problem) {
    if (problem.rows().empty()) return "nothing is wished for";
    if (request.free.empty()) return "nothing may be changed: name the numbers that are free";
    for (const FreeNumber& free : request.free)
        if (!(free.least <= free.most))
            return fmt::format("{}: the bounds {} to {} leave no room", free.number.label, free.least, free.most);
    return {};
}

}  // namespace

tl::expected<Lengths, std::string> link_lengths(const Description& description, const LengthsRequest& asked,
                                                const Going& going) {
    LengthsRequest request = asked;
    if (is_tail(description) && !asked.wishes.pitch_deg) request.wishes.pitch_deg = pitch_as_drawn(description);
    const bool as_drawn = request.wishes.pitch_deg && !asked.wishes.pitch_deg;
    Problem problem(description, request, going.stop);
    if (auto mistake = mistake_of(request, problem); !mistake.empty()) return tl::unexpected(mistake);
    const auto head = head::Head::build(description);
    if (!head) return tl::unexpected(head.error().message);
    const Bounds bounds = bounds_of(request);

    Lengths out;
    out.wanted_deg = request.wishes.pitch_deg.value_or(0);
    if (const auto& ends = request.wishes.range_deg)
        out.uneven_ends = !is_tail(description) && std::abs((*ends)[0] + (*ends)[1]) > 0.5;
    out.present = description;
    Eigen::VectorXd start = problem.present();
    if (!problem.values(start)) {
        const auto closing = closing_start(problem, request, *head, bounds);
        if (!closing) return tl::unexpected(closing.error());
        start = *closing;
        out.carried_over = true;
    }
    BoundedFit exact = problem.fit(start, bounds.least, bounds.most);
    if (going.stopped()) return tl::unexpected(was_stopped().message);
    going.tell(0.3);
    if (!exact.started) return tl::unexpected(std::string("within the bounds the links do not reach; widen them"));
    exact = fewest_changes(problem, request, bounds, exact);

    std::vector<Grid> grids;
    for (std::size_t i = 0; i < request.free.size(); ++i)
        grids.push_back(
            grid_of(description, request.free[i], exact.x[static_cast<Eigen::Index>(i)], request.trim_the_rest));
    going.tell(0.6);
    const BoundedFit each = held(problem, bounds, grids, round_each(exact.x, grids));
    const BoundedFit set = best_setting(problem, request, bounds, grids, exact, each);
    if (going.stopped()) return tl::unexpected(was_stopped().message);
    going.tell(0.9);
    if (!set.started) return tl::unexpected(std::string("no setting in whole steps lets the links reach"));
    const BoundedFit& alone = each.started ? each : set;

    out.left = exact.residual.norm();
    out.left_set = set.residual.norm();
    out.left_set_each = alone.residual.norm();
    for (std::size_t i = 0; i < request.free.size(); ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        out.settings.push_back(
            setting_of(description, request.free[i], {exact.x[k], set.x[k], alone.x[k]}, !grids[i].empty()));
    }
    out.exact = problem.with(exact.x);
    out.set = problem.with(set.x);
    auto wishes = outcomes(request.wishes, as_drawn, out.exact, out.set, problem.with(alone.x));
    if (!wishes)
        return tl::unexpected("with the nearest lengths the links do not reach all round the turn: " +
                              wishes.error().message);
    out.wishes = std::move(*wishes);
    return out;
}

}  // namespace swashwright::studies
