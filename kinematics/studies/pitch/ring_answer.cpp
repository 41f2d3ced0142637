// The ring's heights in words and tables.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/cell.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/pitch/ring.h"

namespace swashwright::studies {
namespace {

constexpr double level_deg = 0.005, in_place_mm = 0.005;  // less is written as nothing

/// How far a ring leans and where it is lowest, in cells; no place where it is level.
void add_lean(std::vector<Cell>& row, bool tilts, double tilt_deg, double azimuth_deg) {
    row.resize(row.size() + 3);
    if (!tilts) return;
    row[row.size() - 3] = tilt_deg;
    if (tilt_deg < level_deg) return;
    row[row.size() - 2] = azimuth_deg;
    row[row.size() - 1] = place_in_words(azimuth_deg);
}

Table height_table(const Ring& ring) {
    Table table{"heights",
                fmt::format("Heights above {}: the top and the middle of each ball, the ring's lower face beneath it, "
                            "and the top on a {}",
                            ring.face,
                            ring.tilts ? "level ring (at mid stick at the head's neutral height, else as high as there)"
                                       : "slider in its place (at the ends as far out as there)"),
                {{"sticks", "sticks", ""},
                 {"ball", "ball", ""},
                 {"top_mm", "top", "mm"},
                 {"centre_mm", "middle", "mm"},
                 {"face_mm", "lower face", "mm"},
                 {"level_top_mm", ring.tilts ? "top if level" : "in place", "mm"},
                 {"off_mm", "off by", "mm", 2, true}},
                {},
                {}};
    for (const RingPlace& place : ring.places)
        for (const RingBall& ball : place.balls) {
            table.rows.push_back({place.words, ball.words, ball.top_mm, ball.centre_mm, cell(ball.face_mm),
                                  ball.level_top_mm, ball.top_mm - ball.level_top_mm});
            table.parts.push_back(ball.part);
        }
    return table;
}

Table ring_table(const Ring& ring) {
    Table table{"ring",
                ring.tilts ? "The ring's tilt centre on the shaft, and how far the ring leans"
                           : "The slider's middle along the shaft",
                {{"sticks", "sticks", ""},
                 {"height_mm", "height", "mm"},
                 {"tilt_deg", "leans", "deg"},
                 {"lowest_azimuth_deg", "lowest at", "deg", 0},
                 {"lowest", "that is", ""}},
                {},
                {}};
    for (const RingPlace& place : ring.places) {
        table.rows.push_back({place.words, place.height_mm});
        add_lean(table.rows.back(), ring.tilts, place.tilt_deg, place.lowest_azimuth_deg);
        table.parts.emplace_back("inner_ring");
    }
    return table;
}

Table stop_table(const Ring& ring) {
    Table table{
        "turn",
        "Turn the rotor by hand, sticks centred: on a level ring the top of outer ball 1 is as high at every stop, "
        "and the pitch of blade 1 is the same. As the head is set:",
        {{"stop", "stop", ""},
         {"azimuth_deg", "blade 1 at", "deg", 1},
         {"outer_top_mm", "its top", "mm"},
         {"pitch_deg", "pitch", "deg", 2, true}},
        {},
        {}};
    for (const RotorStop& stop : ring.stops) {
        table.rows.push_back({stop.words, stop.azimuth_deg, cell(stop.outer_top_mm), stop.pitch_deg});
        table.parts.emplace_back("outer_ring");
    }
    return table;
}

Table lean_table(const Ring& ring) {
    Table table{"lean",
                "What a ring that leans shows, highest minus lowest: between the inner balls, at outer ball 1 and in "
                "the pitch of blade 1 through a turn",
                {{"lean_deg", "leans", "deg"},
                 {"inner_mm", "inner balls", "mm"},
                 {"outer_mm", "outer ball 1", "mm"},
                 {"pitch_deg", "pitch", "deg"}},
                {},
                {}};
    if (ring.lean)
        table.rows.push_back(
            {ring.lean->lean_deg, ring.lean->inner_mm, cell(ring.lean->outer_mm), ring.lean->pitch_deg});
    return table;
}

Table link_table(const Ring& ring) {
    Table table{"links",
                ring.tilts ? "What 0.1 mm more of a link does to the ring, and where it gets lowest by that"
                           : "What 0.1 mm more of a link does to the slider",
                {{"link", "link", ""},
                 {"height_mm", "height", "mm", 3, true},
                 {"tilt_deg", "leans by", "deg", 3},
                 {"lowest_azimuth_deg", "lowest at", "deg", 0},
                 {"lowest", "that is", ""}},
                {},
                {}};
    for (const RingLink& link : ring.links) {
        table.rows.push_back({link.words, link.height_mm});
        add_lean(table.rows.back(), ring.tilts, link.tilt_deg, link.lowest_azimuth_deg);
        table.parts.push_back(link.part);
    }
    return table;
}

Table seen_table(const Ring& ring) {
    Table table{"seen",
                fmt::format("Heights that were read, above {}: against one ring that fits them best, and a level one",
                            ring.face),
                {{"ball", "ball", ""},
                 {"seen_mm", "read", "mm"},
                 {"fitted_mm", "best fit", "mm"},
                 {"level_mm", "if level", "mm"},
                 {"off_mm", "off level", "mm", 2, true}},
                {},
                {}};
    if (!ring.seen) return table;
    for (const SeenHeight& height : ring.seen->heights) {
        table.rows.push_back(
            {height.words, height.seen_mm, height.fitted_mm, height.level_mm, height.seen_mm - height.level_mm});
        table.parts.push_back(height.part);
    }
    return table;
}

/// Heights that fit no ring, or show nothing, turn no link.
bool turns_told(const SeenRing& seen) {
    return seen.fits && (seen.leans || seen.stands_off);
}

Table found_table(const Ring& ring) {
    Table table{"found",
                "What these heights tell of the ring, with 95 %, and what is left with the links set as below",
                {{"tilt_deg", "leans", "deg"},
                 {"plus_minus_deg", "±", "deg"},
                 {"lowest_azimuth_deg", "lowest at", "deg", 0},
                 {"height_mm", "stands high", "mm", 2, true},
                 {"plus_minus_mm", "±", "mm"},
                 {"left_tilt_deg", "then leans", "deg", 3},
                 {"left_mm", "then high", "mm", 3, true}},
                {},
                {}};
    if (!ring.seen) return table;
    const SeenRing& seen = *ring.seen;
    const bool told = turns_told(seen);
    table.rows.push_back({seen.tilt_deg, seen.plus_minus_deg, seen.lowest_azimuth_deg, seen.height_mm,
                          seen.plus_minus_mm, told ? Cell(seen.left_tilt_deg) : Cell(),
                          told ? Cell(seen.left_mm) : Cell()});
    table.parts.emplace_back("inner_ring");
    return table;
}

Table turn_table(const Ring& ring) {
    Table table{
        "turns",
        "Lower links for a level ring at the head's neutral height: how much longer exactly, and as it can be set",
        {{"link", "link", ""},
         {"exact_mm", "longer by", "mm", 2, true},
         {"set", "set", ""},
         {"turns", "turns", "turns", 2, true},
         {"change_mm", "that is", "mm", 2, true}},
        {},
        {}};
    if (!ring.seen || !turns_told(*ring.seen)) return table;
    for (const LinkTurn& turn : ring.seen->turns) {
        table.rows.push_back({turn.words, turn.exact_mm, turn.set, turn.turns, turn.change_mm});
        table.parts.push_back(turn.part);
    }
    return table;
}

/// "27.00 mm", or "27.00 to 28.20 mm" where the balls differ.
std::string range_words(const std::vector<RingBall>& balls, double RingBall::*height) {
    const auto [low, high] = std::ranges::minmax(balls, {}, height);
    if (high.*height - low.*height < in_place_mm) return fmt::format("{} mm", figure(low.*height, 2));
    return fmt::format("{} to {} mm", figure(low.*height, 2), figure(high.*height, 2));
}

std::string stands_words(const Ring& ring) {
    const RingPlace& middle = ring.places.front();
    if (middle.balls.empty())
        return fmt::format("At {} the tilt centre stands {} mm above {}.", middle.words, figure(middle.height_mm, 2),
                           ring.face);
    if (!ring.tilts)
        return fmt::format(
            "At {} the tops of the slider's balls belong {} out from {}, measured along the shaft; as "
            "the head is set it is {} mm off.",
            middle.words, range_words(middle.balls, &RingBall::level_top_mm), ring.face,
            signed_figure(middle.balls[0].top_mm - middle.balls[0].level_top_mm, 2));
    std::string now = "As the head is set the ring is level.";
    if (middle.tilt_deg >= level_deg)
        now = fmt::format("As the head is set the ring leans {:.2f} deg, lowest towards {}.", middle.tilt_deg,
                          place_in_words(middle.lowest_azimuth_deg));
    return fmt::format("At {} a level ring has the tops of its inner balls {} above {}. {}", middle.words,
                       range_words(middle.balls, &RingBall::level_top_mm), ring.face, now);
}

std::string turn_words(const SeenRing& seen) {
    std::string out;
    for (const LinkTurn& turn : seen.turns)
        if (turn.steps != 0) out += fmt::format("{}{}: {}", out.empty() ? "Set " : ", ", turn.words, turn.set);
    if (out.empty()) return " No link can be set finely enough to better it.";
    return fmt::format(" {}; that leaves {:.2f} deg.", out, seen.left_tilt_deg);
}

std::string height_words(const SeenRing& seen) {
    if (!seen.stands_off) return {};
    return fmt::format(" It stands {:.2f} mm too {} (± {:.2f} mm, and what the face itself is off).",
                       std::abs(seen.height_mm), seen.height_mm > 0 ? "high" : "low", seen.plus_minus_mm);
}

std::string seen_words(const SeenRing& seen, double doubt_mm) {
    if (!seen.fits)
        return fmt::format(
            "These heights are not those of one ring, each within {:g} mm: read them again before you "
            "turn a link.",
            doubt_mm);
    if (!seen.leans)
        return fmt::format(
            "These heights show no lean: with {:g} mm of doubt in each, one of {:.2f} deg or more would "
            "show.{}{}",
            doubt_mm, seen.least_shown_deg, height_words(seen),
            seen.stands_off ? turn_words(seen) : " No link needs turning.");
    return fmt::format("The ring leans {:.2f} deg (± {:.2f} deg), lowest towards {}.{}{}", seen.tilt_deg,
                       seen.plus_minus_deg, place_in_words(seen.lowest_azimuth_deg), height_words(seen),
                       turn_words(seen));
}

std::vector<std::string> notes_of(const Ring& ring, const RingRequest& request) {
    std::vector<std::string> out;
    if (!ring.face_given)
        out.emplace_back(
            "The head names no face to measure from, so heights count from its zero height, which a calliper may not "
            "reach: give it such a face by name and height, the top of the bearing block for example.");
    for (const std::string& end : ring.out_of_reach)
        out.push_back(fmt::format("At {} the links no longer reach, so no height is told.", end));
    if (!ring.tilts) return out;
    out.emplace_back(
        "Check by turning: motor disconnected, sticks centred. Hold the calliper in one place, or leave the gauge on "
        "blade 1, and turn the rotor by hand: what changes through a turn is the ring, not the tool (common practice, "
        "no source). A gauge that reads from level shows a leaning shaft in the same way: zero it on the shaft.");
    if (ring.lean && ring.lean->pitch_deg > 0)
        out.push_back(
            fmt::format("A reading of the pitch that changes by {:.2f} deg through a turn stands for a lean "
                        "of {:.2f} deg, where nothing but the ring is off.",
                        ring.lean->pitch_deg, ring.lean->lean_deg));
    if (!ring.seen) return out;
    out.push_back(
        fmt::format("Each height is taken to be read within {:g} mm (one standard deviation; common practice, no "
                    "source). The lean is judged by chi-square with two degrees of freedom, 5.99 at 95 %.",
                    request.doubt_mm));
    out.emplace_back(
        "Exact where lower links alone are off. Where a horn or a servo's centre is off, turning links levels the ring "
        "at mid stick only; set horns first.");
    return out;
}

}  // namespace

Answer answer(const Ring& ring, const RingRequest& request) {
    Answer out;
    out.study = "ring";
    const RingPlace& middle = ring.places.front();
    const bool off = ring.seen ? ring.seen->leans || ring.seen->stands_off || !ring.seen->fits
                               : ring.tilts && middle.tilt_deg >= level_deg;
    out.tone = off ? Tone::notice : Tone::calm;
    out.text = ring.seen ? seen_words(*ring.seen, request.doubt_mm) : stands_words(ring);
    out.tables = {seen_table(ring), found_table(ring), turn_table(ring), height_table(ring),
                  ring_table(ring), stop_table(ring),  lean_table(ring), link_table(ring)};
    out.notes = notes_of(ring, request);
    return out;
}

}  // namespace swashwright::studies
