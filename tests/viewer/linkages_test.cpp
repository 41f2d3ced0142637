// Heads and tails of every kind in the window, without a screen: they open, every number of theirs can be reached,
// every sheet and card is drawn, and what is changed, taken back, saved and opened again is the same scene.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <regex>
#include <set>
#include <thread>

#include "kinematics/head/numbers.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/keys_shown.h"
#include "tests/viewer/linkage_files.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/ledger/linkage_fields.h"
#include "viewer/panels/ledger/part_fields.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {
namespace {

using draw::Part;
using head::Role;
using swashwright::testing::linkage_files;

class Linkages : public ::testing::TestWithParam<std::string>, protected HeldPanels {
protected:
    void frames(State& state, int count = 3) const { HeldPanels::frames(state, count); }
};

INSTANTIATE_TEST_SUITE_P(Files, Linkages, ::testing::ValuesIn(linkage_files()), swashwright::testing::name_of_file);

/// Every part that has a form.
std::vector<Part> parts_of(const head::Description& d) {
    std::vector<Part> out{{Role::hub, 0}, {Role::frame, 0}, {Role::inner_ring, 0}, {Role::outer_ring, 0}};
    const auto add = [&](Role role, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) out.push_back({role, static_cast<int>(i)});
    };
    add(Role::servo, d.servos.size());
    add(Role::lower_link, d.lower_links.size());
    add(Role::upper_link, d.upper_links.size());
    add(Role::other_link, d.links.size());
    add(Role::lever, d.levers.size());
    add(Role::slider, d.sliders.size());
    add(Role::grip, d.grips.size());
    add(Role::blade, d.grips.size());
    return out;
}

/// All fields of all forms, those of fixed balls and pins too.
std::vector<Field> all_fields(const head::Description& d) {
    std::vector<Field> out;
    const auto add = [&](const std::vector<Field>& fields) { out.insert(out.end(), fields.begin(), fields.end()); };
    for (const Part& part : parts_of(d)) add(fields_of(d, part));
    for (std::size_t i = 0; i < d.fixed_balls.size(); ++i) add(fixed_ball_fields(d, i));
    for (std::size_t i = 0; i < d.pins.size(); ++i) add(pin_fields(i));
    return out;
}

TEST_P(Linkages, EveryNumberThatMovesSomethingStandsInOneRowOrInAForm) {
    scene::Scene scene = *scene::load(GetParam());
    const auto sections = ledger_sections(scene.head);
    for (const head::Number& number : head::numbers(scene.head)) {
        int rows = 0;
        for (const Section& section : sections)
            for (const Row& row : section.rows)
                for (const Cell& cell : row.cells) rows += &cell.value(scene.head) == &number.at(scene.head) ? 1 : 0;
        EXPECT_EQ(rows, number.kind == head::NumberKind::hand_angle ? 0 : 1) << number.path;
    }
    for (const Section& section : sections) {
        EXPECT_EQ(section.rows.empty(), section.adds) << section.title;
        for (const std::string& words : section.heads)  // one without words: its rows have units of their own
            EXPECT_TRUE(words.empty() || words.ends_with(" mm") || words.ends_with(" \xC2\xB0")) << words;
        for (const Row& row : section.rows) {
            EXPECT_EQ(row.cells.size(), section.heads.size()) << section.title << ", " << row.name;
            EXPECT_TRUE(has_part(scene.head, row.part)) << section.title << ", " << row.name;
            EXPECT_FALSE(row.name.empty()) << section.title;
        }
    }
}

TEST_P(Linkages, EveryKeyOfTheSceneStandsInTheLedgerOrInAForm) {
    const scene::Scene scene = *scene::load(GetParam());
    EXPECT_GT(expect_every_key_shown(scene, all_fields(scene.head),
                                     {"format", "blades", "kind", "moves", "inner_balls", "outer_balls", "guide_pin",
                                      "driver_pin", "driver_pins", "pitch_arm"}),
              40);
}

TEST_P(Linkages, WhatAFormGivesAndTakesAwayLeavesTheSceneAsItWas) {
    const scene::Scene start = *scene::load(GetParam());
    for (const Field& field : all_fields(start.head)) {
        scene::Scene scene = start;
        if (const auto* numbers = std::get_if<Numbers>(&field.what)) {
            const auto before = numbers->read(scene.head);
            ASSERT_TRUE(before || numbers->may_be_missing) << field.key;
            auto other = before.value_or(numbers->usual);
            ASSERT_EQ(other.size(), numbers->each.size()) << field.key;
            other[0] += 1;
            numbers->write(scene.head, other);
            ASSERT_TRUE(numbers->read(scene.head)) << field.key;
            EXPECT_EQ((*numbers->read(scene.head))[0], other[0]) << field.key;
            if (field.key == "axis" || field.key == "zero" || field.key == "horn_zero")
                continue;  // the other turns too
            if (numbers->may_be_missing) numbers->write(scene.head, std::nullopt);
            numbers->write(scene.head, before);
        } else if (const auto* words = std::get_if<Words>(&field.what); words && words->offers) {
            const std::string before = words->read(scene);
            EXPECT_FALSE(words->write(scene, "lever[99]")) << field.key;
            EXPECT_EQ(scene::write(scene), scene::write(start)) << field.key;
            const auto offers = words->offers(scene.head);
            EXPECT_TRUE(std::ranges::any_of(offers, [&](const Offer& o) { return o.words == before; })) << before;
            for (const Offer& offer : offers) {
                EXPECT_FALSE(offer.words.empty());
                ASSERT_TRUE(words->write(scene, offer.text)) << offer.text;
                EXPECT_EQ(words->read(scene), offer.words);
            }
            if (field.key == "on") continue;  // a blade's terms go with it
            ASSERT_TRUE(words->write(scene, before));
        }
        EXPECT_EQ(scene::write(scene), scene::write(start)) << field.key;
    }
}

TEST_P(Linkages, OpenAndAreDrawnOnEverySheetWithEveryPartChosen) {
    State state = state_of(GetParam());
    frames(state);
    EXPECT_TRUE(state.bench.live().closes) << state.bench.live().sentence.text;
    for (const Part& part : parts_of(state.bench.head())) {
        for (const Sheet sheet : {Sheet::parts, Sheet::compare, Sheet::measure, Sheet::lessons}) {
            state.sheet = sheet;
            for (Section& section : state.ledger.sections) section.open = section.more_open = true;
            state.selection.selected = part;
            state.selection.show_selected = true;
            frames(state, 1);
            EXPECT_EQ(state.selection.selected, part);
        }
    }
    const std::string path = SWASHWRIGHT_SCENES "/two_blade_600.toml";
    ASSERT_TRUE(compare_with_file(state.compare, path));  // another kind of head
    state.sheet = Sheet::compare;
    frames(state);
    EXPECT_FALSE(state.compare.answer.text.empty());
}

TEST_P(Linkages, EveryQuestionHasAnAnswerOrSaysWhyNot) {
    State state = state_of(GetParam());
    state.sheet = Sheet::questions;
    for (Question& question : state.questions) {
        if (question.key == "reach")
            question.values.set("clearance", false);  // what touches takes seconds, and is the same card
        question.open = true;
    }
    studies::PitchReading reading;
    state.gauge.readings.pitch.assign(2, reading);
    for (auto& one : state.gauge.readings.pitch) one.reading_deg = 0.2;
    ++state.gauge.revision;
    for (const bool again : {false, true}) {  // and at other sticks
        if (again) state.bench.controls.sticks = {0.2, 0.1, 0, 0.3};
        do {
            frames(state, 1);
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        } while (answering(state.questions));
        frames(state, 2);
        for (const Question& question : state.questions) {
            ASSERT_TRUE(question.inquiry.outcome()) << question.key;
            const Outcome& outcome = *question.inquiry.outcome();
            EXPECT_FALSE((outcome ? outcome->answer.text : outcome.error()).empty()) << question.key;
        }
    }
}

TEST_P(Linkages, AreTheSameSceneOnceChangedTakenBackSavedAndOpenedAgain) {
    const std::string path = ::testing::TempDir() + fmt::format("swashwright_{}_{}", ::getpid(),
                                                                std::filesystem::path(GetParam()).filename().string());
    std::filesystem::copy_file(GetParam(), path, std::filesystem::copy_options::overwrite_existing);
    const std::string start = scene::write(*scene::load(path));
    State state = state_of(path);
    std::size_t edits = 0;
    for (std::size_t s = 0; s < state.ledger.sections.size(); ++s)
        for (std::size_t r = 0; r < state.ledger.sections[s].rows.size(); ++r)
            for (const Cell& cell : state.ledger.sections[s].rows[r].cells) {
                scene::Scene next = state.bench.document().scene();
                cell.value(next.head) += 0.01;
                if (try_edit(state.screen, state.bench, std::move(next), fmt::format("{}{}{}", s, r, cell.name)))
                    ++edits;
            }
    frames(state, 1);
    EXPECT_GT(edits, 40U);
    const std::string changed = scene::write(state.bench.document().scene());
    EXPECT_NE(changed, start);
    ASSERT_TRUE(state.bench.save(path));
    EXPECT_EQ(scene::write(*scene::load(path)), changed);
    for (std::size_t i = 0; i < edits; ++i) undo(state);
    frames(state, 1);
    EXPECT_EQ(scene::write(state.bench.document().scene()), start);
    for (std::size_t i = 0; i < edits; ++i) redo(state);
    EXPECT_EQ(scene::write(state.bench.document().scene()), changed);
    for (std::size_t i = 0; i < edits; ++i) undo(state);
    ASSERT_TRUE(state.bench.save(path));
    EXPECT_EQ(scene::write(*scene::load(path)), start);
    EXPECT_TRUE(scene::write(*scene::load(path)).starts_with("format = 2"));
    std::filesystem::remove(path);
}

TEST_P(Linkages, AreOpenedInPlaceOfAnotherHeadAndTakenUpAgainAfterABadEnd) {
    State state = state_of(SWASHWRIGHT_SCENES "/three_blade_700.toml");
    for (Section& section : state.ledger.sections) section.open = section.more_open = true;
    state.selection.selected = Part{Role::upper_link, 2};
    state.selection.hovered = state.selection.selected;
    frames(state);
    open_file(state, GetParam());  // as a file that is dropped on the window
    EXPECT_EQ(state.dialogs.open, Dialog::none) << state.dialogs.error;
    EXPECT_EQ(state.bench.document().path(), GetParam());
    for (Section& section : state.ledger.sections) section.open = section.more_open = true;
    frames(state);
    EXPECT_TRUE(state.bench.live().closes);
    open_file(state, SWASHWRIGHT_SCENES "/three_blade_700.toml");
    frames(state);
    EXPECT_TRUE(state.bench.live().closes);

    scene::Scene work = *scene::load(GetParam());
    work.head.rotor.hub_height_mm += 0.01;
    const auto taken = document::take_up({"", GetParam(), scene::write(work), "2026-11-25 22:40"});
    ASSERT_TRUE(taken);
    EXPECT_TRUE(taken->unsaved());
    EXPECT_EQ(scene::write(taken->scene()), scene::write(work));
}

}  // namespace
}  // namespace swashwright::panels
