// Readings as a bench gives them: the gauge's zero off, the shaft leaning, a reading mistyped. Hidden faults in random
// heads, noise of a known size: all invented, seeds fixed.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <set>

#include "kinematics/studies/diagnosis/diagnose.h"
#include "tests/support/hidden_fault.h"

namespace swashwright::studies {
namespace {

constexpr int cases = 40;
constexpr double noise_deg = 0.1;

/// A sound head, one link wrong, or anything else, at the bench: every reading is made from what the head shows, the
/// gauge's zero, the shaft's lean and noise.
struct Bench {
    head::Description sound, real;
    std::string wrong;  // scene path of the part that is wrong
    Readings readings;
    double zero_deg = 0, lean_forward_deg = 0, lean_right_deg = 0;

    /// What a gauge that knows the level shows of a blade: its chord against the level, as seen along its axis, with
    /// the whole model turned about the nose by the lean to the right and about the left by the lean forward.
    double shown(double azimuth_deg, int blade, double pitch_deg) const {
        const double s = head::spin_sign(real.rotor.direction);
        const double a = pi + s * (azimuth_deg * degree + 2 * pi * blade / real.rotor.blades);
        const Vec3 out(std::cos(a), std::sin(a), 0), ahead = s * Vec3::UnitZ().cross(out);
        const Vec3 chord = std::cos(pitch_deg * degree) * ahead + std::sin(pitch_deg * degree) * Vec3::UnitZ();
        const Vec3 lean = Vec3(lean_right_deg, lean_forward_deg, 0) * degree;
        const Eigen::AngleAxisd turn(lean.norm(), lean.norm() > 0 ? Vec3(lean.normalized()) : Vec3::UnitX());
        const Vec3 axis = turn * out, level = s * Vec3::UnitZ().cross(axis).normalized();
        return std::atan2((turn * chord).dot(s * axis.cross(level)), (turn * chord).dot(level)) / degree;
    }
    /// Of a place: false where the head cannot take the pose.
    bool read(testing::Draw& draw, PitchReading& at) const {
        const auto head = head::Head::build(real);
        if (!head || head->neutral_failure()) return false;
        const auto pose = head->pose(at.sticks, at.azimuth_deg);
        if (!pose) return false;
        at.reading_deg = shown(at.azimuth_deg, at.blade, pose->pitch_deg[static_cast<std::size_t>(at.blade)]) +
                         zero_deg + noise_deg * testing::normal(draw);
        return true;
    }
};

/// A link of a random kind that is off by 0.3 to 1 mm.
void put_a_link_wrong(testing::Draw& draw, Bench& bench) {
    const double size = draw.between(0.3, 1.0) * (draw.chance(0.5) ? 1 : -1);
    const bool lower = draw.chance(0.5);
    auto& links = lower ? bench.real.lower_links : bench.real.upper_links;
    const int i = draw.whole(0, static_cast<int>(links.size()) - 1);
    links[static_cast<std::size_t>(i)].error_mm += size;
    bench.wrong = fmt::format("{}[{}]", lower ? "lower_link" : "upper_link", i + 1);
}

/// Draws until every place can be read.
template <class Make>
Bench bench(testing::Draw& draw, std::mt19937_64& bits, int count, const Make& make) {
    for (;;) {
        Bench out;
        out.sound = out.real = testing::random_head(bits);
        make(out);
        bool all = true;
        for (int i = 0; i < count && all; ++i) {
            out.readings.pitch.push_back(testing::random_reading(draw, out.sound.rotor.blades));
            out.readings.pitch.back().blade = i % out.sound.rotor.blades;
            all = out.read(draw, out.readings.pitch.back());
        }
        if (all) return out;
    }
}

Diagnosis diagnosed(const Bench& bench, bool advice = false) {
    DiagnosisOptions options;
    options.advice = advice;
    auto d = diagnose(*head::Head::build(bench.sound), bench.readings, options);
    EXPECT_TRUE(d);
    return std::move(*d);
}

/// The link's largest effect on the readings, but for one of them.
double shows(const Bench& b, std::size_t but) {
    const auto sound = head::Head::build(b.sound), real = head::Head::build(b.real);
    const auto before = expected(*sound, b.readings, {}), after = expected(*real, b.readings, {});
    double most = 0;
    for (std::size_t i = 0; before && after && i < b.readings.pitch.size(); ++i)
        if (i != but)
            most = std::max(most, std::abs(before->value[Eigen::Index(i)] - after->value[Eigen::Index(i)]) * noise_deg);
    return most;
}

/// By scene path, over all explanations that name it.
double probability_of(const Diagnosis& d, const std::string& part) {
    double sum = 0;
    for (const Hypothesis& h : d.ranked)
        if (std::ranges::any_of(h.fit.faults,
                                [&](int f) { return d.suspects[static_cast<std::size_t>(f)].part == part; }))
            sum += h.probability;
    return sum;
}

double most_blamed(const Diagnosis& d) {
    std::set<std::string> parts;
    for (const Fault& f : d.suspects) parts.insert(f.part);
    double most = 0;
    for (const std::string& part : parts) most = std::max(most, probability_of(d, part));
    return most;
}

bool named(const Diagnosis& d, const std::string& part) {
    const auto is = [&](int f) { return f != the_stand && d.suspects[static_cast<std::size_t>(f)].part == part; };
    return std::ranges::any_of(d.best().fit.faults, is) ||
           std::ranges::any_of(d.stand_ins, [&](const StandIn& s) { return is(s.fault); });
}

TEST(DiagnosisTrials, AZeroThatIsOffBlamesNoPart) {
    std::mt19937_64 bits(4001);
    testing::Draw draw(bits);
    int right = 0, unblamed = 0;
    for (int i = 0; i < cases; ++i) {
        Bench b = bench(draw, bits, 9, [&](Bench& out) { out.zero_deg = draw.chance(0.5) ? 0.4 : -0.4; });
        b.readings.gauge.zeroed_on = ZeroedOn::shaft;
        const Diagnosis d = diagnosed(b);
        const Estimate zero = d.best().stand.zero_deg;
        unblamed += most_blamed(d) <= 0.2;
        right += d.best().fit.faults.empty() && most_blamed(d) <= 0.2 && zero.told() && zero.value * b.zero_deg > 0;
        if (most_blamed(d) > 0.2 || !zero.told())
            fmt::print("  case {}: blamed {:.2f} zero {:.2f} +- {:.2f} best {}\n", i, most_blamed(d), zero.value,
                       zero.deviation,
                       d.best().fit.faults.empty() ? "nothing" : d.suspects[std::size_t(d.best().fit.faults[0])].words);
    }
    fmt::print("zero off: {} of {}, unblamed {}\n", right, cases, unblamed);
    EXPECT_GE(right, 36);
}

TEST(DiagnosisTrials, AShaftThatLeansBlamesNoPart) {
    std::mt19937_64 bits(4002);
    testing::Draw draw(bits);
    int right = 0;
    for (int i = 0; i < cases; ++i) {
        Bench b = bench(draw, bits, 10, [&](Bench& out) {
            const double towards = draw.between(0, 2 * pi);
            out.lean_forward_deg = std::cos(towards), out.lean_right_deg = std::sin(towards);
        });
        b.readings.gauge.zeroed_on = ZeroedOn::level;
        const Diagnosis d = diagnosed(b);
        const Stand& s = d.best().stand;
        right += d.best().fit.faults.empty() && most_blamed(d) <= 0.2 && s.leans();
        if (!(d.best().fit.faults.empty() && most_blamed(d) <= 0.2 && s.leans()))
            fmt::print("  case {}: blamed {:.2f} lean {:.2f} {:.2f} for {:.2f} {:.2f} best {}\n", i, most_blamed(d),
                       s.lean_forward_deg.value, s.lean_right_deg.value, b.lean_forward_deg, b.lean_right_deg,
                       d.best().fit.faults.empty() ? "nothing" : d.suspects[std::size_t(d.best().fit.faults[0])].words);
    }
    fmt::print("lean: {} of {}\n", right, cases);
    EXPECT_GE(right, 36);
}

TEST(DiagnosisTrials, AWrongLinkAndAMistypedReadingAreBothNamed) {
    std::mt19937_64 bits(4003);
    testing::Draw draw(bits);
    int right = 0, part = 0, reading = 0;
    for (int i = 0; i < cases;) {
        Bench b = bench(draw, bits, 9, [&](Bench& out) { put_a_link_wrong(draw, out); });
        const auto at = static_cast<std::size_t>(draw.whole(0, 8));
        PitchReading& typed = b.readings.pitch[at];
        if (std::abs(typed.reading_deg) < 0.5 || shows(b, at) < 0.3) continue;
        ++i;
        typed.reading_deg *= -1;
        const Diagnosis d = diagnosed(b);
        const bool found = named(d, b.wrong), again = d.checked[at].chance_wrong >= doubted;
        part += found, reading += again, right += found && again;
        if (!(found && again))
            fmt::print("  case {}: {} part {} reading {} chance {:.2f} best {} p {:.2f}\n", i, b.wrong, found, again,
                       d.checked[at].chance_wrong,
                       d.best().fit.faults.empty() ? "nothing" : d.suspects[std::size_t(d.best().fit.faults[0])].words,
                       d.best().probability);
    }
    fmt::print("link and mistyped reading: {} of {}; part {}, reading {}\n", right, cases, part, reading);
    EXPECT_GE(right, 36);
}

TEST(DiagnosisTrials, AWrongLinkIsNamedThoughZeroAndLeanAreUnknown) {
    std::mt19937_64 bits(4004);
    testing::Draw draw(bits);
    int right = 0, first = 0;
    double group = 0;
    for (int i = 0; i < 100; ++i) {
        Bench b = bench(draw, bits, 10, [&](Bench& out) {
            put_a_link_wrong(draw, out);
            out.zero_deg = 0.3 * testing::normal(draw);
            out.lean_forward_deg = testing::normal(draw), out.lean_right_deg = testing::normal(draw);
        });
        b.readings.gauge.zeroed_on = ZeroedOn::level;
        const Diagnosis d = diagnosed(b);
        first += !d.best().fit.faults.empty() && d.suspects[std::size_t(d.best().fit.faults[0])].part == b.wrong;
        right += named(d, b.wrong);
        group += double(d.stand_ins.size()) / 100;
        if (!named(d, b.wrong)) {
            double p = probability_of(d, b.wrong);
            fmt::print("  case {}: {} p {:.3f}; best {} p {:.2f} + {} stand-ins\n", i, b.wrong, p,
                       d.best().fit.faults.empty() ? "nothing" : d.suspects[std::size_t(d.best().fit.faults[0])].words,
                       d.best().probability, d.stand_ins.size());
        }
    }
    fmt::print("link, zero and lean unknown: {} of 100, first {}, mean group {:.1f}\n", right, first, group);
    EXPECT_GE(right, 95);
}

/// Probability of the best explanation's parts and of all that the readings do not tell from it.
double probability_of_group(const Diagnosis& d) {
    std::set<int> group(d.best().fit.faults.begin(), d.best().fit.faults.end());
    for (const StandIn& s : d.stand_ins) group.insert(s.fault);
    const bool nothing = d.best().fit.faults.empty() || group.contains(the_stand);
    double sum = 0;
    for (const Hypothesis& h : d.ranked)
        if (h.fit.faults.empty() ? nothing
                                 : std::ranges::any_of(h.fit.faults, [&](int f) { return group.contains(f); }))
            sum += h.probability;
    return sum;
}

/// From two readings on, as many more of its own as it takes.
int readings_needed(testing::Draw& draw, Bench b, const std::vector<FaultKind>& kinds, int most, bool by_shaft) {
    DiagnosisOptions options;
    options.kinds = kinds;
    const auto head = head::Head::build(b.sound);
    std::string log;
    for (int count = 2; count <= most; ++count) {
        const auto d = diagnose(*head, b.readings, options);
        if (!d) return most + 1;
        const bool is = named(*d, b.wrong);
        if (is && probability_of_group(*d) >= 0.95) return count;
        if (is && by_shaft && d->next_step.what == NextStep::What::zero_on_shaft) return count;
        log += fmt::format(
            "   {}: p {:.2f} group {:.2f} of {} best {} step {}\n", count, probability_of(*d, b.wrong),
            probability_of_group(*d), d->stand_ins.size(),
            d->best().fit.faults.empty() ? "nothing" : d->suspects[std::size_t(d->best().fit.faults[0])].words,
            int(d->next_step.what));
        if (d->next_readings.empty()) return most + 1;
        b.readings.pitch.push_back(d->next_readings.front().where);
        if (!b.read(draw, b.readings.pitch.back())) return most + 1;
    }
    fmt::print("  {} not in {}:\n{}", b.wrong, most, log);
    return most + 1;
}

void follow(int mode, std::uint64_t seed, const std::vector<FaultKind>& kinds) {
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    std::vector<int> needed;
    for (int i = 0; i < cases; ++i) {
        Bench b = bench(draw, bits, 2, [&](Bench& out) {
            put_a_link_wrong(draw, out);
            if (mode > 0) out.zero_deg = 0.3 * testing::normal(draw);
            if (mode > 1) out.lean_forward_deg = testing::normal(draw), out.lean_right_deg = testing::normal(draw);
        });
        b.readings.gauge.zeroed_on = mode > 1 ? ZeroedOn::level : ZeroedOn::shaft;
        if (mode == 0) b.readings.gauge.zero_within_deg = 0;
        needed.push_back(readings_needed(draw, b, kinds, 12, mode > 1));
    }
    std::ranges::sort(needed);
    fmt::print("follow, mode {}: median {}, 75 % {}, 90 % {}, most {}\n", mode, needed[cases / 2],
               needed[cases * 3 / 4], needed[cases * 9 / 10], needed.back());
}
const std::vector<FaultKind> settings_only{FaultKind::lower_link,    FaultKind::upper_link, FaultKind::swapped_lower,
                                           FaultKind::swapped_upper, FaultKind::horn_tooth, FaultKind::guide_turn,
                                           FaultKind::driver_turn};
const std::vector<FaultKind> every_kind(std::begin(all_fault_kinds), std::end(all_fault_kinds));

TEST(DiagnosisTrials, Follow) {
    for (int mode = 0; mode < 3; ++mode) follow(mode, 5001, every_kind);
}

TEST(DiagnosisTrials, Speed) {
    std::mt19937_64 bits(4005);
    testing::Draw draw(bits);
    double seconds = 0, advice = 0;
    for (int i = 0; i < 20; ++i) {
        Bench b = bench(draw, bits, 10, [&](Bench& out) { put_a_link_wrong(draw, out); });
        const auto t0 = std::clock();
        diagnosed(b);
        const auto t1 = std::clock();
        diagnosed(b, true);
        seconds += double(t1 - t0) / CLOCKS_PER_SEC;
        advice += double(std::clock() - t1) / CLOCKS_PER_SEC;
    }
    fmt::print("diagnose: {:.1f} ms, with advice {:.1f} ms\n", 50 * seconds, 50 * advice);
}

}  // namespace
}  // namespace swashwright::studies
