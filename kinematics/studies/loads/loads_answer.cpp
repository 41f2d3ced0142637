#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/cell.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/loads/loads.h"

namespace swashwright::studies {

namespace {

constexpr double least_told_share = 0.05;  // of a doubt

std::string place_words(head::Kind kind, const LoadPlace& place) {
    return fmt::format("{}, rotor at {:.0f} deg", stick_words(kind, place.sticks), place.azimuth_deg);
}

/// "mass, chord and leading edge"; empty where all is given.
std::string guesses(const LoadBlade& blade) {
    std::vector<std::string> names;
    const auto add = [&](bool guessed, const char* name) {
        if (guessed) names.push_back(name);
    };
    add(blade.numbers.mass_guessed, "mass");
    add(blade.numbers.chord_guessed, "chord");
    add(blade.numbers.bolt_guessed, "place of the bolt");
    add(blade.thickness_guessed, "thickness");
    add(blade.along_guessed, "mass centre along it");
    add(blade.ahead_guessed, "mass centre across it");
    add(blade.spread_guessed, "spread of its mass along the chord");
    add(blade.edge_guessed, "leading edge's place");
    add(blade.coefficient_guessed, "section's moment");
    return listed(names);
}

/// The horn with the least margin; of those without a rating the one that holds most.
std::size_t worst_horn(const Loads& loads) {
    constexpr double rounding = 1e-6;  // of horns that are equal by symmetry the first stands
    const auto worse = [](const HornLoad& a, const HornLoad& b) {
        const auto one = a.margin(), other = b.margin();
        if (one && other) return *one < *other * (1 - rounding);
        if (one || other) return one.has_value();
        return a.holds_nmm() > b.holds_nmm() * (1 + rounding);
    };
    std::size_t worst = 0;
    for (std::size_t j = 1; j < loads.horns.size(); ++j)
        if (worse(loads.horns[j], loads.horns[worst])) worst = j;
    return worst;
}

/// Those of which nothing can be said beside others that are rated.
std::string unrated_words(const Loads& loads, const head::Description& d) {
    std::string names;
    for (std::size_t j = 0; j < loads.horns.size(); ++j)
        if (!loads.horns[j].usable_nmm) names += (names.empty() ? "" : ", ") + head::servo_words(d.servos[j]);
    return names.empty() ? "" : fmt::format(" Torque is not given, so not judged, of {}.", names);
}

/// "0.96", "12.3": never more than there is.
std::string times(double value) {
    const double scale = value < 2 ? 100 : 10;
    return fmt::format("{:.{}f}", std::floor(value * scale) / scale, value < 2 ? 2 : 1);
}

/// The most that the servo may have to hold, by what is not known of the blades.
double most_nmm(const Loads& loads, const HornLoad& horn) {
    return horn.holds_nmm() + loads.doubt_share * std::abs(horn.peak.value);
}

/// Servos that are too weak, or may be; empty where all have enough.
std::string weak_words(const Loads& loads, const head::Description& d) {
    const std::size_t j = worst_horn(loads);
    const HornLoad& worst = loads.horns[j];
    const auto margin = worst.margin();
    if (!margin || *worst.usable_nmm >= most_nmm(loads, worst)) return "";
    const std::string name = servo_words(d.servos[j]);
    if (*margin >= 1)
        return fmt::format(
            "{} may be too weak: by what is not known of the blades it has {} to {} of what it must hold. ",
            capitalised(name), times(*worst.usable_nmm / most_nmm(loads, worst)), times(*margin));
    std::vector<std::string> weak;
    for (std::size_t i = 0; i < loads.horns.size(); ++i)
        if (loads.horns[i].margin().value_or(1) < 1) weak.push_back(servo_words(d.servos[i]));
    return fmt::format("{} too weak: {} has {} of what it must hold. ",
                       capitalised(listed(weak)) + (weak.size() == 1 ? " is" : " are"), weak.size() == 1 ? "it" : name,
                       times(*margin));
}

std::string headline(const Loads& loads, const head::Description& d) {
    const std::size_t j = worst_horn(loads);
    const HornLoad& horn = loads.horns[j];
    const double kgcm = horn.holds_nmm() / 98.0665;
    std::string out = weak_words(loads, d);
    out += fmt::format(
        "At {:.0f} turns a minute {} must hold {:.0f} N mm ({:.{}f} kg cm), unloaded friction included, at {}.",
        loads.head_speed_rpm, servo_words(d.servos[j]), horn.holds_nmm(), kgcm, kgcm < 1 ? 2 : 1,
        place_words(d.kind, horn.peak.place));
    if (!(loads.head_speed_rpm > 0)) return out + " The rotor stands still: only friction is left.";
    const double most = most_nmm(loads, horn);
    const bool doubtful = loads.doubt_share >= least_told_share;
    if (doubtful)
        out += fmt::format(" What is not known of the blades makes that {:.0f} to {:.0f} N mm.",
                           std::max(horn.friction_nmm, 2 * horn.holds_nmm() - most), most);
    if (loads.open > 0) out += " Near sticks at which the links no longer reach loads grow without bound.";
    const auto margin = horn.margin();
    if (!margin) return out + " Its torque is not given, so whether that is enough is not known.";
    out += fmt::format(" {:.0f} N mm may be asked of it, {:.0f} % of its torque: {} times what it must hold",
                       *horn.usable_nmm, 100 * loads.options.usable_share, times(*margin));
    if (doubtful) out += fmt::format(", {} times the most of it", times(*horn.usable_nmm / most));
    return out + "." + unrated_words(loads, d);
}

/// Where a servo is too slow for the time that is wanted: the slowest.
std::string slow_words(const Loads& loads, const head::Description& d) {
    const auto takes_s = [](const HornLoad& horn) { return horn.free_s ? horn.loaded_s.value_or(*horn.free_s) : 0.0; };
    const auto slowest = std::ranges::max_element(loads.horns, {}, takes_s);
    if (slowest == loads.horns.end() || !(takes_s(*slowest) > loads.options.full_stick_s)) return "";
    return fmt::format(" {} takes {:.2f} s from one end of the stick to the other{}; {:.2f} s are wanted.",
                       servo_words(d.servos[static_cast<std::size_t>(slowest - loads.horns.begin())]),
                       takes_s(*slowest), slowest->loaded_s ? " under that load" : " without load",
                       loads.options.full_stick_s);
}

/// How far blades give way at the end where they give way most.
std::string give_words(const Loads& loads) {
    const auto size = [](const GiveRow& row) { return std::abs(row.give_deg); };
    const auto most = std::ranges::max_element(loads.gives, {}, size);
    if (most == loads.gives.end() || size(*most) < 0.05) return "";
    return fmt::format(
        " Of {:.1f} deg of pitch the blades give way by {:.1f} deg, if servos and links are as soft as "
        "guessed.",
        std::abs(most->pitch_deg), size(*most));
}

/// Where the sticks stand, a column each; those that the head does not have stay empty.
const std::vector<Column> stick_columns{{"collective", "collective", "", 2, true},
                                        {"aileron", "aileron", "", 2, true},
                                        {"elevator", "elevator", "", 2, true},
                                        {"rudder", "rudder", "", 2, true}};

std::vector<Cell> stick_cells(head::Kind kind, const head::Sticks& sticks) {
    if (kind == head::Kind::tail) return {Cell(), Cell(), Cell(), sticks.rudder};
    return {sticks.collective, sticks.aileron, sticks.elevator, Cell()};
}

template <class T>
void append(std::vector<T>& list, const std::vector<T>& more) {
    list.insert(list.end(), more.begin(), more.end());
}

Table horns_table(const Loads& loads, const head::Description& d) {
    Table out{"horns",
              "Moment that each servo must hold, plus where it must raise its load: worst of all sticks and azimuths, "
              "its parts over that turn (mean, once a turn, oftener), and now, at the sticks' present place",
              {{"servo", "servo", ""},
               {"peak_nmm", "peak", "N mm", 0, true},
               {"friction_nmm", "friction", "N mm", 0},
               {"steady_nmm", "steady", "N mm", 0, true},
               {"once_nmm", "once", "N mm", 0},
               {"more_nmm", "oftener", "N mm", 0},
               {"here_nmm", "now", "N mm", 0, true}},
              {},
              {}};
    for (std::size_t j = 0; j < loads.horns.size(); ++j) {
        const HornLoad& horn = loads.horns[j];
        out.rows.push_back({d.servos[j].name, horn.peak.value, horn.friction_nmm, horn.steady_nmm, horn.once_nmm,
                            horn.more_nmm, horn.here_nmm});
        out.parts.push_back(fmt::format("servo[{}]", j + 1));
    }
    return out;
}

Table peaks_table(const Loads& loads, const head::Description& d) {
    Table out{"peaks", "Where each servo holds most", {{"servo", "servo", ""}}, {}, {}};
    append(out.columns, stick_columns);
    out.columns.push_back({"azimuth_deg", "rotor at", "deg", 0});
    for (std::size_t j = 0; j < loads.horns.size(); ++j) {
        const LoadPlace& place = loads.horns[j].peak.place;
        out.rows.push_back({d.servos[j].name});
        append(out.rows.back(), stick_cells(d.kind, place.sticks));
        out.rows.back().emplace_back(place.azimuth_deg);
        out.parts.push_back(fmt::format("servo[{}]", j + 1));
    }
    return out;
}

Table servos_table(const Loads& loads, const head::Description& d) {
    Table out{"servos",
              "What each servo may be asked for, and its time from one end of the stick to the other",
              {{"servo", "servo", ""},
               {"holds_nmm", "holds", "N mm", 0},
               {"usable_nmm", "may be asked for", "N mm", 0},
               {"times", "times", "", 2},
               {"travel_deg", "travel", "deg", 1},
               {"free_s", "no load", "s", 3},
               {"loaded_s", "loaded", "s", 3},
               {"wanted_s", "wanted", "s", 3}},
              {},
              {}};
    for (std::size_t j = 0; j < loads.horns.size(); ++j) {
        const HornLoad& horn = loads.horns[j];
        out.rows.push_back({d.servos[j].name, horn.holds_nmm(), cell(horn.usable_nmm), cell(horn.margin()),
                            horn.travel_deg, cell(horn.free_s), cell(horn.loaded_s), loads.options.full_stick_s});
        out.parts.push_back(fmt::format("servo[{}]", j + 1));
    }
    return out;
}

Table links_table(const Loads& loads, const head::Head& head) {
    Table out{"links",
              "Force along each link, worst of all sticks and azimuths, and now: worst of the turn at the sticks' "
              "present place",
              {{"link", "link", ""},
               {"pull_n", "pull", "N", 1},
               {"push_n", "push", "N", 1},
               {"here_pull_n", "pull now", "N", 1},
               {"here_push_n", "push now", "N", 1}},
              {},
              {}};
    for (const LinkLoad& link : loads.links) {
        const head::Part& part = head.model().part(link.part);
        out.rows.push_back({part.words, link.pull.value, link.push.value, link.here_pull_n, link.here_push_n});
        out.parts.push_back(part.path);
    }
    return out;
}

Table levers_table(const Loads& loads, head::Kind kind) {
    Table out{"levers",
              "Moment that links put on each arm and lever; what it moves holds as much against it",
              {{"lever", "lever", ""}, {"moment_nmm", "moment", "N mm", 0}},
              {},
              {}};
    append(out.columns, stick_columns);
    for (const LeverLoad& lever : loads.levers) {
        out.rows.push_back({lever.words, lever.moment.value});
        append(out.rows.back(), stick_cells(kind, lever.moment.place.sticks));
        out.parts.push_back(lever.part);
    }
    return out;
}

Table blades_table(const Loads& loads, const head::Description& d) {
    Table out{"blade",
              fmt::format(
                  "What turns blade 1 about its feathering axis when it is over the tail, cyclic centred; plus leading "
                  "edge up, ± by what is guessed"),
              {{"stick", main_stick_word(d), "", 2, true},
               {"pitch_deg", "pitch", "deg", 2, true},
               {"coning_deg", "coning", "deg", 2, true},
               {"propeller_nmm", "propeller", "N mm", 0, true},
               {"off_axis_nmm", "off axis", "N mm", 0, true},
               {"weights_nmm", "weights", "N mm", 0, true},
               {"lift_nmm", "lift", "N mm", 0, true},
               {"section_nmm", "section", "N mm", 0, true},
               {"total_nmm", "together", "N mm", 0, true},
               {"doubt_nmm", "±", "N mm", 0}},
              {},
              {}};
    for (const BladeRow& row : loads.blades) {
        const BladeMoment& m = row.moment;
        out.rows.push_back({row.stick, row.pitch_deg, row.coning_deg});
        for (const double nm : {m.propeller, m.off_axis, m.weights, m.lift, m.section, m.total(), row.doubt_nm})
            out.rows.back().emplace_back(1000 * nm);
        out.parts.push_back("grip[1]");
    }
    return out;
}

Table gives_table(const Loads& loads, head::Kind kind) {
    Table out{"gives", "How far blade 1 gives way, over its turn: mean pitch, and its swing once a turn", {}, {}, {}};
    append(out.columns, stick_columns);
    append(out.columns, {{"pitch_deg", "mean pitch", "deg", 2, true},
                         {"give_deg", "gives way", "deg", 2, true},
                         {"swing_deg", "swing", "deg", 2},
                         {"swing_give_deg", "gives way", "deg", 2, true}});
    for (const GiveRow& row : loads.gives) {
        out.rows.push_back(stick_cells(kind, row.sticks));
        append(out.rows.back(), {row.pitch_deg, row.give_deg, row.swing_deg, row.swing_give_deg});
        out.parts.push_back("grip[1]");
    }
    return out;
}

std::vector<std::string> notes(const Loads& loads, const head::Description& d) {
    const LoadsOptions& options = loads.options;
    const LoadBlade& b = loads.blade;
    std::vector<std::string> out;
    if (const std::string missing = guesses(b); !missing.empty())
        out.push_back("Guessed of the blades: " + missing + ".");
    out.push_back(
        fmt::format("Taken: blade of {:.0f} g, chord {:.1f} mm, thickness {:.1f} mm; mass centre {:.0f} mm out, "
                    "{:.1f} mm ahead; quarter chord {:.1f} mm ahead; moment coefficient {:.3f}; air {:.3f} kg/m^3.",
                    1000 * b.numbers.mass_kg, 1000 * b.numbers.chord_m, 1000 * b.thickness_m, 1000 * b.mass_along_m,
                    1000 * b.mass_ahead_m, 1000 * b.quarter_ahead_m, b.moment_coefficient, loads.density));
    out.push_back(
        "Propeller moment, which lays a blade flat: -speed^2 (I_c - I_t) sin pitch cos pitch, exact with precone and "
        "coning (W. Johnson, Helicopter Theory, from memory).");
    out.push_back(
        fmt::format("Lift and coning: hover by momentum theory and blade element, uniform inflow (Gessow and "
                    "Myers, Aerodynamics of the Helicopter, from memory){}; cyclic moves the blades before the "
                    "disc has followed, which is most.",
                    options.coning_deg ? ", coning as given" : ""));
    out.push_back(
        "Horns and links: virtual work through the exact slopes, at rest: no weight, no vibration; the grip's "
        "own mass and friction under load (thrust bearings above all) are not in it.");
    if (std::ranges::any_of(d.grips, [](const head::Grip& grip) { return grip.lever.has_value(); }))
        out.push_back(
            "Blades turn about axes as they stand on the hub: what carries the grips is taken not to have moved.");
    if (loads.shared)
        out.push_back(
            "Links or pins are more than needed: they share as springs at rest share, if all lengths fit; what "
            "does not fit comes on top (the question on servos that fight tells how much).");
    out.push_back(fmt::format(
        "Friction: each ball link {:g} N mm, each bearing {:g} N mm, as in the question on stiff ball links.",
        options.ball_nmm, options.bearing_nmm));
    const bool rated =
        std::ranges::any_of(d.servos, [](const head::Servo& s) { return s.rating.stall_nmm().has_value(); });
    if (rated)
        out.push_back(fmt::format(
            "A servo may be asked for {:.0f} % of its rated torque{} (common practice, no source); "
            "under load it slows down in a straight line to its stall (from memory).",
            100 * options.usable_share,
            options.volts ? fmt::format(" at {:g} V, which goes with the voltage", *options.volts) : std::string()));
    out.push_back(fmt::format(
        "Gives way: each servo 1 deg for each {:g} N mm{}; both guesses, first order.", options.give.servo_nmm_per_deg,
        options.give.link_n_per_mm ? fmt::format(", each link 1 mm for each {:g} N", *options.give.link_n_per_mm)
                                   : ", links rigid"));
    if (loads.open > 0)
        out.push_back(
            fmt::format("At {} of {} places looked at, the links do not reach or stand at a dead point; loads "
                        "there are not known, and near them they grow without bound.",
                        loads.open, loads.places));
    return out;
}

bool enough(const Loads& loads) {
    return std::ranges::all_of(loads.horns, [&](const HornLoad& horn) {
        const auto margin = horn.margin();
        return (!margin || *horn.usable_nmm >= most_nmm(loads, horn)) &&
               !(horn.free_s && horn.loaded_s.value_or(*horn.free_s) > loads.options.full_stick_s);
    });
}

}  // namespace

Answer answer(const Loads& loads, const head::Head& head) {
    const head::Description& d = head.description();
    Answer out;
    out.study = "loads";
    out.text = headline(loads, d) + slow_words(loads, d) + give_words(loads);
    out.tone = enough(loads) ? Tone::calm : Tone::notice;
    out.tables = {horns_table(loads, d),     peaks_table(loads, d),       servos_table(loads, d),
                  links_table(loads, head),  levers_table(loads, d.kind), blades_table(loads, d),
                  gives_table(loads, d.kind)};
    out.notes = notes(loads, d);
    return out;
}

}  // namespace swashwright::studies
