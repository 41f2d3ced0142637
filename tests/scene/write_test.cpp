// What is written is what is read, to the last bit.
#include "kinematics/scene/scene.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <filesystem>

#include "tests/scene/scenes.h"

namespace swashwright::scene {
namespace {

constexpr std::optional<double> head::Blade::*of_blade[] = {
    &head::Blade::thickness_mm,       &head::Blade::mass_along_mm,  &head::Blade::bolt_ahead_mm,
    &head::Blade::mass_ahead_mm,      &head::Blade::mass_spread_mm, &head::Blade::edge_ahead_mm,
    &head::Blade::moment_coefficient, &head::Blade::profile_drag,   &head::Blade::lift_slope_per_rad};
constexpr std::optional<double> head::Flight::*of_flight[] = {
    &head::Flight::model_mass_kg, &head::Flight::power_w, &head::Flight::gear_efficiency,
    &head::Flight::air_temperature_c, &head::Flight::air_height_m};

/// Everything in a scene, spelled so that two scenes are the same to the last bit exactly if their spellings are.
std::string spelled(const Scene& scene) {
    std::string out;
    const auto number = [&](double x) { out += std::to_string(std::bit_cast<std::uint64_t>(x)) + ' '; };
    const auto vector = [&](const Vec3& v) { number(v.x()), number(v.y()), number(v.z()); };
    const auto polar = [&](const head::Polar& p) { number(p.radius_mm), number(p.angle_deg), number(p.height_mm); };
    const auto polars = [&](const std::vector<head::Polar>& list) {
        for (const auto& p : list) polar(p);
        out += ';';
    };
    const auto optional = [&](const auto& x) { x ? number(*x) : void(out += "- "); };
    const auto range = [&](const std::optional<std::array<double, 2>>& x) {
        x ? (number((*x)[0]), number((*x)[1])) : void(out += "- ");
    };
    const auto links = [&](const std::vector<head::Link>& list) {
        for (const auto& link : list) {
            number(link.length_mm), number(link.error_mm), number(static_cast<int>(link.end_faces));
            number(static_cast<int>(link.rod)), number(link.thread_pitch_mm), number(link.play_mm);
            number(link.boss_mm[0]), number(link.boss_mm[1]), number(link.end_length_mm[0]);
            number(link.end_length_mm[1]);
            for (const auto* sizes : {&link.ball_mm, &link.socket_mm, &link.neck_mm})
                number((*sizes)[0]), number((*sizes)[1]);
            range(link.tilt_limit_deg), number(link.end_twist_deg), number(link.rod_mm), optional(link.rod_length_mm);
        }
        out += ';';
    };
    const head::Description& head = scene.head;
    out += head.name + '|' + scene.note + '|';
    number(head.rotor.blades), number(static_cast<int>(head.rotor.direction)), number(head.rotor.hub_height_mm);
    number(head.rotor.precone_deg), number(head.rotor.blade_tip_mm), number(head.rotor.head_speed_rpm);
    for (const auto& servo : head.servos) {
        out += servo.name + '|';
        if (const auto* point = std::get_if<Vec3>(&servo.pivot_mm)) {
            out += "point ";
            vector(*point);
        } else {
            polar(std::get<head::Polar>(servo.pivot_mm));
        }
        vector(servo.axis), vector(servo.horn_zero), number(servo.horn_mm), number(servo.neutral_deg);
        number(servo.trim_deg), number(servo.travel_deg[0]), number(servo.travel_deg[1]), optional(servo.raise);
        optional(servo.collective_weight), optional(servo.aileron_weight), optional(servo.elevator_weight);
        number(servo.pulse_centre_us), number(servo.pulse_deg_per_us), number(servo.spline_teeth);
        for (const double hole : servo.horn_holes_mm) number(hole);
        vector(servo.stud);
        optional(servo.rating.torque_ncm), optional(servo.rating.torque_kgcm);
        optional(servo.rating.seconds_per_60deg), optional(servo.rating.rated_volts);
        out += ';';
    }
    const head::Swashplate& ring = head.swashplate;
    number(ring.neutral_height_mm), polars(ring.inner_balls), polar(ring.guide_pin), number(ring.guide_turn_deg);
    polars(ring.outer_balls), polars(ring.driver_pins), number(ring.driver_pins_as_list), number(ring.driver_turn_deg);
    vector(ring.inner_stud), vector(ring.outer_stud), range(ring.height_stops_mm), range(ring.driver_reach_mm);
    optional(ring.tilt_limit_deg), optional(ring.lower_face_mm);
    if (head.measured_from) out += head.measured_from->name + '|', number(head.measured_from->height_mm);
    links(head.lower_links), links(head.upper_links);
    for (const auto& grip : head.grips) {
        number(grip.pitch_arm.along_mm), number(grip.pitch_arm.lead_mm), number(grip.pitch_arm.up_mm);
        number(grip.pitch_offset_deg), grip.stud ? vector(*grip.stud) : void(out += "- ");
        for (const head::BalanceWeight& w : grip.weights)
            number(w.mass_g), number(w.along_mm), number(w.lead_mm), number(w.up_mm);
    }
    optional(head.blade.chord_mm), optional(head.blade.mass_g), optional(head.blade.bolt_mm);
    number(head.blade.flap_hinge_mm), number(head.blade.flap_stiffness_nm);
    for (const auto member : of_blade) optional(head.blade.*member);
    for (const auto member : of_flight) optional(head.flight.*member);
    number(head.mixing.collective_deg), number(head.mixing.cyclic_deg), number(head.mixing.phase_deg);
    number(static_cast<int>(head.mixing.cyclic_stick)), number(head.mixing.combined_limit), number(head.clearance_mm);
    return out;
}

/// Draws scenes that keep every rule and are odd in every other way.
struct Odd {
    /// In [low, high], with a mantissa that uses every bit, sometimes a whole number or a tiny one.
    double number(double low, double high) const {
        const auto bits = *rc::gen::arbitrary<std::uint64_t>();
        const double even = low + (high - low) * (static_cast<double>(bits >> 11) * 0x1p-53);
        switch (bits % 8) {
            case 0:
                return std::clamp(std::round(even), low, high);
            case 1:
                return std::clamp(even * 1e-12, low, high);
            case 2:
                return std::clamp(-0.0, low, high);
            case 3:
                return std::clamp(5e-324, low, high);
            default:
                return even;
        }
    }
    std::string text(int most, bool one_line) const {
        static const std::vector<std::string> pieces{"a", "Z", "0", " ", "\"", "\\", "'",
                                                     "#", "=", "[", "ä", "µ",  "雪", "\\u0041"};
        static const std::vector<std::string> breaks{"\n", "\t", "\r", "\x01", "\x7f", "\"\"\""};
        std::string out = "n";
        for (int n = *rc::gen::inRange(0, most); n > 0; --n)
            out += one_line || *rc::gen::inRange(0, 3) ? *rc::gen::elementOf(pieces) : *rc::gen::elementOf(breaks);
        return out;
    }
    bool coin() const { return *rc::gen::arbitrary<bool>(); }
    head::Polar polar() const { return {number(0.01, 1e4), number(-360, 360), number(-1e4, 1e4)}; }
    std::vector<head::Polar> polars(std::size_t count) const {
        std::vector<head::Polar> list;
        while (list.size() < count) list.push_back(polar());
        return list;
    }
    std::optional<double> weight() const { return coin() ? std::optional(number(-100, 100)) : std::nullopt; }

    Vec3 direction() const { return {number(-1e4, 1e4), number(-1e4, 1e4), number(1, 1e4)}; }
    std::array<double, 2> range(double low, double high) const {
        const double middle = (low + high) / 2;
        return {number(low, middle - 1), number(middle, high)};
    }

    head::Servo servo() const {
        head::Servo servo;
        servo.name = text(8, true);
        if (coin())
            servo.pivot_mm = polar();
        else
            servo.pivot_mm = Vec3(number(-1e4, 1e4), number(-1e4, 1e4), number(-1e4, 1e4));
        const Vec3 u = Vec3(number(1, 2), number(-2, 2), number(-2, 2));
        servo.horn_zero = u;
        servo.axis = u.cross(Vec3(number(-1, 1), 3, number(-1, 1)));
        servo.raise = coin() ? 1 : -1;
        servo.horn_mm = number(0.01, 1e4);
        servo.neutral_deg = number(-360, 360);
        servo.trim_deg = coin() ? number(-360, 360) : 0;
        servo.travel_deg = {number(-360, -1), number(0, 360)};
        servo.collective_weight = weight();
        servo.aileron_weight = weight();
        servo.elevator_weight = weight();
        if (coin()) {
            servo.pulse_centre_us = number(100, 5000);
            servo.pulse_deg_per_us = coin() ? number(1e-4, 10) : number(-10, -1e-4);
            servo.spline_teeth = *rc::gen::inRange(2, 101);
            for (int n = *rc::gen::inRange(0, 5); n > 0; --n) servo.horn_holes_mm.push_back(number(0.01, 1e4));
        }
        if (coin()) servo.stud = direction();
        if (coin()) (coin() ? servo.rating.torque_ncm : servo.rating.torque_kgcm) = number(0.01, 1e4);
        if (coin()) servo.rating.seconds_per_60deg = number(0.001, 10);
        if (coin()) servo.rating.rated_volts = number(1, 100);
        return servo;
    }
    std::vector<head::Link> links(std::size_t count) const {
        std::vector<head::Link> list;
        while (list.size() < count) {
            head::Link link;
            link.length_mm = number(1001, 1e4);
            link.error_mm = coin() ? number(-1000, 1000) : 0;
            link.end_faces = coin() ? head::EndFaces::either : head::EndFaces::one_side;
            link.rod = coin() ? head::Rod::plain : head::Rod::turnbuckle;
            if (coin()) link.thread_pitch_mm = number(0.05, 10);
            if (coin()) link.boss_mm = {number(0, 1000), number(0, 1000)};
            if (coin()) link.end_length_mm = {number(0, 1000), number(0, 1000)};
            if (coin()) link.play_mm = number(0, 10);
            if (coin()) link.ball_mm = {number(10, 1000), number(10, 1000)};
            if (coin()) link.socket_mm = {number(0.1, 3), number(0.1, 3)};
            if (coin()) link.neck_mm = {number(0.1, 3), number(0.1, 3)};
            if (coin()) link.tilt_limit_deg = {number(0.1, 90), number(0.1, 90)};
            if (coin()) link.end_twist_deg = number(-360, 360);
            if (coin()) link.rod_mm = number(0.1, 1000);
            if (coin()) link.rod_length_mm = number(0.01, 1e4);
            list.push_back(link);
        }
        return list;
    }
    head::Blade blade() const {
        head::Blade blade;
        if (coin()) blade.chord_mm = number(0.01, 1e4);
        if (coin()) blade.mass_g = number(0.01, 1e5);
        if (coin()) blade.bolt_mm = number(0.01, 1e4);
        if (coin()) blade.flap_hinge_mm = number(0, 1e4);
        if (coin()) blade.flap_stiffness_nm = number(0, 1e5);
        for (const auto member : of_blade)
            if (coin()) blade.*member = number(0.1, 1);  // within the range of each of them
        return blade;
    }
    head::BalanceWeight weight_on_grip() const {
        return {number(0.01, 1e5), number(-1e4, 1e4), number(-1e4, 1e4), number(-1e4, 1e4)};
    }
    Scene scene() const {
        Scene scene;
        scene.note = coin() ? text(20, false) : "";
        head::Description& head = scene.head;
        head.name = text(20, true);
        head.rotor = {*rc::gen::inRange(2, 7), coin() ? head::Direction::clockwise : head::Direction::anticlockwise,
                      number(-1e4, 1e4),       number(-30, 30),
                      number(0.01, 1e4),       number(1, 2e4)};
        const auto blades = static_cast<std::size_t>(head.rotor.blades);
        while (head.servos.size() < 3) head.servos.push_back(servo());
        head::Swashplate& ring = head.swashplate;
        ring.neutral_height_mm = number(-1e4, 1e4);
        ring.inner_balls = polars(3);
        ring.guide_pin = polar();
        ring.guide_turn_deg = coin() ? number(-360, 360) : 0;
        ring.outer_balls = polars(blades);
        ring.driver_pins_as_list = coin();
        ring.driver_pins = polars(ring.driver_pins_as_list ? *rc::gen::inRange<std::size_t>(1, 4) : 1);
        ring.driver_turn_deg = coin() ? number(-360, 360) : 0;
        if (coin()) ring.inner_stud = direction();
        if (coin()) ring.outer_stud = direction();
        if (coin()) ring.height_stops_mm = range(-1e4, 1e4);
        if (coin()) ring.driver_reach_mm = range(0, 1e4);
        if (coin()) ring.tilt_limit_deg = number(0.1, 90);
        if (coin()) ring.lower_face_mm = number(-1e4, 1e4);
        if (coin()) head.measured_from = head::Face{text(8, true), number(-1e4, 1e4)};
        head.lower_links = links(3);
        head.upper_links = links(blades);
        while (head.grips.size() < blades)
            head.grips.push_back({{number(-1e4, 1e4), number(-1e4, 1e4), number(-1e4, 1e4)}, number(-360, 360)});
        for (head::Grip& grip : head.grips)
            if (coin()) grip.stud = direction();
        for (head::Grip& grip : head.grips)
            for (int n = *rc::gen::inRange(0, 3); n > 0; --n) grip.weights.push_back(weight_on_grip());
        head.blade = blade();
        for (const auto member : of_flight)
            if (coin()) head.flight.*member = number(0.1, 1);
        head.mixing = {number(-180, 180), number(-180, 180), number(-360, 360)};
        if (coin()) head.mixing.cyclic_stick = head::CyclicStick::square;
        if (coin()) head.mixing.combined_limit = number(0, 2);
        if (coin()) head.clearance_mm = number(0, 100);
        return scene;
    }
};

RC_GTEST_PROP(Write, is_read_back_to_the_last_bit, ()) {
    const Scene scene = Odd().scene();
    const std::string text = write(scene);
    const auto read = parse(text, "scene");
    if (!read) RC_FAIL(read.error().text() + text);
    RC_ASSERT(spelled(*read) == spelled(scene));
    RC_ASSERT(write(*read) == text);
}

TEST(Write, keeps_every_demo_as_it_is) {
    int demos = 0;
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_SCENES)) {
        if (entry.path().extension() != ".toml") continue;
        ++demos;
        const auto scene = load(entry.path().string());
        ASSERT_TRUE(scene) << scene.error().text();
        EXPECT_NE(scene->note.find("nvented"), std::string::npos) << entry.path();
        const auto again = parse(write(*scene), "again");
        ASSERT_TRUE(again) << again.error().text();
        EXPECT_EQ(spelled(*again), spelled(*scene));
    }
    EXPECT_GE(demos, 3);
}

TEST(Write, leaves_out_what_is_at_its_default) {
    const std::string text = write(testing::small_scene());
    for (const char* key : {"note",      "trim_deg",  "raise",       "weight",  "guide_turn_deg", "driver_turn_deg",
                            "error_mm",  "end_faces", "pulse",       "spline",  "holes",          "rod",
                            "thread",    "boss",      "end_length",  "play",    "blade]",         "chord",
                            "mass",      "bolt",      "flap",        "stud",    "ball_mm",        "socket",
                            "neck",      "limit",     "twist",       "stops",   "reach",          "clearance",
                            "torque",    "seconds",   "volts",       "weights", "flight]",        "edge",
                            "thickness", "spread",    "coefficient", "drag",    "slope",          "efficiency",
                            "air_",      "face",      "measure"})
        EXPECT_EQ(text.find(key), std::string::npos) << key;
}

TEST(Write, puts_the_blade_in_a_table_of_its_own) {
    Scene scene = testing::small_scene();
    scene.head.blade.mass_g = 60;
    const std::string text = write(scene);
    EXPECT_NE(text.find("\n[blade]\nmass_g = 60.0\n\n[mixing]\n"), std::string::npos) << text;
}

TEST(Write, gives_whole_numbers_a_decimal_point_and_keeps_lines_short) {
    const std::string text = write(testing::small_scene());
    EXPECT_NE(text.find("horn_mm = 16.0\n"), std::string::npos) << text;
    for (std::size_t start = 0; start < text.size();) {
        const std::size_t end = text.find('\n', start);
        EXPECT_LE(end - start, 100u) << text.substr(start, end - start);
        start = end + 1;
    }
}

}  // namespace
}  // namespace swashwright::scene
