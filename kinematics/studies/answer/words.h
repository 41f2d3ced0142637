// Small help for sentences.
#pragma once

#include <string>
#include <vector>

namespace swashwright::studies {

/// With a capital letter first, where it is a letter of ASCII.
inline std::string capitalised(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

/// "mass", "mass and chord", "mass, chord and leading edge"; empty for none.
inline std::string listed(const std::vector<std::string>& names) {
    std::string out;
    for (std::size_t i = 0; i < names.size(); ++i)
        out += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    return out;
}

}  // namespace swashwright::studies
