#include "viewer/panels/questions/readings_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "kinematics/studies/answer/face.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/questions/tick_box.h"

namespace swashwright::panels {

namespace {

constexpr float count_width = 36, stick_width = 50, azimuth_width = 42, number_width = 60;
constexpr float beside_a_number = 4;  // in a cell; with more, -0.50 would be cut off

void changed(Gauge& gauge) {
    ++gauge.revision;
    gauge.said.clear();
}

/// Goes along the rows and says which are to be taken again; only rows that count were asked about.
class Again {
public:
    explicit Again(std::span<const std::size_t> which) : which_(which) {}

    template <class Reading>
    bool next(const BenchRow<Reading>& row) {
        return row.typed && std::ranges::find(which_, counted_++) != which_.end();
    }

private:
    std::span<const std::size_t> which_;
    std::size_t counted_ = 0;
};

/// One number of a reading in the next cell of the table.
void cell(Screen& screen, Gauge& gauge, const std::string& name, double& value, double low, double high, int decimals,
          double step, float width = number_width) {
    ImGui::TableNextColumn();
    ImGui::PushID(name.c_str());
    double typed = value;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                        ImVec2(beside_a_number * screen.scale(), ImGui::GetStyle().FramePadding.y));
    if (number_field(screen, "reading", typed, {.decimals = decimals, .step = step, .width = width})) {
        value = std::clamp(typed, low, high);
        changed(gauge);
    }
    ImGui::PopStyleVar();
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
        if (head != first) continue;
        ImGui::SameLine(0, 0);  // it is wider than its numbers, and would touch the next
        ImGui::Dummy({0.4F * ImGui::GetFontSize(), 1});
    }
    return true;
}

/// In the next cell of the table: a mark where the answer asks for this reading once more.
void again_cell(Screen& screen, const std::string& name, bool again) {
    ImGui::TableNextColumn();
    if (!again) return;
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + ImGui::GetStyle().FramePadding.y);
    ImGui::Dummy({trouble_mark(screen), ImGui::GetTextLineHeight()});
    screen.report.item(name + " again");
}

/// What the marks mean, where there are any.
void again_words(Screen& screen, std::size_t count) {
    if (count == 0) return;
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + trouble_mark(screen));
    paragraph(screen.inks().ink, count == 1 ? "Take the marked reading again." : "Take the marked readings again.");
}

void pitch_rows(Screen& screen, const Bench& bench, Gauge& gauge, Again& again) {
    auto& rows = gauge.readings.pitch;
    const int blades = bench.head().rotor.blades;
    ImGui::TextDisabled("Pitch gauge, degrees; sticks from -1 to 1");
    if (rows.empty() || !begin("pitch", bench, "blade", {"azim.", "reads", "", ""})) return;
    std::optional<std::size_t> gone;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string name = fmt::format("pitch reading {}", i + 1);
        ImGui::TableNextRow();
        count_cell(screen, gauge, name + " blade", rows[i].blade, blades);
        stick_cells(screen, bench, gauge, name, rows[i].sticks);
        cell(screen, gauge, name + " azimuth", rows[i].azimuth_deg, -360, 360, 0, 30, azimuth_width);
        const bool marked = again.next(rows[i]);
        reading_cell(screen, gauge, name + " reads", rows[i], rows[i].reading_deg, 90, 0.1);
        if (remove_button(screen, name)) gone = i;
        again_cell(screen, name, marked);
    }
    end(gauge, rows, gone);
}

void height_rows(Screen& screen, const Bench& bench, Gauge& gauge, Again& again) {
    auto& rows = gauge.readings.ring_height;
    if (rows.empty()) return;
    paragraph(screen.inks().soft,
              fmt::format("Height in mm of an inner ball above {}", studies::zero_words(bench.head())));
    if (!begin("height", bench, "ball", {"reads", "", ""})) return;
    std::optional<std::size_t> gone;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string name = fmt::format("height reading {}", i + 1);
        ImGui::TableNextRow();
        int ball = rows[i].ball.value_or(0);
        count_cell(screen, gauge, name + " ball", ball, static_cast<int>(bench.head().swashplate.inner_balls.size()));
        if (rows[i].ball) rows[i].ball = ball;
        stick_cells(screen, bench, gauge, name, rows[i].sticks);
        const bool marked = again.next(rows[i]);
        reading_cell(screen, gauge, name + " reads", rows[i], rows[i].reading_mm, 1000, 0.05);
        if (remove_button(screen, name)) gone = i;
        again_cell(screen, name, marked);
    }
    end(gauge, rows, gone);
}

/// A new reading starts where the sticks and the rotor stand; what was read is still to be typed.
void add_buttons(Screen& screen, const Bench& bench, Gauge& gauge) {
    if (word_button(screen, "Add pitch reading", "Add pitch", "A reading at the sticks' and rotor's present place")) {
        studies::PitchReading reading;
        reading.sticks = bench.controls.sticks;
        reading.azimuth_deg = std::round(bench.controls.azimuth_deg);
        reading.blade = static_cast<int>(gauge.readings.pitch.size()) % bench.head().rotor.blades;
        gauge.readings.pitch.emplace_back(reading, /*typed=*/false);
        changed(gauge);
    }
    ImGui::SameLine();
    if (word_button(screen, "Add height reading", "Add height", "A ring height at the sticks' present place")) {
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
                    gauge.readings.any()))
        wishes.push_back(Wish::save_gauge);
    ImGui::SameLine();
    if (word_button(screen, "Open readings", "Open", "Readings from a file")) wishes.push_back(Wish::read_gauge);
}

/// What it was zeroed on; the chosen one, pressed again, is not said any more.
void zeroed_on_buttons(Screen& screen, Gauge& gauge) {
    struct Choice {
        studies::ZeroedOn on;
        const char *word, *words;
    };
    static constexpr std::array choices{
        Choice{studies::ZeroedOn::shaft, "shaft or hub", "It reads 0 on the main shaft or on the hub"},
        Choice{studies::ZeroedOn::level, "level",
               "It reads 0 on the bench or by a spirit level: a leaning shaft shows"},
        Choice{studies::ZeroedOn::blade, "blade", "It reads 0 on the blade at mid stick: only differences are read"}};
    std::optional<studies::ZeroedOn>& zeroed_on = gauge.readings.gauge.zeroed_on;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Gauge zeroed on");
    for (const Choice& choice : choices) {
        const bool on = zeroed_on == choice.on;
        same_line_if_it_fits(choice.word, ImGui::GetStyle().ItemSpacing.x);
        const std::string name = fmt::format("gauge zeroed on {}", choice.word);
        if (!word_button(screen, name.c_str(), choice.word, choice.words, true, on)) continue;
        zeroed_on = on ? std::nullopt : std::optional(choice.on);
        changed(gauge);
    }
}

/// One standard deviation, with words before and behind it.
void within_field(Screen& screen, Gauge& gauge, const char* words, double& value, double most, const char* tip_words) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(words);
    ImGui::SameLine();
    ImGui::PushID(words);
    double typed = value;
    if (number_field(screen, "within", typed, {.decimals = 2, .step = 0.1, .width = number_width})) {
        value = std::clamp(typed, 0.0, most);
        changed(gauge);
    }
    tip(screen, tip_words);
    screen.report.item(words);
    ImGui::PopID();
    ImGui::SameLine();
    ImGui::TextDisabled("deg");
}

void gauge_fields(Screen& screen, Gauge& gauge) {
    studies::Gauge& own = gauge.readings.gauge;
    zeroed_on_buttons(screen, gauge);
    within_field(screen, gauge, "Its zero holds within", own.zero_within_deg, 90,
                 "One standard deviation. 0: it was checked, by turning the gauge end for end");
    const bool checked = own.zero_within_deg == 0;
    if (tick_box(screen, "gauge zero checked", "Zero checked by turning it round",
                 "Turn the gauge end for end: it must read the same with the other sign. Tick to say that you did",
                 checked, /*beside=*/true)) {
        own.zero_within_deg = checked ? studies::Gauge{}.zero_within_deg : 0;
        changed(gauge);
    }
    if (own.zeroed_on == studies::ZeroedOn::level)
        within_field(screen, gauge, "The shaft is upright within", own.lean_within_deg, 45,
                     "One standard deviation, fore and aft and to the sides, on the stand that it has");
}

void before_button(Screen& screen, Gauge& gauge) {
    const auto& before = gauge.readings.before;
    if (!before) {
        if (word_button(screen, "Keep as before", "Keep these as before",
                        "Readings of a sound head, put by: later ones are compared with them",
                        gauge.readings.size() > 0)) {
            keep_as_before(gauge);
            gauge.said = "Put by as readings of when all was well. Save keeps them in the file.";
        }
        return;
    }
    const std::size_t count = before->size();
    paragraph(screen.inks().soft,
              fmt::format("Compared with {} reading{} from before, when all was well.", count, count == 1 ? "" : "s"));
    if (word_button(screen, "Bring before back", "Bring them back",
                    "Into the table again. What is typed now is put by in their place")) {
        bring_before_back(gauge);
        gauge.said.clear();
    }
}

}  // namespace

void draw_readings(Screen& screen, const Bench& bench, Gauge& gauge, std::span<const std::size_t> take_again,
                   Wishes& wishes) {
    gauge_fields(screen, gauge);
    add_buttons(screen, bench, gauge);  // above the rows, so that they stay where they are
    file_buttons(screen, gauge, wishes);
    ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, ImVec2(2, 1));
    Again again(take_again);
    pitch_rows(screen, bench, gauge, again);
    height_rows(screen, bench, gauge, again);
    ImGui::PopStyleVar();
    again_words(screen, take_again.size());
    if (gauge.readings.waiting()) paragraph(screen.inks().soft, "A row counts once its reading is typed.");
    before_button(screen, gauge);
    if (!gauge.said.empty()) {
        ImGui::PushTextWrapPos(0);
        ImGui::TextDisabled("%s", gauge.said.c_str());
        ImGui::PopTextWrapPos();
    }
}

}  // namespace swashwright::panels
