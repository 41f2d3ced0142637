#include "kinematics/studies/lengths/wish_misses.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/ball_places.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/highest.h"

namespace swashwright::studies {

namespace {

using head::Head;
using head::Result;

void keep(WishMiss& miss, double off, std::string at) {
    if (off > miss.most || miss.at.empty()) miss.most = off, miss.at = std::move(at);
}

/// Every blade at mid stick, all round the turn.
Result<WishMiss> pitch_miss(const Head& head, double wanted_deg) {
    WishMiss out{WishKind::pitch, 0, {}};
    head::Solver solver(head);
    double failed_at = 0;
    for (int k = 0; k < head.description().rotor.blades; ++k) {
        double least = std::numeric_limits<double>::infinity();
        const auto off = [&](double azimuth_deg) -> std::optional<double> {
            failed_at = azimuth_deg;
            if (!solver.pose(head::Sticks{}, azimuth_deg)) return std::nullopt;
            const double pitch = std::abs(solver.pitch_deg(k) - wanted_deg);
            least = std::min(least, pitch);
            return pitch;
        };
        const auto most = highest(off, 0, 360, turn_samples);
        if (!most) {
            const auto why = head.pose(head::Sticks{}, failed_at);
            return tl::unexpected(
                head::Failure{fmt::format("at rotor azimuth {:.0f} deg {}", failed_at,
                                          why ? "it cannot be reached by turning" : why.error().message),
                              {}});
        }
        constexpr double same = 1e-6;  // deg: no one place then stands out
        keep(out, most->value,
             most->value - least > same
                 ? fmt::format("blade {}, rotor at {:.0f} deg", k + 1, head::within_turn_deg(most->at))
                 : fmt::format("blade {}", k + 1));
    }
    return out;
}

Result<WishMiss> range_miss(const Head& head, const std::array<double, 2>& wanted_deg) {
    WishMiss out{WishKind::range, 0, {}};
    for (const int end : {0, 1}) {
        const auto pitch = pitch_harmonics(head, main_stick_at(head.description(), end == 0 ? -1.0 : 1.0));
        if (!pitch) return tl::unexpected(pitch.error());
        for (std::size_t k = 0; k < pitch->size(); ++k)
            keep(out, std::abs((*pitch)[k].mean - wanted_deg[static_cast<std::size_t>(end)]),
                 fmt::format("blade {} at {} {}", k + 1, main_stick_word(head.description()), end == 0 ? "-1" : "+1"));
    }
    return out;
}

WishMiss square_miss(const head::Description& d, const head::Skeleton& s) {
    WishMiss out{WishKind::square, 0, {}};
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        const auto end = head::other_end(d, head::horn_ball(j));
        if (!end) continue;
        const Vec3 ball = *head::ball_place(s, head::horn_ball(j)), link = *head::ball_place(s, *end) - ball;
        const Vec3 horn = ball - head::place_of(s, {head::Role::horn, static_cast<int>(j)})->origin;
        const double off = std::asin(std::min(1.0, std::abs(horn.normalized().dot(link.normalized())))) / degree;
        keep(out, off, "servo " + d.servos[j].name);
    }
    return out;
}

}  // namespace

Result<std::vector<WishMiss>> wish_misses(const head::Description& description, const Wishes& wishes) {
    const auto head = Head::build(description);
    if (!head) return tl::unexpected(head.error());
    const auto pose = head->pose(head::Sticks{}, 0);  // what does not turn stands alike at every azimuth
    if (!pose) return tl::unexpected(pose.error());
    std::vector<WishMiss> out;
    if (wishes.level_ring) {
        const double wanted = wishes.height_mm.value_or(description.swashplate.neutral_height_mm);
        const bool tilts = description.swashplate.tilts;
        out.push_back({WishKind::height, std::abs(pose->height_mm - wanted), tilts ? "ring" : "slider"});
        if (tilts) out.push_back({WishKind::level, pose->tilt_deg, "ring"});
    }
    if (wishes.zero_pitch) {
        const auto miss = pitch_miss(*head, wishes.pitch_deg.value_or(0));
        if (!miss) return tl::unexpected(miss.error());
        out.push_back(*miss);
    }
    if (wishes.square_horns) out.push_back(square_miss(description, pose->skeleton));
    if (wishes.range_deg) {
        const auto miss = range_miss(*head, *wishes.range_deg);
        if (!miss) return tl::unexpected(miss.error());
        out.push_back(*miss);
    }
    if (!out.empty() && pose->misfit_mm)
        out.push_back({WishKind::misfit, *pose->misfit_mm, mid_stick_words(description)});
    return out;
}

}  // namespace swashwright::studies
