#include "viewer/panels/measure_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <vector>

#include "viewer/document/atomic_file.h"
#include "viewer/panels/state.h"

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

std::string beside(const std::string& scene_path) {
    return std::filesystem::path(scene_path).replace_extension(".measured.toml").string();
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
    MeasureSheet& sheet = state.measure;
    if (sheet.path.empty()) sheet.path = beside(state.document.path());
    const std::string name = std::filesystem::path(sheet.path).filename().string();
    std::error_code none;
    if (sheet.replace_path != sheet.path && std::filesystem::exists(sheet.path, none)) {
        sheet.replace_path = sheet.path;
        sheet.said = fmt::format("There is a file {} that was not read here. Save once more to replace it.", name);
        return;
    }
    const auto saved = document::write_atomically(sheet.path, scene::write(sheet.file));
    if (saved) {
        sheet.saved_revision = sheet.revision;
        sheet.replace_path = sheet.path;
    }
    sheet.said = saved ? "Readings saved as " + name : saved.error();
}

void read_measured(State& state) {
    MeasureSheet& sheet = state.measure;
    const std::string path = sheet.path.empty() ? beside(state.document.path()) : sheet.path;
    if (readings_unsaved(state) && sheet.lost_revision != sheet.revision) {
        sheet.lost_revision = sheet.revision;
        sheet.said = "What was typed here is not saved. Read once more to replace it.";
        return;
    }
    auto read = scene::load_measured(path);
    if (!read) {
        sheet.said = read.error().text();
        return;
    }
    sheet.file = std::move(*read);
    sheet.path = sheet.replace_path = path;
    sheet.saved_revision = ++sheet.revision;
    sheet.said = "Read from " + std::filesystem::path(path).filename().string();
}

bool readings_unsaved(const State& state) {
    const MeasureSheet& sheet = state.measure;
    return sheet.saved_revision != sheet.revision && !sheet.file.measured.taken.empty();
}

document::KeptReadings readings_to_keep(const State& state) {
    const MeasureSheet& sheet = state.measure;
    return {sheet.revision, readings_unsaved(state), sheet.path, [&sheet] { return scene::write(sheet.file); }};
}

bool take_up_readings(State& state, const document::LeftWork& work) {
    MeasureSheet& sheet = state.measure;
    auto read = scene::parse_measured(work.readings, work.readings_path);
    if (!read) {
        sheet.said = read.error().text();
        return false;
    }
    sheet.file = std::move(*read);
    sheet.path = work.readings_path;
    sheet.replace_path = work.readings_path;
    ++sheet.revision;
    sheet.said = "The readings that were left are here again. Save them to keep them.";
    return true;
}

void make_measured_head(State& state) {
    MeasureSheet& sheet = state.measure;
    const auto& found = measured(state);
    if (!found) return;
    if (state.document.unsaved()) {
        sheet.said = fmt::format("{} has changes that are not saved. Save it first (Ctrl+S); the readings stay here.",
                                 std::filesystem::path(state.document.path()).filename().string());
        return;
    }
    scene::Scene made;
    made.head = found->head;
    made.note = scene::note_of_measured(sheet.file);
    const std::filesystem::path folder = std::filesystem::path(state.document.path()).parent_path();
    show_document(state, document::Document::never_saved(std::move(made), free_name(folder)));
    sheet.said = "This is the head in the picture now. It is not saved yet (Ctrl+S).";
}

}  // namespace swashwright::panels
