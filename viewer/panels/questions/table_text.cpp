#include "viewer/panels/questions/table_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <variant>

#include "kinematics/studies/answer/shown.h"
#include "viewer/panels/base/lengths.h"

namespace swashwright::panels {

namespace {

using studies::Cell;
using studies::Column;
using studies::Table;

/// The word in the row's own column of units; empty where there is none.
std::string unit_of_row(const Table& table, std::size_t row) {
    const auto unit = std::ranges::find(table.columns, "unit", &Column::key);
    if (unit == table.columns.end()) return "";
    const std::string* words =
        std::get_if<std::string>(&table.rows[row][static_cast<std::size_t>(unit - table.columns.begin())]);
    return words ? *words : "";
}

/// Columns whose numbers are in the unit that their row's own cell names. Others of such a table have a unit of their
/// own or none: ranks, counts, sticks.
constexpr std::array<std::string_view, 19> in_rows_unit{
    "value", "within", "bound", "size",     "plus_minus_95", "plus_minus", "needed", "read", "expected", "left",
    "reads", "sound",  "more",  "by_fault", "before",        "after",      "change", "sd",   "scene"};
constexpr std::array<std::string_view, 4> settings_in_rows_unit{"present", "exact", "set", "set_each"};

/// What people come to a table for, the first first.
constexpr std::array<std::string_view, 7> kept{"unit",   "difference_mm", "change",          "within_95_deg",
                                               "needed", "off_mm",        "of_split_percent"};

/// The unit of a cell's number, its column's or its row's; empty where it has none.
std::string unit_of(const Table& table, std::size_t row, const Column& column) {
    if (!column.unit.empty()) return column.unit;
    const bool by_row = std::ranges::find(in_rows_unit, column.key) != in_rows_unit.end() ||
                        std::ranges::find(settings_in_rows_unit, column.key) != settings_in_rows_unit.end();
    return by_row ? unit_of_row(table, row) : "";
}

bool is_read_off(const std::string& unit) {
    return unit == "mm" || unit == "deg";
}

}  // namespace

bool shown_in_window(const Table& table, std::size_t column) {
    const Column& one = table.columns[column];
    if (!studies::shown(one) || one.key == "path" || one.key == "key") return false;
    return std::ranges::any_of(table.rows,
                               [&](const auto& row) { return !std::holds_alternative<std::monostate>(row[column]); });
}

std::string head_text(const Column& column, bool inches) {
    return in_reading_unit(column.head, inches);
}

std::string unit_text(const Column& column, bool inches) {
    return column.unit == "mm" && inches ? "in" : column.unit;
}

int decimals_shown(const Table& table, std::size_t column) {
    const Column& one = table.columns[column];
    constexpr int of_gauges = 2;  // as calliper and pitch gauge read
    const bool compared = table.key == "numbers" && std::ranges::count(table.columns, "change", &Column::key) > 0;
    if (one.decimals <= of_gauges || compared) return one.decimals;  // `on_screen` has chosen them
    double most = 0;
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        if (const double* value = std::get_if<double>(&table.rows[row][column]))
            if (is_read_off(unit_of(table, row, one))) most = std::max(most, std::abs(*value));
    int decimals = of_gauges;
    if (most < 0.5 * std::pow(10, -one.decimals)) return decimals;  // all are written as nothing
    for (double least = 0.1; decimals < one.decimals && most < least; least /= 10) ++decimals;
    return decimals;
}

std::string cell_text(const Table& table, std::size_t row, std::size_t column, int decimals, bool inches) {
    Column one = table.columns[column];
    const Cell& cell = table.rows[row][column];
    if (std::holds_alternative<std::monostate>(cell)) return "-";
    if (inches && one.key == "unit") return in_reading_unit(studies::as_text(cell, one), true);
    if (inches && std::holds_alternative<std::string>(cell)) return lengths_read(std::get<std::string>(cell), true);
    if (!std::holds_alternative<double>(cell)) return studies::as_text(cell, one);
    const std::string unit = unit_of(table, row, one);
    if (is_read_off(unit)) one.decimals = decimals;
    if (unit == "mm" && (one.key == "reads" || one.key == "sound")) one.sign = false;  // heights beside angles
    if (!inches || unit != "mm") return studies::as_text(cell, one);
    one.decimals = std::max(4, one.decimals + 1);  // as `length_number`
    return studies::as_text(std::get<double>(cell) / mm_per_inch, one);
}

std::string cell_text(const Table& table, std::size_t row, std::size_t column, bool inches) {
    return cell_text(table, row, column, decimals_shown(table, column), inches);
}

std::vector<std::size_t> kept_columns(const Table& table) {
    std::vector<std::size_t> out;
    for (const std::string_view key : kept)
        if (const auto found = std::ranges::find(table.columns, key, &Column::key); found != table.columns.end())
            out.push_back(static_cast<std::size_t>(found - table.columns.begin()));
    return out;
}

std::string title_text(std::string title, bool inches) {
    title = lengths_read(std::move(title), inches);
    if (!inches) return title;
    const std::string word = " mm";
    for (std::size_t at = title.find(word); at != std::string::npos; at = title.find(word, at + 1)) {
        const char before = at > 0 ? title[at - 1] : ' ';
        const char behind = at + word.size() < title.size() ? title[at + word.size()] : ' ';
        if (before != 'N' && (behind == ' ' || behind == ',' || behind == ';' || behind == '.' || behind == ':'))
            title.replace(at, word.size(), " in");
    }
    return title;
}

Fold fold(std::span<const float> widths, float gap, float room, std::span<const std::size_t> keep) {
    Fold out;
    float total = 0;
    std::vector<std::size_t> shown;
    for (std::size_t c = 0; c < widths.size(); ++c)
        if (widths[c] > 0) {
            shown.push_back(c);
            total += widths[c] + (shown.size() > 1 ? gap : 0);
        }
    if (shown.empty()) return out;
    out.first = widths[shown[0]];
    out.across = {shown[0]};
    if (total > room) out.first = std::min(out.first, shown.size() == 1 ? room : room / 2);
    float taken = out.first;
    const auto place = [&](std::size_t c) {
        const float width = widths[c] + gap;
        const bool fits = total <= room || taken + width <= room;
        (fits ? out.across : out.below).push_back(c);
        if (fits) taken += width;
    };
    std::vector<std::size_t> left(shown.begin() + 1, shown.end());
    for (const std::size_t c : keep)
        if (std::erase(left, c) > 0) place(c);
    for (const std::size_t c : left) place(c);
    std::ranges::sort(out.across);
    std::ranges::sort(out.below);
    if (out.below.empty() || total <= room) return out;
    // What the others leave is the first one's.
    out.first = std::min(widths[shown[0]], out.first + room - taken);
    return out;
}

}  // namespace swashwright::panels
