#include "kinematics/studies/pitch/turn_slopes.h"

#include <fmt/format.h>

#include "kinematics/head/all_slopes.h"

namespace swashwright::studies {
namespace {

template <class Values>
Values mean_of(const std::vector<Values>& all) {
    Values sum = all.front();
    for (std::size_t i = 1; i < all.size(); ++i) sum += all[i];
    return sum / static_cast<double>(all.size());
}

}  // namespace

Eigen::MatrixXd TurnSlopes::mean_slopes() const {
    return mean_of(slopes);
}
Eigen::VectorXd TurnSlopes::mean_pitch_deg() const {
    return mean_of(pitch_deg);
}

std::vector<double> turn_azimuths(int count) {
    std::vector<double> out;
    for (int i = 0; i < count; ++i) out.push_back(360.0 * i / count);
    return out;
}

head::Result<TurnSlopes> turn_slopes(const head::Head& head, const head::Sticks& sticks,
                                     std::span<const head::Number> numbers, std::span<const double> azimuths_deg) {
    TurnSlopes out;
    head::Solver solver(head);
    head::AllSlopes slopes(head, numbers);
    const auto blades = static_cast<Eigen::Index>(head.description().rotor.blades);
    for (const double azimuth : azimuths_deg) {
        if (!solver.pose(sticks, azimuth)) {
            const auto why = head.pose(sticks, azimuth);
            return tl::unexpected(why ? head::Failure{"the head cannot be turned once without passing a dead point", {}}
                                      : why.error());
        }
        if (!slopes.at(solver))
            return tl::unexpected(
                head::Failure{fmt::format("at rotor azimuth {:.0f} deg the head stands at a dead point", azimuth), {}});
        Eigen::VectorXd& pitch = out.pitch_deg.emplace_back(blades);
        for (Eigen::Index k = 0; k < blades; ++k) pitch[k] = solver.pitch_deg(static_cast<int>(k));
        out.slopes.emplace_back(slopes.by_numbers(solver, sticks).middleRows(head::AllSlopes::first_pitch, blades));
    }
    return out;
}

}  // namespace swashwright::studies
