#include "kinematics/studies/answer/answer.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <optional>
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

/// Breaks at spaces; a word that is wider stands alone.
std::vector<std::string> lines_of(const std::string& text, std::size_t columns, std::string_view indent = "") {
    std::vector<std::string> out(1);
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t space = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, space - at);
        std::string& line = out.back();
        if (!line.empty() && width(line) + 1 + width(word) > columns)
            out.push_back(std::string(indent) + word);
        else
            line += (at == 0 ? "" : " ") + word;
        at = space + 1;
    }
    return out;
}

/// Lines after the first are indented.
std::string wrapped(const std::string& text, std::size_t columns, std::string_view indent = "") {
    return fmt::format("{}\n", fmt::join(lines_of(text, columns, indent), "\n"));
}

/// How a table's columns stand side by side.
struct Setting {
    std::vector<std::size_t> shown, widths;  // which columns, and how wide
    std::vector<bool> right;                 // of each: it holds numbers
    std::size_t gap = 2;                     // between two

    std::size_t wide() const {
        std::size_t out = 2 - gap;
        for (const std::size_t w : widths) out += w + gap;
        return out;
    }
};

/// Where it is too wide for the screen columns stand closer, then the widest words go on below themselves.
Setting setting_of(const Table& table, std::size_t columns) {
    constexpr std::size_t narrowest = 16;  // of words
    Setting out;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        const Column& column = table.columns[c];
        if (!shown(column)) continue;
        std::size_t wide = std::max(width(column.head), width(column.unit));
        bool right = false;
        for (const auto& row : table.rows) {
            wide = std::max(wide, width(as_text(row[c], column)));
            right = right || std::holds_alternative<double>(row[c]);
        }
        out.shown.push_back(c), out.widths.push_back(wide), out.right.push_back(right);
    }
    if (out.wide() > columns && std::ranges::count(out.right, true) > 1) out.gap = 1;
    while (out.wide() > columns) {
        std::optional<std::size_t> widest;
        for (std::size_t i = 0; i < out.widths.size(); ++i)
            if (!out.right[i] && out.widths[i] > (widest ? out.widths[*widest] : narrowest)) widest = i;
        if (!widest) break;
        --out.widths[*widest];
    }
    return out;
}

std::string table_text(const Table& table, std::size_t columns) {
    std::string out = wrapped(table.title, columns);
    const Setting setting = setting_of(table, columns);
    const auto line = [&](auto&& text_of) {
        std::vector<std::vector<std::string>> cells;
        std::size_t lines = 1;
        for (std::size_t i = 0; i < setting.shown.size(); ++i) {
            const std::string text = text_of(setting.shown[i]);
            // What is as wide as its column keeps the spaces that it has.
            cells.push_back(width(text) <= setting.widths[i] ? std::vector{text} : lines_of(text, setting.widths[i]));
            lines = std::max(lines, cells.back().size());
        }
        for (std::size_t l = 0; l < lines; ++l) {
            std::string text(2, ' ');
            for (std::size_t i = 0; i < cells.size(); ++i)
                text += padded(l < cells[i].size() ? cells[i][l] : "", setting.widths[i], setting.right[i]) +
                        std::string(setting.gap, ' ');
            text.erase(text.find_last_not_of(' ') + 1);
            out += text + '\n';
        }
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
