#include "viewer/panels/bench/readout.h"

#include <utility>

#include "kinematics/head/hands.h"
#include "kinematics/head/standing.h"

namespace swashwright::panels {

std::vector<double> hand_angles(const head::Head& head, const Hands& hands) {
    std::vector<double> out;
    for (const head::Parts::Hand& hand : head.parts().hands) {
        const auto moved = hands.find(hand.lever);
        out.push_back(moved != hands.end() ? moved->second
                                           : head.description().levers[static_cast<std::size_t>(hand.lever)].angle_deg);
    }
    return out;
}

bool Follower::update(const document::Document& document, const Controls& controls, studies::Causes causes) {
    const bool new_scene = document.revision() != revision_;
    const bool new_sticks = new_scene || sticks_ != controls.sticks || hands_ != controls.hands || causes_ != causes;
    if (!new_sticks && azimuth_deg_ == controls.azimuth_deg) return false;
    revision_ = document.revision();
    sticks_ = controls.sticks;
    hands_ = controls.hands;
    azimuth_deg_ = controls.azimuth_deg;
    causes_ = causes;

    if (new_scene) build(document);
    readout_.hangs = build_failure_.has_value();
    if (build_failure_) {
        if (new_scene) stand(document);
        readout_.closes = false;
        readout_.shortfalls = build_failure_->shortfalls;
        readout_.curve.reset();
        readout_.sentence = studies::sentence(*build_failure_);
        return true;
    }
    const bool closed = readout_.closes;
    pose(document, controls);
    // The sentence speaks of whole turns, so turning the rotor does not change it.
    if (!new_sticks && closed && readout_.closes) return true;
    const head::Head moved =
        with_hands(*readout_.head, hand_angles(*readout_.head, controls.hands)).value_or(*readout_.head);
    auto curve = studies::turn_curve(moved, controls.sticks);
    readout_.sentence = studies::sentence(moved, controls.sticks, controls.azimuth_deg, curve, causes);
    readout_.curve.reset();
    if (curve) readout_.curve = std::move(*curve);
    return true;
}

void Follower::build(const document::Document& document) {
    auto built = head::Head::build(document.head());
    build_failure_.reset();
    if (built)
        readout_.head = std::move(*built);
    else
        build_failure_ = std::move(built.error());
}

/// What hangs free is drawn where it stands.
void Follower::stand(const document::Document& document) {
    auto& shown = readout_.shown;
    if (!shown) return;
    shown->pose = head::standing(document.head(), shown->description, shown->pose);
    shown->description = document.head();
    shown->revision = document.revision();
}

void Follower::pose(const document::Document& document, const Controls& controls) {
    const head::Head& head = *readout_.head;
    const std::vector<double> hands = hand_angles(head, controls.hands);
    auto pose = head.pose(controls.sticks, controls.azimuth_deg, hands);
    readout_.closes = pose.has_value();
    readout_.shortfalls.clear();
    if (pose) {
        if (!readout_.shown || readout_.shown->revision != document.revision())
            readout_.shown = Shown{document.head(), {}, document.revision(), {}, 0, {}};
        readout_.shown->pose = std::move(*pose);
        readout_.shown->sticks = controls.sticks;
        readout_.shown->azimuth_deg = controls.azimuth_deg;
        readout_.shown->hands = controls.hands;
        readout_.shown_is_nearest = false;
        return;
    }
    readout_.shortfalls = pose.error().shortfalls;
    if (readout_.shown && !readout_.shown_is_nearest) return;  // the last good pose stays
    head::NearestFit nearest = head.nearest(head.horn_angles_deg(controls.sticks), controls.azimuth_deg, hands);
    readout_.shown = Shown{document.head(), std::move(nearest.pose), document.revision(),
                           controls.sticks, controls.azimuth_deg,    controls.hands};
    readout_.shown_is_nearest = true;
    if (readout_.shortfalls.empty()) readout_.shortfalls = std::move(nearest.shortfalls);
}

}  // namespace swashwright::panels
