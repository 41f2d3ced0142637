#include "kinematics/studies/pitch/tail_directions.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/mean.h"

namespace swashwright::studies {
namespace {

constexpr double no_change_deg = 0.05;

head::Result<RudderEnd> end_at(const head::Head& head, const head::Pose& centre, double rudder) {
    const auto pose = head.pose({.rudder = rudder}, 0);
    if (!pose)
        return tl::unexpected(head::Failure{
            fmt::format("with full {} rudder {}; ask for less travel: the question on what binds says how much",
                        rudder < 0 ? "left" : "right", pose.error().message),
            pose.error().shortfalls});
    RudderEnd out{rudder, pose->height_mm - centre.height_mm, pose->pitch_deg, {}, {}, {}};
    for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
        out.change_deg.push_back(pose->pitch_deg[k] - centre.pitch_deg[k]);
    for (std::size_t j = 0; j < pose->horn_deg.size(); ++j) {
        out.horn_deg.push_back(pose->horn_deg[j] - centre.horn_deg[j]);
        out.pulse_us.push_back(out.horn_deg[j] / head.description().servos[j].pulse_deg_per_us);
    }
    return out;
}

std::string turn_words(double horn_deg) {
    if (std::abs(horn_deg) < 0.005) return "stays";
    return horn_deg > 0 ? "anticlockwise" : "clockwise";
}

std::string edge_words(double change_deg) {
    if (std::abs(change_deg) < no_change_deg) return "stays";
    return change_deg > 0 ? "away from the boom" : "towards the boom";
}

Table servo_table(const TailDirections& directions, const head::Description& description) {
    Table table{
        "tail_servos",
        "Which way every output shaft turns, seen on the horn's face, as the rudder goes from centre to its end",
        {{"servo", "servo", ""},
         {"stick", "rudder", ""},
         {"turns", "turns", ""},
         {"horn_deg", "horn", "deg", 2, true},
         {"pulse_us", "pulse", "µs", 0, true}},
        {},
        {}};
    for (std::size_t j = 0; j < description.servos.size(); ++j)
        for (const RudderEnd* end : {&directions.left, &directions.right}) {
            table.rows.push_back({description.servos[j].name, std::string(end->rudder > 0 ? "right" : "left"),
                                  turn_words(end->horn_deg[j]), end->horn_deg[j], end->pulse_us[j]});
            table.parts.push_back(fmt::format("servo[{}]", j + 1));
        }
    return table;
}

Table blade_table(const TailDirections& directions) {
    Table table{"tail_blades",
                "What slider and blades do then, against centred stick; positive is away from the boom, for the slider "
                "and for leading edges",
                {{"stick", "rudder", ""},
                 {"slider_mm", "slider", "mm", 2, true},
                 {"blade", "blade", "", 0},
                 {"leading_edge", "leading edge", ""},
                 {"change_deg", "change", "deg", 2, true},
                 {"pitch_deg", "pitch", "deg", 2, true}},
                {},
                {}};
    for (const RudderEnd* end : {&directions.left, &directions.right})
        for (std::size_t k = 0; k < end->pitch_deg.size(); ++k) {
            table.rows.push_back({std::string(end->rudder > 0 ? "right" : "left"), end->slider_mm,
                                  static_cast<double>(k + 1), edge_words(end->change_deg[k]), end->change_deg[k],
                                  end->pitch_deg[k]});
            table.parts.push_back(fmt::format("grip[{}]", k + 1));
        }
    return table;
}

std::string text_of(const TailDirections& directions, const head::Description& description) {
    const double change = directions.right_change_deg();
    if (std::abs(change) < no_change_deg)
        return "The rudder does not move the blades: look at the rudder's travel in the mixing and at the linkage.";
    std::string servos;
    for (std::size_t j = 0; j < description.servos.size(); ++j)
        servos += fmt::format("{}{} turns {}", servos.empty() ? "" : ", ", head::servo_words(description.servos[j]),
                              turn_words(directions.right.horn_deg[j]));
    return fmt::format(
        "Right rudder: {}, seen on the horn's face, and leading edges go {} by {:.1f} deg. That sends the nose to the "
        "right if the blades stand on the {} of the boom, seen from behind; if they stand on the {}, change "
        "the sign of the rudder's travel.",
        servos, edge_words(change), std::abs(change), change > 0 ? "left" : "right", change > 0 ? "right" : "left");
}

}  // namespace

double TailDirections::right_change_deg() const {
    return mean(right.change_deg);
}

head::Result<TailDirections> tail_directions(const head::Head& head) {
    const auto centre = head.pose(head::Sticks{}, 0);
    if (!centre) return tl::unexpected(centre.error());
    auto left = end_at(head, *centre, -1), right = end_at(head, *centre, 1);
    if (!left) return tl::unexpected(left.error());
    if (!right) return tl::unexpected(right.error());
    return TailDirections{std::move(*left), std::move(*right)};
}

Answer answer(const TailDirections& directions, const head::Description& description) {
    const bool anticlockwise = description.rotor.direction == head::Direction::anticlockwise;
    Answer out;
    out.study = "directions";
    out.text = text_of(directions, description);
    out.tone = std::abs(directions.right_change_deg()) < no_change_deg ? Tone::notice : Tone::calm;
    out.tables = {servo_table(directions, description), blade_table(directions)};
    out.notes = {
        "For the nose to go right the tail must be pushed left. A blade pushes to the side to which its leading edge "
        "leans: away from the boom pushes towards the side on which the blades stand. The scene does not say which "
        "side that is; look at the model.",
        fmt::format("By hand, motor disconnected: turn the tail rotor the way it turns in flight ({}, seen from the "
                    "blades' side, says the scene) and see which edge leads. Then give right rudder: slider and "
                    "leading edges must go the way of the table.",
                    anticlockwise ? "anticlockwise" : "clockwise"),
        "If the servo turns the other way, reverse its channel. If it turns as told and the blades go the other way, "
        "the scene is not the model: look at which way the servo is said to move the slider, at the side of its shaft "
        "and at the levers.",
        "A gyro has a sense of its own: swing the nose to the left by hand, and the blades must go as with right "
        "rudder (common practice, no source).",
        "The output shaft's direction is taken to point out of the servo through the horn, so that "
        "anticlockwise on the horn's face is a growing horn angle."};
    return out;
}

}  // namespace swashwright::studies
