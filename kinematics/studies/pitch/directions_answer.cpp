// The first questions at the bench, answered in words and tables.
#include <fmt/format.h>

#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/shown.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/pitch/directions.h"
#include "kinematics/studies/pitch/range.h"
#include "kinematics/studies/pitch/transmitter.h"

namespace swashwright::studies {
namespace {

constexpr const char* sticks[] = {"up", "right", "forward"};

std::string turn_words(double horn_deg) {
    if (std::abs(horn_deg) < 0.005) return "stays";
    return horn_deg > 0 ? "anticlockwise" : "clockwise";
}

/// "left and rear": servos by their names.
std::string named(const std::vector<std::size_t>& servos, const head::Description& description) {
    std::vector<std::string> names;
    for (const std::size_t j : servos) names.push_back(description.servos[j].name);
    return listed(names);
}

Table servo_table(const Directions& questions, const head::Description& description) {
    Table table{"servos",
                "Which way every output shaft turns, seen on the horn's face, as a stick goes from centre to its end",
                {{"servo", "servo", ""},
                 {"stick", "stick", ""},
                 {"turns", "turns", ""},
                 {"horn_deg", "horn", "deg", 2, true},
                 {"ball_mm", "ball rises", "mm", 2, true},
                 {"pulse_us", "pulse", "µs", 0, true},
                 {"reverse", "reverse", ""},
                 {"opposite_to", "runs opposite to", "", data_only}},  // the sentence says it once
                {},
                {}};
    for (std::size_t j = 0; j < questions.servos.size(); ++j) {
        const ServoDirections& servo = questions.servos[j];
        const bool known = questions.pulses_measured;
        const std::string opposite = servo.opposite_to.empty() ? "none" : named(servo.opposite_to, description);
        for (std::size_t i = 0; i < 3; ++i) {
            const ShaftTurn& turn = servo.turns[i];
            table.rows.push_back({description.servos[j].name, std::string(sticks[i]), turn_words(turn.horn_deg),
                                  turn.horn_deg, turn.ball_mm, known ? Cell{turn.pulse_us} : Cell{},
                                  known ? Cell{servo.reverse ? "yes" : "no"} : Cell{}, opposite});
            table.parts.push_back(fmt::format("servo[{}]", j + 1));
        }
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
    const auto row = [](const char* style, const char* curve, const char* linkage, const char* cyclic,
                        const char* stabilised) {
        return std::vector<Cell>{std::string(style), std::string(curve), std::string(linkage), std::string(cyclic),
                                 std::string(stabilised)};
    };
    return {"usual_ranges",
            "Usual ranges by flying style, deg (common practice, no source): ends of the pitch curve; what the linkage "
            "itself gives both ways; cyclic; cyclic that an electronic stabiliser may use",
            {{"style", "style", ""},
             {"collective_deg", "curve's ends", ""},
             {"linkage_deg", "linkage", ""},
             {"cyclic_deg", "cyclic", ""},
             {"stabilised_cyclic_deg", "stabilised", ""}},
            {row("first hovering", "-2 to +9", "-10 to +10", "4 to 5", "6 to 8"),
             row("scale, calm circuits", "-3 to +10", "-10 to +10", "5 to 6", "6 to 8"),
             row("sport and loops", "-9 to +11", "-11 to +11", "6 to 7", "7 to 9"),
             row("hard aerobatics", "-12 to +12", "-12 to +12", "7 to 9", "9 to 12")},
            {}};
}

/// The phase that is right once a stick that goes the wrong way has its other sign.
double phase_to_set(const Directions& questions) {
    return questions.elevator.wrong_way() ? within_half_turn(*questions.phase_deg + 180) : *questions.phase_deg;
}

bool phase_can_stay(const Directions& questions, const head::Description& description) {
    if (!questions.phase_deg) return false;
    const double off = within_half_turn(phase_to_set(questions) - description.mixing.phase_deg);
    return std::abs(off) <= phase_worth_setting_deg;
}

std::string phase_words(const Directions& questions, const head::Description& description) {
    if (!questions.phase_deg) return "No phase setting makes elevator tilt the disc straight fore and aft";
    if (phase_can_stay(questions, description))
        return fmt::format("The phase can stay at {:.1f} deg", description.mixing.phase_deg);
    return fmt::format(
        "A phase of about {:.0f} deg (now {:.1f}) would make elevator tilt the disc straight fore and aft",
        phase_to_set(questions), description.mixing.phase_deg);
}

/// The servos run as they should and a stick is answered the wrong way.
std::string mix_words(const Directions& questions, Mix mix) {
    const bool aileron = questions.aileron.wrong_way(), elevator = questions.elevator.wrong_way();
    if (mix == Mix::separate)
        return (aileron ? wrong_stick_words("aileron") : "") + (elevator ? wrong_stick_words("elevator") : "");
    if (aileron && elevator)
        return " Aileron and elevator tilt the disc the wrong way: change the sign of the cyclic travel in "
               "the mix, not a servo.";
    if (!aileron && !elevator) return "";
    return fmt::format(" {} tilts the disc the wrong way: change its sign in the mix, not a servo.",
                       aileron ? "Aileron" : "Elevator");
}

/// "servo left and servo rear".
std::string servos_named(const std::vector<std::size_t>& servos, const head::Description& description) {
    std::vector<std::string> names;
    for (const std::size_t j : servos) names.push_back(head::servo_words(description.servos[j]));
    return listed(names);
}

/// The two groups of servos whose channels run opposite ways, the smaller first.
std::string opposite_words(const Directions& questions, const head::Description& description) {
    for (std::size_t j = 0; j < questions.servos.size(); ++j) {
        const auto& others = questions.servos[j].opposite_to;
        if (others.empty() || 2 * others.size() < questions.servos.size()) continue;
        const auto& mine = questions.servos[others.front()].opposite_to;
        return fmt::format("With servos of one kind the channel{} of {} must run opposite to {} of {}",
                           mine.size() == 1 ? "" : "s", servos_named(mine, description),
                           others.size() == 1 ? "that" : "those", servos_named(others, description));
    }
    return "With servos of one kind all channels must run the same way";
}

std::string servo_words(const Directions& questions, const head::Description& description) {
    if (!questions.pulses_measured) return opposite_words(questions, description);
    std::vector<std::size_t> reversed;
    for (std::size_t j = 0; j < questions.servos.size(); ++j)
        if (questions.servos[j].reverse) reversed.push_back(j);
    return reversed.empty() ? "No channel needs reversing"
                            : fmt::format("Reverse the channel of {}", servos_named(reversed, description));
}

/// What the channels' ways rest on, and what is wrong where all of them agree and a stick is still answered the wrong
/// way.
std::vector<std::string> channel_notes(const Directions& questions, Mix mix) {
    std::vector<std::string> out;
    if (questions.pulses_measured)
        out.push_back(fmt::format(
            "Reverse: {} (common practice, no source). Where no angle for each µs is given it counts as 0.1 deg.",
            mix == Mix::separate
                ? "a channel is taken to lengthen the pulse for a stick that goes up, right or forward, and by the "
                  "servo's angle for each µs that would be the wrong way"
                : "by its angle for each µs a longer pulse lowers the horn ball, and the mixer is taken to lengthen "
                  "the pulse for a ball that is to rise"));
    else
        out.emplace_back(
            "The scene has no measured pulse direction (a servo's angle for each µs), so channels are told against "
            "each other only, for servos of one kind; of another kind each has to be tried by itself.");
    if (mix == Mix::separate)
        out.emplace_back(
            "Check with motor disconnected: each stick moves a servo of its own, and levers do the mixing. Where a "
            "stick by itself does the opposite of what it should, reverse the channel of its servo (common practice, "
            "no source).");
    else
        out.emplace_back(
            "Check with motor disconnected: with collective alone the ring must stay level. If it tilts, a servo runs "
            "the wrong way: reverse its channel. If it stays level and goes the wrong way, change the sign of "
            "collective in the mix. If it stays level and aileron or elevator tilts it the wrong way, the sign of that "
            "stick in the mix is wrong, not a servo (common practice, no source).");
    return out;
}

}  // namespace

std::string wrong_stick_words(const std::string& stick) {
    return fmt::format(
        " As the head is set {}; what is told of the channels puts that right. If the model still does so, reverse "
        "the channel of the servo of {}.",
        stick == "collective" ? "up stick lowers the pitch" : stick + " tilts the disc the wrong way", stick);
}

Answer answer(const Directions& questions, const head::Description& description) {
    if (questions.tail) return answer(*questions.tail, description);
    Answer out;
    out.study = "directions";
    const Mix mix = mix_of(description);
    const bool right_ways =
        questions.up_raises_pitch && !questions.aileron.wrong_way() && !questions.elevator.wrong_way();
    out.tone = right_ways && phase_can_stay(questions, description) ? Tone::calm : Tone::notice;
    const std::string up = questions.up_raises_pitch ? ""
                           : mix == Mix::separate    ? wrong_stick_words("collective")
                                                  : " Up stick lowers pitch: change the sign of the collective travel.";
    out.text = fmt::format("{}.{} {}.{}", servo_words(questions, description), mix_words(questions, mix),
                           phase_words(questions, description), up);
    out.tables = {servo_table(questions, description), gauge_table(questions), usual_ranges()};
    out.notes = {
        fmt::format("The disc's highest point is taken to follow the highest pitch by {:g} deg in the direction of "
                    "rotation (90 for a free flap hinge on the shaft; stiff dampers or a hinge farther out make it "
                    "less).",
                    questions.lag_deg),
        "The output shaft's direction is taken to point out of the servo through the horn, so that "
        "anticlockwise on the horn's face is a growing horn angle."};
    for (std::string& note : channel_notes(questions, mix)) out.notes.push_back(std::move(note));
    out.notes.emplace_back(even_linkage);
    out.notes.emplace_back(stabilised);
    for (std::size_t j = 0; j < description.servos.size(); ++j) {
        if (head::linked_straight(description, j)) continue;
        out.notes.push_back(
            "Of a servo that reaches the ring through levers the sense is that which raises the ring, as the scene "
            "says; its horn ball may go the other way.");
        break;
    }
    if (questions.phase_deg) {
        const bool wrong = questions.aileron.wrong_way() || questions.elevator.wrong_way();
        out.notes.push_back(fmt::format(
            "For a lag of exactly {:g} deg a phase of {} deg puts elevator straight fore and aft{}. The lag itself is "
            "not known better than about {:g} deg, so less than that is not worth setting: tan(lag) = (Lock number / "
            "8) / (flap frequency squared - 1), Johnson, Helicopter Theory (from memory).",
            questions.lag_deg, signed_figure(phase_to_set(questions), 1),
            wrong ? " once the signs are right"
                  : fmt::format("; aileron is then off by {} deg", signed_figure(questions.aileron_then.off_deg, 2)),
            phase_worth_setting_deg));
    }
    return out;
}

}  // namespace swashwright::studies
