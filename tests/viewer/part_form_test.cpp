// The form of a part without a window: which numbers it holds, giving and taking away, and what the rules refuse.
#include "viewer/panels/ledger/part_form.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <algorithm>
#include <regex>
#include <set>

#include "kinematics/head/change_count.h"
#include "kinematics/head/change_parts.h"
#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/keys_shown.h"
#include "tests/viewer/linkage_files.h"
#include "tests/viewer/opened.h"
#include "tests/viewer/seen_text.h"
#include "tests/viewer/walk.h"
#include "viewer/panels/ledger/part_fields.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {
namespace {

using draw::Part;
using head::Role;
using ::testing::HasSubstr;

scene::Scene demo() {
    return *scene::load(testing::two_blade_file);
}

/// Every part that has a form.
std::vector<Part> parts_of(const head::Description& head) {
    std::vector<Part> out{{Role::hub, 0}, {Role::frame, 0}, {Role::inner_ring, 0}, {Role::outer_ring, 0}};
    for (int j = 0; j < 3; ++j) out.insert(out.end(), {{Role::servo, j}, {Role::lower_link, j}});
    for (int k = 0; k < head.rotor.blades; ++k)
        out.insert(out.end(), {{Role::upper_link, k}, {Role::grip, k}, {Role::blade, k}});
    return out;
}

/// The demo head with everything in it that a scene can hold.
scene::Scene full() {
    scene::Scene scene = demo();
    for (const char* shape : {"capsule", "box", "ring"}) {
        head::Solid solid;
        solid.part = shape[0] == 'r' ? "inner_ring" : "grip[2]";
        solid.shape = shape[0] == 'c'   ? head::Solid::Shape::capsule
                      : shape[0] == 'b' ? head::Solid::Shape::box
                                        : head::Solid::Shape::ring;
        solid.to = {0, 0, 9};
        solid.size_mm = {2, 3, 4};
        solid.diameter_mm = 5;
        solid.section_mm = 1;
        scene.head.solids.push_back(solid);
    }
    for (const Part& part : parts_of(scene.head))
        for (const Field& field : fields_of(scene.head, part)) {
            if (const auto* numbers = std::get_if<Numbers>(&field.what)) {
                auto list = numbers->read(scene.head).value_or(numbers->usual);
                if (numbers->counts) list[0] += field.key == "combined_limit" ? -0.5 : 0.5;
                numbers->write(scene.head, list);
            }
            if (const auto* choice = std::get_if<Alternatives>(&field.what))
                if (field.key != "pivot_mm") choice->write(scene.head, 1);
        }
    for (head::Servo& servo : scene.head.servos) {
        servo.trim_deg = 1;
        servo.horn_holes_mm = {12, 16};
    }
    for (auto* links : {&scene.head.lower_links, &scene.head.upper_links})
        for (head::Link& link : *links) link.error_mm = 0.1;
    scene.head.swashplate.guide_turn_deg = scene.head.swashplate.driver_turn_deg = 1;
    scene.head.grips[0].weights = {{6, 20, 0, 15}};
    scene.note = "invented";
    return scene;
}

TEST(PartForm, EveryKeyOfASceneStandsInTheLedgerOrInAForm) {
    const scene::Scene scene = full();
    std::vector<Field> fields;
    for (const Part& part : parts_of(scene.head))
        for (Field& field : fields_of(scene.head, part)) fields.push_back(std::move(field));
    ASSERT_TRUE(scene::parse(scene::write(scene), "full"));
    EXPECT_GT(expect_every_key_shown(scene, fields,
                                     {"format", "blades", "part", "shape", "inner_balls", "outer_balls", "guide_pin",
                                      "driver_pin", "driver_pins", "pitch_arm"}),
              150);
}

TEST(PartForm, WhatIsGivenAndTakenAwayLeavesTheSceneAsItWas) {
    for (const scene::Scene& start : {demo(), full()})
        for (const Part& part : parts_of(start.head))
            for (const Field& field : fields_of(start.head, part)) {
                const auto* numbers = std::get_if<Numbers>(&field.what);
                if (!numbers) continue;
                scene::Scene scene = start;
                const auto before = numbers->read(scene.head);
                ASSERT_TRUE(before || numbers->may_be_missing) << field.key;
                auto other = before.value_or(numbers->usual);
                ASSERT_EQ(other.size(), numbers->each.size()) << field.key;
                other[0] += 1;
                numbers->write(scene.head, other);
                ASSERT_TRUE(numbers->read(scene.head)) << field.key;
                EXPECT_EQ((*numbers->read(scene.head))[0], other[0]) << field.key;
                if (numbers->may_be_missing) {
                    numbers->write(scene.head, std::nullopt);
                    EXPECT_FALSE(numbers->read(scene.head)) << field.key;
                }
                if (field.key == "axis" || field.key == "horn_zero") continue;  // the other turns with it
                if (field.key.starts_with("torque_")) continue;                 // one takes the other's place
                numbers->write(scene.head, before);
                EXPECT_EQ(scene::write(scene), scene::write(start)) << field.key;
            }
}

TEST(PartForm, TorqueIsGivenInOneUnit) {
    scene::Scene scene = demo();
    const auto give = [&](const char* key, double value) {
        for (const Field& field : fields_of(scene.head, {Role::servo, 1}))
            if (field.key == key) std::get<Numbers>(field.what).write(scene.head, {{value}});
    };
    give("torque_ncm", 120);
    EXPECT_EQ(scene.head.servos[1].rating.torque_ncm, 120);
    give("torque_kgcm", 12);
    EXPECT_EQ(scene.head.servos[1].rating.torque_kgcm, 12);
    EXPECT_FALSE(scene.head.servos[1].rating.torque_ncm);
}

TEST(PartForm, WeightsAreTypedAsFourNumbersEach) {
    scene::Scene scene = demo();
    for (const Field& field : fields_of(scene.head, {Role::grip, 1})) {
        if (field.key != "weights") continue;
        const Words& words = std::get<Words>(field.what);
        EXPECT_EQ(words.read(scene), "");
        ASSERT_TRUE(words.write(scene, "6 20 0 15,  6 20 0 -15"));
        EXPECT_EQ(scene.head.grips[1].weights, (std::vector<head::BalanceWeight>{{6, 20, 0, 15}, {6, 20, 0, -15}}));
        EXPECT_EQ(words.read(scene), "6 20 0 15, 6 20 0 -15");
        EXPECT_THAT(words.write(scene, "6 20 0").error(), HasSubstr("four numbers"));
        EXPECT_THAT(words.write(scene, "6 20 0 high").error(), HasSubstr("\"high\" is not a number"));
        EXPECT_EQ(words.read(scene), "6 20 0 15, 6 20 0 -15");  // what was refused changes nothing
        EXPECT_TRUE(words.write(scene, ""));
        EXPECT_TRUE(scene.head.grips[1].weights.empty());
    }
}

TEST(PartForm, AServosDirectionsStaySquareToEachOther) {
    State state = state_of(testing::two_blade_file);
    scene::Scene next = state.bench.document().scene();
    for (const Field& field : fields_of(next.head, {Role::servo, 1}))
        if (field.key == "axis") std::get<Numbers>(field.what).write(next.head, {{0.3, 1, 0.2}});
    const head::Servo& servo = next.head.servos[1];
    EXPECT_NEAR(servo.axis.dot(servo.horn_zero), 0, 1e-12);
    EXPECT_TRUE(try_edit(state.screen, state.bench, next, "axis")) << state.screen.entry.why;
}

TEST(PartForm, WhatTheRulesRefuseKeepsTheOldHeadAndSaysWhy) {
    State state = state_of(testing::two_blade_file);
    const auto revision = state.bench.document().revision();
    const auto refused = [&](const std::function<void(head::Description&)>& change) {
        scene::Scene next = state.bench.document().scene();
        change(next.head);
        EXPECT_FALSE(try_edit(state.screen, state.bench, std::move(next), "field"));
        EXPECT_EQ(state.bench.document().revision(), revision);
        EXPECT_EQ(state.screen.entry.refused, "field");
        return state.screen.entry.why;
    };
    EXPECT_THAT(refused([](auto& d) { d.servos[0].pulse_centre_us = 3; }), HasSubstr("from 100 to 5000, found 3"));
    EXPECT_THAT(refused([](auto& d) { d.servos[2].spline_teeth = 1; }), HasSubstr("spline_teeth"));
    EXPECT_THAT(refused([](auto& d) { d.upper_links[1].length_mm = -4; }), HasSubstr("length_mm"));
    EXPECT_THAT(refused([](auto& d) { d.servos[1].name = ""; }), HasSubstr("name"));
    EXPECT_THAT(refused([](auto& d) { d.swashplate.height_stops_mm = {50, 40}; }), HasSubstr("least first"));
    EXPECT_THAT(refused([](auto& d) { d.lower_links[0].socket_mm = {9, 3}; }), HasSubstr("lower end tilt"));
    EXPECT_THAT(refused([](auto& d) { d.servos[0].horn_zero = d.servos[0].axis; }), HasSubstr("square"));
    // A loop that does not close may stand: someone is typing in measurements.
    scene::Scene open = state.bench.document().scene();
    open.head.upper_links[0].length_mm = 300;
    EXPECT_TRUE(try_edit(state.screen, state.bench, std::move(open), "length"));
    EXPECT_TRUE(state.screen.entry.refused.empty());
}

TEST(PartForm, TextsOfLengthsAreReadAndTypedInInches) {
    scene::Scene scene = demo();
    scene.head.servos[1].horn_holes_mm = {12, 16.125};
    scene.head.grips[1].weights = {{6, 20, 0, 15}};
    const auto words = [&](const Part& part, const char* key) {
        for (const Field& field : fields_of(scene.head, part, /*inches=*/true))
            if (field.key == key) return std::pair(field.words, std::get<Words>(field.what));
        return std::pair<std::string, Words>();
    };
    const auto [of_holes, holes] = words({Role::servo, 1}, "horn_holes_mm");
    EXPECT_EQ(of_holes, "Holes of the horn (in)");
    EXPECT_EQ(holes.read(scene), "0.4724 0.6348");
    const auto [of_weights, weights] = words({Role::grip, 1}, "weights");
    EXPECT_EQ(of_weights, "Balance weights: g, along, leading, up (in)");
    EXPECT_EQ(weights.read(scene), "6 0.7874 0.0000 0.5906");
    for (const double inches : {0.5, 0.75}) {  // what is not typed anew stays to the last digit; 25.4 mm an inch
        ASSERT_TRUE(holes.write(scene, fmt::format("0.4724 {} 18.5mm", inches)));
        EXPECT_EQ(scene.head.servos[1].horn_holes_mm, (std::vector<double>{12, 25.4 * inches, 18.5}));
        ASSERT_TRUE(weights.write(scene, fmt::format("5.5 0.7874 0.0000 {}", inches)));
        EXPECT_EQ(scene.head.grips[1].weights, (std::vector<head::BalanceWeight>{{5.5, 20, 0, 25.4 * inches}}));
    }
    EXPECT_THAT(holes.write(scene, "wide").error(), HasSubstr("in inches"));
    EXPECT_THAT(weights.write(scene, "6 1").error(), HasSubstr("g, then inches"));
    EXPECT_THAT(scene::write(scene), HasSubstr("horn_holes_mm = [12"));
}

class PartFormPanels : public ::testing::Test {
protected:
    PartFormPanels() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
    }
    ~PartFormPanels() override { ImGui::DestroyContext(); }

    static void frames(State& state, ImVec2 size) {
        ImGuiIO& io = ImGui::GetIO();
        io.DisplaySize = size;
        limit_text_scale(state.screen, size.x);
        apply_style(state.screen.settings.night, state.screen.scale());
        state.screen.fonts = load_fonts(*io.Fonts, state.screen.scale());
        unsigned char* pixels = nullptr;
        int width = 0, height = 0;
        io.Fonts->GetTexDataAsAlpha8(&pixels, &width, &height);
        for (int i = 0; i < 3; ++i) {
            ImGui::NewFrame();
            draw_panels(state, size);
            ImGui::Render();
        }
    }
    /// Only this section is open, with its form.
    static void unfold(State& state, const std::string& title) {
        for (Section& section : state.ledger.sections) section.open = section.more_open = section.title == title;
    }
};

TEST_F(PartFormPanels, EveryFieldIsInSightWithinTheColumn) {
    State state = state_of(testing::two_blade_file);
    frames(state, {1600, 3000});
    for (const auto& [size, text] : {std::pair{ImVec2(1600, 3000), 1.0}, {ImVec2(1280, 3000), 1.5}})
        for (const bool inches : {false, true}) {
            state.screen.settings.text_scale = text;
            state.screen.settings.inches = inches;
            for (std::size_t i = 0; i < state.ledger.sections.size(); ++i) {
                if (!state.ledger.sections[i].more) continue;
                const std::string title = state.ledger.sections[i].title;
                const Part part{*state.ledger.sections[i].more, 0};
                unfold(state, title);
                frames(state, size);
                const float right = state.screen.report.widgets().at("section " + title).z;
                const std::vector<Field> fields = fields_of(state.bench.head(), part);
                std::set<std::string> counted;
                for (const Field& field : fields) {
                    const std::string stem =
                        part.role == Role::servo ? "servo 1" : form_title(state.bench.head(), part);
                    for (const auto& [name, box] : state.screen.report.widgets())
                        if (name.starts_with(stem + ", " + field.key)) {
                            EXPECT_LE(box.z, right) << name << " at text " << text;  // else its edge is cut off
                            counted.insert(field.key);
                        }
                }
                EXPECT_EQ(counted.size(), fields.size()) << title;
            }
        }
}

/// All forms of a head unfolded one after another, all of each in sight.
class InInches : public ::testing::Test, protected HeldPanels {
protected:
    InInches() : HeldPanels({1600, 4000}) {}

    /// What says mm there, each once.
    std::set<std::string> millimetres(State& state, bool inches) const {
        state.screen.settings.inches = inches;
        const testing::Letters letters;
        std::set<std::string> out;
        testing::visit_forms(state, [&](const std::string& name) {
            frames(state, 3);
            for (const std::string& words : testing::says_millimetres(testing::seen_text(letters)))
                out.insert(name + ": " + words);
        });
        return out;
    }
    void expect_inches_only(State& state) const {
        EXPECT_THAT(millimetres(state, /*inches=*/true), ::testing::IsEmpty());
        EXPECT_GT(millimetres(state, /*inches=*/false).size(), 5U);
    }
};

TEST_F(InInches, NoFormSaysMillimetres) {
    std::vector<std::string> paths = testing::linkage_files();
    paths.push_back(testing::two_blade_file);
    for (const std::string& path : paths) {
        SCOPED_TRACE(path);
        State state = state_of(path);
        expect_inches_only(state);
    }
    State state = state_of(testing::two_blade_file);
    ASSERT_TRUE(try_edit(state.screen, state.bench, full(), "everything")) << state.screen.entry.why;
    expect_inches_only(state);
    // What is said of a change, and of one that is refused.
    ASSERT_TRUE(change_count(state.screen, state.bench, state.view, "new parts, a lever",
                             head::with_lever_added(state.bench.head()), /*builds=*/true));
    expect_inches_only(state);
}

TEST_F(PartFormPanels, BladesComeAndGoUnderTheLedgerWithoutLeavingStaleRows) {
    State state = state_of(testing::two_blade_file);
    const ImVec2 size{1280, 800};
    frames(state, size);
    const std::string before = scene::write(state.bench.document().scene());
    for (int blades = 3; blades <= head::most_blades; ++blades) {
        scene::Scene next = state.bench.document().scene();
        next.head = head::with_blade_added(next.head)->head;
        ASSERT_TRUE(try_edit(state.screen, state.bench, std::move(next), "a blade more"));
        state.selection.selected = Part{Role::blade, blades - 1};
        for (Section& section : state.ledger.sections) section.open = section.more_open = true;
        frames(state, size);
        EXPECT_TRUE(state.bench.live().closes);
        EXPECT_EQ(state.bench.live().shown->pose.pitch_deg.size(), static_cast<std::size_t>(blades));
        for (const Section& section : state.ledger.sections)
            if (section.title == "Upper links") {
                EXPECT_EQ(section.rows.size(), static_cast<std::size_t>(blades));
            }
    }
    while (state.bench.document().can_undo()) {
        undo(state);
        frames(state, size);
    }
    EXPECT_EQ(scene::write(state.bench.document().scene()), before);
    EXPECT_FALSE(state.selection.selected);  // the blade that was chosen is gone
}

TEST_F(PartFormPanels, AFinerMonitorWantsLargerTextAsFarAsTheWindowHasRoom) {
    State state = state_of(testing::two_blade_file);
    set_screen_scale(state.screen, 1.04F);  // 100 dots an inch where 96 are usual: the same step
    EXPECT_EQ(state.screen.scale(), 1);
    set_screen_scale(state.screen, 1.5F);
    limit_text_scale(state.screen, 1920);
    EXPECT_EQ(state.screen.scale(), 1.5F);
    frames(state, {1920, 1200});
    EXPECT_GT(state.screen.report.widgets().at("undo").w - state.screen.report.widgets().at("undo").y,
              38);  // 27 and more at scale 1
    next_text_scale(state.screen);
    EXPECT_NEAR(state.screen.scale(), 1.5 * 1.25, 1e-6);
    limit_text_scale(state.screen, 1000);
    EXPECT_LT(state.screen.scale(), 1.2F);
}

}  // namespace
}  // namespace swashwright::panels
