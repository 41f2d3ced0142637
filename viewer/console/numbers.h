// Numbers on the command line.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace swashwright::console {

/// A finite number in plain or exponent form, with a point whatever the locale; none if it is anything else.
std::optional<double> finite_number(std::string_view text);
/// Numbers with commas between them.
std::optional<std::vector<double>> finite_numbers(std::string_view text);

/// Adds an option for a finite number in [low, high]. Anything else is a usage error. `value` must outlive parsing.
CLI::Option* add_number(CLI::App& verb, const std::string& name, double& value, double low, double high,
                        const std::string& help);

}  // namespace swashwright::console
