#include "viewer/panels/lessons/practice.h"

#include <algorithm>
#include <atomic>
#include <random>
#include <utility>

#include "kinematics/studies/questions/practice_places.h"
#include "kinematics/studies/questions/question.h"

namespace swashwright::panels {

namespace {

const studies::Question& question() {
    return *std::ranges::find(studies::all_questions(), "practice", &studies::Question::verb);
}

std::uint64_t next_revision() {
    static std::atomic<std::uint64_t> last = 0;
    return ++last;
}

}  // namespace

Practice hide(const head::Description& description, PracticeRound round) {
    Practice out;
    out.round = std::move(round);
    out.revision = next_revision();
    out.readings.gauge = studies::practice_gauge();
    const auto head = head::Head::build(description);
    auto hidden = head ? studies::hide_fault(*head, out.round.number)
                       : head::Result<studies::HiddenFault>(tl::unexpected(head.error()));
    if (hidden)
        out.hidden = std::move(*hidden);
    else
        out.said = "No practice on this head: " + hidden.error().message;
    return out;
}

// All are read anew; as they were, with why, where one cannot be taken.
void read_places(Practice& practice, studies::Readings places) {
    if (!practice.on() || practice.told) return;
    auto read = studies::read_hidden(*practice.hidden, places);
    auto sound = studies::read_described(*practice.hidden, std::move(places));
    practice.said.clear();
    practice.revision = next_revision();
    if (read && sound)
        practice.readings = std::move(*read), practice.sound = std::move(*sound);
    else
        practice.said = "No reading: " + (read ? sound : read).error().message + ".";
}

void choose_part(Practice& practice, const std::string& key) {
    practice.chosen = key;
    practice.revision = next_revision();
}

void read_blade(Practice& practice, const head::Sticks& sticks, double azimuth_deg, int blade) {
    studies::Readings places = practice.readings;
    places.pitch.push_back({.blade = blade, .sticks = sticks, .azimuth_deg = azimuth_deg});
    read_places(practice, std::move(places));
}

void read_ball(Practice& practice, const head::Sticks& sticks, int ball) {
    studies::Readings places = practice.readings;
    places.ring_height.push_back({.ball = ball, .sticks = sticks});
    read_places(practice, std::move(places));
}

void name_part(Practice& practice, const std::string& key) {
    if (!practice.on() || practice.told) return;
    practice.told = true;
    practice.said.clear();
    studies::Values values(question().options);
    std::vector<std::string> places;
    for (const auto& r : practice.readings.pitch) places.push_back(studies::place_text(r));
    for (const auto& r : practice.readings.ring_height) places.push_back(studies::place_text(r));
    values.set("number", static_cast<std::int64_t>(practice.round.number));
    values.set("read", std::move(places));
    if (key.empty())
        values.set("give-up", true);
    else
        values.set("name", std::vector<std::string>{key});
    practice.verdict.ask(question().run, Asked{practice.hidden->described, {}, std::move(values)});
}

std::string path_to_light(const Practice& practice) {
    if (!practice.on()) return {};
    const bool answered = practice.told && !practice.verdict.running() && practice.verdict.outcome();
    const std::string key = answered ? studies::keys_of(practice.hidden->what()).front() : practice.chosen;
    const auto parts = studies::parts_to_name(practice.hidden->described.description());
    const auto lit = std::ranges::find(parts, key, &studies::PartToName::key);
    return lit == parts.end() ? std::string() : lit->path;
}

const std::vector<PracticeHead>& practice_heads() {
    static const std::vector<PracticeHead> heads{{"two_blade_600.toml", "two blades, three servos"},
                                                 {"three_blade_700.toml", "three blades"},
                                                 {"small_two_blade_250.toml", "a small head"},
                                                 {"four_servos_700.toml", "four servos"},
                                                 {"bellcranks_500.toml", "bellcranks"},
                                                 {"link_held_450.toml", "a ring held by a link"},
                                                 {"rocking_spindle_600.toml", "a rocking spindle"},
                                                 {"stabiliser_bar_600.toml", "a stabiliser bar"},
                                                 {"tail_600.toml", "a tail rotor"}};
    return heads;
}

std::uint64_t any_number() {
    std::random_device bits;
    return 1 + bits() % 999'999;
}

}  // namespace swashwright::panels
