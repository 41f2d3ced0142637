#include "viewer/panels/questions/questions.h"

#include <fmt/format.h>

#include <utility>

#include "kinematics/studies/diagnosis/diagnose.h"
#include "kinematics/studies/envelope/reach.h"
#include "kinematics/studies/joints/play.h"
#include "kinematics/studies/joints/stiff.h"
#include "kinematics/studies/lengths/lengths.h"
#include "kinematics/studies/pitch/directions.h"
#include "kinematics/studies/pitch/folded.h"
#include "kinematics/studies/pitch/range.h"
#include "kinematics/studies/pitch/sensitivity.h"
#include "kinematics/studies/pitch/tolerance.h"
#include "kinematics/studies/pitch/tracking.h"
#include "kinematics/studies/pitch/wanted_range.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

/// A study's result as a reply; its failure as a sentence.
template <class Result, class ToAnswer>
Outcome reply(const Result& result, const ToAnswer& to_answer) {
    if (!result) return tl::unexpected(result.error().message);
    return Reply{to_answer(*result), {}, {}};
}

Choice yes_no(std::string words, bool value) {
    return {.words = std::move(words), .unit = {}, .value = value ? 1.0 : 0.0, .yes_no = true};
}

Outcome directions(const Asked& asked) {
    return reply(studies::directions(asked.head, asked.choices[0]),
                 [&](const auto& result) { return answer(result, asked.head.description()); });
}

Outcome lengths(const Asked& asked) {
    const head::Description& now = asked.head.description();
    studies::LengthsRequest request;
    request.wishes.level_ring = asked.choices[0] > 0;
    request.wishes.zero_pitch = asked.choices[1] > 0;
    request.wishes.square_horns = asked.choices[2] > 0;
    request.free = studies::free_links(now);
    if (request.wishes.square_horns)
        for (const studies::FreeNumber& neutral : studies::free_neutrals(now)) request.free.push_back(neutral);
    const auto found = studies::link_lengths(now, request, asked.stop);
    if (!found) return tl::unexpected(found.error());
    return Reply{answer(*found), found->set, "Make these settings"};
}

Outcome range(const Asked& asked) {
    return reply(studies::pitch_range(asked.head, asked.sticks),
                 [&](const auto& result) { return answer(result, asked.head.description()); });
}

Outcome gains(const Asked& asked) {
    const auto found = studies::horn_gains(asked.head, {asked.choices[0], asked.choices[1]});
    if (!found) return tl::unexpected(found.error().message);
    head::Description next = asked.head.description();
    next.mixing.collective_deg = found->collective_deg;
    next.mixing.cyclic_deg = found->cyclic_deg;
    return Reply{answer(*found, asked.head.description()), std::move(next), "Take these gains over"};
}

Outcome sensitivity(const Asked& asked) {
    return reply(studies::sensitivity(asked.head, asked.sticks), [](const auto& result) { return answer(result); });
}

Outcome tolerance(const Asked& asked) {
    studies::ToleranceRequest request;
    request.sticks = asked.sticks;
    request.tolerances = studies::usual_tolerances(asked.head.description());
    request.wanted_split_deg = asked.choices[0];
    const auto found = studies::tolerance(asked.head, request, asked.stop);
    if (!found) return tl::unexpected(found.error());
    return Reply{answer(*found), {}, {}};
}

Outcome tracking(const Asked& asked) {
    const auto found = studies::tracking(asked.head, asked.sticks);
    if (!found) return tl::unexpected(found.error().message);
    Reply out{answer(*found, asked.head.description()), {}, "Turn the links so"};
    head::Description next = asked.head.description();
    bool any = false;
    for (std::size_t k = 0; k < found->settings.size(); ++k) {
        next.upper_links[k].length_mm += found->settings[k].change_mm;
        any = any || found->settings[k].steps != 0;
    }
    if (any) out.proposal = std::move(next);
    return out;
}

Outcome play(const Asked& asked) {
    studies::PlayOptions options;
    options.sticks = asked.sticks;
    return reply(studies::play(asked.head, options), [&](const auto& result) { return answer(result, options); });
}

Outcome folded(const Asked& asked) {
    studies::FoldedOptions options;
    options.sticks = asked.sticks;
    options.fold_deg = asked.choices[0];
    if (asked.choices[1] > 0) options.seen_mm = asked.choices[2];
    return reply(studies::folded(asked.head, options), [&](const auto& result) { return answer(result, options); });
}

Outcome diagnose(const Asked& asked) {
    if (asked.readings.size() == 0)
        return tl::unexpected(std::string("Type in what the pitch gauge reads, one row a reading."));
    return reply(studies::diagnose(asked.head, asked.readings),
                 [&](const auto& result) { return answer(result, asked.head); });
}

Outcome reach(const Asked& asked) {
    const auto reply_of = [](studies::Reach found) {
        Reply out{answer(found), {}, {}};
        out.map = std::make_shared<const studies::Envelope>(std::move(found.envelope));
        return out;
    };
    // A first look that is quick enough to follow a number that is being dragged.
    studies::ReachRequest coarse{.clearance = false};
    coarse.sweep.collective_steps = 6;
    coarse.sweep.directions = 12;
    coarse.sweep.azimuths = 12;
    coarse.sweep.refine = false;
    auto look = studies::reach(asked.head, coarse);
    if (!look) return tl::unexpected(look.error().message);
    asked.first_look(reply_of(std::move(*look)));
    studies::ReachRequest fine{.clearance = asked.choices[0] > 0};
    fine.sweep.stop = asked.stop;
    fine.sweep.percent = asked.percent;
    auto found = studies::reach(asked.head, fine);
    if (!found) return tl::unexpected(found.error().message);
    return reply_of(std::move(*found));
}

Outcome stiff(const Asked& asked) {
    studies::FrictionOptions options;
    options.sticks = asked.sticks;
    options.ball_nmm = asked.choices[0];
    options.servo_nmm_per_deg = asked.choices[1];
    return reply(studies::friction(asked.head, options),
                 [&](const auto& result) { return answer(result, asked.head.description()); });
}

Question question(std::string key, std::string words, Study study, std::vector<Choice> choices = {},
                  std::string follows = {}) {
    Question out;
    out.key = std::move(key);
    out.words = std::move(words);
    out.study = std::move(study);
    out.choices = std::move(choices);
    out.follows_sticks = !follows.empty();
    out.follows = std::move(follows);
    return out;
}

}  // namespace

std::vector<Question> all_questions() {
    std::vector<Question> all;
    all.push_back(question("directions", "Which way must each servo turn?", directions,
                           {{.words = "Disc follows by", .unit = "deg", .value = 90, .low = 0, .high = 180}}));
    all.push_back(question("lengths", "How long must the links be?", lengths,
                           {yes_no("Level ring", true), yes_no("Zero pitch", true), yes_no("Horns square", false)}));
    all.back().wants_closed_loop = false;  // who asks may have links that do not reach yet
    all.push_back(
        question("range", "How far does the pitch go?", range, {}, "The last rows are for the sticks as they stand."));
    all.push_back(
        question("gains", "Which horn travel gives the range I want?", gains,
                 {{.words = "Collective \xC2\xB1", .unit = "deg", .value = 10, .low = -25, .high = 25, .step = 0.5},
                  {.words = "Cyclic \xC2\xB1", .unit = "deg", .value = 6, .low = 0.1, .high = 20, .step = 0.5}}));
    all.push_back(question("tracking", "Are the blades in track?", tracking, {}, "For the sticks as they stand."));
    all.push_back(
        question("sensitivity", "Which length matters most?", sensitivity, {}, "For the sticks as they stand."));
    all.push_back(question("tolerance", "How exactly must it be built?", tolerance,
                           {{.words = "Split to be held",
                             .unit = "deg",
                             .value = 0.2,
                             .low = 0.01,
                             .high = 5,
                             .step = 0.05,
                             .decimals = 2}},
                           "For the sticks as they stand."));
    all.push_back(question("play", "How much slop is there at the blades?", play, {}, "For the sticks as they stand."));
    all.push_back(
        question("folded", "What do folded blades show?", folded,
                 {{.words = "Blades swung by", .unit = "deg", .value = 90, .low = 1, .high = 90, .step = 5},
                  yes_no("I saw a difference", false),
                  {.words = "Tip of blade 1 above the other", .unit = "mm", .value = 0, .low = -1000, .high = 1000}},
                 "For the sticks as they stand, blade 1 over the tail."));
    all.push_back(question("reach", "Does it bind or touch anywhere?", reach, {yes_no("What touches too", true)}));
    all.push_back(question(
        "stiff", "What do stiff ball links cost?", stiff,
        {{.words = "Each ball link", .unit = "N mm", .value = 1, .low = 0, .high = 100, .step = 0.5},
         {.words = "A servo gives way 1 deg by", .unit = "N mm", .value = 100, .low = 1, .high = 10000, .step = 10}},
        "For the sticks as they stand."));
    all.push_back(question("diagnose", "Which part explains what I read?", diagnose));
    all.back().reads_readings = true;
    return all;
}

void take_answers(State& state) {
    for (Question& question : state.questions)
        if (question.inquiry.poll()) state.settle = true;
    if (auto said = state.sheet_writer.poll()) {
        tell(state, std::move(*said));
        state.settle = true;
    }
}

void renew_answers(State& state) {
    for (Question& question : state.questions) {
        if (!question.open || !state.live().head || (question.wants_closed_loop && !state.live().closes)) continue;
        Question::Stamp stamp{state.document.revision(), question.reads_readings ? state.readings_revision : 0, {}, {}};
        if (question.follows_sticks) stamp.sticks = state.controls.sticks;
        for (const Choice& choice : question.choices) stamp.choices.push_back(choice.value);
        if (stamp == question.stamp) continue;
        question.stamp = stamp;
        question.inquiry.ask(question.study,
                             {*state.live().head, state.controls.sticks, stamp.choices, state.readings});
    }
}

bool answering(const State& state) {
    if (state.sheet_writer.running()) return true;
    for (const Question& question : state.questions)
        if (question.inquiry.running()) return true;
    return false;
}

}  // namespace swashwright::panels
