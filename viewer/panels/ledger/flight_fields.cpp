#include "viewer/panels/ledger/flight_fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/ledger/field_makers.h"

namespace swashwright::panels {

namespace {

using head::Description;
using Fields = std::vector<Field>;

const Look plain{}, whole{0, 1}, tenths{1, 0.1}, fine{3, 0.001}, gains{4, 0.001};

/// Torque is typed as the maker writes it: to give one takes the other away.
Numbers torque(std::size_t j, std::optional<double> head::ServoRating::*typed,
               std::optional<double> head::ServoRating::*other, double start) {
    Numbers out = perhaps(
        [ j, typed ](Description & d) -> auto& { return d.servos[j].rating.*typed; }, start, tenths);
    out.write = [j, other, write = out.write](Description& d, const std::optional<Numbers::List>& list) {
        write(d, list);
        if (list) (d.servos[j].rating.*other).reset();
    };
    return out;
}

constexpr std::array weight_lengths{&head::BalanceWeight::along_mm, &head::BalanceWeight::lead_mm,
                                    &head::BalanceWeight::up_mm};

/// "6 20 0 15, 6 20 0 -15": mass, along, leading, up.
std::string weights_text(const std::vector<head::BalanceWeight>& weights, bool inches) {
    std::string out;
    for (const head::BalanceWeight& w : weights) {
        out += fmt::format("{}{}", out.empty() ? "" : ", ", w.mass_g);
        for (const auto length : weight_lengths) out += " " + whole_length(w.*length, inches);
    }
    return out;
}

/// A length of `before` that reads the same stays what it was, to the last digit.
std::optional<double> weight_length(const std::string& word, double head::BalanceWeight::*which,
                                    const std::vector<head::BalanceWeight>& before, bool inches) {
    const auto same = std::ranges::find(before, word, [&](const auto& w) { return whole_length(w.*which, inches); });
    return same != before.end() ? std::optional((*same).*which) : typed_length(word, inches);
}

tl::expected<std::vector<head::BalanceWeight>, std::string> weights_of(const std::string& typed,
                                                                       const std::vector<head::BalanceWeight>& before,
                                                                       bool inches) {
    std::vector<head::BalanceWeight> out;
    std::istringstream weights(typed);
    for (std::string one; std::getline(weights, one, ',');) {
        std::istringstream words(one);
        std::vector<double> numbers;
        for (std::string word; words >> word;) {
            const std::size_t n = numbers.size();
            const auto number = n > 0 && n <= weight_lengths.size()
                                    ? weight_length(word, weight_lengths[n - 1], before, inches)
                                    : typed_number(word);
            if (!number) return tl::unexpected(fmt::format("\"{}\" is not a number", word));
            numbers.push_back(*number);
        }
        if (numbers.size() != 4)
            return tl::unexpected(fmt::format("a weight is four numbers: g, then {} along, leading, up; found {}",
                                              inches ? "inches" : "mm", numbers.size()));
        out.push_back({numbers[0], numbers[1], numbers[2], numbers[3]});
    }
    return out;
}

}  // namespace

Field weights_field(std::size_t k, bool inches) {
    return {"weights", fmt::format("Balance weights: g, along, leading, up ({})", inches ? "in" : "mm"),
            "Four numbers with blanks between them; a comma between weights; empty: none",
            Words{[k, inches](const scene::Scene& s) { return weights_text(s.head.grips[k].weights, inches); },
                  [k, inches](scene::Scene& s, const std::string& typed) -> tl::expected<void, std::string> {
                      auto& weights = s.head.grips[k].weights;
                      auto read = weights_of(typed, weights, inches);
                      if (!read) return tl::unexpected(read.error());
                      weights = std::move(*read);
                      return {};
                  }}};
}

Fields rating_fields(std::size_t j) {
    using Rating = head::ServoRating;
    const auto rated = [j](auto member) {
        return [ j, member ](Description & d) -> auto& {
            return d.servos[j].rating.*member;
        };
    };
    return {
        {"torque_ncm", "Torque as rated, N cm", "At which it stalls; not given: the loads have no margin",
         torque(j, &Rating::torque_ncm, &Rating::torque_kgcm, 100.0)},
        {"torque_kgcm", "Torque as rated, kg cm", "The same in the other unit: 1 kg cm = 9.81 N cm",
         torque(j, &Rating::torque_kgcm, &Rating::torque_ncm, 10.0)},
        {"seconds_per_60deg", "Time for 60\xC2\xB0 as rated, s", "Without load, at the same voltage",
         perhaps(rated(&Rating::seconds_per_60deg), 0.08, fine)},
        {"rated_volts", "Voltage of both ratings, V", "At which the maker read torque and time",
         perhaps(rated(&Rating::rated_volts), 6.0, tenths)},
    };
}

Fields blade_fields(const Description& description) {
    using head::Blade;
    const Blade usual;
    const double tip = description.rotor.blade_tip_mm;
    const auto at = [](auto member) {
        return [member](Description & d) -> auto& {
            return d.blade.*member;
        };
    };
    return {
        {"chord_mm", "Chord, mm", "Not given: a twelfth of the way to the tip",
         perhaps(at(&Blade::chord_mm), std::round(tip / 12), tenths)},
        {"mass_g", "Mass, g", "Of one blade; all are taken to be alike. Not given: from the area",
         perhaps(at(&Blade::mass_g), 100.0, tenths)},
        {"bolt_mm", "Shaft axis to blade bolt, mm", "Not given: a tenth of the way to the tip",
         perhaps(at(&Blade::bolt_mm), std::round(tip / 10), tenths)},
        {"flap_hinge_mm", "Shaft axis to flap hinge, mm", "Or to where the spindle rocks",
         usually(at(&Blade::flap_hinge_mm), usual.flap_hinge_mm, tenths)},
        {"flap_stiffness_nm", "Dampers' moment, N m", "For each radian of flap",
         usually(at(&Blade::flap_stiffness_nm), usual.flap_stiffness_nm, plain)},
        {"thickness_mm", "Thickness, mm", "Of the section. Not given: 0.12 of the chord",
         perhaps(at(&Blade::thickness_mm), tip / 100, tenths)},
        {"mass_along_mm", "Shaft axis to mass centre, mm", "Not given: midway from bolt to tip",
         perhaps(at(&Blade::mass_along_mm), std::round(tip * 0.55), tenths)},
        {"bolt_ahead_mm", "Bolt ahead of feathering axis, mm", "Positive in the direction of rotation",
         perhaps(at(&Blade::bolt_ahead_mm), 0.0, tenths)},
        {"mass_ahead_mm", "Mass ahead of feathering axis, mm",
         "Not given: in line with the bolt, where a blade swings to", perhaps(at(&Blade::mass_ahead_mm), 0.0, tenths)},
        {"mass_spread_mm", "Mass spread along the chord, mm",
         "Radius of gyration about its mass centre. Not given: an even plate's, chord / 3.46",
         perhaps(at(&Blade::mass_spread_mm), tip / 40, tenths)},
        {"edge_ahead_mm", "Leading edge ahead of axis, mm",
         "Of the feathering axis. Not given: a quarter of the chord ahead of the mass",
         perhaps(at(&Blade::edge_ahead_mm), std::round(tip / 48), tenths)},
        {"moment_coefficient", "Section's moment coefficient", "About its quarter chord, nose up positive",
         perhaps(at(&Blade::moment_coefficient), 0.0, gains)},
        {"profile_drag", "Section's drag coefficient", "At no lift", perhaps(at(&Blade::profile_drag), 0.012, gains)},
        {"lift_slope_per_rad", "Section's lift slope, 1/rad", "Not given: 5.73",
         perhaps(at(&Blade::lift_slope_per_rad), 5.73, plain)}};
}

Fields flight_fields() {
    using head::Flight;
    const auto at = [](auto member) {
        return [member](Description & d) -> auto& {
            return d.flight.*member;
        };
    };
    return {
        {"model_mass_kg", "Mass of the whole model, kg", "Ready to fly",
         perhaps(at(&Flight::model_mass_kg), 3.0, plain)},
        {"power_w", "Power of engine or motor, W", "At its shaft", perhaps(at(&Flight::power_w), 1500.0, Look{0, 10})},
        {"gear_efficiency", "Share for the main rotor",
         "Of the engine's power, gears and tail rotor taken off; above 0, at most 1",
         perhaps(at(&Flight::gear_efficiency), 0.9, plain)},
        {"air_temperature_c", "Air temperature, \u00B0C", "Not given: 15",
         perhaps(at(&Flight::air_temperature_c), 15.0, whole)},
        {"air_height_m", "Field above the sea, m", "Not given: 0",
         perhaps(at(&Flight::air_height_m), 0.0, Look{0, 10})}};
}

}  // namespace swashwright::panels
