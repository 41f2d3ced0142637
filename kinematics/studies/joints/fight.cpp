#include "kinematics/studies/joints/fight.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/all_slopes.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/joints/closure_rows.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {

namespace {

using head::NumberKind;
using linkage::ClosureKind;
using Gaps = Eigen::Matrix3Xd;  // of each closure that shares, as `gap_of` has them, mm

constexpr double most_length_mm = 5, most_trim_deg = 15;
constexpr double least_effect = 1e-6;   // of a number on the misfit, mm per mm or deg
constexpr double least_share = 1e-6;    // of the largest force: less is none
constexpr double equally_good = 1.02;   // misfit left, over the least
constexpr double least_seen_mm = 1e-4;  // of a misfit
constexpr double helps_at_all = 0.999;  // of the misfit: more is rounding

struct Place {
    head::Sticks sticks;
    double azimuth_deg = 0;
};

/// Closures that share what does not fit. Driver pins count only where nothing else shares: their arms slide, so no
/// servo feels them.
std::vector<int> sharing(const head::Head& head, bool drivers) {
    std::vector<int> out;
    for (const linkage::Block& block : head.plan().blocks())
        for (const linkage::Row& row : block.rows)
            if (row.least_squares && (row.kind == ClosureKind::slot) == drivers &&
                (out.empty() || out.back() != row.closure))
                out.push_back(row.closure);
    return out;
}

/// Does any of these change as the rotor turns?
bool turning(const head::Head& head, const std::vector<int>& sharers) {
    for (const linkage::Block& block : head.plan().blocks())
        for (const linkage::Row& row : block.rows)
            if (std::ranges::find(sharers, row.closure) != sharers.end() &&
                (block.inputs >> head.parts().hub_input & 1) != 0)
                return true;
    return false;
}

std::vector<Place> places_of(const head::Head& head, const FightGrid& grid, bool turns) {
    const head::Description& d = head.description();
    std::vector<head::Sticks> sticks;
    if (is_tail(d)) {
        for (int i = 0; i < grid.rudders; ++i) sticks.push_back(main_stick_at(d, -1 + 2.0 * i / (grid.rudders - 1)));
    } else {
        for (int i = 0; i < grid.collectives; ++i) {
            const double collective = -1 + 2.0 * i / (grid.collectives - 1);
            const double most = most_cyclic_out(d.mixing, collective);
            if (most < 0) continue;
            sticks.push_back({.collective = collective});
            for (int ring = 1; ring <= grid.rings && most > 0; ++ring)
                for (const double direction : turn_azimuths(grid.directions))
                    sticks.push_back(sticks_at(d.mixing.cyclic_stick, collective, most * ring / grid.rings, direction));
        }
    }
    std::vector<Place> out;
    for (const double azimuth : turn_azimuths(turns ? grid.azimuths : 1))
        for (const head::Sticks& one : sticks) out.push_back({one, azimuth});
    return out;
}

Gaps gaps_at(const head::Head& head, const linkage::Workspace& ws, const std::vector<int>& sharers) {
    Gaps out(3, sharers.size());
    for (std::size_t i = 0; i < sharers.size(); ++i)
        out.col(static_cast<Eigen::Index>(i)) = gap_of(head.plan(), ws, sharers[i]);
    return out;
}

double largest(const Gaps& gaps) {
    return std::sqrt(gaps.colwise().squaredNorm().maxCoeff());
}

constexpr std::size_t sides = 3;  // of a gap

/// How the gaps change with the motion, as linear readings: three of each sharer. What a length's own change does comes
/// on top.
void weigh_gaps(const head::Head& head, const linkage::Workspace& ws, const std::vector<int>& sharers,
                std::span<linkage::Reading> out) {
    using What = linkage::ReadingTerm::What;
    for (std::size_t i = 0; i < sharers.size(); ++i) {
        const auto index = static_cast<std::size_t>(sharers[i]);
        const linkage::Closure& c = head.plan().description().closures()[index];
        const Vec3 span = ws.point(c.b) - ws.point(c.a);
        for (std::size_t side = 0; side < sides; ++side) {
            Vec3 along = Vec3::Unit(static_cast<Eigen::Index>(side)), turning = Vec3::Zero();
            if (c.kind != ClosureKind::coincidence && side > 0) {
                along.setZero();
            } else if (c.kind == ClosureKind::link) {
                along = span.normalized();
            } else if (c.kind == ClosureKind::slot) {
                along = -ws.normals[index];
                turning = -ws.normals[index].cross(span);  // -(spin x normal) . span
            }
            const int plane = head.plan().description().anchors()[static_cast<std::size_t>(c.b.index)].body.index;
            out[sides * i + side] = {{What::point, c.b.index, 0, along},
                                     {What::point, c.a.index, 0, -along},
                                     {What::spin, plane, 0, turning}};
        }
    }
}

/// By each number, the length's own change included.
std::vector<Gaps> gap_slopes(const head::Head& head, const head::AllSlopes::Table& table, int first,
                             const std::vector<int>& sharers, const std::vector<head::Number>& numbers) {
    std::vector<Gaps> out;
    std::vector<linkage::Change> changes;
    for (std::size_t n = 0; n < numbers.size(); ++n) {
        Gaps rates(3, sharers.size());
        for (Eigen::Index i = 0; i < rates.cols(); ++i)
            rates.col(i) = table.block<3, 1>(first + 3 * i, static_cast<Eigen::Index>(n));
        changes.clear();
        if (head::is_length(numbers[n].kind)) numbers[n].rates(head, {}, changes);
        for (const linkage::Change& change : changes)
            for (std::size_t i = 0; i < sharers.size(); ++i)
                if (change.what == linkage::Quantity::length && change.index == sharers[i])
                    rates(0, static_cast<Eigen::Index>(i)) -= change.amount.x();
        out.push_back(std::move(rates));
    }
    return out;
}

/// Lengths of links and trims of servos: what can be set at the bench without taking anything off.
std::vector<head::Number> settable(const head::Description& d) {
    std::vector<head::Number> out;
    for (head::Number& number : head::numbers(d))
        if (head::is_length(number.kind) || number.kind == NumberKind::trim) out.push_back(std::move(number));
    return out;
}

/// What a sweep of the envelope finds.
struct Sweep {
    long open = 0;
    double misfit_mm = -1;
    std::optional<Place> worst;
    std::optional<linkage::Workspace> stands;  // there
    std::vector<Gaps> gaps;                    // at every place that closes
    std::vector<std::vector<Gaps>> slopes;     // there, by each number
};

/// Unfinished where it is stopped.
Sweep sweep(const head::Head& head, const std::vector<Place>& places, const std::vector<int>& sharers,
            const std::vector<head::Number>& numbers, const Going& going) {
    Sweep out;
    std::size_t looked_at = 0;
    head::Solver solver(head);
    std::vector<linkage::Reading> gaps(sides * sharers.size());
    weigh_gaps(head, solver.workspace(), sharers, gaps);
    head::AllSlopes slopes(head, numbers, gaps);
    for (const Place& place : places) {
        if (going.stopped()) break;
        going.tell(static_cast<double>(looked_at++) / static_cast<double>(places.size()));
        if (!solver.pose(place.sticks, place.azimuth_deg)) {
            ++out.open;
            continue;
        }
        out.gaps.push_back(gaps_at(head, solver.workspace(), sharers));
        if (const double here = largest(out.gaps.back()); here > out.misfit_mm) {
            out.misfit_mm = here;
            out.worst = place;
            out.stands = solver.workspace();
        }
        out.slopes.emplace_back();
        if (numbers.empty()) continue;
        weigh_gaps(head, solver.workspace(), sharers, gaps);
        for (std::size_t i = 0; i < gaps.size(); ++i) slopes.own_reading(static_cast<int>(i)) = gaps[i];
        if (!slopes.at(solver)) continue;
        out.slopes.back() = gap_slopes(head, slopes.by_numbers(solver, place.sticks), slopes.own(), sharers, numbers);
    }
    return out;
}

/// The change of number `n` that makes the largest misfit least, with gaps as straight lines of it. The largest of
/// straight lines' sizes is convex, so thirds close in on its least (a ternary search).
double best_change(const Sweep& found, std::size_t n, double most, const Going& going) {
    const auto misfit = [&](double change) {
        double worst = 0;
        for (std::size_t p = 0; p < found.gaps.size(); ++p)
            if (n < found.slopes[p].size())
                worst = std::max(worst, largest(found.gaps[p] + change * found.slopes[p][n]));
        return worst;
    };
    double low = -most, high = most;
    while (high - low > 1e-5 && !going.stopped()) {
        const double a = low + (high - low) / 3, b = high - (high - low) / 3;
        (misfit(a) < misfit(b) ? high : low) = misfit(a) < misfit(b) ? b : a;
    }
    return (low + high) / 2;
}

std::vector<Remedy> remedies(const head::Head& head, const std::vector<Place>& places, const std::vector<int>& sharers,
                             const std::vector<head::Number>& numbers, const Sweep& found, const Going& going) {
    std::vector<Remedy> out;
    const head::Description base = head::mixer_kept(head);
    for (std::size_t n = 0; n < numbers.size() && !going.stopped(); ++n) {
        const double one = 1.0 / static_cast<double>(numbers.size()), before = one * static_cast<double>(n);
        double effect = 0;
        for (const auto& slopes : found.slopes)
            if (n < slopes.size()) effect = std::max(effect, largest(slopes[n]));
        if (effect < least_effect) continue;
        const double change =
            best_change(found, n, head::is_length(numbers[n].kind) ? most_length_mm : most_trim_deg, going);
        head::Description changed = base;
        numbers[n].at(changed) += change;
        const auto with = head::Head::build(changed);
        if (!with || with->neutral_failure()) continue;
        const Sweep after = sweep(*with, places, sharers, {}, going.part(before, before + one));
        if (after.open <= found.open && after.misfit_mm < helps_at_all * found.misfit_mm)
            out.push_back(
                {numbers[n], change, after.misfit_mm, with->nearest(with->horn_angles_deg({}), 0).pose.tilt_deg});
    }
    std::ranges::stable_sort(out, {}, &Remedy::left_mm);
    // Where one link is too many, each of them can make up for it; the one at fault leaves the ring level.
    const auto equal = std::ranges::find_if(
        out, [&](const Remedy& r) { return r.left_mm > equally_good * out.front().left_mm + least_seen_mm; });
    std::ranges::stable_sort(out.begin(), equal, {}, &Remedy::tilt_deg);
    return out;
}

/// The part that a closure is, in the words of a table.
Fighter fighter_of(const head::Head& head, int closure, bool shares) {
    const linkage::Closure& c = head.plan().description().closures()[static_cast<std::size_t>(closure)];
    Fighter out{.closure = closure, .words = c.name, .shares = shares};
    for (const head::LinkRod& rod : head.model().rods())
        if (rod.closure.index == closure) {
            out.part = head.model().part(rod.part).path;
            out.words = head.model().part(rod.part).words;
            out.is_link = true;
            out.play_mm = 2 * rod.made.play_mm;
        }
    const auto& pins = head.parts().pins;
    for (std::size_t i = 0; i < pins.size(); ++i)
        if (pins[i].index == closure) out.part = fmt::format("pin[{}]", i + 1);
    if (out.part.empty()) out.part = "swashplate";  // its guide and its drivers
    return out;
}

/// What else than the sharers is strained in one of the two places.
void add_strained(const head::Head& head, Fight& fight, const std::optional<SelfStress>& one,
                  const std::optional<SelfStress>& other) {
    std::vector<double> most(head.plan().description().closures().size(), 0.0);
    for (const auto* stress : {&one, &other})
        for (std::size_t i = 0; *stress && i < most.size(); ++i)
            most[i] = std::max(most[i], std::abs((*stress)->force_n[i]));
    const double largest_force = std::ranges::max(most);
    for (std::size_t i = 0; i < most.size(); ++i)
        if (const int closure = static_cast<int>(i);
            most[i] > least_share * largest_force &&
            std::ranges::find(fight.fighters, closure, &Fighter::closure) == fight.fighters.end())
            fight.fighters.push_back(fighter_of(head, closure, false));
}

FightPlace place_of(const head::Head& head, const Sweep& found, const Fight& fight,
                    const std::optional<SelfStress>& stress) {
    FightPlace out{.sticks = found.worst->sticks,
                   .azimuth_deg = found.worst->azimuth_deg,
                   .misfit_mm = found.misfit_mm,
                   .rigid = !stress};
    for (const Fighter& fighter : fight.fighters) {
        const Vec3 gap = gap_of(head.plan(), *found.stands, fighter.closure);
        out.error_mm.push_back(!fighter.shares ? 0.0 : fighter.is_link ? gap.x() : gap.norm());
        if (stress) out.force_n.push_back(stress->force_n[static_cast<std::size_t>(fighter.closure)]);
    }
    for (std::size_t j = 0; stress && j < stress->moment_nmm.size(); ++j)
        out.moment_nmm.push_back(head.raise_signs()[j] * stress->moment_nmm[j]);
    return out;
}

bool all_within_play(const Fight& fight, const Sweep& found) {
    for (const Gaps& gaps : found.gaps)
        for (Eigen::Index i = 0; i < gaps.cols(); ++i)
            if (gaps.col(i).norm() > fight.fighters[static_cast<std::size_t>(i)].play_mm) return false;
    return true;
}

}  // namespace

head::Result<Fight> fight(const head::Head& head, const FightOptions& options, const Going& going) {
    if (head.neutral_failure()) return tl::unexpected(*head.neutral_failure());
    Fight out{.options = options};
    const std::vector<int> drivers = sharing(head, true);
    std::vector<int> sharers = sharing(head, false);
    if (sharers.empty()) {
        sharers = drivers;
        out.drivers_only = !drivers.empty();
    }
    if (sharers.empty()) return out;
    out.turns = turning(head, sharers);
    const std::vector<Place> places = places_of(head, options.grid, out.turns);
    const std::vector<head::Number> numbers = settable(head.description());
    const Sweep found = sweep(head, places, sharers, numbers, going.part(0, 0.3));
    if (going.stopped()) return tl::unexpected(was_stopped());
    out.places = static_cast<long>(places.size());
    out.open = found.open;
    if (!found.worst) return tl::unexpected(head::Failure{"the linkage closes nowhere over the sticks", {}});

    std::vector<Place> middles;
    for (const double azimuth : turn_azimuths(out.turns ? options.grid.azimuths : 1)) middles.push_back({{}, azimuth});
    const Sweep middle = sweep(head, middles, sharers, {}, {});
    if (!middle.worst) return tl::unexpected(head::Failure{"the linkage closes nowhere at mid stick", {}});
    for (const int closure : sharers) out.fighters.push_back(fighter_of(head, closure, true));
    const auto worst_stress = self_stress(head, *found.stands, options.give, drivers);
    const auto middle_stress = self_stress(head, *middle.stands, options.give, drivers);
    add_strained(head, out, worst_stress, middle_stress);
    out.worst = place_of(head, found, out, worst_stress);
    out.middle = place_of(head, middle, out, middle_stress);
    out.within_play = all_within_play(out, found);
    out.remedies = remedies(head, places, sharers, numbers, found, going.part(0.3, 1));
    if (going.stopped()) return tl::unexpected(was_stopped());
    return out;
}

}  // namespace swashwright::studies
