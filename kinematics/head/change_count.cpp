#include "kinematics/head/change_count.h"
#include "kinematics/head/azimuth.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace swashwright::head {

namespace {

constexpr std::size_t most_pins = 6;

std::string grip_path(int blade) {
    return fmt::format("grip[{}]", blade + 1);
}

/// Every outer ball keeps its angle to its own blade when blades that were `before` stand `after` apart.
void space_anew(Description& head, double before_deg, double after_deg) {
    for (std::size_t k = 0; k < head.swashplate.outer_balls.size(); ++k)
        head.swashplate.outer_balls[k].angle_deg += static_cast<double>(k) * (after_deg - before_deg);
}

std::string whole_head(const Description& d) {
    const auto n = static_cast<std::size_t>(std::max(0, d.rotor.blades));
    if (d.upper_links.size() == n && d.grips.size() == n && d.swashplate.outer_balls.size() == n) return {};
    return "every blade needs one outer ball, one upper link and one grip first";
}

}  // namespace

double widest_gap_deg(std::vector<double> angles) {
    if (angles.empty()) return 0;
    for (double& angle : angles) angle = within_turn_deg(angle);
    std::ranges::sort(angles);
    double widest = 0, middle = 0;
    for (std::size_t i = 0; i < angles.size(); ++i) {
        const double gap = (i + 1 < angles.size() ? angles[i + 1] : angles[0] + 360) - angles[i];
        if (gap <= widest + 1e-9) continue;
        widest = gap;
        middle = angles[i] + gap / 2;
    }
    return within_turn_deg(middle);
}

Change with_blade_added(const Description& description) {
    const int blades = description.rotor.blades;
    if (auto wrong = whole_head(description); !wrong.empty()) return tl::unexpected(wrong);
    if (blades >= most_blades) return tl::unexpected(fmt::format("a head has {} blades at most", most_blades));
    Changed out{description, {}};
    Description& head = out.head;
    const int last = blades - 1;
    head.rotor.blades = blades + 1;
    Polar ball = head.swashplate.outer_balls.back();
    ball.angle_deg += 360.0 / blades;  // as far ahead of its own blade as the one before it
    head.swashplate.outer_balls.push_back(ball);
    head.grips.push_back(Grip(head.grips.back()));
    head.upper_links.push_back(Link(head.upper_links.back()));
    head.upper_links.back().error_mm = 0;
    space_anew(head, 360.0 / blades, 360.0 / (blades + 1));
    for (const Solid& solid : description.solids)
        if (solid.part == grip_path(last)) {
            head.solids.push_back(solid);
            head.solids.back().part = grip_path(blades);
        }
    out.assumed = fmt::format(
        "Blade {} is taken to be made as blade {}: grip, outer ball and upper link, without the link's error. The "
        "blades stand {:g} deg apart, each outer ball as far ahead of its own blade as before; the driver stays.",
        blades + 1, blades, std::round(36000.0 / (blades + 1)) / 100);
    return out;
}

Change with_blade_removed(const Description& description, int blade) {
    const int blades = description.rotor.blades;
    if (auto wrong = whole_head(description); !wrong.empty()) return tl::unexpected(wrong);
    if (blades <= fewest_blades) return tl::unexpected(fmt::format("a head has {} blades at least", fewest_blades));
    if (blade < 0 || blade >= blades) return tl::unexpected(fmt::format("there is no blade {}", blade + 1));
    Changed out{description, {}};
    Description& head = out.head;
    const auto at = [&](auto& list) { return list.begin() + blade; };
    auto& balls = head.swashplate.outer_balls;
    balls.erase(at(balls));
    // Those after it are one blade nearer to the first.
    for (auto k = static_cast<std::size_t>(blade); k < balls.size(); ++k) balls[k].angle_deg -= 360.0 / blades;
    head.grips.erase(at(head.grips));
    head.upper_links.erase(at(head.upper_links));
    head.rotor.blades = blades - 1;
    space_anew(head, 360.0 / blades, 360.0 / (blades - 1));
    std::erase_if(head.solids, [&](const Solid& solid) { return solid.part == grip_path(blade); });
    for (Solid& solid : head.solids)
        for (int k = blade + 1; k < blades; ++k)
            if (solid.part == grip_path(k)) {
                solid.part = grip_path(k - 1);
                break;
            }
    out.assumed = fmt::format(
        "Blade {} is gone with its grip, outer ball and upper link. The others stand {:g} deg apart, each outer ball "
        "as far ahead of its own blade as before; the driver stays.",
        blade + 1, std::round(36000.0 / (blades - 1)) / 100);
    return out;
}

Change with_driver_added(const Description& description) {
    const auto& pins = description.swashplate.driver_pins;
    if (pins.empty()) return tl::unexpected(std::string("there is no driver arm to take the numbers from"));
    if (pins.size() >= most_pins) return tl::unexpected(fmt::format("{} driver arms are enough", most_pins));
    std::vector<double> angles;
    for (const Polar& pin : pins) angles.push_back(pin.angle_deg);
    Changed out{description, {}};
    Polar pin = pins.back();
    pin.angle_deg = widest_gap_deg(std::move(angles));
    out.head.swashplate.driver_pins.push_back(pin);
    out.assumed = fmt::format(
        "Driver arm {} is taken to be made as arm {} and to stand {:.0f} deg ahead of blade 1, where the gap was "
        "widest.",
        pins.size() + 1, pins.size(), pin.angle_deg);
    return out;
}

Change with_driver_removed(const Description& description, int pin) {
    const auto& pins = description.swashplate.driver_pins;
    if (pins.size() < 2) return tl::unexpected(std::string("one driver arm at least turns the outer ring"));
    if (pin < 0 || static_cast<std::size_t>(pin) >= pins.size())
        return tl::unexpected(fmt::format("there is no driver arm {}", pin + 1));
    Changed out{description, fmt::format("Driver arm {} is gone.", pin + 1)};
    auto& left = out.head.swashplate.driver_pins;
    left.erase(left.begin() + pin);
    return out;
}

}  // namespace swashwright::head
