// The pitch range in words and tables.
#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/pitch/range.h"

namespace swashwright::studies {
namespace {

Table collective_table(const PitchRange& range) {
    Table table{"collective",
                "Collective, cyclic centred: mean pitch over a turn (leading edge up positive), its slope per full "
                "stick, and the swing once a turn that is there without cyclic",
                {{"collective", "stick", "", 1, true},
                 {"height_mm", "ring height", "mm", 2},
                 {"blade", "blade", "", 0},
                 {"pitch_deg", "pitch", "deg", 3, true},
                 {"slope_deg", "slope", "deg/stick", 3, true},
                 {"once_deg", "once a turn", "deg", 3}},
                {},
                {}};
    for (const CollectiveRow& row : range.collective)
        for (std::size_t k = 0; k < row.mean_deg.size(); ++k) {
            table.rows.push_back({row.collective, row.height_mm, static_cast<double>(k + 1), row.mean_deg[k],
                                  row.slope_deg[k], row.once_deg[k]});
            table.parts.push_back(fmt::format("grip[{}]", k + 1));
        }
    return table;
}

Table cyclic_table(const PitchRange& range) {
    Table table{"cyclic",
                "Around one turn, sticks held: mean, swing once a turn and the blade's azimuth where it is highest (0 "
                "over the tail, growing in the direction of rotation), swing twice and three times a turn",
                {{"collective", "coll", "", 1, true},
                 {"aileron", "ail", "", 2, true},
                 {"elevator", "elev", "", 2, true},
                 {"blade", "blade", "", 0},
                 {"mean_deg", "mean", "deg", 3, true},
                 {"once_deg", "once", "deg", 3},
                 {"most_azimuth_deg", "highest at", "deg", 1},
                 {"twice_deg", "twice", "deg", 4},
                 {"thrice_deg", "three times", "deg", 4}},
                {},
                {}};
    for (const TurnRow& row : range.cyclic)
        for (std::size_t k = 0; k < row.pitch_deg.size(); ++k) {
            const Harmonics& h = row.pitch_deg[k];
            table.rows.push_back({row.sticks.collective, row.sticks.aileron, row.sticks.elevator,
                                  static_cast<double>(k + 1), h.mean, h.first().amplitude(),
                                  h.first().azimuth_of_most_deg(), h.of[1].amplitude(), h.of[2].amplitude()});
            table.parts.push_back(fmt::format("grip[{}]", k + 1));
        }
    return table;
}

Table interaction_table(const PitchRange& range) {
    Table table{"interaction",
                "What collective does to full cyclic and the reverse, blades averaged: cyclic swing, its change "
                "against the same cyclic at mid stick, and what full cyclic adds to the mean",
                {{"collective", "coll", "", 1, true},
                 {"aileron_gain_deg", "ail swing", "deg", 3},
                 {"aileron_change_percent", "change", "%", 2, true},
                 {"aileron_mean_deg", "ail on mean", "deg", 3, true},
                 {"elevator_gain_deg", "elev swing", "deg", 3},
                 {"elevator_change_percent", "change", "%", 2, true},
                 {"elevator_mean_deg", "elev on mean", "deg", 3, true}},
                {},
                {}};
    for (const Interaction& row : range.interaction)
        table.rows.push_back({row.collective, row.gain_deg[0], row.gain_change_percent[0], row.mean_shift_deg[0],
                              row.gain_deg[1], row.gain_change_percent[1], row.mean_shift_deg[1]});
    return table;
}

Table servo_table(const PitchRange& range, const head::Description& description) {
    Table table{"servos",
                "Servos over all sticks that the transmitter lets through (horn about neutral, in its own sense), and "
                "the pitch that one microsecond on one servo alone makes at mid stick",
                {{"servo", "servo", ""},
                 {"least_us", "least", "µs", 0},
                 {"most_us", "most", "µs", 0},
                 {"least_deg", "horn from", "deg", 1, true},
                 {"most_deg", "to", "deg", 1, true},
                 {"travel", "travel", ""},
                 {"step_mean_deg", "step, mean", "deg/µs", 4},
                 {"step_once_deg", "step, once", "deg/µs", 4}},
                {},
                {}};
    for (std::size_t j = 0; j < range.servos.size(); ++j) {
        const ServoEnds& ends = range.servos[j];
        table.rows.push_back({description.servos[j].name, ends.least_us, ends.most_us, ends.least_deg, ends.most_deg,
                              std::string(ends.within_travel ? "within" : "beyond"), ends.step_mean_deg,
                              ends.step_once_deg});
        table.parts.push_back(fmt::format("servo[{}]", j + 1));
    }
    return table;
}

Table output_table(const PitchRange& range, bool tail) {
    Table table{"outputs",
                "Other angles that the scene reads, around one turn, sticks held: mean, swing once a turn and the "
                "rotor's azimuth where it is highest",
                {{"collective", "coll", "", 1, true},
                 {"aileron", "ail", "", 2, true},
                 {"elevator", "elev", "", 2, true},
                 {"output", "what", ""},
                 {"mean_deg", "mean", "deg", 3, true},
                 {"once_deg", "once", "deg", 3},
                 {"most_azimuth_deg", "highest at", "deg", 1}},
                {},
                {}};
    if (tail) {
        table.columns[0] = {"rudder", "rudder", "", 1, true};
        table.columns.erase(table.columns.begin() + 1, table.columns.begin() + 3);
    }
    for (const OutputRow& row : range.outputs) {
        std::vector<Cell> cells{row.sticks.collective, row.sticks.aileron, row.sticks.elevator};
        if (tail) cells = {row.sticks.rudder};
        const double once = row.angle_deg.first().amplitude();
        cells.insert(cells.end(), {row.words, row.angle_deg.mean, once,
                                   once < 0.0005 ? Cell{} : Cell{row.angle_deg.first().azimuth_of_most_deg()}});
        table.rows.push_back(std::move(cells));
        table.parts.push_back(row.part);
    }
    return table;
}

/// "rudder" in place of "collective", and what the rows are.
Table rudder_table(const PitchRange& range) {
    Table table = collective_table(range);
    table.key = "rudder";
    table.title =
        "Rudder, right positive: pitch of each blade, mean over a turn (leading edge away from the boom positive), its "
        "slope per full stick, and what it swings once a turn";
    table.columns[0] = {"rudder", "rudder", "", 1, true};
    table.columns[1].head = "slider";
    for (const TurnRow& row : range.cyclic)
        for (std::size_t k = 0; k < row.pitch_deg.size(); ++k) {
            const Harmonics& h = row.pitch_deg[k];
            table.rows.push_back(
                {row.sticks.rudder, Cell{}, static_cast<double>(k + 1), h.mean, Cell{}, h.first().amplitude()});
            table.parts.push_back(fmt::format("grip[{}]", k + 1));
        }
    return table;
}

Answer tail_answer(const PitchRange& range, const head::Description& description) {
    Answer out;
    out.study = "range";
    const double left = mean(range.collective.front().mean_deg), right = mean(range.collective.back().mean_deg);
    const bool within = std::ranges::all_of(range.servos, [](const ServoEnds& s) { return s.within_travel; });
    out.text = fmt::format("Rudder runs from {} deg (left) through {} to {} deg (right). {}.", signed_figure(left, 2),
                           signed_figure(mean(range.collective[range.collective.size() / 2].mean_deg), 2),
                           signed_figure(right, 2),
                           within ? "The servo has travel for both ends" : "A servo runs out of travel");
    out.tone = within ? Tone::calm : Tone::notice;
    out.tables = {rudder_table(range), servo_table(range, description)};
    out.tables[1].title =
        "Servo from one end of the rudder to the other (horn about neutral, in its own sense), and the pitch that one "
        "microsecond makes at centred stick";
    if (!range.outputs.empty()) out.tables.push_back(output_table(range, true));
    out.notes = {
        fmt::format(
            "Straightness: mean pitch strays {:.3f} deg at most from the straight line between its ends; the "
            "middle of the stick lies {} deg from the middle of the ends.",
            range.collective_bend_deg,
            signed_figure(mean(range.collective[range.collective.size() / 2].mean_deg) - (left + right) / 2, 2)),
        "Pulses follow from each servo's pulse at centre and angle for each µs (1500 µs and 0.1 deg/µs where the "
        "scene is silent: common practice, no source)."};
    return out;
}

}  // namespace

std::string own_swing(double deg) {
    return deg < 0.005
               ? ""
               : fmt::format(" Without cyclic the blades swing {:.2f} deg already, which is not counted in that.", deg);
}

Answer answer(const PitchRange& range, const head::Description& description) {
    if (is_tail(description)) return tail_answer(range, description);
    Answer out;
    out.study = "range";
    const double low = mean(range.collective.front().mean_deg), high = mean(range.collective.back().mean_deg);
    const Interaction& middle = range.interaction[1];
    const bool within = std::ranges::all_of(range.servos, [](const ServoEnds& s) { return s.within_travel; });
    out.text = fmt::format(
        "Collective runs from {} deg (down) through {} to {} deg (up); full aileron swings the blades "
        "{:.2f} deg each way, full elevator {:.2f} deg.",
        signed_figure(low, 2), signed_figure(mean(range.collective[range.collective.size() / 2].mean_deg), 2),
        signed_figure(high, 2), middle.gain_deg[0], middle.gain_deg[1]);
    out.text += own_swing(mean(range.collective[range.collective.size() / 2].once_deg));
    if (high < low) out.text += " Up stick lowers pitch: change the sign of the collective travel.";
    out.text +=
        fmt::format(" {}, with {}.", within ? "Every servo has travel for all sticks" : "A servo runs out of travel",
                    head::envelope_words(description.mixing));
    out.tone = high < low || !within ? Tone::notice : Tone::calm;
    out.tables = {collective_table(range), cyclic_table(range), interaction_table(range),
                  servo_table(range, description)};
    if (!range.outputs.empty()) out.tables.push_back(output_table(range, false));
    out.notes = {
        fmt::format("Linearity: mean pitch strays {:.3f} deg at most from the straight line between its ends; half "
                    "stick gives {} % more swing than half of full aileron, {} % for elevator.",
                    range.collective_bend_deg, signed_figure(range.cyclic_bend_percent[0], 2),
                    signed_figure(range.cyclic_bend_percent[1], 2)),
        fmt::format("One microsecond on all servos together moves the collective {:.4f} deg.",
                    range.step_collective_deg),
        "Pulses follow from each servo's pulse at centre and angle for each µs (1500 µs and 0.1 deg/µs where the "
        "scene is silent: common practice, no source).",
        "A swing is an amplitude: once a turn the pitch goes by so much to either side of its mean. What full cyclic "
        "does is counted from the swing that is there without it.",
        even_linkage,
        stabilised};
    return out;
}

}  // namespace swashwright::studies
