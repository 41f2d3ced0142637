// Every sheet, card, form, lesson step, page and dialog of the window in turn, for tests that look at each.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <functional>
#include <set>
#include <string>
#include <thread>
#include <tuple>
#include <vector>

#include "kinematics/bench_files/calliper.h"
#include "kinematics/bench_files/head_log.h"
#include "kinematics/bench_files/measured.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/ledger/part_form.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/readings_files.h"
#include "viewer/panels/window/state.h"

namespace swashwright::testing {

/// A folder of the same name everywhere, because dialogs show it.
inline std::string walk_folder() {
    const std::filesystem::path folder = "/tmp/swashwright_walk";
    std::filesystem::create_directories(folder);
    for (const char* name : {"two_blade_600.toml", "three_blade_700.toml"})
        std::filesystem::copy_file(std::filesystem::path(SWASHWRIGHT_SCENES) / name, folder / name,
                                   std::filesystem::copy_options::overwrite_existing);
    return folder.string();
}

/// A head with one link that is long, readings taken on it and calliper readings typed in.
inline panels::State state_to_walk(const std::string& scene) {
    panels::State state = panels::state_of(walk_folder() + "/" + scene);
    state.screen.settings.camera_moves = false;
    scene::Scene next = state.bench.document().scene();
    next.head.upper_links[1].error_mm = 0.3;
    panels::try_edit(state.screen, state.bench, std::move(next), "Upper links, link 2, error_mm");
    state.bench.end_run();
    for (const int blade : {0, 1})
        for (const double collective : {0.0, 0.5}) {
            studies::PitchReading reading;
            reading.blade = blade;
            reading.sticks.collective = collective;
            reading.reading_deg = 10 * collective + 0.3 * blade;
            state.gauge.readings.pitch.push_back(reading);
        }
    ++state.gauge.revision;
    auto measured = scene::load_measured(SWASHWRIGHT_SCENES "/readings/two_blade_600.measured.toml");
    EXPECT_TRUE(measured);
    state.measure.file = std::move(*measured);
    state.measure.saved_revision = ++state.measure.revision;
    return state;
}

/// Lets all questions be answered, drawing as often as that takes.
inline void answer_all(panels::State& state, const std::function<void()>& draw) {
    state.sheet = panels::Sheet::questions;
    for (panels::Question& question : state.questions) {
        // What touches takes seconds and adds rows like the others.
        if (question.key == "reach") question.values.set("clearance", false);
        question.open = true;
    }
    do {
        draw();
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    } while (panels::answering(state.questions));
    draw();
    for (panels::Question& question : state.questions) question.open = false;
    state.sheet = panels::Sheet::parts;
}

/// What is shown now, and its name; without a name something only has to go away.
using Visit = std::function<void(const std::string& name)>;

inline void visit_forms(panels::State& state, const Visit& visit) {
    state.sheet = panels::Sheet::parts;
    for (std::size_t s = 0; s < state.ledger.sections.size(); ++s) {
        for (panels::Section& section : state.ledger.sections) section.open = section.more_open = false;
        if (state.ledger.sections[s].rows.empty()) continue;
        state.ledger.sections[s].open = state.ledger.sections[s].more_open = true;
        state.selection.selected = state.ledger.sections[s].rows.back().part;
        state.selection.show_selected = true;  // scrolls there
        visit("form " + state.ledger.sections[s].title);
    }
    scene::Scene wrong = state.bench.document().scene();
    const int last = std::min(2, static_cast<int>(wrong.head.servos.size()) - 1);
    wrong.head.servos[static_cast<std::size_t>(last)].pulse_centre_us = 3;
    panels::try_edit(state.screen, state.bench, std::move(wrong), fmt::format("servo {}, pulse_centre_us", last + 1));
    for (panels::Section& section : state.ledger.sections) section.open = section.more_open = section.title == "Servos";
    state.selection.selected = draw::Part{head::Role::servo, last};
    visit("refused");
    state.screen.entry.refused.clear();
    for (panels::Section& section : state.ledger.sections) section.open = section.more_open = false;
    for (panels::Section& section : state.ledger.sections)
        section.open = section.title == "Lower links" || section.title == "Upper links";
    state.selection.selected.reset();
}

inline void visit_questions(panels::State& state, const Visit& visit) {
    state.sheet = panels::Sheet::questions;
    for (const auto& part : {std::optional<draw::Part>{}, std::optional(draw::Part{head::Role::upper_link, 1})}) {
        state.selection.selected = part;
        visit(part ? "questions with a link chosen" : "questions");
    }
    for (panels::Question& question : state.questions) {
        question.open = true;
        question.show = 0;
        question.whole.assign(question.whole.size(), true);
        visit("question " + question.key);
        question.open = false;
    }
    state.selection.selected.reset();
    state.sheet = panels::Sheet::parts;
}

inline void visit_lessons(panels::State& state, const Visit& visit) {
    state.sheet = panels::Sheet::lessons;
    visit("lessons");
    state.lessons.crash_list = true;
    visit("after a crash");
    state.lessons.crash_list = false;
    for (std::size_t i = 0; i < state.lessons.files.size(); ++i) {
        open_lesson(state.bench, state.view, state.selection, state.lessons, i);
        const std::size_t steps = state.lessons.files[i].lesson->steps.size();
        for (std::size_t step = 0; step < steps; ++step) {
            visit(fmt::format("lesson {:02} step {:02}", i + 1, step + 1));
            if (step + 1 < steps) next_step(state.screen, state.bench, state.view, state.selection, state.lessons);
        }
        close_lesson(state.bench, state.view, state.selection, state.lessons);
    }
    state.sheet = panels::Sheet::parts;
}

/// A round of practice while it is read and when it is told, and the tips in flight. Not the list of rounds: it has a
/// date.
inline void visit_practice(panels::State& state, const Visit& visit) {
    state.sheet = panels::Sheet::lessons;
    start_practice(state.screen, state.bench, state.view, state.selection, state.lessons,
                   users_document(state.bench, state.lessons), {"Your head", 8});
    panels::Practice& practice = state.lessons.practice;
    ASSERT_TRUE(practice.on());
    visit("practice begun");
    read_blade(practice, {.collective = 1, .aileron = 0.5, .elevator = 0}, 120, 0);
    read_blade(practice, {.collective = -1}, 0, 1);
    read_ball(practice, {}, 1);
    practice.chosen = "upper_link[1]";
    visit("practice read");
    name_part(practice, practice.chosen);
    for (int tries = 0; tries < 1000 && (practice.verdict.running() || !practice.verdict.outcome()); ++tries) {
        visit("");
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    visit("practice told");
    close_lesson(state.bench, state.view, state.selection, state.lessons);
    state.lessons.track_page = true;
    visit("tips in flight");
    state.lessons.track.steps = {0, -1};
    visit("tips in flight, a link tried");
    state.lessons.track_page = false;
    state.lessons.track = {};
    state.sheet = panels::Sheet::parts;
}

/// The open head measured place by place: nothing read, readings of which one is a slip, and lists unfolded.
inline void visit_places(panels::State& state, const Visit& visit) {
    state.sheet = panels::Sheet::measure;
    state.places.shown = true;
    visit("places none");
    const auto head = head::Head::build(state.bench.head());
    auto file = scene::load_calliper(SWASHWRIGHT_SCENES "/readings/two_blade_600.places.toml", &*head);
    EXPECT_TRUE(file);
    panels::take_places(state.places, std::move(*file), "", /*saved=*/true);
    visit("places");
    state.places.doubts_open = true;
    visit("places doubts");
    state.places.doubts_open = false;
    state.places.open = {"links", "inner ring", "frame"};
    visit("places lists");
    state.places = {};
    state.sheet = panels::Sheet::parts;
}

/// Every place of the open head, read as it is.
inline void visit_every_place(panels::State& state, const Visit& visit) {
    state.sheet = panels::Sheet::measure;
    state.places.shown = true;
    const auto& found = panels::places_found(state.places, state.bench.document());
    ASSERT_TRUE(found.fit) << found.fit.error();
    for (std::size_t i = 0; i < found.places.size(); ++i) {
        state.places.put({found.places[i].key, found.present[i].value_or(0), studies::Jaws::centres, std::nullopt});
        state.places.open.insert(found.places[i].group);
    }
    panels::places_changed(state.places);
    visit("every place");
    state.places = {};
    state.sheet = panels::Sheet::parts;
}

inline void visit_measure(panels::State& state, const Visit& visit) {
    state.sheet = panels::Sheet::measure;
    for (int page = 0; page <= panels::reading_pages() + 1; ++page) {
        state.measure.page = page;
        visit(fmt::format("measure {:02}", page));
    }
    state.sheet = panels::Sheet::parts;
}

inline void visit_compare(panels::State& state, const Visit& visit) {
    using With = panels::CompareSheet::With;
    state.sheet = panels::Sheet::compare;
    visit("compare opened");
    state.compare.kept = state.bench.head();
    state.compare.with = With::kept;
    visit("compare kept");
    (void)panels::compare_with_file(state.compare, walk_folder() + "/three_blade_700.toml");
    visit("compare file");
    scene::HeadLog log{{{"2026-03-01", "as built", state.bench.document().as_opened()},
                        {"2026-04-12", "upper link 2 turned", state.bench.document().scene()}}};
    std::ofstream(scene::log_path(state.bench.document().path())) << scene::write(log);
    state.compare.with = With::log;
    visit("compare log");
    state.compare.with = With::opened;
    state.sheet = panels::Sheet::parts;
}

inline void visit_dialogs(panels::State& state, const Visit& visit) {
    using panels::Dialog;
    const std::vector<std::pair<Dialog, const char*>> dialogs{
        {Dialog::safety, "safety"},   {Dialog::about, "about"},
        {Dialog::open, "open"},       {Dialog::save, "save"},
        {Dialog::unsaved, "unsaved"}, {Dialog::left_work, "left work"},
        {Dialog::compare, "compare"}, {Dialog::sheet, "sheet"},
        {Dialog::read, "read"},       {Dialog::save_gauge, "save gauge"}};
    state.left_work = {{"", walk_folder() + "/two_blade_600.toml", "x", "2026-11-25 22:40", "x", "", "x"}};
    for (const auto& [dialog, name] : dialogs) {
        if (dialog == Dialog::sheet)
            panels::ask_for_sheet(state, /*card=*/false);
        else if (dialog == Dialog::read)
            panels::ask_for_readings(state, "", ".readings.toml");
        else if (dialog == Dialog::save_gauge)
            panels::save_gauge(state);
        else
            panels::ask(state, dialog);
        visit(fmt::format("dialog {}", name));
        state.dialogs.open = Dialog::none;
        visit("");  // it closes
    }
    state.left_work.clear();
}

/// One step of each kind, in large letters over the whole window.
inline void visit_bench(panels::State& state, const Visit& visit) {
    panels::go_to_bench(state, panels::BenchList::set_up);
    panels::bench_anew(state.screen, state.at_bench);
    visit("");                    // makes the steps
    state.screen.notice.clear();  // no settings are remembered here, which it says
    state.screen.not_remembered.clear();
    std::set<std::tuple<studies::BenchTool, studies::BenchWay, bool>> seen;
    for (std::size_t i = 0; i < state.at_bench.steps.size(); ++i) {
        const studies::BenchStep& step = state.at_bench.steps[i];
        if (!seen.insert({step.tool, step.way, step.sticks.aileron != 0}).second) continue;
        state.at_bench.at = i;
        visit(fmt::format("bench {:02}", i + 1));
    }
    panels::bench_anew(state.screen, state.at_bench);
    panels::leave_at_bench(state.screen, state.at_bench);
    state.screen.notice.clear();  // no settings are remembered here, which it says
}

/// All of it; questions have been answered before.
inline void walk(panels::State& state, const Visit& visit) {
    visit("parts");
    visit_forms(state, visit);
    visit_questions(state, visit);
    visit_measure(state, visit);
    visit_places(state, visit);
    visit_compare(state, visit);
    visit_dialogs(state, visit);
    visit_lessons(state, visit);
    visit_practice(state, visit);
}

}  // namespace swashwright::testing
