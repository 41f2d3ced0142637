#include "kinematics/studies/diagnosis/diagnose.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>
#include <map>
#include <numbers>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/diagnosis/diagnose_tables.h"
#include "kinematics/studies/diagnosis/fault_words.h"
#include "kinematics/studies/diagnosis/reading_words.h"

namespace swashwright::studies {
namespace {

constexpr std::size_t most_named = 4;  // suspects in a sentence
constexpr std::size_t open_from = 3;   // stand-ins, from which nobody should change a part yet
constexpr double doubtful = 0.5;       // under which the head is not called sound
constexpr double settled = 0.95;       // probability from which no next reading is asked for

std::string percent(double probability) {
    return probability > 0.995 ? "over 99 %" : fmt::format("{:.0f} %", 100 * probability);
}

/// "two", "three", ..., "11"
std::string count_words(std::size_t count) {
    static constexpr std::array words{"none", "one", "two", "three", "four", "five", "six"};
    return count < words.size() ? words[count] : std::to_string(count);
}

/// "a, b, c, d and 2 more"
std::string some_of(const Diagnosis& d, const std::vector<int>& suspects) {
    std::string out;
    for (std::size_t i = 0; i < suspects.size() && i < most_named; ++i)
        out += (i ? ", " : "") + suspect_words(d, suspects[i]);
    return suspects.size() > most_named ? fmt::format("{} and {} more", out, suspects.size() - most_named) : out;
}

/// "these 9 readings"
std::string these_readings(std::size_t count) {
    return count == 1 ? "this reading" : fmt::format("these {} readings", count);
}

bool sound(const Diagnosis& d) {
    return d.best().fit.faults.empty();
}

/// "the gauge reads 0.39 deg high (± 0.10 deg, 95 %): its zero, or how the model stands"; empty where that is not
/// told, or says nothing, as of a gauge zeroed on the blade.
std::string zero_words(const Diagnosis& d) {
    const Estimate& zero = d.best().stand.zero_deg;
    if (!zero.told() || d.gauge.zeroed_on == ZeroedOn::blade) return {};
    return fmt::format("the gauge reads {:.2f} deg {} ({}): its zero, or how the model stands", std::abs(zero.value),
                       zero.value > 0 ? "high" : "low", spread_words(zero.deviation, "deg"));
}

std::string lean_words(const Diagnosis& d) {
    const Stand& stand = d.best().stand;
    if (!stand.leans()) return {};
    const double forward = stand.lean_forward_deg.value, right = stand.lean_right_deg.value;
    const double lean = std::hypot(forward, right);
    const double deviation =
        std::hypot(forward * stand.lean_forward_deg.deviation, right * stand.lean_right_deg.deviation) / lean;
    return fmt::format(
        "The shaft leans {:.1f} deg ({}) towards {}, or the ring does: a gauge zeroed on level cannot tell; zero it on "
        "the shaft.",
        lean, spread_words(deviation, "deg"), place_in_words(std::atan2(-right, forward) * 180 / std::numbers::pi));
}

std::string named(const Diagnosis& d, const Readings& readings, std::size_t i) {
    if (i < readings.pitch.size())
        return fmt::format("reading {} ({})", i + 1, reading_words(d.kind, readings.pitch[i]));
    const std::size_t height = i - readings.pitch.size();
    return fmt::format("ring height {} ({})", height + 1, reading_words(d.kind, readings.ring_height[height]));
}

std::string misread_words(const Diagnosis& d, const Readings& readings, std::size_t i) {
    const CheckedReading& r = d.checked[i];
    const std::string how = r.how == Misreading::sign ? "it looks as if its sign were typed wrong"
                            : r.how == Misreading::blade
                                ? fmt::format("it looks as if it were of blade {}", r.blade + 1)
                                : "it does not fit the others";
    return fmt::format("Take {} again: {} (reads {}, expected {}; wrong with {}).", named(d, readings, i), how,
                       signed_figure(r.read, 1), signed_figure(r.expected, 1), percent(r.chance_wrong));
}

/// What stands in for the fault at `place` of the most probable explanation.
std::vector<StandIn> stand_ins_of(const Diagnosis& d, int suspect) {
    std::vector<StandIn> out;
    std::ranges::copy_if(d.stand_ins, std::back_inserter(out),
                         [&](const StandIn& s) { return s.instead_of == suspect; });
    return out;
}

/// What would tell most of them: "; zeroing the gauge on the shaft would tell two of them". Empty where nothing would.
std::string cure_of(const Diagnosis& d, const std::vector<StandIn>& all) {
    std::map<std::string, std::size_t> told;
    for (const StandIn& s : all)
        if (const std::string cure = cure_words(d, s); !cure.empty()) ++told[cure];
    if (told.empty()) return {};
    const auto& [cure, count] = *std::ranges::max_element(told, {}, [](const auto& one) { return one.second; });
    return fmt::format("; {} would tell{}", cure,
                       count == all.size() ? "" : fmt::format(" {} of them", count_words(count)));
}

std::vector<int> suspects_of(const std::vector<StandIn>& all) {
    std::vector<int> out;
    std::ranges::transform(all, std::back_inserter(out), &StandIn::fault);
    return out;
}

/// "upper link 2 is 0.40 mm too short (± 0.20 mm, 95 %), and servo left: trim ..."
std::string what_is_wrong(const Diagnosis& d, const FaultFit& fit, const std::function<std::string(int)>& after) {
    std::string out;
    for (std::size_t i = 0; i < fit.faults.size(); ++i) {
        const Fault& fault = d.suspects[static_cast<std::size_t>(fit.faults[i])];
        out += (i ? ", and " : "") + fault_words(fault, fit.size[static_cast<Eigen::Index>(i)], fit.deviation(i)) +
               after(fit.faults[i]);
    }
    return out;
}

std::string fault_sentence(const Diagnosis& d) {
    const FaultFit& fit = d.best().fit;
    std::string instead;
    const std::string what = what_is_wrong(d, fit, [&](int f) -> std::string {
        const auto alike = stand_ins_of(d, f);
        if (alike.empty()) return {};
        const std::string others = some_of(d, suspects_of(alike)) + cure_of(d, alike);
        instead += fit.faults.size() == 1 ? fmt::format(" It may instead be: {}.", others)
                                          : fmt::format(" Instead of {} it may be: {}.", suspect_words(d, f), others);
        return fmt::format(", one of {} that these readings cannot tell apart", count_words(alike.size() + 1));
    });
    return fmt::format("{}Most probable: {}; probability {}.{}",
                       d.stand_ins.size() >= open_from ? "Not told yet which part it is. " : "", what,
                       percent(d.best().probability), instead);
}

/// Nothing wrong leads, but all that may be wrong is together more probable.
std::string undecided_words(const Diagnosis& d) {
    std::string out = fmt::format("No explanation stands out in {}: nothing wrong is the likeliest ({})",
                                  these_readings(d.readings), percent(d.best().probability));
    if (d.ranked.size() > 1)
        out += fmt::format(", then {} ({})", what_is_wrong(d, d.ranked[1].fit, [](int) { return std::string(); }),
                           percent(d.ranked[1].probability));
    return out;
}

std::string sound_sentence(const Diagnosis& d) {
    const bool more = !lean_words(d).empty() || !readings_to_take_again(d).empty();  // is said before this
    std::string out = d.best().probability < doubtful
                          ? undecided_words(d)
                          : fmt::format("{} wrong shows in {}{} (probability {})",
                                        more ? "Beside that nothing" : "Nothing", these_readings(d.readings),
                                        d.has_before ? " beside those from before" : "", percent(d.best().probability));
    if (const std::string zero = zero_words(d); !zero.empty()) out += "; " + zero;
    out += ".";
    if (const auto hidden = stand_ins_of(d, the_stand); !hidden.empty())
        out += fmt::format(" With {} unknown, a fault may be hidden: {}{}.", suspect_words(d, the_stand),
                           some_of(d, suspects_of(hidden)), cure_of(d, hidden));
    if (!d.unseen.empty())
        out += fmt::format(" These readings could not have shown, of the {} faults weighed: {}.", d.suspects.size(),
                           some_of(d, d.unseen));
    return out;
}

/// What settles most, where something is to be settled.
std::string next_sentence(const Diagnosis& d, const Readings& readings) {
    if (d.best().probability >= settled && d.stand_ins.empty() && !(sound(d) && !d.unseen.empty())) return {};
    const NextStep& step = d.next_step;
    switch (step.what) {
        case NextStep::What::read_on: {
            if (d.next_readings.empty()) return {};
            const Advice& first = d.next_readings.front();
            return fmt::format("Read next: {}; it settles {}{}.", reading_words(d.kind, first.where),
                               settles_words(first.gain),
                               first.shows.empty() ? "" : " and would show " + some_of(d, first.shows));
        }
        case NextStep::What::zero_on_shaft:
            return "Next, zero the gauge on the shaft and take the same readings again: that settles more than "
                   "another one.";
        case NextStep::What::take_again:
            return d.checked.size() > step.reading && d.checked[step.reading].chance_wrong > doubted
                       ? ""  // that is said already
                       : fmt::format("Next, take {} again.", named(d, readings, step.reading));
        case NextStep::What::repeat:
            return fmt::format(
                "Next, take {} once more with nothing changed: a loose part does not read twice the same.",
                named(d, readings, step.reading));
        case NextStep::What::none:
            break;
    }
    return {};
}

/// Where the head as described is known less well than it was read.
std::string description_words(const Diagnosis& d, const Readings& readings) {
    const auto finest = std::ranges::min_element(readings.pitch, {}, &PitchReading::uncertainty_deg);
    if (finest == readings.pitch.end() || d.described_within_deg <= finest->uncertainty_deg) return {};
    return fmt::format(
        "This holds if the head was built as the scene says: usual tolerances alone make {:.1f} deg (one standard "
        "deviation), and readings from before would tell.",
        d.described_within_deg);
}

std::string sentence_of(const Diagnosis& d, const Readings& readings) {
    std::vector<std::string> said;
    if (const std::string zero = zero_words(d); !zero.empty() && !sound(d)) said.push_back(capitalised(zero) + ".");
    said.push_back(lean_words(d));
    for (const std::size_t i : readings_to_take_again(d)) said.push_back(misread_words(d, readings, i));
    said.push_back(sound(d) ? sound_sentence(d) : fault_sentence(d));
    said.push_back(next_sentence(d, readings));
    if (!d.gauge.zeroed_on && !readings.pitch.empty())
        said.emplace_back("Nothing is said of what the gauge was zeroed on; the shaft is taken.");
    said.push_back(description_words(d, readings));
    std::string out;
    for (const std::string& one : said)
        if (!one.empty()) out += (out.empty() ? "" : " ") + one;
    return out;
}

std::string gauge_note(const Gauge& gauge) {
    if (gauge.zeroed_on == ZeroedOn::blade)
        return "The gauge reads 0 on a blade at mid stick, so only differences are read.";
    const std::string zero = gauge.zero_within_deg > 0
                                 ? fmt::format("the gauge's zero may be off by {:.2f} deg", gauge.zero_within_deg)
                                 : "the gauge's zero was checked";
    const std::string lean = gauge.zeroed_on == ZeroedOn::level
                                 ? fmt::format(", the shaft may lean {:.1f} deg each way", gauge.lean_within_deg)
                                 : "";
    return fmt::format("Taken: {}{} (one standard deviation; common practice, no source).", zero, lean);
}

std::vector<std::string> notes(const Diagnosis& d) {
    std::vector<std::string> out;
    const double spare = static_cast<double>(d.readings) - static_cast<double>(d.best().fit.faults.size());
    if (d.best().fit.chi_square > spare + 3 * std::sqrt(2 * std::max(1.0, spare)))
        out.push_back(
            "Even the best explanation leaves more than the readings' uncertainty: the scene may not be this head, or "
            "more than two things are wrong.");
    if (d.has_before) out.push_back("Readings from before are taken to be of this head when all was well.");
    if (d.observability.inverse_condition > 0)
        out.push_back(
            fmt::format("The suspects in question together: the least told combination moves the readings {:.1f} "
                        "uncertainties for its "
                        "usual size; condition number {:.0f} (under 100 is taken for reliable: Schroer, in Nahvi and "
                        "Hollerbach 1996).",
                        d.observability.smallest, 1 / d.observability.inverse_condition));
    else if (!d.in_question.empty())
        out.push_back("The suspects in question together are more, or more alike, than these readings can fix.");
    out.push_back(fmt::format(
        "Weighed: nothing wrong, {} single faults, {} pairs. Before any reading nothing wrong counts {:.2f}, all "
        "single faults together {:.2f}, evenly (one that scatters {:g} of that), all pairs {:.2f}; a size is normal "
        "about 0 (links and balls 1 mm, trim 4 deg, guide "
        "and driver collar 10 deg, blade and arm angles 2.5 deg, main shaft 0.5 deg, end points 8 %; off by another "
        "amount at every reading: stripped gears 2.5 deg, worn ends 0.15 mm) and no larger than a real part can be "
        "off. A reading is wrong with {:.0f} % (the sign in {:.0f} % of those, another blade in {:.0f} %). These are "
        "guesses; common practice, no source.",
        d.suspects.size(), d.pairs_weighed, d.priors.nothing, d.priors.single, d.priors.scatter, d.priors.pair,
        100 * d.misread.chance, 100 * d.misread.sign, 100 * d.misread.blade));
    out.push_back(gauge_note(d.gauge));
    out.push_back(
        "Left over: what an explanation leaves of the readings, in squared uncertainties (chi-square); about one for "
        "each "
        "reading to spare is usual. The "
        "next reading is the one whose outcome is least certain (D-optimal design: Fedorov; Silvey); it settles a lot "
        "where the spread of the suspects shrinks to 0.37, some to 0.74.");
    return out;
}

}  // namespace

std::vector<std::size_t> readings_to_take_again(const Diagnosis& d) {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < d.checked.size(); ++i)
        if (d.checked[i].chance_wrong > doubted) out.push_back(i);
    std::ranges::stable_sort(
        out, [&](std::size_t a, std::size_t b) { return d.checked[a].chance_wrong > d.checked[b].chance_wrong; });
    return out;
}

Answer answer(const Diagnosis& d, const Readings& readings) {
    const bool calm = sound(d) && d.best().probability >= doubtful && zero_words(d).empty() && lean_words(d).empty() &&
                      readings_to_take_again(d).empty();
    return {"diagnose", sentence_of(d, readings), calm ? Tone::calm : Tone::notice, tables_of(d, readings), notes(d)};
}

}  // namespace swashwright::studies
