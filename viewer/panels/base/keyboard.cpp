#include "viewer/panels/base/keyboard.h"

#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>

#include "viewer/panels/base/screen.h"

namespace swashwright::panels {

namespace {

constexpr std::array<std::string_view, 5> areas{"tools", "column", "caption", "hands", "tray"};  // as Tab goes
constexpr int column_area = 1, first_over = 100;

/// Of the window that is being drawn in; what stands over the panels by how many of its kind lie below it.
int area_now() {
    const ImGuiWindow* root = ImGui::GetCurrentWindow()->RootWindow;
    if ((root->Flags & (ImGuiWindowFlags_Popup | ImGuiWindowFlags_Modal)) != 0)
        return first_over + ImGui::GetCurrentContext()->BeginPopupStack.Size;
    const auto found = std::ranges::find(areas, std::string_view(root->Name));
    return static_cast<int>(found - areas.begin());
}

/// How far the middle of a place that is gone lies from another, pixels; of two that it lies in, from their middles.
float apart(const ImVec4& gone, const ImVec4& place) {
    const float x = (gone.x + gone.z) / 2, y = (gone.y + gone.w) / 2;
    const float across = std::max({place.x - x, 0.0F, x - place.z}), down = std::max({place.y - y, 0.0F, y - place.w});
    constexpr float little = 1e-3F;
    return std::hypot(across, down) + little * std::hypot((place.x + place.z) / 2 - x, (place.y + place.w) / 2 - y);
}

/// Seen from a metre away, on paper and at night: a broad line with an edge of paper.
void draw_frame_round(const Screen& screen, const ImRect& item) {
    const float scale = screen.scale(), out = 3 * scale;
    ImRect clip = ImGui::GetCurrentWindow()->InnerClipRect;
    clip.Expand(out + scale);
    ImDrawList& list = *ImGui::GetForegroundDrawList();
    const ImVec2 low{item.Min.x - out, item.Min.y - out}, high{item.Max.x + out, item.Max.y + out};
    list.PushClipRect(clip.Min, clip.Max);
    list.AddRect(low, high, screen.inks().panel, 0, ImDrawFlags_None, 5 * scale);
    list.AddRect(low, high, screen.inks().accent, 0, ImDrawFlags_None, 3 * scale);
    list.PopClipRect();
}

}  // namespace

bool Keyboard::over_panels() const {
    return std::ranges::any_of(stops_, [](const Stop& stop) { return stop.area >= first_over; });
}

/// Of what stands on top where anything stands over the panels, else of all panels.
std::vector<Keyboard::Stop> Keyboard::in_order() const {
    std::vector<Stop> out = stops_;
    std::ranges::stable_sort(out, {}, &Stop::area);
    if (!out.empty() && out.back().area >= first_over)
        std::erase_if(out, [top = out.back().area](const Stop& stop) { return stop.area != top; });
    return out;
}

void Keyboard::mark(const Stop& stop) {
    if (stop.id == marked_.id) return;
    if (stop.area >= first_over && marked_.area < first_over) below_ = marked_;
    marked_ = {stop.id, stop.area, stop.place};
    steps_ = {0, 0};
    acted_ = false;
}

void Keyboard::go_to(const Stop& stop) {
    mark(stop);
    shown_ = bring_ = true;
    end_typing_ = true;
}

/// Past the rest of the list that `at` stands in, round the end.
bool Keyboard::go_on(const std::vector<Stop>& stops, std::size_t at, int by) {
    const std::size_t count = stops.size(), step = by > 0 ? 1 : count - 1;
    std::size_t to = at;
    for (std::size_t gone = 0; gone < count; ++gone) {
        to = (to + step) % count;
        if (stops[at].list == 0 || stops[to].list != stops[at].list) break;
    }
    go_to(stops[to]);
    return true;
}

bool Keyboard::go_to_area(const std::vector<Stop>& stops, int by) {
    std::vector<int> there;
    for (const Stop& stop : stops)
        if (there.empty() || there.back() != stop.area) there.push_back(stop.area);
    const auto now = std::ranges::find(there, shown_ ? marked_.area : column_area);
    std::size_t to = now == there.end() ? 0 : static_cast<std::size_t>(now - there.begin());
    if (shown_) to = (to + (by > 0 ? 1 : there.size() - 1)) % there.size();
    go_to(*std::ranges::find(stops, there[to], &Stop::area));
    return true;
}

/// To the next of the same list; what belongs to one of its lines may stand between.
bool Keyboard::go_to_neighbour(const std::vector<Stop>& stops, std::size_t at, int by, ImGuiID Stop::*list) {
    const auto step = static_cast<std::size_t>(by);  // -1 wraps, and at the first stop to one that is none
    for (std::size_t to = at + step; to < stops.size(); to += step)
        if (stops[to].*list == stops[at].*list) {
            go_to(stops[to]);
            break;
        }
    return true;
}

void Keyboard::act(const Stop& stop) {
    if (stop.kind == Kind::steps || stop.kind == Kind::stick) {
        acted_ = true;
        return;
    }
    ImGui::ActivateItem(stop.id);
    if (stop.kind == Kind::text) ImGui::GetCurrentContext()->NavNextActivateFlags = ImGuiActivateFlags_PreferInput;
}

/// What had the frame is not there any more, as a button that did its work: to what stands nearest in its area.
void Keyboard::go_on_from_gone(const std::vector<Stop>& stops, bool ahead) {
    const Stop* nearest = nullptr;
    for (const Stop& stop : stops)
        if (marked_.id != 0 && stop.area == marked_.area &&
            (!nearest || apart(marked_.place, stop.place) < apart(marked_.place, nearest->place)))
            nearest = &stop;
    go_to(nearest ? *nearest : ahead ? stops.front() : stops.back());
}

bool Keyboard::press(Key key) {
    using enum Key;
    const std::vector<Stop> stops = in_order();
    if (stops.empty()) return false;
    const bool over = stops.front().area >= first_over;
    const auto found = std::ranges::find(stops, marked_.id, &Stop::id);
    const bool known = marked_.id != 0 && found != stops.end();
    const auto at = static_cast<std::size_t>(found - stops.begin());
    switch (key) {
        case next:
        case before:
            if (known) return go_on(stops, at, key == next ? 1 : -1);
            if (!over && !shown_) return false;
            go_on_from_gone(stops, key == next);
            return true;
        case next_area:
        case area_before:
            return !over && go_to_area(stops, key == next_area ? 1 : -1);
        case leave:
            if (over || !shown_) return false;
            shown_ = false;
            marked_ = {};  // Tab begins as if there had been none
            return true;
        default:
            break;
    }
    if (!shown_) return false;
    if (!known) {  // a list came over the panels: down goes into it
        if (!over || key != down || stops.front().kind != Kind::row) return false;
        go_to(stops.front());
        return true;
    }
    const Stop& stop = stops[at];
    if (key == act) {
        this->act(stop);
        return true;
    }
    const int way = key == down || key == right ? 1 : -1;
    if (stop.kind == Kind::row && (key == up || key == down)) return go_to_neighbour(stops, at, way, &Stop::list);
    if (stop.group != 0) return go_to_neighbour(stops, at, way, &Stop::group);
    if (stop.kind != Kind::steps) return false;
    steps_.x += key == right ? 1.0F : key == left ? -1.0F : 0.0F;
    steps_.y += key == up ? 1.0F : key == down ? -1.0F : 0.0F;
    return true;
}

void Keyboard::enter_column() {
    const std::vector<Stop> stops = in_order();
    const auto first = std::ranges::find(stops, column_area, &Stop::area);
    if (first != stops.end()) go_to(*first);
}

void Keyboard::begin_frame() {
    const ImGuiIO& io = ImGui::GetIO();
    if (std::ranges::any_of(io.MouseClicked, [](bool clicked) { return clicked; })) {
        shown_ = false;
        marked_ = below_ = {};
    }
    if (std::exchange(end_typing_, false) && io.WantTextInput) ImGui::ClearActiveID();
    // What stood over the panels is gone: the frame goes back to where it was.
    if (marked_.area >= first_over && !over_panels() && !stops_.empty()) {
        marked_ = std::exchange(below_, {});
        shown_ = shown_ && marked_.id != 0;
    }
    stops_.clear();
}

void Keyboard::stop(const Screen& screen, Kind kind, ImGuiID list) {
    const ImGuiContext& now = *ImGui::GetCurrentContext();
    const ImGuiID id = ImGui::GetItemID();
    if (id == 0 || (now.LastItemData.InFlags & ImGuiItemFlags_Disabled) != 0) return;
    const ImRect& at = now.LastItemData.Rect;
    const Stop stop{id, kind, list, area_now(), {at.Min.x, at.Min.y, at.Max.x, at.Max.y}};
    stops_.push_back(stop);
    if (kind == Kind::text && ImGui::IsItemActive()) mark(stop);
    if (id != marked_.id) return;
    marked_.place = stop.place;
    // A field that Escape left keeps the frame, so that keys go on from there.
    if (kind == Kind::text && ImGui::IsItemDeactivated() &&
        ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[ImGuiKey_Escape], false))
        shown_ = true;
    if (!shown_) return;
    if (std::exchange(bring_, false)) ImGui::ScrollToBringRectIntoView(now.CurrentWindow, at);
    if (stop.area >= first_over || !screen.covered) draw_frame_round(screen, at);
}

void Keyboard::one_of(ImGuiID group) {
    if (!stops_.empty()) stops_.back().group = group;
}

bool Keyboard::here() const {
    return shown_ && marked_.id != 0 && ImGui::GetItemID() == marked_.id;
}

ImVec2 Keyboard::take_steps() {
    return here() ? std::exchange(steps_, ImVec2(0, 0)) : ImVec2(0, 0);
}

bool Keyboard::take_act() {
    return here() && std::exchange(acted_, false);
}

void key_stop(Screen& screen, Keyboard::Kind kind, ImGuiID list) {
    screen.keyboard.stop(screen, kind, list);
}

}  // namespace swashwright::panels
