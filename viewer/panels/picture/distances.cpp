#include "viewer/panels/picture/distances.h"

#include <fmt/format.h>
#include <imgui.h>
// After imgui.
#include <imgui_stdlib.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/floating.h"
#include "viewer/panels/picture/hiding.h"

namespace swashwright::panels {

namespace {

using At = draw::Place::At;

/// Those that a click can mean; others have the same mark, or none in the picture.
bool can_be_clicked(const draw::Place& place, const draw::Style& style) {
    if (place.at == At::blade_tip) return style.whole_blades;
    return place.at != At::feathering_axis && place.at != At::horn_axis && place.at != At::lever_axis;
}

template <class See>
void for_each_mark(const Shown& shown, const draw::Style& style, const draw::Camera& camera,
                   const draw::Viewport& viewport, const See& see) {
    for (const draw::Place& place : draw::every_place(shown.description)) {
        if (!can_be_clicked(place, style)) continue;
        if (std::ranges::binary_search(style.hidden, draw::part_of(place, shown.description))) continue;
        const auto mark = draw::mark_of(place, shown.description, shown.pose);
        if (!mark) continue;
        const glm::dvec3 at = camera.project(*mark, viewport);
        if (at.z <= 1) see(place, glm::dvec2(at.x - viewport.x, at.y - viewport.y));
    }
}

std::string in_lower_case(std::string text) {
    std::ranges::transform(text, text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

/// Places whose words hold every word that was typed.
std::vector<draw::Place> named_like(const std::string& typed, const head::Description& d) {
    std::vector<draw::Place> out;
    const std::string wanted = in_lower_case(typed);
    for (const draw::Place& place : draw::every_place(d)) {
        const std::string words = in_lower_case(draw::words_of(place, d));
        bool all = true;
        for (std::size_t from = 0; from < wanted.size() && all;) {
            const std::size_t to = std::min(wanted.find(' ', from), wanted.size());
            all = words.find(wanted.substr(from, to - from)) != std::string::npos;
            from = to + 1;
        }
        if (all) out.push_back(place);
    }
    return out;
}

/// Before a name is begun Shift+D is not its first letter, but takes the last distance away as it does elsewhere.
int keep_shift_d(ImGuiInputTextCallbackData* data) {
    if (data->EventChar != 'D' || !ImGui::GetIO().KeyShift) return 0;
    *static_cast<bool*>(data->UserData) = true;
    return 1;
}

/// The field, and below it what its words may mean; Enter takes the first.
void draw_name_field(Screen& screen, const head::Description& d, View& view, Sights& sights) {
    DistanceTool& tool = sights.distance;
    ImGui::TextUnformatted(tool.from ? "to" : "Distance from");
    if (tool.from) {
        ImGui::SameLine();
        ImGui::TextDisabled("from %s", draw::words_of(*tool.from, d).c_str());
    }
    if (tool.focus) ImGui::SetKeyboardFocusHere();
    const bool may_take_last_away = tool.typed.empty() && !view.distances.empty();
    bool last_away = false;
    ImGui::SetNextItemWidth(-1);
    const bool entered =
        ImGui::InputTextWithHint("##place", "type a name, or click in the picture", &tool.typed,
                                 ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackCharFilter,
                                 may_take_last_away ? keep_shift_d : nullptr, &last_away);
    if (last_away) take_last_away(view);
    key_stop(screen, Keyboard::Kind::text);
    screen.report.item("distance place");
    if (ImGui::IsItemActive()) tool.focus = false;                              // it takes a frame or two
    const bool typed_in = ImGui::IsItemActive() || ImGui::IsItemDeactivated();  // Escape has ended it already
    if (typed_in && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))) {
        tool.open = false;
        screen.keyboard.hide();
    }
    if (tool.typed.empty()) return;
    const std::vector<draw::Place> found = named_like(tool.typed, d);
    constexpr std::size_t most = 4;
    std::optional<draw::Place> taken;
    for (std::size_t i = 0; i < std::min(most, found.size()); ++i) {
        const std::string words = draw::words_of(found[i], d);
        if (ImGui::Selectable((words + "##" + std::to_string(i)).c_str(), i == 0)) taken = found[i];
        key_stop(screen, Keyboard::Kind::row, ImGui::GetID("places"));
        screen.report.item("place " + words);
    }
    if (found.size() > most) ImGui::TextDisabled("and %d more", static_cast<int>(found.size() - most));
    if (found.empty()) ImGui::TextDisabled("No place is called so.");
    if (entered && !found.empty()) taken = found.front();
    if (entered || taken) tool.focus = screen.settle = true;  // the keyboard stays here
    if (taken) take_place(view, sights, *taken);
}

/// A row for each that is kept.
void draw_kept(Screen& screen, const Bench& bench, View& view) {
    const head::Description& d = bench.live().shown->description;
    const auto marks = distance_marks(screen, bench, view);
    std::optional<std::size_t> away;
    for (std::size_t i = 0; i < view.distances.size(); ++i) {
        const draw::Distance& distance = view.distances[i];
        const bool there = draw::measure(distance, d, bench.live().shown->pose).has_value();
        std::string words = fmt::format("{}: not in this pose", i + 1);
        for (const draw::DistanceMark& mark : marks)
            if (mark.value.starts_with(fmt::format("{}: ", i + 1)) && there) words = mark.value;
        ImGui::TextUnformatted(words.c_str());
        ImGui::SameLine();
        if (word_button(screen, fmt::format("take distance {} away", i + 1).c_str(), "Take away",
                        "It goes from the picture"))
            away = i;
        paragraph(screen.inks().soft,
                  fmt::format("{} to {}", draw::words_of(distance.from, d), draw::words_of(distance.to, d)));
    }
    if (away) view.distances.erase(view.distances.begin() + static_cast<std::ptrdiff_t>(*away));
}

}  // namespace

void turn_distances(Sights& sights) {
    const bool open = !sights.distance.open;
    sights.distance = {};
    sights.distance.open = sights.distance.focus = open;
}

void take_last_away(View& view) {
    if (!view.distances.empty()) view.distances.pop_back();
}

void take_place(View& view, Sights& sights, const draw::Place& place) {
    DistanceTool& tool = sights.distance;
    tool.typed.clear();
    tool.said.clear();
    if (!tool.from) {
        tool.from = place;
        return;
    }
    if (*tool.from == place) {
        tool.said = "That is the same place. Choose another one.";
        return;
    }
    view.distances.push_back({*std::exchange(tool.from, std::nullopt), place});
}

std::optional<draw::Place> place_at(const Shown& shown, const draw::Camera& camera, const draw::Style& style,
                                    const draw::Viewport& viewport, double x, double y, double scale,
                                    const std::optional<draw::Hit>& hit) {
    std::optional<draw::Place> found;
    double nearest = 14 * scale;
    constexpr double same = 0.5;  // of a pixel: places at one point, of which the first is taken
    for_each_mark(shown, style, camera, viewport, [&](const draw::Place& place, const glm::dvec2& at) {
        const double away = std::hypot(at.x - x, at.y - y);
        if (found ? away < nearest - same : away <= nearest) nearest = away, found = place;
    });
    if (found || !hit) return found;
    draw::Place face;
    face.at = At::face;
    face.part = hit->part, face.frame = hit->frame, face.point = hit->at, face.normal = hit->normal;
    return face;
}

std::vector<draw::DistanceMark> distance_marks(const Screen& screen, const Bench& bench, const View& view) {
    std::vector<draw::DistanceMark> out;
    const auto& shown = bench.live().shown;
    if (!shown) return out;
    for (std::size_t i = 0; i < view.distances.size(); ++i)
        if (const auto found = draw::measure(view.distances[i], shown->description, shown->pose))
            out.push_back({found->a, found->b,
                           fmt::format("{}: {}{}", i + 1, found->drawn ? "about " : "",
                                       length_text(found->mm, screen.settings.inches, found->drawn ? 1 : 2)),
                           found->drawn ? found->how + "; drawn size" : found->how});
    return out;
}

void draw_places(Screen& screen, const Bench& bench, const View& view, const Sights& sights, ImDrawList& list,
                 const Rect& place) {
    const auto& shown = bench.live().shown;
    if (!sights.distance.open || !shown) return;
    const Inks ink = screen.inks();
    const float scale = screen.scale();
    draw::Style style{.whole_blades = view.whole_blades, .touched = {}, .trouble = {}, .hidden = view.hidden};
    const draw::Viewport viewport{0, 0, static_cast<int>(place.width), static_cast<int>(place.height)};
    for_each_mark(*shown, style, view.camera, viewport, [&](const draw::Place& at, const glm::dvec2& seen) {
        const ImVec2 middle{place.x + static_cast<float>(seen.x), place.y + static_cast<float>(seen.y)};
        const bool from = sights.distance.from == at;
        list.AddCircle(middle, 6 * scale, ink.paper, 20, 4 * scale);
        list.AddCircle(middle, 6 * scale, ink.accent, 20, (from ? 4.0F : 1.5F) * scale);
        screen.report.rectangle("mark " + draw::words_of(at, shown->description),
                                {middle.x - 4 * scale, middle.y - 4 * scale},
                                {middle.x + 4 * scale, middle.y + 4 * scale});
    });
}

void draw_distance_tool(Screen& screen, const Bench& bench, View& view, Sights& sights, const Rect& place) {
    DistanceTool& tool = sights.distance;
    if (!tool.open || !bench.live().shown) return;
    const float scale = screen.scale();
    begin_floating(screen, "distances", {place.x + 10 * scale, place.y + 10 * scale}, {0, 0},
                   {std::min(300 * scale, 0.6F * place.width), place.height - 20 * scale});
    draw_name_field(screen, bench.live().shown->description, view, sights);
    if (!tool.said.empty()) paragraph(screen.inks().ink, tool.said);
    if (tool.typed.empty())
        paragraph(screen.inks().soft,
                  "A small circle marks a centre or an axis; anywhere else on a part is a face, as it is drawn.");
    draw_kept(screen, bench, view);
    if (word_button(screen, "close distances", "Close", "Distances stay on the picture (D)")) tool.open = false;
    end_floating();
}

}  // namespace swashwright::panels
