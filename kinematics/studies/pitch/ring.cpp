#include "kinematics/studies/pitch/ring.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/face.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/part_path.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/highest.h"
#include "kinematics/studies/pitch/ring_seen.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using head::Result;
using head::Sticks;

constexpr double tried_mm = 0.1;  // of a link
constexpr double nothing = 1e-6;  // mm or deg: the link does not move the ring
constexpr int intervals = 24;     // of a turn; its swing is once a turn

/// The ring in a pose. `level_mm`: where a level ring's tilt centre would be.
RingPlace place_of(const Head& head, const head::Pose& pose, std::string words, const Sticks& sticks, double level_mm) {
    const Description& d = head.description();
    const double face = face_height_mm(d);
    RingPlace out{std::move(words), sticks, pose.height_mm - face, pose.tilt_deg, pose.lowest_azimuth_deg, {}};
    for (std::size_t j = 0; j < d.swashplate.inner_balls.size(); ++j) {
        const head::Polar& place = d.swashplate.inner_balls[j];
        const double half = inner_ball_mm(head, j) / 2, azimuth = place.angle_deg * degree;
        RingBall ball{fmt::format("swashplate.inner_balls[{}]", j + 1), inner_ball_words(d, j)};
        ball.centre_mm = pose.skeleton.inner_balls[j].z() - face;
        ball.top_mm = ball.centre_mm + half;
        ball.level_top_mm = level_mm + place.height_mm + half - face;
        if (d.swashplate.lower_face_mm)
            ball.face_mm =
                (pose.skeleton.inner_ring * Vec3(place.radius_mm * std::cos(azimuth),
                                                 place.radius_mm * std::sin(azimuth), *d.swashplate.lower_face_mm))
                    .z() -
                face;
        out.balls.push_back(std::move(ball));
    }
    return out;
}

Result<void> add_places(Ring& out, const Head& head, const Sticks& asked) {
    const Description& d = head.description();
    const auto middle = head.pose(Sticks{}, 0);
    if (!middle) return tl::unexpected(middle.error());
    out.places.push_back(place_of(head, *middle, mid_stick_words(d), {}, d.swashplate.neutral_height_mm));
    const bool tail = is_tail(d);
    for (const double end : {-1.0, 1.0}) {
        const char* words =
            end < 0 ? (tail ? "full left rudder" : "low collective") : (tail ? "full right rudder" : "high collective");
        if (const auto pose = head.pose(main_stick_at(d, end), 0))
            out.places.push_back(place_of(head, *pose, words, main_stick_at(d, end), pose->height_mm));
        else
            out.out_of_reach.emplace_back(words);
    }
    if (std::ranges::find(out.places, asked, &RingPlace::sticks) != out.places.end()) return {};
    const auto pose = head.pose(asked, 0);
    if (!pose) return tl::unexpected(pose.error());
    out.places.push_back(place_of(head, *pose, stick_words(d.kind, asked), asked, pose->height_mm));
    return {};
}

Result<void> add_stops(Ring& out, const Head& head) {
    const Description& d = head.description();
    const auto add = [&](std::string words, double azimuth_deg) -> Result<void> {
        const auto pose = head.pose(Sticks{}, azimuth_deg);
        if (!pose) return tl::unexpected(pose.error());
        RotorStop stop{std::move(words), azimuth_deg, {}, pose->pitch_deg[0]};
        if (!d.swashplate.outer_balls.empty())
            stop.outer_top_mm = pose->skeleton.outer_balls[0].z() + outer_ball_mm(head, 0) / 2 - face_height_mm(d);
        out.stops.push_back(std::move(stop));
        return {};
    };
    for (const double azimuth : {0.0, 90.0, 180.0, 270.0})
        if (auto done = add("blade 1 over " + place_in_words(position_deg(d, azimuth)), azimuth); !done) return done;
    for (std::size_t j = 0; j < d.swashplate.inner_balls.size() && !d.swashplate.outer_balls.empty(); ++j)
        if (auto done = add("outer ball 1 over " + inner_ball_words(d, j), azimuth_over_deg(d, j)); !done) return done;
    return {};
}

/// Highest less lowest over a turn; none where a pose does not close.
std::optional<double> swing(const Head& head, const std::function<double(const head::Pose&)>& of) {
    const auto turned = [&](double sign) {
        return highest(
            [&](double azimuth_deg) -> std::optional<double> {
                const auto pose = head.pose(Sticks{}, azimuth_deg);
                return pose ? std::optional(sign * of(*pose)) : std::nullopt;
            },
            0, 360, intervals);
    };
    const auto most = turned(1), least = turned(-1);
    return most && least ? std::optional(most->value + least->value) : std::nullopt;
}

std::optional<LeanShows> lean_shows(const Head& head, double lean_deg) {
    const auto leaning = levelled(head, lean_deg);
    if (!leaning) return std::nullopt;
    const auto pose = leaning->pose(Sticks{}, 0);
    const auto pitch = swing(*leaning, [](const head::Pose& at) { return at.pitch_deg[0]; });
    if (!pose || !pitch) return std::nullopt;
    const auto [low, high] =
        std::ranges::minmax(pose->skeleton.inner_balls, {}, [](const Vec3& ball) { return ball.z(); });
    LeanShows out{lean_deg, high.z() - low.z(), {}, *pitch};
    if (!head.description().swashplate.outer_balls.empty())
        out.outer_mm = swing(*leaning, [](const head::Pose& at) { return at.skeleton.outer_balls[0].z(); });
    return out;
}

/// Every link but those to the blades, 0.1 mm longer, on the whole head.
void add_links(Ring& out, const Head& head) {
    const auto before = head.pose(Sticks{}, 0);
    if (!before) return;
    for (const head::Number& number : head::numbers(head.description())) {
        if (!is_error(number.kind) || number.kind == head::NumberKind::upper_error) continue;
        Description longer = head.description();
        head::value(longer, number) += tried_mm;
        const auto changed = Head::build(longer);
        if (!changed) continue;
        const auto now = changed->pose(Sticks{}, 0);
        if (!now) continue;
        const Vec3 lean = now->skeleton.inner_ring.turn.col(2) - before->skeleton.inner_ring.turn.col(2);
        RingLink link{part_path(number), part_words(number), now->height_mm - before->height_mm,
                      2 * std::asin(lean.norm() / 2) / degree, std::atan2(lean.y(), lean.x()) / degree};
        if (std::abs(link.height_mm) > nothing || link.tilt_deg > nothing) out.links.push_back(std::move(link));
    }
}

}  // namespace

Result<Ring> ring(const Head& head, const RingRequest& request) {
    if (!(request.lean_deg > 0 && request.lean_deg <= 10))
        return tl::unexpected(head::Failure{
            fmt::format("the lean must be above 0 and at most 10 deg, found {:g}", request.lean_deg), {}});
    const Description& d = head.description();
    Ring out;
    out.face_given = d.measured_from.has_value();
    out.face = face_words(d);
    out.tilts = head.model().ring_tilts();
    if (auto done = add_places(out, head, request.sticks); !done) return tl::unexpected(done.error());
    add_links(out, head);
    if (out.tilts) {
        if (auto done = add_stops(out, head); !done) return tl::unexpected(done.error());
        out.lean = lean_shows(head, request.lean_deg);
    }
    if (!request.seen_mm.empty()) {
        auto seen = seen_ring(head, request);
        if (!seen) return tl::unexpected(seen.error());
        out.seen = std::move(*seen);
    }
    return out;
}

}  // namespace swashwright::studies
