// How often is the diagnosis right? Hidden faults in random heads, noise of a known size: all invented, seeds fixed.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/diagnosis/diagnose.h"
#include "tests/support/hidden_fault.h"

namespace swashwright::studies {
namespace {

constexpr int bench_readings = 8;

/// What a builder sets, mixes up or lets slip. Of suspects that no pitch reading can tell apart in practice (a servo's
/// trim and its lower link; a blade's offset, its pitch arm and its upper link) one of each is here; `every_kind` has
/// all.
const std::vector<FaultKind> settings_only{FaultKind::lower_link,    FaultKind::upper_link, FaultKind::swapped_lower,
                                           FaultKind::swapped_upper, FaultKind::horn_tooth, FaultKind::guide_turn,
                                           FaultKind::driver_turn};
const std::vector<FaultKind> every_kind(std::begin(all_fault_kinds), std::end(all_fault_kinds));

DiagnosisOptions without_advice(const std::vector<FaultKind>& kinds) {
    DiagnosisOptions out;
    out.kinds = kinds;
    out.advice = false;
    return out;
}

/// What the best rival of the true fault, nothing wrong included, leaves of readings without noise.
double best_rival(const head::Head& head, const testing::HiddenFault& c, const std::vector<FaultKind>& kinds) {
    DiagnosisOptions options = without_advice(kinds);
    options.pairs = false;
    options.misread.chance = 0;
    const auto clean = diagnose(head, c.noise_free, options);
    if (!clean) return 0;
    double best = clean->nothing_chi_square;
    for (const Hypothesis& h : clean->ranked)
        if (h.fit.faults.size() == 1 && h.fit.faults[0] != c.fault &&
            !clean->suspects[static_cast<std::size_t>(h.fit.faults[0])].scatters())
            best = std::min(best, h.fit.chi_square);
    return best;
}

struct Rates {
    int cases = 0, distinguishable = 0, first = 0, first_of_distinguishable = 0, named = 0;
    int zeros_covered = 0;
    int intervals = 0, covered = 0, intervals_when_first = 0, covered_when_first = 0;

    void count(const Diagnosis& d, const testing::HiddenFault& c, bool apart) {
        const auto& best = d.best().fit.faults;
        const bool right = best.size() == 1 && best[0] == c.fault;
        ++cases;
        distinguishable += apart;
        first += right;
        first_of_distinguishable += right && apart;
        named += std::ranges::find(best, c.fault) != best.end() ||
                 std::ranges::any_of(d.stand_ins, [&](const StandIn& s) { return s.fault == c.fault; });
        if (!d.suspects[static_cast<std::size_t>(c.fault)].sized()) return;
        for (const Hypothesis& h : d.ranked) {
            if (h.fit.faults.size() != 1 || h.fit.faults[0] != c.fault) continue;
            const bool inside = std::abs(h.fit.size[0] - c.size) < 1.959964 * h.fit.deviation(0);
            ++intervals, covered += inside;
            if (right) ++intervals_when_first, covered_when_first += inside;
        }
    }
    static double share(int part, int whole) { return static_cast<double>(part) / std::max(1, whole); }
    void print(const char* what) const {
        fmt::print(
            "{}: {} cases; distinguishable {:.1f} %; true fault first in {:.1f} % of those and {:.1f} % of all; named "
            "first or "
            "as not told apart {:.1f} %; 95 % intervals cover {:.1f} % of {}, and {:.1f} % of {} where first\n",
            what, cases, 100 * share(distinguishable, cases), 100 * share(first_of_distinguishable, distinguishable),
            100 * share(first, cases), 100 * share(named, cases), 100 * share(covered, intervals), intervals,
            100 * share(covered_when_first, intervals_when_first), intervals_when_first);
    }
};

/// `zero`: the gauge's zero is off by its usual size, and nobody knows.
Rates measure(const std::vector<FaultKind>& kinds, int cases, std::uint64_t seed, bool zero = false) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    Rates rates;
    while (rates.cases < cases) {
        auto c = testing::hidden_fault(draw, bits, kinds, bench_readings);
        const auto head = head::Head::build(c.sound);
        if (!head) continue;
        const double off = zero ? Gauge{}.zero_within_deg * testing::normal(draw) : 0;
        if (zero) c.readings.gauge = c.noise_free.gauge = {};
        for (PitchReading& r : c.readings.pitch) r.reading_deg += off;
        const auto d = diagnose(*head, c.readings, without_advice(kinds));
        if (!d) continue;
        rates.count(*d, c, best_rival(*head, c, kinds) >= told_apart);
        const Estimate& told = d->best().stand.zero_deg;
        const bool right = d->best().fit.faults == std::vector<int>{c.fault};
        rates.zeros_covered += right && std::abs(told.value - off) < 1.959964 * told.deviation;
    }
    return rates;
}

/// 95 % with what 3 standard errors of a binomial share allow.
void expect_covers(int covered, int count) {
    EXPECT_NEAR(Rates::share(covered, count), 0.95, 3 * std::sqrt(0.95 * 0.05 / count));
}

TEST(DiagnosisRates, TheTrueFaultComesFirstAndIntervalsCoverIt) {
    const Rates r = measure(settings_only, 500, 20261);
    r.print("settings, swaps and slips");
    EXPECT_GT(Rates::share(r.distinguishable, r.cases), 0.5);
    EXPECT_GE(Rates::share(r.first_of_distinguishable, r.distinguishable), 0.90);
    expect_covers(r.covered, r.intervals);
    expect_covers(r.covered_when_first, r.intervals_when_first);
}

// The same with the zero unknown: where the right fault is first, its interval covers it too.
TEST(DiagnosisRates, IntervalsCoverWhereTheZeroIsUnknown) {
    const Rates r = measure(settings_only, 200, 20262, true);
    r.print("settings, swaps and slips, the gauge's zero unknown");
    fmt::print("the zero's 95 % interval covers it in {} of {}\n", r.zeros_covered, r.first);
    EXPECT_GE(Rates::share(r.first_of_distinguishable, r.distinguishable), 0.90);
    expect_covers(r.covered, r.intervals);
    expect_covers(r.zeros_covered, r.first);
}

TEST(DiagnosisRates, WithEverySuspectTheTrueFaultIsFirstOrNamedAsNotToldApart) {
    const Rates r = measure(every_kind, 120, 77);
    r.print("every kind of fault");
    EXPECT_GE(Rates::share(r.first_of_distinguishable, r.distinguishable), 0.90);
    EXPECT_GE(Rates::share(r.named, r.cases), 0.90);
    expect_covers(r.covered, r.intervals);
}

double false_alarms(const std::vector<FaultKind>& kinds, int cases, std::uint64_t seed) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    int alarms = 0;
    for (int i = 0; i < cases; ++i) {
        const auto c = testing::hidden_fault(draw, bits, kinds, bench_readings, true);
        const auto d = diagnose(*head::Head::build(c.sound), c.readings, without_advice(kinds));
        alarms += !d || !d->best().fit.faults.empty();
    }
    return Rates::share(alarms, cases);
}

TEST(DiagnosisRates, WithNothingWrongItSaysSo) {
    const double few = false_alarms(settings_only, 500, 31), all = false_alarms(every_kind, 100, 32);
    fmt::print("nothing wrong: false alarms {:.1f} % of 500, {:.1f} % of 100 with every kind of fault\n", 100 * few,
               100 * all);
    EXPECT_LE(few, 0.05);
    EXPECT_LE(all, 0.05);
}

// Advice against a reading drawn at random, in the same 200 cases: logarithm of the determinant of the covariance of
// the suspects in question, worked out at the true head, which the advice does not know.
TEST(DiagnosisRates, TheAdvisedReadingTellsMoreThanOneAtRandom) {
    std::mt19937_64 bits(555);
    testing::Draw draw(bits);
    std::vector<double> gained;
    while (gained.size() < 200) {
        const auto c = testing::hidden_fault(draw, bits, settings_only, 6);
        const auto sound = head::Head::build(c.sound);
        DiagnosisOptions options = without_advice(settings_only);
        options.advice = true;
        const auto d = diagnose(*sound, c.readings, options);
        ASSERT_TRUE(d);
        if (d->next_readings.empty()) continue;
        head::Description faulty = c.sound;
        apply(c.suspects[static_cast<std::size_t>(c.fault)], c.size, faulty);
        const auto truth = head::Head::build(faulty);
        ASSERT_TRUE(truth);
        const Readings advised{{d->next_readings.front().where}, {}},
            random{{testing::random_reading(draw, c.sound.rotor.blades)}, {}};
        if (!expected(*truth, advised, {}) || !expected(*truth, random, {})) continue;
        const Eigen::MatrixXd known =
            covariance(effect_rows(*truth, c.readings, d->in_question), usual_sizes(d->in_question));
        const auto log_determinant_falls = [&](const Readings& next) {
            return 2 * information_gain(effect_rows(*truth, next, d->in_question).row(0).transpose(), known);
        };
        gained.push_back(log_determinant_falls(advised) - log_determinant_falls(random));
    }
    double mean = 0, square = 0;
    for (const double g : gained) mean += g / 200;
    for (const double g : gained) square += (g - mean) * (g - mean) / 199;
    const double half = 1.972 * std::sqrt(square / 200);  // Student's t, 199 degrees of freedom
    fmt::print("next reading: log-determinant {:.2f} +/- {:.2f} lower by advice than at random, 200 pairs\n", mean,
               half);
    EXPECT_GT(mean - half, 0);
}

TEST(DiagnosisRates, TwoHiddenFaultsAreFoundTogether) {
    std::mt19937_64 bits(99);
    testing::Draw draw(bits);
    const std::vector<FaultKind> links{FaultKind::lower_link, FaultKind::upper_link};
    int right = 0, cases = 0;
    while (cases < 60) {
        auto c = testing::hidden_fault(draw, bits, links, 16);
        const int second = draw.whole(0, static_cast<int>(c.suspects.size()) - 1);
        const auto size = size_for(draw, c, c.suspects[static_cast<std::size_t>(second)], draw.between(0.5, 1.5));
        if (second == c.fault || !size) continue;
        const head::Description sound = c.sound;
        apply(c.suspects[static_cast<std::size_t>(second)], *size, c.sound);
        if (!read_out(draw, c)) continue;
        const auto d = diagnose(*head::Head::build(sound), c.readings, without_advice(settings_only));
        ASSERT_TRUE(d);
        std::vector<int> best = d->best().fit.faults, truth{c.fault, second};
        const auto by_words = [&](int f) { return c.suspects[static_cast<std::size_t>(f)].words; };
        std::vector<std::string> found, hidden;
        for (const int f : best) found.push_back(d->suspects[static_cast<std::size_t>(f)].words);
        for (const int f : truth) hidden.push_back(by_words(f));
        std::ranges::sort(found);
        std::ranges::sort(hidden);
        right += found == hidden;
        ++cases;
    }
    fmt::print("two faults: the pair first in {:.1f} % of {}\n", 100 * Rates::share(right, cases), cases);
    EXPECT_GE(Rates::share(right, cases), 0.7);
}

}  // namespace
}  // namespace swashwright::studies
