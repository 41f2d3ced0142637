#include "kinematics/studies/pitch/ring_seen.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/ball_places.h"
#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/face.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/pitch/ring_links.h"

namespace swashwright::studies {
namespace {

using Eigen::VectorXd;
using head::Description;
using head::Head;
using head::Result;

// Of standard tables: the normal distribution's two-sided 95 %, chi-square's 95 % with two degrees of freedom.
constexpr double normal_95 = 1.96, chi_square_95 = 5.991;

tl::unexpected<head::Failure> failure(std::string message) {
    return tl::unexpected(head::Failure{std::move(message), {}});
}

double ball_mm(const Head& head, head::Role ring, linkage::AnchorId ball) {
    for (const head::LinkRod& rod : head.model().rods())
        for (std::size_t e = 0; e < 2; ++e) {
            const head::BallEnd& end = rod.ends[e];
            if (head.model().part(end.part).role == ring && end.ball == ball) return rod.made.ball_mm[e];
        }
    return head::Link{}.ball_mm[0];
}

/// Where a height is read, head frame, and what is added to that point's height.
struct Spot {
    Vec3 at;
    double add_mm = 0;
};

/// The spot of an inner ball in a pose that was made for it.
Spot spot_of(const Head& head, const RingRequest& request, const head::Pose& pose, std::size_t ball) {
    const head::Swashplate& ring = head.description().swashplate;
    const double face = face_height_mm(head.description());
    if (request.read_at == ReadAt::outer_ball) return {pose.skeleton.outer_balls[0], outer_ball_mm(head, 0) / 2 - face};
    if (request.read_at == ReadAt::ball_tops)
        return {pose.skeleton.inner_balls[ball], inner_ball_mm(head, ball) / 2 - face};
    const head::Polar& place = ring.inner_balls[ball];
    const double azimuth = place.angle_deg * degree;
    return {pose.skeleton.inner_ring *
                Vec3(place.radius_mm * std::cos(azimuth), place.radius_mm * std::sin(azimuth), *ring.lower_face_mm),
            -face};
}

/// Rotor azimuth for reading at a ball.
double azimuth_for(const Head& head, const RingRequest& request, std::size_t ball) {
    return request.read_at == ReadAt::outer_ball ? azimuth_over_deg(head.description(), ball) : 0;
}

/// The heights at these balls, and by the ring's place: dz = dh - x df + y dr, the tilts small and in deg.
Result<RingReading> reading_of(const Head& head, const RingRequest& request, const std::vector<std::size_t>& balls) {
    RingReading out;
    out.read = [&request, &balls](const Head& at) -> Result<VectorXd> {
        VectorXd heights(static_cast<Eigen::Index>(balls.size()));
        for (std::size_t i = 0; i < balls.size(); ++i) {
            const auto pose = at.pose(head::Sticks{}, azimuth_for(at, request, balls[i]));
            if (!pose) return tl::unexpected(pose.error());
            const Spot spot = spot_of(at, request, *pose, balls[i]);
            heights[static_cast<Eigen::Index>(i)] = spot.at.z() + spot.add_mm;
        }
        return heights;
    };
    out.by_ring.resize(static_cast<Eigen::Index>(balls.size()), 3);
    for (std::size_t i = 0; i < balls.size(); ++i) {
        const auto pose = head.pose(head::Sticks{}, azimuth_for(head, request, balls[i]));
        if (!pose) return tl::unexpected(pose.error());
        const Vec3 at = spot_of(head, request, *pose, balls[i]).at;
        out.by_ring.row(static_cast<Eigen::Index>(i)) << 1, -at.x() * degree, at.y() * degree;
    }
    return out;
}

std::string complaint(const Head& head, const RingRequest& request) {
    const Description& d = head.description();
    const auto given = std::ranges::count_if(request.seen_mm, [](const auto& seen) { return seen.has_value(); });
    if (!head.model().ring_tilts()) return "a slider has one height and no lean: compare it with the table of heights";
    if (request.seen_mm.size() != d.swashplate.inner_balls.size() || given < 3)
        return fmt::format(
            "the ring has {} inner balls: give a height for each, in their order, at least three of "
            "them, and - where none was read",
            d.swashplate.inner_balls.size());
    if (request.read_at == ReadAt::face && !d.swashplate.lower_face_mm)
        return "the scene does not say how far the ring's lower face is from its tilt centre: give that first";
    if (request.read_at == ReadAt::outer_ball && d.swashplate.outer_balls.empty())
        return "this ring has no outer ball to read";
    if (!(request.doubt_mm > 0)) return "the doubt of a height must be above 0 mm";
    return {};
}

/// What the readings' own doubt makes of the ring's place.
void judge(SeenRing& out, const head::Pose& pose, const Eigen::MatrixXd& by_ring, double doubt_mm) {
    const Eigen::Matrix3d covariance = (by_ring.transpose() * by_ring).inverse() * (doubt_mm * doubt_mm);
    const Eigen::Matrix2d of_tilt = covariance.bottomRightCorner<2, 2>();
    const Eigen::Vector2d tilt(pose.tilt_forward_deg, pose.tilt_right_deg);
    const double most = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(of_tilt).eigenvalues()[1];
    const double along = tilt.norm() > 0 ? tilt.normalized().dot(of_tilt * tilt.normalized()) : most;
    out.plus_minus_deg = normal_95 * std::sqrt(along);
    out.plus_minus_mm = normal_95 * std::sqrt(covariance(0, 0));
    out.leans = tilt.dot(of_tilt.inverse() * tilt) > chi_square_95;
    out.stands_off = std::abs(out.height_mm) > out.plus_minus_mm;
    out.least_shown_deg = std::sqrt(chi_square_95 * most);
    double square = 0;
    for (const SeenHeight& height : out.heights) square += std::pow((height.seen_mm - height.fitted_mm) / doubt_mm, 2);
    const double spare = static_cast<double>(out.heights.size()) - 3;
    out.fits = square <= spare + 3 * std::sqrt(2 * spare) + 1e-6;
}

/// Of the whole steps on either side of each exact change those that leave least at the places read.
std::vector<int> best_steps(const Description& d, const VectorXd& exact_mm, const Eigen::MatrixXd& heights_by_links) {
    const std::size_t count = d.lower_links.size();
    std::vector<int> low(count), best(count);
    std::vector<double> step(count);
    for (std::size_t j = 0; j < count; ++j) {
        const double wanted = exact_mm[static_cast<Eigen::Index>(j)];
        step[j] = link_step(d.lower_links[j]).mm;
        low[j] = static_cast<int>(std::floor(wanted / step[j]));
        best[j] = static_cast<int>(std::lround(wanted / step[j]));
    }
    constexpr std::size_t most_tried = 8;  // links; beyond, each is rounded by itself
    if (count > most_tried) return best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t choice = 0; choice < (std::size_t{1} << count); ++choice) {
        VectorXd off(exact_mm.size());
        std::vector<int> steps = low;
        for (std::size_t j = 0; j < count; ++j) {
            steps[j] += static_cast<int>((choice >> j) & 1U);
            const auto at = static_cast<Eigen::Index>(j);
            off[at] = steps[j] * step[j] - exact_mm[at];
        }
        const double left = (heights_by_links * off).squaredNorm();
        if (left >= least - 1e-12) continue;
        least = left;
        best = steps;
    }
    return best;
}

/// What to turn, and what is left when all is solved again.
Result<void> settle(SeenRing& out, const Head& seen, const Eigen::MatrixXd& by_ring) {
    const Description& d = seen.description();
    const double wanted = d.swashplate.neutral_height_mm;
    const auto exact = links_for(seen, ring_place(), Eigen::Vector3d(wanted, 0, 0));
    if (!exact) return tl::unexpected(exact.error());
    const auto by_links = ring_by_lower_links(seen);
    if (!by_links) return tl::unexpected(by_links.error());
    const std::vector<int> steps = best_steps(d, *exact, by_ring * *by_links);
    VectorXd set(exact->size());
    for (std::size_t j = 0; j < steps.size(); ++j) {
        const head::Link& link = d.lower_links[j];
        const head::PartName part{head::Role::lower_link, static_cast<int>(j)};
        const auto at = static_cast<Eigen::Index>(j);
        set[at] = steps[j] * link_step(link).mm;
        out.turns.push_back({head::path_of(part), head::link_words(d, part), (*exact)[at], steps[j], set[at],
                             turns_for(link, set[at]), steps_in_words(link, steps[j])});
    }
    const auto then = with_lower_links(seen, set);
    if (!then) return tl::unexpected(then.error());
    const auto pose = then->pose(head::Sticks{}, 0);
    if (!pose) return tl::unexpected(pose.error());
    out.left_tilt_deg = pose->tilt_deg;
    out.left_mm = pose->height_mm - wanted;
    return {};
}

}  // namespace

std::string inner_ball_words(const Description& d, std::size_t ball) {
    std::string words = fmt::format("inner ball {}", ball + 1);
    if (ball < d.servos.size()) words += fmt::format(" ({})", head::servo_words(d.servos[ball]));
    return words;
}

double inner_ball_mm(const Head& head, std::size_t ball) {
    return ball_mm(head, head::Role::inner_ring, head.parts().inner_balls[ball]);
}

double outer_ball_mm(const Head& head, std::size_t ball) {
    return ball_mm(head, head::Role::outer_ring, head.parts().outer_balls[ball]);
}

Result<Head> levelled(const Head& head, double lean_forward_deg) {
    const auto longer = links_for(
        head, ring_place(), Eigen::Vector3d(head.description().swashplate.neutral_height_mm, lean_forward_deg, 0));
    if (!longer) return tl::unexpected(longer.error());
    return with_lower_links(head, *longer);
}

double azimuth_over_deg(const Description& d, std::size_t inner_ball) {
    const head::Swashplate& ring = d.swashplate;
    return head::within_turn_deg(spin_sign(d.rotor.direction) * (ring.inner_balls[inner_ball].angle_deg - 180) -
                                 ring.outer_balls[0].angle_deg - ring.driver_turn_deg);
}

Result<SeenRing> seen_ring(const Head& head, const RingRequest& request) {
    if (auto why = complaint(head, request); !why.empty()) return failure(std::move(why));
    std::vector<std::size_t> balls;
    for (std::size_t j = 0; j < request.seen_mm.size(); ++j)
        if (request.seen_mm[j]) balls.push_back(j);
    VectorXd heights(static_cast<Eigen::Index>(balls.size()));
    for (std::size_t i = 0; i < balls.size(); ++i) heights[static_cast<Eigen::Index>(i)] = *request.seen_mm[balls[i]];
    const auto reading = reading_of(head, request, balls);
    if (!reading) return tl::unexpected(reading.error());
    if (Eigen::ColPivHouseholderQR<Eigen::MatrixXd>(reading->by_ring).rank() < 3)
        return failure("the places that were read lie in one line, which tells no lean across it");
    const auto level = levelled(head);
    if (!level) return tl::unexpected(level.error());
    const auto longer = links_for(head, *reading, heights);
    if (!longer) return tl::unexpected(longer.error());
    const auto seen = with_lower_links(head, *longer);
    if (!seen) return tl::unexpected(seen.error());
    const auto fitted = reading->read(*seen), flat = reading->read(*level);
    const auto pose = seen->pose(head::Sticks{}, 0);
    if (!pose || !fitted || !flat) return failure("the links no longer reach with the ring as it was read");
    SeenRing out;
    out.tilt_deg = pose->tilt_deg;
    out.lowest_azimuth_deg = pose->lowest_azimuth_deg;
    out.height_mm = pose->height_mm - head.description().swashplate.neutral_height_mm;
    for (std::size_t i = 0; i < balls.size(); ++i) {
        const auto at = static_cast<Eigen::Index>(i);
        out.heights.push_back({fmt::format("swashplate.inner_balls[{}]", balls[i] + 1),
                               inner_ball_words(head.description(), balls[i]), heights[at], (*fitted)[at],
                               (*flat)[at]});
    }
    judge(out, *pose, reading->by_ring, request.doubt_mm);
    if (const auto settled = settle(out, *seen, reading->by_ring); !settled) return tl::unexpected(settled.error());
    return out;
}

}  // namespace swashwright::studies
