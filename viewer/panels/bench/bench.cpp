#include "viewer/panels/bench/bench.h"

#include <algorithm>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/scene/refusal.h"

namespace swashwright::panels {

tl::expected<void, std::string> Bench::edit(scene::Scene next, const std::string& label, bool run) {
    if (auto why = scene::refusal(document_.scene(), next)) return tl::unexpected(std::move(*why));
    document_.edit(std::move(next), label);
    if (!run) document_.seal();
    return {};
}

tl::expected<void, std::string> Bench::build(scene::Scene next, const std::string& label) {
    if (auto why = scene::refusal(document_.scene(), next, /*hanging=*/true)) return tl::unexpected(std::move(*why));
    document_.edit(std::move(next), label);
    document_.seal();
    return {};
}

void Bench::show(document::Document document) {
    document_ = std::move(document);
    controls = Controls{};
    forget_pose();
}

namespace {

/// Says what came of an edit.
bool noted(Screen& screen, const Bench& bench, const std::string& name, tl::expected<void, std::string> done) {
    if (!done) {
        refuse(screen, bench, name, std::move(done.error()));
        return false;
    }
    screen.entry.refused.clear();
    screen.entry.assumed.clear();
    return true;
}

}  // namespace

bool try_edit(Screen& screen, Bench& bench, scene::Scene next, const std::string& name, bool run) {
    return noted(screen, bench, name, bench.edit(std::move(next), name, run));
}

bool try_build(Screen& screen, Bench& bench, scene::Scene next, const std::string& name) {
    return noted(screen, bench, name, bench.build(std::move(next), name));
}

void refuse(Screen& screen, const Bench& bench, const std::string& name, std::string why) {
    screen.entry.refused = name;
    screen.entry.why = std::move(why);
    screen.entry.refused_at = bench.document().revision();
}

void centre_sticks(Bench& bench) {
    bench.controls.sticks = {};
    bench.controls.hands.clear();
}

void move_hand(Bench& bench, int lever, double angle_deg) {
    if (lever < 0 || static_cast<std::size_t>(lever) >= bench.head().levers.size()) return;
    const head::Lever& moved = bench.head().levers[static_cast<std::size_t>(lever)];
    if (!moved.by_hand_deg) return;
    bench.controls.hands[lever] = std::clamp(angle_deg, (*moved.by_hand_deg)[0], (*moved.by_hand_deg)[1]);
}

void hold_back(Bench& bench) {
    bench.controls.sticks = head::held_back(bench.head().mixing, bench.controls.sticks);
}

void go_to(Bench& bench, const head::Sticks& sticks, double azimuth_deg) {
    bench.controls.sticks = sticks;
    bench.controls.azimuth_deg = head::within_turn_deg(azimuth_deg);
    bench.controls.turning = false;
}

void advance(Controls& controls, double seconds) {
    if (!controls.turning) return;
    controls.azimuth_deg =
        head::within_turn_deg(controls.azimuth_deg + 6.0 * controls.turn_rpm * seconds);  // 1 rpm = 6 deg/s
}

}  // namespace swashwright::panels
