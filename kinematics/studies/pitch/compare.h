// What differs between two heads, or between one head now and as it was?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// A number that is not the same; missing where only one head has the part.
struct NumberChange {
    head::Number parameter;
    std::optional<double> before, after;
};

/// One stick position, or what keeps it from being compared.
struct StickChange {
    head::Sticks sticks;
    std::vector<double> before_deg, after_deg;         // mean pitch of each blade over a turn
    double before_height_mm = 0, after_height_mm = 0;  // of the tilt centre, blade 1 over the tail
    double before_tilt_deg = 0, after_tilt_deg = 0;
    double most_deg = 0;  // by how much a blade's pitch differs at most, at the same azimuth of the rotor
    std::string why_not;  // empty if both heads close all the way round
};

struct Comparison {
    std::vector<NumberChange> numbers;  // in the order of a scene file
    std::vector<std::string> others;    // that move something too: "the way the rotor turns"
    std::vector<StickChange> sticks;    // as asked; centred; full collective (of a tail rudder) either way; full cyclic
    head::Kind kind = head::Kind::main;                 // of the head after
    std::string let_through_before, let_through_after;  // the sticks, in words
    bool same_let_through = true;
};

/// Numbers closer than this are the same, mm or deg: below it lies what reading and writing a file leaves.
inline constexpr double same_within = 1e-9;

/// Of numbers alone, without a pose.
std::vector<NumberChange> number_changes(const head::Description& before, const head::Description& after);

Comparison compare(const head::Description& before, const head::Description& after, const head::Sticks& asked = {});

/// `before_words`, `after_words`: over the columns, such as "as opened", "now".
Answer answer(const Comparison& comparison, const std::string& before_words, const std::string& after_words);

}  // namespace swashwright::studies
