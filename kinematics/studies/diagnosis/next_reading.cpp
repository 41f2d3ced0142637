#include "kinematics/studies/diagnosis/next_reading.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/solver.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/diagnosis/stand.h"

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::array<std::array<double, 2>, 5> cyclic{{{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}}};  // aileron, elevator
constexpr double same = 1e-6;  // a column whose rest is a smaller share than this is made of others

/// Those of the readings whose sticks the transmitter lets through and whose pose the head can take.
std::vector<PitchReading> reachable(const head::Head& head, const std::vector<PitchReading>& grid) {
    std::vector<PitchReading> out;
    head::Solver solver(head);
    for (const PitchReading& r : grid)
        if (head::lets_through(head.description().mixing, r.sticks) && solver.pose(r.sticks, r.azimuth_deg) &&
            solver.linearise())
            out.push_back(r);
    return out;
}

/// What is left of column `c` once `others` have explained what they can, as a share of the column; `weights` says how.
double unexplained(const MatrixXd& columns, Index c, const std::vector<Index>& others, VectorXd& weights) {
    if (others.empty()) return 1;
    MatrixXd basis(columns.rows(), static_cast<Index>(others.size()));
    for (std::size_t i = 0; i < others.size(); ++i) basis.col(static_cast<Index>(i)) = columns.col(others[i]);
    weights = basis.colPivHouseholderQr().solve(columns.col(c));
    return (columns.col(c) - basis * weights).norm();
}

}  // namespace

double information_gain(const VectorXd& row, const MatrixXd& covariance) {
    return 0.5 * std::log1p(row.dot(covariance * row));
}

std::vector<PitchReading> reading_grid(int blades, double uncertainty_deg, head::Kind kind) {
    std::vector<head::Sticks> places;
    for (const double end : {-1.0, 0.0, 1.0}) {
        if (kind == head::Kind::tail) places.push_back({.rudder = end});
        for (const auto& [aileron, elevator] : cyclic)
            if (kind == head::Kind::main) places.push_back({end, aileron, elevator});
    }
    std::vector<PitchReading> out;
    for (const head::Sticks& sticks : places)
        for (int azimuth = 0; azimuth < 360; azimuth += 30)
            for (int k = 0; k < blades; ++k)
                out.push_back({k, sticks, static_cast<double>(azimuth), 0, uncertainty_deg});
    return out;
}

MatrixXd effect_rows(const head::Head& head, const Readings& readings, std::span<const Fault> faults) {
    const auto as_is = expected(head, readings, faults);
    if (!as_is) return MatrixXd::Zero(static_cast<Index>(readings.size()), static_cast<Index>(faults.size()));
    MatrixXd out = as_is->slopes;
    for (std::size_t i = 0; i < faults.size(); ++i) {
        if (faults[i].sized()) continue;
        head::Description changed = head::mixer_kept(head);
        apply(faults[i], 0, changed);
        const auto other = head::Head::build(changed);
        if (!other || other->neutral_failure()) continue;
        if (const auto with = expected(*other, readings, {}))
            out.col(static_cast<Index>(i)) = with->value - as_is->value;
    }
    return out;
}

VectorXd usual_sizes(std::span<const Fault> faults) {
    VectorXd out(static_cast<Index>(faults.size()));
    for (std::size_t i = 0; i < faults.size(); ++i)
        out[static_cast<Index>(i)] = faults[i].sized() ? faults[i].usual_size() : 1;
    return out;
}

namespace {

/// Suspects in units of their usual sizes, then zero and lean in theirs: each is about 1 before anything is read.
struct Unknowns {
    MatrixXd rows;
    Index suspects = 0;

    Unknowns(const head::Head& head, const Readings& readings, std::span<const Fault> faults, const Gauge& gauge)
        : suspects(static_cast<Index>(faults.size())) {
        const MatrixXd effects = effect_rows(head, readings, faults) * usual_sizes(faults).asDiagonal();
        rows.resize(effects.rows(), suspects + 3);
        rows << effects, stand_slopes(head.description(), readings, RowsOf::readings) * usual_stand(gauge).asDiagonal();
    }
    MatrixXd information() const { return MatrixXd::Identity(rows.cols(), rows.cols()) + rows.transpose() * rows; }
};

double log_determinant(const MatrixXd& positive) {
    return 2 * MatrixXd(positive.llt().matrixL()).diagonal().array().log().sum();
}

/// Of the suspects alone, zero and lean averaged over: the whole determinant over that of zero and lean.
double log_information(const Unknowns& of) {
    const MatrixXd all = of.information();
    return log_determinant(all) - log_determinant(all.bottomRightCorner(3, 3));
}

}  // namespace

std::vector<Advice> next_readings(const head::Head& head, const Readings& readings, std::span<const Fault> suspects,
                                  std::size_t count) {
    const double uncertainty =
        readings.pitch.empty() ? PitchReading{}.uncertainty_deg : readings.pitch.front().uncertainty_deg;
    const head::Description& d = head.description();
    const Readings grid{reachable(head, reading_grid(d.rotor.blades, uncertainty, d.kind)), {}};
    const auto values = expected(head, grid, {});
    if (!values) return {};
    const MatrixXd known = Unknowns(head, readings, suspects, readings.gauge).information();
    const MatrixXd all = known.inverse(), stand = known.bottomRightCorner(3, 3).inverse();
    const Unknowns more(head, grid, suspects, readings.gauge);
    std::vector<Advice> out;
    for (std::size_t i = 0; i < grid.pitch.size(); ++i) {
        const VectorXd row = more.rows.row(static_cast<Index>(i)).transpose();
        Advice advice{grid.pitch[i], information_gain(row, all) - information_gain(row.tail(3), stand), {}};
        advice.where.reading_deg = values->value[static_cast<Index>(i)] * uncertainty;
        out.push_back(advice);
    }
    std::ranges::stable_sort(out, [](const Advice& a, const Advice& b) { return a.gain > b.gain + 1e-9; });
    if (out.size() > count) out.resize(count);
    return out;
}

void note_shown(const head::Head& head, const Readings& readings, std::span<const Fault> suspects,
                const std::vector<int>& unseen, std::vector<Advice>& advice) {
    std::vector<int> indices;
    std::vector<Fault> hidden;
    Readings places;
    for (const int f : unseen)
        if (const Fault& fault = suspects[static_cast<std::size_t>(f)]; !fault.scatters())
            indices.push_back(f), hidden.push_back(fault);
    for (const Advice& next : advice) places.pitch.push_back(next.where);
    const Unknowns so_far(head, readings, hidden, readings.gauge), more(head, places, hidden, readings.gauge);
    const MatrixXd known = so_far.information();
    for (Index i = 0; i < so_far.suspects; ++i) {
        const std::vector<Index> mine{i, so_far.suspects, so_far.suspects + 1, so_far.suspects + 2};
        for (std::size_t n = 0; n < advice.size(); ++n) {
            const VectorXd row = more.rows.row(static_cast<Index>(n))(mine).transpose();
            MatrixXd information = known(mine, mine) + row * row.transpose();
            information(0, 0) -= 1;  // the readings alone are to show it
            const VectorXd shared = information.col(0).tail(3);
            const MatrixXd stand = information.bottomRightCorner(3, 3);
            if (information(0, 0) - shared.dot(stand.llt().solve(shared)) > 1)
                advice[n].shows.push_back(indices[static_cast<std::size_t>(i)]);
        }
    }
}

double gain_on_shaft(const head::Head& head, const Readings& readings, std::span<const Fault> suspects) {
    Gauge shaft = readings.gauge;
    if (shaft.zeroed_on.value_or(ZeroedOn::shaft) == ZeroedOn::shaft) return 0;
    shaft.zeroed_on = ZeroedOn::shaft;
    return 0.5 * (log_information(Unknowns(head, readings, suspects, shaft)) -
                  log_information(Unknowns(head, readings, suspects, readings.gauge)));
}

namespace {

/// The head with every pitch-arm ball moved a little. What is alike there too is alike for good; at the head itself,
/// two faults may only begin alike (a ball with no height of its own moves straight up when it is turned).
head::Head off_the_special_case(const head::Head& head) {
    head::Description d = head.description();
    for (head::Grip& grip : d.grips) {
        grip.pitch_arm.up_mm += 1;
        grip.pitch_arm.lead_mm *= 1.03;
    }
    const auto moved = head::Head::build(d);
    return moved && !moved->neutral_failure() ? *moved : head;
}

}  // namespace

std::vector<Twins> find_twins(const head::Head& described, std::span<const Fault> suspects) {
    const head::Head head = off_the_special_case(described);
    Readings grid;
    const head::Description& d = head.description();
    for (const PitchReading& r : reachable(head, reading_grid(d.rotor.blades, 0.1, d.kind)))
        if (std::fmod(r.azimuth_deg, 60) == 0) grid.pitch.push_back(r);
    for (const double end : {-1.0, 1.0})
        for (int j = 0; j < static_cast<int>(d.swashplate.inner_balls.size()); ++j)
            grid.ring_height.push_back(
                {j, 0, 0, d.kind == head::Kind::tail ? head::Sticks{.rudder = end} : head::Sticks{.collective = end}});
    const auto here = expected(head, grid, suspects);
    if (!here) return {};
    MatrixXd columns = here->slopes;
    for (Index c = 0; c < columns.cols(); ++c)
        if (const double norm = columns.col(c).norm(); norm > 0) columns.col(c) /= norm;
    std::vector<Twins> out;
    std::vector<Index> independent, different;  // different: no two of them alike, though some may be made of others
    VectorXd weights;
    for (Index c = 0; c < columns.cols(); ++c) {
        if (columns.col(c).norm() == 0 || suspects[static_cast<std::size_t>(c)].scatters()) continue;
        const auto twin =
            std::ranges::find_if(different, [&](Index o) { return unexplained(columns, c, {o}, weights) < same; });
        if (twin != different.end()) {
            out.push_back({static_cast<int>(c), {static_cast<int>(*twin)}});
            continue;
        }
        different.push_back(c);
        if (unexplained(columns, c, independent, weights) >= same) {
            independent.push_back(c);
            continue;
        }
        out.push_back({static_cast<int>(c), {}});
        for (std::size_t i = 0; i < independent.size(); ++i)
            if (std::abs(weights[static_cast<Index>(i)]) > 1e3 * same)
                out.back().same_as.push_back(static_cast<int>(independent[i]));
    }
    return out;
}

}  // namespace swashwright::studies
