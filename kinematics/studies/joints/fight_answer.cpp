#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/part_path.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/joints/fight.h"

namespace swashwright::studies {

namespace {

constexpr double least_told_mm = 5e-4;  // of a misfit
constexpr double taken_away = 0.1;      // of the misfit left: the rest is gone
constexpr double worth_it = 0.9;        // of the misfit left: more is no remedy
constexpr double share_of_most = 0.05;  // of the largest moment: a servo that holds less is in no camp

std::string place_words(const Fight& fight, const FightPlace& place, head::Kind kind) {
    std::string out = stick_words(kind, place.sticks);
    if (fight.turns) out += fmt::format(", rotor at {:.0f} deg", place.azimuth_deg);
    return out;
}

/// "Three lower links hold the ring", where it is so.
std::string once(const head::Description& d) {
    constexpr std::array words{"No", "One", "Two", "Three", "Four", "Five", "Six"};
    const std::size_t links = d.lower_links.size();
    if (is_tail(d) || links != d.servos.size() || links != 3) return "Nothing is held more than once";
    return fmt::format("{} lower links hold the ring", words[links]);
}

/// "servo 1 and servo 3 push up against servo 2 and servo 4, up to 19.1 N mm at the horn of servo 1"
std::string camps(const FightPlace& place, const head::Description& d) {
    if (place.rigid) return "nothing that gives way is known, so neither is what they cost; say how far links give way";
    std::vector<std::string> up, down;
    std::size_t most = 0;
    const auto size = [&](std::size_t j) { return std::abs(place.moment_nmm[j]); };
    for (std::size_t j = 0; j < place.moment_nmm.size(); ++j)
        if (size(j) > size(most)) most = j;
    if (place.moment_nmm.empty() || size(most) < 0.05) return "no servo feels it";
    for (std::size_t j = 0; j < place.moment_nmm.size(); ++j)
        if (size(j) >= share_of_most * size(most))
            (place.moment_nmm[j] > 0 ? up : down).push_back(servo_words(d.servos[j]));
    const std::string who =
        up.empty() || down.empty()
            ? fmt::format("{} {} {}", listed(up.empty() ? down : up),
                          (up.empty() ? down : up).size() == 1 ? "holds" : "hold", "against the rest")
            : fmt::format("{} {} up against {}", listed(up), up.size() == 1 ? "pushes" : "push", listed(down));
    return fmt::format("{}, up to {:.1f} N mm at the horn of {}", who, size(most), servo_words(d.servos[most]));
}

std::string number_words(const head::Number& number, const head::Description& d) {
    if (number.kind != head::NumberKind::trim) return number.label;
    return servo_words(d.servos[static_cast<std::size_t>(number.index)]) + ", trim";
}

/// "lower link 2 0.20 mm shorter"
std::string change_words(const Remedy& remedy, const head::Description& d) {
    if (remedy.number.unit == head::Unit::mm)
        return fmt::format("{} {:.2f} mm {}", part_words(remedy.number), std::abs(remedy.change),
                           remedy.change > 0 ? "longer" : "shorter");
    return fmt::format("{} by {} deg", number_words(remedy.number, d), signed_figure(remedy.change, 2));
}

std::string remedy_words(const Fight& fight, const head::Description& d) {
    const double before = fight.worst.misfit_mm;
    if (fight.remedies.empty() || fight.remedies.front().left_mm > worth_it * before)
        return "No one length or trim takes it away: it lies in how the parts are laid out.";
    const Remedy& best = fight.remedies.front();
    if (best.left_mm <= taken_away * before)
        return fmt::format("{} takes it away: {:.3f} mm are left.", capitalised(change_words(best, d)), best.left_mm);
    return fmt::format("No one length or trim takes all of it away; {} leaves {:.3f} mm.", change_words(best, d),
                       best.left_mm);
}

/// "the 4 lower links", or their names.
std::string sharers(const Fight& fight) {
    std::vector<std::string> names;
    bool lower = true;
    for (const Fighter& fighter : fight.fighters) {
        if (!fighter.shares) continue;
        names.push_back(fighter.words);
        lower = lower && fighter.part.starts_with("lower_link");
    }
    return lower ? fmt::format("the {} lower links", names.size()) : listed(names);
}

std::string text(const Fight& fight, const head::Head& head) {
    const head::Description& d = head.description();
    if (fight.fighters.empty()) return once(d) + ": no servo can fight another.";
    if (fight.drivers_only)
        return fmt::format("{}: no servo can fight another; {} driver pins share what one would do, and {}.", once(d),
                           d.swashplate.driver_pins.size(),
                           fight.worst.misfit_mm < least_told_mm
                               ? "fit"
                               : fmt::format("stand up to {:.3f} mm off their planes, which is the play that their "
                                             "arms need",
                                             fight.worst.misfit_mm));
    const std::string misfit = fmt::format("In their best fit {} are off by up to {:.3f} mm, at {}", sharers(fight),
                                           fight.worst.misfit_mm, place_words(fight, fight.worst, d.kind));
    if (fight.within_play)
        return fmt::format("{}; the play of the ball links takes that up, so no servo fights another.", misfit);
    return fmt::format("{}; {}. {}", misfit, camps(fight.worst, d), remedy_words(fight, d));
}

Table places(const Fight& fight, bool tail) {
    Table out{"places",
              "Where",
              {{"place", "place", ""},
               {"collective", "collective", "", 2, true},
               {"aileron", "aileron", "", 2, true},
               {"elevator", "elevator", "", 2, true},
               {"rudder", "rudder", "", 2, true},
               {"azimuth_deg", "rotor at", "deg", 0},
               {"misfit_mm", "misfit", "mm", 4}},
              {},
              {}};
    if (fight.fighters.empty()) return out;
    const auto of = [tail](bool tails, double stick) { return tails == tail ? Cell(stick) : Cell(); };
    for (const auto& [words, place] : {std::pair{"worst", &fight.worst}, std::pair{"mid stick", &fight.middle}})
        out.rows.push_back({words, of(false, place->sticks.collective), of(false, place->sticks.aileron),
                            of(false, place->sticks.elevator), of(true, place->sticks.rudder),
                            fight.turns ? Cell(place->azimuth_deg) : Cell(), place->misfit_mm});
    return out;
}

Table strained(const Fight& fight) {
    Table out{"strained",
              "What is off (+ it would have to stretch) and strained (+ pulled), best fit and springs",
              {{"part", "part", ""},
               {"worst_error_mm", "worst: off by", "mm", 4, true},
               {"worst_force_n", "force", "N", 2, true},
               {"middle_error_mm", "mid stick: off by", "mm", 4, true},
               {"middle_force_n", "force", "N", 2, true}},
              {},
              {}};
    const auto force = [](const FightPlace& place, std::size_t i) {
        return place.rigid || place.force_n.empty() ? Cell() : Cell(place.force_n[i]);
    };
    const auto error = [&](const FightPlace& place, std::size_t i) {
        return fight.fighters[i].shares ? Cell(place.error_mm[i]) : Cell();
    };
    for (std::size_t i = 0; i < fight.fighters.size(); ++i) {
        out.rows.push_back({fight.fighters[i].words, error(fight.worst, i), force(fight.worst, i),
                            error(fight.middle, i), force(fight.middle, i)});
        out.parts.push_back(fight.fighters[i].part);
    }
    return out;
}

Table servos(const Fight& fight, const head::Description& d) {
    Table out{"servos",
              "Moment that each servo holds against the rest, + it pushes what it moves up",
              {{"servo", "servo", ""},
               {"worst_nmm", "worst", "N mm", 1, true},
               {"worst_gives_deg", "gives way", "deg", 3},
               {"middle_nmm", "mid stick", "N mm", 1, true},
               {"middle_gives_deg", "gives way", "deg", 3}},
              {},
              {}};
    if (fight.drivers_only) return out;
    const auto moment = [](const FightPlace& place, std::size_t j) {
        return place.rigid ? Cell() : Cell(place.moment_nmm[j]);
    };
    const auto gives = [&](const FightPlace& place, std::size_t j) {
        return place.rigid ? Cell() : Cell(std::abs(place.moment_nmm[j]) / fight.options.give.servo_nmm_per_deg);
    };
    for (std::size_t j = 0; j < fight.worst.moment_nmm.size(); ++j) {
        out.rows.push_back({d.servos[j].name, moment(fight.worst, j), gives(fight.worst, j), moment(fight.middle, j),
                            gives(fight.middle, j)});
        out.parts.push_back(fmt::format("servo[{}]", j + 1));
    }
    return out;
}

Table remedies(const Fight& fight, const head::Description& d) {
    Table out{
        "remedies",
        "One number set so that the largest misfit of all sticks is least; how far the ring leans then at mid stick",
        {{"number", "number", ""},
         {"change_mm", "change", "mm", 3, true},
         {"turns", "turns", "", 2, true},
         {"change_deg", "change", "deg", 2, true},
         {"left_mm", "misfit left", "mm", 4},
         {"tilt_deg", "ring then leans", "deg", 2}},
        {},
        {}};
    for (const Remedy& remedy : fight.remedies) {
        const head::Link* link = head::link_of(d, remedy.number);
        const bool length = remedy.number.unit == head::Unit::mm;
        out.rows.push_back({number_words(remedy.number, d), length ? Cell(remedy.change) : Cell(),
                            link ? Cell(turns_for(*link, remedy.change)) : Cell(),
                            length ? Cell() : Cell(remedy.change), remedy.left_mm, remedy.tilt_deg});
        out.parts.push_back(part_path(remedy.number));
    }
    return out;
}

std::vector<std::string> notes(const Fight& fight, const head::Description& d) {
    if (fight.fighters.empty()) return {"Found at neutral, from what each part leaves free and what holds it."};
    std::vector<std::string> out{fmt::format(
        "{} places of the sticks ({}){} looked at; what is held too often shares what does not fit by least squares.",
        fight.places, is_tail(d) ? "rudder" : head::envelope_words(d.mixing), fight.turns ? " and of the rotor" : "")};
    if (fight.open > 0)
        out.push_back(
            fmt::format("At {} of them the links do not reach: the question on what binds tells where.", fight.open));
    if (fight.drivers_only) return out;
    const Give& give = fight.options.give;
    out.push_back(fmt::format(
        "Forces: a servo gives way 1 deg for each {:g} N mm (a guess), a link {}; springs in proportion, at rest where "
        "nothing is off, no play and no friction, all else rigid; to first order.",
        give.servo_nmm_per_deg,
        give.link_n_per_mm ? fmt::format("1 mm for each {:g} N (a guess)", *give.link_n_per_mm) : "not at all"));
    out.push_back("Who fights whom is surer than how hard.");
    if (!fight.remedies.empty())
        out.push_back(
            "Misfit left: the whole envelope solved again with that one change. Of those that leave equally little the "
            "first leaves the ring most level; see to pitch afterwards.");
    return out;
}

}  // namespace

Answer answer(const Fight& fight, const head::Head& head) {
    const head::Description& d = head.description();
    Answer out;
    out.study = "fight";
    out.text = text(fight, head);
    const bool strains = !fight.fighters.empty() && !fight.drivers_only && !fight.within_play;
    out.tone = strains ? Tone::notice : Tone::calm;
    out.tables = {places(fight, is_tail(d)), strained(fight), servos(fight, d), remedies(fight, d)};
    out.notes = notes(fight, d);
    return out;
}

}  // namespace swashwright::studies
