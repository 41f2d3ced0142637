#include "viewer/panels/picture/picture_words.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/studies/live/live_angle.h"
#include "kinematics/studies/live/live_value.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/picture/dragging.h"
#include "viewer/panels/picture/picture_view.h"

namespace swashwright::panels {

namespace {

/// The gap of the pair that was chosen in a table, as long as its part is the chosen one.
std::optional<draw::GapMark> gap_mark(const Screen& screen, const Bench& bench, const Selection& selection,
                                      Sights& sights) {
    if (!watches_pair(selection) || !bench.live().head || !bench.live().closes) return std::nullopt;
    if (!bench.controls.hands.empty()) return std::nullopt;  // gaps are measured with all hands at neutral
    const auto gap = sights.gap.measure(selection.pair, *bench.live().head, bench.document().revision(),
                                        bench.controls.sticks, bench.controls.azimuth_deg);
    if (!gap) return std::nullopt;
    return draw::GapMark{
        gap->at[0], gap->at[1],
        gap->mm > 0 ? length_text(gap->mm, screen.settings.inches) + " apart" : std::string("They touch here")};
}

/// The angle that a lesson speaks of, with its value as it is now.
std::optional<draw::AngleMark> angle_mark(const Bench& bench, const std::string& value) {
    const Readout& live = bench.live();
    if (value.empty() || !live.head || !live.closes || !live.shown || !bench.controls.hands.empty())
        return std::nullopt;
    const auto angle = studies::live_angle(live.shown->description, live.shown->pose, value);
    const auto deg = studies::live_value(*live.head, bench.controls.sticks, bench.controls.azimuth_deg, value);
    if (!angle || !deg) return std::nullopt;
    return draw::AngleMark{angle->at, angle->to_link, angle->to_axis, angle->folded,
                           fmt::format("{:.1f}\xC2\xB0", *deg)};
}

}  // namespace

draw::OverlayWords overlay_words(const Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                                 Sights& sights) {
    draw::OverlayWords words;
    words.length = [inches = screen.settings.inches](double mm, int decimals) {
        return length_text(mm, inches, decimals);
    };
    words.gap = gap_mark(screen, bench, selection, sights);
    words.distances = distance_marks(screen, bench, view);
    words.in_sight = sights.in_sight;
    const Readout& live = bench.live();
    if (view.forces && live.head && live.closes && live.shown)
        words.loads = sights.loads.measure(*view.forces, *live.head, bench.document().revision(), *live.shown);
    words.angle = angle_mark(bench, selection.angle);
    if (!view.names) words.in_sight.spots.clear();
    for (const head::Shortfall& shortfall : live.shortfalls)  // they stand on the link, which need not be named
        if (shortfall.part)
            words.trouble.push_back(
                {*shortfall.part, fmt::format("balls {} too {}", words.length(std::abs(shortfall.missing_mm), 2),
                                              shortfall.missing_mm > 0 ? "far apart" : "close together")});
    return words;
}

std::vector<std::string> patch_words(const Bench& bench, const View& view, const Selection& selection,
                                     const Sights& sights) {
    const Readout& live = bench.live();
    std::vector<std::string> words = drag_words(sights);
    if (view.exaggeration > 1)
        words.push_back(fmt::format("Pitch differences drawn \xC3\x97{:.0f}", view.exaggeration));
    if (live.shown && !live.closes)
        words.emplace_back(live.hangs              ? "Being put together: parts as they stand, not posed"
                           : live.shown_is_nearest ? "Nearest fit: the links do not reach"
                                                   : "The last pose that the links reached");
    if (selection.pick && !selection.pick->ball && live.shown)
        words.push_back(fmt::format("Click the ball for {}. Esc leaves.", selection.pick->words));
    return words;
}

}  // namespace swashwright::panels
