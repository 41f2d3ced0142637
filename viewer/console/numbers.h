// Numbers on the command line.
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kinematics/studies/questions/finite_number.h"

namespace swashwright::console {

using studies::finite_number;
using studies::most_angle_deg;

/// Numbers in [low, high] with commas between them.
std::optional<std::vector<double>> finite_numbers(std::string_view text, double low, double high);
/// A whole number in decimal digits: "010" is ten.
std::optional<std::int64_t> whole_number(std::string_view text);

/// Adds an option for a finite number in [low, high]. Anything else is a usage error. `set` is called while parsing.
CLI::Option* add_number(CLI::App& verb, const std::string& name, double low, double high, const std::string& help,
                        std::function<void(double)> set);
/// The same into a variable, which must outlive parsing.
CLI::Option* add_number(CLI::App& verb, const std::string& name, double& value, double low, double high,
                        const std::string& help);

/// Adds an option for a whole number in [low, high]. Anything else is a usage error. `set` is called while parsing.
CLI::Option* add_whole(CLI::App& verb, const std::string& name, std::int64_t low, std::int64_t high,
                       const std::string& help, std::function<void(std::int64_t)> set);

/// The same into a variable, which must outlive parsing and says the default.
template <class Whole>
CLI::Option* add_count(CLI::App& verb, const std::string& name, Whole& value, std::int64_t low, std::int64_t high,
                       const std::string& help) {
    return add_whole(verb, name, low, high, help, [&value](std::int64_t n) { value = static_cast<Whole>(n); })
        ->default_str(std::to_string(value));
}

}  // namespace swashwright::console
