// The specification of each study, in a file of its verb's name; and what these files share.
#pragma once

#include "kinematics/studies/questions/question.h"

namespace swashwright::studies {

Question diagnose_question();
Question directions_question();
Question fight_question();
Question folded_question();
Question lengths_question();
Question loads_question();
Question play_question();
Question power_question();
Question practice_question();
Question range_question();
Question reach_question();
Question ring_question();
Question sensitivity_question();
Question stiff_question();
Question tolerance_question();
Question tracking_question();
Question transmitter_question();

inline constexpr std::int64_t most_rows = 1'000'000;  // of a table

inline constexpr const char* for_the_sticks = "At the sticks' present place.";
inline constexpr const char* too_for_the_sticks = "Also at the sticks' present place.";

/// Hands over what can be said already, of so much of the work: "100 of 10000 heads".
void tell_so_far(const Asked& asked, Reply reply, std::string part);

/// A study's result as a reply; its failure as a sentence.
template <class Result, class ToAnswer>
Outcome reply(const Result& result, const ToAnswer& to_answer) {
    if (!result) return tl::unexpected(NoAnswer{result.error().message});
    return Reply{to_answer(*result)};
}

inline tl::unexpected<NoAnswer> badly_asked(std::string why) {
    return tl::unexpected(NoAnswer{std::move(why), true});
}

}  // namespace swashwright::studies
