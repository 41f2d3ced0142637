#include "kinematics/studies/pitch/folded.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/face.h"
#include "kinematics/studies/answer/figures.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using head::Result;

constexpr double usual_bolt = 0.1;  // of blade_tip_mm, where the scene does not say

std::string mistake(const Head& head, const FoldedOptions& options) {
    const Description& d = head.description();
    if (!(options.fold_deg > 0 && options.fold_deg <= 90))
        return fmt::format("the fold must be above 0 and at most 90 deg, found {:g}", options.fold_deg);
    if (options.seen_mm && !std::isfinite(*options.seen_mm)) return "the height difference seen must be finite";
    const double bolt = d.blade.bolt_mm.value_or(usual_bolt * d.rotor.blade_tip_mm);
    if (!(bolt < d.rotor.blade_tip_mm))
        return fmt::format("the blade bolt ({:g} mm from the shaft axis) must be nearer than the tip ({:g} mm)", bolt,
                           d.rotor.blade_tip_mm);
    return {};
}

/// A level ring's balls lie at its tilt centre's height plus their own height on the ring.
void add_balls(const Description& d, const head::Pose& pose, Folded& out) {
    const auto add = [&](const char* list, const char* words, const std::vector<head::Polar>& balls,
                         const std::vector<Vec3>& now) {
        for (std::size_t i = 0; i < balls.size(); ++i)
            out.balls.push_back({fmt::format("swashplate.{}[{}]", list, i + 1), fmt::format("{} {}", words, i + 1),
                                 d.swashplate.neutral_height_mm + balls[i].height_mm, now[i].z()});
    };
    add("inner_balls", "inner ball", d.swashplate.inner_balls, pose.skeleton.inner_balls);
    add("outer_balls", "outer ball", d.swashplate.outer_balls, pose.skeleton.outer_balls);
}

/// "towards the right, blade 1 with its leading edge first"; of a tail without the side, which the scene does not know.
std::string side_words(const Folded& folded) {
    const std::string first = "blade 1 with its leading edge first";
    return folded.tail ? "to one side, " + first
                       : fmt::format("towards {}, {}", place_in_words(folded.side_azimuth_deg), first);
}

/// "0.30 mm above that of"; of a tail "0.30 mm farther from the boom than that of".
std::string difference_words(const Folded& folded) {
    const bool below = folded.difference_mm < -0.005;
    const char* how = !folded.tail ? (below ? "below" : "above")
                      : below      ? "nearer to the boom than"
                                   : "farther from the boom than";
    return fmt::format("{:.2f} mm {} that of", std::abs(folded.difference_mm), how);
}

Table blade_table(const Folded& folded, const FoldedOptions& options) {
    Table table{"folded",
                folded.opposite
                    ? fmt::format("Both blades swung {}: tip of blade 1 {} the tip opposite", side_words(folded),
                                  folded.tail ? "farther from the boom (+) than" : "above")
                    : std::string("No blade stands opposite blade 1"),
                {{"opposite_blade", "blade opposite", "", 0},
                 {"bolt_to_tip_mm", "bolt to tip", "mm", 1},
                 {"pitch_1_deg", "pitch, blade 1", "deg", 3, true},
                 {"pitch_opposite_deg", "its pitch", "deg", 3, true},
                 {"difference_mm", "tips differ", "mm", 2, true},
                 {"mm_per_deg", "per mean deg", "mm", 2},
                 {"seen_mm", "seen", "mm", 2, true},
                 {"seen_mean_deg", "mean pitch", "deg", 3, true}},
                {},
                {}};
    if (!folded.opposite) return table;
    std::vector<Cell> row{static_cast<double>(*folded.opposite + 1),
                          folded.bolt_to_tip_mm,
                          folded.pitch_deg[0],
                          folded.pitch_deg[1],
                          folded.difference_mm,
                          folded.mm_per_deg,
                          {},
                          {}};
    if (options.seen_mm) row[6] = *options.seen_mm;
    if (folded.seen_mean_deg) row[7] = *folded.seen_mean_deg;
    table.rows = {row};
    table.parts = {"grip[1]"};
    return table;
}

Table ball_table(const Folded& folded) {
    Table table{"ring",
                fmt::format("Heights above {}: each ball's centre {} nominal height, and as it stands now", folded.zero,
                            folded.ring_tilts ? "on a level ring at its" : "with the slider at its"),
                {{"ball", "ball", ""},
                 {"level_mm", "level", "mm", 2},
                 {"present_mm", "now", "mm", 2},
                 {"off_mm", "now off by", "mm", 2, true}},
                {},
                {}};
    for (const BallHeight& ball : folded.balls) {
        table.rows.push_back({ball.words, ball.level_mm, ball.present_mm, ball.present_mm - ball.level_mm});
        table.parts.push_back(ball.part);
    }
    return table;
}

}  // namespace

double tip_difference_mm(double bolt_to_tip_mm, double fold_deg, double precone_deg, double pitch_1_deg,
                         double pitch_2_deg) {
    return bolt_to_tip_mm * std::sin(fold_deg * degree) * std::cos(precone_deg * degree) *
           (std::sin(pitch_1_deg * degree) + std::sin(pitch_2_deg * degree));
}

Result<Folded> folded(const Head& head, const FoldedOptions& options) {
    if (auto complaint = mistake(head, options); !complaint.empty())
        return tl::unexpected(head::Failure{complaint, {}});
    const auto pose = head.pose(options.sticks, options.azimuth_deg);
    if (!pose) return tl::unexpected(pose.error());
    const Description& d = head.description();
    Folded out;
    out.bolt_given = d.blade.bolt_mm.has_value();
    out.bolt_to_tip_mm = d.rotor.blade_tip_mm - d.blade.bolt_mm.value_or(usual_bolt * d.rotor.blade_tip_mm);
    out.present_height_mm = pose->height_mm;
    out.level_height_mm = d.swashplate.neutral_height_mm;
    out.present_tilt_deg = pose->tilt_deg;
    out.zero = zero_words(d);
    out.ring_tilts = head.model().ring_tilts();
    out.tail = d.kind == head::Kind::tail;
    add_balls(d, *pose, out);
    if (d.rotor.blades % 2 != 0) return out;
    out.opposite = static_cast<std::size_t>(d.rotor.blades / 2);
    out.side_azimuth_deg = 180 + head::spin_sign(d.rotor.direction) * (options.azimuth_deg + 90);
    out.pitch_deg[0] = pose->pitch_deg[0];
    out.pitch_deg[1] = pose->pitch_deg[*out.opposite];
    const auto difference_mm = [&](double pitch_1_deg, double pitch_2_deg) {
        return tip_difference_mm(out.bolt_to_tip_mm, options.fold_deg, d.rotor.precone_deg, pitch_1_deg, pitch_2_deg);
    };
    out.difference_mm = difference_mm(out.pitch_deg[0], out.pitch_deg[1]);
    const double most = difference_mm(90, 90);
    out.mm_per_deg = most * degree;
    if (options.seen_mm) {
        const double sine = *options.seen_mm / most;
        if (std::abs(sine) > 1)
            return tl::unexpected(
                head::Failure{fmt::format("tips folded by {:g} deg cannot differ by more than {:.1f} mm, found {:g} mm",
                                          options.fold_deg, most, *options.seen_mm),
                              {}});
        out.seen_mean_deg = std::asin(sine) / degree;
    }
    return out;
}

Answer answer(const Folded& folded, const FoldedOptions& options) {
    Answer out;
    out.study = "folded";
    out.tables = {blade_table(folded, options), ball_table(folded)};
    const std::string ring =
        folded.ring_tilts ? fmt::format("the ring stands at {:.2f} mm (level at {:.2f} mm), {:.2f} deg off level",
                                        folded.present_height_mm, folded.level_height_mm, folded.present_tilt_deg)
                          : fmt::format("the slider stands at {:.2f} mm (nominal {:.2f} mm)", folded.present_height_mm,
                                        folded.level_height_mm);
    if (!folded.opposite) {
        out.tone = Tone::notice;
        out.text = fmt::format("No blade stands opposite another, so folding shows nothing; {}.", ring);
        return out;
    }
    const std::string expected = fmt::format(
        "With both blades folded by {:g} deg {}, the tip of blade 1 stands {} blade {} ({:.2f} mm for each degree of "
        "mean pitch)",
        options.fold_deg, side_words(folded), difference_words(folded), *folded.opposite + 1, folded.mm_per_deg);
    out.text = folded.seen_mean_deg ? fmt::format("{} mm seen stands for a mean pitch of {} deg. {}; {}.",
                                                  signed_figure(*options.seen_mm, 2),
                                                  signed_figure(*folded.seen_mean_deg, 2), expected, ring)
                                    : fmt::format("{}; {}.", expected, ring);
    out.notes = {
        fmt::format(
            "Which side counts: both blades go {}, so that blade {} goes with its trailing edge first. Folded to "
            "the other side the tips show the same with the other sign.",
            side_words(folded), *folded.opposite + 1),
        "Folded blades show the mean of the two pitches and cannot show a difference between them: equal and opposite "
        "errors leave the tips level. Use a gauge, or track on the bench, for the difference.",
        "Difference = L sin f cos c (sin theta1 + sin theta2), L from bolt to tip, f the fold, c the precone: derived "
        "from the geometry; the method is common practice, no source.",
        "The tips stand on the blade's own chord line: droop of soft blades and a loose bolt spoil the reading."};
    if (!folded.bolt_given)
        out.notes.emplace_back(
            "The blade bolt's place is not given: it is taken at a tenth of the way to the tip (a guess).");
    return out;
}

}  // namespace swashwright::studies
