// The rules of scene files, one test each; whole messages are compared in broken_test.cpp.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "tests/scene/scenes.h"

namespace swashwright::scene {
namespace {

using ::testing::HasSubstr;
using testing::spoilt;

std::string complaint(const std::string& text) {
    const auto scene = parse(text, "f");
    return scene ? "none" : scene.error().text();
}

TEST(Parse, takes_whole_numbers_where_real_ones_are_expected) {
    const Scene scene = testing::small_scene();
    EXPECT_EQ(scene.head.rotor.hub_height_mm, 111.0);
    EXPECT_EQ(scene.head.servos[0].horn_mm, 16.0);
    EXPECT_EQ(scene.head.servos[0].axis, Vec3::UnitY());
}

TEST(Parse, keeps_a_pivot_in_the_form_in_which_it_was_written) {
    const Scene scene = testing::small_scene();
    EXPECT_TRUE(std::holds_alternative<Vec3>(scene.head.servos[0].pivot_mm));
    EXPECT_TRUE(std::holds_alternative<head::Polar>(scene.head.servos[1].pivot_mm));
}

TEST(Parse, turns_a_polar_pivot_anticlockwise_from_the_nose) {
    const Vec3 left = head::pivot_point(head::Polar{20, 90, 7});
    EXPECT_LT((left - Vec3(0, 20, 7)).norm(), 1e-12);
}

TEST(Parse, leaves_optional_keys_at_their_defaults) {
    const Scene scene = testing::small_scene();
    EXPECT_EQ(scene.head.servos[0].trim_deg, 0);
    EXPECT_FALSE(scene.head.servos[0].raise);
    EXPECT_FALSE(scene.head.servos[0].aileron_weight);
    EXPECT_FALSE(scene.head.swashplate.driver_pins_as_list);
    EXPECT_EQ(scene.head.lower_links[0].end_faces, head::EndFaces::either);
    EXPECT_EQ(scene.note, "");
}

TEST(Parse, reads_the_optional_keys) {
    const auto scene =
        parse(spoilt("length_mm = 35.0", "length_mm = 35.0\nerror_mm = -0.3\nend_faces = \"one side\""), "f");
    ASSERT_TRUE(scene) << scene.error().text();
    EXPECT_EQ(scene->head.lower_links[0].error_mm, -0.3);
    EXPECT_EQ(scene->head.lower_links[0].end_faces, head::EndFaces::one_side);
}

TEST(Parse, reads_how_a_servo_is_driven_and_a_link_is_made) {
    std::string text = spoilt("horn_mm = 16\n",
                              "horn_mm = 16\npulse_centre_us = 1520\npulse_deg_per_us = -0.09\n"
                              "spline_teeth = 24\nhorn_holes_mm = [14, 16.0, 18.0]\n");
    text.replace(text.find("length_mm = 61.0"), 16,
                 "length_mm = 61.0\nrod = \"turnbuckle\"\nthread_pitch_mm = 0.45\nboss_mm = [5.5, 6]\n"
                 "end_length_mm = [10.0, 12.0]\nplay_mm = 0");
    text += "[blade]\nchord_mm = 55\nmass_g = 130\nbolt_mm = 60\nflap_hinge_mm = 4\nflap_stiffness_nm = 25\n";
    const auto scene = parse(text, "f");
    ASSERT_TRUE(scene) << scene.error().text();
    const head::Servo& servo = scene->head.servos[0];
    EXPECT_EQ(servo.pulse_centre_us, 1520);
    EXPECT_EQ(servo.pulse_deg_per_us, -0.09);
    EXPECT_EQ(servo.spline_teeth, 24);
    EXPECT_EQ(servo.horn_holes_mm, (std::vector{14.0, 16.0, 18.0}));
    const head::Link& link = scene->head.upper_links[0];
    EXPECT_EQ(link.rod, head::Rod::turnbuckle);
    EXPECT_EQ(link.thread_pitch_mm, 0.45);
    EXPECT_EQ(link.boss_mm, (std::array{5.5, 6.0}));
    EXPECT_EQ(link.end_length_mm, (std::array{10.0, 12.0}));
    EXPECT_EQ(link.play_mm, 0);
    const head::Blade& blade = scene->head.blade;
    EXPECT_EQ(blade.chord_mm, 55);
    EXPECT_EQ(blade.mass_g, 130);
    EXPECT_EQ(blade.bolt_mm, 60);
    EXPECT_EQ(blade.flap_hinge_mm, 4);
    EXPECT_EQ(blade.flap_stiffness_nm, 25);
}

TEST(Parse, reads_what_decides_the_forces_in_flight) {
    std::string text =
        spoilt("horn_mm = 16\n", "horn_mm = 16\ntorque_kgcm = 12.5\nseconds_per_60deg = 0.07\nrated_volts = 7.4\n");
    text.replace(text.find("pitch_offset_deg = 0.0"), 22,
                 "pitch_offset_deg = 0.0\nweights = [{ mass_g = 6, along_mm = 20.0, lead_mm = 0, up_mm = -15 }]");
    text +=
        "[blade]\nthickness_mm = 6.6\nmass_ahead_mm = -2\nmoment_coefficient = -0.01\n"
        "[flight]\nmodel_mass_kg = 3.4\npower_w = 1800\ngear_efficiency = 0.9\nair_height_m = 450\n";
    const auto scene = parse(text, "f");
    ASSERT_TRUE(scene) << scene.error().text();
    const head::ServoRating& rating = scene->head.servos[0].rating;
    EXPECT_EQ(rating, (head::ServoRating{{}, 12.5, 0.07, 7.4}));
    EXPECT_NEAR(*rating.stall_nmm(), 12.5 * 98.0665, 1e-9);  // standard gravity, ISO 80000-3
    EXPECT_EQ(scene->head.grips[0].weights, (std::vector{head::BalanceWeight{6, 20, 0, -15}}));
    EXPECT_EQ(scene->head.blade.thickness_mm, 6.6);
    EXPECT_EQ(scene->head.blade.mass_ahead_mm, -2);
    EXPECT_EQ(scene->head.blade.moment_coefficient, -0.01);
    EXPECT_FALSE(scene->head.blade.edge_ahead_mm);
    EXPECT_EQ(scene->head.flight, (head::Flight{3.4, 1800, 0.9, {}, 450}));
}

TEST(Parse, takes_one_torque_only) {
    const auto scene = parse(spoilt("horn_mm = 16\n", "horn_mm = 16\ntorque_kgcm = 12.5\ntorque_ncm = 123\n"), "f");
    ASSERT_FALSE(scene);
    EXPECT_NE(scene.error().text().find("found beside torque_ncm"), std::string::npos) << scene.error().text();
}

TEST(Parse, takes_the_stated_defaults_for_what_no_pose_depends_on) {
    const Scene scene = testing::small_scene();
    const head::Servo& servo = scene.head.servos[0];
    EXPECT_EQ(servo.pulse_centre_us, 1500);
    EXPECT_EQ(servo.pulse_deg_per_us, 0.1);
    EXPECT_EQ(servo.spline_teeth, 25);
    EXPECT_TRUE(servo.horn_holes_mm.empty());
    const head::Link& link = scene.head.lower_links[0];
    EXPECT_EQ(link.rod, head::Rod::plain);
    EXPECT_EQ(link.thread_pitch_mm, 0.40);  // M2 coarse, ISO 261
    EXPECT_EQ(link.play_mm, 0.02);
    EXPECT_FALSE(scene.head.blade.mass_g);
}

TEST(Parse, remembers_where_the_links_stand) {
    const Scene scene = testing::small_scene();
    ASSERT_EQ(scene.places.lower_links.size(), 3u);
    EXPECT_EQ(scene.places.lower_links[0].line, 44);
    EXPECT_EQ(scene.places.lower_links[0].column, 13);
    EXPECT_EQ(scene.places.upper_links[1].line, 52);
    EXPECT_EQ(scene.places.swashplate.line, 34);
}

TEST(Parse, refuses_a_horn_that_is_not_square_to_its_shaft_beyond_a_tenth_of_a_degree) {
    EXPECT_EQ(complaint(spoilt("horn_zero = [1, 0, 0]", "horn_zero = [1, 0.0017, 0]")), "none");
    EXPECT_THAT(complaint(spoilt("horn_zero = [1, 0, 0]", "horn_zero = [1, 0.0018, 0]")),
                HasSubstr("f:14:13: [[servo]] 1 horn_zero"));
}

TEST(Parse, asks_for_the_sense_where_a_horn_moves_its_ball_by_less_than_a_tenth_of_the_arc) {
    // At 84 deg from level the ball rises by cos 84 deg = 0.105 of the arc; at 85 deg by 0.087.
    EXPECT_EQ(complaint(spoilt("neutral_deg = 0.0", "neutral_deg = 84.0")), "none");
    EXPECT_THAT(complaint(spoilt("neutral_deg = 0.0", "neutral_deg = 85.0")), HasSubstr("add raise = 1"));
    EXPECT_THAT(complaint(spoilt("neutral_deg = 0.0", "neutral_deg = 80.0\ntrim_deg = 5.0")),
                HasSubstr("add raise = 1"));
    EXPECT_EQ(complaint(spoilt("neutral_deg = 0.0", "neutral_deg = 85.0\nraise = -1")), "none");
}

TEST(Parse, takes_two_to_six_blades) {
    for (const char* blades : {"1", "7", "-2", "2.0", "\"2\""})
        EXPECT_THAT(complaint(spoilt("blades = 2", std::string("blades = ") + blades)),
                    HasSubstr("f:4:10: [rotor] blades: expected a whole number from 2 to 6"));
}

TEST(Parse, refuses_numbers_that_are_not_finite_or_absurd) {
    for (const char* number :
         {"nan", "-nan", "inf", "-inf", "1e300", "-1e300", "9223372036854775807", "true", "1979-05-27"})
        EXPECT_THAT(complaint(spoilt("hub_height_mm = 111", std::string("hub_height_mm = ") + number)),
                    HasSubstr("f:6:17: [rotor] hub_height_mm: expected a coordinate in mm"));
}

TEST(Parse, refuses_lengths_that_are_not_positive) {
    for (const char* length : {"0", "-35.0", "1e-300", "-0.0"})
        EXPECT_THAT(complaint(spoilt("length_mm = 35.0", std::string("length_mm = ") + length)),
                    HasSubstr("f:44:13: [[lower_link]] 1 length_mm: expected a length in mm from 0.01 to 10000"));
    EXPECT_THAT(complaint(spoilt("length_mm = 35.0", "length_mm = 35.0\nerror_mm = -35.0")), HasSubstr("error_mm"));
}

TEST(Parse, refuses_directions_without_length) {
    for (const char* axis : {"[0, 0, 0]", "[1e-200, 0, 0]", "[0, -0.0, 1e-9]"})
        EXPECT_THAT(complaint(spoilt("axis = [0, 1, 0]", std::string("axis = ") + axis)),
                    HasSubstr("f:13:8: [[servo]] 1 axis"));
}

TEST(Parse, tells_every_mistake_in_the_order_of_the_file) {
    std::string text = spoilt("blades = 2", "blades = 9");
    text.replace(text.find("length_mm = 61.0"), 16, "length = 61.0   ");
    text.replace(text.find("phase_deg"), 9, "faze_deg ");
    const auto scene = parse(text, "f");
    ASSERT_FALSE(scene);
    std::vector<int> lines;
    for (const Mistake& mistake : scene.error().list) lines.push_back(mistake.place.line);
    // The misspelt keys are both missing, which is told at the head of their table, and unknown.
    EXPECT_EQ(lines, (std::vector{4, 49, 50, 59, 62})) << scene.error().text();
}

TEST(Parse, suggests_the_nearest_known_key) {
    EXPECT_THAT(complaint(spoilt("horn_mm = 16", "horn_mm = 16\ntrimm_deg = 1")),
                HasSubstr("f:16:1: [[servo]] 1: unknown key \"trimm_deg\"; did you mean trim_deg?"));
    EXPECT_THAT(complaint(spoilt("horn_mm = 16", "horn_mm = 16\ncolour = 1")),
                HasSubstr("expected one of aileron_weight, axis,"));
}

TEST(Parse, says_nothing_more_about_a_file_of_another_format) {
    const auto scene = parse("format = 3\nwings = 3\n", "f");
    ASSERT_FALSE(scene);
    EXPECT_EQ(scene.error().list.size(), 1u);
}

TEST(Parse, survives_absurd_text) {
    EXPECT_THAT(complaint(std::string(10'000'000, 'x')),  // NOLINT(bugprone-string-constructor): long on purpose
                HasSubstr("f: the file is longer than 256 kB"));
    EXPECT_THAT(complaint(std::string(100'000, '[')), HasSubstr("f:1:"));
    EXPECT_THAT(complaint("a = " + std::string(100'000, '[')), HasSubstr("f:1:"));
    std::string dots = "[a";
    for (int i = 0; i < 100'000; ++i) dots += ".a";
    EXPECT_THAT(complaint(dots + "]"), HasSubstr("f:1:1: found more than 100 dots in one line"));
    EXPECT_THAT(complaint("name = \"\xff\xfe\""), HasSubstr("f:1:8: this is not TOML"));
    EXPECT_THAT(complaint(std::string("name = \"a\0b\"", 12)), HasSubstr("f:1:10: this is not TOML"));
    EXPECT_THAT(complaint(""), HasSubstr("f:1:1: the key format is missing"));
    EXPECT_THAT(complaint("format = 1e400"), HasSubstr("f:1:"));
}

TEST(Parse, shows_foreign_text_on_one_line_and_cut_short) {
    const std::string message = complaint(spoilt("\"clockwise\"", "\"\\u0007" + std::string(500, 'x') + "\""));
    EXPECT_LT(message.size(), 160u);
    EXPECT_EQ(message.find('\a'), std::string::npos);
}

TEST(Load, tells_what_is_wrong_with_the_path) {
    const auto complaint_of = [](const std::string& path) { return load(path).error().text(); };
    EXPECT_EQ(
        complaint_of("/nowhere/head.toml"),
        "/nowhere/head.toml: cannot be opened (No such file or directory); expected a scene file; check the path\n");
    EXPECT_EQ(complaint_of("/"), "/: this is a folder; expected a scene file; name one in it\n");
    EXPECT_EQ(complaint_of(""),
              ": cannot be opened (No such file or directory); expected a scene file; check the path\n");
    EXPECT_THAT(complaint_of("/dev/zero"), HasSubstr("longer than 256 kB"));
}

}  // namespace
}  // namespace swashwright::scene
