// The page of the Measure sheet on which the open head is measured place by place.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cctype>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/measure/measure_page.h"
#include "viewer/panels/measure/places_page.h"

namespace swashwright::panels {

namespace {

using studies::CalliperFit;
using studies::CalliperPlace;
using studies::CalliperReading;
using studies::Jaws;
using studies::SceneNumbers;

constexpr float field_width = 84;
constexpr double largest_mm = 2000;  // a file of readings holds no larger ones
constexpr std::size_t usual_doubts = 3;
constexpr double behind_seconds = 0.1;  // what is so old passes for now

/// What the page is drawn with.
struct Page {
    Screen& screen;
    const document::Document& document;
    Selection& selection;
    PlacesSheet& sheet;
    Wishes& wishes;
};

const char* word_of(Jaws jaws) {
    return jaws == Jaws::over ? "over" : jaws == Jaws::between ? "between" : "centres";
}

Jaws next_of(Jaws jaws) {
    return jaws == Jaws::centres ? Jaws::over : jaws == Jaws::over ? Jaws::between : Jaws::centres;
}

void numbers_choice(const Page& page) {
    SceneNumbers& now = page.sheet.file.readings.scene;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("The head's numbers are");
    ImGui::SameLine();
    const auto one = [&](const char* id, const char* word, const char* words, SceneNumbers what) {
        if (!word_button(page.screen, id, word, words, true, now == what) || now == what) return;
        now = what;
        places_changed(page.sheet);
    };
    one("places guessed", "guessed", "Only its make-up and angles count: a length may be anywhere near",
        SceneNumbers::guessed);
    same_line_if_it_fits("known", 4);
    one("places known", "known", "Within usual faults: a slip shows where no other reading checks it",
        SceneNumbers::known);
}

void size_fields(const Page& page) {
    studies::RoundSizes& sizes = page.sheet.file.readings.sizes;
    measure_text(page.screen,
                 fmt::format("Diameters in {}, where jaws go over or between what is round",
                             page.screen.settings.inches ? "inches" : "mm"),
                 true);
    if (!ImGui::BeginTable("places sizes", 4, ImGuiTableFlags_SizingFixedFit)) return;
    const auto one = [&](const char* words, const char* id, std::optional<double>& mm, const char* hint) {
        ImGui::TableNextColumn();
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted(words);
        ImGui::TableNextColumn();
        if (optional_number_field(page.screen, id, mm, {.decimals = 2, .step = 0.01, .width = 64, .length = true},
                                  hint)) {
            if (mm) mm = std::clamp(*mm, 0.1, 200.0);
            places_changed(page.sheet);
        }
        page.screen.report.item(id);
    };
    one("balls", "places ball", sizes.ball_mm, "as set");
    one("bosses", "places boss", sizes.boss_mm, "as set");
    one("shaft", "places shaft", sizes.shaft_mm, "?");
    one("pivot pins", "places pin", sizes.pin_mm, "?");
    ImGui::EndTable();
}

/// Unfolds its group; the keyboard goes to its field.
void go_to_place(PlacesSheet& sheet, const std::string& key) {
    const auto place = std::ranges::find(sheet.found.places, key, &CalliperPlace::key);
    if (place == sheet.found.places.end()) return;
    sheet.open.insert(place->group);
    sheet.go_to = key;
}

/// What the readings come to, worst first, and what can be done with it.
void found_words(const Page& page) {
    PlacesSheet& sheet = page.sheet;
    const PlacesFound& found = places_so_far(sheet, page.document);
    if (!places_behind(sheet, page.document)) sheet.fitted_at = page.screen.clock;
    const bool behind = page.screen.clock - sheet.fitted_at > behind_seconds;
    if (sheet.at_work && sheet.fitted == PlacesSheet::Stamp{}) {
        measure_text(page.screen, "Working it out", true);
        return;
    }
    if (!found.fit) {
        measure_doubt(page.screen, found.fit.error());
        return;
    }
    if (sheet.file.readings.list.empty()) {
        measure_text(page.screen, "No reading yet. Type them in any order: what they come to stands here.");
        return;
    }
    const std::string text = lengths_read(studies::answer(*found.fit).text, page.screen.settings.inches);
    measure_text(page.screen, behind ? "Working it out. Before the last change: " + text : text, behind);
    if (found.elsewhere > 0)
        measure_doubt(page.screen,
                      fmt::format("{} of the readings have no place on this head and are not used.", found.elsewhere));
    const std::vector<studies::CalliperDoubt> doubtful = studies::ranked_doubts(*found.fit);
    const std::size_t shown = sheet.doubts_open ? doubtful.size() : std::min(doubtful.size(), usual_doubts);
    for (std::size_t i = 0; i < shown; ++i) {
        const auto& [words, places] = doubtful[i];
        if (doubt_row(page.screen, fmt::format("places doubt {}", i + 1), i + 1, words, !places.empty()))
            go_to_place(sheet, places.front());
    }
    if (word_button(page.screen, "places set", "Make these settings",
                    "The measured numbers into the head that is open; Ctrl+Z takes them back",
                    // Set twice, the same readings would count twice.
                    sheet.set_readings != sheet.revision || sheet.set_head != page.document.revision()))
        page.wishes.push_back(Wish::set_as_measured);
    draw_made(page.screen, page.document, sheet.made, "places", page.wishes);
    if (doubtful.size() <= usual_doubts) return;
    if (sheet.made.revision == page.document.revision()) ImGui::Spacing();
    const std::string more = sheet.doubts_open ? "Fewer doubts" : fmt::format("All {} doubts", doubtful.size());
    same_line_if_it_fits(more.c_str(), ImGui::GetStyle().ItemSpacing.x);
    if (word_button(page.screen, "places doubts", more.c_str(), nullptr)) sheet.doubts_open = !sheet.doubts_open;
}

Jaws jaws_of(PlacesSheet& sheet, const CalliperPlace& place) {
    const CalliperReading* reading = sheet.reading(place.key);
    return reading ? reading->jaws : Jaws::centres;
}

/// What the field holds: "lower link 1, between the bosses, mm".
std::string field_words(const CalliperPlace& place, Jaws jaws, bool inches) {
    std::string words = place.words;
    if (jaws != Jaws::centres) {
        constexpr std::string_view centres = ": ball to ball";
        const bool bosses = place.ends[0] == studies::RoundEnd::boss && place.ends[1] == studies::RoundEnd::boss;
        if (bosses && words.ends_with(centres)) words.resize(words.size() - centres.size());
        words += fmt::format(", {} the {}", word_of(jaws), bosses ? "bosses" : "round ends");
    }
    return words + (inches ? ", in" : ", mm");
}

/// The number, and whether the keyboard left it by Enter.
bool reading_field(const Page& page, const CalliperPlace& place) {
    PlacesSheet& sheet = page.sheet;
    const CalliperReading* reading = sheet.reading(place.key);
    std::optional<double> mm = reading ? std::optional(reading->mm) : std::nullopt;
    if (sheet.go_to == place.key) {
        ImGui::SetKeyboardFocusHere();
        sheet.go_to.reset();
    }
    const std::string name = "places " + place.key;
    if (optional_number_field(page.screen, name.c_str(), mm,
                              {.decimals = 2, .step = 0.01, .width = field_width, .length = true}, "not taken")) {
        if (mm) {
            CalliperReading next = reading ? *reading : CalliperReading{.place = place.key};
            next.mm = std::clamp(*mm, -largest_mm, largest_mm);
            sheet.put(next);
        } else {
            sheet.take_out(place.key);
        }
        places_changed(page.sheet);
    }
    const bool left = ImGui::IsItemDeactivated() && ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[ImGuiKey_Enter], false);
    page.screen.report.item(name);
    return left;
}

void jaws_button(const Page& page, const CalliperPlace& place) {
    PlacesSheet& sheet = page.sheet;
    CalliperReading* reading = sheet.reading(place.key);
    if (!reading || place.ends[0] == studies::RoundEnd::none || place.ends[1] == studies::RoundEnd::none) return;
    if (!word_button(page.screen, ("places jaws " + place.key).c_str(), word_of(reading->jaws),
                     "From middle to middle, over the outsides of both ends, or the gap between them; press to change"))
        return;
    do reading->jaws = next_of(reading->jaws);
    while (!centre_to_centre(place, reading->mm, reading->jaws, sheet.file.readings.sizes));
    places_changed(page.sheet);
}

/// "now in the head 61.00 mm, fitted 61.43 mm", and whether it is one to take again.
void row_facts(const Page& page, const CalliperPlace& place, std::optional<double> present) {
    const bool inches = page.screen.settings.inches;
    // The head's own is from middle to middle, whatever the jaws are laid on.
    const char* own = jaws_of(page.sheet, place) == Jaws::centres ? "now in the head " : "middle to middle now ";
    std::string words = present ? own + length_text(*present, inches) : "";
    const PlacesFound& found = page.sheet.found;
    const studies::PlacedReading* read = nullptr;
    std::size_t row = 0;
    if (found.fit)
        for (; row < found.fit->readings.size() && !read; ++row)
            if (found.fit->readings[row].place.key == place.key) read = &found.fit->readings[row];
    if (read && read->fitted) words += fmt::format(", fitted {}", length_text(*read->fitted, inches));
    measure_text(page.screen, words, true);
    if (!read) return;
    for (const studies::measured::Conflict& conflict : found.fit->conflicts)
        if (std::ranges::find(conflict.rows, row - 1) != conflict.rows.end()) {
            measure_doubt(page.screen, "take again");
            return;
        }
}

void place_row(const Page& page, const CalliperPlace& place, std::optional<double> present, bool& entered) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    measure_text(page.screen, field_words(place, jaws_of(page.sheet, place), page.screen.settings.inches));
    if (ImGui::IsItemHovered()) page.selection.hovered = draw::part_of(place.part);
    row_facts(page, place, present);
    ImGui::TableNextColumn();
    entered = reading_field(page, place);
    jaws_button(page, place);
}

std::string title_of(const std::string& group, int taken, int all) {
    std::string title = group;
    title[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(title[0])));
    return fmt::format("{} ({} of {})", title, taken, all);
}

/// Unfolds the next group where the last field of one was left by Enter.
void go_to_next(PlacesSheet& sheet, std::size_t place) {
    if (place + 1 >= sheet.found.places.size()) return;
    const CalliperPlace& next = sheet.found.places[place + 1];
    sheet.open.insert(next.group);
    sheet.go_to = next.key;
}

void place_list(const Page& page) {
    PlacesSheet& sheet = page.sheet;
    const std::vector<CalliperPlace>& places = sheet.found.places;
    std::optional<std::size_t> left;
    for (std::size_t begin = 0; begin < places.size();) {
        const std::string group = places[begin].group;
        std::size_t end = begin;
        int taken = 0;
        for (; end < places.size() && places[end].group == group; ++end)
            taken += sheet.reading(places[end].key) != nullptr;
        bool open = sheet.open.contains(group);
        if (section_title(page.screen, "places group " + group, title_of(group, taken, static_cast<int>(end - begin)),
                          open))
            sheet.open.insert(group);
        else
            sheet.open.erase(group);
        if (open && ImGui::BeginTable(("places " + group).c_str(), 2, ImGuiTableFlags_SizingFixedFit)) {
            ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch);
            for (std::size_t i = begin; i < end; ++i) {
                bool entered = false;
                place_row(page, places[i], sheet.found.present[i], entered);
                if (entered) left = i;
            }
            ImGui::EndTable();
        }
        begin = end;
    }
    if (left) go_to_next(sheet, *left);
}

void file_row(const Page& page) {
    PlacesSheet& sheet = page.sheet;
    ImGui::Spacing();
    const std::size_t count = sheet.file.readings.list.size();
    if (word_button(page.screen, "places save", "Save readings", "In their file; asks for one the first time",
                    count > 0 || sheet.file.readings.sizes != studies::RoundSizes{}))
        page.wishes.push_back(Wish::save_places);
    ImGui::SameLine();
    if (word_button(page.screen, "places read", "Open readings", "From a file"))
        page.wishes.push_back(Wish::read_places);
    ImGui::SameLine();
    if (word_button(page.screen, "places anew", "Start anew", "Takes all readings out"))
        page.wishes.push_back(Wish::places_anew);
    const std::string taken = fmt::format("{} taken{}", count, places_unsaved(sheet) ? ", not saved" : "");
    same_line_if_it_fits(taken.c_str(), ImGui::GetStyle().ItemSpacing.x);
    ImGui::TextDisabled("%s", taken.c_str());
    if (!sheet.said.empty()) measure_text(page.screen, sheet.said);
}

}  // namespace

void measure_choice(Screen& screen, PlacesSheet& sheet) {
    if (word_button(screen, "measure new", "A new head", "Made from readings alone: three servos, straight links", true,
                    !sheet.shown))
        sheet.shown = false;
    same_line_if_it_fits("The open head", 2);
    if (word_button(screen, "measure open", "The open head",
                    "Its numbers move to what is read: any linkage, place by place", true, sheet.shown))
        sheet.shown = true;
    ImGui::Spacing();
}

void draw_places(Screen& screen, const document::Document& document, Selection& selection, PlacesSheet& sheet,
                 Wishes& wishes) {
    const Page page{screen, document, selection, sheet, wishes};
    measure_text(
        screen,
        "The head that is open, measured place by place: motor disconnected, main blades off unless the reading "
        "needs them, horns at neutral, grips at zero pitch.");
    found_words(page);
    file_row(page);
    numbers_choice(page);
    size_fields(page);
    place_list(page);
}

}  // namespace swashwright::panels
