#include "viewer/console/pose_options.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "kinematics/head/stick_envelope.h"
#include "viewer/console/numbers.h"
#include "viewer/console/streams.h"

namespace swashwright::console {

std::array<CLI::Option*, 4> add_stick_options(CLI::App& verb, head::Sticks& sticks) {
    return {add_number(verb, "--collective", sticks.collective, -1, 1, "Stick, -1 to 1, up positive"),
            add_number(verb, "--aileron", sticks.aileron, -1, 1, "Stick, -1 to 1, right positive"),
            add_number(verb, "--elevator", sticks.elevator, -1, 1, "Stick, -1 to 1, forward positive"),
            add_number(verb, "--rudder", sticks.rudder, -1, 1, "A tail's stick, -1 to 1, right positive")};
}

void add_pose_options(CLI::App& verb, PoseOptions& options) {
    for (CLI::Option* stick : add_stick_options(verb, options.sticks))
        stick->each([&options](const std::string&) { options.sticks_given = true; });
    add_number(verb, "--azimuth", options.azimuth_deg, -most_angle_deg, most_angle_deg,
               "Rotor azimuth of blade 1 in degrees, 0 over the tail, growing in the direction of rotation");
    verb.add_option_function<std::string>(
            "--horns",
            [&options](const std::string& text) {
                const auto angles = finite_numbers(text, -most_angle_deg, most_angle_deg);
                if (!angles)
                    throw CLI::ValidationError("--horns", fmt::format("expected angles from {} to {} with commas "
                                                                      "between, found {}",
                                                                      -most_angle_deg, most_angle_deg, text));
                options.horns_deg = *angles;
            },
            "Horn angles in degrees, one for each servo, in place of the sticks: -5,3,2")
        ->type_name("DEG,DEG,DEG");
    add_hand_option(verb, options);
}

void add_hand_option(CLI::App& verb, PoseOptions& options) {
    verb.add_option("--hand", options.hands,
                    "A part that is moved by hand and its angle in degrees; any number of them: lever[1]=5")
        ->type_name("PART=DEG")
        ->allow_extra_args(false);
}

namespace {

struct Hand {
    std::size_t index = 0;  // in head::Parts::hands
    double deg = 0;
};

std::optional<Hand> read_hand(const std::string& text, const head::Head& head) {
    const std::size_t equals = std::min(text.find('='), text.size());
    const auto deg = finite_number(std::string_view(text).substr(std::min(equals + 1, text.size())));
    const auto& hands = head.parts().hands;
    for (std::size_t i = 0; i < hands.size() && deg && std::abs(*deg) <= most_angle_deg; ++i)
        if (text.substr(0, equals) == fmt::format("lever[{}]", hands[i].lever + 1)) return Hand{i, *deg};
    return std::nullopt;
}

}  // namespace

std::string pose_mistake(const PoseOptions& options, const head::Head& head) {
    const std::size_t servos = head.description().servos.size();
    if (!options.horns_deg.empty() && options.horns_deg.size() != servos)
        return fmt::format("--horns: expected {} angles, one for each servo, found {}", servos,
                           options.horns_deg.size());
    for (const std::string& text : options.hands) {
        if (read_hand(text, head)) continue;
        std::string known;
        for (const auto& hand : head.parts().hands)
            known += fmt::format("{}lever[{}]", known.empty() ? "" : ", ", hand.lever + 1);
        return known.empty() ? fmt::format("--hand {}: no part of this scene is moved by hand (by_hand_deg)", text)
                             : fmt::format("--hand {}: expected one of {} and its angle, such as {}=5", text, known,
                                           known.substr(0, known.find(',')));
    }
    return {};
}

void note_beyond_hand(const head::Head& head, const std::vector<double>& hands) {
    for (std::size_t i = 0; i < hands.size(); ++i) {
        const head::Lever& lever = head.description().levers[static_cast<std::size_t>(head.parts().hands[i].lever)];
        const auto range = *lever.by_hand_deg;
        if (hands[i] < range[0] || hands[i] > range[1])
            complain(
                "swashwright: warning: beyond by_hand_deg, solved all the same: {} at {:.1f} deg, moved from {:.1f} "
                "to {:.1f} deg\n",
                lever.name, hands[i], range[0], range[1]);
    }
}

std::vector<double> hands_of(const PoseOptions& options, const head::Head& head) {
    std::vector<double> out;
    for (const auto& hand : head.parts().hands)
        out.push_back(head.description().levers[static_cast<std::size_t>(hand.lever)].angle_deg);
    for (const std::string& text : options.hands)
        if (const auto hand = read_hand(text, head)) out[hand->index] = hand->deg;
    return out;
}

std::vector<double> horns_of(const PoseOptions& options, const head::Head& head) {
    return options.horns_deg.empty() ? head.horn_angles_deg(options.sticks) : options.horns_deg;
}

std::string unbroken_sticks(const head::Description& head, const head::Sticks& s) {
    if (head.kind == head::Kind::tail) return fmt::format("rudder\u00a0{:+.2f}", s.rudder);
    return fmt::format("collective\u00a0{:+.2f}, aileron\u00a0{:+.2f}, elevator\u00a0{:+.2f}", s.collective, s.aileron,
                       s.elevator);
}

void note_if_held_back(const head::Head& head, const head::Sticks& sticks, const char* done) {
    const head::Mixing& mixing = head.description().mixing;
    const bool tail = head.description().kind == head::Kind::tail;
    if (tail && (sticks.collective != 0 || sticks.aileron != 0 || sticks.elevator != 0))
        complain(
            "swashwright: note: a tail is moved by --rudder only; collective, aileron and elevator do nothing "
            "here\n");
    if (!tail && sticks.rudder != 0)
        complain("swashwright: note: --rudder moves a tail; this scene is of a main rotor, and it does nothing here\n");
    if (tail || head::lets_through(mixing, sticks)) return;
    complain(
        "swashwright: note: {} all the same, though the scene's transmitter lets less through: {}; see "
        "cyclic_stick and combined_limit of [mixing]\n",
        done, head::envelope_words(mixing));
}

head::Pose pose_of_turn(const head::Head& head, const std::vector<double>& horns_deg,
                        const std::vector<double>& hands_deg, double azimuth_deg, bool& closes) {
    head::NearestFit fit = head.nearest(horns_deg, azimuth_deg, hands_deg);
    if (closes && !fit.shortfalls.empty()) {
        complain("swashwright: azimuth {:g}\u00b0: {}\n", azimuth_deg, fit.shortfalls.front().sentence);
        closes = false;
    }
    return std::move(fit.pose);
}

}  // namespace swashwright::console
