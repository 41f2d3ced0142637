#include "kinematics/studies/diagnosis/stand.h"

#include <Eigen/Dense>
#include <algorithm>

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double zeroed_on_blade_deg = 5;

/// Covariance of rows `a` with rows `b` of what has these slopes and deviations.
MatrixXd together(const MatrixXd& a, const VectorXd& deviation, const MatrixXd& b) {
    return a * deviation.cwiseAbs2().asDiagonal() * b.transpose();
}

/// What may be off in how the head was built, and by how much usually.
struct Build {
    std::vector<std::vector<std::pair<head::Number, double>>> numbers;
    VectorXd usual;

    explicit Build(const std::vector<head::Number>& all) {
        std::vector<double> tolerances;
        for (const head::Number& number : all) {
            const bool twice =
                head::is_error(number.kind) || number.kind == head::NumberKind::trim;  // moves as another
            if (!(number.usual_tolerance > 0) || twice) continue;
            numbers.push_back({{number, 1.0}});
            tolerances.push_back(number.usual_tolerance);
        }
        usual = Eigen::Map<VectorXd>(tolerances.data(), static_cast<Index>(tolerances.size()));
    }
};

/// How the head was built, as readings from before have it.
bool built(const head::Head& head, const Readings& readings, const std::vector<head::Number>& numbers, Shared& out) {
    const Readings& before = *readings.before;
    const Build build(numbers);
    const VectorXd& deviation = build.usual;
    const auto now = expected_along(head, readings, build.numbers, RowsOf::every_blade);
    const auto then = expected_along(head, before, build.numbers, RowsOf::readings);
    if (!now || !then) return false;
    const MatrixXd stand = stand_slopes(head.description(), before, RowsOf::readings);
    MatrixXd known =
        together(then->slopes, deviation, then->slopes) + together(stand, usual_stand(before.gauge), stand);
    known.diagonal().array() += 1;
    const Eigen::LLT<MatrixXd> llt(known);
    const MatrixXd both = together(now->slopes, deviation, then->slopes);
    out.mean += both * llt.solve(observed(before) - then->value);
    out.covariance += together(now->slopes, deviation, now->slopes) - both * llt.solve(both.transpose());
    return true;
}

}  // namespace

Eigen::Vector3d usual_stand(const Gauge& gauge) {
    const ZeroedOn on = gauge.zeroed_on.value_or(ZeroedOn::shaft);
    const double lean = on == ZeroedOn::level ? gauge.lean_within_deg : 0;
    return {on == ZeroedOn::blade ? zeroed_on_blade_deg : gauge.zero_within_deg, lean, lean};
}

MatrixXd stand_slopes(const head::Description& d, const Readings& readings, RowsOf rows) {
    const int blades = d.rotor.blades, each = rows == RowsOf::every_blade ? blades : 1;
    const double s = head::spin_sign(d.rotor.direction);
    MatrixXd out = MatrixXd::Zero(
        static_cast<Index>(readings.pitch.size()) * each + static_cast<Index>(readings.ring_height.size()), 3);
    Index row = 0;
    for (const PitchReading& r : readings.pitch)
        for (int i = 0; i < each; ++i, ++row) {
            const int blade = each == 1 ? r.blade : i;
            const double azimuth = pi + s * (r.azimuth_deg * degree + 2 * pi * blade / blades);
            out.row(row) << 1, s * std::sin(azimuth), s * std::cos(azimuth);
            out.row(row) /= r.uncertainty_deg;
        }
    return out;
}

std::optional<Shared> shared(const head::Head& head, const Readings& readings,
                             const std::vector<head::Number>& numbers) {
    const MatrixXd stand = stand_slopes(head.description(), readings, RowsOf::every_blade);
    Shared out{VectorXd::Zero(stand.rows()), {}, stand, usual_stand(readings.gauge)};
    out.covariance = together(stand, out.usual, stand);
    if (readings.before && !built(head, readings, numbers, out)) return std::nullopt;
    return out;
}

double described_within_deg(const head::Head& head, const Readings& readings,
                            const std::vector<head::Number>& numbers) {
    const Build build(numbers);
    const auto moved = expected_along(head, {readings.pitch, {}}, build.numbers, RowsOf::readings);
    double most = 0;
    for (std::size_t i = 0; moved && i < readings.pitch.size(); ++i)
        most =
            std::max(most, readings.pitch[i].uncertainty_deg *
                               moved->slopes.row(static_cast<Index>(i)).cwiseProduct(build.usual.transpose()).norm());
    return most;
}

}  // namespace swashwright::studies
