#include "kinematics/studies/diagnosis/hidden_fault.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>
#include <span>

#include "kinematics/head/inventory.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/dice.h"
#include "kinematics/studies/diagnosis/next_reading.h"

namespace swashwright::studies {
namespace {

constexpr double least_seen_deg = 0.5, most_seen_deg = 3;
constexpr double least_share = 0.3, most_share = 1.2;  // of the usual size
constexpr double believable = 0.8;                     // of the largest that a part can be off
constexpr int tries = 300;
enum Purpose : std::uint64_t { which = 1, noise = 2, day = 3 };

tl::unexpected<head::Failure> refused(std::string why) {
    return tl::unexpected(head::Failure{std::move(why), {}});
}

/// Places that the sticks reach.
Readings grid_of(const head::Description& d) {
    Readings out;
    for (const PitchReading& r : reading_grid(d.rotor.blades, PitchReading{}.uncertainty_deg, d.kind))
        if (head::lets_through(d.mixing, r.sticks)) out.pitch.push_back(r);
    out.gauge = practice_gauge();
    return out;
}

/// By how much a fault moves the reading that it moves most, deg; none where some place cannot be read with it.
std::optional<double> seen_deg(const head::Head& with, const Readings& grid, const Eigen::VectorXd& described) {
    const auto there = with.neutral_failure() ? std::nullopt : expected(with, grid, {});
    if (!there) return std::nullopt;
    return (there->value - described).cwiseAbs().maxCoeff() * grid.pitch.front().uncertainty_deg;
}

double drawn_size(Dice& dice, const Fault& fault) {
    if (!fault.sized()) return 0;
    const double size = fault.usual_size() * dice.between(least_share, most_share);
    return std::min(size, believable * fault.largest()) * (dice.heads() ? 1 : -1);
}

/// What shows at a glance is hidden less often: one reading tells it.
int times_in_the_draw(FaultKind kind) {
    return kind == FaultKind::servo_reversed || kind == FaultKind::mixer_sign || kind == FaultKind::horn_tooth ? 1 : 3;
}

/// Of the kinds that this head has, one; of its faults, one.
std::size_t drawn_fault(Dice& dice, const std::vector<Fault>& suspects) {
    std::vector<FaultKind> kinds;
    for (const Fault& f : suspects)
        if (std::ranges::find(kinds, f.kind) == kinds.end())
            kinds.insert(kinds.end(), static_cast<std::size_t>(times_in_the_draw(f.kind)), f.kind);
    const FaultKind kind = kinds[dice.whole(kinds.size())];
    std::vector<std::size_t> of_kind;
    for (std::size_t i = 0; i < suspects.size(); ++i)
        if (suspects[i].kind == kind) of_kind.push_back(i);
    return of_kind[dice.whole(of_kind.size())];
}

PartToName part_to_name(const Fault& fault, const head::Description& d) {
    PartToName out{keys_of(fault).front(), {}, fault.part};
    if (const auto part = head::part_of(fault.part); part && head::link_of(d, *part))
        out.words = head::link_words(d, *part);
    else if (out.key.starts_with("servo["))
        out.words = head::servo_words(d.servos[static_cast<std::size_t>(fault.index)]);
    else if (out.key.starts_with("grip["))
        out.words = fmt::format("blade {} or its grip", fault.index + 1);
    else if (out.key == "mixing")
        out.words = "the transmitter's mix", out.path.clear();
    else
        out.words = out.key == "guide" ? "guide" : out.key == "driver" ? "driver collar" : "main shaft";
    return out;
}

/// Puts the fault in, with half the size as often as it takes to move no reading by too much; false where it cannot be
/// hidden.
bool put_in(HiddenFault& out, const head::Description& base, const Readings& grid, const Eigen::VectorXd& described) {
    for (int halved = 0; halved < 4; ++halved, out.size /= 2) {
        out.size = std::round(out.size * 100) / 100;
        head::Description faulty = base;
        apply(out.what(), out.size, faulty);
        const auto real = head::Head::build(faulty);
        const auto seen = real ? seen_deg(*real, grid, described) : std::nullopt;
        if (!out.what().sized() || !seen || *seen <= most_seen_deg) {
            if (!seen || *seen < least_seen_deg) return false;
            out.real = *real;
            return true;
        }
    }
    return false;
}

/// So that a place has the same noise in whatever order the readings are taken; `before`: how often it was read.
Dice noise_at(std::uint64_t number, std::uint64_t place, std::span<const double> where, std::size_t before) {
    std::uint64_t key = place;
    for (const double x : where) key = Dice(key ^ static_cast<std::uint64_t>(std::llround(x * 1e6))).next();
    return Dice::of(number, Dice(key + before).next() + Purpose::noise);
}

bool same_place(const PitchReading& a, const PitchReading& b) {
    return a.blade == b.blade && a.sticks == b.sticks && a.azimuth_deg == b.azimuth_deg;
}

bool same_place(const RingHeightReading& a, const RingHeightReading& b) {
    return a.ball == b.ball && a.azimuth_deg == b.azimuth_deg && a.radius_mm == b.radius_mm && a.sticks == b.sticks;
}

/// How often the place of `all[i]` stands before it.
template <class Reading>
std::size_t read_before(const std::vector<Reading>& all, std::size_t i) {
    const auto end = all.begin() + static_cast<std::ptrdiff_t>(i);
    return static_cast<std::size_t>(
        std::count_if(all.begin(), end, [&](const Reading& r) { return same_place(r, all[i]); }));
}

/// Noise and rounding together are the uncertainty; rounding to a step adds its square over 12.
double shown(Dice dice, double value, double uncertainty, double step) {
    const double spread = std::sqrt(std::max(0.0, uncertainty * uncertainty - step * step / 12));
    const double read = std::round((value + spread * dice.normal()) / step);
    return (read == 0 ? 0 : read) / std::round(1 / step);
}

std::array<double, 6> where(const PitchReading& r) {
    return {r.sticks.collective, r.sticks.aileron, r.sticks.elevator, r.sticks.rudder, r.azimuth_deg, 0};
}

std::array<double, 6> where(const RingHeightReading& r) {
    return {r.sticks.collective, r.sticks.aileron, r.sticks.elevator, r.sticks.rudder, r.azimuth_deg, r.radius_mm};
}

/// With what `head` shows.
head::Result<Readings> read(const head::Head& head, Readings places) {
    if (std::string wrong = mistake(places, head.description()); !wrong.empty()) return refused(std::move(wrong));
    const auto there = expected(head, places, {});
    if (!there) return refused("the head cannot be put there: a link would not reach, or it stands at a dead point");
    Eigen::Index row = 0;
    for (PitchReading& r : places.pitch) r.reading_deg = there->value[row++] * r.uncertainty_deg;
    for (RingHeightReading& r : places.ring_height) r.reading_mm = there->value[row++] * r.uncertainty_mm;
    return places;
}

}  // namespace

const std::vector<FaultKind>& kinds_hidden() {
    static const std::vector<FaultKind> kinds = [] {
        std::vector<FaultKind> out;
        for (const FaultKind kind : all_fault_kinds)
            if (kind != FaultKind::stripped_gear && kind != FaultKind::worn_end) out.push_back(kind);
        return out;
    }();
    return kinds;
}

std::vector<std::string> keys_of(const Fault& fault) {
    switch (fault.kind) {
        case FaultKind::guide_turn:
            return {"guide"};
        case FaultKind::driver_turn:
            return {"driver"};
        case FaultKind::swapped_lower:
        case FaultKind::swapped_upper: {
            const head::Role role = head::part_of(fault.part)->role;
            return {fault.part, head::path_of({role, fault.other})};
        }
        default:
            return {fault.part};
    }
}

std::vector<PartToName> parts_to_name(const head::Description& description) {
    std::vector<PartToName> out;
    for (const Fault& fault : faults(description, kinds_hidden())) {
        PartToName part = part_to_name(fault, description);
        if (std::ranges::find(out, part.key, &PartToName::key) == out.end()) out.push_back(std::move(part));
    }
    return out;
}

Gauge practice_gauge() {
    Gauge out;
    out.zeroed_on = ZeroedOn::shaft;
    out.zero_within_deg = 0;
    return out;
}

head::Result<HiddenFault> hide_fault(const head::Head& head, std::uint64_t number) {
    if (const head::Failure* open = head.neutral_failure()) return tl::unexpected(*open);
    const head::Description base = head::mixer_kept(head);
    const Readings grid = grid_of(base);
    const auto described = grid.pitch.empty() ? std::nullopt : expected(head, grid, {});
    if (!described) return refused("no fault is hidden in this head: not every place can be read even as it is");
    HiddenFault out{head, head, faults(base, kinds_hidden()), 0, 0, number};
    Dice dice = Dice::of(number, Purpose::which);
    for (int n = 0; n < tries && !out.suspects.empty(); ++n) {
        out.fault = drawn_fault(dice, out.suspects);
        out.size = drawn_size(dice, out.what());
        if (put_in(out, base, grid, described->value)) return out;
    }
    return refused("no fault can be hidden in this head that a pitch gauge would show and that leaves it to be moved");
}

head::Result<Readings> read_hidden(const HiddenFault& hidden, Readings places) {
    auto out = read(hidden.real, std::move(places));
    if (!out) return out;
    for (std::size_t i = 0; i < out->pitch.size(); ++i) {
        PitchReading& r = out->pitch[i];
        const Dice dice =
            noise_at(hidden.number, static_cast<std::uint64_t>(r.blade), where(r), read_before(out->pitch, i));
        r.reading_deg = shown(dice, r.reading_deg, r.uncertainty_deg, gauge_shows_deg);
    }
    for (std::size_t i = 0; i < out->ring_height.size(); ++i) {
        RingHeightReading& r = out->ring_height[i];
        const Dice dice = noise_at(hidden.number, static_cast<std::uint64_t>(1000 + r.ball.value_or(-1)), where(r),
                                   read_before(out->ring_height, i));
        r.reading_mm = shown(dice, r.reading_mm, r.uncertainty_mm, calliper_shows_mm);
    }
    return out;
}

head::Result<Readings> read_described(const HiddenFault& hidden, Readings places) {
    return read(hidden.described, std::move(places));
}

std::optional<PracticeOfDay> practice_of(std::string_view day, std::size_t heads) {
    const auto part = [&](std::size_t from, std::size_t count) -> int {
        int value = -1;
        const char *begin = day.data() + from, *end = begin + count;
        const auto [at, error] = std::from_chars(begin, end, value);
        return at == end && error == std::errc() ? value : -1;
    };
    if (day.size() != 10 || day[4] != '-' || day[7] != '-' || heads == 0) return std::nullopt;
    const int year = part(0, 4), month = part(5, 2), of_month = part(8, 2);
    if (year < 1 || month < 1 || of_month < 1) return std::nullopt;
    const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                           std::chrono::day(static_cast<unsigned>(of_month))};
    if (!date.ok()) return std::nullopt;
    const auto number = static_cast<std::uint64_t>(10'000 * year + 100 * month + of_month);
    return PracticeOfDay{number, Dice::of(number, Purpose::day).whole(heads)};
}

}  // namespace swashwright::studies
