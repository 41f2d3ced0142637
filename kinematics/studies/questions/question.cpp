#include "kinematics/studies/questions/question.h"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {

const Option& Question::option(const std::string& key) const {
    const auto found = std::ranges::find(options, key, &Option::key);
    if (found == options.end()) throw std::out_of_range("no option " + key);
    return *found;
}

Values Question::start(const Card& card) const {
    Values out(options);
    for (const Field& field : card.fields)
        if (!std::holds_alternative<std::monostate>(field.start)) out.set(field.option, field.start);
    return out;
}

void tell_so_far(const Asked& asked, Reply reply, std::string part) {
    if (asked.stop.stop_requested()) return;
    reply.answer.text = fmt::format("So far, from {}: {}", part, reply.answer.text);
    reply.so_far = std::move(part);
    asked.so_far(std::move(reply));
}

const std::vector<Question>& all_questions() {
    static const std::vector<Question> all{
        transmitter_question(), directions_question(),  ring_question(),      lengths_question(), range_question(),
        tracking_question(),    sensitivity_question(), tolerance_question(), play_question(),    folded_question(),
        reach_question(),       stiff_question(),       fight_question(),     loads_question(),   power_question(),
        diagnose_question(),    practice_question()};
    return all;
}

}  // namespace swashwright::studies
