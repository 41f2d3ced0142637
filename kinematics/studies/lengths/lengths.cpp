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
#include "kinematics/studies/lengths/bounded_fit.h"
#include "kinematics/studies/lengths/rounding.h"
#include "kinematics/studies/lengths/wish_misses.h"

namespace swashwright::studies {

namespace {

using head::Description;
using head::NumberKind;

std::vector<FreeNumber> free_where(const Description& d, auto&& wanted) {
    std::vector<FreeNumber> out;
    for (const head::Number& p : head::numbers(d))
        if (wanted(p)) out.push_back(free_number(d, p));
    return out;
}

/// The head and the wishes as a model of the free numbers.
class Problem {
public:
    Problem(const Description& description, const LengthsRequest& request, std::stop_token stop)
        : base_(description),
          request_(request),
          stop_(std::move(stop)),
          rows_(wish_rows(description, request.wishes)),
          weights_(static_cast<Eigen::Index>(rows_.size())) {
        for (std::size_t r = 0; r < rows_.size(); ++r) weights_[static_cast<Eigen::Index>(r)] = rows_[r].weight;
        for (const FreeNumber& free : request.free) numbers_.push_back(free.number);
    }

    Description with(const Eigen::VectorXd& x) const {
        Description d = base_;
        for (std::size_t i = 0; i < numbers_.size(); ++i) head::value(d, numbers_[i]) = x[static_cast<Eigen::Index>(i)];
        return d;
    }
    Eigen::VectorXd present() const {
        Eigen::VectorXd x(static_cast<Eigen::Index>(numbers_.size()));
        for (std::size_t i = 0; i < numbers_.size(); ++i)
            x[static_cast<Eigen::Index>(i)] = head::value(base_, numbers_[i]);
        return x;
    }
    std::optional<WishValues> values(const Eigen::VectorXd& x) const {
        const auto head = head::Head::build(with(x));
        return head ? wish_values(*head, request_.wishes, rows_, numbers_) : std::nullopt;
    }
    /// Least squares over the numbers of `least` below `most`; the others stay.
    BoundedFit fit(const Eigen::VectorXd& start, const Eigen::VectorXd& least, const Eigen::VectorXd& most) const {
        return bounded_fit(
            [this](const Eigen::VectorXd& x, Eigen::VectorXd& residual, Eigen::MatrixXd& jacobian) {
                if (stop_.stop_requested()) return false;
                const auto at = values(x);
                if (!at) return false;
                residual = weights_.cwiseProduct(at->off);
                jacobian = weights_.asDiagonal() * at->slopes;
                return true;
            },
            start, least, most);
    }

    Description& base() { return base_; }
    const std::vector<WishRow>& rows() const { return rows_; }
    const Eigen::VectorXd& weights() const { return weights_; }

private:
    Description base_;
    const LengthsRequest& request_;
    std::stop_token stop_;
    std::vector<WishRow> rows_;
    Eigen::VectorXd weights_;
    std::vector<head::Number> numbers_;
};

struct Bounds {
    Eigen::VectorXd least, most;
};

Bounds bounds_of(const LengthsRequest& request) {
    Bounds out{Eigen::VectorXd(static_cast<Eigen::Index>(request.free.size())),
               Eigen::VectorXd(static_cast<Eigen::Index>(request.free.size()))};
    for (std::size_t i = 0; i < request.free.size(); ++i) {
        out.least[static_cast<Eigen::Index>(i)] = request.free[i].least;
        out.most[static_cast<Eigen::Index>(i)] = request.free[i].most;
    }
    return out;
}

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
        fmt::format("the head does not close ({}), and the numbers that may be changed cannot bring "
                    "it together; free more of them or widen their bounds",
                    why));
}

/// Values that a free number can be set to, near `x` and within its bounds.
Grid grid_of(const Description& d, const FreeNumber& free, double x, bool trim_the_rest) {
    const auto i = static_cast<std::size_t>(free.number.index);
    const double present = head::value(d, free.number);
    if (free.number.kind == NumberKind::horn_length) {
        Grid holes = d.servos[i].horn_holes_mm;
        std::ranges::sort(holes);
        return holes.empty() ? Grid{present} : holes;
    }
    double step = 0;
    if (free.number.kind == NumberKind::neutral && !trim_the_rest) step = 360.0 / d.servos[i].spline_teeth;
    const head::Link* link = link_of(d, free.number);
    if (link && link->rod == head::Rod::plain) step = link_step(*link).mm;  // a turnbuckle is set to anything
    Grid out;
    constexpr int around = 6;
    if (step > 0)
        for (double k = std::round((x - present) / step) - around, last = k + 2 * around; k <= last; ++k)
            if (const double v = present + k * step; v >= free.least && v <= free.most) out.push_back(v);
    return step > 0 && out.empty() ? Grid{present} : out;
}

/// The best settings with the stepped numbers held at what `setting` says and the others fitted anew.
BoundedFit held(const Problem& problem, const Bounds& bounds, const std::vector<Grid>& grids,
                const Eigen::VectorXd& setting) {
    Bounds narrow = bounds;
    for (std::size_t i = 0; i < grids.size(); ++i)
        if (!grids[i].empty()) {
            const auto k = static_cast<Eigen::Index>(i);
            narrow.least[k] = narrow.most[k] = setting[k];
        }
    return problem.fit(setting, narrow.least, narrow.most);
}

/// The stepped numbers rounded together: the best of `start` and of what the linear model finds, tried on the linkage.
BoundedFit best_setting(const Problem& problem, const Bounds& bounds, const std::vector<Grid>& grids,
                        const BoundedFit& exact, const BoundedFit& start) {
    constexpr std::size_t tried = 24;
    BoundedFit best = start;
    for (const Eigen::VectorXd& setting : round_together(exact.x, exact.residual, exact.jacobian, grids, tried)) {
        const BoundedFit trial = held(problem, bounds, grids, setting);
        if (trial.started && (!best.started || trial.residual.squaredNorm() < best.residual.squaredNorm()))
            best = trial;
    }
    return best;
}

std::string words_of(WishKind kind, const Wishes& wishes, const Description& d) {
    switch (kind) {
        case WishKind::height:
            return fmt::format("{} at {:.2f} mm", d.swashplate.tilts ? "ring" : "slider",
                               wishes.height_mm.value_or(d.swashplate.neutral_height_mm));
        case WishKind::level:
            return "ring level at neutral";
        case WishKind::pitch:
            return wishes.pitch_deg == 0
                       ? fmt::format("zero pitch at {}", mid_stick_words(d))
                       : fmt::format("{} deg of pitch at {}", signed_figure(wishes.pitch_deg, 1), mid_stick_words(d));
        case WishKind::square:
            return "horns square to their links";
        case WishKind::range:
            break;
    }
    return fmt::format("pitch {} and {} deg at the ends", signed_figure((*wishes.range_deg)[0], 1),
                       signed_figure((*wishes.range_deg)[1], 1));
}

/// What every wish comes to with the exact settings, with those that can be set, and rounded one by one.
head::Result<std::vector<WishOutcome>> outcomes(const Wishes& wishes, const Description& exact, const Description& set,
                                                const Description& each) {
    const auto left = wish_misses(exact, wishes), left_set = wish_misses(set, wishes);
    if (!left) return tl::unexpected(left.error());
    if (!left_set) return tl::unexpected(left_set.error());
    const auto left_each = wish_misses(each, wishes);
    std::vector<WishOutcome> out;
    for (std::size_t w = 0; w < left->size(); ++w) {
        const WishMiss& miss = (*left)[w];
        out.push_back({miss.kind, words_of(miss.kind, wishes, exact), miss.kind == WishKind::height ? "mm" : "deg",
                       miss.most, (*left_set)[w].most, (left_each ? *left_each : *left_set)[w].most, miss.at});
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

FreeNumber free_number(const Description& d, const head::Number& p) {
    const double now = head::value(d, p);
    if (link_of(d, p)) return {p, std::max(now - 10, 1.0), now + 10};
    if (p.kind == NumberKind::neutral) return {p, now - 30, now + 30};
    if (p.kind == NumberKind::horn_length) {
        const auto& holes = d.servos[static_cast<std::size_t>(p.index)].horn_holes_mm;
        return holes.empty() ? FreeNumber{p, now, now}
                             : FreeNumber{p, std::ranges::min(holes), std::ranges::max(holes)};
    }
    const double room = p.unit == head::Unit::mm ? 5 : 10;
    return {p, now - room, now + room};
}

std::vector<FreeNumber> free_links(const Description& d) {
    return free_where(d, [&](const head::Number& p) { return link_of(d, p) != nullptr; });
}
std::vector<FreeNumber> free_neutrals(const Description& d) {
    return free_where(d, [](const head::Number& p) { return p.kind == NumberKind::neutral; });
}
std::vector<FreeNumber> free_horns(const Description& d) {
    return free_where(d, [&](const head::Number& p) {
        return p.kind == NumberKind::horn_length && !d.servos[static_cast<std::size_t>(p.index)].horn_holes_mm.empty();
    });
}

LinkForms link_forms(const head::Link& link, double centre_mm) {
    const double boss = (link.boss_mm[0] + link.boss_mm[1]) / 2;
    return {centre_mm, centre_mm - boss, centre_mm + boss, centre_mm - link.end_length_mm[0] - link.end_length_mm[1]};
}

HornMove horn_move(const head::Servo& servo, double change_deg) {
    const double tooth = 360.0 / servo.spline_teeth;
    const int teeth = static_cast<int>(std::lround(change_deg / tooth));
    return {teeth, change_deg - teeth * tooth};
}

tl::expected<Lengths, std::string> link_lengths(const Description& description, const LengthsRequest& request,
                                                std::stop_token stop) {
    Problem problem(description, request, stop);
    if (auto mistake = mistake_of(request, problem); !mistake.empty()) return tl::unexpected(mistake);
    const auto head = head::Head::build(description);
    if (!head) return tl::unexpected(head.error().message);
    const Bounds bounds = bounds_of(request);

    Lengths out;
    out.wanted_deg = request.wishes.pitch_deg;
    out.present = description;
    Eigen::VectorXd start = problem.present();
    if (!problem.values(start)) {
        const auto closing = closing_start(problem, request, *head, bounds);
        if (!closing) return tl::unexpected(closing.error());
        start = *closing;
        out.carried_over = true;
    }
    const BoundedFit exact = problem.fit(start, bounds.least, bounds.most);
    if (stop.stop_requested()) return tl::unexpected(std::string("stopped"));
    if (!exact.started) return tl::unexpected(std::string("within the bounds the head does not close; widen them"));

    std::vector<Grid> grids;
    for (std::size_t i = 0; i < request.free.size(); ++i)
        grids.push_back(
            grid_of(description, request.free[i], exact.x[static_cast<Eigen::Index>(i)], request.trim_the_rest));
    const BoundedFit each = held(problem, bounds, grids, round_each(exact.x, grids));
    const BoundedFit set = best_setting(problem, bounds, grids, exact, each);
    if (stop.stop_requested()) return tl::unexpected(std::string("stopped"));
    if (!set.started) return tl::unexpected(std::string("no setting in whole steps lets the head close"));
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
    auto wishes = outcomes(request.wishes, out.exact, out.set, problem.with(alone.x));
    if (!wishes)
        return tl::unexpected("with the nearest lengths the head does not close all round the turn: " +
                              wishes.error().message);
    out.wishes = std::move(*wishes);
    return out;
}

}  // namespace swashwright::studies
