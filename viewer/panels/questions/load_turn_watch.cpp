#include "viewer/panels/questions/load_turn_watch.h"

namespace swashwright::panels {

const std::optional<studies::LoadTurn>& LoadTurnWatch::measure(const head::Head& head, std::uint64_t revision,
                                                               const head::Sticks& sticks,
                                                               const studies::Values& values) {
    const bool same = flying_ && revision == revision_ && values == values_;
    if (same && sticks == sticks_) return turn_;
    if (!same) {
        revision_ = revision;
        values_ = values;
        studies::FlyingOptions options = studies::usual_flight(head.description(), values.number_if_given("speed"),
                                                               values.number_if_given("coning"));
        options.give = {values.number("servo"), values.number("link")};
        flying_ = std::make_unique<studies::Flying>(head, options);
    }
    sticks_ = sticks;
    turn_ = head.neutral_failure() ? std::nullopt : studies::load_turn(*flying_, sticks);
    return turn_;
}

}  // namespace swashwright::panels
