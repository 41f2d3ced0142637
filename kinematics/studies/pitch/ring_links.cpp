#include "kinematics/studies/pitch/ring_links.h"

#include <fmt/format.h>

#include <Eigen/QR>

#include "kinematics/head/numbers.h"
#include "kinematics/head/solver.h"

namespace swashwright::studies {
namespace {

using head::Head;
using head::Result;

constexpr double least_rule = 1e-3;  // of the largest singular value: less, and the links do not rule the ring
constexpr double settled_mm = 1e-9;
constexpr int most_steps = 30;

tl::unexpected<head::Failure> failure(std::string message) {
    return tl::unexpected(head::Failure{std::move(message), {}});
}

}  // namespace

Result<Head> with_lower_links(const Head& head, const Eigen::VectorXd& longer_mm) {
    head::Description next = head.description();
    for (std::size_t j = 0; j < next.lower_links.size(); ++j)
        next.lower_links[j].error_mm += longer_mm[static_cast<Eigen::Index>(j)];
    return Head::build(next);
}

Result<Eigen::MatrixXd> ring_by_lower_links(const Head& head) {
    head::Solver solver(head);
    if (!solver.pose(head::Sticks{}, 0) || !solver.linearise())
        return failure("the ring stands at a dead point at mid stick, so no link rules it");
    Eigen::MatrixXd out = Eigen::MatrixXd::Zero(3, static_cast<Eigen::Index>(head.description().lower_links.size()));
    head::Slopes slopes;
    for (const head::Number& number : head::numbers(head.description())) {
        if (number.kind != head::NumberKind::lower_error) continue;
        solver.slopes_by(number, slopes);
        out.col(number.index) << slopes.height_mm, slopes.tilt_forward_deg, slopes.tilt_right_deg;
    }
    return out;
}

Result<Eigen::VectorXd> links_for(const Head& head, const RingReading& reading, const Eigen::VectorXd& wanted) {
    const auto by_links = ring_by_lower_links(head);
    if (!by_links) return tl::unexpected(by_links.error());
    // mm at the readings by mm of the links: what is asked is whether they rule all that is read.
    Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> inverse;
    inverse.setThreshold(least_rule);
    inverse.compute(reading.by_ring * *by_links);
    if (by_links->cols() < 3 || inverse.rank() < 3)
        return failure("the lower links of this head do not rule the ring's height and tilt");
    Eigen::VectorXd longer = Eigen::VectorXd::Zero(by_links->cols());
    for (int step = 0; step < most_steps; ++step) {
        const auto changed = with_lower_links(head, longer);
        if (!changed) return tl::unexpected(changed.error());
        const auto now = reading.read(*changed);
        if (!now) return tl::unexpected(now.error());
        const Eigen::VectorXd by = inverse.solve(wanted - *now);
        longer += by;
        Eigen::Index worst = 0;
        if (longer.cwiseAbs().maxCoeff(&worst) > most_link_change_mm)
            return failure(
                fmt::format("lower link {} would have to be {:.1f} mm off for that, which no link is; read "
                            "the heights again, and see that they are from the face that is named",
                            worst + 1, std::abs(longer[worst])));
        if (by.cwiseAbs().maxCoeff() < settled_mm) return longer;
    }
    return failure("no lengths of the lower links bring the ring to these heights");
}

RingReading ring_place() {
    return {[](const Head& head) -> Result<Eigen::VectorXd> {
                const auto pose = head.pose(head::Sticks{}, 0);
                if (!pose) return tl::unexpected(pose.error());
                return Eigen::Vector3d(pose->height_mm, pose->tilt_forward_deg, pose->tilt_right_deg);
            },
            Eigen::Matrix3d::Identity()};
}

}  // namespace swashwright::studies
