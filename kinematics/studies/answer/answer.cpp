#include "kinematics/studies/answer/answer.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/shown.h"

namespace swashwright::studies {
namespace {

/// Columns on the screen: bytes that begin a UTF-8 character.
std::size_t width(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(text, [](char c) { return (c & 0xC0) != 0x80; }));
}

std::string padded(const std::string& text, std::size_t to, bool right) {
    const std::string gap(to - std::min(to, width(text)), ' ');
    return right ? gap + text : text + gap;
}

/// Breaks at spaces; lines after the first are indented.
std::string wrapped(const std::string& text, std::size_t columns, std::string_view indent = "") {
    std::string out, line;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t space = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, space - at);
        if (!line.empty() && width(line) + 1 + width(word) > columns) {
            out += line + "\n";
            line = std::string(indent) + word;
        } else {
            line += (at == 0 ? "" : " ") + word;
        }
        at = space + 1;
    }
    return out + line + "\n";
}

std::string table_text(const Table& table, std::size_t columns) {
    std::string out = wrapped(table.title, columns);
    const std::size_t count = table.columns.size();
    std::vector<std::size_t> widths(count);
    std::vector<bool> right(count, false);
    for (std::size_t c = 0; c < count; ++c) {
        if (!shown(table.columns[c])) continue;
        widths[c] = std::max(width(table.columns[c].head), width(table.columns[c].unit));
        for (const auto& row : table.rows) {
            widths[c] = std::max(widths[c], width(as_text(row[c], table.columns[c])));
            right[c] = right[c] || std::holds_alternative<double>(row[c]);
        }
    }
    std::size_t before_last = 2;
    for (std::size_t c = 0; c + 1 < count; ++c) before_last += widths[c] + 2;
    const std::string indent(before_last + 20 < columns ? before_last : 2, ' ');  // long words go on below themselves
    const auto line = [&](auto&& text_of) {
        std::string text = " ";
        for (std::size_t c = 0; c < count; ++c)
            if (shown(table.columns[c])) text += " " + padded(text_of(c), widths[c], right[c]) + " ";
        text.erase(text.find_last_not_of(' ') + 1);
        out += wrapped(text, columns, indent);
    };
    line([&](std::size_t c) { return table.columns[c].head; });
    if (std::ranges::any_of(table.columns, [](const Column& c) { return shown(c) && !c.unit.empty(); }))
        line([&](std::size_t c) { return table.columns[c].unit; });
    for (const auto& row : table.rows) line([&](std::size_t c) { return as_text(row[c], table.columns[c]); });
    return out;
}

std::string csv_field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + '"';
}

std::string csv_cell(const Cell& cell) {
    if (const auto* words = std::get_if<std::string>(&cell)) return csv_field(*words);
    const auto* number = std::get_if<double>(&cell);
    return number ? fmt::format("{}", *number + 0.0) : std::string();
}

}  // namespace

std::string as_text(const Cell& cell, const Column& column) {
    if (const auto* words = std::get_if<std::string>(&cell)) return *words;
    const auto* number = std::get_if<double>(&cell);
    if (!number) return "-";
    return column.sign ? signed_figure(*number, column.decimals) : figure(*number, column.decimals);
}

std::string as_text(const Answer& answer, std::size_t columns) {
    std::string out = wrapped(answer.text, columns);
    for (const Table& table : answer.tables)
        if (!table.rows.empty()) out += "\n" + table_text(table, columns);
    if (!answer.notes.empty()) out += "\n";
    for (const std::string& note : answer.notes) out += wrapped("Note: " + note, columns, "  ");
    return out;
}

std::string as_csv(const Answer& answer) {
    std::string out;
    for (const Table& table : answer.tables) {
        if (!out.empty()) out += "\r\n";
        for (std::size_t c = 0; c < table.columns.size(); ++c) out += (c ? "," : "") + csv_field(table.columns[c].key);
        out += "\r\n";
        for (const auto& row : table.rows) {
            for (std::size_t c = 0; c < row.size(); ++c) out += (c ? "," : "") + csv_cell(row[c]);
            out += "\r\n";
        }
    }
    return out;
}

}  // namespace swashwright::studies
