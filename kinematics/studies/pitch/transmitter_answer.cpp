// The transmitter's settings in words and tables.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/cell.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/pitch/directions.h"
#include "kinematics/studies/pitch/transmitter.h"

namespace swashwright::studies {
namespace {

constexpr double same_gap_deg = 0.5;

/// "three servos on one ring, 120 deg apart".
std::string mix_words(const Transmitter& found) {
    if (found.mix == Mix::one_servo) return "one servo on the rudder, no mix";
    if (found.mix == Mix::separate) return "one servo for each stick, no mix of the ring";
    static constexpr std::array<const char*, 7> counts{"no", "one", "two", "three", "four", "five", "six"};
    const std::string servos =
        fmt::format("{} servos share the ring", counts[std::min(found.channels.size(), counts.size() - 1)]);
    if (found.own_weights) return servos + ", each by weights of its own";
    if (found.gaps_deg.empty()) return servos;
    const auto [least, most] = std::ranges::minmax(found.gaps_deg);
    if (most - least < same_gap_deg) return fmt::format("{}, {:.0f} deg apart", servos, least);
    std::vector<std::string> gaps;
    for (const double gap : found.gaps_deg) gaps.push_back(fmt::format("{:.0f}", gap));
    return fmt::format("{}, {} deg apart", servos, listed(gaps));
}

/// Of the two ways round, that of the fewer channels is the one told as opposite.
bool is_opposite(const Transmitter& found, const Channel& channel) {
    const auto against = std::ranges::count_if(found.channels, &Channel::against_first);
    return channel.against_first == (2 * against <= std::ssize(found.channels));
}

std::string servo_words(const Channel& channel) {
    head::Servo servo;
    servo.name = channel.name;
    return head::servo_words(servo);
}

/// Which channels run against which; servos of one make.
std::string sense_words(const Transmitter& found) {
    std::vector<std::string> few, many;
    for (const Channel& channel : found.channels)
        (is_opposite(found, channel) ? few : many).push_back(servo_words(channel));
    if (found.channels.size() == 1) return {};
    if (few.empty()) return " All channels run the same way, if the servos are alike.";
    return fmt::format(" The channel{} of {} must run opposite to {} of {}, if the servos are alike.",
                       few.size() == 1 ? "" : "s", listed(few), many.size() == 1 ? "that" : "those", listed(many));
}

std::string travel_words(const Transmitter& found) {
    std::string out;
    for (const StickTravel& stick : found.sticks)
        out += fmt::format("{}{} {:.0f} %", out.empty() ? "" : ", ", stick.stick, stick.percent);
    return fmt::format(" Travel: {}, if 100 % is {:g} µs and a servo turns {} deg for each µs{}.", out, found.full_us,
                       figure(found.deg_per_us, 3), found.gain_given ? "" : " (a usual figure; measure it at a horn)");
}

/// Of a stick that does the opposite of what is wanted. Where each stick has a servo of its own, its channel is all
/// that there is to change, and the channels' ways are told for a stick that is right.
std::string opposite_words(const StickTravel& stick, Mix mix) {
    const bool collective = stick.stick == "collective";
    if (mix == Mix::separate) return wrong_stick_words(stick.stick);
    const std::string cure = fmt::format("change the sign of {} travel in the mix{}",
                                         collective ? "the collective" : "its", collective ? "" : ", not a servo");
    if (collective) return fmt::format(" Up stick lowers the pitch: {}.", cure);
    return fmt::format(" {} tilts the disc the wrong way: {}.", stick.stick == "aileron" ? "Aileron" : "Elevator",
                       cure);
}

std::string wrong_words(const Transmitter& found) {
    std::string out;
    for (const StickTravel& stick : found.sticks)
        if (!stick.as_wanted) out += opposite_words(stick, found.mix);
    for (const Channel& channel : found.channels)
        if (channel.end_percent > 100)
            out += fmt::format(" The channel of {} needs {:.0f} % at its end: use less travel, or a longer horn.",
                               servo_words(channel), channel.end_percent);
    return out;
}

Table share_table(const Transmitter& found) {
    Table table{"shares",
                "Servos in the head's order, balls by their azimuth from the nose to the left: what a ball gets of "
                "each stick's travel (plus raises it), and whether its channel runs opposite to the others",
                {{"servo", "servo", ""},
                 {"azimuth_deg", "ball at", "deg", 0},
                 {"collective_percent", "collective", "%", 0, true},
                 {"aileron_percent", "aileron", "%", 0, true},
                 {"elevator_percent", "elevator", "%", 0, true},
                 {"opposite", "opposite", ""}},
                {},
                {}};
    if (found.mix == Mix::one_servo) return table;
    for (const Channel& channel : found.channels) {
        table.rows.push_back({channel.name, cell(channel.azimuth_deg), cell(channel.share[0]), cell(channel.share[1]),
                              cell(channel.share[2]), std::string(is_opposite(found, channel) ? "yes" : "no")});
        table.parts.push_back(channel.part);
    }
    return table;
}

Table channel_table(const Transmitter& found) {
    Table table{
        "channels",
        "How far the horns go from neutral with all sticks, and what both ends of the channel must at least be set to",
        {{"servo", "servo", ""},
         {"least_deg", "horn from", "deg", 1, true},
         {"most_deg", "to", "deg", 1, true},
         {"ends_percent", "ends", "%", 0}},
        {},
        {}};
    for (const Channel& channel : found.channels) {
        table.rows.push_back({channel.name, channel.least_deg, channel.most_deg, channel.end_percent});
        table.parts.push_back(channel.part);
    }
    return table;
}

Table stick_table(const Transmitter& found) {
    Table table{"sticks",
                "Travel of each stick, full up, right or forward: the horn of a servo straight in line, and what the "
                "blades do (cyclic: swing to either side of the mean, once a turn)",
                {{"stick", "stick", ""},
                 {"sign", "sign", ""},
                 {"travel_percent", "travel", "%", 0},
                 {"horn_deg", "horn", "deg", 1, true},
                 {"pitch_deg", "blades", "deg", 2, true},
                 {"goes", "goes the right way", ""}},
                {},
                {}};
    for (const StickTravel& stick : found.sticks)
        table.rows.push_back(
            {stick.stick, std::string(stick.horn_deg < 0 ? "minus" : "plus"), stick.percent, stick.horn_deg,
             stick.pitch_deg,
             found.mix == Mix::one_servo ? Cell{} : Cell{std::string(stick.as_wanted ? "yes" : "no")}});
    return table;
}

Table position_table(const Transmitter& found) {
    Table table{"positions",
                "The sticks in percent, as a transmitter shows them, and from -1 to 1, as this program writes them",
                {{"stick", "stick", ""},
                 {"stick_percent", "stick at", "%", 0, true},
                 {"position", "that is", "", 2, true},
                 {"horn_deg", "horn", "deg", 1, true},
                 {"pulse_us", "pulse", "µs", 0, true},
                 {"pitch_deg", "blades", "deg", 2, true}},
                {},
                {}};
    for (const StickPosition& at : found.positions)
        table.rows.push_back({at.stick, 100 * at.position, at.position, at.horn_deg, at.pulse_us, at.pitch_deg});
    return table;
}

}  // namespace

std::vector<std::string> transmitter_steps(const head::Description& description) {
    const bool tail = is_tail(description), separate = mix_of(description) == Mix::separate;
    std::vector<std::string> out{
        "Motor disconnected; blades off too, nothing here needs them.",
        "Horns off, or links off the horns, when the servos are powered for the first time: a servo may run to its "
        "end.",
        tail ? "The gyro in its set-up mode: else it moves the servo by itself."
             : fmt::format(
                   "Stabilising electronics, where fitted, in set-up mode: else they move the servos by themselves. {}",
                   separate ? "Neither they nor the transmitter may mix the ring: the levers do."
                            : "Only one may mix the ring, they or the transmitter."),
        "Stick trims and every channel's centre (sub-trim) at zero; both ends of every channel alike, as far as the "
        "table asks at least.",
        "Curves straight from end to end, nothing softened at the middle, one rate only, as long as anything is "
        "measured."};
    if (tail) {
        out.emplace_back("Horn on at centred rudder, on the tooth nearest square to its rod; then the rod's length.");
        out.emplace_back(
            "Right rudder: the servo turns as the answer on directions tells; if not, reverse its channel.");
        out.emplace_back("Travel until the slider nearly reaches its ends and does not press on them.");
        return out;
    }
    out.emplace_back(separate ? "No mix of the ring: each stick's channel to the servo that the table names."
                              : "The mix of the ring as named above, servos in the order of the table.");
    out.emplace_back(
        "Horns on at mid stick, links still off them, on the tooth that sets them nearest to square to their links; "
        "only what is left by the channel's centre (sub-trim).");
    if (separate) {
        out.emplace_back(
            "Collective up, aileron right, elevator forward, one after another: each servo turns as the answer on "
            "directions tells. One that turns the other way: reverse its channel.");
    } else {
        out.emplace_back(
            "Collective stick up: the balls of all horns rise together (or all fall, where the sign is minus). One "
            "that goes against the others: reverse its channel.");
        out.emplace_back(
            "Aileron right, elevator forward: the horns turn as the answer on directions tells. If all servos agree on "
            "collective and a tilt is wrong, change the sign of that stick's travel in the mix, not a servo.");
    }
    out.emplace_back(
        "Links on; travel of each stick until a protractor shows the angle of the table; it is that of a horn whose "
        "ball stands straight in line with the tilt.");
    out.emplace_back("Throttle hold and failsafe as the makers of the transmitter and the motor controller say.");
    return out;
}

std::vector<std::string> transmitter_notes(const Transmitter& found) {
    std::vector<std::string> out{
        "Percent of travel are of a channel's full travel. How much that is differs: pulses from 1000 to 2000 µs, 500 "
        "to either side, are common practice, no source. Set 100 %, see how far the horn goes, and tell "
        "what a channel does at 100 % and how far the servo turns for each µs."};
    if (found.mix != Mix::one_servo)
        out.emplace_back(
            "Plus and minus of a travel are those of the scene: plus raises the ring. Which sign a transmitter shows "
            "for that depends on its order of servos; what counts is that the ring goes the right way.");
    if (found.mix == Mix::separate)
        out.emplace_back(
            "Levers mix the sticks on this head, so each channel has a stick of its own, and stabilising electronics "
            "must not mix either.");
    return out;
}

Answer answer(const Transmitter& found, const head::Description& description) {
    Answer out;
    out.study = "transmitter";
    const std::string wrong = wrong_words(found);
    out.tone = wrong.empty() ? Tone::calm : Tone::notice;
    out.text = fmt::format("{}.{}{}{}", capitalised(mix_words(found)), sense_words(found), travel_words(found), wrong);
    out.tables = {share_table(found), channel_table(found), stick_table(found), position_table(found)};
    out.notes = transmitter_notes(found);
    out.notes.emplace_back("In this order (common practice, no source; the maker's manual comes first):");
    int number = 0;
    for (const std::string& step : transmitter_steps(description))
        out.notes.push_back(fmt::format("{}. {}", ++number, step));
    return out;
}

}  // namespace swashwright::studies
