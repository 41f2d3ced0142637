// The first questions at the bench, answered in words and tables.
#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/pitch/directions.h"

namespace swashwright::studies {
namespace {

constexpr const char* sticks[] = {"up", "right", "forward"};

std::string turn_words(double horn_deg) {
    if (std::abs(horn_deg) < 0.005) return "stays";
    return horn_deg > 0 ? "anticlockwise" : "clockwise";
}

Table servo_table(const Directions& questions, const head::Description& description) {
    Table table{"servos",
                "Which way every output shaft turns, seen on the horn's face, as a stick goes from centre to its end",
                {{"servo", "servo", ""},
                 {"stick", "stick", ""},
                 {"turns", "turns", ""},
                 {"horn_deg", "horn", "deg", 2, true},
                 {"ball_mm", "ball rises", "mm", 2, true},
                 {"pulse_us", "pulse", "us", 0, true},
                 {"reverse", "reverse channel", ""}},
                {},
                {}};
    for (std::size_t j = 0; j < questions.servos.size(); ++j)
        for (std::size_t i = 0; i < 3; ++i) {
            const ShaftTurn& turn = questions.servos[j].turns[i];
            table.rows.push_back({description.servos[j].name, std::string(sticks[i]), turn_words(turn.horn_deg),
                                  turn.horn_deg, turn.ball_mm, turn.pulse_us,
                                  std::string(questions.servos[j].reverse ? "yes" : "no")});
            table.parts.push_back(fmt::format("servo[{}]", j + 1));
        }
    return table;
}

Table gauge_table(const Directions& questions) {
    Table table{"gauge",
                "Where to put blade 1 and gauge: the azimuth (0 over the tail, growing in the direction of "
                "rotation) at which the swing that full stick makes is highest, and what the gauge shows more there "
                "than with sticks centred",
                {{"stick", "stick", ""},
                 {"azimuth_deg", "blade at", "deg", 1},
                 {"points_to", "points to", ""},
                 {"pitch_deg", "adds", "deg", 2, true},
                 {"wanted_azimuth_deg", "should be at", "deg", 1},
                 {"off_deg", "off by", "deg", 2, true}},
                {},
                {}};
    const auto add = [&](const char* stick, const GaugePlace& place) {
        table.rows.push_back({std::string(stick), place.azimuth_deg, place_in_words(place.position_deg),
                              place.pitch_deg, place.wanted_azimuth_deg, place.off_deg});
    };
    add("right", questions.aileron);
    add("forward", questions.elevator);
    return table;
}

/// Figures to start from; common practice, no source.
Table usual_ranges() {
    const auto row = [](const char* style, const char* collective, const char* cyclic) {
        return std::vector<Cell>{std::string(style), std::string(collective), std::string(cyclic)};
    };
    return {"usual_ranges",
            "Usual ranges by flying style (common practice, no source)",
            {{"style", "style", ""}, {"collective_deg", "collective, deg", ""}, {"cyclic_deg", "cyclic, deg", ""}},
            {row("first hovering", "-2 to +9", "4 to 5"), row("scale, calm circuits", "-3 to +10", "5 to 6"),
             row("sport and loops", "-9 to +11", "6 to 7"), row("hard aerobatics", "-12 to +12", "7 to 9")},
            {}};
}

std::string phase_words(const Directions& questions, const head::Description& description) {
    if (!questions.phase_deg) return "No phase setting makes elevator tilt the disc straight fore and aft";
    const double by = *questions.phase_deg - description.mixing.phase_deg;
    if (std::abs(by) < 0.05)
        return fmt::format("A phase of {:.1f} deg is right: elevator tilts the disc straight fore and aft",
                           description.mixing.phase_deg);
    return fmt::format(
        "A phase of {:.1f} deg (phase_deg, now {:.1f}) would make elevator tilt the disc straight fore and aft",
        *questions.phase_deg, description.mixing.phase_deg);
}

std::string servo_words(const Directions& questions, const head::Description& description) {
    std::string reversed;
    for (std::size_t j = 0; j < questions.servos.size(); ++j)
        if (questions.servos[j].reverse) reversed += (reversed.empty() ? "" : ", ") + description.servos[j].name;
    return reversed.empty() ? "No channel needs reversing" : fmt::format("Reverse the channel of: {}", reversed);
}

}  // namespace

Answer answer(const Directions& questions, const head::Description& description) {
    if (questions.tail) return answer(*questions.tail, description);
    Answer out;
    out.study = "directions";
    const bool right_phase =
        questions.phase_deg && std::abs(*questions.phase_deg - description.mixing.phase_deg) < 0.05;
    out.tone = questions.up_raises_pitch && right_phase ? Tone::calm : Tone::notice;
    out.text = fmt::format(
        "{}. {}.{}", servo_words(questions, description), phase_words(questions, description),
        questions.up_raises_pitch ? "" : " Up stick lowers pitch: change the sign of the collective travel.");
    out.tables = {servo_table(questions, description), gauge_table(questions), usual_ranges()};
    out.notes = {
        fmt::format("The disc's highest point is taken to follow the highest pitch by {:g} deg in the direction of "
                    "rotation (90 for a free flap hinge on the shaft; stiff dampers or a hinge farther out make it "
                    "less).",
                    questions.lag_deg),
        "The output shaft's direction (axis) is taken to point out of the servo through the horn, so that "
        "anticlockwise on the horn's face is a growing horn angle.",
        "Reverse: by pulse_deg_per_us a longer pulse lowers the horn ball, and the mixer is taken to lengthen the "
        "pulse for a ball that is to rise (common practice, no source). Check with motor disconnected."};
    for (std::size_t j = 0; j < description.servos.size(); ++j) {
        if (head::linked_straight(description, j)) continue;
        out.notes.push_back(
            "Of a servo that reaches the ring through levers the sense is that which raises the ring, by its raise; "
            "its "
            "horn ball may go the other way.");
        break;
    }
    if (questions.phase_deg)
        out.notes.push_back(
            fmt::format("With that phase aileron is off by {} deg.", signed_figure(questions.aileron_then.off_deg, 2)));
    return out;
}

}  // namespace swashwright::studies
