// Reading one TOML table key by key, noting every mistake with its place. Internal to kinematics/scene.
#pragma once

#include <toml++/toml.h>

#include <algorithm>
#include <initializer_list>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "kinematics/scene/scene.h"
#include "kinematics/scene/toml_text.h"

namespace swashwright::scene {

/// What a number may be: its range, both ends included, and how to say what it is.
struct Kind {
    const char* what;  // "a length in mm"
    double low;
    double high;
};
inline constexpr Kind angle{"an angle in degrees", -3600, 3600};
inline constexpr Kind length{"a length in mm", 0.01, 10000};
inline constexpr Kind coordinate{"a coordinate in mm", -10000, 10000};
inline constexpr Kind coning{"an angle in degrees", -30, 30};

/// Where a node stands in the file; `otherwise` if the parser does not know.
Place place_of(const toml::node& node, Place otherwise);

/// How many characters must be changed, added or taken out to make one word of the other (Levenshtein's distance).
std::size_t edits(std::string_view a, std::string_view b);

/// The keys of one table, which must outlive it. Each read either gives a value or notes a mistake and gives a harmless
/// stand-in, so that one pass finds all mistakes; `form` says how to write the value. The keys asked for are the known
/// ones: `finish` objects to the rest.
class Keys {
public:
    /// `name` says in messages which table it is; empty for the top of the file.
    Keys(const toml::table& table, std::string name, Place place, std::vector<Mistake>& mistakes);

    bool has(std::string_view key) const { return table_->contains(key); }
    bool has_table(std::string_view key) const { return table_->get_as<toml::table>(key) != nullptr; }
    const Place& place() const { return place_; }
    Place place(std::string_view key) const;  // of the key's value; of the table if the key is missing

    double number(const char* key, const Kind& kind);                    // required
    double number(const char* key, const Kind& kind, double otherwise);  // optional
    std::optional<double> optional_number(const char* key, const Kind& kind);
    std::optional<int> integer(const char* key, int low, int high);  // required
    std::optional<int> optional_integer(const char* key, int low, int high);
    std::optional<int> optional_sign(const char* key);  // 1 or -1
    /// One line of 1 to `longest` characters, or any text if `longest` is 0.
    std::string text(const char* key, std::size_t longest);
    /// The index of the word that stands there; 0 after a mistake, or if the key is missing and need not be there.
    std::size_t word(const char* key, std::initializer_list<const char*> words, bool required);
    /// An array of exactly `count` numbers under a required key; none after a mistake.
    std::optional<std::vector<double>> numbers(const char* key, std::size_t count, const Kind& kind, const char* form);
    /// An array of 1 to `most` numbers; empty if the key is missing or after a mistake.
    std::vector<double> optional_list(const char* key, std::size_t most, const Kind& kind, const char* form);
    /// An array of `least` to `most` texts, one line each, under a required key; empty if `least` is 0 and the key is
    /// missing, or after a mistake.
    std::vector<std::string> texts(const char* key, std::size_t least, std::size_t most, std::size_t longest);
    /// A table under a required key, written as `[key]` or `{ ... }`; none after a mistake.
    std::optional<Keys> table(const char* key, const char* form);
    /// A list of tables under a required key, written as `[[key]]` or `[{ ... }, ...]`; none after a mistake, or if
    /// they are more than `most` (any number unless given).
    std::optional<std::vector<Keys>> tables(const char* key, const char* form,
                                            std::size_t most = static_cast<std::size_t>(-1));
    /// A list of at most `most` points `[x, y, z]`; empty if the key is missing or after a mistake.
    std::vector<Vec3> points(const char* key, std::size_t most, const Kind& kind);

    /// Notes a mistake about a key, at its value; or about the table, at its head.
    void mistake(const char* key, std::string_view message);
    void mistake(std::string_view message);
    /// True if no mistake was noted about this table's own keys so far.
    bool sound() const { return sound_; }
    /// Makes a key known without reading it.
    void allow(const char* key) { known_.insert(key); }
    /// Objects to every key that is not known.
    void finish();

private:
    const toml::node* find(const char* key, std::string_view expected, bool required);
    std::optional<double> checked(const toml::node& node, const std::string& label, const Kind& kind);
    void note(Place place, std::string message);
    std::string label(std::string_view key) const;
    void unknown(const toml::key& key);

    const toml::table* table_;
    std::string name_;
    Place place_;
    std::vector<Mistake>* mistakes_;
    bool sound_ = true;
    std::set<std::string_view> known_;
};

/// A whole document of a format up to `newest`: `read` makes the value of the keys at its top. Fails with every
/// mistake, in the order of the file.
template <class Read, class Value = std::invoke_result_t<Read&, Keys&>>
Result<Value> read_document(std::string_view text, std::string file, Read read, int newest = 1) {
    Mistakes mistakes{std::move(file), {}};
    const auto table = read_toml(text);
    if (!table) {
        mistakes.list.push_back(table.error());
        return tl::unexpected(std::move(mistakes));
    }
    Keys top(*table, "", {1, 1}, mistakes.list);
    Value value;
    // Another format has other keys: to object to them all would help nobody.
    if (top.integer("format", 1, newest) || !top.has("format")) value = read(top);
    if (mistakes.list.empty()) return value;
    std::ranges::stable_sort(mistakes.list, {},
                             [](const Mistake& m) { return std::pair(m.place.line, m.place.column); });
    return tl::unexpected(std::move(mistakes));
}

}  // namespace swashwright::scene
