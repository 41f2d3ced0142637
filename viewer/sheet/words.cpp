#include "viewer/sheet/words.h"

#include "kinematics/head/inventory.h"

namespace swashwright::sheet {

// All of it common practice, no source.

namespace {

std::vector<std::string> order_of_work_on_a_tail() {
    return {
        "Motor disconnected, or tail and main blades off. Only then power on the receiver and the servos.",
        ("The rotor turns the way the sheet says, seen from the blades' side; with right rudder the servo and the "
         "leading edges go the way of the table."),
        "Trim at zero, rudder centred: horn and levers square to their links, on the nearest tooth first, then by "
        "trim.",
        "Links set by their gauges; the slider stands where the sheet says at centred rudder.",
        "Pitch at centred rudder as wanted, the same on every blade.",
        "Rudder at both ends: pitch as the table says, on every blade; the servo never pushes against a stop.",
        "Rotor turned by hand at both ends: nothing binds, nothing touches, the slider runs freely.",
        "The gyro corrects the right way: swing the nose to the left by hand, and the blades go as with right rudder."};
}

/// Does the list of checks name a part that this head has?
bool hinged_to_the_ring(const head::Description& d) {
    return head::count_of(d, head::Role::upper_link) == 0;
}

}  // namespace

std::vector<std::string> order_of_work(const head::Description& description) {
    if (description.kind == head::Kind::tail) return order_of_work_on_a_tail();
    std::vector<std::string> out{
        "Motor disconnected, or main blades off. Only then power on the receiver and the servos.",
        ("Every servo and the rotor turn the way the table of directions says; with up stick every horn ball goes the "
         "way of the table."),
        "Trims at zero, sticks centred: every horn square to its link, on the nearest tooth first, then by trim.",
        "Lower links set by their gauges; the ring stands level at mid travel, all the way round.",
        "Upper links set by their gauges; zero pitch at mid stick, the same on every blade.",
        "Collective at both ends: pitch as the table says, on every blade.",
        "Full aileron and full elevator: swing as the table says, and the ring leans the way the stick goes.",
        "Sticks into every corner, rotor turned by hand: nothing binds, nothing touches, no link runs out of tilt.",
        "Tracking, first on the bench by the gauge; in the air only by people who know how, well away from others."};
    if (hinged_to_the_ring(description))
        std::erase_if(out, [](const std::string& item) { return item.starts_with("Upper links set"); });
    if (head::count_of(description, head::Role::lower_link) == 0)
        std::erase_if(out, [](const std::string& item) { return item.starts_with("Lower links set"); });
    if (!description.links.empty())
        out.insert(out.begin() + 3, "Every other link set by its gauge, from the servos upwards.");
    return out;
}

std::vector<std::string> retention_checks(const head::Description& description) {
    std::vector<std::string> out;
    if (description.kind == head::Kind::tail)
        out = {"Tail hub tight on its shaft, its screw on the flat.", "Bellcrank and slider free, without side play."};
    else
        out = {"Main shaft bolts in place and tight: head block, and the lower end."};
    if (!description.levers.empty() && description.kind == head::Kind::main)
        out.push_back("Every lever free on its pivot, without play that can be felt; pivot screws in.");
    const std::vector<std::string> for_all{
        "Feathering-spindle bolts tight, with thread lock, both ends.",
        "Thread lock on every screw that goes metal into metal; threads free of oil first.",
        "Thrust bearings greased, their races the right way round.",
        "Ball links free on their balls under their own weight, without play that can be felt.",
        "Blade bolts: so tight that with the model on its side the blades stay out and a shake folds them, the same on "
        "every blade (common practice, no source).",
        ("Pitch-arm and ring balls tight; horn screws in; every link end on its thread by the full depth of its "
         "shank."),
        "All of it looked at once more after the first run."};
    out.insert(out.end(), for_all.begin(), for_all.end());
    return out;
}

std::vector<std::string> cautions() {
    return {
        "On the bench: motor disconnected, or main blades off. A blade that lets go can kill; keep out of the "
        "plane of the rotor, and keep others out of it.",
        "Verify on the model, not on paper or screen: this sheet knows only the numbers that it was given.",
        "The maker's manual, the rules where you fly and your club come first."};
}

}  // namespace swashwright::sheet
