#include "kinematics/scene/reader.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace swashwright::scene {
namespace {

std::size_t characters(std::string_view utf8) {
    return static_cast<std::size_t>(std::count_if(utf8.begin(), utf8.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

bool one_line(std::string_view text) {
    return std::none_of(text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7F; });
}

/// A text from the file made fit for a one-line message.
std::string shown(std::string_view text) {
    std::string out;
    for (char c : text) {
        const bool starts_character = (c & 0xC0) != 0x80;
        if (starts_character && characters(out) >= 40) return out + "...";
        out += one_line({&c, 1}) ? c : '?';
    }
    return out;
}

std::string found(const toml::node& node) {
    if (const auto* text = node.as_string()) return fmt::format("the text \"{}\"", shown(text->get()));
    if (const auto* whole = node.as_integer()) return fmt::format("{}", whole->get());
    if (const auto* real = node.as_floating_point()) return fmt::format("{}", real->get());
    if (const auto* truth = node.as_boolean()) return truth->get() ? "true" : "false";
    if (const auto* array = node.as_array())
        return array->empty() ? "an empty list" : fmt::format("a list of {}", array->size());
    return node.is_table() ? "a table" : "a date or time";
}

std::string expected_range(const Kind& kind) {
    return fmt::format("{} from {} to {}", kind.what, kind.low, kind.high);
}

}  // namespace

std::size_t edits(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t changed = diagonal + (a[i] == b[j] ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = std::min({changed, row[j] + 1, diagonal + 1});
        }
    }
    return row.back();
}

Place place_of(const toml::node& node, Place otherwise) {
    const auto begin = node.source().begin;
    if (!begin) return otherwise;
    return {static_cast<int>(begin.line), static_cast<int>(begin.column)};
}

Keys::Keys(const toml::table& table, std::string name, Place place, std::vector<Mistake>& mistakes)
    : table_(&table), name_(std::move(name)), place_(place), mistakes_(&mistakes) {}

Place Keys::place(std::string_view key) const {
    const toml::node* node = table_->get(key);
    return node ? place_of(*node, place_) : place_;
}

std::string Keys::label(std::string_view key) const {
    return name_.empty() ? std::string(key) : fmt::format("{} {}", name_, key);
}

void Keys::note(Place place, std::string message) {
    sound_ = false;
    mistakes_->push_back({place, std::move(message)});
}

void Keys::mistake(const char* key, std::string_view message) {
    note(place(key), fmt::format("{}: {}", label(key), message));
}

void Keys::mistake(std::string_view message) {
    note(place_, name_.empty() ? std::string(message) : fmt::format("{}: {}", name_, message));
}

const toml::node* Keys::find(const char* key, std::string_view expected, bool required) {
    known_.insert(key);
    const toml::node* node = table_->get(key);
    if (!node && required) mistake(fmt::format("the key {} is missing; add it: expected {}", key, expected));
    return node;
}

std::optional<double> Keys::checked(const toml::node& node, const std::string& label, const Kind& kind) {
    const std::optional<double> value = node.is_number() ? node.value<double>() : std::nullopt;
    // Written so that a value that is not a number fails too.
    if (value && *value >= kind.low && *value <= kind.high) return value;
    note(place_of(node, place_), fmt::format("{}: expected {}, found {}", label, expected_range(kind), found(node)));
    return std::nullopt;
}

double Keys::number(const char* key, const Kind& kind) {
    const toml::node* node = find(key, expected_range(kind), true);
    return node ? checked(*node, label(key), kind).value_or(0) : 0;
}

double Keys::number(const char* key, const Kind& kind, double otherwise) {
    return optional_number(key, kind).value_or(otherwise);
}

std::optional<double> Keys::optional_number(const char* key, const Kind& kind) {
    const toml::node* node = find(key, "", false);
    return node ? checked(*node, label(key), kind) : std::nullopt;
}

std::optional<int> Keys::integer(const char* key, int low, int high) {
    const std::string expected =
        low == high ? fmt::format("the whole number {}", low) : fmt::format("a whole number from {} to {}", low, high);
    const toml::node* node = find(key, expected, true);
    if (!node) return std::nullopt;
    const auto* whole = node->as_integer();
    if (whole && whole->get() >= low && whole->get() <= high) return static_cast<int>(whole->get());
    mistake(key, fmt::format("expected {}, found {}", expected, found(*node)));
    return std::nullopt;
}

std::optional<int> Keys::optional_integer(const char* key, int low, int high) {
    return has(key) ? integer(key, low, high) : (allow(key), std::nullopt);
}

std::optional<int> Keys::optional_sign(const char* key) {
    const toml::node* node = find(key, "", false);
    if (!node) return std::nullopt;
    const auto* whole = node->as_integer();
    if (whole && (whole->get() == 1 || whole->get() == -1)) return static_cast<int>(whole->get());
    mistake(key, fmt::format("expected 1 or -1, found {}", found(*node)));
    return std::nullopt;
}

std::string Keys::text(const char* key, std::size_t longest) {
    const bool any = longest == 0;
    const std::string expected =
        any ? "a text in quotation marks" : fmt::format("one line of 1 to {} characters in quotation marks", longest);
    const toml::node* node = find(key, expected, !any);
    if (!node) return {};
    if (const auto* text = node->as_string()) {
        const std::size_t size = characters(text->get());
        if (any || (size >= 1 && size <= longest && one_line(text->get()))) return text->get();
    }
    mistake(key, fmt::format("expected {}, found {}", expected, found(*node)));
    return {};
}

std::size_t Keys::word(const char* key, std::initializer_list<const char*> words, bool required) {
    const std::string expected = fmt::format("\"{}\"", fmt::join(words, "\" or \""));
    const toml::node* node = find(key, expected, required);
    if (!node) return 0;
    const auto* text = node->as_string();
    for (std::size_t i = 0; text && i < words.size(); ++i)
        if (text->get() == words.begin()[i]) return i;
    mistake(key, fmt::format("expected {}, found {}", expected, found(*node)));
    return 0;
}

std::optional<std::vector<double>> Keys::numbers(const char* key, std::size_t count, const Kind& kind,
                                                 const char* form) {
    const std::string expected = fmt::format("{} numbers, {}", count, form);
    const toml::node* node = find(key, expected, true);
    if (!node) return std::nullopt;
    const auto* array = node->as_array();
    if (!array || array->size() != count) {
        mistake(key, fmt::format("expected {}, found {}", expected, found(*node)));
        return std::nullopt;
    }
    std::vector<double> values;
    for (const toml::node& element : *array)
        if (const auto value = checked(element, label(key), kind)) values.push_back(*value);
    if (values.size() != count) return std::nullopt;
    return values;
}

std::vector<double> Keys::optional_list(const char* key, std::size_t most, const Kind& kind, const char* form) {
    const toml::node* node = find(key, "", false);
    if (!node) return {};
    const auto* array = node->as_array();
    if (array && !array->empty() && array->size() <= most)
        return numbers(key, array->size(), kind, form).value_or(std::vector<double>{});
    mistake(key, fmt::format("expected a list of 1 to {} numbers, {}, found {}", most, form, found(*node)));
    return {};
}

std::vector<Vec3> Keys::points(const char* key, std::size_t most, const Kind& kind) {
    const toml::node* node = find(key, "", false);
    if (!node) return {};
    const auto* array = node->as_array();
    const auto is_point = [](const toml::node& one) { return one.as_array() && one.as_array()->size() == 3; };
    if (!array || array->size() > most || !std::all_of(array->begin(), array->end(), is_point)) {
        mistake(key, fmt::format("expected a list of at most {} points, [[x, y, z], ...], found {}", most,
                                 array && array->size() <= most ? "one that is none" : found(*node)));
        return {};
    }
    std::vector<Vec3> out;
    for (const toml::node& one : *array) {
        Vec3 point = Vec3::Zero();
        for (std::size_t i = 0; i < 3; ++i)
            point[static_cast<Eigen::Index>(i)] = checked((*one.as_array())[i], label(key), kind).value_or(0);
        out.push_back(point);
    }
    return out;
}

std::vector<std::string> Keys::texts(const char* key, std::size_t least, std::size_t most, std::size_t longest) {
    const std::size_t fewest = std::max<std::size_t>(least, 1);
    const std::string count = fewest == most ? fmt::format("{}", most) : fmt::format("{} to {}", fewest, most);
    const std::string expected =
        fmt::format("a list of {} texts of one line, each of 1 to {} characters", count, longest);
    const toml::node* node = find(key, expected, least > 0);
    if (!node) return {};
    std::vector<std::string> out;
    const auto* array = node->as_array();
    for (std::size_t i = 0; array && i < array->size(); ++i) {
        const auto* text = (*array)[i].as_string();
        const std::size_t size = text ? characters(text->get()) : 0;
        if (size >= 1 && size <= longest && one_line(text->get())) out.push_back(text->get());
    }
    const bool sane = array && out.size() == array->size();
    if (sane && out.size() >= std::max<std::size_t>(least, 1) && out.size() <= most) return out;
    mistake(key, fmt::format("expected {}, found {}", expected, found(*node)));
    return {};
}

std::optional<Keys> Keys::table(const char* key, const char* form) {
    const std::string expected = fmt::format("a table {}", form);
    const toml::node* node = find(key, expected, true);
    if (!node) return std::nullopt;
    if (const auto* table = node->as_table())
        return Keys(*table, name_.empty() ? fmt::format("[{}]", key) : label(key), place(key), *mistakes_);
    mistake(key, fmt::format("expected {}, found {}", expected, found(*node)));
    return std::nullopt;
}

std::optional<std::vector<Keys>> Keys::tables(const char* key, const char* form, std::size_t most) {
    const std::string expected = fmt::format("a list of tables, {}", form);
    const toml::node* node = find(key, expected, true);
    if (!node) return std::nullopt;
    const auto* array = node->as_array();
    if (!array || array->empty()) {
        mistake(key, fmt::format("expected {}, found {}", expected, found(*node)));
        return std::nullopt;
    }
    if (array->size() > most) {
        mistake(key, fmt::format("expected {} at most, found {}", most, array->size()));
        return std::nullopt;
    }
    const std::string name = name_.empty() ? fmt::format("[[{}]]", key) : label(key);
    std::vector<Keys> list;
    for (std::size_t i = 0; i < array->size(); ++i) {
        const toml::node& element = (*array)[i];
        const Place where = place_of(element, place(key));
        if (const auto* table = element.as_table())
            list.emplace_back(*table, fmt::format("{} {}", name, i + 1), where, *mistakes_);
        else
            note(where, fmt::format("{} {}: expected a table, found {}", name, i + 1, found(element)));
    }
    if (list.size() != array->size()) return std::nullopt;
    return list;
}

void Keys::unknown(const toml::key& key) {
    // A key with something too much in it is nearer than one with something else in it.
    const auto within = [&](std::string_view known) {
        std::size_t seen = 0;
        for (const char c : key.str())
            if (seen < known.size() && known[seen] == c) ++seen;
        return seen == known.size() && 2 * seen >= key.str().size();
    };
    const auto nearest = std::ranges::min_element(
        known_, {}, [&](std::string_view known) { return std::pair(!within(known), edits(key, known)); });
    const bool alike =
        nearest != known_.end() && 2 * edits(key, *nearest) <= std::max(nearest->size(), key.str().size()) + 1;
    const std::string advice =
        alike ? fmt::format("did you mean {}?", *nearest)
              : fmt::format("expected one of {}; take it out or correct it", fmt::join(known_, ", "));
    const auto begin = key.source().begin;
    note(begin ? Place{static_cast<int>(begin.line), static_cast<int>(begin.column)} : place_,
         fmt::format("{}unknown key \"{}\"; {}", name_.empty() ? "" : name_ + ": ", shown(key), advice));
}

void Keys::finish() {
    for (const auto& [key, value] : *table_)
        if (!known_.contains(key.str())) unknown(key);
}

}  // namespace swashwright::scene
