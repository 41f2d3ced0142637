#include "viewer/panels/base/lengths.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <vector>

#include "kinematics/studies/answer/figures.h"

namespace swashwright::panels {

std::string length_number(double mm, bool inches, int decimals) {
    constexpr int inch_decimals = 4;  // 0.0001 in is 0.0025 mm, finer than a calliper reads
    return inches ? studies::figure(mm / mm_per_inch, std::max(inch_decimals, decimals + 1))
                  : studies::figure(mm, decimals);
}

std::string length_text(double mm, bool inches, int decimals) {
    return length_number(mm, inches, decimals) + (inches ? " in" : " mm");
}

std::string whole_length(double mm, bool inches) {
    return inches ? length_number(mm, true) : fmt::format("{}", mm);
}

std::string in_reading_unit(std::string words, bool inches) {
    const bool length = words == "mm" || (words.ends_with(" mm") && !words.ends_with("N mm"));
    if (inches && length) words.replace(words.size() - 2, 2, "in");
    return words;
}

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// A number as it stands in a text.
struct Figure {
    std::size_t begin = 0, end = 0;
    int decimals = 0;
};

/// The one that ends at `end`, without its sign; none if there is none.
std::optional<Figure> figure_before(std::string_view text, std::size_t end) {
    std::size_t begin = end;
    std::size_t point = std::string_view::npos;
    while (begin > 0 && (is_digit(text[begin - 1]) || (text[begin - 1] == '.' && point == std::string_view::npos))) {
        --begin;
        if (text[begin] == '.') point = begin;
    }
    if (begin == end || !is_digit(text[begin]) || !is_digit(text[end - 1])) return std::nullopt;
    const std::string_view before = text.substr(0, begin);
    if (before.ends_with("e-") || before.ends_with("e+")) return std::nullopt;  // of a number written with its power
    return Figure{begin, end, point == std::string_view::npos ? 0 : static_cast<int>(end - point) - 1};
}

/// Those that one "mm" at `end` is for: "0.10, 0.20 and 0.30 mm", "30 to 60 mm"; the last first. Numbers of a list are
/// written alike, so "link 1, 0.20 mm" has but one.
std::vector<Figure> figures_before(std::string_view text, std::size_t end) {
    std::vector<Figure> out;
    for (auto found = figure_before(text, end); found;) {
        out.push_back(*found);
        std::size_t at = found->begin;
        if (at > 0 && (text[at - 1] == '+' || text[at - 1] == '-')) --at;
        const std::string_view left = text.substr(0, at);
        found.reset();
        for (const std::string_view between : {", ", " and ", " to ", " or ", " x ", "/"})
            if (left.ends_with(between)) {
                const auto next = figure_before(text, at - between.size());
                if (next && next->decimals == out.front().decimals && (next->decimals > 0 || between == " to "))
                    found = next;
            }
    }
    return out;
}

std::string in_inches(std::string_view figure, int decimals) {
    double mm = 0;
    std::from_chars(figure.data(), figure.data() + figure.size(), mm);
    return length_number(mm, true, decimals);
}

}  // namespace

std::string lengths_read(std::string text, bool inches) {
    if (!inches) return text;
    constexpr std::string_view unit = " mm";
    for (std::size_t at = text.rfind(unit); at != std::string::npos; at = text.rfind(unit, at - 1)) {
        const std::size_t behind = at + unit.size();
        const char next = behind < text.size() ? text[behind] : ' ';
        const bool another =
            next == '/' || next == '^' || next == '*' || (next >= 'a' && next <= 'z') || (next >= 'A' && next <= 'Z');
        const std::vector<Figure> figures = another ? std::vector<Figure>() : figures_before(text, at);
        if (!figures.empty()) text.replace(at + 1, 2, "in");
        for (const Figure& one : figures) {  // from the back, so that the places before stay
            const std::string_view stands = std::string_view(text).substr(one.begin, one.end - one.begin);
            text.replace(one.begin, one.end - one.begin, in_inches(stands, one.decimals));
        }
        if (at == 0) break;
    }
    return text;
}

std::optional<double> typed_number(std::string_view text) {
    std::string clean(text);
    std::ranges::replace(clean, ',', '.');
    const auto first = clean.find_first_not_of(" +"), last = clean.find_last_not_of(' ');
    if (first == std::string::npos) return std::nullopt;
    const std::string_view body = std::string_view(clean).substr(first, last + 1 - first);
    double value = 0;
    const auto [end, error] = std::from_chars(body.data(), body.data() + body.size(), value);
    if (error != std::errc() || end != body.data() + body.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

std::optional<double> typed_length(std::string_view text, bool inches) {
    while (text.ends_with(' ')) text.remove_suffix(1);
    for (const auto& [unit, is_inch] : {std::pair{"mm", false}, {"in", true}, {"inch", true}, {"\"", true}})
        if (text.ends_with(unit)) {
            text.remove_suffix(std::string_view(unit).size());
            inches = is_inch;
            break;
        }
    const auto value = typed_number(text);
    return value ? std::optional(inches ? *value * mm_per_inch : *value) : std::nullopt;
}

}  // namespace swashwright::panels
