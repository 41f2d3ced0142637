#include "viewer/panels/questions/readings_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

constexpr float count_width = 36, stick_width = 48, number_width = 60;

void changed(Gauge& gauge) {
    ++gauge.revision;
    gauge.said.clear();
}

/// One number of a reading in the next cell of the table.
void cell(Screen& screen, Gauge& gauge, const std::string& name, double& value, double low, double high, int decimals,
          double step, float width = number_width) {
    ImGui::TableNextColumn();
    ImGui::PushID(name.c_str());
    double typed = value;
    if (number_field(screen, "reading", typed, {.decimals = decimals, .step = step, .width = width})) {
        value = std::clamp(typed, low, high);
        changed(gauge);
    }
    screen.report.item(name);
    ImGui::PopID();
}

void stick_cells(Screen& screen, const Bench& bench, Gauge& gauge, const std::string& name, head::Sticks& sticks) {
    if (bench.head().kind == head::Kind::tail)
        return cell(screen, gauge, name + " rudder", sticks.rudder, -1, 1, 2, 0.1, stick_width);
    cell(screen, gauge, name + " collective", sticks.collective, -1, 1, 2, 0.1, stick_width);
    cell(screen, gauge, name + " aileron", sticks.aileron, -1, 1, 2, 0.1, stick_width);
    cell(screen, gauge, name + " elevator", sticks.elevator, -1, 1, 2, 0.1, stick_width);
}

/// What was read, in the last cell but one: the row counts once it has been typed.
template <class Reading>
void reading_cell(Screen& screen, Gauge& gauge, const std::string& name, BenchRow<Reading>& row, double& value,
                  double most, double step) {
    ImGui::TableNextColumn();
    ImGui::PushID(name.c_str());
    std::optional<double> typed = row.typed ? std::optional(value) : std::nullopt;
    if (optional_number_field(screen, "reading", typed, {.decimals = 2, .step = step, .width = number_width}, "type")) {
        row.typed = typed.has_value();
        value = std::clamp(typed.value_or(0), -most, most);
        changed(gauge);
    }
    screen.report.item(name);
    ImGui::PopID();
}

/// A whole number counted from 1 for people, from 0 inside.
void count_cell(Screen& screen, Gauge& gauge, const std::string& name, int& index, int count) {
    double number = index + 1;
    cell(screen, gauge, name, number, 1, count, 0, 1, count_width);
    index = static_cast<int>(std::lround(number)) - 1;
}

/// In the next cell of the table.
bool remove_button(Screen& screen, const std::string& name) {
    ImGui::TableNextColumn();
    return word_button(screen, (name + " remove").c_str(), "\xC3\x97", "Take this reading out");
}

/// Closes the table and takes out the reading that is to go, if any.
void end(Gauge& gauge, auto& rows, std::optional<std::size_t> gone) {
    ImGui::EndTable();
    if (!gone) return;
    rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(*gone));
    changed(gauge);
}

/// `first`, the sticks of this head, then `rest`.
bool begin(const char* id, const Bench& bench, const char* first, std::initializer_list<const char*> rest) {
    std::vector<const char*> heads{first};
    const bool tail = bench.head().kind == head::Kind::tail;
    for (const char* stick : tail ? std::vector{"rudder"} : std::vector{"coll.", "ail.", "elev."})
        heads.push_back(stick);
    heads.insert(heads.end(), rest);
    if (!ImGui::BeginTable(id, static_cast<int>(heads.size()), ImGuiTableFlags_SizingFixedFit)) return false;
    ImGui::TableNextRow();
    for (const char* head : heads) {
        ImGui::TableNextColumn();
        ImGui::TextDisabled("%s", head);
    }
    return true;
}

void pitch_rows(Screen& screen, const Bench& bench, Gauge& gauge) {
    auto& rows = gauge.readings.pitch;
    const int blades = bench.head().rotor.blades;
    ImGui::TextDisabled("Pitch gauge, degrees; sticks from -1 to 1");
    if (rows.empty() || !begin("pitch", bench, "blade", {"azim.", "reads", ""})) return;
    std::optional<std::size_t> gone;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string name = fmt::format("pitch reading {}", i + 1);
        ImGui::TableNextRow();
        count_cell(screen, gauge, name + " blade", rows[i].blade, blades);
        stick_cells(screen, bench, gauge, name, rows[i].sticks);
        cell(screen, gauge, name + " azimuth", rows[i].azimuth_deg, -360, 360, 0, 30, stick_width);
        reading_cell(screen, gauge, name + " reads", rows[i], rows[i].reading_deg, 90, 0.1);
        if (remove_button(screen, name)) gone = i;
    }
    end(gauge, rows, gone);
}

void height_rows(Screen& screen, const Bench& bench, Gauge& gauge) {
    auto& rows = gauge.readings.ring_height;
    if (rows.empty()) return;
    ImGui::TextDisabled("Height of a ball on the inner ring above the datum, mm");
    if (!begin("height", bench, "ball", {"reads", ""})) return;
    std::optional<std::size_t> gone;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string name = fmt::format("height reading {}", i + 1);
        ImGui::TableNextRow();
        int ball = rows[i].ball.value_or(0);
        count_cell(screen, gauge, name + " ball", ball, static_cast<int>(bench.head().swashplate.inner_balls.size()));
        if (rows[i].ball) rows[i].ball = ball;
        stick_cells(screen, bench, gauge, name, rows[i].sticks);
        reading_cell(screen, gauge, name + " reads", rows[i], rows[i].reading_mm, 1000, 0.05);
        if (remove_button(screen, name)) gone = i;
    }
    end(gauge, rows, gone);
}

/// A new reading starts where the sticks and the rotor stand; what was read is still to be typed.
void add_buttons(Screen& screen, const Bench& bench, Gauge& gauge) {
    if (word_button(screen, "Add pitch reading", "Add pitch", "A reading at the sticks and azimuth as they stand")) {
        studies::PitchReading reading;
        reading.sticks = bench.controls.sticks;
        reading.azimuth_deg = std::round(bench.controls.azimuth_deg);
        reading.blade = static_cast<int>(gauge.readings.pitch.size()) % bench.head().rotor.blades;
        gauge.readings.pitch.emplace_back(reading, /*typed=*/false);
        changed(gauge);
    }
    ImGui::SameLine();
    if (word_button(screen, "Add height reading", "Add height", "A ring height at the sticks as they stand")) {
        studies::RingHeightReading reading;
        reading.sticks = bench.controls.sticks;
        reading.ball = static_cast<int>(gauge.readings.ring_height.size() %
                                        std::max<std::size_t>(1, bench.head().swashplate.inner_balls.size()));
        gauge.readings.ring_height.emplace_back(reading, /*typed=*/false);
        changed(gauge);
    }
}

void file_buttons(Screen& screen, const Gauge& gauge, Wishes& wishes) {
    ImGui::SameLine();
    if (word_button(screen, "Save readings", "Save", "In their file; asks for one the first time",
                    gauge.readings.size() > 0))
        wishes.push_back(Wish::save_gauge);
    ImGui::SameLine();
    if (word_button(screen, "Read readings", "Read", "From a file")) wishes.push_back(Wish::read_gauge);
}

}  // namespace

void draw_readings(Screen& screen, const Bench& bench, Gauge& gauge, Wishes& wishes) {
    add_buttons(screen, bench, gauge);  // above the rows, so that they stay where they are
    file_buttons(screen, gauge, wishes);
    ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, ImVec2(2, 1));
    pitch_rows(screen, bench, gauge);
    height_rows(screen, bench, gauge);
    ImGui::PopStyleVar();
    if (gauge.readings.waiting()) paragraph(screen.inks().soft, "A row counts once its reading is typed.");
    if (!gauge.said.empty()) {
        ImGui::PushTextWrapPos(0);
        ImGui::TextDisabled("%s", gauge.said.c_str());
        ImGui::PopTextWrapPos();
    }
}

}  // namespace swashwright::panels
