#include "kinematics/studies/questions/values.h"

#include <algorithm>
#include <stdexcept>

namespace swashwright::studies {

std::string Option::argument() const {
    const bool* yes = std::get_if<bool>(&start);
    return (yes && *yes ? "--without-" : "--") + key;
}

Values::Values(const std::vector<Option>& options) {
    for (const Option& option : options) values_.emplace(option.key, option.start);
}

const Value& Values::at(const std::string& key) const {
    const auto found = values_.find(key);
    if (found == values_.end()) throw std::out_of_range("no option " + key);
    return found->second;
}

Value& Values::of(const std::string& key) {
    static_cast<void>(at(key));
    return values_[key];
}

bool Values::holds(const std::string& key, std::string_view word) const {
    return std::ranges::find(texts(key), word) != texts(key).end();
}

void Values::choose(const std::string& key, const std::string& word, bool chosen) {
    auto& words = std::get<std::vector<std::string>>(of(key));
    std::erase(words, word);
    if (chosen) words.push_back(word);
}

std::optional<double> Values::number_if_given(const std::string& key) const {
    const Value& value = at(key);
    return std::holds_alternative<std::monostate>(value) ? std::nullopt : std::optional(std::get<double>(value));
}

std::optional<std::array<double, 2>> Values::two_if_given(const std::string& key) const {
    const Value& value = at(key);
    if (std::holds_alternative<std::monostate>(value)) return std::nullopt;
    return std::get<std::array<double, 2>>(value);
}

}  // namespace swashwright::studies
