#include "viewer/sheet/words.h"

namespace swashwright::sheet {

// All of it common practice, no source.

std::vector<std::string> order_of_work() {
    return {
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
}

std::vector<std::string> retention_checks() {
    return {"Main shaft bolts in place and tight: head block, and the lower end.",
            "Feathering-spindle bolts tight, with thread lock, both ends.",
            "Thread lock on every screw that goes metal into metal; threads free of oil first.",
            "Thrust bearings greased, their races the right way round.",
            "Ball links free on their balls under their own weight, without play that can be felt.",
            "Blade bolts: blades just tight enough to hold themselves up, the same on every blade.",
            ("Pitch-arm and ring balls tight; horn screws in; every link end on its thread by the full depth of its "
             "shank."),
            "All of it looked at once more after the first run."};
}

std::vector<std::string> cautions() {
    return {
        "On the bench: motor disconnected, or main blades off. A blade that lets go can kill; keep out of the "
        "plane of the rotor, and keep others out of it.",
        "Verify on the model, not on paper or screen: this sheet knows only the numbers that it was given.",
        "The maker's manual, the rules where you fly and your club come first."};
}

}  // namespace swashwright::sheet
