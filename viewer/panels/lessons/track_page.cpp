#include "viewer/panels/lessons/track_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/stick_words.h"
#include "viewer/draw/base/palette.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/questions/answer_table.h"

namespace swashwright::panels {

namespace {

constexpr double least_span_mm = 20;  // of tip heights, from bottom to top of the drawing

/// The drawing: shaft on the left, tips on the right, the mean of all tips in the middle.
struct Edge {
    Rect frame;
    double span_mm = least_span_mm;  // over which the frame is high

    float y(double tip_mm) const { return frame.y + frame.height * static_cast<float>(0.5 - tip_mm / span_mm); }
};

/// A round number of millimetres that holds all tips with room above and below; in steps, so that it does not breathe.
double span_for(const std::vector<double>& tips) {
    double most = 0;
    for (const double tip : tips) most = std::max(most, std::abs(tip));
    double span = least_span_mm;
    while (span < 2.6 * most) span *= 2;
    return span;
}

/// A dimension between the lowest and the highest tip, with arrows where there is room for them.
void draw_split(const Screen& screen, ImDrawList& list, const Edge& edge, float x, double low, double high) {
    const Inks ink = screen.inks();
    const float scale = screen.scale(), top = edge.y(high), bottom = edge.y(low), arrow = 5 * scale;
    for (const float y : {top, bottom}) list.AddLine({x - 8 * scale, y}, {x + 6 * scale, y}, ink.ink);
    list.AddLine({x, top}, {x, bottom}, ink.ink);
    if (bottom - top > 3 * arrow)
        for (const auto& [y, way] : {std::pair(top, 1.0F), std::pair(bottom, -1.0F)})
            list.AddTriangleFilled({x, y}, {x - 0.5F * arrow, y + way * arrow}, {x + 0.5F * arrow, y + way * arrow},
                                   ink.ink);
    const std::string text = lengths_read(fmt::format("{:.1f} mm", high - low), screen.settings.inches);
    text_at(list, {x + 10 * scale, (top + bottom - ImGui::GetTextLineHeight()) / 2}, ink.ink, text);
}

/// A tip's place among those that run together with it, from the top.
struct Together {
    std::size_t place = 0, count = 1;
};

/// `y`: of the tips, sorted downwards.
std::vector<Together> together(const std::vector<float>& y, float near) {
    std::vector<Together> out(y.size());
    for (std::size_t from = 0, i = 1; i <= y.size(); ++i) {
        if (i < y.size() && y[i] - y[i - 1] < near) continue;
        for (std::size_t k = from; k < i; ++k) out[k] = {k - from, i - from};
        from = i;
    }
    return out;
}

/// Where tips run together their chips stand side by side, and of their lines each is thinner than the one under it.
void draw_blades(const Screen& screen, ImDrawList& list, const Edge& edge, const std::vector<double>& tips) {
    const float scale = screen.scale(), right = edge.frame.right();
    const bool night = screen.settings.night;
    std::vector<int> order(tips.size());
    for (std::size_t k = 0; k < tips.size(); ++k) order[k] = static_cast<int>(k);
    const auto tip = [&](int k) { return tips[static_cast<std::size_t>(k)]; };
    const auto height = [&](int k) {
        return std::round(100 * tip(k));
    };  // of those that are alike the first comes first
    std::ranges::sort(order, [&](int a, int b) { return height(a) != height(b) ? height(a) > height(b) : a < b; });
    std::vector<float> y;
    for (const int k : order) y.push_back(edge.y(tip(k)));
    const auto groups = together(y, 24 * scale);
    for (std::size_t i = 0; i < order.size(); ++i) {
        const ImU32 colour = blade_colour(order[i], night, true);
        const auto after = static_cast<float>(groups[i].count - 1 - groups[i].place);
        const float thick = (3.5F + 2.5F * after) * scale, end = thick / 2 + 1.5F * scale;
        const std::array<ImVec2, 2> line{ImVec2(edge.frame.x, edge.y(0)), ImVec2(right, y[i])};
        dashed_line(list, line, colour, thick, draw::blade_dash(order[i]));
        list.AddRectFilled({right - 12 * scale, y[i] - end}, {right, y[i] + end}, colour);
        blade_chip(list, {right + (16 + 26 * static_cast<float>(groups[i].place)) * scale, y[i]}, order[i], night,
                   scale);
    }
}

/// In a low window it is low too.
void draw_edge(Screen& screen, const studies::TrackSeen& seen) {
    const Inks ink = screen.inks();
    const std::vector<double>& tips = seen.tip_mm;
    const float scale = screen.scale(), width = ImGui::GetContentRegionAvail().x;
    const float height = std::clamp(0.3F * ImGui::GetWindowHeight(), 110 * scale, 190 * scale);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy({width, height});
    screen.report.item("track picture");
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float chips = (26 * static_cast<float>(tips.size()) + 112) * scale;
    const Edge edge{{at.x + 24 * scale, at.y + 8 * scale, width - 24 * scale - chips, height - 16 * scale},
                    span_for(tips)};
    const float middle = edge.y(0);
    const double larger = edge.frame.height / edge.span_mm / (edge.frame.width / (1000 * seen.now.blade.tip_m));
    text_at(list, {edge.frame.x, at.y}, ink.soft, fmt::format("heights enlarged {:.0f} times", larger));
    list.AddLine({edge.frame.x - 12 * scale, edge.frame.bottom()}, {edge.frame.x - 12 * scale, middle}, ink.ink,
                 5 * scale);  // the shaft
    list.AddLine({edge.frame.x - 18 * scale, middle}, {edge.frame.x, middle}, ink.ink, 7 * scale);
    const std::array<ImVec2, 2> mean{ImVec2(edge.frame.x, middle), ImVec2(edge.frame.right(), middle)};
    constexpr std::array<float, 2> dots{2, 5};
    dashed_line(list, mean, ink.soft, 1, dots);
    draw_blades(screen, list, edge, tips);
    const auto [low, high] = std::ranges::minmax_element(tips);
    draw_split(screen, list, edge, at.x + width - 94 * scale, *low, *high);
}

void draw_step_buttons(Screen& screen, TrackPage& page, const studies::TrackSeen& seen) {
    const bool inches = screen.settings.inches;
    page.steps.resize(seen.steps.size(), 0);
    for (std::size_t k = 0; k < seen.steps.size(); ++k) {
        const head::Link& link = *link_of(seen.turned, {head::Role::upper_link, static_cast<int>(k)});
        const studies::HandStep step = studies::hand_step(link);
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted(fmt::format("Upper link {}", k + 1).c_str());
        ImGui::SameLine();
        const std::string tip_words =
            lengths_read(fmt::format("By a {}, {:.2f} mm; tried, not kept yet", step.one, step.mm), inches);
        if (word_button(screen, fmt::format("track link {} shorter", k + 1).c_str(), "Try shorter", tip_words.c_str()))
            --page.steps[k];
        ImGui::SameLine();
        if (word_button(screen, fmt::format("track link {} longer", k + 1).c_str(), "Try longer", tip_words.c_str()))
            ++page.steps[k];
        // As for the longest words, so that the buttons stay where they are while they are pressed.
        same_line_if_it_fits(studies::hand_steps_in_words(link, -10).c_str(), ImGui::GetStyle().ItemSpacing.x);
        ImGui::AlignTextToFramePadding();
        ImGui::TextDisabled("%s", studies::hand_steps_in_words(link, seen.steps[k]).c_str());
    }
}

bool any(const std::vector<int>& steps) {
    return std::ranges::any_of(steps, [](int step) { return step != 0; });
}

void draw_whole(Screen& screen, Bench& bench, TrackPage& page, const studies::TrackSeen& seen) {
    const bool tried = any(seen.steps);
    ImGui::Spacing();
    if (word_button(screen, "track best", "Try the closest", "The steps that the line above names", seen.gains()))
        page.steps = seen.best;
    ImGui::SameLine();
    if (word_button(screen, "track back", "As it was", "Takes back what is tried", tried)) page.steps.clear();
    ImGui::SameLine();
    if (word_button(screen, "track keep", "Keep", "The links are so long from now on; one step of undo takes it back",
                    tried))
        keep_steps(screen, bench, page);
}

}  // namespace

void follow(TrackPage& page, const Bench& bench) {
    const Readout& live = bench.live();
    if (!live.head || !live.shown) return page.seen.reset();
    if (page.of != live.shown->revision) page.steps.clear(), page.seen.reset(), page.why.clear();
    page.of = live.shown->revision;  // of the head that is live: the document may be a change ahead of it
    const bool same_sticks = page.sticks == bench.controls.sticks;
    if (page.seen && same_sticks && page.seen_with == page.steps) return;
    auto next = studies::track_seen(*live.head, bench.controls.sticks, page.steps);
    if (!next && any(page.steps) && page.seen && *page.seen && same_sticks) {  // no further
        page.steps = page.seen_with = (*page.seen)->steps;
        page.why = next.error().message;
        return;
    }
    page.why.clear();
    page.sticks = bench.controls.sticks;
    page.seen_with = page.steps;
    page.seen = std::move(next);
}

void keep_steps(Screen& screen, Bench& bench, TrackPage& page) {
    if (!page.seen || !*page.seen) return;
    scene::Scene next = bench.document().scene();
    next.head = (*page.seen)->turned;
    const std::string label = "upper links turned for the track";
    if (!try_edit(screen, bench, std::move(next), label)) return tell(screen, screen.entry.why);
    page.steps.clear();
    tell(screen, "Kept: " + label);
}

bool draw_track(Screen& screen, Bench& bench, Selection& selection, TrackPage& page) {
    const Inks ink = screen.inks();
    const bool leave = word_button(screen, "track lessons", "All lessons", "Back to the list; what is tried stays");
    follow(page, bench);
    paragraph(ink.soft,
              fmt::format("The tips at {:.0f} rpm, seen edge on from the side: {}.", bench.head().rotor.head_speed_rpm,
                          studies::short_stick_words(bench.head().kind, bench.controls.sticks)));
    if (!page.seen) {
        paragraph(ink.ink,
                  "The links do not reach, so nothing flies. The line at the top says which part is at fault.");
        return leave;
    }
    if (!*page.seen) {
        paragraph(ink.ink, lengths_read(page.seen->error().message + ".", screen.settings.inches));
        if (any(page.steps) && word_button(screen, "track back", "As it was", "Takes back what is tried"))
            page.steps.clear();
        return leave;
    }
    const studies::TrackSeen seen = **page.seen;
    const studies::Answer said = studies::answer(seen);
    if (!seen.tip_mm.empty()) draw_edge(screen, seen);
    const bool inches = screen.settings.inches;
    paragraph(ink.ink, lengths_read(said.text, inches));
    screen.report.item("track said");
    draw_step_buttons(screen, page, seen);
    if (!page.why.empty()) {
        paragraph(ink.trouble, lengths_read("Taken back: " + page.why + ".", inches));
        screen.report.item("track why");
    }
    draw_whole(screen, bench, page, seen);
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + trouble_mark(screen));
    paragraph(ink.ink, studies::out_of_the_plane);
    bool whole = true;
    draw_table(screen, bench, selection, said.tables.front(), "track tips", whole);
    for (std::size_t i = 1; i < said.notes.size(); ++i) paragraph(ink.soft, lengths_read(said.notes[i], inches));
    return leave;
}

}  // namespace swashwright::panels
