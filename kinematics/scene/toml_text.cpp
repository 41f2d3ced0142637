#include "kinematics/scene/toml_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace swashwright::scene {
namespace {

/// The parser makes a table of every dot in a key and clears them away recursively, so a file of nothing but dots
/// would use up the stack.
constexpr std::ptrdiff_t most_dots_in_a_line = 100;

std::optional<Mistake> refuse_absurd(std::string_view text) {
    if (text.size() > largest_file)
        return Mistake{{},
                       fmt::format("the file is longer than {} kB; expected a scene file, which has a few thousand "
                                   "characters; check that this is one",
                                   largest_file / 1024)};
    int line = 1;
    for (std::size_t start = 0; start < text.size(); ++line) {
        const std::size_t end = std::min(text.find('\n', start), text.size());
        const std::string_view row = text.substr(start, end - start);
        if (std::count(row.begin(), row.end(), '.') > most_dots_in_a_line)
            return Mistake{{line, 1},
                           fmt::format("found more than {} dots in one line; expected scene text; break the "
                                       "line if it is one",
                                       most_dots_in_a_line)};
        start = end + 1;
    }
    return std::nullopt;
}

/// What most likely went wrong, for the slips that the parser's own words do not explain.
std::string_view advice(std::string_view reason) {
    if (reason.ends_with("saw ','")) return "write decimals with a point, as in 16.5";
    if (reason.find("string: unescaped control") != std::string_view::npos)
        return "close the text with a quotation mark";
    if (reason.find("utf-8") != std::string_view::npos) return "save the file as UTF-8 text";
    return "correct the text here";
}

Mistake syntax_mistake(const toml::parse_error& error) {
    std::string reason(error.description());
    const std::string preamble = "Error while parsing ";
    if (reason.starts_with(preamble)) reason = "while reading " + reason.substr(preamble.size());
    const auto where = error.source().begin;
    return {{static_cast<int>(where.line), static_cast<int>(where.column)},
            fmt::format("this is not TOML: {}; {}; nothing behind this place was read", reason, advice(reason))};
}

}  // namespace

tl::expected<toml::table, Mistake> read_toml(std::string_view text) {
    if (const auto refusal = refuse_absurd(text)) return tl::unexpected(*refusal);
    try {
        return toml::parse(text);
    } catch (const toml::parse_error& error) {
        return tl::unexpected(syntax_mistake(error));
    }
}

std::string toml_number(double value) {
    std::string text = fmt::format("{}", value);
    if (text.find_first_of(".en") == std::string::npos) text += ".0";
    return text;
}

std::string toml_list(std::span<const double> numbers) {
    std::string out;
    for (const double number : numbers) out += (out.empty() ? "" : ", ") + toml_number(number);
    return fmt::format("[{}]", out);
}

std::string toml_string(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto code = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            out += {'\\', c};
        else if (code < 0x20 || code == 0x7F)
            out += fmt::format("\\u{:04X}", code);
        else
            out += c;
    }
    return out + '"';
}

}  // namespace swashwright::scene
