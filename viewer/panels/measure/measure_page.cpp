// The sheet on which a head is made from calliper readings: one page a reading, a drawing of what to measure on each.
#include <fmt/format.h>
#include <imgui.h>
// After imgui.
#include <imgui_stdlib.h>

#include <algorithm>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/measure/measure_page.h"
#include "viewer/panels/measure/measure_sketch.h"

namespace swashwright::panels {

namespace {

using studies::MeasuredLayout;
using studies::ReadingPlace;
using studies::Taking;
using studies::TakingInfo;

constexpr float sketch_height = 236, field_width = 96;
constexpr double largest_mm = 2000;  // a file of readings holds no larger ones

int last_page() {
    return reading_pages() + 1;
}

std::vector<ReadingPlace> places_of_page(const MeasureSheet& sheet) {
    std::vector<ReadingPlace> out;
    for (const Taking taking : takings_of_page(sheet.page))
        for (int i = 0; i < studies::count(sheet.file.measured.layout, taking); ++i) out.push_back({taking, i});
    return out;
}

/// Turns to a page; the keyboard goes to its first number, or to the given one.
void turn_to(MeasureSheet& sheet, int page, std::optional<ReadingPlace> place = {}) {
    sheet.page = std::clamp(page, 0, last_page());
    const auto places = places_of_page(sheet);
    sheet.at = place;
    if (!sheet.at && !places.empty()) sheet.at = places[0];
    sheet.go_to = sheet.at;
}

std::string field_name(const ReadingPlace& place) {
    return fmt::format("measure {} {}", studies::info(place.taking).key, place.index + 1);
}

std::string heading_of_page(const MeasureSheet& sheet) {
    if (sheet.page == 0) return "How the head is laid out";
    if (sheet.page == last_page()) return "The head";
    const auto takings = takings_of_page(sheet.page);
    const Taking shown = sheet.at ? sheet.at->taking : takings[0];
    return studies::info(shown).title;
}

void page_buttons(Screen& screen, MeasureSheet& sheet) {
    if (word_button(screen, "measure back", "Back", "The page before", sheet.page > 0)) turn_to(sheet, sheet.page - 1);
    ImGui::SameLine();
    if (word_button(screen, "measure next", "Next", "The next page; Enter in the last number turns it, too",
                    sheet.page < last_page()))
        turn_to(sheet, sheet.page + 1);
    ImGui::SameLine();
    if (word_button(screen, "measure list", "List", "All readings, to be looked at and gone to", true, sheet.list_open))
        sheet.list_open = !sheet.list_open;
    ImGui::SameLine();
    if (word_button(screen, "measure end", "To the head", "What the readings give so far", sheet.page < last_page()))
        turn_to(sheet, last_page());
    const std::string where = sheet.page == 0             ? "before the readings"
                              : sheet.page == last_page() ? "after the readings"
                                                          : fmt::format("page {} of {}", sheet.page, reading_pages());
    // How far one is: a line that fills.
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, done = float(sheet.page) / float(last_page());
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddLine(at, {at.x + width, at.y}, screen.inks().rule, 2 * screen.scale());
    list.AddLine(at, {at.x + done * width, at.y}, screen.inks().ink, 3 * screen.scale());
    ImGui::Dummy({0, 4 * screen.scale()});
    ImGui::PushFont(screen.fonts.heading);
    ImGui::TextUnformatted(heading_of_page(sheet).c_str());
    const float line = ImGui::GetTextLineHeight();
    ImGui::PopFont();
    // Beside the heading, in fewer words where it leaves less room.
    const bool reading = sheet.page > 0 && sheet.page < last_page();
    for (const std::string& words :
         {where, reading ? fmt::format("{} / {}", sheet.page, reading_pages()) : std::string()}) {
        const float wide = ImGui::CalcTextSize(words.c_str()).x;
        if (ImGui::GetItemRectMax().x + 2 * ImGui::GetStyle().ItemSpacing.x + wide >= at.x + width) continue;
        text_at(list, {at.x + width - wide, ImGui::GetItemRectMax().y - (line + ImGui::GetTextLineHeight()) / 2},
                screen.inks().soft, words);
        break;
    }
}

SketchLook look_of(const Screen& screen) {
    return {screen.inks(), screen.scale()};
}

/// Room for a drawing on a sheet of its own.
std::pair<ImVec2, ImVec2> sketch_room(const Screen& screen, float height) {
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 size{ImGui::GetContentRegionAvail().x, height};
    ImGui::Dummy(size);
    const ImVec2 high{low.x + size.x, low.y + size.y};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(low, high, screen.inks().paper);
    list.AddRect(low, high, screen.inks().rule);
    return {{low.x + 8, low.y + 8}, {high.x - 8, high.y - 8}};
}

void reading_sketch(Screen& screen, MeasureSheet& sheet, float height) {
    const auto [low, high] = sketch_room(screen, height);
    const ImVec2 clip_low = ImGui::GetWindowDrawList()->GetClipRectMin(),
                 clip_high = ImGui::GetWindowDrawList()->GetClipRectMax();
    if (ImGui::IsRectVisible(low, high))
        screen.report.rectangle("measure sketch", {low.x, std::max(low.y, clip_low.y)},
                                {high.x, std::min(high.y, clip_high.y)});
    if (!sheet.at) return;
    const auto taken = sheet.file.measured.taken.find(*sheet.at);
    const std::string label =
        taken == sheet.file.measured.taken.end() ? "?" : length_number(taken->second.mm, screen.settings.inches);
    draw_measure_sketch(*ImGui::GetWindowDrawList(), low, high, look_of(screen), sheet.file.measured.layout, *sheet.at,
                        label);
}

/// The number, and whether the keyboard left it by Enter.
bool reading_field(Screen& screen, MeasureSheet& sheet, const ReadingPlace& place) {
    auto& taken = sheet.file.measured.taken;
    const auto found = taken.find(place);
    std::optional<double> mm = found == taken.end() ? std::nullopt : std::optional(found->second.mm);
    if (sheet.go_to == place) {
        ImGui::SetKeyboardFocusHere();
        sheet.go_to.reset();
    }
    const std::string name = field_name(place);
    if (optional_number_field(screen, name.c_str(), mm,
                              {.decimals = 2, .step = 0.01, .width = field_width, .length = true}, "not taken")) {
        if (mm)
            taken[place].mm = std::clamp(*mm, -largest_mm, largest_mm);
        else
            taken.erase(place);
        measure_changed(sheet);
    }
    const bool left = ImGui::IsItemDeactivated() && ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[ImGuiKey_Enter], false);
    if (ImGui::IsItemActive()) sheet.at = place;
    screen.report.item(name);
    return left;
}

std::string row_words(const Screen& screen, const MeasureSheet& sheet, const ReadingPlace& place) {
    return fmt::format("{}, {}", studies::words(sheet.file.measured.layout, place),
                       screen.settings.inches ? "in" : "mm");
}

constexpr const char *out_word = "Clear", *unusual_word = "unusual size";

bool is_unusual(const ReadingPlace& place, double mm) {
    const TakingInfo& usual = studies::info(place.taking);
    return mm < usual.low || mm > usual.high;
}

/// The names stand beside their fields where they do so on a line each, else above.
bool names_beside(const Screen& screen, const MeasureSheet& sheet, const std::vector<ReadingPlace>& places,
                  float width) {
    const ImGuiStyle& style = ImGui::GetStyle();
    const auto button = [&](const char* word) { return ImGui::CalcTextSize(word).x + 2 * style.FramePadding.x; };
    const auto& taken = sheet.file.measured.taken;
    float beside = button(out_word);
    for (const ReadingPlace& place : places)
        if (const auto found = taken.find(place); found != taken.end() && is_unusual(place, found->second.mm))
            beside = button(out_word) + style.ItemSpacing.x + ImGui::CalcTextSize(unusual_word).x;
    beside += field_width * screen.scale() + 6 * style.CellPadding.x;
    return std::ranges::all_of(places, [&](const ReadingPlace& place) {
        return ImGui::CalcTextSize(row_words(screen, sheet, place).c_str()).x + beside <= width;
    });
}

/// `beside`: in a table of three columns.
void reading_row(Screen& screen, MeasureSheet& sheet, const ReadingPlace& place, bool beside,
                 std::optional<ReadingPlace>& entered) {
    auto& taken = sheet.file.measured.taken;
    if (beside) {
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        ImGui::AlignTextToFramePadding();
    }
    const bool here = sheet.at == place;
    measure_text(screen, row_words(screen, sheet, place), !here);
    if (beside) ImGui::TableNextColumn();
    if (reading_field(screen, sheet, place)) entered = place;
    const auto found = taken.find(place);
    if (found == taken.end()) return;
    if (beside)
        ImGui::TableNextColumn();
    else
        ImGui::SameLine();
    if (word_button(screen, (field_name(place) + " out").c_str(), out_word, "Take this reading out")) {
        taken.erase(found);
        measure_changed(sheet);
        return;
    }
    if (!is_unusual(place, found->second.mm)) return;
    ImGui::SameLine();
    ImGui::TextUnformatted(unusual_word);
}

void reading_page(Screen& screen, MeasureSheet& sheet) {
    const auto places = places_of_page(sheet);
    if (!sheet.at || std::ranges::find(places, *sheet.at) == places.end()) sheet.at = places[0];
    const TakingInfo& shown = studies::info(sheet.at->taking);
    const bool inches = screen.settings.inches;
    const std::string usual =
        fmt::format("Usual: {} to {}. One reading is good to about {}.{}", length_number(shown.low, inches, 0),
                    length_text(shown.high, inches, 0), length_text(shown.sd, inches),
                    shown.check ? " It checks others: it may be left out." : "");
    const auto words = [&] {
        measure_text(screen, shown.how);
        measure_text(screen, usual, true);
        ImGui::Spacing();
    };
    // Drawing and numbers must be in sight together: in a low window the drawing is smaller, then the words come last.
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const bool beside = names_beside(screen, sheet, places, room.x);
    const float row = beside ? ImGui::GetFrameHeight() + 2 * ImGui::GetStyle().CellPadding.y
                             : ImGui::GetFrameHeightWithSpacing() + ImGui::GetTextLineHeightWithSpacing();
    const float rows = static_cast<float>(places.size()) * row, wanted = sketch_height * screen.scale(),
                gaps = 5 * ImGui::GetStyle().ItemSpacing.y;
    const float read = ImGui::CalcTextSize(wrapped(shown.how, room.x).c_str()).y +
                       ImGui::CalcTextSize(wrapped(usual, room.x).c_str()).y;
    const float smallest = (beside ? 0.67F : 0.56F) * screen.scale();
    const float least = sketch_height * std::min(screen.scale(), std::max(0.84F * screen.monitor_scale, smallest));
    const bool low = least + read + rows + gaps > room.y;
    reading_sketch(screen, sheet, std::clamp(room.y - rows - gaps - (low ? 0 : read), least, wanted));
    if (!low) words();
    std::optional<ReadingPlace> entered;
    if (!beside) {
        for (const ReadingPlace& place : places) reading_row(screen, sheet, place, beside, entered);
    } else if (ImGui::BeginTable("measure numbers", 3, ImGuiTableFlags_SizingFixedFit)) {
        ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch);
        for (const ReadingPlace& place : places) reading_row(screen, sheet, place, beside, entered);
        ImGui::EndTable();
    }
    if (low) words();
    if (!entered) return;
    const auto next = std::ranges::find(places, *entered) + 1;
    if (next == places.end())
        turn_to(sheet, sheet.page + 1);
    else
        sheet.go_to = sheet.at = *next;
}

/// Some words of which one is chosen; gives the index of the one that is chosen now.
std::size_t choice(Screen& screen, MeasureSheet& sheet, const char* title, std::initializer_list<const char*> words,
                   std::size_t now) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(title);
    ImGui::SameLine(150 * screen.scale());
    std::size_t chosen = now;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const char* word = words.begin()[i];
        if (i > 0) same_line_if_it_fits(word, 4);
        if (word_button(screen, fmt::format("{} {}", title, word).c_str(), word, nullptr, true, i == now)) chosen = i;
    }
    if (chosen != now) measure_changed(sheet);
    return chosen;
}

void angle_field(Screen& screen, MeasureSheet& sheet, const std::string& name, double& value) {
    ImGui::PushID(name.c_str());
    if (number_field(screen, "angle", value, {.decimals = 1, .step = 1, .width = 64})) {
        value = std::clamp(value, -360.0, 360.0);
        measure_changed(sheet);
    }
    screen.report.item(name);
    ImGui::PopID();
}

void servo_table(Screen& screen, MeasureSheet& sheet) {
    MeasuredLayout& layout = sheet.file.measured.layout;
    measure_text(
        screen,
        "Servos: where inner ball and horn point to, from the nose, anticlockwise seen from above (left is 90); "
        "to which side the output shaft points, looking out along the horn",
        true);
    if (!ImGui::BeginTable("measure servos", 5, ImGuiTableFlags_SizingFixedFit)) return;
    ImGui::TableNextRow();
    for (const char* head : {"", "\nname", "inner\nball \xC2\xB0", "horn\nto \xC2\xB0", "output\nshaft"}) {
        ImGui::TableNextColumn();
        ImGui::TextDisabled("%s", head);
    }
    for (std::size_t j = 0; j < layout.servos.size(); ++j) {
        auto& servo = layout.servos[j];
        const std::string name = fmt::format("measure servo {}", j + 1);
        ImGui::PushID(name.c_str());
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        ImGui::AlignTextToFramePadding();
        ImGui::Text("%d", static_cast<int>(j + 1));
        ImGui::TableNextColumn();
        ImGui::SetNextItemWidth(84 * screen.scale());
        if (ImGui::InputText("##name", &servo.name)) measure_changed(sheet);
        key_stop(screen, Keyboard::Kind::text);
        screen.report.item(name + " name");
        ImGui::TableNextColumn();
        angle_field(screen, sheet, name + " ball", servo.ball_azimuth_deg);
        ImGui::TableNextColumn();
        angle_field(screen, sheet, name + " horn", servo.horn_azimuth_deg);
        ImGui::TableNextColumn();
        if (word_button(screen, (name + " axis").c_str(), servo.axis_left ? "left" : "right",
                        "The side to which the output shaft points, looking from the servo out along the horn; press "
                        "to change")) {
            servo.axis_left = !servo.axis_left;
            measure_changed(sheet);
        }
        ImGui::PopID();
    }
    ImGui::EndTable();
}

void layout_page(Screen& screen, MeasureSheet& sheet) {
    MeasuredLayout& layout = sheet.file.measured.layout;
    measure_text(
        screen,
        "For a main rotor with three servos on straight links; any other begins with New, and is measured as the open "
        "head. Motor disconnected, main blades off unless the reading needs them; horns at neutral, ring level at mid "
        "travel. First what is seen, not measured:");
    const auto [low, high] = sketch_room(screen, sketch_height * screen.scale());
    draw_layout_sketch(*ImGui::GetWindowDrawList(), low, high, look_of(screen), layout);
    layout.blades = 2 + static_cast<int>(choice(screen, sheet, "Blades", {"2", "3", "4", "5", "6"},
                                                static_cast<std::size_t>(layout.blades - 2)));
    const bool clockwise = layout.direction == head::Direction::clockwise;
    layout.direction =
        choice(screen, sheet, "Turns, from above", {"clockwise", "anticlockwise"}, clockwise ? 0 : 1) == 0
            ? head::Direction::clockwise
            : head::Direction::anticlockwise;
    const bool trailing = choice(screen, sheet, "Pitch arms", {"lead", "trail"}, layout.trailing_arm ? 1 : 0) == 1;
    if (trailing != layout.trailing_arm) layout.outer_ahead_deg = trailing ? -90 : 90;
    layout.trailing_arm = trailing;
    const bool span = layout.links == MeasuredLayout::LinkForm::span;
    layout.links = choice(screen, sheet, "Links are read", {"between the bosses", "over the bosses"}, span ? 1 : 0) == 1
                       ? MeasuredLayout::LinkForm::span
                       : MeasuredLayout::LinkForm::gap;
    servo_table(screen, sheet);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Outer ball 1 ahead of blade 1, deg");
    ImGui::SameLine();
    angle_field(screen, sheet, "measure outer ahead", layout.outer_ahead_deg);
}

int page_of(Taking taking) {
    for (int page = 1; page <= reading_pages(); ++page)
        if (std::ranges::find(takings_of_page(page), taking) != takings_of_page(page).end()) return page;
    return 1;
}

void reading_list(Screen& screen, MeasureSheet& sheet) {
    const auto& [layout, taken] = sheet.file.measured;
    std::optional<ReadingPlace> chosen;
    if (!ImGui::BeginTable("measure all", 2, ImGuiTableFlags_SizingStretchProp)) return;
    for (int page = 1; page <= reading_pages(); ++page)
        for (const Taking taking : takings_of_page(page))
            for (int i = 0; i < studies::count(layout, taking); ++i) {
                const ReadingPlace place{taking, i};
                const auto found = taken.find(place);
                ImGui::TableNextRow();
                ImGui::TableNextColumn();
                if (ImGui::Selectable(studies::words(layout, place).c_str(), sheet.at == place,
                                      ImGuiSelectableFlags_SpanAllColumns))
                    chosen = place;
                key_stop(screen, Keyboard::Kind::row, ImGui::GetID("list"));
                screen.report.item("list " + studies::words(layout, place));
                ImGui::TableNextColumn();
                if (found == taken.end())
                    ImGui::TextDisabled("not taken");
                else
                    ImGui::TextUnformatted(length_text(found->second.mm, screen.settings.inches).c_str());
            }
    ImGui::EndTable();
    if (!chosen) return;
    sheet.list_open = false;
    turn_to(sheet, page_of(chosen->taking), chosen);
}

void file_row(Screen& screen, MeasureSheet& sheet, Wishes& wishes) {
    ImGui::Spacing();
    const std::size_t count = sheet.file.measured.taken.size();
    if (word_button(screen, "measure save", "Save readings", "In their file; asks for one the first time", count > 0))
        wishes.push_back(Wish::save_calliper);
    ImGui::SameLine();
    if (word_button(screen, "measure read", "Open readings", "From a file")) wishes.push_back(Wish::read_calliper);
    ImGui::SameLine();
    if (word_button(screen, "measure anew", "Start anew", "Another head: takes all readings out"))
        wishes.push_back(Wish::measure_anew);
    const std::string taken = fmt::format("{} taken{}", count, readings_unsaved(sheet) ? ", not saved" : "");
    same_line_if_it_fits(taken.c_str(), ImGui::GetStyle().ItemSpacing.x);
    ImGui::TextDisabled("%s", taken.c_str());
    if (!sheet.said.empty()) measure_text(screen, sheet.said);
}

}  // namespace

void go_to_reading(MeasureSheet& sheet, const ReadingPlace& place) {
    turn_to(sheet, page_of(place.taking), place);
}

void draw_measure(Screen& screen, MeasureSheet& sheet, Wishes& wishes) {
    page_buttons(screen, sheet);
    if (sheet.list_open)
        reading_list(screen, sheet);
    else if (sheet.page == 0)
        layout_page(screen, sheet);
    else if (sheet.page == last_page())
        draw_measured_head(screen, sheet, wishes);
    else
        reading_page(screen, sheet);
    file_row(screen, sheet, wishes);
}

}  // namespace swashwright::panels
