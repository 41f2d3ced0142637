#include "viewer/sheet/words.h"

#include <fmt/format.h>

#include "kinematics/head/inventory.h"

namespace swashwright::sheet {

// All of it common practice, no source.

namespace {

std::vector<std::string> order_of_work_on_a_tail() {
    return {
        "Motor disconnected; tail and main blades off too unless the step needs them. The horn off its servo for the "
        "first power-up: a servo can run to its end.",
        "While measuring: the gyro in its set-up mode or off, straight curves, equal ends, trim and sub-trim at zero.",
        ("The rotor turns the way the sheet says, seen from the blades' side; with right rudder the servo and the "
         "leading edges go the way of the table."),
        "Rudder centred: horn and levers square to their links, on the nearest tooth first, then by sub-trim.",
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
        "Motor disconnected; main blades off too unless the step needs them. The horns off their servos for the first "
        "power-up: a servo can run to its end.",
        "While measuring: stabiliser electronics in set-up mode or off, straight curves, equal ends, trims and "
        "sub-trims at zero.",
        ("Every servo and the rotor turn the way the table of directions says; with up stick every horn ball goes the "
         "way of the table. Where up stick is right and aileron or elevator is not, the sign of that mix is wrong: "
         "reverse no servo then."),
        "Sticks centred: every horn square to its link, on the nearest tooth first, then by sub-trim.",
        "Lower links set by their gauges; the ring stands level at mid travel, all the way round.",
        "Upper links set by their gauges; zero pitch at mid stick, the same on every blade.",
        "Collective at both ends: pitch as the table says, on every blade.",
        "Full aileron and full elevator: swing as the table says, and the ring leans the way the stick goes.",
        "Sticks into every corner, rotor turned by hand: nothing binds, nothing touches, no link runs out of tilt.",
        "Tracking, first on the bench by the gauge. In the air only by people who know how: blade tips marked in two "
        "colours, everybody well back, and never a head in the plane of the disc."};
    if (hinged_to_the_ring(description))
        std::erase_if(out, [](const std::string& item) { return item.starts_with("Upper links set"); });
    if (head::count_of(description, head::Role::lower_link) == 0)
        std::erase_if(out, [](const std::string& item) { return item.starts_with("Lower links set"); });
    if (!description.links.empty())
        out.insert(out.begin() + 4, "Every other link set by its gauge, from the servos upwards.");
    return out;
}

std::vector<std::string> retention_checks(const head::Description& description) {
    std::vector<std::string> out;
    const bool tail = description.kind == head::Kind::tail;
    if (tail)
        out = {"Tail hub tight on its shaft, its screw on the flat.", "Bellcrank and slider free, without side play."};
    else
        out = {"Main shaft bolts in place and tight: head block, and the lower end."};
    if (!description.levers.empty() && !tail)
        out.push_back("Every lever free on its pivot, without play that can be felt; pivot screws in.");
    const std::vector<std::string> for_all{
        "Thread lock on every screw that goes metal into metal, one drop, threads free of oil first. Never on plastic, "
        "which it can crack, and never where it can run into a bearing.",
        (tail ? std::string("On the spindle, both sides alike, the washers and spacers in the maker's order.")
              : std::string("On the spindle, both sides alike, from the hub outwards: damper, spacer, grip bearings, "
                            "thrust bearing, washer, bolt. Dampers with a little silicone grease.")),
        ("Thrust bearings greased, races the right way round: push both over the bare spindle. The one that goes over "
         "it loosely lies towards the hub, on the grip's shoulder; the one that fits it closely lies outwards, under "
         "the washer of the spindle bolt. So the blade's pull goes from grip to balls to bolt."),
        "Feathering-spindle bolts tight, with thread lock, both ends; new ones after every crash. After that the grips "
        "turn freely by hand.",
        ("Blade bolts: so tight that with the model on its side the blades stay out and a shake folds them, the same "
         "on every blade."),
        "Ball links free on their balls under their own weight, without play that can be felt.",
        ("Pitch-arm and ring balls tight; horn screws in. Both ends of a link turned on equally far, each over at "
         "least two thread diameters."),
        "All of it looked at once more after the first run."};
    out.insert(out.end(), for_all.begin(), for_all.end());
    return out;
}

std::vector<std::string> after_crash(const head::Description& description) {
    const bool tail = description.kind == head::Kind::tail;
    std::vector<std::string> out{
        "Battery out and main blades off before anything is turned. What is bent, cracked or in doubt is replaced: "
        "never bent back, and never trimmed out by a link.",
        (tail
             ? "Tail spindle out and rolled on glass: light under it that comes and goes means a bend, and a new one."
             : "Feathering spindle out and rolled on glass: light under it that comes and goes means a bend, and a new "
               "one."),
        (tail ? "Tail shaft turned by hand past a pointer held still close to it: no gap that comes and goes."
              : "Main shaft turned by hand past a pointer held still close to it, above and below the swashplate: no "
                "gap that comes and goes. Or out, and rolled on glass."),
        "Bolts of spindle, shaft and blades: new, however good they look, with thread lock where metal meets metal.",
        "Grips and pitch arms laid side by side: alike, without cracks, their balls upright and tight.",
        "Every link off: straight when rolled on glass, as long as its gauge on the build sheet, its ends without "
        "white marks or cracks, without play on their balls."};
    if (!tail)
        out.emplace_back("Swashplate turns freely without play; guide pin, its slot and the driver arms straight.");
    if (!description.levers.empty() || !description.sliders.empty())
        out.emplace_back("Levers, bellcranks and sliders straight, free on their pivots, without side play.");
    const std::vector<std::string> for_all{
        "Horns and splines: every horn where it was at mid stick. One that is a whole tooth off has jumped: look at "
        "the teeth of horn and shaft, and replace what is worn.",
        "Servo gears: slowly through the whole travel by hand, no power, where the maker allows it: no rough place, "
        "no slip. Then under power the same stick three times: the horn comes back to the same place.",
        "Every bearing turned by hand: smooth, without play. Thrust bearings opened: no dents in the races.",
        (tail ? "Tail blades: no crack, no loose root; replaced in pairs."
              : "Main blades: flexed gently and looked along: no crack, no loose root, no open edge. Replaced as a "
                "set."),
        (tail ? "Drive of the tail: boom straight, belt or shaft whole, gears with every tooth. Then the main rotor."
              : "Tail: boom, tail shaft, spindle bolts, grips, links, belt or drive shaft, blades. And every tooth of "
                "the main gear."),
        "Set up anew from the first line of the order of work, and readings compared with those from before."};
    out.insert(out.end(), for_all.begin(), for_all.end());
    return out;
}

std::vector<std::string> cautions(const std::string& knower) {
    return {
        "On the bench: motor disconnected; main blades off too unless the step needs them (gauge, folding, tracking). "
        "A blade that lets go can kill: keep out of the plane of the rotor, and keep others out of it.",
        fmt::format("Verify on the model, not on paper or screen: {} knows only the numbers that it was given.",
                    knower),
        "The maker's manual, the rules where you fly and your club come first."};
}

}  // namespace swashwright::sheet
