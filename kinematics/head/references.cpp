#include "kinematics/head/references.h"

#include <fmt/format.h>

#include <algorithm>

namespace swashwright::head {

namespace {

std::string called(const std::string& name, const char* kind, std::size_t index) {
    return name.empty() ? fmt::format("{} {}", kind, index + 1) : name;
}

template <class T>
std::optional<T> named(const Description& description, const std::vector<T>& all, const std::string& name) {
    const auto found = std::ranges::find_if(
        all, [&](const T& one) { return name_of(one) == name || words_of(description, one) == name; });
    return found == all.end() ? std::nullopt : std::optional(*found);
}

}  // namespace

std::vector<BallName> every_ball(const Description& d) {
    std::vector<BallName> out;
    const auto add = [&](BallName::Of of, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) out.push_back({of, static_cast<int>(i)});
    };
    const auto add_list = [&](BallName::Of of, const auto& parts) {
        for (std::size_t i = 0; i < parts.size(); ++i)
            for (std::size_t b = 0; b < parts[i].balls_mm.size(); ++b)
                out.push_back({of, static_cast<int>(i), static_cast<int>(b)});
    };
    using enum BallName::Of;
    add(servo, d.servos.size());
    add(inner_ball, d.swashplate.inner_balls.size());
    add(outer_ball, d.swashplate.outer_balls.size());
    add(grip, d.grips.size());
    add_list(lever, d.levers);
    add_list(slider, d.sliders);
    add(fixed_ball, d.fixed_balls.size());
    return out;
}

std::vector<Carrier> every_carrier(const CarrierCounts& counts) {
    std::vector<Carrier> out;
    using enum Carrier::On;
    const auto add = [&](Carrier::On on, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) out.push_back({on, static_cast<int>(i)});
    };
    for (const auto on : {frame, inner_ring, outer_ring, hub}) add(on, 1);
    add(grip, counts.grips);
    add(lever, counts.levers);
    add(slider, counts.sliders);
    return out;
}

std::optional<BallName> ball_named(const Description& description, const std::string& name) {
    return named(description, every_ball(description), name);
}
std::optional<Carrier> carrier_named(const Description& description, const std::string& name) {
    return named(description, every_carrier(carrier_counts(description)), name);
}

std::string lever_words(const Description& d, std::size_t lever) {
    return called(lever < d.levers.size() ? d.levers[lever].name : "", "lever", lever);
}
std::string slider_words(const Description& d, std::size_t slider) {
    return called(slider < d.sliders.size() ? d.sliders[slider].name : "", "slider", slider);
}
std::string pin_words(const Description& d, std::size_t pin) {
    return called(pin < d.pins.size() ? d.pins[pin].name : "", "pin", pin);
}

std::string words_of(const Description& d, const BallName& ball) {
    const auto i = static_cast<std::size_t>(ball.index);
    using enum BallName::Of;
    switch (ball.of) {
        case servo:
            return "horn of " + (i < d.servos.size() ? servo_words(d.servos[i]) : fmt::format("servo {}", i + 1));
        case inner_ball:
            return fmt::format("{}, ball {}", d.swashplate.tilts ? "inner ring" : "pitch slider", i + 1);
        case outer_ball:
            return fmt::format("outer ring, ball {}", i + 1);
        case grip:
            return fmt::format("pitch arm of grip {}", i + 1);
        case lever:
            return fmt::format("{}, ball {}", lever_words(d, i), ball.ball + 1);
        case slider:
            return fmt::format("{}, ball {}", slider_words(d, i), ball.ball + 1);
        case fixed_ball:
            break;
    }
    return i < d.fixed_balls.size() ? fmt::format("ball {} fixed on {}", i + 1, words_of(d, d.fixed_balls[i].on))
                                    : fmt::format("fixed ball {}", i + 1);
}

std::string words_of(const Description& d, const Carrier& carrier) {
    const auto i = static_cast<std::size_t>(carrier.index);
    using enum Carrier::On;
    switch (carrier.on) {
        case frame:
            return "the frame";
        case inner_ring:
            return d.swashplate.tilts ? "the inner ring" : "the pitch slider";
        case outer_ring:
            return "the outer ring";
        case hub:
            return "the hub";
        case grip:
            return fmt::format("grip {}", i + 1);
        case lever:
            return lever_words(d, i);
        case slider:
            break;
    }
    return slider_words(d, i);
}

void set_ends(Description& d, const PartName& link, const std::array<BallName, 2>& ends) {
    Link* made = link_of(d, link);
    if (made == nullptr) return;
    made->ends.reset();
    if (ends_of(d, link) != ends) made->ends = ends;
}

}  // namespace swashwright::head
