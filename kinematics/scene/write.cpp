// A head description as scene text.
#include <fmt/format.h>

#include <array>
#include <bit>
#include <cstdint>
#include <string_view>

#include "kinematics/scene/scene.h"
#include "kinematics/scene/toml_text.h"

namespace swashwright::scene {
namespace {

std::string vector(const Vec3& v) {
    return fmt::format("[{}, {}, {}]", toml_number(v.x()), toml_number(v.y()), toml_number(v.z()));
}

std::string polar(const head::Polar& p, std::string_view angle_key) {
    return fmt::format("{{ radius_mm = {}, {} = {}, height_mm = {} }}", toml_number(p.radius_mm), angle_key,
                       toml_number(p.angle_deg), toml_number(p.height_mm));
}

std::string polars(const std::vector<head::Polar>& list, std::string_view angle_key) {
    std::string out = "[\n";
    for (const head::Polar& p : list) out += fmt::format("    {},\n", polar(p, angle_key));
    return out + "]";
}

/// Writes lines of "key = value".
class Lines {
public:
    void head(std::string_view heading) { text_ += fmt::format("\n{}\n", heading); }
    void raw(std::string_view key, std::string_view value, std::string_view comment = "") {
        text_ += comment.empty() ? fmt::format("{} = {}\n", key, value)
                                 : fmt::format("{:<36} # {}\n", fmt::format("{} = {}", key, value), comment);
    }
    void number(std::string_view key, double value, std::string_view comment = "") {
        raw(key, toml_number(value), comment);
    }
    void unless_zero(std::string_view key, double value) { unless_default(key, value, 0.0); }
    /// Left out only where it equals the default to the last bit, so a zero's sign is kept.
    void unless_default(std::string_view key, double value, double otherwise) {
        if (std::bit_cast<std::uint64_t>(value) != std::bit_cast<std::uint64_t>(otherwise)) number(key, value);
    }
    void direction_unless(std::string_view key, const Vec3& value, const Vec3& otherwise) {
        if (vector(value) != vector(otherwise)) raw(key, vector(value));
    }
    void if_set(std::string_view key, const std::optional<double>& value) {
        if (value) number(key, *value);
    }
    std::string take() { return std::move(text_); }

private:
    std::string text_;
};

void write_rotor(Lines& out, const head::Rotor& rotor) {
    out.head("[rotor]");
    out.raw("blades", fmt::format("{}", rotor.blades));
    out.raw("direction", rotor.direction == head::Direction::clockwise ? "\"clockwise\"" : "\"anticlockwise\"",
            "seen from above");
    out.number("hub_height_mm", rotor.hub_height_mm, "where the feathering axes cross the shaft");
    out.number("precone_deg", rotor.precone_deg);
    out.number("blade_tip_mm", rotor.blade_tip_mm, "shaft axis to blade tip");
    out.number("head_speed_rpm", rotor.head_speed_rpm);
}

void write_face(Lines& out, const head::Face& face) {
    out.head("[measure_from]");
    out.raw("name", toml_string(face.name));
    out.number("height_mm", face.height_mm, "above the head frame's origin");
}

void write_drive(Lines& out, const head::Servo& servo) {
    const head::Servo usual;
    out.unless_default("pulse_centre_us", servo.pulse_centre_us, usual.pulse_centre_us);
    out.unless_default("pulse_deg_per_us", servo.pulse_deg_per_us, usual.pulse_deg_per_us);
    if (servo.spline_teeth != usual.spline_teeth) out.raw("spline_teeth", fmt::format("{}", servo.spline_teeth));
    if (!servo.horn_holes_mm.empty()) out.raw("horn_holes_mm", toml_list(servo.horn_holes_mm));
    out.direction_unless("stud", servo.stud, usual.stud);
    out.if_set("torque_ncm", servo.rating.torque_ncm);
    out.if_set("torque_kgcm", servo.rating.torque_kgcm);
    out.if_set("seconds_per_60deg", servo.rating.seconds_per_60deg);
    out.if_set("rated_volts", servo.rating.rated_volts);
}

void write_servo(Lines& out, const head::Servo& servo) {
    out.head("[[servo]]");
    out.raw("name", toml_string(servo.name));
    if (const auto* point = std::get_if<Vec3>(&servo.pivot_mm))
        out.raw("pivot_mm", vector(*point));
    else
        out.raw("pivot_mm", polar(std::get<head::Polar>(servo.pivot_mm), "azimuth_deg"));
    out.raw("axis", vector(servo.axis));
    out.raw("horn_zero", vector(servo.horn_zero), "where the horn points at angle 0");
    out.number("horn_mm", servo.horn_mm);
    out.number("neutral_deg", servo.neutral_deg);
    out.unless_zero("trim_deg", servo.trim_deg);
    out.raw("travel_deg", fmt::format("[{}, {}]", toml_number(servo.travel_deg[0]), toml_number(servo.travel_deg[1])),
            "about neutral");
    if (servo.raise) out.raw("raise", fmt::format("{}", *servo.raise));
    out.if_set("collective_weight", servo.collective_weight);
    out.if_set("aileron_weight", servo.aileron_weight);
    out.if_set("elevator_weight", servo.elevator_weight);
    write_drive(out, servo);
}

void write_swashplate(Lines& out, const head::Swashplate& ring) {
    out.head("[swashplate]");
    out.number("neutral_height_mm", ring.neutral_height_mm, "nominal height of the tilt centre");
    if (!ring.tilts) out.raw("moves", "\"slides\"");
    if (!ring.inner_balls.empty()) out.raw("inner_balls", polars(ring.inner_balls, "azimuth_deg"));
    if (ring.guided && ring.tilts) out.raw("guide_pin", polar(ring.guide_pin, "azimuth_deg"));
    out.unless_zero("guide_turn_deg", ring.guide_turn_deg);
    if (!ring.outer_balls.empty()) out.raw("outer_balls", polars(ring.outer_balls, "ahead_deg"));
    if (ring.driver_pins.size() > 1 || (ring.driver_pins_as_list && !ring.driver_pins.empty()))
        out.raw("driver_pins", polars(ring.driver_pins, "ahead_deg"));
    else if (!ring.driver_pins.empty())
        out.raw("driver_pin", polar(ring.driver_pins.front(), "ahead_deg"));
    out.unless_zero("driver_turn_deg", ring.driver_turn_deg);
    const head::Swashplate usual;
    out.direction_unless("inner_stud", ring.inner_stud, usual.inner_stud);
    out.direction_unless("outer_stud", ring.outer_stud, usual.outer_stud);
    if (ring.height_stops_mm) out.raw("height_stops_mm", toml_list(*ring.height_stops_mm));
    out.if_set("tilt_limit_deg", ring.tilt_limit_deg);
    if (ring.driver_reach_mm) out.raw("driver_reach_mm", toml_list(*ring.driver_reach_mm));
    out.if_set("lower_face_mm", ring.lower_face_mm);
}

void write_ends(Lines& out, const std::array<head::BallName, 2>& ends) {
    out.raw("ends", fmt::format("[{}, {}]", toml_string(name_of(ends[0])), toml_string(name_of(ends[1]))));
}

void write_link(Lines& out, std::string_view heading, const head::Link& link) {
    out.head(heading);
    if (!link.name.empty()) out.raw("name", toml_string(link.name));
    if (link.ends) write_ends(out, *link.ends);
    out.number("length_mm", link.length_mm, "ball centre to ball centre");
    out.unless_zero("error_mm", link.error_mm);
    if (link.end_faces == head::EndFaces::one_side) out.raw("end_faces", "\"one side\"");
    const head::Link usual;
    if (link.rod == head::Rod::turnbuckle) out.raw("rod", "\"turnbuckle\"");
    out.unless_default("thread_pitch_mm", link.thread_pitch_mm, usual.thread_pitch_mm);
    const auto ends = [&](std::string_view key, const std::array<double, 2>& sizes,
                          const std::array<double, 2>& otherwise) {
        if (toml_list(sizes) != toml_list(otherwise)) out.raw(key, toml_list(sizes));
    };
    ends("boss_mm", link.boss_mm, usual.boss_mm);
    ends("end_length_mm", link.end_length_mm, usual.end_length_mm);
    out.unless_default("play_mm", link.play_mm, usual.play_mm);
    ends("ball_mm", link.ball_mm, usual.ball_mm);
    ends("socket_mm", link.socket_mm, usual.socket_mm);
    ends("neck_mm", link.neck_mm, usual.neck_mm);
    if (link.tilt_limit_deg) out.raw("tilt_limit_deg", toml_list(*link.tilt_limit_deg));
    out.unless_zero("end_twist_deg", link.end_twist_deg);
    out.unless_default("rod_mm", link.rod_mm, usual.rod_mm);
    out.if_set("rod_length_mm", link.rod_length_mm);
}

void write_grip(Lines& out, const head::Grip& grip) {
    out.head("[[grip]]");
    out.raw("pitch_arm",
            fmt::format("{{ along_mm = {}, lead_mm = {}, up_mm = {} }}", toml_number(grip.pitch_arm.along_mm),
                        toml_number(grip.pitch_arm.lead_mm), toml_number(grip.pitch_arm.up_mm)));
    out.number("pitch_offset_deg", grip.pitch_offset_deg);
    if (grip.stud) out.raw("stud", vector(*grip.stud));
    if (grip.lever) out.raw("on", toml_string(name_of(head::Carrier{head::Carrier::On::lever, *grip.lever})));
    std::string weights;
    for (const head::BalanceWeight& w : grip.weights)
        weights +=
            fmt::format("    {{ mass_g = {}, along_mm = {}, lead_mm = {}, up_mm = {} }},\n", toml_number(w.mass_g),
                        toml_number(w.along_mm), toml_number(w.lead_mm), toml_number(w.up_mm));
    if (!weights.empty()) out.raw("weights", "[\n" + weights + "]");
}

std::string points(const std::vector<Vec3>& list) {
    std::string out;
    for (const Vec3& point : list) out += (out.empty() ? "" : ", ") + vector(point);
    return fmt::format("[{}]", out);
}

void write_carrier(Lines& out, const head::Carrier& carrier, int blade) {
    out.raw("on", toml_string(name_of(carrier)));
    if (blade != 0) out.raw("blade", fmt::format("{}", blade + 1));
}

void write_lever(Lines& out, const head::Lever& lever) {
    out.head("[[lever]]");
    out.raw("name", toml_string(lever.name));
    write_carrier(out, lever.on, lever.blade);
    out.raw("pivot_mm", vector(lever.pivot_mm));
    out.raw("axis", vector(lever.axis));
    out.raw("zero", vector(lever.zero), "where its x points at angle 0");
    out.unless_zero("angle_deg", lever.angle_deg);
    if (lever.by_hand_deg) out.raw("by_hand_deg", toml_list(*lever.by_hand_deg));
    if (!lever.reads.empty()) out.raw("reads", toml_string(lever.reads));
    if (!lever.balls_mm.empty()) out.raw("balls_mm", points(lever.balls_mm));
    if (!lever.studs.empty()) out.raw("studs", points(lever.studs));
}

void write_slider(Lines& out, const head::Slider& slider) {
    out.head("[[slider]]");
    out.raw("name", toml_string(slider.name));
    write_carrier(out, slider.on, slider.blade);
    out.raw("at_mm", vector(slider.at_mm));
    out.raw("axis", vector(slider.axis));
    out.raw("zero", vector(slider.zero));
    out.unless_zero("place_mm", slider.place_mm);
    if (!slider.balls_mm.empty()) out.raw("balls_mm", points(slider.balls_mm));
}

/// What only format 2 has words for, besides ends.
void write_others(Lines& out, const head::Description& head) {
    for (const head::Lever& lever : head.levers) write_lever(out, lever);
    for (const head::Slider& slider : head.sliders) write_slider(out, slider);
    for (const head::FixedBall& ball : head.fixed_balls) {
        out.head("[[fixed_ball]]");
        write_carrier(out, ball.on, ball.blade);
        out.raw("at_mm", vector(ball.at_mm));
    }
    for (const head::Link& link : head.links) write_link(out, "[[link]]", link);
    for (const head::Pin& pin : head.pins) {
        out.head("[[pin]]");
        out.raw("name", toml_string(pin.name));
        write_ends(out, pin.ends);
    }
}

void write_mixing(Lines& out, const head::Description& head) {
    out.head("[mixing]");
    if (head.kind == head::Kind::tail)
        return out.number("rudder_deg", head.mixing.rudder_deg, "horn travel at full rudder");
    out.number("collective_deg", head.mixing.collective_deg, "horn travel at full collective");
    out.number("cyclic_deg", head.mixing.cyclic_deg, "horn travel at full cyclic");
    out.number("phase_deg", head.mixing.phase_deg);
    if (head.mixing.cyclic_stick == head::CyclicStick::square) out.raw("cyclic_stick", "\"square\"");
    out.unless_default("combined_limit", head.mixing.combined_limit, head::Mixing{}.combined_limit);
}

/// A table that is left out where it would be empty.
void write_table(Lines& out, std::string_view heading, Lines keys) {
    if (const std::string text = keys.take(); !text.empty())
        out.head(fmt::format("{}\n{}", heading, text.substr(0, text.size() - 1)));
}

void write_flight(Lines& out, const head::Flight& flight) {
    Lines keys;
    keys.if_set("model_mass_kg", flight.model_mass_kg);
    keys.if_set("power_w", flight.power_w);
    keys.if_set("gear_efficiency", flight.gear_efficiency);
    keys.if_set("air_temperature_c", flight.air_temperature_c);
    keys.if_set("air_height_m", flight.air_height_m);
    write_table(out, "[flight]", std::move(keys));
}

void write_blade(Lines& out, const head::Blade& blade) {
    const head::Blade usual;
    Lines keys;
    keys.if_set("chord_mm", blade.chord_mm);
    keys.if_set("mass_g", blade.mass_g);
    keys.if_set("bolt_mm", blade.bolt_mm);
    keys.unless_default("flap_hinge_mm", blade.flap_hinge_mm, usual.flap_hinge_mm);
    keys.unless_default("flap_stiffness_nm", blade.flap_stiffness_nm, usual.flap_stiffness_nm);
    keys.if_set("thickness_mm", blade.thickness_mm);
    keys.if_set("mass_along_mm", blade.mass_along_mm);
    keys.if_set("bolt_ahead_mm", blade.bolt_ahead_mm);
    keys.if_set("mass_ahead_mm", blade.mass_ahead_mm);
    keys.if_set("mass_spread_mm", blade.mass_spread_mm);
    keys.if_set("edge_ahead_mm", blade.edge_ahead_mm);
    keys.if_set("moment_coefficient", blade.moment_coefficient);
    keys.if_set("profile_drag", blade.profile_drag);
    keys.if_set("lift_slope_per_rad", blade.lift_slope_per_rad);
    write_table(out, "[blade]", std::move(keys));
}

void write_solid(Lines& out, const head::Solid& solid) {
    using Shape = head::Solid::Shape;
    constexpr std::array<const char*, 5> shapes{"capsule", "cylinder", "box", "ring", "mesh"};
    out.head("[[solid]]");
    out.raw("part", toml_string(solid.part));
    out.raw("shape", toml_string(shapes[static_cast<std::size_t>(solid.shape)]));
    out.raw("at_mm", vector(solid.at));
    const bool round = solid.shape == Shape::capsule || solid.shape == Shape::cylinder;
    if (round) out.raw("to_mm", vector(solid.to));
    if (solid.shape == Shape::box) out.raw("size_mm", vector(solid.size_mm));
    if (round || solid.shape == Shape::ring) out.number("diameter_mm", solid.diameter_mm);
    if (solid.shape == Shape::ring) out.number("section_mm", solid.section_mm);
    if (solid.shape == Shape::mesh) out.raw("file", toml_string(solid.file));
}

}  // namespace

std::string write(const Scene& scene) {
    const head::Description& head = scene.head;
    Lines out;
    out.raw("format", fmt::format("{}", head::format_of(head)));
    out.raw("name", toml_string(head.name));
    if (head.kind == head::Kind::tail) out.raw("kind", "\"tail\"");
    if (!scene.note.empty()) out.raw("note", toml_string(scene.note));
    out.unless_default("clearance_mm", head.clearance_mm, head::Description{}.clearance_mm);
    write_rotor(out, head.rotor);
    if (head.measured_from) write_face(out, *head.measured_from);
    for (const head::Servo& servo : head.servos) write_servo(out, servo);
    write_swashplate(out, head.swashplate);
    for (const head::Link& link : head.lower_links) write_link(out, "[[lower_link]]", link);
    for (const head::Link& link : head.upper_links) write_link(out, "[[upper_link]]", link);
    for (const head::Grip& grip : head.grips) write_grip(out, grip);
    write_blade(out, head.blade);
    write_flight(out, head.flight);
    write_others(out, head);
    write_mixing(out, head);
    for (const head::Solid& solid : head.solids) write_solid(out, solid);
    return out.take();
}

}  // namespace swashwright::scene
