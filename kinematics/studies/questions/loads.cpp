// What servos and links must hold in flight.
#include "kinematics/studies/loads/loads.h"

#include <fmt/format.h>

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    LoadsOptions options;
    options.sticks = asked.sticks;
    options.head_speed_rpm = asked.values.number_if_given("speed");
    options.coning_deg = asked.values.number_if_given("coning");
    options.usable_share = asked.values.number("share") / 100;
    options.volts = asked.values.number_if_given("volts");
    options.full_stick_s = asked.values.number("time");
    options.ball_nmm = asked.values.number("ball");
    options.bearing_nmm = asked.values.number("bearing");
    options.give.servo_nmm_per_deg = asked.values.number("servo");
    options.give.link_n_per_mm = asked.values.number("link");
    if (options.volts)
        for (const head::Servo& servo : asked.head.description().servos)
            if (!servo.rating.rated_volts)
                return badly_asked(fmt::format("--volts: {} has no rated_volts in the scene to compare with",
                                               head::servo_words(servo)));
    return reply(loads(asked.head, options, asked.going()),
                 [&](const Loads& found) { return answer(found, asked.head); });
}

Option number(std::string key, std::string unit, double low, double high, double start, std::string help) {
    return {.key = std::move(key),
            .help = std::move(help),
            .unit = std::move(unit),
            .low = low,
            .high = high,
            .start = start,
            .help_tells_start = true};
}

Option perhaps(std::string key, std::string unit, double low, double high, std::string help) {
    return {.key = std::move(key), .help = std::move(help), .unit = std::move(unit), .low = low, .high = high};
}

}  // namespace

Question loads_question() {
    const LoadsOptions usual;
    return {.verb = "loads",
            .help = "What servos, links and levers must hold in flight, and how far blades give way",
            .cards = {{.key = "loads",
                       .words = "What must the servos hold?",
                       .follows = too_for_the_sticks,
                       .fields = {{.option = "speed",
                                   .words = "Head speed",
                                   .step = 50,
                                   .decimals = 0,
                                   .given_words = "Another head speed",
                                   .when_given = 2000},
                                  {.option = "share", .words = "To ask of the rated torque", .step = 5, .decimals = 0},
                                  {.option = "servo", .words = "A servo gives 1 deg under", .step = 10},
                                  {.option = "link", .words = "A link gives way 1 mm under", .step = 10}}}},
            .options = {perhaps("speed", "/min", 0, 100000, "Head speed in place of the scene's, turns a minute"),
                        perhaps("coning", "deg", -15, 15, "Coning of the blades in place of what is worked out, deg"),
                        number("share", "%", 5, 100, 100 * usual.usable_share,
                               "Percent of its rated torque to ask of a servo"),
                        perhaps("volts", "V", 1, 100, "Voltage at the servos in place of the rated one"),
                        number("time", "s", 0.01, 10, usual.full_stick_s,
                               "Time wanted from one end of a stick to the other, s"),
                        number("ball", "N mm", 0, 1000, usual.ball_nmm, "Friction moment in each ball link, N mm"),
                        number("bearing", "N mm", 0, 1000, usual.bearing_nmm, "Friction moment in each bearing, N mm"),
                        number("servo", "N mm", 1, 1e6, usual.give.servo_nmm_per_deg,
                               "N mm for each degree by which a servo gives way"),
                        number("link", "N", 1, 1e6, *usual.give.link_n_per_mm,
                               "N for each mm by which a link gives way along itself")},
            .sticks = AsksSticks::yes,
            .run = run};
}

}  // namespace swashwright::studies
