#include "viewer/panels/questions/envelope_map.h"

#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "kinematics/head/stick_envelope.h"
#include "viewer/panels/base/layout.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

using studies::Envelope;

constexpr int across = 40, up = 40;  // small fields that the map is coloured in
constexpr std::array<const char*, 3> words{"fails", "close", "free"};

int band(double share) {
    return share < 0 ? 0 : share < 1 ? 1 : 2;
}

struct Map {
    Map(const Rect& place, const Envelope& of) : frame(place), envelope(of) {
        for (std::size_t c = 0; c < of.collective.size(); ++c)
            for (std::size_t r = 0; r < of.cyclic.size(); ++r) shares.push_back(nearest(of, c, r).share);
    }

    Rect frame;
    const Envelope& envelope;
    std::vector<double> shares;  // of each cell; every field asks for four

    float x(double cyclic) const { return frame.x + frame.width * static_cast<float>(cyclic); }
    float y(double collective) const {
        return frame.bottom() - frame.height * static_cast<float>((collective + 1) / 2);
    }

    /// Between the cells' middles, linear both ways; beyond the combined stick's limit as at its edge.
    double share(double cyclic, double collective) const {
        const double c = (collective + 1) / 2 * static_cast<double>(envelope.collective.size() - 1);
        const double r = cyclic * static_cast<double>(envelope.cyclic.size() - 1);
        const auto c0 = std::min(static_cast<std::size_t>(c), envelope.collective.size() - 2);
        const auto r0 = std::min(static_cast<std::size_t>(r), envelope.cyclic.size() - 2);
        const double u = c - static_cast<double>(c0), v = r - static_cast<double>(r0);
        const auto at = [&](std::size_t i, std::size_t j) { return shares[i * envelope.cyclic.size() + j]; };
        return (1 - u) * ((1 - v) * at(c0, r0) + v * at(c0, r0 + 1)) +
               u * ((1 - v) * at(c0 + 1, r0) + v * at(c0 + 1, r0 + 1));
    }
    bool allowed(double cyclic, double collective) const {
        return cyclic <= envelope.mixing.combined_limit - std::abs(collective);
    }
};

struct Fields {
    std::array<std::array<double, across + 1>, up + 1> share;
    std::array<std::array<bool, across>, up> allowed;
};

double cyclic_at(double i) {
    return i / across;
}
double collective_at(double j) {
    return 2.0 * j / up - 1;
}

Fields fields_of(const Map& map) {
    Fields out;
    for (int j = 0; j <= up; ++j)
        for (int i = 0; i <= across; ++i) out.share[j][i] = map.share(cyclic_at(i), collective_at(j));
    for (int j = 0; j < up; ++j)
        for (int i = 0; i < across; ++i) out.allowed[j][i] = map.allowed(cyclic_at(i + 0.5), collective_at(j + 0.5));
    return out;
}

ImU32 faint(ImU32 colour, int alpha) {
    return (colour & ~IM_COL32_A_MASK) | (static_cast<ImU32>(alpha) << IM_COL32_A_SHIFT);
}

void fill(const Screen& screen, ImDrawList& list, const Map& map, const Fields& fields) {
    const Inks ink = screen.inks();
    for (int j = 0; j < up; ++j)
        for (int i = 0; i < across; ++i) {
            if (!fields.allowed[j][i]) continue;
            const ImVec2 low{map.x(cyclic_at(i)), map.y(collective_at(j + 1))};
            const ImVec2 high{map.x(cyclic_at(i + 1)), map.y(collective_at(j))};
            const int b = band((fields.share[j][i] + fields.share[j + 1][i + 1]) / 2);
            if (b < 2) list.AddRectFilled(low, high, faint(b == 0 ? ink.trouble : ink.soft, b == 0 ? 70 : 60));
            if (b == 0 && (i + j) % 2 == 0) list.AddLine({low.x, high.y}, {high.x, low.y}, ink.trouble, screen.scale());
        }
}

/// The line on which the share has one value, in each field by its corners (marching squares).
void contour(ImDrawList& list, const Map& map, const Fields& fields, double level, ImU32 colour, float thickness) {
    for (int j = 0; j < up; ++j)
        for (int i = 0; i < across; ++i) {
            if (!fields.allowed[j][i]) continue;
            std::array<ImVec2, 4> points;
            std::size_t count = 0;
            constexpr std::array<std::array<int, 4>, 4> edges{{{0, 0, 1, 0}, {1, 0, 1, 1}, {1, 1, 0, 1}, {0, 1, 0, 0}}};
            for (const auto& e : edges) {
                const double a = fields.share[j + e[1]][i + e[0]] - level, b = fields.share[j + e[3]][i + e[2]] - level;
                if ((a < 0) == (b < 0)) continue;
                const double t = a / (a - b);
                points[count++] = {map.x(cyclic_at(i + e[0] + t * (e[2] - e[0]))),
                                   map.y(collective_at(j + e[1] + t * (e[3] - e[1])))};
            }
            for (std::size_t n = 0; n + 1 < count; n += 2) list.AddLine(points[n], points[n + 1], colour, thickness);
        }
}

/// Each band's word where the band is widest.
void name_bands(const Screen& screen, ImDrawList& list, const Map& map, const Fields& fields) {
    std::array<int, 3> best{0, 0, 0};
    std::array<ImVec2, 3> where;
    for (int j = 0; j < up; ++j)
        for (int i = 0; i < across;) {
            const int b = band(fields.share[j][i]);
            int end = i;
            while (end < across && band(fields.share[j][end]) == b && fields.allowed[j][end]) ++end;
            const int width = (end - i) * 4 - std::abs(j - up / 2);  // near the middle where it is equally wide
            if (end > i && width > best[b]) {
                best[b] = width;
                where[b] = {map.x(cyclic_at((i + end) / 2.0)), map.y(collective_at(j))};
            }
            i = std::max(end, i + 1);
        }
    std::vector<ImVec2> placed;
    for (std::size_t b = 0; b < words.size(); ++b) {
        if (best[b] == 0) continue;
        const ImVec2 size = ImGui::CalcTextSize(words[b]);
        const float half = map.frame.width * static_cast<float>(best[b]) / (8 * across);
        // A band too small for its word has it on its left.
        const float left = half > 0.7F * size.x ? where[b].x - size.x / 2 : where[b].x - half - size.x - 8;
        ImVec2 at{left, std::clamp(where[b].y - size.y / 2, map.frame.y + 2, map.frame.bottom() - size.y - 2)};
        for (const ImVec2& other : placed)  // above a word that stands there already
            if (std::abs(other.x - at.x) < 1.5F * size.x && std::abs(other.y - at.y) < size.y + 4)
                at.y = other.y - size.y - 4;
        placed.push_back(at);
        list.AddRectFilled({at.x - 3, at.y - 1}, {at.x + size.x + 3, at.y + size.y + 1}, screen.inks().panel);
        text_at(list, at, screen.inks().ink, words[b]);
    }
}

void draw_axes(const Screen& screen, ImDrawList& list, const Map& map) {
    const Inks ink = screen.inks();
    const float line = ImGui::GetTextLineHeight(), gap = 4 * screen.scale();
    list.AddRect({map.frame.x, map.frame.y}, {map.frame.right(), map.frame.bottom()}, ink.soft);
    for (const double collective : {-1.0, 0.0, 1.0}) {
        const std::string label = fmt::format("{:+.0f}", collective);
        text_at(list, {map.frame.x - ImGui::CalcTextSize(label.c_str()).x - gap, map.y(collective) - line / 2},
                ink.soft, collective == 0 ? " 0" : label);
    }
    for (const double cyclic : {0.0, 0.5, 1.0}) {
        const std::string label = fmt::format("{:g}", cyclic);
        text_at(list, {map.x(cyclic) - ImGui::CalcTextSize(label.c_str()).x / 2, map.frame.bottom() + gap}, ink.soft,
                label);
    }
}

/// How far the cyclic stick may go, and where the sticks stand now.
void draw_marks(const Screen& screen, const Bench& bench, ImDrawList& list, const Map& map) {
    const Inks ink = screen.inks();
    const float scale = screen.scale();
    const Envelope& e = map.envelope;
    for (std::size_t i = 0; i < e.discs.size(); ++i)
        if (e.discs[i].cyclic)
            list.AddRectFilled({map.x(*e.discs[i].cyclic) - 2.5F * scale, map.y(e.collective[i]) - 2.5F * scale},
                               {map.x(*e.discs[i].cyclic) + 2.5F * scale, map.y(e.collective[i]) + 2.5F * scale},
                               ink.ink);
    const head::Sticks& now = bench.controls.sticks;
    const double out = head::cyclic_out(e.mixing.cyclic_stick, now.aileron, now.elevator);
    const ImVec2 at{map.x(std::min(1.0, out)), map.y(now.collective)};
    list.AddCircle(at, 6 * scale, ink.accent, 0, 2 * scale);
    list.AddLine({at.x - 9 * scale, at.y}, {at.x + 9 * scale, at.y}, ink.accent, 2 * scale);
    list.AddLine({at.x, at.y - 9 * scale}, {at.x, at.y + 9 * scale}, ink.accent, 2 * scale);
}

/// A square round the cell that was pressed, and round the one that the arrow keys stand on.
void draw_cell_marks(const Screen& screen, ImDrawList& list, const Map& map, const MapMark& mark, bool keys) {
    const Inks ink = screen.inks();
    const auto square = [&](const MapCell& cell, ImU32 colour, float half) {
        const ImVec2 at{map.x(map.envelope.cyclic[cell.cyclic]), map.y(map.envelope.collective[cell.collective])};
        list.AddRect({at.x - half, at.y - half}, {at.x + half, at.y + half}, colour, 0, ImDrawFlags_None,
                     2 * screen.scale());
    };
    if (mark.chosen) square(*mark.chosen, ink.ink, 9 * screen.scale());
    if (keys) square(mark.at, ink.accent, 12 * screen.scale());
}

/// The cell under the pointer.
std::optional<MapCell> pointed_at(const Map& map) {
    if (!ImGui::IsItemHovered()) return std::nullopt;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const double cyclic = (mouse.x - map.frame.x) / map.frame.width;
    const double collective = 1 - 2 * (mouse.y - map.frame.y) / map.frame.height;
    if (cyclic < -0.05 || cyclic > 1.05 || std::abs(collective) > 1.05) return std::nullopt;
    return cell_at(map.envelope, collective, cyclic);
}

void follow_keys(Screen& screen, const Envelope& envelope, MapCell& at) {
    const ImVec2 steps = screen.keyboard.take_steps();
    const auto moved = [](std::size_t from, float by, std::size_t count) {
        const long to = static_cast<long>(from) + std::lround(by);
        return static_cast<std::size_t>(std::clamp(to, 0L, static_cast<long>(count) - 1));
    };
    at = {moved(at.collective, steps.y, envelope.collective.size()), moved(at.cyclic, steps.x, envelope.cyclic.size())};
}

/// What a press brings, numbers of a part above the answers among it, must not move the map away from the pointer.
struct Press {
    float map_y = 0;      // where the map stood, window coordinates
    int frames_left = 0;  // in which it is held there, and in the last what was pressed is brought into sight
    float moved = 1e9F;   // how far the pointer has gone since, pixels
};

Press press_kept() {
    const ImGuiStorage& kept = *ImGui::GetStateStorage();
    return {kept.GetFloat(ImGui::GetID("map y")), kept.GetInt(ImGui::GetID("bring")),
            kept.GetFloat(ImGui::GetID("moved since"), Press{}.moved)};
}

void keep_press(const Press& press) {
    ImGuiStorage& kept = *ImGui::GetStateStorage();
    kept.SetFloat(ImGui::GetID("map y"), press.map_y);
    kept.SetInt(ImGui::GetID("bring"), press.frames_left);
    kept.SetFloat(ImGui::GetID("moved since"), press.moved);
}

/// The cell that the mark stands on; no row's place is chosen any more.
void choose(Selection& selection, const Envelope& envelope, MapMark& mark) {
    mark.chosen = mark.at;
    selection.place.reset();
    show_cell(selection, envelope, mark.at);
}

/// A press, or Enter, tells of the cell below the map and shows its parts; sticks and rotor stay.
void respond(Screen& screen, Selection& selection, const Map& map, MapMark& mark, Press& press) {
    const bool inches = screen.settings.inches;
    const ImVec2 moved = ImGui::GetIO().MouseDelta;
    press.moved += std::abs(moved.x) + std::abs(moved.y);
    const auto cell = pointed_at(map);
    if (cell && ImGui::IsItemClicked()) {
        mark.at = *cell;
        press.moved = 0;
        choose(selection, map.envelope, mark);
    }
    // What was pressed stands below the map; a note would say it again, or speak of what came under the pointer since.
    const bool noted = cell && press.moved > 4 * screen.scale();
    if (noted) {
        const ImVec2 mouse = ImGui::GetIO().MousePos;
        const float clear = 14 * screen.scale();
        note_beside(screen, {mouse.x - clear, mouse.y - clear, 2 * clear, 2 * clear},
                    wrapped(cell_words(map.envelope, *cell, inches) + " Press to see it.", 420 * screen.scale()));
    }
    follow_keys(screen, map.envelope, mark.at);
    if (screen.keyboard.take_act()) choose(selection, map.envelope, mark);
    if (!screen.keyboard.here() || noted) return;  // one note at a time
    tip(screen, (cell_words(map.envelope, mark.at, inches) + " Arrows move on, Enter shows it.").c_str());
}

/// What was pressed, in words, and the way there.
void draw_chosen(Screen& screen, Bench& bench, Selection& selection, const Envelope& envelope, const MapMark& mark,
                 bool bring) {
    if (!mark.chosen) return;
    paragraph(screen.inks().ink, cell_words(envelope, *mark.chosen, screen.settings.inches));
    screen.report.item("map cell");
    if (!can_stand(envelope, *mark.chosen)) return;
    if (word_button(screen, "map stand", "Stand there", "Sticks and rotor go where it stands worst"))
        stand_in_cell(bench, envelope, *mark.chosen);
    same_line_if_it_fits("Look closer", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "map look", "Look closer", "The camera goes to these parts once more"))
        show_cell(selection, envelope, *mark.chosen);
    if (!bring) return;
    ImGuiWindow& window = *ImGui::GetCurrentWindow();
    ImGui::ScrollToBringRectIntoView(&window, ImGui::GetCurrentContext()->LastItemData.Rect);
}

}  // namespace

void draw_envelope_map(Screen& screen, Bench& bench, Selection& selection, const Envelope& envelope, MapMark& mark) {
    if (envelope.kind == head::Kind::tail) return;  // has no cyclic
    const auto within = [&](const MapCell& cell) {  // another head may have another map
        return cell.collective < envelope.collective.size() && cell.cyclic < envelope.cyclic.size();
    };
    if (!within(mark.at) || (mark.chosen && !within(*mark.chosen))) mark = {};
    if (selection.place) mark.chosen.reset();  // a row was pressed since
    const float scale = screen.scale(), line = ImGui::GetTextLineHeight();
    ImGui::PushTextWrapPos(0);
    ImGui::TextDisabled(
        "Collective upwards, cyclic stick from its centre to the edge of its %s, worst way and azimuth looked at; "
        "dots: how "
        "far it may go",
        word(envelope.mixing.cyclic_stick));
    ImGui::PopTextWrapPos();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = 220 * scale;
    ImGui::InvisibleButton("envelope map", {width, height + 2 * line});
    key_stop(screen, Keyboard::Kind::steps);
    screen.report.item("envelope map");
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Map map({at.x + 34 * scale, at.y + 0.4F * line, std::min(width - 60 * scale, 1.5F * height), height},
                  envelope);
    const Fields fields = fields_of(map);
    fill(screen, list, map, fields);
    contour(list, map, fields, 1, screen.inks().soft, scale);
    contour(list, map, fields, 0, screen.inks().trouble, 2 * scale);
    draw_axes(screen, list, map);
    name_bands(screen, list, map, fields);
    draw_marks(screen, bench, list, map);
    if (!screen.keyboard.here() && !mark.chosen) {  // the keys begin where the sticks stand
        const head::Sticks& now = bench.controls.sticks;
        mark.at = cell_at(envelope, now.collective,
                          head::cyclic_out(envelope.mixing.cyclic_stick, now.aileron, now.elevator));
    }
    draw_cell_marks(screen, list, map, mark, screen.keyboard.here());
    Press press = press_kept();
    const bool held = press.frames_left > 0;
    if (held) {
        if (at.y != press.map_y) ImGui::SetScrollY(ImGui::GetScrollY() + at.y - press.map_y);
        --press.frames_left;
        screen.settle = true;
    }
    const std::optional<MapCell> before = mark.chosen;
    respond(screen, selection, map, mark, press);
    if (mark.chosen != before) {
        press.frames_left = 4, press.map_y = at.y;
        screen.settle = true;
    }
    keep_press(press);
    draw_chosen(screen, bench, selection, envelope, mark, held && press.frames_left == 0);
}

}  // namespace swashwright::panels
