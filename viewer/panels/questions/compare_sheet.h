// The head against another one, or against itself as it was: what differs, and the other drawn over it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/pitch/compare.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/wishes.h"
#include "viewer/panels/questions/head_log_sheet.h"

namespace swashwright::panels {

struct CompareSheet {
    enum class With { opened, kept, file, log };
    With with = With::opened;
    std::optional<head::Description> kept, file;  // kept by the user; read from a file
    std::string file_name, said;
    HeadLogSheet log;
    std::uint64_t changed = 1;  // counts what was kept or read

    /// What the answer below was made from.
    struct Stamp {
        With with = With::opened;
        std::uint64_t revision = 0, changed = 0;
        head::Sticks sticks;
        bool operator==(const Stamp&) const = default;
    } stamp;
    studies::Answer answer;
    std::vector<bool> whole;  // tables that are shown in full
};

/// The head that the sheet compares with; null where there is none yet.
const head::Description* compared_with(const Bench& bench, const CompareSheet& sheet);
/// Reads another scene to compare with. The error says why it cannot be read.
tl::expected<void, std::string> compare_with_file(CompareSheet& sheet, const std::string& path);
/// As the window shows it: figures to two decimals, or three where a change is smaller, without rows of no change.
studies::Answer on_screen(studies::Answer compared);
void draw_compare(Screen& screen, Bench& bench, Selection& selection, CompareSheet& sheet, Wishes& wishes);

}  // namespace swashwright::panels
