// One fault hidden in a head, for practice: which it is, and what an honest gauge reads of it. The same number hides
// the same fault in the same head and gives the same readings, on every machine and in whatever order they are taken.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

/// A part that can be named as the one at fault: all that can be wrong with it goes by one name.
struct PartToName {
    std::string key;    // "upper_link[2]", "guide"; never changes once published
    std::string words;  // "upper link 2"
    std::string path;   // scene path of what is lit; empty for none
};
/// Every part of this head in which a fault may be hidden.
std::vector<PartToName> parts_to_name(const head::Description& description);
/// The keys of the parts that a fault is of: two where links are swapped.
std::vector<std::string> keys_of(const Fault& fault);

/// Kinds that are hidden. Parts that are never twice at the same place are not: one reading a place would not do.
const std::vector<FaultKind>& kinds_hidden();

struct HiddenFault {
    head::Head described;  // as its builder believes it to be
    head::Head real;       // with the fault in it
    std::vector<Fault> suspects;
    std::size_t fault = 0;  // which of them it is
    double size = 0;        // 0 where it has none
    std::uint64_t number = 0;

    const Fault& what() const { return suspects[fault]; }
};

/// The largest number that a fault may have.
inline constexpr std::int64_t most_faults = 999'999'999;

/// A fault of a kind that is drawn, wrong ways and teeth a third as often as the others, and of up to 1.2 of its usual
/// size. A pitch gauge sees it: 0.5 deg or more at one place of `reading_grid` at least, and one with a size no more
/// than 3 deg anywhere (chosen so that it is worth looking for; no source). Fails where the head does not close, or
/// where no such fault can be found that leaves every place of the grid to be read.
head::Result<HiddenFault> hide_fault(const head::Head& head, std::uint64_t number);

/// What the gauge is like in practice: zeroed on the shaft, its zero checked.
Gauge practice_gauge();
/// What gauge and calliper show of it, to this: common practice, no source.
inline constexpr double gauge_shows_deg = 0.1, calliper_shows_mm = 0.05;

/// Puts in what is read at each of these places, one after the other: the head with the fault, and noise that makes,
/// with the rounding to what the gauge shows, each reading's own uncertainty. A place that is read again has noise of
/// its own again. Fails with a sentence where it cannot be of this head, or where the head cannot be put there.
head::Result<Readings> read_hidden(const HiddenFault& hidden, Readings places);
/// What they would be with neither fault nor noise. Fails alike.
head::Result<Readings> read_described(const HiddenFault& hidden, Readings places);

/// A day's practice: everybody has the same number, and the same of so many heads.
struct PracticeOfDay {
    std::uint64_t number = 0;
    std::size_t head = 0;
};
/// `day`: "2026-11-29" (ISO 8601). None where that is no day.
std::optional<PracticeOfDay> practice_of(std::string_view day, std::size_t heads);

}  // namespace swashwright::studies
