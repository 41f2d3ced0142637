#include "viewer/panels/picture/part_bar.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>

#include "viewer/panels/base/widgets.h"
#include "viewer/panels/ledger/part_facts.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/picture/floating.h"
#include "viewer/panels/picture/hiding.h"

namespace swashwright::panels {

namespace {

std::string name_of(const draw::Part& part, const Bench& bench) {
    const auto& shown = bench.live().shown;
    return shown ? facts_of(part, std::nullopt, shown->description, shown->pose, false).name : std::string();
}

void begin_distance(Sights& sights, const std::optional<draw::Place>& from) {
    sights.distance = {};
    sights.distance.open = true;
    sights.distance.from = from;
}

void part_words(Screen& screen, const Bench& bench, View& view, const draw::Part& part, Sights& sights) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(name_of(part, bench).c_str());
    ImGui::SameLine();
    if (is_hidden(view, part)) {
        if (word_button(screen, "part show", "Show", "Draw it again (E)")) show(view, part);
        return;
    }
    if (word_button(screen, "part zoom", "Zoom", "It fills the picture, and turns go about it (Z, double click)"))
        view.fit = Fit::chosen;
    ImGui::SameLine(0, 2);
    if (word_button(screen, "part hide", "Hide", "Leave it out of the picture (E)")) hide(view, part);
    ImGui::SameLine(0, 2);
    if (word_button(screen, "part alone", "Alone", "Leave all other parts out of the picture (O)"))
        show_alone(view, bench.head(), part);
    ImGui::SameLine(0, 2);
    if (word_button(screen, "part distance", "Distance", "Between two places: a dimension that stays (D)", true,
                    sights.distance.open))
        turn_distances(sights);
}

bool item(Screen& screen, const std::string& id, const char* words, const char* key) {
    const bool pressed = ImGui::MenuItem(words, key);
    screen.report.item("menu " + id);
    return pressed;
}

void part_items(Screen& screen, const Bench& bench, View& view, const draw::Part& part) {
    ImGui::TextDisabled("%s", name_of(part, bench).c_str());
    if (item(screen, "zoom", "Zoom to it", "Z")) view.fit = Fit::chosen;
    if (item(screen, "hide", "Hide it", "E")) hide(view, part);
    if (item(screen, "alone", "Show it alone", "O")) show_alone(view, bench.head(), part);
}

void view_items(Screen& screen, View& view) {
    struct Side {
        draw::View from;
        const char *words, *key;
    };
    static constexpr std::array<Side, 7> sides{{{draw::View::corner, "From the corner", "1"},
                                                {draw::View::front, "From the nose", "2"},
                                                {draw::View::back, "From the tail", "6"},
                                                {draw::View::side, "From the left", "3"},
                                                {draw::View::right, "From the right", "7"},
                                                {draw::View::top, "From above", "4"},
                                                {draw::View::below, "From below", "8"}}};
    if (item(screen, "fit", "Fit the head into the picture", "F")) view.fit = Fit::moving;
    for (const Side& side : sides)
        if (item(screen, side.words, side.words, side.key)) view.view_wanted = side.from;
}

}  // namespace

draw::NameBox part_bar_box(const Screen& screen, const Sights& sights, const Rect& place,
                           const std::vector<draw::NameBox>& patches) {
    const float off = 10 * screen.scale();
    const glm::vec2 size(sights.bar.x, sights.bar.y);
    glm::vec2 high(place.right() - off, place.bottom() - off);
    for (const draw::NameBox& patch : patches)
        if (patch.high.x + off > high.x - size.x) high.y = std::min(high.y, patch.low.y - 0.6F * off);
    return {high - size, high};
}

void draw_part_bar(Screen& screen, const Bench& bench, View& view, Selection& selection, Sights& sights,
                   ImVec2 corner) {
    const auto part = selection.selected;
    const bool hidden = !view.hidden.empty();
    if ((!part || !bench.live().shown) && !hidden) {
        sights.bar = {};
        return;
    }
    begin_floating(screen, "part bar", corner, {1, 1});
    if (hidden) {
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted((hidden_words(view) + ":").c_str());
        ImGui::SameLine();
        if (word_button(screen, "show all", "Show all", "Draw every part again (A)")) show_all(view);
    }
    if (part && bench.live().shown) part_words(screen, bench, view, *part, sights);
    sights.bar = end_floating();
}

void draw_place_menu(Screen& screen, const Bench& bench, View& view, Selection& selection, Sights& sights) {
    if (sights.menu.opening) {
        ImGui::OpenPopup("place menu");
        sights.menu.opening = false;
    }
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(10 * screen.scale(), 8 * screen.scale()));
    if (ImGui::BeginPopup("place menu")) {
        if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))) ImGui::CloseCurrentPopup();
        if (sights.menu.part && selection.selected == sights.menu.part)
            part_items(screen, bench, view, *sights.menu.part);
        else
            view_items(screen, view);
        if (item(screen, "distance", sights.menu.place ? "Distance from here" : "Distances", "D"))
            begin_distance(sights, sights.menu.place);
        if (!view.hidden.empty() && item(screen, "show all", (hidden_words(view) + ": show all").c_str(), "A"))
            show_all(view);
        if (!view.distances.empty() && item(screen, "no distances", "Take all distances away", ""))
            view.distances.clear();
        if (item(screen, "save picture", "Save this picture", "S")) sights.picture_wanted = true;
        ImGui::EndPopup();
    }
    ImGui::PopStyleVar();
}

}  // namespace swashwright::panels
