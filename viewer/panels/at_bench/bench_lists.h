// What the lists at the bench are made of, and where one of their steps is found again.
#pragma once

#include <string>
#include <vector>

#include "viewer/panels/at_bench/at_bench.h"

namespace swashwright::panels {

/// Cautions, then where the list was left if that is to be told, then the work.
std::vector<studies::BenchStep> steps_of(const Bench& bench, const AtBench& at_bench);
/// The step that tells where the list was left.
bool tells_left(const AtBench& at_bench, std::size_t step);

bool is_caution(const studies::BenchStep& step);
/// The step that was left; the first of its stage where it is gone, else the first of all.
std::size_t step_of(const std::vector<studies::BenchStep>& steps, const document::BenchPlace& place);

/// The line of the list for after a crash that this step is; empty if it is none.
std::string crash_line(const studies::BenchStep& step);
bool all_looked_at(const std::vector<studies::BenchStep>& steps, const document::HeadKept& kept);

}  // namespace swashwright::panels
