// Bench readings typed in as a table, kept in a file of their own beside the scene.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "viewer/panels/files/files.h"
#include "viewer/panels/files/gauge_file.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

constexpr float count_width = 36, stick_width = 48, number_width = 60;

void changed(State& state) {
    ++state.readings_revision;
    state.readings_said.clear();
}

/// One number of a reading in the next cell of the table.
void cell(State& state, const std::string& name, double& value, double low, double high, int decimals, double step,
          float width = number_width) {
    ImGui::TableNextColumn();
    ImGui::PushID(name.c_str());
    double typed = value;
    if (number_field(state, "reading", typed, {.decimals = decimals, .step = step, .width = width})) {
        value = std::clamp(typed, low, high);
        changed(state);
    }
    state.report.item(name);
    ImGui::PopID();
}

void stick_cells(State& state, const std::string& name, head::Sticks& sticks) {
    cell(state, name + " collective", sticks.collective, -1, 1, 2, 0.1, stick_width);
    cell(state, name + " aileron", sticks.aileron, -1, 1, 2, 0.1, stick_width);
    cell(state, name + " elevator", sticks.elevator, -1, 1, 2, 0.1, stick_width);
}

/// What was read, in the last cell but one: the row counts once it has been typed.
template <class Reading>
void reading_cell(State& state, const std::string& name, BenchRow<Reading>& row, double& value, double most,
                  double step) {
    ImGui::TableNextColumn();
    ImGui::PushID(name.c_str());
    std::optional<double> typed = row.typed ? std::optional(value) : std::nullopt;
    if (optional_number_field(state, "reading", typed, {.decimals = 2, .step = step, .width = number_width}, "type")) {
        row.typed = typed.has_value();
        value = std::clamp(typed.value_or(0), -most, most);
        changed(state);
    }
    state.report.item(name);
    ImGui::PopID();
}

/// A whole number counted from 1 for people, from 0 inside.
void count_cell(State& state, const std::string& name, int& index, int count) {
    double number = index + 1;
    cell(state, name, number, 1, count, 0, 1, count_width);
    index = static_cast<int>(std::lround(number)) - 1;
}

/// In the next cell of the table.
bool remove_button(State& state, const std::string& name) {
    ImGui::TableNextColumn();
    return word_button(state, (name + " remove").c_str(), "\xC3\x97", "Take this reading out");
}

/// Closes the table and takes out the reading that is to go, if any.
void end(State& state, auto& rows, std::optional<std::size_t> gone) {
    ImGui::EndTable();
    if (!gone) return;
    rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(*gone));
    changed(state);
}

bool begin(const char* id, std::initializer_list<const char*> heads) {
    if (!ImGui::BeginTable(id, static_cast<int>(heads.size()), ImGuiTableFlags_SizingFixedFit)) return false;
    ImGui::TableNextRow();
    for (const char* head : heads) {
        ImGui::TableNextColumn();
        ImGui::TextDisabled("%s", head);
    }
    return true;
}

void pitch_rows(State& state) {
    auto& rows = state.readings.pitch;
    const int blades = state.document.head().rotor.blades;
    ImGui::TextDisabled("Pitch gauge, degrees; sticks from -1 to 1");
    if (rows.empty() || !begin("pitch", {"blade", "coll.", "ail.", "elev.", "azim.", "reads", ""})) return;
    std::optional<std::size_t> gone;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string name = fmt::format("pitch reading {}", i + 1);
        ImGui::TableNextRow();
        count_cell(state, name + " blade", rows[i].blade, blades);
        stick_cells(state, name, rows[i].sticks);
        cell(state, name + " azimuth", rows[i].azimuth_deg, -360, 360, 0, 30, stick_width);
        reading_cell(state, name + " reads", rows[i], rows[i].reading_deg, 90, 0.1);
        if (remove_button(state, name)) gone = i;
    }
    end(state, rows, gone);
}

void height_rows(State& state) {
    auto& rows = state.readings.ring_height;
    if (rows.empty()) return;
    ImGui::TextDisabled("Height of a ball on the inner ring above the datum, mm");
    if (!begin("height", {"ball", "coll.", "ail.", "elev.", "reads", ""})) return;
    std::optional<std::size_t> gone;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string name = fmt::format("height reading {}", i + 1);
        ImGui::TableNextRow();
        int ball = rows[i].ball.value_or(0);
        count_cell(state, name + " ball", ball, static_cast<int>(state.document.head().servos.size()));
        if (rows[i].ball) rows[i].ball = ball;
        stick_cells(state, name, rows[i].sticks);
        reading_cell(state, name + " reads", rows[i], rows[i].reading_mm, 1000, 0.05);
        if (remove_button(state, name)) gone = i;
    }
    end(state, rows, gone);
}

/// A new reading starts where the sticks and the rotor stand; what was read is still to be typed.
void add_buttons(State& state) {
    if (word_button(state, "Add pitch reading", "Add pitch", "A reading at the sticks and azimuth as they stand")) {
        studies::PitchReading reading;
        reading.sticks = state.controls.sticks;
        reading.azimuth_deg = std::round(state.controls.azimuth_deg);
        reading.blade = static_cast<int>(state.readings.pitch.size()) % state.document.head().rotor.blades;
        state.readings.pitch.emplace_back(reading, /*typed=*/false);
        changed(state);
    }
    ImGui::SameLine();
    if (word_button(state, "Add height reading", "Add height", "A ring height at the sticks as they stand")) {
        studies::RingHeightReading reading;
        reading.sticks = state.controls.sticks;
        reading.ball = static_cast<int>(state.readings.ring_height.size() % state.document.head().servos.size());
        state.readings.ring_height.emplace_back(reading, /*typed=*/false);
        changed(state);
    }
}

void file_buttons(State& state) {
    ImGui::SameLine();
    if (word_button(state, "Save readings", "Save", "In their file; asks for one the first time",
                    state.readings.size() > 0))
        save_gauge(state);
    ImGui::SameLine();
    if (word_button(state, "Read readings", "Read", "From a file"))
        ask_for_readings(state, state.readings_path, ".readings.toml");
}

}  // namespace

void draw_readings(State& state) {
    add_buttons(state);  // above the rows, so that they stay where they are
    file_buttons(state);
    ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, ImVec2(2, 1));
    pitch_rows(state);
    height_rows(state);
    ImGui::PopStyleVar();
    if (state.readings.waiting()) paragraph(state.inks().soft, "A row counts once its reading is typed.");
    if (!state.readings_said.empty()) {
        ImGui::PushTextWrapPos(0);
        ImGui::TextDisabled("%s", state.readings_said.c_str());
        ImGui::PopTextWrapPos();
    }
}

}  // namespace swashwright::panels
