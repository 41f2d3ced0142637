#include "viewer/console/numbers.h"

#include <fmt/format.h>

#include <charconv>

namespace swashwright::console {

std::optional<std::vector<double>> finite_numbers(std::string_view text, double low, double high) {
    std::vector<double> values;
    for (std::size_t start = 0; start <= text.size();) {
        const std::size_t end = std::min(text.find(',', start), text.size());
        const auto value = finite_number(text.substr(start, end - start));
        if (!value || *value < low || *value > high) return std::nullopt;
        values.push_back(*value);
        start = end + 1;
    }
    return values;
}

std::optional<std::int64_t> whole_number(std::string_view text) {
    if (text.starts_with('+') && !text.starts_with("+-")) text.remove_prefix(1);
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return value;
}

CLI::Option* add_number(CLI::App& verb, const std::string& name, double low, double high, const std::string& help,
                        std::function<void(double)> set) {
    // Read from text, because CLI11's own numbers may be "nan".
    const auto read = [name, low, high, set = std::move(set)](const std::string& text) {
        const auto number = finite_number(text);
        if (!number || *number < low || *number > high)
            throw CLI::ValidationError(name, fmt::format("expected a number from {} to {}, found {}", low, high, text));
        set(*number);
    };
    return verb.add_option_function<std::string>(name, read, help)->type_name("NUMBER");
}

CLI::Option* add_number(CLI::App& verb, const std::string& name, double& value, double low, double high,
                        const std::string& help) {
    return add_number(verb, name, low, high, help, [&value](double number) { value = number; });
}

CLI::Option* add_whole(CLI::App& verb, const std::string& name, std::int64_t low, std::int64_t high,
                       const std::string& help, std::function<void(std::int64_t)> set) {
    // Read from text, because CLI11 takes "010" for eight and "-1" for the largest count there is.
    const auto read = [name, low, high, set = std::move(set)](const std::string& text) {
        const auto number = whole_number(text);
        if (!number || *number < low || *number > high)
            throw CLI::ValidationError(name,
                                       fmt::format("expected a whole number from {} to {}, found {}", low, high, text));
        set(*number);
    };
    return verb.add_option_function<std::string>(name, read, help)->type_name("NUMBER");
}

}  // namespace swashwright::console
