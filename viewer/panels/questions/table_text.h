// A table of an answer as the window writes it: lengths in the unit that they are read in, without what only files and
// other programs need, and folded where it would be wider than its room.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"

namespace swashwright::panels {

/// Whether a column is shown: not where it is for other programs, holds keys of a file, or is empty in every row.
bool shown_in_window(const studies::Table& table, std::size_t column);
/// What stands over a column, and its unit below that.
std::string head_text(const studies::Column& column, bool inches);
std::string unit_text(const studies::Column& column, bool inches);
/// How many decimals a column's mm and deg have: two, as gauges read, or the fewest with which its largest number has
/// two figures. Never more than the column itself asks for.
int decimals_shown(const studies::Table& table, std::size_t column);
/// A cell; "-" for nothing. `decimals`: those shown of its column.
std::string cell_text(const studies::Table& table, std::size_t row, std::size_t column, int decimals, bool inches);
std::string cell_text(const studies::Table& table, std::size_t row, std::size_t column, bool inches);
/// A title: "Links, mm" becomes "Links, in".
std::string title_text(std::string title, bool inches);

/// Columns that stay in sight where a table is folded, the most wanted first: the unit that others mean, and what
/// people come for.
std::vector<std::size_t> kept_columns(const studies::Table& table);

/// Which columns stand side by side, and which below their row.
struct Fold {
    std::vector<std::size_t> across, below;
    float first = 0;  // the width of the first; the others have theirs
};
/// `widths`: what each column needs, 0 where it is not shown; `gap`: between two of them. Where all fit all stand
/// across; else the first stays, at its width or half of the room, then of `keep` and of the others those that fit, in
/// their order.
Fold fold(std::span<const float> widths, float gap, float room, std::span<const std::size_t> keep = {});

}  // namespace swashwright::panels
