// What can be chosen of a study, typed and with its bounds, and what was chosen.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace swashwright::studies {

/// What an option holds; nothing where it may be left out and is.
using Value = std::variant<std::monostate, bool, double, std::int64_t, std::vector<std::string>, std::array<double, 2>>;

enum class OptionKind {
    number,      // a double in its unit
    whole,       // an int64_t
    yes_no,      // a bool
    words,       // some of `words`
    texts,       // whatever is written: numbers of the scene, mostly
    two_angles,  // low and high, deg
};

struct Option {
    std::string key;
    OptionKind kind = OptionKind::number;
    std::string help = {};                // of the console
    std::string unit = {};                // of a number: "deg"
    double low = 0, high = 0;             // of a number or an angle, both allowed
    std::int64_t least = 0, most = 0;     // of a whole number, both allowed
    std::vector<std::string> words = {};  // to choose among
    Value start = {};                     // where nobody chooses
    bool help_tells_start = false;        // of a number; always told of a whole one, of words and of texts
    bool commas = false;                  // texts stand in one argument with commas between
    std::string needs = {};               // another option without which this one means nothing

    /// Of the console: "--lag"; "--without-clearance" of a yes/no that is yes to start with.
    std::string argument() const;
};

/// A value for each option of a study. To ask for a key that the study does not have, or for another kind of value than
/// it holds, is a mistake of the program and throws.
class Values {
public:
    Values() = default;
    explicit Values(const std::vector<Option>& options);

    void set(const std::string& key, Value value) { of(key) = std::move(value); }
    const Value& at(const std::string& key) const;
    double number(const std::string& key) const { return std::get<double>(at(key)); }
    std::int64_t whole(const std::string& key) const { return std::get<std::int64_t>(at(key)); }
    bool flag(const std::string& key) const { return std::get<bool>(at(key)); }
    const std::vector<std::string>& texts(const std::string& key) const {
        return std::get<std::vector<std::string>>(at(key));
    }
    bool holds(const std::string& key, std::string_view word) const;
    /// Puts the word among those of `texts`, last, or takes it out.
    void choose(const std::string& key, const std::string& word, bool chosen);
    /// None where it was left out.
    std::optional<double> number_if_given(const std::string& key) const;
    std::optional<std::array<double, 2>> two_if_given(const std::string& key) const;

    bool operator==(const Values&) const = default;

private:
    Value& of(const std::string& key);

    std::map<std::string, Value> values_;
};

}  // namespace swashwright::studies
