#include "viewer/panels/ledger/edit_words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>
#include <utility>

namespace swashwright::panels {

namespace {

using Pair = std::pair<std::string_view, std::string_view>;

/// Keys whose parts are no words.
constexpr std::array<Pair, 12> other_words{{{"on", "stands on"},
                                            {"reads", "what its angle is read as"},
                                            {"raise", "which way a growing angle moves the ball"},
                                            {"horn_zero", "where the horn points at angle 0"},
                                            {"axis", "direction of the axis"},
                                            {"zero", "direction of its x"},
                                            {"by_hand_deg", "how far it is moved by hand"},
                                            {"pulse_deg_per_us", "angle for each \xC2\xB5s"},
                                            {"seconds_per_60deg", "time for 60\xC2\xB0"},
                                            {"flap_stiffness_nm", "dampers' moment"},
                                            {"measure_from.height_mm", "height of the face that is measured from"},
                                            {"measure_from.name", "name of the face that is measured from"}}};

constexpr std::array<std::string_view, 14> unit_ends{"_mm", "_deg", "_us", "_rpm", "_g",    "_kg", "_w",
                                                     "_c",  "_m",   "_nm", "_ncm", "_kgcm", "_ms", "_per_rad"};

constexpr std::array<Pair, 5> said_units{
    {{"mm", "mm"}, {"degrees", "deg"}, {"microseconds", "\xC2\xB5s"}, {"g", "g"}, {"rpm", "rpm"}}};

std::string words_of_key(std::string_view key) {
    const auto other = std::ranges::find(other_words, key, &Pair::first);
    if (other != other_words.end()) return std::string(other->second);
    for (const std::string_view unit : unit_ends)
        if (key.size() > unit.size() && key.ends_with(unit)) {
            key.remove_suffix(unit.size());
            break;
        }
    std::string out(key);
    std::ranges::replace(out, '_', ' ');
    return out;
}

/// "length_mm"; "pivot_mm" of "pivot_mm x".
std::string_view key_of(std::string_view name) {
    const std::size_t comma = name.rfind(", ");
    const std::string_view last = comma == std::string_view::npos ? name : name.substr(comma + 2);
    return last.substr(0, last.find(' '));
}

/// "[[servo]] 1 pulse_centre_us" is "servo 1 pulse centre".
std::string place_words(std::string_view place) {
    std::string out;
    while (!place.empty()) {
        const std::size_t blank = place.find(' ');
        std::string word(place.substr(0, blank));
        std::erase_if(word, [](char c) { return c == '[' || c == ']'; });
        out += (out.empty() ? "" : " ") + words_of_key(word);
        place = blank == std::string_view::npos ? std::string_view() : place.substr(blank + 1);
    }
    return out;
}

/// "a length in mm from 1 to 2, found 3" is "a length from 1 mm to 2 mm, found 3 mm".
std::string with_units(std::string text) {
    for (const auto& [said, unit] : said_units) {
        const std::string named = " in " + std::string(said) + " from ";
        const std::size_t at = text.find(named);
        if (at == std::string::npos) continue;
        const std::size_t to = text.find(" to ", at + named.size()), found = text.find(", found ", at);
        if (to == std::string::npos || found == std::string::npos || to > found) continue;
        const std::string with = " " + std::string(unit);
        const char last = text.back();
        if (std::isdigit(static_cast<unsigned char>(last)) != 0) text += with;
        text.insert(found, with);
        text.insert(to, with);
        text.replace(at, named.size(), " from ");
        break;
    }
    return text;
}

std::string as_sentence(std::string text) {
    if (text.empty()) return text;
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    if (text.back() != '.' && text.back() != '?') text += '.';
    return text;
}

}  // namespace

std::string edit_words(const std::string& name) {
    const std::size_t comma = name.rfind(", ");
    if (comma == std::string::npos) return name;
    const std::string_view last = std::string_view(name).substr(comma + 2), key = key_of(name);
    const std::string before = name.substr(0, comma + 2), rest(last.substr(key.size()));
    const std::size_t bracket = key.find("].");
    if (key.starts_with("solid[") && bracket != std::string_view::npos)
        return before + "shape " + std::string(key.substr(6, bracket - 6)) + ", " +
               words_of_key(key.substr(bracket + 2));
    // Servos stand on the frame; on other parts x, y, z are their own.
    if (name.starts_with("Servo pivots, "))
        for (const auto& [sign, word] : {Pair{" x", "forward"}, {" y", "left"}, {" z", "height"}})
            if (rest == sign) return before + std::string(word);
    return before + words_of_key(key) + rest;
}

std::string refusal_words(const std::string& name, const std::string& why) {
    const std::size_t colon = why.find(": ");
    if (colon == std::string::npos || !why.starts_with('[')) return as_sentence(why);
    const std::string_view place = std::string_view(why).substr(0, colon);
    std::string text = with_units(why.substr(colon + 2));
    const std::size_t blank = place.rfind(' ');
    const bool at_field = place.substr(blank == std::string_view::npos ? 0 : blank + 1) == key_of(name);
    return as_sentence(at_field ? text : place_words(place) + ": " + text);
}

}  // namespace swashwright::panels
