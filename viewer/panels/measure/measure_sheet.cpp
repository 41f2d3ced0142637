#include "viewer/panels/measure/measure_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <vector>

#include "viewer/panels/files/files.h"
#include "viewer/panels/files/gauge_file.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

using studies::Taking;

const std::array<std::vector<Taking>, 18>& pages() {
    using T = Taking;
    static const std::array<std::vector<Taking>, 18> all{{{T::ball, T::shaft, T::cross_bolt, T::barrel},
                                                          {T::boss_lower, T::boss_upper},
                                                          {T::inner_span},
                                                          {T::outer_span, T::outer_to_shaft},
                                                          {T::sleeve, T::sleeve_below},
                                                          {T::inner_ball, T::faces, T::outer_ball},
                                                          {T::block_to_face, T::block_to_ball},
                                                          {T::face_to_bolt, T::block_to_bolt, T::bolt_to_axis},
                                                          {T::arm_span},
                                                          {T::arm_along, T::arm_lead, T::arm_up},
                                                          {T::horn},
                                                          {T::servo_height},
                                                          {T::servo_along, T::servo_across},
                                                          {T::horn_span},
                                                          {T::lower_link},
                                                          {T::upper_link},
                                                          {T::guide_pin, T::driver_pin},
                                                          {T::tip}}};
    return all;
}

/// A file name that is not taken yet: "measured_head.toml", "measured_head_2.toml".
std::string free_name(const std::filesystem::path& folder) {
    std::error_code none;
    for (int number = 1;; ++number) {
        const auto path = folder / (number == 1 ? "measured_head.toml" : fmt::format("measured_head_{}.toml", number));
        if (!std::filesystem::exists(path, none)) return path.string();
    }
}

}  // namespace

std::span<const Taking> takings_of_page(int page) {
    if (page < 1 || page > reading_pages()) return {};
    return pages()[static_cast<std::size_t>(page - 1)];
}

int reading_pages() {
    return static_cast<int>(pages().size());
}

const tl::expected<studies::Measured, std::string>& measured(State& state) {
    MeasureSheet& sheet = state.measure;
    if (sheet.solved_revision != sheet.revision) {
        sheet.found = studies::measured_head(sheet.file.measured);
        sheet.solved_revision = sheet.revision;
    }
    return sheet.found;
}

void save_measured(State& state) {
    if (state.measure.path.empty())
        ask_for_file(state, Dialog::save_calliper, path_beside(state, ".measured.toml"));
    else
        save_measured_as(state, state.measure.path);
}

void save_measured_as(State& state, const std::string& path) {
    MeasureSheet& sheet = state.measure;
    if (!save_text(state, Dialog::save_calliper, path, sheet.path, scene::write(sheet.file))) return;
    sheet.path = path;
    sheet.saved_revision = sheet.revision;
    sheet.said = "Readings saved as " + std::filesystem::path(path).filename().string();
    go_on(state);
}

void take_measured(State& state, scene::MeasuredFile file, const std::string& path, bool saved) {
    MeasureSheet& sheet = state.measure;
    const std::uint64_t revision = sheet.revision + 1;
    const int page = sheet.page;
    sheet = {};
    sheet.file = std::move(file);
    sheet.revision = revision;
    sheet.saved_revision = saved ? revision : 0;
    sheet.page = page;
    sheet.path = path;
}

void put_measured_away(State& state, const std::string& scene_path) {
    if (state.measure.file.measured.taken.empty()) return;
    const std::string path = state.measure.path;
    take_measured(state, {}, "", /*saved=*/true);
    state.measure.page = 0;
    state.measure.said = put_away_words(scene_path, path);
}

void start_measuring_anew(State& state) {
    with_work_safe(state, {.calliper = true}, [](State& s) {
        take_measured(s, {}, "", /*saved=*/true);
        s.measure.page = 0;
        s.sheet = Sheet::measure;
        s.dialog = Dialog::none;
    });
}

bool readings_unsaved(const State& state) {
    const MeasureSheet& sheet = state.measure;
    return sheet.saved_revision != sheet.revision && !sheet.file.measured.taken.empty();
}

document::KeptReadings readings_to_keep(const State& state) {
    const MeasureSheet& sheet = state.measure;
    return {sheet.revision, readings_unsaved(state), sheet.path, [&sheet] { return scene::write(sheet.file); }};
}

namespace {

void show_measured_head(State& state) {
    const auto& found = measured(state);
    if (!found) return;
    scene::Scene made;
    made.head = found->head;
    made.note = scene::note_of_measured(state.measure.file);
    const std::string before = state.document.path();
    const auto folder = std::filesystem::path(name_to_save(state)).parent_path();
    show_document(state, document::Document::never_saved(std::move(made), free_name(folder)));
    put_gauge_away(state, before);
    state.measure.said = "This is the head in the picture now. It is not saved yet (Ctrl+S).";
}

}  // namespace

void make_measured_head(State& state) {
    if (measured(state)) with_work_safe(state, {.scene = true, .gauge = true}, show_measured_head);
}

}  // namespace swashwright::panels
