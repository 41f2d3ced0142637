// Collects the numbers of a description while `numbers` goes over it. Internal to head/.
#pragma once

#include <fmt/format.h>

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"

namespace swashwright::head {

/// See `Number::usual_tolerance`.
double usual_tolerance(NumberKind kind, Unit unit);

/// Collects numbers. A place is a function that gives a reference into a description, const or not.
class NumberList {
public:
    explicit NumberList(const Description& description) : d(description) {}

    /// The numbers that follow belong to this part and are of this kind.
    void of(std::string part, NumberKind kind, std::size_t index = 0) {
        part_ = std::move(part);
        kind_ = kind;
        index_ = static_cast<int>(index);
    }
    template <class Place, class Rates>
    void add(const std::string& key, std::string label, Unit unit, Place place, Rates rates) {
        Number number;
        number.path = part_ + key;
        number.label = std::move(label);
        number.unit = unit;
        number.kind = kind_;
        number.index = index_;
        number.part = part_;
        number.usual_tolerance = usual_tolerance(kind_, unit);
        number.at = [place](Description& at) -> double& { return place(at); };
        number.value = [place](const Description& at) { return place(at); };
        number.rates = std::move(rates);
        all.push_back(std::move(number));
    }
    /// The three numbers of a place by radius, angle and height.
    template <class Place, class Rates>
    void add_polar(const std::string& key, const std::string& label, const char* angle, Place place, Rates rates) {
        const auto one = [&](const char* name, const std::string& words, Unit unit, int which, auto member) {
            add(
                key + "." + name, fmt::format("{}, {}", label, words), unit,
                [ place, member ](auto& at) -> auto& { return place(at).*member; },
                [rates, which](const Head& head, const Sticks&, std::vector<linkage::Change>& out) {
                    rates(head, which, out);
                });
        };
        one("radius_mm", "radius", Unit::mm, 0, &Polar::radius_mm);
        one(fmt::format("{}_deg", angle).c_str(), angle, Unit::deg, 1, &Polar::angle_deg);
        one("height_mm", "height", Unit::mm, 2, &Polar::height_mm);
    }
    /// The three numbers of a point; `rates` is told which.
    template <class Place, class Rates>
    void add_point(const std::string& key, const std::string& label, const std::array<const char*, 3>& names,
                   Place place, Rates rates) {
        for (int i = 0; i < 3; ++i)
            add(
                fmt::format("{}[{}]", key, i + 1), fmt::format("{} {}", label, names[static_cast<std::size_t>(i)]),
                Unit::mm, [ place, i ](auto& at) -> auto& { return place(at)[i]; },
                [rates, i](const Head& head, const Sticks&, std::vector<linkage::Change>& out) {
                    rates(head, i, out);
                });
    }

    const Description& d;
    std::vector<Number> all;

private:
    std::string part_;
    NumberKind kind_ = NumberKind::hub_height;
    int index_ = 0;
};

/// What a place is told by in the head frame.
inline constexpr std::array along_frame{"forward", "left", "height"};

/// Levers, sliders and the balls on them; balls fixed on a part.
void add_lever(NumberList& list, std::size_t lever);
void add_slider(NumberList& list, std::size_t slider);
void add_fixed_ball(NumberList& list, std::size_t ball);

}  // namespace swashwright::head
