// Power and pitch in words and tables.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/cell.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/power/power.h"

namespace swashwright::studies {

namespace {

constexpr double told_deg = 0.05;  // what counts as more pitch

/// " (± 0.4)"; of a doubt that could not be worked out, that it is wide.
std::string give_or_take(const std::optional<double>& doubt, int decimals) {
    return doubt ? fmt::format(" (± {:.{}f})", *doubt, decimals) : std::string(" (in wide doubt)");
}

/// Watts as far as they are worth writing.
double in_tens(double watts) {
    return 10 * std::round(watts / 10);
}

std::string watts(double value, const std::optional<double>& doubt) {
    return fmt::format("{:.0f} W{}", in_tens(value), doubt ? fmt::format(" (± {:.0f})", in_tens(*doubt)) : "");
}

/// Not false where power is not known.
bool hovers(const Power& p) {
    return p.figures.hover_deg && (!p.craft.engine_w || *p.craft.rotor_w() >= *p.figures.hover_w);
}

std::string hover_words(const Power& p) {
    const double turns = p.craft.speed * 30 / pi;
    if (!p.figures.hover_deg)
        return fmt::format(
            "At {:.0f} turns a minute these blades do not carry {:.2f} kg: at {:.0f} deg of pitch it is {:.0f} % of "
            "the weight. See to mass, blades and head speed.",
            turns, p.craft.mass_kg, most_pitch_deg,
            100 * lift(p.craft.disc, p.craft.air(), most_pitch_deg * degree).thrust_n / p.craft.weight_n());
    return fmt::format("At {:.0f} turns a minute hovering takes about {:.1f} deg{} and {} at the rotor.", turns,
                       *p.figures.hover_deg, give_or_take(p.doubts.hover_deg, 1),
                       watts(*p.figures.hover_w, p.doubts.hover_w));
}

std::string tachometer_words(const Power& p) {
    const Tachometer& read = *p.options.tachometer;
    const bool sags = read.climbing_rpm < read.before_rpm;
    return fmt::format(
        " In a flat-out climb at {:.1f} deg head speed goes from {:.0f} to {:.0f}: the engine {} about {}{}.",
        *read.pitch_deg, read.before_rpm, read.climbing_rpm, sags ? "gives" : "gives at least",
        watts(*p.figures.engine_w, p.doubts.engine_w),
        p.figures.used_deg && hovers(p)
            ? fmt::format(", and {} deg{} would just not sag", fmt::format("{:.1f}", *p.figures.used_deg),
                          give_or_take(p.doubts.used_deg, 1))
            : std::string());
}

std::string used_words(const Power& p) {
    if (!p.craft.engine_w)
        return " Power of engine or motor is not given, so at which pitch head speed sags is not known.";
    if (!hovers(p) && p.options.tachometer)
        return tachometer_words(p) +
               fmt::format(
                   " Of that {:.0f} W reach the rotor, by these numbers less than hovering takes at {:.0f}, and yet "
                   "the model was seen to climb: it does so at the lower head speed only, or a reading, the mass or a "
                   "blade is not as given. Read again before you set a pitch by it.",
                   in_tens(*p.craft.rotor_w()), p.options.tachometer->before_rpm);
    if (!hovers(p))
        return fmt::format(" That is more than the {:.0f} W that reach the rotor: by these numbers it does not hover.",
                           in_tens(*p.craft.rotor_w()));
    std::string out = p.options.tachometer ? tachometer_words(p) : std::string();
    if (!p.figures.used_deg)
        return out + fmt::format(" In a steady climb power is left even at {:.0f} deg.", most_pitch_deg);
    if (!p.options.tachometer)
        out += fmt::format(" In a steady climb straight up all power is used at about {:.1f} deg{}, at {:.0f} m/s.",
                           *p.figures.used_deg, give_or_take(p.doubts.used_deg, 1), *p.figures.climb_m_s);
    if (p.figures.first_deg)
        out += fmt::format(
            " In the first moment of more pitch, before it has moved, {:.1f} deg use it up{}: from there head speed "
            "dips.",
            *p.figures.first_deg, give_or_take(p.doubts.first_deg, 1));
    return out;
}

std::string start_words(const Power& p) {
    if (!p.start_deg && !(p.craft.engine_w && hovers(p))) return "";
    if (!p.start_deg)
        return " Between hovering and where power or lift ends too little is left to say where maximum pitch may "
               "begin: see to mass, head speed and power.";
    return fmt::format(
        " For maximum pitch start at {:g} to {:g} deg; if a full climb sags, take half a degree off. That is where to "
        "begin and no limit to fly to: the maker's manual and an experienced pilot come first.",
        (*p.start_deg)[0], (*p.start_deg)[1]);
}

std::string full_words(const Power& p) {
    const double above = p.start_deg ? p.full_deg - (*p.start_deg)[1] : 0;
    return fmt::format(" Full collective of this head is {:.1f} deg{}{}.", p.full_deg,
                       above > told_deg ? fmt::format(", {:.1f} deg above that", above) : std::string(),
                       p.stall_deg && p.full_deg > *p.stall_deg ? "; there the blades stall in the first moment" : "");
}

Table places_table(const Power& p) {
    Table out{"places",
              "Pitch, and what it takes at the rotor: before the model has moved, and in a steady climb straight up",
              {{"where", "where", ""},
               {"pitch_deg", "pitch", "deg", 2, true},
               {"doubt_deg", "±", "deg", 2},
               {"thrust_percent", "lift of weight", "%", 0},
               {"first_w", "at first", "W", 0},
               {"climb_m_s", "climb", "m/s", 1},
               {"climb_w", "climbing", "W", 0}},
              {},
              {}};
    for (const PitchRow& row : p.places)
        out.rows.push_back({row.words, row.pitch_deg, cell(row.doubt_deg), row.thrust_percent, row.standing_w,
                            row.climb.m_s, row.climb.power_w});
    return out;
}

Table loading_table(const Power& p) {
    Table out{
        "loading",
        "Blade loading C_T/sigma before the model has moved, how much of the blade is stalled there, and what one "
        "degree more adds",
        {{"where", "where", ""},
         {"loading", "loading", "", 3},
         {"stalled_percent", "stalled", "%", 0},
         {"more_loading", "one deg adds", "", 3, true},
         {"more_first_w", "at first", "W", 0, true},
         {"more_climb_w", "climbing", "W", 0, true}},
        {},
        {}};
    for (const PitchRow& row : p.places)
        out.rows.push_back(
            {row.words, row.loading, row.stalled_percent, row.more_loading, row.more_standing_w, row.more_climb_w});
    return out;
}

Table curve_table(const Power& p) {
    Table out{"curve",
              "Power at the rotor over pitch; at negative pitch the same for a model on its back",
              {{"pitch_deg", "pitch", "deg", 0},
               {"first_w", "at first", "W", 0},
               {"climb_w", "climbing", "W", 0},
               {"climb_m_s", "climb", "m/s", 1},
               {"engine_w", "engine at the rotor", "W", 0}},
              {},
              {}};
    for (const PitchRow& row : p.curve)
        out.rows.push_back({row.pitch_deg, row.standing_w, row.climb.power_w, row.climb.m_s, cell(p.craft.rotor_w())});
    return out;
}

Table speeds_table(const Power& p) {
    Table out{"speeds",
              "The same at other head speeds, if the engine gives the same power there; no number: power is left up to "
              "20 deg, or it does not hover, or power is not known",
              {{"speed_rpm", "speed", "1/min", 0},
               {"hover_deg", "hover", "deg", 1},
               {"hover_w", "at the rotor", "W", 0},
               {"loading", "loading", "", 3},
               {"used_deg", "used up climbing", "deg", 1},
               {"climb_m_s", "climb", "m/s", 1},
               {"first_deg", "used up at first", "deg", 1}},
              {},
              {}};
    for (const SpeedRow& row : p.speeds)
        out.rows.push_back({row.rpm, cell(row.figures.hover_deg), cell(row.figures.hover_w), cell(row.loading),
                            cell(row.figures.used_deg), cell(row.figures.climb_m_s), cell(row.figures.first_deg)});
    return out;
}

Table travel_table(const Power& p) {
    Table out{"travel",
              "Horn travel at full collective for that pitch at both ends, cyclic as it is (as the question on the "
              "range that is wanted finds it)",
              {{"pitch_deg", "pitch", "deg", 1},
               {"collective_deg", "horn travel", "deg", 1},
               {"now_deg", "now", "deg", 1},
               {"travel", "servo travel", ""}},
              {},
              {}};
    for (const TravelRow& row : p.travels)
        out.rows.push_back({row.pitch_deg, cell(row.collective_deg), p.horn_deg,
                            std::string(!row.collective_deg ? "out of reach"
                                        : row.within_travel ? "within"
                                                            : "beyond")});
    return out;
}

/// "mass, chord and air"; empty where all is given.
std::string guesses(const Craft& c) {
    std::vector<std::string> names;
    const auto add = [&](bool guessed, const char* name) {
        if (guessed) names.emplace_back(name);
    };
    add(c.mass_guessed, "mass by the size of the disc");
    add(c.chord_guessed, "chord");
    add(c.root_guessed, "where the chord begins");
    add(c.slope_guessed, "lift slope");
    add(c.drag_guessed, "drag of the section");
    add(c.efficiency_guessed, "share of the power that reaches the main rotor");
    add(c.air_guessed, "air");
    return listed(names);
}

std::vector<std::string> notes(const Power& p) {
    const Craft& c = p.craft;
    const BladeSection& section = c.disc.section;
    std::vector<std::string> out;
    if (const std::string missing = guesses(c); !missing.empty())
        out.push_back("Guessed (common practice, no source): " + missing + ".");
    out.push_back(fmt::format(
        "Taken: {:.2f} kg; blades from {:.0f} to {:.0f} mm, chord {:.1f} mm; lift slope {:.2f} for each radian, drag "
        "coefficient {:.4f}; {}{:.0f} % of the engine's power reach the main rotor, what gears and tail rotor take is "
        "off; air {:.3f} kg/m^3.",
        c.mass_kg, 1000 * c.disc.root_m, 1000 * c.disc.tip_m, 1000 * c.disc.chord_m, section.lift_slope, section.drag,
        c.engine_w ? fmt::format("engine {:.0f} W; ", *c.engine_w) : std::string(), 100 * c.efficiency, c.density));
    out.push_back(
        "Blade elements with momentum theory ring by ring, Prandtl's loss at the tip (Leishman, Principles of "
        "Helicopter Aerodynamics, from memory); untwisted blades, no ground, no wind, air that gives way at once.");
    out.push_back(fmt::format(
        "Drag grows by {:g} times the angle of attack squared (as taken with the rotor of NACA TN 626); from a lift "
        "coefficient of {:g} on the section stalls, a guess: all of the blade there means a loading of {:.2f}.",
        section.drag_rise, *section.most_lift, *section.most_lift / 6));
    out.push_back(fmt::format(
        "Reynolds number of the chord at three quarters of the radius: {:.0f} thousand. Below about 500 thousand "
        "sections differ much, so drag is in doubt by {} % (common practice, no source).",
        c.reynolds() / 1000, c.drag_guessed ? 25 : 10));
    out.push_back(
        "±: two models of three should lie within it, by the usual shares by which numbers are off (guesses): "
        "chord, mass and air where guessed, lift, drag, rated power, losses, and twice the body's drag.");
    if (p.figures.hover_deg)
        out.push_back(
            fmt::format("The textbooks' short form, inflow the same everywhere and 15 % of loss, says {:.1f} deg and "
                        "{:.0f} W for the hover (Gessow and Myers, Aerodynamics of the Helicopter, from memory).",
                        p.simple.pitch / degree, in_tens(p.simple.power_w)));
    out.push_back(fmt::format(
        "Climbing, the body drags as a flat plate of {:.0f} cm^2 (a guess). In the first moment the rotor's own swing "
        "helps, for well under a second (common practice, no source); how far head speed dips is not worked out.",
        1e4 * c.body_m2));
    if (p.start_deg)
        out.emplace_back(
            "Where maximum pitch may begin: a degree wide, below where power is used up by as much as that is in "
            "doubt, two degrees below where blades begin to stall (common practice, no source).");
    if (c.tip_mach() > 0.6)
        out.push_back(
            fmt::format("The tips go at {:.2f} of the speed of sound; what that costs is not in it.", c.tip_mach()));
    return out;
}

}  // namespace

Answer answer(const Power& power) {
    Answer out;
    out.study = "power";
    out.text = hover_words(power);
    if (power.figures.hover_deg) out.text += used_words(power) + start_words(power) + full_words(power);
    const double most = power.start_deg ? (*power.start_deg)[1]
                                        : std::min(power.stall_deg.value_or(most_pitch_deg),
                                                   power.figures.used_deg.value_or(most_pitch_deg));
    out.tone = !hovers(power) || power.full_deg > most + told_deg ? Tone::notice : Tone::calm;
    out.tables = {places_table(power), loading_table(power), curve_table(power), speeds_table(power),
                  travel_table(power)};
    out.notes = notes(power);
    return out;
}

}  // namespace swashwright::studies
