// How much pitch the engine can carry.
#include "kinematics/studies/power/power.h"

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    const auto given = [&](const char* key) { return asked.values.number_if_given(key); };
    PowerOptions options{.sticks = asked.sticks,
                         .head_speed_rpm = given("speed"),
                         .mass_kg = given("mass"),
                         .engine_w = given("engine"),
                         .efficiency = given("efficiency"),
                         .temperature_c = given("temperature"),
                         .height_m = given("height")};
    const auto before = given("before"), climbing = given("climbing");
    if (before.has_value() != climbing.has_value())
        return badly_asked("A tachometer tells by two head speeds: give the one before the climb and the one in it");
    if (before && options.head_speed_rpm)
        return badly_asked(
            "Another head speed and the one read before a climb are both the head speed; give one of them");
    if (before) options.tachometer = Tachometer{*before, *climbing, given("climb-pitch")};
    auto found = power(asked.head, options, asked.going());
    if (!found) return tl::unexpected(NoAnswer{found.error().message});
    Reply out{answer(*found)};
    out.power = std::make_shared<const Power>(std::move(*found));
    return out;
}

Option perhaps(std::string key, std::string unit, double low, double high, std::string help) {
    return {.key = std::move(key), .help = std::move(help), .unit = std::move(unit), .low = low, .high = high};
}

Field field(std::string option, std::string words, double step, int decimals, std::string given_words, double start) {
    return {.option = std::move(option),
            .words = std::move(words),
            .step = step,
            .decimals = decimals,
            .given_words = std::move(given_words),
            .when_given = start};
}

}  // namespace

Question power_question() {
    return {
        .verb = "power",
        .help = "How much pitch the engine can carry: hover, climb, where head speed sags",
        .cards = {{.key = "power",
                   .words = "How much pitch can the engine carry?",
                   .follows = too_for_the_sticks,
                   .fields = {field("speed", "Head speed", 50, 0, "Another head speed", 2000),
                              field("mass", "Mass of the model", 0.1, 2, "Another mass", 3.5),
                              field("engine", "Power of engine or motor", 50, 0, "Another power", 1500),
                              field("before", "Head speed before the climb", 10, 0, "Read before a climb", 2000),
                              field("climbing", "Head speed in the climb", 10, 0, "Read in a flat-out climb", 1900)}}},
        .options = {perhaps("speed", "/min", 0, 100000, "Head speed in place of the scene's, turns a minute"),
                    perhaps("mass", "kg", 0.001, 1000, "Mass of the model, ready to fly, kg"),
                    perhaps("engine", "W", 0.1, 1e6, "Power of engine or motor at its own shaft, W"),
                    perhaps("efficiency", "of 1", 0.01, 1,
                            "Share of that power that reaches the main rotor: gears and tail rotor taken off"),
                    perhaps("temperature", "deg C", -80, 80, "Temperature of the air, deg C"),
                    perhaps("height", "m", -500, 10000, "Height above the sea, m"),
                    perhaps("before", "/min", 1, 100000, "Head speed before a flat-out climb, turns a minute"),
                    perhaps("climbing", "/min", 1, 100000, "Head speed in that climb once it sags no further"),
                    perhaps("climb-pitch", "deg", 0.1, most_pitch_deg,
                            "Pitch in that climb, deg; that of full collective if not given")},
        .sticks = AsksSticks::yes,
        .run = run};
}

}  // namespace swashwright::studies
