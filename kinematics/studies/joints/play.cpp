#include "kinematics/studies/joints/play.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/answer/part_path.h"
#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {
namespace {

using head::Head;
using head::Result;

constexpr double ends = 2;         // ball links of one link
constexpr double more = 1 + 1e-9;  // what is no more than rounding does not move the worst place: a turn has like ones

/// Adds what one azimuth shows: worst cases as the largest so far, squares summed.
void add(const Eigen::MatrixXd& slopes, double azimuth_deg, Play& out) {
    std::vector<double> together(out.worst_deg.size(), 0.0);
    for (std::size_t i = 0; i < out.shares.size(); ++i)
        for (std::size_t k = 0; k < together.size(); ++k) {
            PlayShare& share = out.shares[i];
            const double each =
                std::abs(slopes(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(i))) * share.play_mm;
            share.worst_deg[k] = std::max(share.worst_deg[k], ends * each);
            share.rms_deg[k] += ends * each * each / 3;  // variance of an even spread over [-p, p] is p^2 / 3
            together[k] += ends * each;
        }
    for (std::size_t k = 0; k < together.size(); ++k)
        if (together[k] > more * out.worst_deg[k]) {
            out.worst_deg[k] = together[k];
            out.worst_azimuth_deg[k] = azimuth_deg;
        }
}

void finish(Play& out, double azimuths) {
    double all = 0;
    for (PlayShare& share : out.shares)
        for (std::size_t k = 0; k < share.rms_deg.size(); ++k) {
            out.rms_deg[k] += share.rms_deg[k] / azimuths;
            share.share_percent += share.rms_deg[k];
            all += share.rms_deg[k];
            share.rms_deg[k] = std::sqrt(share.rms_deg[k] / azimuths);
        }
    for (double& rms : out.rms_deg) rms = std::sqrt(rms);
    for (PlayShare& share : out.shares) share.share_percent *= all > 0 ? 100 / all : 0;
    std::ranges::stable_sort(out.shares, std::greater{}, &PlayShare::share_percent);
}

}  // namespace

Result<Play> play(const Head& head, const PlayOptions& options) {
    if (options.play_mm && (!std::isfinite(*options.play_mm) || *options.play_mm < 0))
        return tl::unexpected(head::Failure{"play must be a finite number, not below 0", {}});
    const head::Description& d = head.description();
    const std::vector<double> none(static_cast<std::size_t>(d.rotor.blades), 0.0);
    Play out{none, none, none, {}};
    std::vector<head::Number> lengths;
    for (const head::Number& number : head::numbers(d))
        if (const head::Link* link = link_of(d, number)) {
            lengths.push_back(number);
            out.shares.push_back(
                {part_path(number), part_words(number), options.play_mm.value_or(link->play_mm), none, none, 0});
        }
    const std::vector<double> azimuths_deg =
        options.azimuth_deg ? std::vector{*options.azimuth_deg} : turn_azimuths(turn_samples);
    const auto turn = turn_slopes(head, options.sticks, lengths, azimuths_deg);
    if (!turn) return tl::unexpected(turn.error());
    for (std::size_t i = 0; i < azimuths_deg.size(); ++i) add(turn->slopes[i], azimuths_deg[i], out);
    finish(out, static_cast<double>(azimuths_deg.size()));
    return out;
}

Answer answer(const Play& play, const PlayOptions& options) {
    Answer out;
    out.study = "play";
    const double worst = *std::ranges::max_element(play.worst_deg);
    const double rms = *std::ranges::max_element(play.rms_deg);
    out.text = fmt::format(
        "Play lets a blade rock {:.2f} deg to either side at worst, typically {:.3f} deg; the largest share "
        "comes through {} ({:.0f} %).",
        worst, rms, play.shares.front().words, play.shares.front().share_percent);
    if (worst == 0) out.text = "No ball link has play, so no blade rocks.";
    Table blades{"blades",
                 "Play in pitch of each blade, to either side",
                 {{"blade", "blade", "", 0},
                  {"worst_deg", "worst", "deg", 3},
                  {"worst_azimuth_deg", "rotor at", "deg", 0},
                  {"rms_deg", "typical", "deg", 3}},
                 {},
                 {}};
    for (std::size_t k = 0; k < play.worst_deg.size(); ++k) {
        blades.rows.push_back(
            {static_cast<double>(k + 1), play.worst_deg[k], play.worst_azimuth_deg[k], play.rms_deg[k]});
        blades.parts.push_back(fmt::format("grip[{}]", k + 1));
    }
    Table sources{"sources",
                  "Where it comes from: both ball links of each link together",
                  {{"link", "link", ""},
                   {"play_mm", "play", "mm", 3},
                   {"share_percent", "share", "%", 1},
                   {"worst_deg", "worst, any blade", "deg", 3},
                   {"rms_deg", "typical, mean of blades", "deg", 3}},
                  {},
                  {}};
    for (const PlayShare& share : play.shares) {
        sources.rows.push_back({share.words, share.play_mm, share.share_percent,
                                *std::ranges::max_element(share.worst_deg), mean(share.rms_deg)});
        sources.parts.push_back(share.part);
    }
    out.tables = {blades, sources};
    out.notes = {options.azimuth_deg ? fmt::format("At rotor azimuth {:g} deg.", *options.azimuth_deg)
                                     : "Around one turn: worst at the worst azimuth, typical over the turn.",
                 "A ball link with radial play p lets its link be longer or shorter by up to p at that end; linear "
                 "theory with exact "
                 "slopes. Worst: all push the same way at once. Typical: root mean square, each end anywhere within "
                 "its play, independent of "
                 "the others.",
                 "Play of a link is the scene's (0.02 mm where it is silent: common practice, no source). Play in "
                 "servo gears, "
                 "horn splines, grips and the ring's own bearings comes on top and is not known here."};
    return out;
}

}  // namespace swashwright::studies
