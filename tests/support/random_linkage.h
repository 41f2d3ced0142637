// Linkages of every kind, drawn at random: the scenes of tests/data/linkages with every number moved a little. All
// invented; the same seed gives the same linkage on every machine.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "kinematics/head/numbers.h"
#include "kinematics/scene/scene.h"
#include "tests/support/random_head.h"

namespace swashwright::testing {

inline std::vector<head::Description> linkages() {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_TEST_DATA "/linkages"))
        if (entry.path().extension() == ".toml") files.push_back(entry.path());
    std::ranges::sort(files);
    std::vector<head::Description> out;
    for (const auto& file : files) {
        const auto scene = scene::load(file.string());
        if (scene)
            out.push_back(scene->head);
        else
            ADD_FAILURE() << scene.error().text();
    }
    return out;
}

/// Every number of `like` moved by up to 0.3 mm or 0.4 deg.
inline head::Description moved_a_little(const head::Description& like, std::mt19937_64& bits) {
    Draw draw(bits);
    head::Description out = like;
    for (const head::Number& number : head::numbers(like)) {
        if (head::is_error(number.kind)) continue;
        const double by = number.unit == head::Unit::mm ? 0.3 : 0.4;
        number.at(out) += draw.between(-by, by);
    }
    return out;
}

/// The same linkage seen in a mirror that swaps left and right: every angle of a horn or lever changes its sign.
inline head::Description mirrored(head::Description d) {
    const auto flip = [](Vec3& v) { v.y() = -v.y(); };
    const auto flip_polar = [](head::Polar& p) { p.angle_deg = -p.angle_deg; };
    using On = head::Carrier::On;
    const auto counts_left = [](const head::Carrier& c) {  // hub, outer ring and grip count along the rotation
        return c.on == On::frame || c.on == On::inner_ring || c.on == On::lever || c.on == On::slider;
    };
    d.rotor.direction =
        d.rotor.direction == head::Direction::clockwise ? head::Direction::anticlockwise : head::Direction::clockwise;
    for (head::Servo& servo : d.servos) {
        if (auto* point = std::get_if<Vec3>(&servo.pivot_mm)) flip(*point);
        if (auto* polar = std::get_if<head::Polar>(&servo.pivot_mm)) flip_polar(*polar);
        flip(servo.axis), flip(servo.horn_zero);
        servo.neutral_deg = -servo.neutral_deg;
        servo.trim_deg = -servo.trim_deg;
        servo.travel_deg = {-servo.travel_deg[1], -servo.travel_deg[0]};
        if (servo.raise) servo.raise = -*servo.raise;
    }
    for (head::Polar& ball : d.swashplate.inner_balls) flip_polar(ball);
    flip_polar(d.swashplate.guide_pin);
    d.swashplate.guide_turn_deg = -d.swashplate.guide_turn_deg;
    d.mixing.phase_deg = -d.mixing.phase_deg;
    for (head::Lever& lever : d.levers) {
        if (counts_left(lever.on)) flip(lever.pivot_mm), flip(lever.axis), flip(lever.zero);
        for (Vec3& ball : lever.balls_mm) flip(ball);
        lever.angle_deg = -lever.angle_deg;
        if (lever.by_hand_deg) lever.by_hand_deg = std::array{-(*lever.by_hand_deg)[1], -(*lever.by_hand_deg)[0]};
    }
    for (head::Slider& slider : d.sliders) {
        if (counts_left(slider.on)) flip(slider.at_mm), flip(slider.axis), flip(slider.zero);
        for (Vec3& ball : slider.balls_mm) flip(ball);
    }
    for (head::FixedBall& ball : d.fixed_balls)
        if (counts_left(ball.on)) flip(ball.at_mm);
    return d;
}

}  // namespace swashwright::testing
