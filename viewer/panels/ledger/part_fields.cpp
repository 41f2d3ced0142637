#include "viewer/panels/ledger/part_fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>

#include "viewer/draw/overlay/part_names.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/ledger/field_makers.h"
#include "viewer/panels/ledger/flight_fields.h"
#include "viewer/panels/ledger/linkage_fields.h"

namespace swashwright::panels {

namespace {

using draw::Part;
using head::Description;
using head::Role;
using List = Numbers::List;

const Look plain{}, whole{0, 1}, tenths{1, 0.1}, weights{3, 0.01}, fine{3, 0.001}, gains{4, 0.001};
const Look ends{2, 0.01, {"lower end", "upper end"}}, range{2, 0.1, {"least", "most"}}, tilts{1, 0.5, ends.each};
const Look coordinates{2, 0.1, {"x", "y", "z"}};

std::string holes_text(const std::vector<double>& holes, bool inches) {
    std::string out;
    for (const double hole : holes) out += (out.empty() ? "" : " ") + whole_length(hole, inches);
    return out;
}

Words horn_holes(std::size_t j, bool inches) {
    return {[j, inches](const scene::Scene& s) { return holes_text(s.head.servos[j].horn_holes_mm, inches); },
            [j, inches](scene::Scene& s, const std::string& typed) -> tl::expected<void, std::string> {
                std::istringstream stream(typed);
                auto& before = s.head.servos[j].horn_holes_mm;
                std::vector<double> holes;
                for (std::string word; stream >> word;) {
                    // One that reads the same stays what it was, to the last digit.
                    const auto same =
                        std::ranges::find(before, word, [&](double hole) { return whole_length(hole, inches); });
                    const auto hole = same != before.end() ? std::optional(*same) : typed_length(word, inches);
                    if (!hole)
                        return tl::unexpected(
                            fmt::format("\"{}\" is not a number; type lengths in {} with blanks between them", word,
                                        inches ? "inches" : "mm"));
                    holes.push_back(*hole);
                }
                before = std::move(holes);
                return {};
            }};
}

/// A direction of the servo; the other is turned with it so that the two stay square.
Numbers servo_direction(std::size_t j, Vec3 head::Servo::*typed, Vec3 head::Servo::*other) {
    const auto at = [j](auto member) { return [j, member](Description& d) -> Vec3& { return d.servos[j].*member; }; };
    return square_direction(at(typed), at(other), frame_directions);
}

Alternatives pivot_form(std::size_t j) {
    return {
        {"forward, left, height", "radius and azimuth"},
        [j](const Description& d) { return d.servos[j].pivot_mm.index(); },
        [j](Description& d, std::size_t form) {
            const Vec3 p = head::pivot_point(d.servos[j].pivot_mm);
            if (form == 0)
                d.servos[j].pivot_mm = p;
            else
                d.servos[j].pivot_mm = head::Polar{std::hypot(p.x(), p.y()), std::atan2(p.y(), p.x()) / degree, p.z()};
        }};
}

Alternatives raise(std::size_t j) {
    return {{"as it lies", "up", "down"},
            [j](const Description& d) -> std::size_t {
                const auto& sense = d.servos[j].raise;
                return !sense ? 0 : *sense > 0 ? 1 : 2;
            },
            [j](Description& d, std::size_t chosen) {
                if (chosen == 0)
                    d.servos[j].raise.reset();
                else
                    d.servos[j].raise = chosen == 1 ? 1 : -1;
            }};
}

using Fields = std::vector<Field>;

Fields servo_fields(std::size_t j, bool inches) {
    using head::Servo;
    const Servo usual;
    const auto at = [j](auto member) {
        return [ j, member ](Description & d) -> auto& {
            return d.servos[j].*member;
        };
    };
    Fields fields{
        {"name", "Name", "One line", text([j](scene::Scene& s) -> std::string& { return s.head.servos[j].name; })},
        {"pivot_mm", "Pivot given by", "How the place of the output shaft is given", pivot_form(j)},
        {"axis", "Output shaft points to", "Forward is to the nose. The horn is turned to stay square to it.",
         servo_direction(j, &Servo::axis, &Servo::horn_zero)},
        {"horn_zero", "Horn at angle 0 points to",
         "Forward is to the nose. The output shaft is turned to stay square to it.",
         servo_direction(j, &Servo::horn_zero, &Servo::axis)},
        {"raise", "A growing angle moves the ball", "Only to be told where the horn stands nearly upright at neutral",
         raise(j)},
        {"collective_weight", "Collective weight", "In place of 1: for unequal radii or horns",
         perhaps(at(&Servo::collective_weight), 1.0, weights)},
        {"aileron_weight", "Aileron weight", "In place of sin(azimuth + phase)",
         perhaps(at(&Servo::aileron_weight), 0.0, weights)},
        {"elevator_weight", "Elevator weight", "In place of -cos(azimuth + phase)",
         perhaps(at(&Servo::elevator_weight), 0.0, weights)},
        {"pulse_centre_us", "Pulse at neutral, \xC2\xB5s", "Moves nothing here: what the answers on pulses need",
         usually(at(&Servo::pulse_centre_us), usual.pulse_centre_us, whole)},
        {"pulse_deg_per_us", "Angle for each \xC2\xB5s, \xC2\xB0", "Negative if a longer pulse turns it back",
         usually(at(&Servo::pulse_deg_per_us), usual.pulse_deg_per_us, gains)},
        {"spline_teeth", "Teeth of the output shaft", "Steps in which the horn can be set",
         usually(at(&Servo::spline_teeth), usual.spline_teeth, whole)},
        {"horn_holes_mm", inches ? "Holes of the horn (in)" : "Holes of the horn (mm)",
         "Their lengths with blanks between them; empty: only the present one", horn_holes(j, inches)},
        {"stud", "Ball stud: along horn, across, along shaft", "From its foot to the ball; any length",
         usually(at(&Servo::stud), usual.stud, Look{3, 0.01, {"along", "across", "shaft"}})},
    };
    for (Field& field : rating_fields(j)) fields.push_back(std::move(field));
    return fields;
}

/// How a link is made.
Fields made_fields(const Part& link) {
    using head::Link;
    const Link usual;
    const auto made = [link](auto& d) -> auto& {
        return *head::link_of(d, link);
    };
    const auto at = [made](auto member) {
        return [ made, member ](Description & d) -> auto& {
            return made(d).*member;
        };
    };
    const Alternatives rod{
        {"plain", "turnbuckle"},
        [made](const Description& d) -> std::size_t { return made(d).rod == head::Rod::turnbuckle ? 1 : 0; },
        [made](Description& d, std::size_t chosen) {
            made(d).rod = chosen == 1 ? head::Rod::turnbuckle : head::Rod::plain;
        }};
    const Alternatives faces{
        {"either side", "one side"},
        [made](const Description& d) -> std::size_t { return made(d).end_faces == head::EndFaces::one_side ? 1 : 0; },
        [made](Description& d, std::size_t chosen) {
            made(d).end_faces = chosen == 1 ? head::EndFaces::one_side : head::EndFaces::either;
        }};
    return {
        {"rod", "Rod", "Turned at one end, or a body with left-hand and right-hand thread", rod},
        {"end_faces", "Ends press on from", "One side: an end can be turned by whole turns only", faces},
        {"thread_pitch_mm", "Thread pitch, mm", "M2: 0.40 mm, M2.5: 0.45 mm, M3: 0.50 mm (ISO 261, coarse)",
         usually(at(&Link::thread_pitch_mm), usual.thread_pitch_mm, plain)},
        {"boss_mm", "Diameter of the bosses, mm", "What a calliper over or between the ends touches",
         usually(at(&Link::boss_mm), usual.boss_mm, ends)},
        {"end_length_mm", "Ball centre to end of shank, mm", "The bare rod is the length without both",
         usually(at(&Link::end_length_mm), usual.end_length_mm, ends)},
        {"play_mm", "Play in each end, mm", "Radial", usually(at(&Link::play_mm), usual.play_mm, fine)},
        {"ball_mm", "Diameter of the balls, mm", "", usually(at(&Link::ball_mm), usual.ball_mm, ends)},
        {"socket_mm", "Width of the sockets, mm", "At the ball", usually(at(&Link::socket_mm), usual.socket_mm, ends)},
        {"neck_mm", "Neck of the studs, mm", "Diameter", usually(at(&Link::neck_mm), usual.neck_mm, ends)},
        {"tilt_limit_deg", "Ends tilt up to, \xC2\xB0", "In place of what ball, socket and neck give",
         perhaps(at(&Link::tilt_limit_deg), std::array{25.0, 25.0}, tilts)},
        {"end_twist_deg", "Ends twisted by, \xC2\xB0", "From the lower socket to the upper one, right-handed upwards",
         usually(at(&Link::end_twist_deg), usual.end_twist_deg, tenths)},
        {"rod_mm", "Diameter of the rod, mm", "", usually(at(&Link::rod_mm), usual.rod_mm, plain)},
        {"rod_length_mm", "Length of the rod, end to end, mm", "Not given: not cut yet",
         perhaps(at(&Link::rod_length_mm), 30.0, tenths)},
    };
}

Fields link_fields(const Part& link) {
    Fields fields = end_fields(link);
    for (Field& field : made_fields(link)) fields.push_back(std::move(field));
    return fields;
}

Fields ring_fields(bool inner, const Description& description) {
    using head::Swashplate;
    const Swashplate usual;
    const double height = description.swashplate.neutral_height_mm;
    const Look stud{3, 0.01, {"out", "turning", "up"}};
    const auto at = [](auto member) {
        return [member](Description & d) -> auto& {
            return d.swashplate.*member;
        };
    };
    const Fields of_driver{{"driver_reach_mm", "Driver pins from the shaft axis, mm",
                            "How near and how far they can slide",
                            perhaps(at(&Swashplate::driver_reach_mm), std::array{5.0, 60.0}, range)}};
    if (!inner) {
        Fields fields{{"outer_stud", "Ball studs: out, turning, up",
                       "From foot to ball, alike for all balls of the ring",
                       usually(at(&Swashplate::outer_stud), usual.outer_stud, stud)}};
        if (!description.swashplate.driver_pins.empty())
            fields.insert(fields.end(), of_driver.begin(), of_driver.end());
        return fields;
    }
    Fields fields{{"inner_stud", "Ball studs: out, turning, up", "From foot to ball, alike for all balls of the ring",
                   usually(at(&Swashplate::inner_stud), usual.inner_stud, stud)},
                  {"height_stops_mm", "Tilt centre's stops on the shaft, mm", "Lowest and highest",
                   perhaps(at(&Swashplate::height_stops_mm), std::array{height - 15, height + 15}, range)},
                  {"lower_face_mm", "Lower face from the tilt centre, mm", "Along the ring's normal; below is negative",
                   perhaps(at(&Swashplate::lower_face_mm), -6.0, tenths)}};
    if (description.swashplate.tilts)
        fields.push_back({"tilt_limit_deg", "Ring tilts up to, \xC2\xB0", "On its ball or bearing",
                          perhaps(at(&Swashplate::tilt_limit_deg), 20.0, tenths)});
    return fields;
}

Fields grip_fields(std::size_t k, const Description& description, bool inches) {
    Fields fields{{"stud", "Ball stud: out, leading, up", "From foot to ball; not given: leading, as the arm",
                   perhaps(
                       [k](Description & d) -> auto& { return d.grips[k].stud; }, Vec3(0, 1, 0),
                       Look{3, 0.01, {"out", "leading", "up"}})}};
    fields.push_back(weights_field(k, inches));
    if (!description.levers.empty()) fields.insert(fields.begin(), grip_lever_field(k));
    return fields;
}

/// The face from which a calliper reads heights.
Fields face_fields() {
    const Words name{[](const scene::Scene& s) {
                         return s.head.measured_from.value_or(head::Face{"", 0}).name;
                     },
                     [](scene::Scene& s, const std::string& typed) -> tl::expected<void, std::string> {
                         if (!s.head.measured_from)
                             return tl::unexpected(std::string("give the height of the face first"));
                         s.head.measured_from->name = typed;
                         return {};
                     }};
    Numbers height;
    height.usual = {0};
    height.may_be_missing = true;
    height.step = 0.1;
    height.read = [](const Description& d) {
        return d.measured_from ? std::optional(list_of(d.measured_from->height_mm)) : std::nullopt;
    };
    height.write = [](Description& d, const std::optional<List>& list) {
        if (!list) return d.measured_from.reset();
        if (!d.measured_from) d.measured_from.emplace();
        take(d.measured_from->height_mm, *list);
    };
    return {{"measure_from.height_mm", "Heights are read from a face at, mm",
             "Where a calliper stands, above the height that the head's numbers count from", height},
            {"measure_from.name", "That face is called", "As the top of the bearing block", name}};
}

Fields head_fields(const Description& description) {
    const Alternatives direction{
        {"clockwise", "anticlockwise"},
        [](const Description& d) -> std::size_t { return d.rotor.direction == head::Direction::clockwise ? 0 : 1; },
        [](Description& d, std::size_t chosen) {
            d.rotor.direction = chosen == 0 ? head::Direction::clockwise : head::Direction::anticlockwise;
        }};
    Fields fields{
        {"name", "Name", "One line", text([](scene::Scene& s) -> std::string& { return s.head.name; })},
        {"note", "Note", "Shown to people; a line ends with Enter",
         text([](scene::Scene& s) -> std::string& { return s.note; }, true)},
        {"direction", description.kind == head::Kind::tail ? "Turns, from the blades' side" : "Turns, from above", "",
         direction},
        {"clearance_mm", "Gap wanted between parts, mm", "Between parts that are not joined",
         usually(
             [](Description & d) -> auto& { return d.clearance_mm; }, Description{}.clearance_mm, plain)}};
    for (Field& field : face_fields()) fields.push_back(std::move(field));
    for (Field& field : flight_fields()) fields.push_back(std::move(field));
    return fields;
}

Fields mixing_fields() {
    const Alternatives cyclic{
        {"circle", "square"},
        [](const Description& d) -> std::size_t { return d.mixing.cyclic_stick == head::CyclicStick::circle ? 0 : 1; },
        [](Description& d, std::size_t chosen) {
            d.mixing.cyclic_stick = chosen == 0 ? head::CyclicStick::circle : head::CyclicStick::square;
        }};
    return {
        {"cyclic_stick", "Cyclic stick goes in a", "Square: full aileron and full elevator at once are let through",
         cyclic},
        {"combined_limit", "Sticks together, at most", "Of collective and cyclic: the transmitter lets no more through",
         usually(
             [](Description & d) -> auto& { return d.mixing.combined_limit; }, head::Mixing{}.combined_limit, plain)}};
}

/// Numbers of the shapes that ride on a part: what else may touch.
void add_solids(Fields& fields, const Description& description, const Part& part) {
    using Shape = head::Solid::Shape;
    constexpr std::array<const char*, 5> shapes{"capsule", "cylinder", "box", "ring", "mesh"};
    for (std::size_t i = 0; i < description.solids.size(); ++i) {
        const head::Solid& solid = description.solids[i];
        auto rides = draw::part_of(solid.part);
        if (rides && rides->role == Role::frame) rides = Part{Role::hub, 0};
        if (!rides || *rides != part) continue;
        const auto add = [&](const char* key, const char* words, auto member, const Look& look) {
            fields.push_back(
                {fmt::format("solid[{}].{}", i + 1, key),
                 fmt::format("Shape {}, {}: {}, mm", i + 1, shapes[static_cast<std::size_t>(solid.shape)], words),
                 "In the frame of the part that it is fixed to",
                 always(
                     [ i, member ](Description & d) -> auto& { return d.solids[i].*member; }, look)});
        };
        const bool round = solid.shape == Shape::capsule || solid.shape == Shape::cylinder;
        add("at_mm", round ? "one end" : "middle", &head::Solid::at, coordinates);
        if (round) add("to_mm", "other end", &head::Solid::to, coordinates);
        if (solid.shape == Shape::box) add("size_mm", "edges", &head::Solid::size_mm, coordinates);
        if (round || solid.shape == Shape::ring) add("diameter_mm", "diameter", &head::Solid::diameter_mm, plain);
        if (solid.shape == Shape::ring) add("section_mm", "section", &head::Solid::section_mm, plain);
    }
}

Fields own_fields(const Description& description, const Part& part, bool inches) {
    const auto i = static_cast<std::size_t>(std::max(0, part.index));
    switch (part.role) {
        case Role::servo:
            return i < description.servos.size() ? servo_fields(i, inches) : Fields{};
        case Role::lower_link:
        case Role::upper_link:
        case Role::other_link:
            return head::link_of(description, part) != nullptr ? link_fields(part) : Fields{};
        case Role::lever:
            return i < description.levers.size() ? lever_fields(description, i) : Fields{};
        case Role::slider:
            return i < description.sliders.size() ? slider_fields(description, i) : Fields{};
        case Role::grip:
            return i < description.grips.size() ? grip_fields(i, description, inches) : Fields{};
        case Role::blade:
            return blade_fields(description);
        case Role::inner_ring:
        case Role::outer_ring:
            return ring_fields(part.role == Role::inner_ring, description);
        case Role::hub:
            return head_fields(description);
        case Role::frame:
            return description.kind == head::Kind::tail ? Fields{} : mixing_fields();
        default:
            return {};
    }
}

}  // namespace

std::vector<Field> fields_of(const Description& description, const Part& part, bool inches) {
    Fields fields = own_fields(description, part, inches);
    add_solids(fields, description, part);
    return fields;
}

std::string form_title(const Description& description, const Part& part) {
    switch (part.role) {
        case Role::frame:
            return "the mixing";
        case Role::grip:
            return draw::name_of(part);
        case Role::inner_ring:
        case Role::outer_ring:
            return "the " + draw::trade_name_of(part, description);
        case Role::servo:
        case Role::lower_link:
        case Role::upper_link:
        case Role::other_link:
        case Role::lever:
        case Role::slider:
        case Role::blade:
            return draw::trade_name_of(part, description);
        default:
            return "the head";
    }
}

}  // namespace swashwright::panels
