#include "kinematics/studies/questions/practice_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>

#include "kinematics/studies/questions/finite_number.h"

namespace swashwright::studies {
namespace {

constexpr double most_counted = 100;  // blades and balls

std::string stick_text(const head::Sticks& s) {
    std::string out;
    const auto add = [&](const char* name, double value) {
        if (value != 0) out += fmt::format(",{}={}", name, value);
    };
    add("collective", s.collective), add("aileron", s.aileron), add("elevator", s.elevator), add("rudder", s.rudder);
    return out;
}

/// "collective" as "collective=1" has it; null for a word that none knows.
double* stick_of(head::Sticks& s, std::string_view name) {
    return name == "collective" ? &s.collective
           : name == "aileron"  ? &s.aileron
           : name == "elevator" ? &s.elevator
           : name == "rudder"   ? &s.rudder
                                : nullptr;
}

tl::unexpected<std::string> wrong(const std::string& text, const std::string& why) {
    return tl::unexpected(
        fmt::format("{} is no place to read: {}; write blade=2,azimuth=90,collective=1 or "
                    "ball=1,collective=1, sticks from -1 to 1",
                    text, why));
}

/// Each name once, with its number.
tl::expected<std::map<std::string, double>, std::string> parted(const std::string& text) {
    std::map<std::string, double> out;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find(',', at), text.size()), is = text.find('=', at);
        if (is == std::string::npos || is >= end) return wrong(text, "a name wants = and a number");
        const std::string name = text.substr(at, is - at);
        const auto value = finite_number(text.substr(is + 1, end - is - 1));
        if (!value) return wrong(text, name + " wants a number");
        if (!out.emplace(name, *value).second) return wrong(text, name + " stands there twice");
        at = end + 1;
    }
    return out;
}

}  // namespace

std::string place_text(const PitchReading& place) {
    return fmt::format("blade={},azimuth={}{}", place.blade + 1, place.azimuth_deg, stick_text(place.sticks));
}

std::string place_text(const RingHeightReading& place) {
    return fmt::format("ball={}{}", place.ball.value_or(0) + 1, stick_text(place.sticks));
}

tl::expected<void, std::string> add_place(Readings& to, const std::string& text) {
    const auto all = parted(text);
    if (!all) return tl::unexpected(all.error());
    head::Sticks sticks;
    double azimuth = 0;
    std::optional<double> blade, ball;
    for (const auto& [name, value] : *all) {
        double* stick = stick_of(sticks, name);
        const bool counted = name == "blade" || name == "ball";
        if (!stick && !counted && name != "azimuth") return wrong(text, "nothing is called " + name);
        if (stick && std::abs(value) > 1) return wrong(text, name + " goes from -1 to 1");
        if (counted && (value != std::floor(value) || value < 1 || value > most_counted))
            return wrong(text, name + "s are counted from 1");
        if (name == "azimuth" && std::abs(value) > 360) return wrong(text, "azimuth goes from -360 to 360 deg");
        (stick ? *stick : name == "azimuth" ? azimuth : (name == "blade" ? blade : ball).emplace()) = value;
    }
    if (blade.has_value() == ball.has_value()) return wrong(text, "it wants a blade or a ball");
    if (ball && all->contains("azimuth")) return wrong(text, "a ball's height does not turn with the rotor");
    if (blade)
        to.pitch.push_back({.blade = static_cast<int>(*blade) - 1, .sticks = sticks, .azimuth_deg = azimuth});
    else
        to.ring_height.push_back({.ball = static_cast<int>(*ball) - 1, .sticks = sticks});
    return {};
}

}  // namespace swashwright::studies
